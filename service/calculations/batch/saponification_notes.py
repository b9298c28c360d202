"""What saponification says beside its numbers: cautions of fats, purity and free alkali."""

from collections.abc import Sequence
from typing import Final

from service.calculations.batch.alkalis import UsedAlkali
from service.calculations.batch.fat_notes import (
    caution_fats,
    caution_free_alkali,
    caution_idle_alkali,
    caution_iodine_values,
)
from service.calculations.batch.fats import WeighedFat
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import HANDLING, SOLID_INTO_WATER
from service.chemistry.saponification_budget import SaponificationBudget

SELDOM_MEANT: Final = 0.25
"""Superfat from which it is likelier a slip of the decimal point than meant."""


def caution_saponification(
    fats: Sequence[WeighedFat],
    alkalis: Sequence[UsedAlkali],
    budget: SaponificationBudget,
    free_alkali: float,
    notes: Notes,
) -> None:
    """Everything the person at the bench should know of this batch.

    Args:
        fats: the fats.
        alkalis: the alkalis.
        budget: of the batch with every fat taking alkali.
        free_alkali: how likely free alkali is at worst, as it is answered.
        notes: where the cautions go.
    """
    notes.tell(*HANDLING, SOLID_INTO_WATER)
    notes.assume("/fats", "no free fatty acids in the fats", "the glycerol is that of neutral fats")
    _caution_purity(alkalis, notes)
    if budget.superfat >= SELDOM_MEANT:
        meant = percent(budget.superfat / 100, 3)
        notes.caution(
            "superfat-high",
            f"A superfat of {percent(budget.superfat)} is seldom meant: so much of the fat stays as it is (usual are 3 "
            f"to 8 %). If {meant} was meant, write '{meant}'.",
        )
    caution_free_alkali(budget, notes, free_alkali)
    caution_fats(fats, notes)
    caution_iodine_values(fats, notes)
    caution_idle_alkali(fats, budget, notes, free_alkali)


def _caution_purity(alkalis: Sequence[UsedAlkali], notes: Notes) -> None:
    for one in alkalis:
        if one.purity is None:
            notes.caution(
                "purity-missing",
                "Solid KOH holds about a tenth of water, so mass_as_supplied is left out: give purity from the "
                "certificate. The mass is of pure KOH; a stock may be drawn for it as it is.",
            )
        elif not one.purity_part.standard_uncertainty:
            notes.caution(
                "purity-taken-as-exact",
                f"The purity of {one.alkali}, {percent(one.purity, 2)}, carries no spread in the intervals; "
                "give the limits of its certificate as low and high.",
            )
