"""The films on both sides of a wall in a bath, reckoned anew from the properties, and how they are searched for."""

import math
from collections.abc import Callable

import pytest
from ht.conv_free_immersed import Nu_vertical_plate_Churchill
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import bath as module
from service.chemistry import density, viscosity, water
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
from service.chemistry.enthalpy import at_strength
from service.chemistry.molar_masses import Alkali
from tests.chemistry.refusing import refused

G = 9.80665
JUG = Bathed(0.2, 0.3, (0.002 / 0.475, 0.001 / 0.5, 0.004 / 0.45), True)
HALF = Stock("NaOH", 0.5)


def plate(height: float, buoyancy: float, viscous: float, conductivity: float, heat: float) -> float:
    """Coefficient of a vertical plate by the package ht 1.2.0 [W/(m2 K)]."""
    grashof = G * buoyancy * height**3 / viscous**2
    nusselt = Nu_vertical_plate_Churchill(Pr=viscous * heat / conductivity, Gr=grashof)
    return float(nusselt) * conductivity / height


@given(
    height=st.floats(0.01, 2.0),
    buoyancy=st.floats(1e-7, 0.1),
    viscous=st.floats(1e-7, 1e-4),
    conductivity=st.floats(0.1, 0.8),
    heat=st.floats(1e6, 5e6),
)
def test_a_film_is_that_of_a_plate_by_an_independent_package(
    height: float, buoyancy: float, viscous: float, conductivity: float, heat: float
) -> None:
    ours = film_coefficient(height, buoyancy, viscous, conductivity, heat)
    assert ours == pytest.approx(plate(height, buoyancy, viscous, conductivity, heat), rel=1e-9)


@pytest.mark.parametrize(("wall", "bath"), [(40.0, 10.0), (10.0, 40.0), (90.0, 30.0), (4.5, 4.0), (3.0, 1.0)])
def test_the_film_of_water_takes_what_water_is_between_wall_and_bath(wall: float, bath: float) -> None:
    film = (wall + bath) / 2
    rho = water.density(film)
    apart = abs(water.density(wall) - water.density(bath)) / rho
    theirs = plate(0.2, apart, water.viscosity(film) / rho, water_conductivity(film), rho * water.heat_capacity(film))
    assert water_film(0.2, wall, bath) == pytest.approx(theirs, rel=1e-9)
    assert water_film(0.2, wall, bath, water.density(bath)) == water_film(0.2, wall, bath)


@pytest.mark.parametrize("bath", [0.0, 2.0, 6.0, 8.0])
def test_the_film_of_water_goes_on_where_a_wall_passes_the_densest(bath: float) -> None:
    before, after = (water_film(0.2, wall, bath) for wall in (3.98 - 1e-4, 3.98 + 1e-4))
    assert before == pytest.approx(after, rel=1e-3)


@pytest.mark.parametrize(("one", "other"), [(0.0, 8.0), (8.0, 0.0), (2.0, 7.0)])
def test_on_either_side_of_the_densest_what_sinks_and_what_rises_both_count(one: float, other: float) -> None:
    """Water is densest near 4 °C, with 999.975 kg/m3 (M. Tanaka et al., Metrologia 38 (2001) 301-309)."""
    film = (one + other) / 2
    rho = water.density(film)
    apart = (999.975 - water.density(one) + 999.975 - water.density(other)) / rho
    theirs = plate(0.2, apart, water.viscosity(film) / rho, water_conductivity(film), rho * water.heat_capacity(film))
    # Kell's densest is 3 g/m3 lighter, some hundredths of what lies apart here; a film goes with its fourth root.
    assert water_film(0.2, one, other) == pytest.approx(theirs, rel=0.02)


@pytest.mark.parametrize(
    ("alkali", "w", "t", "wall"),
    [("NaOH", 0.5, 60.0, 40.0), ("NaOH", 0.2, 30.0, 20.0), ("KOH", 0.3, 30.0, 20.0), ("KOH", 0.45, 20.0, 30.0)],
)
def test_the_film_of_a_stock_takes_what_it_is_between_stock_and_wall(
    alkali: Alkali, w: float, t: float, wall: float
) -> None:
    film = (t + wall) / 2
    rho = density.density(alkali, w, film)
    cold, warm = density.density(alkali, w, 20.0), density.density(alkali, w, 60.0)
    expansion = (cold - warm) / ((cold + warm) / 2) / 40.0
    viscous = viscosity.viscosity(alkali, w, film) / rho
    heat = rho * at_strength(alkali, w).heat_capacity(film)
    theirs = plate(0.3, expansion * abs(t - wall), viscous, 0.65, heat)
    assert stock_film(0.3, Stock(alkali, w), t, wall) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(
    ("alkali", "outside", "end"),
    [("NaOH", 90.0, 70.0), ("NaOH", 5.0, 12.5), ("KOH", 60.0, 40.0), ("KOH", -20.0, -14.1)],
)
def test_beyond_the_viscosities_the_one_at_their_end_is_taken(alkali: Alkali, outside: float, end: float) -> None:
    w = 0.4
    rho = density.density(alkali, w, max(outside, 0.0))
    cold, warm = density.density(alkali, w, 20.0), density.density(alkali, w, 60.0)
    expansion = (cold - warm) / ((cold + warm) / 2) / 40.0
    heat = rho * at_strength(alkali, w).heat_capacity(outside)
    theirs = plate(0.3, expansion * 4.0, viscosity.viscosity(alkali, w, end) / rho, 0.65, heat)
    assert stock_film(0.3, Stock(alkali, w), outside + 2.0, outside - 2.0) == pytest.approx(theirs, rel=1e-9)


