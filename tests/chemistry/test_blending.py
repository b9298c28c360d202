"""Solutions, water and ice poured together: balances, order, ice and the worst of all proportions."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import blending, enthalpy, vapour_pressure
from service.chemistry.blending import Part, blend, hottest, part_enthalpy, upper_edge
from service.chemistry.dilution import dilute
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import ice_line
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


@pytest.mark.parametrize(("t", "water"), [(25.0, 25.0), (60.0, 20.0), (80.0, 80.0), (120.0, 10.0)])
@pytest.mark.parametrize("alkali", ALKALIS)
def test_the_worst_proportion_is_at_least_as_bad_as_the_worst_of_a_row_of_them(
    alkali: Alkali, t: float, water: float
) -> None:
    """`dilute` seeks in proportions of two, this in strengths of any parts: two ways to one answer."""
    if alkali == "KOH" and t > 110:
        return
    tried = dilute(alkali, (1.0, 0.5, t), (99.0, water))
    found = hottest(alkali, [Part(1.0, 0.5, t), Part(1.0, 0.0, water)])
    assert found.boiling_margin == pytest.approx(tried.boiling_margin, abs=0.02)
    if tried.hottest < 100:  # `dilute` does not cap
        assert found.temperature == pytest.approx(tried.hottest, abs=0.02)


@pytest.mark.parametrize(
    ("alkali", "strong", "weak"),
    [
        ("NaOH", (0.526, 128.7), (0.0, 84.0)),
        ("NaOH", (0.42, 200.0), (0.527, 59.7)),
        ("NaOH", (0.112, 119.6), (0.5, 36.5)),
        ("KOH", (0.14, 200.0), (0.276, 16.1)),
        ("KOH", (0.5, 60.0), (0.49, 30.0)),
        ("NaOH", (0.3, 25.0), (0.0, 95.0)),
    ],
)
def test_the_worst_is_that_of_five_hundred_proportions_of_two_parts(
    alkali: Alkali, strong: tuple[float, float], weak: tuple[float, float]
) -> None:
    """Balance of masses and enthalpies for each proportion; what boils over some of them is hottest where it ends."""
    one, other = Part(1.0, *strong), Part(1.0, *weak)
    found = hottest(alkali, [one, other])
    highest, least = -1e9, 1e9
    for i in range(501):
        share = i / 500
        w = share * strong[0] + (1.0 - share) * weak[0]
        heat = share * part_enthalpy(alkali, one) + (1.0 - share) * part_enthalpy(alkali, other)
        t = enthalpy.at_strength(alkali, w).temperature(heat)
        boiling = vapour_pressure.boiling_point(alkali, w)
        highest = max(highest, min(t, boiling))
        least = min(least, boiling - vapour_pressure.boiling_point_half_width(alkali, w) - t)
    assert least - 0.3 <= found.boiling_margin <= least + 0.005  # a point tried may lie between two of these
    assert highest - 0.005 <= found.temperature <= highest + 0.1


@given(st.lists(PARTS, min_size=2, max_size=4), st.lists(st.floats(0.0, 1.0), min_size=4, max_size=4))
def test_no_mixture_of_all_is_hotter_or_nearer_to_boiling_than_what_is_told(
    parts: list[Part], shares: list[float]
) -> None:
    taken = [one._replace(mass=share + 1e-6) for one, share in zip(parts, shares, strict=False)]
    worst = hottest("NaOH", parts)
    whole = blending.amounts_of(taken)
    heat = sum(one.mass * part_enthalpy("NaOH", one) for one in taken)
    liquid = enthalpy.at_strength("NaOH", whole.strength)
    t = liquid.temperature(heat / whole.total)
    boiling = vapour_pressure.boiling_point("NaOH", whole.strength)
    low = boiling - vapour_pressure.boiling_point_half_width("NaOH", whole.strength)
    assert low - t >= worst.boiling_margin - 0.02
    assert min(t, boiling) <= worst.temperature + 0.02


def test_the_upper_edge_holds_the_hottest_of_each_strength_and_nothing_below_a_line() -> None:
    points = [(0.0, 0.0, 0), (0.2, -5.0, 1), (0.2, 3.0, 2), (0.3, 1.0, 3), (0.5, 4.0, 4), (0.4, 3.0, 5)]
    for order in itertools.islice(itertools.permutations(points), 0, 720, 37):
        assert [i for *_, i in upper_edge(order)] == [0, 2, 4]


@pytest.mark.parametrize(("w", "rise"), [(0.5, 0.9), (0.3, 0.0)])
def test_a_little_ice_warms_strong_stock_and_cools_weak_stock(w: float, rise: float) -> None:
    """Diluting 50 % gives off a little more heat than melting takes up: the balance with 5 % of ice says so too."""
    iced = hottest("NaOH", [Part(1.0, w, 30.0), Part(5.0, 0.0, -5.0, ice=True)])
    assert iced.temperature == pytest.approx(30.0 + rise, abs=0.05)
    whole = blend("NaOH", [Part(1.0, w, 30.0), Part(0.05, 0.0, -5.0, ice=True)]).state.temperature
    assert whole is not None
    assert (whole > 30.0) == (rise > 0)


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
