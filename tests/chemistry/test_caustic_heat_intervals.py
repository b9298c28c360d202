"""The error budget of the heats of caustic solutions, part by part, and where their ranges end."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import enthalpy as heats
from service.chemistry import water
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from tests.chemistry.refusing import refused

ALKALIS: list[Alkali] = ["NaOH", "KOH"]
MOLAR_MASS: dict[Alkali, float] = {"NaOH": 39.997, "KOH": 56.105}
"""g/mol, CRC Handbook of Chemistry and Physics."""
BUDGET: dict[Alkali, tuple[float, float]] = {"NaOH": (0.2, 0.7), "KOH": (0.3, 1.5)}
"""Of the heat of dilution in water and at 50 % [kJ/mol], as `enthalpy_half_width` documents it (assumed)."""
OF_SOLUTION = 0.2
"""Of the heat of solution at infinite dilution [kJ/mol], as documented (assumed)."""


def per_mole(alkali: Alkali, w: float, per_mass: float) -> float:
    """kJ per mole of hydroxide, of what is J per kg of solution."""
    return per_mass / w * MOLAR_MASS[alkali] * 1e-6


@pytest.mark.parametrize("alkali", ALKALIS)
def test_a_heat_of_solution_has_the_two_parts_of_the_documented_budget(alkali: Alkali) -> None:
    in_water, at_half = BUDGET[alkali]
    for w, of_dilution in ((1e-6, in_water), (0.25, 0.5 * (in_water + at_half)), (0.5, at_half)):
        told = per_mole(alkali, w, heats.Strength(alkali, w).fixed_spread)
        assert told == pytest.approx(math.hypot(of_dilution, OF_SOLUTION), rel=1e-4)


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize(("w", "relative"), [(0.05, 0.006), (0.125, 0.015), (0.25, 0.03), (0.26, 0.03), (0.5, 0.03)])
def test_heat_capacities_are_known_to_three_per_cent_and_in_thin_solutions_better(
    alkali: Alkali, w: float, relative: float
) -> None:
    assert heats.Strength(alkali, w).capacity_spread == pytest.approx(relative, rel=1e-12)


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize(("w", "relative"), [(0.05, 0.006), (0.125, 0.015), (0.25, 0.03), (0.26, 0.03), (0.5, 0.03)])
def test_the_way_from_25_degrees_is_known_to_three_per_cent_and_in_thin_solutions_better(
    alkali: Alkali, w: float, relative: float
) -> None:
    fixed, all_of_it = (heats.enthalpy_half_width(alkali, w, t) for t in (25.0, 100.0))
    way = heats.enthalpy(alkali, w, 100.0) - heats.enthalpy(alkali, w, 25.0)
    assert math.sqrt(all_of_it**2 - fixed**2) / way == pytest.approx(relative, rel=1e-9)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_a_dilution_is_as_uncertain_as_is_documented(alkali: Alkali) -> None:
    """Beyond 10 % apart what each differs by counts in full at both, and the rest as the strengths lie apart."""
    in_water, at_half = BUDGET[alkali]
    for w, other in ((0.5, 0.3), (0.3, 0.5), (0.45, 0.05), (0.5, 0.0), (0.4, 0.3)):
        whole = (at_half - in_water) * abs(w - other) / 0.5
        told = heats.dilution_half_width(alkali, w, other) * MOLAR_MASS[alkali] * 1e-6
        assert told == pytest.approx(math.hypot(whole, math.sqrt(2.0) * in_water), rel=1e-4)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_near_strengths_are_known_from_each_other_in_proportion(alkali: Alkali) -> None:
    one, two, four = (heats.dilution_half_width(alkali, 0.4, 0.4 + apart) for apart in (0.01, 0.02, 0.04))
    assert (two, four) == pytest.approx((2.0 * one, 4.0 * one), rel=1e-9)
    assert heats.dilution_half_width(alkali, 0.4, 0.4) == 0.0
    assert heats.dilution_half_width(alkali, 0.0, 0.0) == 0.0
    # A thin stock and water: all of it, as documented, however thin.
    thin = heats.dilution_half_width(alkali, 1e-5, 0.0) * MOLAR_MASS[alkali] * 1e-6
    assert thin == pytest.approx(math.sqrt(2.0) * BUDGET[alkali][0], rel=1e-4)


@given(
    alkali=st.sampled_from(ALKALIS),
    share=st.floats(0.0, 1.0),
    t=st.floats(-28.0, 200.0),
    start=st.floats(-28.0, 200.0),
    inert=st.floats(0.0, 500.0),
    shift=st.sampled_from((-1.0, -0.3, 0.0, 0.6, 1.0)),
)
def test_a_temperature_closes_the_heat_of_solution_and_inert_matter(
    alkali: Alkali, share: float, t: float, start: float, inert: float, shift: float
) -> None:
    liquid = heats.at_strength(alkali, share * heats.HIGHEST_MASS_FRACTION[alkali])
    h = liquid.enthalpy(t) - shift * liquid.half_width(t) + inert * (t - 25.0)
    assert liquid.temperature(h, start, inert, shift) == pytest.approx(t, abs=1e-8)


@given(alkali=st.sampled_from(ALKALIS), share=st.floats(0.001, 1.0), t=st.floats(-27.0, 199.0))
def test_a_heat_capacity_goes_with_the_slope_beyond_the_data_too(alkali: Alkali, share: float, t: float) -> None:
    w = share * heats.HIGHEST_MASS_FRACTION[alkali]
    after, before = (heats.enthalpy(alkali, w, t + d, extended=True) for d in (0.01, -0.01))
    assert heats.heat_capacity(alkali, w, t, extended=True) == pytest.approx((after - before) / 0.02, rel=1e-5)


ENDS: list[tuple[Alkali, bool, float, float]] = [
    ("NaOH", False, 0.0, 150.0),
    ("KOH", False, 0.0, 120.0),
    ("NaOH", True, -28.0, 200.0),
    ("KOH", True, -28.0, 200.0),
]


@pytest.mark.parametrize(("alkali", "extended", "low", "high"), ENDS)
def test_temperatures_are_taken_to_their_documented_ends(
    alkali: Alkali, extended: bool, low: float, high: float
) -> None:
    def found(t: float) -> float:
        return heats.temperature_at(alkali, 0.3, heats.at_strength(alkali, 0.3).enthalpy(t), extended=extended)

    asked: list[Callable[[float], float]] = [
        lambda t: heats.enthalpy(alkali, 0.3, t, extended=extended),
        lambda t: heats.heat_capacity(alkali, 0.3, t, extended=extended),
        lambda t: heats.enthalpy_half_width(alkali, 0.3, t, extended=extended),
        found,
    ]
    why = "beyond it nothing is known" if extended else "were fitted from 0 °C"
    for one in asked:
        one(low)
        one(high)
        for beyond in (low - 0.01, high + 0.01):
            with pytest.raises(OutOfRange, match=why) as caught:
                one(beyond)
            assert (caught.value.quantity, caught.value.low, caught.value.high) == ("temperature", low, high)
    for end in (low, high):
        h = heats.at_strength(alkali, 0.3).enthalpy(end)
        for off in (-1e-6, 1e-6):  # J/kg, a third of a millionth of a millikelvin: rounding, so it is the end itself
            t = heats.temperature_at(alkali, 0.3, h + off, extended=extended)
            assert low <= t <= high
            assert t == pytest.approx(end, abs=1e-9)
    assert low <= found(low) <= found(low + 0.3) == pytest.approx(low + 0.3, abs=1e-8)
    assert high >= found(high) >= found(high - 0.3) == pytest.approx(high - 0.3, abs=1e-8)


@pytest.mark.parametrize(("alkali", "strongest"), [("NaOH", 0.55), ("KOH", 0.50)])
def test_strengths_are_taken_to_their_documented_ends(alkali: Alkali, strongest: float) -> None:
    for w in (0.0, strongest):
        assert heats.at_strength(alkali, w).mass_fraction == w
    for w in (-1e-6, strongest + 1e-6):
        with refused("mass_fraction", 0.0, strongest):
            heats.at_strength(alkali, w)


def test_solids_are_taken_to_their_documented_ends() -> None:
    for t in (-40.0, 150.0):
        assert heats.solid_enthalpy("KOH", t) == pytest.approx(heats.solid_heat_capacity("KOH") * (t - 25.0))
    for t in (-40.01, 150.01):
        with refused("temperature", -40.0, 150.0):
            heats.solid_enthalpy("KOH", t)


def test_an_isotherm_tells_why_it_ends() -> None:
    for t in (-28.01, 200.01):
        with pytest.raises(OutOfRange, match="beyond it nothing is known"):
            heats.isotherm("NaOH", t)


@pytest.mark.parametrize("t", [-10.0, 60.0, 180.0])
def test_an_isotherm_of_nothing_dissolved_is_water(t: float) -> None:
    """Below 0 and above 150 °C the polynomial of water runs on, which `at_strength` has as well."""
    ours = heats.isotherm("NaOH", t)(0.0)
    assert ours == pytest.approx(heats.at_strength("KOH", 0.0).enthalpy(t), abs=1e-6)
    if 0.0 <= t <= 150.0:
        assert ours == pytest.approx(water.enthalpy(t), abs=1e-6)
