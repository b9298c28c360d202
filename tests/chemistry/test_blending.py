"""Solutions, water and ice poured together: balances, order and ice."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import enthalpy, vapour_pressure
from service.chemistry.blending import Part, blend, part_enthalpy
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import ice_line
from service.chemistry.meeting import hottest
from service.chemistry.mixing import mix
from service.chemistry.mixing_records import Charge, Ice, Solid, Stock, Water
from service.chemistry.molar_masses import Alkali
from service.chemistry.water import enthalpy as water_enthalpy
from service.chemistry.water import ice_enthalpy

ALKALIS: tuple[Alkali, ...] = ("NaOH", "KOH")
PARTS = st.builds(Part, st.floats(0.01, 100.0), st.floats(0.0, 0.5), st.floats(0.0, 90.0), st.just(False))


@pytest.mark.parametrize(
    ("alkali", "w", "t"),
    [
        *(("NaOH", w, t) for w, t in ((0.45, 39.8), (0.4, 50.5), (1 / 3, 57.8), (0.3, 58.5), (0.2, 52.1), (0.1, 38.6))),
        *(("KOH", w, t) for w, t in ((0.45, 33.5), (0.4, 38.4), (1 / 3, 40.8), (0.3, 40.7), (0.2, 37.0), (0.1, 30.9))),
    ],
)
def test_half_strength_and_water_of_25_degrees_come_to_what_another_evaluation_found(
    alkali: Alkali, w: float, t: float
) -> None:
    """The same heats (Parker 1965; Olsson 1997; Balej 1985) evaluated by another program, rounded to 0.1 K."""
    found = blend(alkali, [Part(1.0, 0.5, 25.0), Part(0.5 / w - 1.0, 0.0, 25.0)])
    assert found.state.temperature == pytest.approx(t, abs=0.06)


@given(st.lists(PARTS, min_size=1, max_size=5), st.sampled_from(ALKALIS))
def test_masses_hydroxide_and_enthalpies_balance(parts: list[Part], alkali: Alkali) -> None:
    found = blend(alkali, parts)
    assert found.poured.total == pytest.approx(math.fsum(one.mass for one in parts))
    if found.steam or found.state.temperature is None:
        return
    before = math.fsum(one.mass * enthalpy.enthalpy(alkali, *one[1:3], extended=True) for one in parts)
    after = found.mass * enthalpy.enthalpy(alkali, found.mass_fraction, found.state.temperature, extended=True)
    assert after == pytest.approx(before, rel=1e-9, abs=1e-6 * found.mass)


def test_water_has_the_same_heat_as_a_solution_of_no_strength() -> None:
    for t in (0.0, 10.0, 60.0, 100.0):
        assert part_enthalpy("NaOH", Part(1.0, 0.0, t)) == pytest.approx(water_enthalpy(t), abs=1e-6)


@given(st.lists(PARTS, min_size=2, max_size=4), st.sampled_from(ALKALIS))
def test_the_order_does_not_matter(parts: list[Part], alkali: Alkali) -> None:
    one, other = blend(alkali, parts), blend(alkali, parts[::-1])
    assert one == other
    there, back = hottest(alkali, parts), hottest(alkali, parts[::-1])
    assert (there.boiling_margin, there.temperature) == (back.boiling_margin, back.temperature)


@given(PARTS, PARTS, PARTS, st.sampled_from(ALKALIS))
def test_pouring_two_first_and_the_third_later_comes_to_the_same(a: Part, b: Part, c: Part, alkali: Alkali) -> None:
    at_once, first = blend(alkali, [a, b, c]), blend(alkali, [a, b])
    if first.steam or at_once.steam or first.state.temperature is None:
        return
    later = blend(alkali, [Part(first.mass, first.mass_fraction, first.state.temperature), c])
    if first.state.ice_mass == 0 and later.state.temperature is not None and at_once.state.temperature is not None:
        assert later.state.temperature == pytest.approx(at_once.state.temperature, abs=1e-6)


@given(PARTS, st.sampled_from(ALKALIS))
def test_a_solution_with_its_like_gives_no_heat_and_stays_as_it_is(part: Part, alkali: Alkali) -> None:
    found = blend(alkali, [part, part])
    assert found.state.temperature == pytest.approx(part.temperature, abs=1e-7)
    assert found.heat_released == pytest.approx(0.0, abs=1e-6 * found.mass)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_diluting_gives_the_difference_of_the_heats_of_solution(alkali: Alkali) -> None:
    found = blend(alkali, [Part(1.0, 0.5, 40.0), Part(1.5, 0.0, 10.0)])
    by_solution = 0.5 * (enthalpy.heat_of_solution(alkali, 0.5) - enthalpy.heat_of_solution(alkali, 0.2))
    assert found.heat_released == pytest.approx(by_solution)


@pytest.mark.parametrize("ice", [0.5, 1.0, 1.5])
def test_ice_beside_a_solution_comes_to_what_mixing_without_solid_finds(ice: float) -> None:
    found = blend("NaOH", [Part(1.0, 0.4, 20.0), Part(0.3, 0.0, 15.0), Part(ice, 0.0, -10.0, ice=True)])
    charge = Charge(Water(0.3, 15.0), Ice(ice, -10.0), Stock(1.0, 0.4, 20.0))
    path = mix(Solid("NaOH", 1e-12), charge, points=2).path
    assert found.state.temperature == pytest.approx(path[0].temperature, abs=1e-6)
    assert found.state.ice_mass == pytest.approx(path[0].ice_mass, abs=1e-9)


def test_ice_that_is_left_lies_with_the_liquid_on_the_freezing_line() -> None:
    found = blend("NaOH", [Part(1.0, 0.1, 20.0), Part(1.0, 0.0, -5.0, ice=True)])
    t, ice, strength, _ = found.state
    assert t is not None and ice is not None and strength is not None  # noqa: PT018
    assert t == pytest.approx(ice_line("NaOH", strength))
    assert strength * (2.0 - ice) == pytest.approx(0.1)
    liquid = (2.0 - ice) * enthalpy.enthalpy("NaOH", strength, t, extended=True)
    assert liquid + ice * ice_enthalpy(t) == pytest.approx(found.heat)


def test_ice_and_water_alone_stay_at_nought() -> None:
    found = blend("NaOH", [Part(1.0, 0.0, 10.0), Part(1.0, 0.0, 0.0, ice=True)])
    assert found.state.temperature == 0.0
    melted = (water_enthalpy(10.0) - water_enthalpy(0.0)) / (water_enthalpy(0.0) - ice_enthalpy(0.0))
    assert found.state.ice_mass == pytest.approx(1.0 - melted)


def test_what_would_be_hotter_than_it_boils_gives_off_steam() -> None:
    found = blend("NaOH", [Part(1.0, 0.5, 140.0), Part(1.0, 0.0, 95.0)])
    assert found.steam > 0
    assert found.state.temperature == pytest.approx(vapour_pressure.boiling_point("NaOH", found.mass_fraction))
    assert found.mass_fraction > 0.25


@pytest.mark.parametrize(
    "part",
    [
        Part(1.0, 0.6, 20.0),
        Part(1.0, 0.5, -30.0),
        Part(1.0, 0.5, 201.0),
        Part(1.0, 0.0, 1.0, ice=True),
        Part(0.0, 0.5, 20.0),
        Part(math.nan, 0.5, 20.0),
    ],
)
def test_what_no_data_reach_is_refused(part: Part) -> None:
    with pytest.raises(OutOfRange):
        blend("NaOH", [part])
