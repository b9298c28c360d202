"""The superfat that a batch really gets from the masses on its scale."""

from service.calculations.batch.fat_yields import Risk, risk
from service.calculations.batch.superfat_weighed import Batch
from service.calculations.orders.batch_made import Weighed
from service.calculations.shared.notes import Notes, weight
from service.chemistry.errors import OutOfRange
from service.chemistry.saponification_budget import SaponificationBudget, saponification_budget


def superfat_weighed(weighed: Weighed, division: float, notes: Notes) -> tuple[SaponificationBudget, Risk]:
    """What the masses on the scale leave of the superfat, and its risk.

    Args:
        weighed: the batch as the scale shows it.
        division: step of the scale [kg]; 0 for a scale without steps.
        notes: where the fault goes.

    Raises:
        Refusal: the scale is so coarse, or the fats are known so badly, that nothing can be said.
    """
    batch = Batch(weighed.fats, weighed.drawn, weighed.liquids, weighed.acids, division)
    try:
        budget = saponification_budget(batch.lines, *batch.reagents)
    except OutOfRange:
        if division:
            raise notes.refuse(
                "/scale_division",
                "contradiction",
                f"on a scale with steps of {weight(division)} nothing can be said of this batch's superfat",
                "give the step of the scale that the stock is weighed on, or make a larger batch",
            ) from None
        raise notes.refuse(
            "/recipe",
            "contradiction",
            "fats, alkali and acids fit so badly, or are known so badly, that no superfat can be told",
            "compare their masses, and narrow their limits",
        ) from None
    return budget, risk(weighed.fats, batch.reagents, budget, batch.beside)
