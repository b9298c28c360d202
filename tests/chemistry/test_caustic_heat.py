"""Enthalpy of caustic solutions: consistency, inverse, intervals and ranges."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import enthalpy as heats
from service.chemistry import water
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali

ALKALIS: list[Alkali] = ["NaOH", "KOH"]


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("t", [0.0, 25.0, 60.0, 120.0])
def test_without_caustic_it_is_water(alkali: Alkali, t: float) -> None:
    assert heats.enthalpy(alkali, 0.0, t) == pytest.approx(water.enthalpy(t), abs=1e-6)
    assert heats.heat_capacity(alkali, 0.0, t) == pytest.approx(water.heat_capacity(t), rel=1e-12)


@given(alkali=st.sampled_from(ALKALIS), share=st.floats(0.0, 1.0), t=st.floats(-28.0, 200.0))
def test_temperature_comes_back_from_the_enthalpy(alkali: Alkali, share: float, t: float) -> None:
    w = share * heats.HIGHEST_MASS_FRACTION[alkali]
    h = heats.enthalpy(alkali, w, t, extended=True)
    assert heats.temperature_at(alkali, w, h, extended=True) == pytest.approx(t, abs=1e-8)


@given(alkali=st.sampled_from(ALKALIS), share=st.floats(0.0, 1.0), t=st.floats(1.0, 119.0))
def test_heat_capacity_is_the_slope_of_the_enthalpy(alkali: Alkali, share: float, t: float) -> None:
    w = share * heats.HIGHEST_MASS_FRACTION[alkali]
    slope = (heats.enthalpy(alkali, w, t + 0.01) - heats.enthalpy(alkali, w, t - 0.01)) / 0.02
    assert heats.heat_capacity(alkali, w, t) == pytest.approx(slope, rel=1e-5)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_mixing_solid_and_water_of_25_degrees_is_the_zero(alkali: Alkali) -> None:
    assert heats.solid_enthalpy(alkali, 25.0) == 0.0
    w = 0.4
    assert w * heats.heat_of_solution(alkali, w) == pytest.approx(heats.enthalpy(alkali, w, 25.0), rel=1e-12)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_strong_solutions_give_off_less_heat_for_their_caustic(alkali: Alkali) -> None:
    row = [heats.heat_of_solution(alkali, 0.2 + 0.01 * i) for i in range(31)]
    assert all(a < b < 0.0 for a, b in pairwise(row))


def test_heat_of_solution_of_nothing_is_that_at_infinite_dilution() -> None:
    assert heats.heat_of_solution("NaOH", 0.0) == pytest.approx(heats.heat_of_solution("NaOH", 1e-12), rel=1e-5)


def test_the_quick_form_is_the_same() -> None:
    strength = heats.at_strength("KOH", 0.37)
    assert strength.enthalpy(71.0) == heats.enthalpy("KOH", 0.37, 71.0)
    assert strength.heat_capacity(71.0) == heats.heat_capacity("KOH", 0.37, 71.0)
    assert strength.half_width(71.0) == heats.enthalpy_half_width("KOH", 0.37, 71.0)
    assert strength.temperature(strength.enthalpy(71.0), 20.0) == pytest.approx(71.0, abs=1e-9)


@pytest.mark.parametrize(
    ("alkali", "w", "t", "kilojoules"),
    # The error budget in words: NaOH 50 % 13 kJ/kg at 118 °C and 9 at 25 to 50; 9 of 30 % at 100 °C;
    # KOH 50 % 4 % of 399 kJ/kg.
    [("NaOH", 0.5, 118.0, 13.0), ("NaOH", 0.5, 25.0, 9.0), ("NaOH", 0.3, 100.0, 9.0), ("KOH", 0.5, 120.0, 15.6)],
)
def test_half_width_is_the_error_budget(alkali: Alkali, w: float, t: float, kilojoules: float) -> None:
    assert heats.enthalpy_half_width(alkali, w, t) == pytest.approx(1e3 * kilojoules, rel=0.04)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_half_width_vanishes_with_the_caustic(alkali: Alkali) -> None:
    assert heats.enthalpy_half_width(alkali, 0.0, 90.0) == 0.0


@pytest.mark.parametrize(
    ("alkali", "w", "t", "extended"),
    [
        ("NaOH", 0.551, 25.0, False),
        ("KOH", 0.501, 25.0, False),
        ("NaOH", -0.01, 25.0, False),
        ("NaOH", 0.3, 150.1, False),
        ("KOH", 0.3, 120.1, False),
        ("NaOH", 0.3, -0.1, False),
        ("NaOH", 0.3, 200.1, True),
        ("KOH", 0.3, -28.1, True),
        ("KOH", 0.3, math.nan, True),
    ],
)
def test_outside_the_range_it_raises(alkali: Alkali, w: float, t: float, extended: bool) -> None:
    for function in (heats.enthalpy, heats.heat_capacity, heats.enthalpy_half_width):
        with pytest.raises(OutOfRange):
            function(alkali, w, t, extended=extended)


def test_temperature_outside_the_range_is_refused_unless_extended() -> None:
    h = heats.enthalpy("KOH", 0.4, 150.0, extended=True)
    with pytest.raises(OutOfRange):
        heats.temperature_at("KOH", 0.4, h)
    assert heats.temperature_at("KOH", 0.4, h, extended=True) == pytest.approx(150.0)
    assert heats.temperature_at("KOH", 0.4, heats.enthalpy("KOH", 0.4, 120.0)) == pytest.approx(120.0, abs=1e-9)
    with pytest.raises(OutOfRange):
        heats.temperature_at("KOH", 0.4, 2e6, extended=True)


@pytest.mark.parametrize("t", [-40.1, 150.1])
def test_solid_far_from_25_degrees_is_refused(t: float) -> None:
    with pytest.raises(OutOfRange):
        heats.solid_enthalpy("NaOH", t)


def test_solid_takes_up_heat_as_the_handbook_says() -> None:
    # CRC Handbook: 59.5 and 68.9 J/(mol K) at 25 °C
    assert heats.solid_enthalpy("NaOH", 35.0) == pytest.approx(10 * 59.5 / 39.997e-3, rel=1e-4)
    assert heats.solid_enthalpy("KOH", 15.0) == pytest.approx(-10 * 68.9 / 56.105e-3, rel=1e-4)


def test_monohydrate_limit_is_one_water_per_hydroxide() -> None:
    assert heats.BOUND_WATER_LIMIT["NaOH"] == pytest.approx(18.015 / 39.997, rel=1e-4)
    assert heats.BOUND_WATER_LIMIT["KOH"] == pytest.approx(18.015 / 56.105, rel=1e-4)


@given(st.sampled_from(ALKALIS), st.floats(0.0, 0.5), st.floats(-28.0, 200.0), st.sampled_from([-1.0, 0.0, 0.4]))
def test_an_isotherm_is_the_enthalpy_at_its_temperature(alkali: Alkali, w: float, t: float, shift: float) -> None:
    here = heats.at_strength(alkali, w)
    assert heats.isotherm(alkali, t, shift)(w) == pytest.approx(here.enthalpy(t) - shift * here.half_width(t), abs=1e-6)


@pytest.mark.parametrize("t", [-28.1, 200.1, float("nan")])
def test_an_isotherm_reaches_no_further_than_the_polynomials(t: float) -> None:
    with pytest.raises(OutOfRange):
        heats.isotherm("NaOH", t)
