"""Freezing of caustic solutions: continuity, limits, evidence and range."""

from itertools import pairwise

import pytest

from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import HIGHEST_MASS_FRACTION, ICE_LINES, first_solid, ice_line
from service.chemistry.molar_masses import Alkali

ALKALIS: list[Alkali] = ["NaOH", "KOH"]


@pytest.mark.parametrize("alkali", ALKALIS)
def test_freezing_line_has_no_jump_and_lies_within_its_limits(alkali: Alkali) -> None:
    points = [first_solid(alkali, HIGHEST_MASS_FRACTION[alkali] * i / 2000) for i in range(2001)]
    for a, b in pairwise(points):
        assert abs(a.temperature - b.temperature) < 0.3
        assert a.low <= a.temperature <= a.high


@pytest.mark.parametrize("alkali", ALKALIS)
def test_water_freezes_at_zero(alkali: Alkali) -> None:
    found = first_solid(alkali, 0.0)
    assert (found.temperature, found.low, found.high, found.solid) == (0.0, 0.0, 0.0, "ice")


@pytest.mark.parametrize(("alkali", "end", "coldest"), [("NaOH", 0.188, -28.0), ("KOH", 0.07, -4.92)])
def test_ice_line_ends_where_the_data_end(alkali: Alkali, end: float, coldest: float) -> None:
    assert ICE_LINES[alkali].strengths[-1] == end
    assert ice_line(alkali, end) == coldest
    with pytest.raises(OutOfRange):
        ice_line(alkali, end + 1e-9)
    with pytest.raises(OutOfRange):
        ice_line(alkali, -1e-9)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_ice_line_falls_and_is_the_first_solid(alkali: Alkali) -> None:
    end = ICE_LINES[alkali].strengths[-1]
    row = [ice_line(alkali, end * i / 300) for i in range(301)]
    assert all(a > b for a, b in pairwise(row))
    for i in range(300):
        assert first_solid(alkali, end * i / 300).temperature == pytest.approx(ice_line(alkali, end * i / 300))


def test_caustic_potash_beyond_the_measured_depressions_says_so() -> None:
    assert first_solid("KOH", 0.05).evidence == "seen-secondary"
    beyond = first_solid("KOH", 0.20)
    assert beyond.evidence == "mixed"
    assert beyond.high - beyond.low > 20.0
    assert first_solid("KOH", 0.308).evidence == "memory"
    assert first_solid("KOH", 0.35).evidence == "mixed"


def test_solids_are_named_in_english() -> None:
    assert first_solid("NaOH", 0.50).name == "sodium hydroxide dihydrate"
    assert first_solid("KOH", 0.50).name == "potassium hydroxide dihydrate"
    assert first_solid("NaOH", 0.10).name == "ice"


@pytest.mark.parametrize(("alkali", "w"), [("NaOH", 0.551), ("KOH", 0.529), ("KOH", -0.001)])
def test_outside_the_range_it_raises(alkali: Alkali, w: float) -> None:
    with pytest.raises(OutOfRange):
        first_solid(alkali, w)
