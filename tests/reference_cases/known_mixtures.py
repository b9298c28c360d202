"""Mixtures of NaOH and Na2CO3 that are known, and what the two-end-point method finds in them (charge_balance.py)."""

from typing import Final, NamedTuple

from service.chemistry.end_points import rooms
from service.chemistry.molar_masses import NAOH, SODIUM_CARBONATE
from service.chemistry.titration import Assay, Titration, assay, sensitivities, weighed
from service.chemistry.uncertainty import combine, coverage_half_width, rectangular
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

    def at_the_steepest(self, step: float = 1e-3) -> Assay:
        """With end points where the pH falls most, looked for by steps of the pH."""
        args = (*self.amounts, self.water, self.acid)
        return self.titrated(balance.inflection(8.3, *args, step=step), balance.inflection(4.3, *args, step=step))

    def by_indicators(self) -> Assay:
        """With end points at the colours of phenolphthalein and bromocresol green."""
        args = (*self.amounts, self.water, self.acid)
        return self.titrated(
            balance.acid_for(balance.PHENOLPHTHALEIN, *args), balance.acid_for(balance.BROMOCRESOL_GREEN, *args)
        )

    def left_open(self) -> tuple[float, float]:
        """95 % half-widths of hydroxide and carbonate by what is left open for the indicators' colours alone."""
        hydroxide, carbonate = self.amounts
        first, second = (hydroxide + carbonate) / self.acid / 1e3, (hydroxide + 2 * carbonate) / self.acid / 1e3
        titration = Titration(1e3 * self.acid, first, second)
        parts = [rectangular(one) for one in rooms(titration, self.water / 1e3)]
        by_hydroxide, by_carbonate, _ = (
            coverage_half_width(combine(zip((by.first, by.second), parts, strict=True)))
            for by in sensitivities("NaOH", titration, weighed(self.mass))
        )
        return by_hydroxide, by_carbonate

    @property
    def early(self) -> float:
        """Acid by which the steepest pH comes before the second end point [mol].

        Acid past that point is h V - K1 n / (h + K1). Its slope with ln h is least where (h + K1)^3 = K1 C (h - K1),
        which is h = sqrt(K1 C) - 2 K1 to first order: 3 K1 V before the point, however much carbonate there is.
        """
        hydroxide, carbonate = self.amounts
        return 3.0 * balance.K1 * (self.water + (hydroxide + 2.0 * carbonate) / self.acid)


STEP_MOVES: Final = 1e-5
"""More than the step by which the steepest pH is looked for moves any of these, of hydroxide and of sample."""
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
BY_INDICATORS: Final = [
    Mixture(strength, carbonate, 1.0 * 0.025 * NAOH / strength, 1.0)
    for strength in (0.30, 0.40, 0.50)
    for carbonate in (0.0005, 0.005, 0.02, 0.05)
]
"""Stocks, each with as much as 25 mL of normal acid take."""
