"""Vapour pressure and boiling point of caustic solutions: range, direction, inverse and interval."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import vapour_pressure as vapour
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali

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
        ("KOH", 0.51, 50.0, False),
        ("KOH", 0.3, 201.0, False),
    ],
)
def test_source_range_is_that_of_the_authors(alkali: Alkali, w: float, t: float, inside: bool) -> None:
    # Olsson et al. 1997 as coded in absorptionlib 1.1.0; Balej 1985
    assert vapour.in_source_range(alkali, w, t) is inside
