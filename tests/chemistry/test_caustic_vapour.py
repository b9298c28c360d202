"""Vapour pressure and boiling point of caustic solutions: range, direction, inverse and interval."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import vapour_pressure as vapour
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from tests.chemistry.refusing import refused

ALKALIS: list[Alkali] = ["NaOH", "KOH"]


@given(alkali=st.sampled_from(ALKALIS), share=st.floats(0.0, 1.0), pressure=st.floats(2e4, 2e5))
def test_at_the_boiling_point_the_vapour_has_the_pressure_of_the_air(
    alkali: Alkali, share: float, pressure: float
) -> None:
    w = share * vapour.HIGHEST_MASS_FRACTION[alkali]
    t = vapour.boiling_point(alkali, w, pressure)
    assert vapour.water_vapour_pressure(alkali, w, t) == pytest.approx(pressure, rel=1e-9)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_stronger_solutions_boil_later_and_give_off_less(alkali: Alkali) -> None:
    strengths = [vapour.HIGHEST_MASS_FRACTION[alkali] * i / 300 for i in range(301)]
    assert all(a < b for a, b in pairwise(vapour.boiling_point(alkali, w) for w in strengths))
    for t in (20.0, 60.0, 100.0):
        assert all(a > b for a, b in pairwise(vapour.water_vapour_pressure(alkali, w, t) for w in strengths))


@pytest.mark.parametrize(
    ("alkali", "w", "t"),
    [("NaOH", 0.5501, 50.0), ("KOH", 0.5001, 50.0), ("NaOH", 0.3, -0.1), ("KOH", 0.3, 200.1), ("KOH", -0.1, 50.0)],
)
def test_outside_the_range_it_raises(alkali: Alkali, w: float, t: float) -> None:
    with pytest.raises(OutOfRange):
        vapour.water_vapour_pressure(alkali, w, t)
    with pytest.raises(OutOfRange):
        vapour.water_vapour_pressure_half_width(alkali, w, t)


@pytest.mark.parametrize(("w", "pressure"), [(0.56, 101325.0), (0.3, 100.0), (0.5, 1.9e6), (0.3, math.nan), (0.3, 0.0)])
def test_boiling_points_outside_0_to_200_degrees_are_refused(w: float, pressure: float) -> None:
    with pytest.raises(OutOfRange):
        vapour.boiling_point("NaOH", w, pressure)


def test_interval_of_the_boiling_point_follows_the_two_equations() -> None:
    # Olsson 146.4 and Balej 151.5 °C at 50 % NaOH; beyond, where Balej ends, as at 50 %
    assert vapour.boiling_point_half_width("NaOH", 0.5) == pytest.approx(5.13, abs=0.02)
    assert vapour.boiling_point_half_width("NaOH", 0.55) == pytest.approx(5.13, abs=0.02)
    assert vapour.boiling_point_half_width("NaOH", 0.1) == 0.3
    # Where they agree, Gerlach's boiling points count
    assert vapour.boiling_point_half_width("NaOH", 0.25) == pytest.approx(0.9)
    assert vapour.boiling_point_half_width("NaOH", 0.38) == pytest.approx(2.0)
    assert vapour.boiling_point_half_width("KOH", 0.0) == 0.3
    assert vapour.boiling_point_half_width("KOH", 0.35) == pytest.approx(1.5)
    assert vapour.boiling_point_half_width("KOH", 0.5) == pytest.approx(5.0)


def test_interval_of_the_pressure_is_never_a_false_exactness() -> None:
    # At 40 %, 20 °C, the equations cross; there what Gerlach's boiling points tell counts, 2 K at 4 %/K.
    p = vapour.water_vapour_pressure("NaOH", 0.4, 20.0)
    assert vapour.water_vapour_pressure_half_width("NaOH", 0.4, 20.0) / p == pytest.approx(0.080, abs=0.002)
    p = vapour.water_vapour_pressure("NaOH", 0.1, 60.0)
    assert vapour.water_vapour_pressure_half_width("NaOH", 0.1, 60.0) == pytest.approx((0.01 + 0.1 * 0.1) * p)
    p = vapour.water_vapour_pressure("NaOH", 0.5, 20.0)
    assert vapour.water_vapour_pressure_half_width("NaOH", 0.5, 20.0) / p == pytest.approx(0.27, abs=0.01)
    p = vapour.water_vapour_pressure("KOH", 0.5, 200.0)
    assert 0.1 < vapour.water_vapour_pressure_half_width("KOH", 0.5, 200.0) / p < 0.3


@pytest.mark.parametrize(
    ("alkali", "w", "t", "inside"),
    [
        ("NaOH", 0.418, 19.9, True),
        ("NaOH", 0.5, 19.9, False),
        ("NaOH", 0.5, 20.0, True),
        ("NaOH", 0.55, 59.0, False),
        ("NaOH", 0.55, 140.0, True),
        ("NaOH", 0.3, 200.0, False),
        ("NaOH", -0.1, 50.0, False),
        ("KOH", 0.5, 0.0, True),
        ("KOH", 0.5, 200.0, True),
        ("KOH", 0.5025, 50.0, True),  # 18 mol/kg, to the last digit that is told
        ("KOH", 0.51, 50.0, False),
        ("KOH", 0.3, 201.0, False),
    ],
)
def test_source_range_is_that_of_the_authors(alkali: Alkali, w: float, t: float, inside: bool) -> None:
    # Olsson et al. 1997 as coded in absorptionlib 1.1.0; Balej 1985
    assert vapour.in_source_range(alkali, w, t) is inside


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize(("t", "beyond"), [(0.0, -1e-6), (200.0, 200.0 + 1e-6)])
def test_pressures_are_told_to_both_ends_of_the_temperatures_and_no_further(
    alkali: Alkali, t: float, beyond: float
) -> None:
    p = vapour.water_vapour_pressure(alkali, 0.3, t)
    assert 0.0 < vapour.water_vapour_pressure_half_width(alkali, 0.3, t) < p
    with refused("temperature", 0.0, 200.0):
        vapour.water_vapour_pressure(alkali, 0.3, beyond)


@pytest.mark.parametrize("t", [20.0, 100.0, 180.0])
@pytest.mark.parametrize("w", [0.1, 0.3, 0.45])
def test_interval_of_the_pressure_over_caustic_potash_is_that_of_its_boiling_point(w: float, t: float) -> None:
    """By the slope of the pressure, here of a central difference, where that is more than the least."""
    p = vapour.water_vapour_pressure("KOH", w, t)
    rise = (vapour.water_vapour_pressure("KOH", w, t + 0.1) - vapour.water_vapour_pressure("KOH", w, t - 0.1)) / 0.2
    due = max(rise * vapour.boiling_point_half_width("KOH", w), (0.01 + 0.1 * w) * p)
    assert vapour.water_vapour_pressure_half_width("KOH", w, t) == pytest.approx(due, rel=0.01)


@pytest.mark.parametrize("w", [0.43, 0.45, 0.475, 0.49])
def test_caustic_potash_is_no_surer_than_its_author_s_equation_of_caustic_soda_is_right(w: float) -> None:
    """Where the interval of NaOH is the disagreement of Balej and Olsson."""
    assert vapour.boiling_point_half_width("KOH", w) >= vapour.boiling_point_half_width("NaOH", w)


@pytest.mark.parametrize(("weak", "strong"), [(0.0, 0.2), (0.2, 0.3), (0.3, 0.4), (0.4, 0.45), (0.45, 0.5)])
def test_interval_of_caustic_potash_is_straight_between_the_strengths_at_which_it_was_judged(
    weak: float, strong: float
) -> None:
    ends = [vapour.boiling_point_half_width("KOH", w) for w in (weak, strong)]
    for share in (0.1, 0.5, 0.9):
        between = vapour.boiling_point_half_width("KOH", weak + share * (strong - weak))
        assert between == pytest.approx(ends[0] + share * (ends[1] - ends[0]), rel=1e-12)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_what_lies_beyond_the_strongest_by_rounding_alone_is_as_sure_as_the_strongest(alkali: Alkali) -> None:
    """A billionth more of hydroxide is none."""
    strongest = vapour.HIGHEST_MASS_FRACTION[alkali]
    beyond = strongest + 5e-10
    of_boiling = vapour.boiling_point_half_width(alkali, strongest)
    of_pressure = vapour.water_vapour_pressure_half_width(alkali, strongest, 60.0)
    assert vapour.boiling_point_half_width(alkali, beyond) == pytest.approx(of_boiling, rel=1e-6)
    assert vapour.water_vapour_pressure_half_width(alkali, beyond, 60.0) == pytest.approx(of_pressure, rel=1e-6)
