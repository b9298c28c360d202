"""How much to add for a wanted strength."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.chemistry.adjustment import added_mass, added_mass_slopes, draw_factor
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import Part, combine, coverage_half_width, normal, rectangular
from tests.chemistry.refusing import refused

RUNS = 200_000


@given(st.floats(0.0, 0.6), st.floats(0.0, 1.0), st.floats(0.01, 0.99), st.floats(1e-3, 1e6))
def test_what_is_added_makes_the_wanted_strength(present: float, added: float, share: float, mass: float) -> None:
    assume(abs(added - present) > 1e-3)
    wanted = present + share * (added - present)
    x = added_mass(mass, present, wanted, added)
    assert x > 0
    assert (mass * present + x * added) / (mass + x) == pytest.approx(wanted, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("hair", [1e-3, 1e-6, 1e-10])
def test_what_is_a_hair_stronger_than_wanted_is_needed_in_plenty(hair: float) -> None:
    x = added_mass(1.0, 0.3, 0.4, 0.4 + hair)
    assert x * hair == pytest.approx(0.1, rel=1e-5)


def test_thinning_52_per_cent_to_50_takes_a_twenty_fifth_of_water() -> None:
    assert added_mass(10.0, 0.52, 0.50, 0.0) == pytest.approx(0.4)


def test_what_is_as_wanted_takes_nothing() -> None:
    assert added_mass(10.0, 0.5, 0.5, 0.0) == 0.0


@pytest.mark.parametrize(("present", "wanted", "added"), [(0.5, 0.6, 0.0), (0.3, 0.2, 1.0), (0.3, 0.4, 0.4)])
def test_a_target_that_is_not_between_the_two_is_refused(present: float, wanted: float, added: float) -> None:
    with pytest.raises(OutOfRange):
        added_mass(1.0, present, wanted, added)


@pytest.mark.parametrize(
    ("wanted", "added", "of_added"),
    [(0.48, 0.0, Part(0.0)), (0.51, 0.97, rectangular(0.02)), (0.40, 0.30, normal(0.004))],
)
def test_the_spread_of_the_mass_is_that_of_a_monte_carlo_run(wanted: float, added: float, of_added: Part) -> None:
    """JCGM 101; the strength a rectangle, the mass normal."""
    mass, present, half, sigma = 10.0, 0.495, 0.004, 0.02
    rng = np.random.default_rng(20)
    if of_added.rectangular_half_width:
        a = added + rng.uniform(-1, 1, RUNS) * of_added.rectangular_half_width
    else:
        a = added + rng.normal(0, 1, RUNS) * of_added.standard_uncertainty
    m, w = rng.normal(mass, sigma, RUNS), present + rng.uniform(-half, half, RUNS)
    low, high = np.quantile(m * (wanted - w) / (a - wanted), (0.025, 0.975))
    run = (high - low) / 2
    slopes = added_mass_slopes(mass, present, wanted, added)
    spread = combine(zip(slopes, (normal(sigma), rectangular(half), of_added), strict=True))
    assert coverage_half_width(spread) == pytest.approx(run, rel=0.02)


def test_a_draw_factor_is_the_mass_that_holds_a_mass_of_hydroxide() -> None:
    assert draw_factor(0.5) == 2.0
    assert draw_factor(1.0) == 1.0
    assert draw_factor(1e-11) == pytest.approx(1e11)
    for w in (0.0, -0.1, 1.1, math.nan):
        with pytest.raises(OutOfRange):
            draw_factor(w)


@pytest.mark.parametrize(
    ("mass", "present", "wanted", "added"),
    [(10.0, 0.52, 0.50, 0.0), (3.0, 0.3, 0.4, 0.97), (7.0, 0.2, 0.25, 0.5)],
)
def test_slopes_are_those_of_small_differences(mass: float, present: float, wanted: float, added: float) -> None:
    def moved(by_mass: float, by_present: float, by_added: float) -> float:
        return added_mass(mass + by_mass, present + by_present, wanted, added + by_added)

    h = 1e-6
    differences = [
        (moved(h, 0.0, 0.0) - moved(-h, 0.0, 0.0)) / (2.0 * h),
        (moved(0.0, h, 0.0) - moved(0.0, -h, 0.0)) / (2.0 * h),
        (moved(0.0, 0.0, h) - moved(0.0, 0.0, -h)) / (2.0 * h),
    ]
    assert added_mass_slopes(mass, present, wanted, added) == pytest.approx(differences, rel=1e-6)


@pytest.mark.parametrize(("present", "added"), [(0.5, 0.0), (0.2, 0.97)])
def test_a_target_beyond_either_part_is_refused_with_both_as_limits(present: float, added: float) -> None:
    low, high = min(present, added), max(present, added)
    for wanted in (low - 1e-9, high + 1e-9, math.nan):
        with refused("wanted", low, high):
            added_mass(1.0, present, wanted, added)


@pytest.mark.parametrize("added", [0.0, 0.5, 1.0])
def test_no_mass_of_a_part_makes_a_mixture_as_strong_as_it_is(added: float) -> None:
    """The mass grows without limit as the target nears what is added; at 1e-12 of it the search for it ends."""
    with pytest.raises(OutOfRange) as caught:
        added_mass(1.0, 0.25, added, added)
    assert (caught.value.quantity, caught.value.value, caught.value.low) == ("difference", 0.0, 1e-12)
    assert added_mass(1.0, added, added, added) == 0.0


def test_of_the_pure_hydroxide_and_of_water_every_strength_between_can_be_made() -> None:
    assert added_mass(1.0, 0.0, 0.25, 1.0) == pytest.approx(1 / 3)
    assert added_mass(1.0, 1.0, 0.25, 0.0) == pytest.approx(3.0)


def test_a_draw_factor_ends_at_a_millionth_of_a_millionth_and_at_the_pure_hydroxide() -> None:
    assert draw_factor(1e-12) == pytest.approx(1e12)
    for w in (0.9e-12, 1.0 + 1e-9):
        with refused("mass_fraction", 1e-12, 1.0):
            draw_factor(w)
