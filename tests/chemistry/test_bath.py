"""A vessel in a bath of water: its films and wall, their limits, and how they bear on the loss."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import bath as module
from service.chemistry.bath import (
    Bathed,
    Stock,
    bath_losses,
    coefficient,
    film_coefficient,
    films,
    stock_film,
    water_conductivity,
    water_film,
    wetted_area,
)
from service.chemistry.cooling import geometric_way
from service.chemistry.errors import OutOfRange
from service.chemistry.standing_loss import Range

JUG = Bathed(0.2, 0.2, (0.002 / 0.475, 0.001 / 0.5, 0.004 / 0.45), True)
STEEL = JUG._replace(wall_resistance=(0.001 / 15.5, 0.001 / 17, 0.001 / 14))
HALF = Stock("NaOH", 0.5)


def bath_loss(vessel: Bathed, stock: Stock, t: float, bath: float) -> Range:
    return bath_losses(vessel, stock, [t], [bath])[0]


@given(t=st.floats(1.0, 140.0), cold=st.floats(0.0, 60.0), w=st.floats(0.01, 0.52))
def test_the_limits_lie_about_the_value(t: float, cold: float, w: float) -> None:
    value, low, high = bath_loss(JUG, Stock("NaOH", w), cold + t, cold)
    assert 0.0 < low < value < high


@given(t=st.floats(15.0, 120.0), more=st.floats(0.5, 20.0))
def test_a_warmer_stock_loses_more(t: float, more: float) -> None:
    assert bath_loss(JUG, HALF, t, 10.0)[0] < bath_loss(JUG, HALF, t + more, 10.0)[0]


def test_the_heat_through_each_part_is_the_same() -> None:
    """Stock to wall, through the wall, and wall to water: 419, 1/0.0042 and 376 W/(m2 K) come to one flux."""
    found = films(JUG, HALF, 60.0, 0.0)
    inside = found.inside * (60.0 - found.wall_inside)
    wall = (found.wall_inside - found.wall_outside) / JUG.wall_resistance[0]
    outside = found.outside * found.wall_outside
    assert inside == pytest.approx(outside, rel=0.01)
    assert wall == pytest.approx(outside, rel=0.01)
    assert coefficient(JUG, found, 0) * 60.0 == pytest.approx(outside, rel=0.01)


def test_more_rounds_change_nothing_that_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    few = [bath_loss(vessel, HALF, t, 0.0)[0] for vessel in (JUG, STEEL) for t in (5.0, 30.0, 90.0)]
    monkeypatch.setattr(module, "ROUNDS", 40)
    many = [bath_loss(vessel, HALF, t, 0.0)[0] for vessel in (JUG, STEEL) for t in (5.0, 30.0, 90.0)]
    assert few == pytest.approx(many, rel=3e-3)


@given(
    w=st.floats(0.02, 0.5),
    start=st.floats(30.0, 120.0),
    cold=st.floats(0.0, 25.0),
    left=st.floats(0.2, 20.0),
    taken_up=st.sampled_from((0.0, 0.1, 0.3)),
    vessel=st.sampled_from((JUG, STEEL, JUG._replace(diameter=0.8, level=1.0))),
)
def test_along_a_way_each_loss_is_that_of_its_point_by_itself(
    w: float, start: float, cold: float, left: float, taken_up: float, vessel: Bathed
) -> None:
    rest = (cold + taken_up * start) / (1.0 + taken_up)
    way = geometric_way(start, rest + min(left, 0.5 * (start - rest)), rest, 20)
    baths = [cold + taken_up * (start - t) for t in way]
    along = [one[0] for one in bath_losses(vessel, Stock("NaOH", w), way, baths)]
    alone = [bath_loss(vessel, Stock("NaOH", w), t, bath)[0] for t, bath in zip(way, baths, strict=True)]
    assert along == pytest.approx(alone, rel=5e-3)


def test_a_metal_wall_lets_more_through_and_a_thick_stock_less() -> None:
    assert bath_loss(STEEL, HALF, 40.0, 10.0)[0] > 1.2 * bath_loss(JUG, HALF, 40.0, 10.0)[0]
    assert bath_loss(JUG, Stock("NaOH", 0.1), 40.0, 10.0)[0] > bath_loss(JUG, HALF, 40.0, 10.0)[0]


def test_water_near_its_densest_still_flows() -> None:
    """A wall of 8 °C in water of 0 °C: both have the same density, and between them it is denser."""
    assert water_film(0.2, 8.0, 0.0) > 0.5 * water_film(0.2, 12.0, 4.0)


def test_the_wetted_area_by_hand() -> None:
    # 0.2 m wide and high: wall 0.1257 m2, bottom 0.0314 m2
    assert wetted_area(JUG, 0) == pytest.approx(0.1257 + 0.0157, abs=1e-4)
    assert wetted_area(JUG, 1) == pytest.approx(0.1257, abs=1e-4)
    assert wetted_area(JUG._replace(shape_known=False), 2) == pytest.approx(1.15 * (0.1257 + 0.0314), abs=2e-4)


def test_beyond_the_viscosities_that_at_their_end_is_taken() -> None:
    assert stock_film(0.2, HALF, 120.0, 100.0) > 0.0
    assert stock_film(0.2, Stock("KOH", 0.45), 80.0, 60.0) > 0.0


@pytest.mark.parametrize("change", [{"height": 0.0}, {"buoyancy": -1.0}, {"kinematic_viscosity": 0.0}])
def test_a_film_of_nothing_is_refused(change: dict[str, float]) -> None:
    sound = {
        "height": 0.2,
        "buoyancy": 0.01,
        "kinematic_viscosity": 1e-6,
        "conductivity": 0.6,
        "volumetric_heat": 4.2e6,
    }
    with pytest.raises(OutOfRange):
        film_coefficient(**(sound | change))


@pytest.mark.parametrize("t", [-1.0, 151.0])
def test_water_is_known_between_its_limits(t: float) -> None:
    with pytest.raises(OutOfRange):
        water_conductivity(t)
