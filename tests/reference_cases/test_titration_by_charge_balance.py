"""The two-end-point method against titrations that are known from inside (charge_balance.py).

Where the end points are taken at the steepest pH, the method finds what was put in, but for what the second one is
early there. Where they are taken at the colours of the indicators it is off by what stands here, which is the method's
own deviation and not tuned.
"""

import pytest

from service.calculations.assays.stock_assay_titration_notes import WEAK_ACID
from service.chemistry.molar_masses import NAOH, SODIUM_CARBONATE
from tests.reference_cases import charge_balance as balance
from tests.reference_cases.known_mixtures import BY_INDICATORS, CASES, STEP_MOVES, STOCK, Mixture


@pytest.mark.parametrize("name", CASES)
def test_the_step_of_the_search_moves_what_is_found_by_no_more_than_is_told(name: str) -> None:
    mixture, *_ = CASES[name]
    coarse, fine = mixture.at_the_steepest(), mixture.at_the_steepest(1e-4)
    assert fine.hydroxide == pytest.approx(coarse.hydroxide, rel=STEP_MOVES)
    assert fine.carbonate == pytest.approx(coarse.carbonate, abs=STEP_MOVES)


@pytest.mark.parametrize("name", CASES)
def test_end_points_at_the_steepest_ph_are_off_by_what_the_second_is_early(name: str) -> None:
    """The first end point is early by nothing to first order; what is left is of second order."""
    mixture, *_ = CASES[name]
    found = mixture.at_the_steepest(1e-4)
    early = mixture.early
    hydroxide = mixture.hydroxide + early * NAOH / mixture.mass
    carbonate = mixture.carbonate - early * SODIUM_CARBONATE / mixture.mass
    assert found.hydroxide == pytest.approx(hydroxide, rel=2 * STEP_MOVES)
    assert found.carbonate == pytest.approx(carbonate, abs=2 * STEP_MOVES)


@pytest.mark.parametrize("name", CASES)
def test_end_points_by_indicators_are_off_by_what_is_told(name: str) -> None:
    mixture, hydroxide_off, carbonate_off = CASES[name]
    found = mixture.by_indicators()
    assert found.hydroxide / mixture.hydroxide - 1 == pytest.approx(hydroxide_off, abs=1e-5)
    assert found.carbonate - mixture.carbonate == pytest.approx(carbonate_off, abs=1e-5)


def test_a_stock_with_normal_acid_would_be_found_within_six_ten_thousandths_in_pure_water() -> None:
    for mixture in BY_INDICATORS:
        assert abs(mixture.by_indicators().hydroxide / mixture.hydroxide - 1) < 6e-4


@pytest.mark.parametrize(("acid", "low", "high"), [(1.0, 1.5e-4, 3e-4), (WEAK_ACID / 1000, 7e-4, 1.2e-3)])
def test_acid_counts_as_weak_where_the_second_end_point_is_late_by_a_thousandth(
    acid: float, low: float, high: float
) -> None:
    mixture = Mixture(0.49, 0.005, 2e-3 * acid, acid)
    args = (*mixture.amounts, mixture.water, mixture.acid)
    late = balance.acid_for(balance.BROMOCRESOL_GREEN, *args)
    due = sum(mixture.amounts) + mixture.amounts[1]
    assert low < late * acid / due - 1 < high


def test_the_simulated_curve_has_the_published_ph_at_the_half_way_points() -> None:
    """Between the end points, half way, pH is pKa1: 6.35 (CRC Handbook, from memory)."""
    hydroxide, carbonate = STOCK.amounts
    args = (hydroxide, carbonate, STOCK.water, STOCK.acid)
    first = hydroxide + carbonate
    half_way = (first + carbonate / 2) / STOCK.acid
    below, above = (balance.acid_for(ph, *args) for ph in (6.36, 6.34))
    assert below < half_way < above


def test_carbon_dioxide_that_escapes_before_the_first_end_point_makes_the_hydroxide_too_high() -> None:
    """Of each carbonate that is lost early, both protons are spent before the first end point."""
    hydroxide, carbonate = STOCK.amounts
    lost = 0.2 * carbonate
    first, second = hydroxide + carbonate + lost, hydroxide + 2 * carbonate
    assert STOCK.titrated(first / STOCK.acid, second / STOCK.acid).hydroxide > STOCK.hydroxide
