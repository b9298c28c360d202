"""Titrations: amounts and shares, the density that fits its own strength, and how each reading bears on the result."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import density, water
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import ALKALI, CARBONATE, NAOH, Alkali
from service.chemistry.titration import (
    Assay,
    Sample,
    Titration,
    assay,
    carbonate_amount,
    expansion,
    free_alkali_amount,
    hydroxide_amount,
    measured,
    measured_at,
    molar_mass_part,
    normality,
    sensitivities,
    shares,
    weighed,
)
from service.chemistry.uncertainty import normal, rectangular

ALKALIS = st.sampled_from(["NaOH", "KOH"])
STRENGTHS = st.floats(0.02, 0.45)
CARBONATES = st.floats(0.0, 0.04)
TEMPERATURES = st.floats(5.0, 60.0)


def titration_of(alkali: Alkali, w: float, carbonate: float, mass: float, acid: float = 1000.0) -> Titration:
    """The end points of a sample that is known."""
    hydroxide, carbonates = w * mass / ALKALI[alkali], carbonate * mass / CARBONATE[alkali]
    return Titration(acid, (hydroxide + carbonates) / acid, (hydroxide + 2 * carbonates) / acid)


def test_hydroxide_takes_twice_the_first_less_the_second_and_carbonate_the_difference() -> None:
    titration = Titration(1000.0, 20e-6, 25e-6)
    assert hydroxide_amount(titration) == pytest.approx(15e-3)
    assert carbonate_amount(titration) == pytest.approx(5e-3)
    assert hydroxide_amount(titration) + 2 * carbonate_amount(titration) == pytest.approx(25e-3)


def test_without_carbonate_both_end_points_are_one_and_below_half_there_is_no_hydroxide() -> None:
    assert carbonate_amount(Titration(1000.0, 25e-6, 25e-6)) == 0
    assert hydroxide_amount(Titration(1000.0, 12.5e-6, 25e-6)) == 0
    assert hydroxide_amount(Titration(1000.0, 10e-6, 25e-6)) < 0


@given(ALKALIS, STRENGTHS, CARBONATES, st.floats(1e-6, 100.0))
def test_a_weighed_sample_is_found_as_it_was_made(alkali: Alkali, w: float, carbonate: float, mass: float) -> None:
    found = assay(alkali, titration_of(alkali, w, carbonate, mass), weighed(mass))
    assert found.hydroxide == pytest.approx(w, abs=1e-12)
    assert found.carbonate == pytest.approx(carbonate, abs=1e-12)
    assert found.total_alkali == pytest.approx(w + 2 * carbonate * ALKALI[alkali] / CARBONATE[alkali], abs=1e-12)
    assert found.oxide < found.total_alkali


@given(ALKALIS, STRENGTHS, CARBONATES, TEMPERATURES)
def test_a_sample_by_volume_has_the_density_of_what_is_found_in_it(
    alkali: Alkali, w: float, carbonate: float, t: float
) -> None:
    rho = density.density(alkali, w + carbonate, t)
    titration = titration_of(alkali, w, carbonate, 2e-6 * rho)
    sample = measured_at(alkali, titration, 2e-6, t)
    assert sample.density == pytest.approx(rho, rel=1e-9)
    assert assay(alkali, titration, sample).hydroxide == pytest.approx(w, rel=1e-9)


def test_carbonate_counted_as_hydroxide_leaves_room_in_the_density() -> None:
    plain = measured_at("NaOH", titration_of("NaOH", 0.3, 0.0, 3e-3), 2.2e-6, 20.0)
    carbonated = measured_at("NaOH", titration_of("NaOH", 0.2, 0.1, 3e-3), 2.2e-6, 20.0)
    assert plain.density_half_width == pytest.approx(density.density_half_width("NaOH", 0.3, 20.0), rel=0.05)
    assert carbonated.density_half_width > 3 * plain.density_half_width


def test_more_than_any_solution_holds_in_a_volume_is_out_of_range() -> None:
    with pytest.raises(OutOfRange):
        measured_at("NaOH", titration_of("NaOH", 0.9, 0.0, 2e-3), 1e-6, 20.0)


@pytest.mark.parametrize("t", [4.9, 40.1, math.nan])
def test_acid_that_is_no_workshops_is_out_of_range(t: float) -> None:
    with pytest.raises(OutOfRange):
        normality(1000.0, 1, t)


def test_the_acid_is_as_labelled_at_20_degrees_and_thinner_where_it_is_warmer() -> None:
    assert normality(500.0, 2) == 1000.0
    assert normality(500.0, 2, 30.0) == pytest.approx(1000.0 * water.density(30.0) / water.density(20.0))
    assert normality(500.0, 2, 30.0) < 998


def test_acid_expands_as_the_guide_to_uncertainty_in_analysis_says() -> None:
    """EURACHEM/CITAC CG 4 (2012), example A2: 2.1e-4 per kelvin."""
    assert expansion(20.0) == pytest.approx(2.1e-4, abs=5e-6)


def test_free_alkali_is_what_the_acid_lost() -> None:
    assert free_alkali_amount(3e-3, 1e-3) == pytest.approx(2e-3)
    assert free_alkali_amount(3e-3, 4e-3) < 0


def shifted(make: Callable[[list[float]], Assay], at: list[float], place: int) -> tuple[float, float, float]:
    """Derivatives of hydroxide, carbonate and total alkali against one input."""
    step = at[place] * 1e-5
    up, down = list(at), list(at)
    up[place] += step
    down[place] -= step
    high, low = make(up), make(down)
    return (
        (high.hydroxide - low.hydroxide) / (2 * step),
        (high.carbonate - low.carbonate) / (2 * step),
        (high.total_alkali - low.total_alkali) / (2 * step),
    )


@given(ALKALIS, STRENGTHS, st.floats(0.001, 0.04))
def test_sensitivities_of_a_weighed_sample_are_its_derivatives(alkali: Alkali, w: float, carbonate: float) -> None:
    mass = 2e-3
    titration = titration_of(alkali, w, carbonate, mass)
    told = sensitivities(alkali, titration, weighed(mass))
    at = [*titration, mass]

    def make(of: list[float]) -> Assay:
        return assay(alkali, Titration(*of[:3]), weighed(of[3]))

    for place, name in enumerate(("normality", "first", "second", "mass")):
        derived = shifted(make, at, place)
        assert [getattr(one, name) for one in told] == pytest.approx(derived, rel=1e-6, abs=1e-9 / at[place])


@given(ALKALIS, st.floats(0.1, 0.42), st.floats(0.001, 0.03))
def test_sensitivities_of_a_sample_by_volume_count_what_the_density_does(
    alkali: Alkali, w: float, carbonate: float
) -> None:
    volume = 2e-6
    titration = titration_of(alkali, w, carbonate, volume * density.density(alkali, w + carbonate, 20.0))
    sample = measured_at(alkali, titration, volume, 20.0)
    told = sensitivities(alkali, titration, sample)
    at = [*titration, volume]

    def make(of: list[float]) -> Assay:
        moved = Titration(*of[:3])
        return assay(alkali, moved, measured_at(alkali, moved, of[3], 20.0))

    for place, name in enumerate(("normality", "first", "second")):
        derived = shifted(make, at, place)
        assert [getattr(one, name) for one in told] == pytest.approx(derived, rel=1e-3, abs=1e-5 / at[place])
    by_volume = [one.mass * sample.density * sample.damping for one in told]
    assert by_volume == pytest.approx(shifted(make, at, 3), rel=1e-3, abs=1e-5 / volume)


def test_an_error_of_the_density_model_counts_for_less_where_the_strength_follows_it() -> None:
    """A model that is too heavy finds less in the volume, and of less the density is lower."""
    sample = measured_at("NaOH", titration_of("NaOH", 0.48, 0.0, 2e-3), 1.33e-6, 20.0)
    assert 0.7 < sample.damping < 0.85
    assert measured(1e-6, 1500.0) == Sample(1.5e-3, volume=1e-6, density=1500.0)
    assert measured(1e-6, 1500.0).damping == 1.0


def test_molar_masses_have_the_limits_of_the_atomic_weights() -> None:
    """Prohaska et al. 2022 (from memory): H 0.0002, C 0.002, O 0.001, K 0.0001; Na exact for this."""
    assert molar_mass_part("NaOH").rectangular_half_width == pytest.approx(0.0012e-3, rel=1e-4)
    assert molar_mass_part("KOH").rectangular_half_width == pytest.approx(0.0013e-3)
    assert molar_mass_part("NaOH", carbonate=True).rectangular_half_width == pytest.approx(0.005e-3, rel=1e-4)
    assert molar_mass_part("NaOH").standard_uncertainty / NAOH < 2e-5


def test_shares_of_the_variance_add_up_and_are_none_where_all_is_exact() -> None:
    combined, parts = shares([(2.0, normal(0.3)), (-1.0, rectangular(0.6)), (5.0, normal(0.0))])
    assert math.fsum(parts) == pytest.approx(1.0)
    assert combined.standard_uncertainty == pytest.approx(math.sqrt(0.36 + 0.12))
    assert combined.widest_rectangular == 0.6
    assert parts[2] == 0
    assert shares([(1.0, normal(0.0))])[1] == [0.0]
