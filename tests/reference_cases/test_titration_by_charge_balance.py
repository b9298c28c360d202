"""The two-end-point method against titrations that are known from inside (charge_balance.py).

Where the end points are taken at the steepest pH, the method finds what was put in. Where they are taken at the
colours of the indicators it is off by what stands here, which is the method's own deviation and not tuned.
"""

from typing import Final, NamedTuple

import pytest

from service.calculations.assays.stock_assay_titration_notes import WEAK_ACID
from service.chemistry.molar_masses import NAOH, SODIUM_CARBONATE
from service.chemistry.titration import Assay, Titration, assay, weighed
from tests.reference_cases import charge_balance as balance


class Mixture(NamedTuple):
    """A sample of stock in water, and the acid for it."""

    hydroxide: float
    """Mass fraction of NaOH."""
    carbonate: float
    """Mass fraction of Na2CO3."""
    mass: float
    """[kg]"""
    acid: float
    """[mol/L]"""
    water: float = 0.1
    """[L]"""

    @property
    def amounts(self) -> tuple[float, float]:
        """NaOH and Na2CO3 [mol]."""
        return self.hydroxide * self.mass / NAOH, self.carbonate * self.mass / SODIUM_CARBONATE

    def titrated(self, first: float, second: float) -> Assay:
        """What two volumes of acid [L] tell of it."""
        return assay("NaOH", Titration(self.acid * 1000, first / 1000, second / 1000), weighed(self.mass))


STOCK: Final = Mixture(0.49, 0.005, 2e-3, 1.0)
CASES: Final = {
    # mixture: relative deviation of the hydroxide, deviation of the carbonate's mass fraction, with indicators
    "fresh stock": (Mixture(0.49, 0.001, 2e-3, 1.0), -0.00027, 0.00033),
    "stock": (STOCK, -0.00023, 0.00029),
    "old stock": (Mixture(0.49, 0.02, 2e-3, 1.0), -0.00008, 0.00013),
    "weak and much carbonated": (Mixture(0.30, 0.05, 3e-3, 1.0), 0.00049, -0.00030),
    "half carbonate": (Mixture(0.10, 0.10, 5e-3, 1.0), 0.0042, -0.00093),
    "stock with tenth-normal acid": (Mixture(0.49, 0.005, 2e-4, 0.1), -0.00271, 0.00339),
    "carbonated, with tenth-normal acid": (Mixture(0.30, 0.05, 3e-4, 0.1), -0.00222, 0.00177),
}


@pytest.mark.parametrize("name", CASES)
def test_end_points_at_the_steepest_ph_find_what_was_put_in(name: str) -> None:
    mixture, *_ = CASES[name]
    args = (*mixture.amounts, mixture.water, mixture.acid)
    found = mixture.titrated(balance.inflection(8.3, *args), balance.inflection(4.3, *args))
    assert found.hydroxide == pytest.approx(mixture.hydroxide, rel=1.5e-4)
    assert found.carbonate == pytest.approx(mixture.carbonate, abs=1.5e-4)


@pytest.mark.parametrize("name", CASES)
def test_end_points_by_indicators_are_off_by_what_is_told(name: str) -> None:
    mixture, hydroxide_off, carbonate_off = CASES[name]
    args = (*mixture.amounts, mixture.water, mixture.acid)
    found = mixture.titrated(
        balance.acid_for(balance.PHENOLPHTHALEIN, *args), balance.acid_for(balance.BROMOCRESOL_GREEN, *args)
    )
    assert found.hydroxide / mixture.hydroxide - 1 == pytest.approx(hydroxide_off, abs=1e-5)
    assert found.carbonate - mixture.carbonate == pytest.approx(carbonate_off, abs=1e-5)


def test_a_stock_with_normal_acid_is_found_as_near_as_its_description_says() -> None:
    for strength in (0.30, 0.40, 0.50):
        for carbonate in (0.0005, 0.005, 0.02, 0.05):
            mixture = Mixture(strength, carbonate, 1.0 * 0.025 * NAOH / strength, 1.0)
            args = (*mixture.amounts, mixture.water, mixture.acid)
            found = mixture.titrated(balance.acid_for(8.3, *args), balance.acid_for(4.3, *args))
            assert abs(found.hydroxide / strength - 1) < 6e-4


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
