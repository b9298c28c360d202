"""Density of caustic solutions: range, direction, inverse and interval."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from thermo import electrochem

from service.chemistry import density as densities
from service.chemistry import water
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import ROUNDING
from tests.chemistry.refusing import refused
from tests.reference_cases import outside

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


ENDS: list[tuple[Alkali, float, float]] = [("NaOH", 0.55, 150.0), ("KOH", 0.50, 120.0)]


@pytest.mark.parametrize(("alkali", "strongest", "hottest"), ENDS)
def test_what_is_documented_is_taken_and_nothing_beyond(alkali: Alkali, strongest: float, hottest: float) -> None:
    for asked in (densities.density, densities.density_half_width):
        for w in (0.0, strongest):
            for t in (0.0, hottest):
                assert asked(alkali, w, t) > 0.0
        for w in (-1e-6, strongest + 1e-6):
            with refused("mass_fraction", 0.0, strongest):
                asked(alkali, w, 20.0)
        for t in (-1e-6, hottest + 1e-6):
            with refused("temperature", 0.0, hottest):
                asked(alkali, 0.2, t)
    for t in (-1e-6, hottest + 1e-6):
        with refused("temperature", 0.0, hottest):
            densities.mass_fraction_from_density(alkali, 1200.0, t)


@pytest.mark.parametrize(("alkali", "hottest"), [("NaOH", 150.0), ("KOH", 120.0)])
@pytest.mark.parametrize("beyond", [1e-6, 0.5, 10.0])
def test_nothing_is_told_of_hotter_solutions_than_is_documented(alkali: Alkali, hottest: float, beyond: float) -> None:
    with refused("temperature", 0.0, hottest):
        densities.density(alkali, 0.3, hottest + beyond)


@pytest.mark.parametrize(("alkali", "strongest", "hottest"), ENDS)
def test_a_density_tells_the_strength_to_the_ends(alkali: Alkali, strongest: float, hottest: float) -> None:
    for t in (0.0, 0.5, hottest):
        for w in (0.0, 0.01, strongest):
            rho = densities.density(alkali, w, t)
            assert densities.mass_fraction_from_density(alkali, rho, t) == pytest.approx(w, abs=1e-12)
        lightest, heaviest = (densities.density(alkali, w, t) for w in (0.0, strongest))
        for rho in (lightest - 0.01, heaviest + 0.01):
            with pytest.raises(OutOfRange) as caught:
                densities.mass_fraction_from_density(alkali, rho, t)
            assert caught.value.quantity == "density"
            assert (caught.value.low, caught.value.high) == pytest.approx((lightest, heaviest), rel=1e-12)


def test_the_range_of_caustic_potash_is_laliberte_s_with_room_for_rounding() -> None:
    row = electrochem.Laliberte_data.loc["1310-58-3"]  # as in the package thermo 0.6.1, with the end to six digits
    coldest, hottest, strongest = row["Min T"], row["Max T"], row["Max w"]
    for t in (coldest, hottest, coldest - ROUNDING, hottest + ROUNDING):
        for w in (0.0, strongest):
            assert densities.in_source_range("KOH", w, t)
    for t in (coldest - 1e-6, hottest + 1e-6):
        assert not densities.in_source_range("KOH", 0.3, t)
    for w in (-1e-6, strongest + 1e-6):
        assert not densities.in_source_range("KOH", w, 20.0)


def test_the_range_of_caustic_soda_ends_where_water_and_the_data_do() -> None:
    assert densities.in_source_range("NaOH", 0.0, 0.0)
    assert not densities.in_source_range("NaOH", 0.1, -1e-6)
    assert not densities.in_source_range("NaOH", -1e-6, 20.0)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_an_interval_is_told_in_parts_of_the_density_and_in_kilograms(alkali: Alkali) -> None:
    for w, t in ((0.05, 10.0), (0.3, 30.0), (0.5, 110.0)):
        relative = densities.relative_half_width(alkali, w, t)
        assert 0.0015 <= relative <= 0.0075
        told = densities.density_half_width(alkali, w, t)
        assert told / densities.density(alkali, w, t) == pytest.approx(relative, rel=1e-12)


@pytest.mark.parametrize("t", [0.0, 20.0, 70.0, 100.0])
def test_thin_caustic_soda_lies_between_water_and_olsson_s_formula(t: float) -> None:
    """Drawn to water the more, the thinner it is: of what the formula misses at nothing, ever less is added."""
    missing = water.density(t) - outside.olsson_density(0.0, t)
    added = [densities.density("NaOH", 0.005 * i, t) - outside.olsson_density(0.005 * i, t) for i in range(11)]
    shares = [one / missing for one in added]
    assert (shares[0], shares[-1]) == pytest.approx((1.0, 0.0), abs=1e-6)
    assert all(a > b for a, b in pairwise(shares))
    # Smooth, as is said: it leaves 5 % without a slope, so that half of the way is down to a quarter.
    assert shares[5] == pytest.approx(0.25, abs=1e-6)
