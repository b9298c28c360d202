"""Heats of what is poured together: slopes and bends over the strength, their intervals, boiling, and ranges."""

from collections.abc import Callable

import numpy as np
import pytest

from service.chemistry import blending, enthalpy
from service.chemistry.blending import (
    Part,
    alike,
    balance_half_width,
    blend,
    enthalpy_bend,
    enthalpy_slope,
    part_enthalpy,
)
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import ROUNDING
from service.chemistry.vapour_pressure import boiling_point
from service.chemistry.water import steam_enthalpy
from tests.chemistry.refusing import refused

ALKALIS: tuple[Alkali, ...] = ("NaOH", "KOH")
HIGHEST: dict[Alkali, float] = {"NaOH": 0.55, "KOH": 0.50}


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("t", [-10.0, 25.0, 90.0])
def test_the_slopes_of_all_strengths_add_up_to_the_whole_rise(alkali: Alkali, t: float) -> None:
    """An integral by the rule of Gauss against the two ends."""
    places, weights = np.polynomial.legendre.leggauss(24)
    for low, high in ((0.02, 0.2), (0.2, 0.4), (0.4, HIGHEST[alkali])):
        half = 0.5 * (high - low)
        strengths = [low + half * (1.0 + float(x)) for x in places]
        summed = half * sum(weight * enthalpy_slope(alkali, w, t) for w, weight in zip(strengths, weights, strict=True))
        here, there = (enthalpy.enthalpy(alkali, w, t, extended=True) for w in (low, high))
        assert summed == pytest.approx(there - here, abs=1.0)


@pytest.mark.parametrize(("alkali", "molar_mass", "heat"), [("NaOH", 39.997e-3, 44.51e3), ("KOH", 56.105e-3, 57.61e3)])
def test_the_first_alkali_in_water_gives_off_the_heat_of_infinite_dilution(
    alkali: Alkali, molar_mass: float, heat: float
) -> None:
    """Parker, NSRDS-NBS 2 (1965); up to 0.01 % the limiting law of Debye and Hückel takes 2 kJ/mol times sqrt m off."""
    molality = 1e-4 / molar_mass
    given_off = -molar_mass * enthalpy_slope(alkali, 0.0, 25.0)
    assert heat - 2.0e3 * molality**0.5 <= given_off <= heat


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize(("w", "reach"), [(0.3, 0.01), (0.2, 0.1), (0.4, 0.05), (0.05, 0.04)])
def test_a_bend_is_what_equal_masses_of_both_sides_give_off_when_they_are_poured_together(
    alkali: Alkali, w: float, reach: float
) -> None:
    poured = blend(alkali, [Part(1.0, w - reach, 25.0), Part(1.0, w + reach, 25.0)])
    assert 2.0 * enthalpy_bend(alkali, w, 25.0, reach) == pytest.approx(poured.heat_released, rel=1e-9)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_nearer_to_an_end_of_the_data_the_bend_is_that_of_a_parabola(alkali: Alkali) -> None:
    """Twice as far from the middle a parabola is four times as far above it, three times as far nine times."""
    for w in (0.01, HIGHEST[alkali] - 0.01):
        within = enthalpy_bend(alkali, w, 40.0, 0.01)
        assert within > 0
        assert enthalpy_bend(alkali, w, 40.0, 0.02) == pytest.approx(4.0 * within, rel=1e-6)
        assert enthalpy_bend(alkali, w, 40.0, 0.03) == pytest.approx(9.0 * within, rel=1e-6)
    for w in (0.0, HIGHEST[alkali]):
        assert enthalpy_bend(alkali, w, 40.0, 0.01) == 0.0


def test_without_reach_there_is_no_bend() -> None:
    assert enthalpy_bend("NaOH", 0.3, 25.0, 0.0) == 0.0


def test_what_boils_off_leaves_masses_and_heats_in_balance() -> None:
    """Everything that goes in is there afterwards, as boiling solution or as steam of its temperature."""
    parts = [Part(1.0, 0.5, 150.0), Part(0.8, 0.0, 98.0)]
    found = blend("NaOH", parts)
    t, ice, strength, reason = found.state
    assert t is not None and strength is not None  # noqa: PT018
    assert (ice, reason, found.beyond_data) == (0.0, None, False)
    assert 0.01 < found.steam < 0.2
    assert strength * (1.8 - found.steam) == pytest.approx(0.5, rel=1e-12)
    assert t == pytest.approx(boiling_point("NaOH", strength), abs=1e-6)
    left = (1.8 - found.steam) * enthalpy.enthalpy("NaOH", strength, t)
    before = sum(one.mass * part_enthalpy("NaOH", one) for one in parts)
    assert left + found.steam * steam_enthalpy(t) == pytest.approx(before, abs=1.0)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_what_boils_down_beyond_the_data_is_told_so_and_no_steam(alkali: Alkali) -> None:
    strongest = HIGHEST[alkali]
    found = blend(alkali, [Part(2.0, strongest, 200.0)])
    assert found.beyond_data
    assert found.steam == 0.0
    assert found.state == (boiling_point(alkali, strongest), 0.0, strongest, None)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_a_solution_at_its_boiling_point_but_for_rounding_does_not_boil(alkali: Alkali) -> None:
    for w in (0.2, HIGHEST[alkali]):
        t = boiling_point(alkali, w) + 0.5 * ROUNDING
        found = blend(alkali, [Part(1.0, w, t)])
        assert (found.steam, found.beyond_data) == (0.0, False)
        assert found.state.temperature == pytest.approx(t, abs=1e-9)


