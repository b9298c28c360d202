"""Density of caustic solutions: range, direction, inverse and interval."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import density as densities
from service.chemistry import water
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali

ALKALIS: list[Alkali] = ["NaOH", "KOH"]


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("t", [0.0, 5.0, 20.0, 60.0, 100.0, 120.0])
def test_density_rises_with_strength(alkali: Alkali, t: float) -> None:
    highest = densities.HIGHEST_MASS_FRACTION[alkali]
    row = [densities.density(alkali, highest * i / 500, t) for i in range(501)]
    assert all(a < b for a, b in pairwise(row))


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("w", [0.1, 0.3, 0.5])
def test_density_falls_with_temperature(alkali: Alkali, w: float) -> None:
    row = [densities.density(alkali, w, 10.0 + i) for i in range(100)]
    assert all(a > b for a, b in pairwise(row))


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("t", [0.0, 15.5, 40.0, 100.0])
def test_without_caustic_it_is_water(alkali: Alkali, t: float) -> None:
    assert densities.density(alkali, 0.0, t) == pytest.approx(water.density(t), rel=1e-12)


def test_the_join_to_water_is_smooth_at_five_percent() -> None:
    step = 1e-5
    left = densities.density("NaOH", 0.05, 20.0) - densities.density("NaOH", 0.05 - step, 20.0)
    right = densities.density("NaOH", 0.05 + step, 20.0) - densities.density("NaOH", 0.05, 20.0)
    assert left == pytest.approx(right, rel=1e-3)


@given(alkali=st.sampled_from(ALKALIS), share=st.floats(0.0, 1.0), t=st.floats(0.0, 120.0))
def test_strength_comes_back_from_the_density(alkali: Alkali, share: float, t: float) -> None:
    w = share * densities.HIGHEST_MASS_FRACTION[alkali]
    rho = densities.density(alkali, w, t)
    # A double near 1000 kg/m3 steps by 1.1e-13: some tens of such roundings, over 1100 kg/m3 for all of w, are 1e-14.
    assert densities.mass_fraction_from_density(alkali, rho, t) == pytest.approx(w, rel=1e-12, abs=1e-13)


@pytest.mark.parametrize(
    ("alkali", "w", "t"),
    [
        ("NaOH", 0.5501, 20.0),
        ("NaOH", -0.001, 20.0),
        ("NaOH", 0.3, -0.1),
        ("NaOH", 0.3, 150.1),
        ("KOH", 0.5001, 20.0),
        ("KOH", 0.3, 120.1),
        ("KOH", math.nan, 20.0),
        ("KOH", 0.3, math.nan),
    ],
)
def test_outside_the_range_it_raises(alkali: Alkali, w: float, t: float) -> None:
    with pytest.raises(OutOfRange):
        densities.density(alkali, w, t)
    with pytest.raises(OutOfRange):
        densities.density_half_width(alkali, w, t)


@pytest.mark.parametrize("rho", [998.0, 1600.0, 0.0, -5.0, math.nan])
def test_a_density_no_solution_has_is_refused(rho: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        densities.mass_fraction_from_density("NaOH", rho, 20.0)
    assert caught.value.quantity == "density"


@pytest.mark.parametrize("t", [-1.0, 151.0])
def test_strength_from_density_holds_to_the_temperatures_too(t: float) -> None:
    with pytest.raises(OutOfRange):
        densities.mass_fraction_from_density("NaOH", 1200.0, t)


def test_interval_is_wider_where_the_source_does_not_reach() -> None:
    def relative(alkali: Alkali, w: float, t: float) -> float:
        return densities.density_half_width(alkali, w, t) / densities.density(alkali, w, t)

    assert relative("NaOH", 0.5, 20.0) == pytest.approx(0.0025)
    assert relative("NaOH", 0.5, 15.0) == pytest.approx(0.00275 + 0.001)
    assert relative("NaOH", 0.2, 0.0) == pytest.approx(0.0035)
    assert relative("NaOH", 0.5, 60.0) == pytest.approx(0.0015)
    assert relative("NaOH", 0.5, 100.0) == pytest.approx(0.0015)
    assert relative("NaOH", 0.5, 110.0) == pytest.approx(0.004)
    assert relative("NaOH", 0.5, 150.0) == pytest.approx(0.0065)
    assert relative("KOH", 0.4, 15.0) == pytest.approx(0.002)
    assert relative("KOH", 0.4, 20.0) == pytest.approx(0.002)
    assert relative("KOH", 0.4, 30.0) == pytest.approx(0.0025)
    assert relative("KOH", 0.4, 90.0) == pytest.approx(0.003)
    assert relative("KOH", 0.4, 100.0) == pytest.approx(0.003 + 0.001)
    assert relative("KOH", 0.4, 0.0) == pytest.approx(0.003 + 0.001)
