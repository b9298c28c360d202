"""What two end points at the colours of their indicators find of a stock, beside what a balance of charges put in."""

from collections.abc import Iterator
from typing import Final

from service.calculations.assays.titration_readings import DETECTION
from service.chemistry.molar_masses import NAOH, SODIUM_CARBONATE
from service.chemistry.titration import Titration, assay, weighed
from tests.proof.opinions.records import STRENGTH, Axis, Check, Ground, Opinion, Point, steps
from tests.reference_cases import charge_balance as balance

ACID: Final = Axis("common logarithm of the acid's molarity in mol/L", "-")
VOLUME: Final = 0.025
"""Acid that the hydroxide takes [L]."""


def _found(w: float, carbonate: float, acid: float) -> Point:
    mass = VOLUME * acid * NAOH / w
    args = (w * mass / NAOH, carbonate * mass / SODIUM_CARBONATE, 0.1, acid)
    first, second = (balance.acid_for(ph, *args) for ph in (balance.PHENOLPHTHALEIN, balance.BROMOCRESOL_GREEN))
    found = assay("NaOH", Titration(1e3 * acid, 1e-3 * first, 1e-3 * second), weighed(mass)).hydroxide
    # Hydroxide goes with twice the first less the second; each is seen with the same uncertainty.
    seen = 1.96 * 5.0**0.5 * DETECTION * 1e3 * acid * NAOH / mass
    return Point(w, 0.0 if acid == 1.0 else -1.0, found, seen, w)


def opinions() -> Iterator[Opinion]:
    """Of stocks with 1 % carbonate."""
    yield Opinion(
        name="titration-charge-balance",
        quantity="caustic soda by two end points, of a stock with 1 % carbonate",
        unit="-",
        our_source="the two-end-point method, seen to 0.03 mL each (EURACHEM/CITAC CG 4, 2012, example A3)",
        their_source="a titration by the balance of charges, with the colours at pH 8.3 and 4.3; pKa from memory",
        shared="nothing",
        points=tuple(_found(w, 0.01, acid) for acid in (1.0, 0.1) for w in steps(0.05, 0.50, 10)),
        explanation="Of the hydroxide 0.02 % low to 0.07 % high with normal acid, 0.18 to 0.26 % low with "
        "tenth-normal, whose second colour comes late by more.",
        along=STRENGTH,
        curves=ACID,
        checks=(
            Check(
                "charge of carbonate half way between its end points",
                balance.charge_of_carbonate(10.0**-6.35),
                0.5001,
                Ground.BY_HAND,
                "pH is pKa1 there: (1 + 2 x)/(2 + x) with x = 10^(6.35 - 10.33)",
                1e-4,
            ),
        ),
        coded_here=True,
    )
