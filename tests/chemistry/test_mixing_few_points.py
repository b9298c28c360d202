"""What few points of a path tell as many do: its peak, and how near it comes to boiling."""

import pytest

from service.chemistry.mixing import Charge, Solid, Stock, Water, mix
from tests.chemistry.refusing import refused

HALF = (Solid("NaOH", 1.0), Charge(water=Water(1.0, 20.0)))


def test_a_path_has_two_points_at_least_and_a_thousand_at_most() -> None:
    assert len(mix(*HALF, points=2).path) == 2
    assert len(mix(*HALF, points=1000).path) == 1000
    for points in (1, 1001):
        with refused("points", 2, 1000):
            mix(*HALF, points=points)


def test_what_is_lost_may_be_little() -> None:
    """Half a joule, which no thermometer shows; all of the heat that is released, but no more."""
    assert mix(*HALF, loss_joules=0.5).heat_lost == pytest.approx(0.5)
    assert mix(*HALF, loss_joules=0.0).heat_lost == 0.0
    for quantity, wrong, high in (
        ("loss_joules", -0.5, 1e15),
        ("loss_fraction", -0.5, 1.0),
        ("loss_fraction", 1.1, 1.0),
    ):
        with refused(quantity, 0.0, high):
            mix(*HALF, **{quantity: wrong})  # type: ignore[arg-type]
    whole = mix(*HALF, loss_fraction=1.0)
    assert whole.heat_lost == pytest.approx(whole.heat_released)


@pytest.mark.parametrize("points", [3, 4, 5, 6, 10])
@pytest.mark.parametrize("w", [0.44, 0.47, 0.5])
def test_three_points_find_the_peak_between_them(w: float, points: int) -> None:
    solid, contents = Solid("NaOH", w, 20.0), Charge(water=Water(1.0 - w, 20.0))
    few, many = mix(solid, contents, points=points), mix(solid, contents, points=80)
    assert few.peak_temperature == pytest.approx(many.peak_temperature, abs=2e-3)
    assert few.peak_share == pytest.approx(many.peak_share, abs=0.01)  # it is flat there
    assert few.boiling_margin == pytest.approx(many.boiling_margin, abs=2e-3)


def test_two_points_are_their_own_peak() -> None:
    found = mix(*HALF, points=2)
    assert (found.peak_temperature, found.peak_share) == (found.temperature, 1.0)


@pytest.mark.parametrize(("water", "t", "points"), [(30.0, 60.0, 3), (35.0, 20.0, 3), (35.0, 60.0, 4)])
def test_where_steam_leaves_between_its_points_the_peak_is_that_of_a_point(water: float, t: float, points: int) -> None:
    """How much has left between them is not known, so that no temperature is made up there."""
    found = mix(Solid("NaOH", 1.0, t), Charge(water=Water(1.0, water)), points=points)
    assert found.boils
    assert found.peak_temperature == max(one.temperature for one in found.path if one.temperature is not None)
    assert found.peak_share in {one.solid_added_share for one in found.path}


@pytest.mark.parametrize("points", [8, 20])
@pytest.mark.parametrize("w", [0.35, 0.38])
def test_how_far_it_goes_beyond_boiling_does_not_hang_on_what_solid_is_still_to_come(w: float, points: int) -> None:
    """Whatever follows, the way to there is the same; sought between the points too where it boils, to 0.05 K."""
    water = Water(2.0, 45.0)
    most, mass = 2.0 * 0.45 / 0.55, 2.0 * w / (1.0 - w)
    many = mix(Solid("NaOH", most), Charge(water=water), points=80)
    found = mix(Solid("NaOH", mass), Charge(water=water), points=points)
    assert found.boils
    assert found.boiling_margin == pytest.approx(many.boiling_margin, abs=0.05)
    assert found.boiling_margin_share is not None
    assert many.boiling_margin_share is not None
    assert found.boiling_margin_share == pytest.approx(many.boiling_margin_share * most / mass, abs=0.008)


def test_a_hot_stock_is_nearest_to_boiling_before_it_is_diluted() -> None:
    """With nothing added the path is level: every point is as near to boiling as the first."""
    found = mix(Solid("NaOH", 0.0), Charge(stock=Stock(1.0, 0.3, 80.0)), points=5)
    point = found.path[0]
    assert point.boiling_point is not None
    assert found.boiling_margin == pytest.approx(point.boiling_point - 80.0, abs=1e-6)
    assert found.peak_share == 0.0
