"""What a batch sheet says beside its numbers: cautions of fats, liquids, caustic and free alkali."""

from service.calculations.batch.acids import caution_acids
from service.calculations.batch.fat_notes import SURELY, caution_fats, caution_free_alkali, caution_idle_alkali
from service.calculations.batch.fat_yields import Risk
from service.calculations.batch.saponification_notes import SELDOM_MEANT
from service.calculations.batch.split_notes import caution_split
from service.calculations.orders.batch_made import Made, Weighed
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import HANDLING
from service.chemistry.saponification_budget import SaponificationBudget


def caution_sheet(made: Made, weighed: Weighed, found: tuple[SaponificationBudget, Risk], notes: Notes) -> None:
    """Everything the person at the bench should know of this batch.

    Args:
        made: the batch.
        weighed: the same as the scale shows it.
        found: what it leaves of the superfat, and its risk.
        notes: where the cautions go.
    """
    budget, worst = found
    notes.tell(*HANDLING)
    if budget.superfat >= SELDOM_MEANT:
        notes.caution(
            "superfat-high",
            f"A superfat of {percent(budget.superfat)} is seldom meant: so much of the fat stays as it is (usual are 3 "
            "to 8 %).",
        )
    if budget.free_alkali_probability < SURELY:
        caution_free_alkali(budget, notes, worst.free_alkali_probability)
    else:
        notes.caution(
            "free-alkali-left",
            f"With these masses the superfat comes to {percent(budget.superfat)}, and it is likelier than not that "
            "alkali stays free. It burns skin: do not make this batch. Raise the superfat, or weigh on a finer scale.",
        )
    caution_split(made.split, budget, notes)
    caution_fats(weighed.fats, notes)
    caution_idle_alkali(weighed.fats, budget, notes, worst.free_alkali_probability)
    caution_acids(weighed.acids, notes)