def test_where_ice_is_left_below_the_known_freezing_points_no_state_is_told_and_no_steam() -> None:
    found = blend("KOH", [Part(1.0, 0.35, -28.0), Part(0.5, 0.0, -30.0, ice=True)])
    assert found.state[:3] == (None, None, None)
    assert found.state.reason
    assert (found.steam, found.beyond_data) == (0.0, False)


def test_strengths_are_alike_up_to_what_rounding_leaves() -> None:
    same = Part(1.0, 0.3, 20.0)
    assert alike([same, same._replace(temperature=80.0)], 0.3)
    assert alike([Part(1.0, ROUNDING, 20.0)], 0.0)
    assert not alike([Part(1.0, 2.0 * ROUNDING, 20.0)], 0.0)
    assert not alike([same, Part(1.0, 0.4, 20.0)], 0.3)
    assert blend("NaOH", [same, same]).heat_released == 0.0


def _warmed(alkali: Alkali, part: Part) -> float:
    """What it takes to warm a part from 25 °C [J]."""
    heat = enthalpy.enthalpy(alkali, part.mass_fraction, part.temperature)
    return part.mass * (heat - enthalpy.enthalpy(alkali, part.mass_fraction, 25.0))


@pytest.mark.parametrize("alkali", ALKALIS)
def test_a_heat_capacity_that_errs_alike_before_and_after_leaves_next_to_nothing_open(alkali: Alkali) -> None:
    """3 % of the heat that is not there afterwards (assumed, as `enthalpy.enthalpy_half_width` has it)."""
    parts = [Part(1.0, 0.4, 20.0), Part(2.0, 0.4, 80.0)]
    met = blend(alkali, parts).state.temperature
    assert met is not None
    assert balance_half_width(alkali, parts, Part(3.0, 0.4, met)) == pytest.approx(0.0, abs=1e-3)
    cold = Part(3.0, 0.4, 25.0)
    assert balance_half_width(alkali, parts, cold) == pytest.approx(0.03 * sum(_warmed(alkali, one) for one in parts))
    assert balance_half_width(alkali, parts, cold, warmth=False) == 0.0


@pytest.mark.parametrize("alkali", ALKALIS)
def test_diluting_errs_by_the_hydroxide_and_beside_the_heat_capacities(alkali: Alkali) -> None:
    parts, after = [Part(2.0, 0.5, 25.0), Part(3.0, 0.0, 25.0)], Part(5.0, 0.2, 60.0)
    by_hydroxide = 2.0 * 0.5 * enthalpy.dilution_half_width(alkali, 0.5, 0.2)
    assert balance_half_width(alkali, parts, after, warmth=False) == pytest.approx(by_hydroxide)
    by_warmth = 0.03 * 0.2 / 0.25 * _warmed(alkali, after)  # in proportion to the strength below 25 %
    both = balance_half_width(alkali, parts, after)
    assert both**2 == pytest.approx(by_hydroxide**2 + by_warmth**2)
    assert balance_half_width(alkali, [*parts, Part(1.0, 0.0, -5.0, ice=True)], after) == both


AT: tuple[tuple[str, Callable[[float], object], float, float], ...] = (
    ("temperature", lambda t: part_enthalpy("NaOH", Part(1.0, 0.3, t)), -28.0, 200.0),
    ("temperature", lambda t: part_enthalpy("NaOH", Part(1.0, 0.0, t, ice=True)), -30.0, 0.0),
    ("mass_fraction", lambda w: part_enthalpy("NaOH", Part(1.0, w, 20.0)), 0.0, 0.55),
    ("mass_fraction", lambda w: part_enthalpy("KOH", Part(1.0, w, 20.0)), 0.0, 0.50),
    ("mass", lambda mass: blend("NaOH", [Part(mass, 0.3, 20.0)]), 1e-12, 1e9),
)


@pytest.mark.parametrize(("quantity", "of", "low", "high"), AT)
def test_ranges_hold_to_their_ends_and_no_further(
    quantity: str, of: Callable[[float], object], low: float, high: float
) -> None:
    for inside in (low, high):
        of(inside)
    for outside in (low - 1e-3, high * 1.01 + 1e-3):
        with refused(quantity, low, high):
            of(outside)


def test_amounts_hold_hydroxide_and_water_with_the_ice() -> None:
    parts = [Part(2.0, 0.25, 20.0), Part(1.0, 0.0, 20.0), Part(0.5, 0.0, -1.0, ice=True)]
    assert blending.amounts_of(parts) == (0.5, 3.0, 0.0)