def test_water_expands_between_20_and_60_degrees_as_tables_say() -> None:
    """998.20 and 983.20 kg/m3 (IAPWS-95, from memory)."""
    assert module._expansion("KOH", 0.0) == pytest.approx((998.20 - 983.20) / 990.70 / 40.0, rel=2e-3)


@given(
    w=st.floats(0.02, 0.5),
    cold=st.floats(0.0, 50.0),
    apart=st.floats(5.0, 80.0),
    wall=st.sampled_from((0.0, 1e-4, 0.0042)),
)
def test_one_flux_goes_through_stock_wall_and_water(w: float, cold: float, apart: float, wall: float) -> None:
    vessel = JUG._replace(wall_resistance=(wall, wall, wall))
    found = films(vessel, Stock("NaOH", w), cold + apart, cold)
    inside = found.inside * (cold + apart - found.wall_inside)
    outside = found.outside * (found.wall_outside - cold)
    assert inside == pytest.approx(outside, rel=0.05)
    assert found.wall_inside - found.wall_outside == pytest.approx(wall * outside, abs=0.03 * apart)


def test_resistances_add_up_in_each_limit() -> None:
    found = films(JUG, HALF, 60.0, 10.0)
    for which, (scale, wall) in enumerate(((1.0, 0), (0.6, 2), (2.0, 1))):
        resistance = 1.0 / (scale * found.inside) + JUG.wall_resistance[wall] + 1.0 / (scale * found.outside)
        assert coefficient(JUG, found, which) * resistance == pytest.approx(1.0, rel=1e-12)


def test_a_loss_is_coefficient_times_area_times_difference() -> None:
    found = films(JUG, HALF, 60.0, 10.0)
    value, low, high = bath_losses(JUG, HALF, [60.0], [10.0])[0]
    each = [coefficient(JUG, found, which) * wetted_area(JUG, which) * 50.0 for which in range(3)]
    assert (value, low, high) == pytest.approx(each, rel=1e-12)
    assert low < value < high


@pytest.mark.parametrize("known", [True, False])
def test_only_the_upper_limit_allows_for_a_shape_that_is_not_known(known: bool) -> None:
    """0.2 m wide, 0.3 m high: wall 0.06 pi, bottom 0.01 pi m2, of which none, half and all lose heat."""
    vessel = JUG._replace(shape_known=known)
    for which, (bottom, shape) in enumerate(((0.5, 1.0), (0.0, 1.0), (1.0, 1.0 if known else 1.15))):
        assert wetted_area(vessel, which) == pytest.approx(shape * math.pi * (0.06 + 0.01 * bottom), rel=1e-12)


def test_the_search_goes_on_in_a_straight_line_but_spans_no_more_than_there_is() -> None:
    spans = module._Spans
    assert spans(0.5, 0.2).after(spans(0.55, 0.25)) == pytest.approx((0.6, 0.3))
    assert spans(0.5, 0.2).after(spans(0.9, 0.2)) == pytest.approx((1.0, 0.0))
    assert spans(0.6, 0.2).after(spans(0.7, 0.5)) == pytest.approx((0.8, 0.2))
    assert spans(0.9, 0.9).after(spans(0.2, 0.1)) == (0.0, 0.0)


ENDS: list[tuple[str, Callable[[float], float], float, float]] = [
    ("temperature", water_conductivity, 0.0, 150.0),
    ("temperature", lambda t: water_film(0.2, t, 20.0), 0.0, 150.0),
    ("temperature", lambda t: water_film(0.2, 20.0, t), 0.0, 150.0),
]


@pytest.mark.parametrize(("quantity", "asked", "low", "high"), ENDS)
def test_water_is_taken_between_its_documented_ends(
    quantity: str, asked: Callable[[float], float], low: float, high: float
) -> None:
    for end in (low, high):
        assert asked(end) > 0.0
    for beyond in (low - 1e-3, high + 1e-3):
        with refused(quantity, low, high):
            asked(beyond)


def test_a_film_is_asked_for_with_sizes() -> None:
    sound = (0.2, 0.01, 1e-6, 0.6, 4.2e6)
    assert film_coefficient(0.2, 0.0, *sound[2:]) > 0.0
    for place in (0, 2, 3, 4):
        for nothing in (0.0, -1.0):
            with refused("height", 0.0, math.inf):
                film_coefficient(*(nothing if i == place else one for i, one in enumerate(sound)))
    with refused("buoyancy", 0.0, math.inf):
        film_coefficient(0.2, -1e-9, *sound[2:])
