"""What fats ask to be said: each by itself, and what alkali may stay free in a batch of them."""

from collections.abc import Callable, Iterator, Sequence
from functools import cache
from typing import Final

from service.calculations.batch.fats import WeighedFat, iodine_value_by_acids
from service.calculations.shared.cautions import Caution, caution
from service.calculations.shared.notes import Notes, percent
from service.chemistry.fatty_acids import spreads
from service.chemistry.ranges import ROUNDING
from service.chemistry.saponification_budget import SaponificationBudget
from service.reference import Fat, reference_data

CAUTION_FROM: Final = 0.01
"""Probability of free alkali from which a caution is due."""
SURELY: Final = 0.5
"""Probability of free alkali from which the batch is one that has it, not one that may."""
DANGER_FROM: Final = 0.10
"""Probability of free alkali from which it is a danger."""
LEAST_USUAL: Final = 0.03
"""Superfat below which a word is due where the spread of the fats is not told [-]; usual are 3 to 8 % (common
practice)."""
KNOWN_TO: Final = 1e-3
"""Standard uncertainty of the need, over the need, up to which the fats count as told without a spread: no published
limits are so narrow."""


def caution_fats(fats: Sequence[WeighedFat], notes: Notes) -> None:
    """Say what the users of these fats must know."""
    _tell_of_each(fats, _cautions_of, notes)


def _tell_of_each(fats: Sequence[WeighedFat], cautions_of: Callable[[str], tuple[Caution, ...]], notes: Notes) -> None:
    for key in dict.fromkeys([weighed.fat.key for weighed in fats]):
        if isinstance(key, str):  # one's own fats have no record
            notes.tell(*cautions_of(key))


@cache
def _cautions_of(identifier: str) -> tuple[Caution, ...]:
    """What the users of a fat of the catalogue must know, made once."""
    return tuple(_cautions(reference_data().fats[identifier]))


def _cautions(fat: Fat) -> Iterator[Caution]:
    value = fat.saponification_value
    if value.evidence == "memory":
        yield caution(
            "figure-from-memory",
            f"The saponification value of {fat.name} ({value.low * 1000:g} to {value.high * 1000:g} mg/g) is from "
            "memory and was not verified: give the value of your certificate.",
            basis=value.source,
        )
    elif "assumed" in value.note:
        yield caution("figure-limits-assumed", f"Saponification value of {fat.name}: {value.note}.", basis=value.source)
    if fat.hardly_saponified:
        yield caution(
            "aqueous-alkali-hardly-saponifies",
            f"Alkali in water saponifies {fat.name} hardly or slowly: what it does not take stays as free alkali.",
        )
    elif fat.kind in {"wax", "resin"}:
        yield caution("wax-or-resin", f"{fat.name.capitalize()} is a {fat.kind}: it gives no glycerol.")
    if fat.caution:
        yield caution("fat-note", f"Of {fat.name}: {fat.caution}")
    if fat.fatty_acids is not None and fat.fatty_acids.evidence == "memory":
        yield caution(
            "composition-from-memory",
            f"The fatty acids of {fat.name} are from memory and were not verified.",
            "note",
            fat.fatty_acids.source,
        )


def caution_iodine_values(fats: Sequence[WeighedFat], notes: Notes) -> None:
    """Say where a fat's iodine value and its fatty acids, which are of different works, do not agree."""
    _tell_of_each(fats, _iodine_value_apart, notes)


@cache
def _iodine_value_apart(identifier: str) -> tuple[Caution, ...]:
    """A note where the acids of a fat of the catalogue give an iodine value beyond its printed limits."""
    fat = reference_data().fats[identifier]
    printed, acids = fat.iodine_value, fat.fatty_acids
    if printed is None or acids is None or fat.kind != "triglyceride":
        return ()
    by_acids = iodine_value_by_acids(spreads(acids.shares))
    if printed.low <= by_acids <= printed.high:
        return ()
    return (
        caution(
            "fat-note",
            f"Of {fat.name}: its fatty acids ({acids.source}) give an iodine value of {by_acids * 100:.1f} g/100 g, "
            f"and {printed.low * 100:g} to {printed.high * 100:g} are printed ({printed.source}), which iodine_value "
            "goes by. Lots differ as much: for yours take both from its certificate.",
        ),
    )


def caution_free_alkali(budget: SaponificationBudget, notes: Notes, at_worst: float = 0.0) -> None:
    """Say how likely it is that caustic is left in the soap.

    Args:
        budget: of the batch with every fat taking alkali.
        notes: where the caution goes.
        at_worst: how likely free alkali is with wax taking none.
    """
    probability = budget.free_alkali_probability
    if probability < SURELY <= at_worst:
        return  # what is told of the wax is graver, and another figure beside it would contradict it
    if probability >= CAUTION_FROM:
        notes.caution(
            "free-alkali-possible",
            f"With a probability of {percent(probability, 0)} there is more alkali than the fats can take, and the "
            "soap holds free caustic, which burns: do not use or sell it. Raise the superfat, or narrow the spread "
            "with certificates of analysis.",
            "danger" if probability >= DANGER_FROM else None,
        )
    elif budget.superfat < LEAST_USUAL - ROUNDING and budget.need_combined[0] <= KNOWN_TO * budget.need:
        notes.caution(
            "free-alkali-possible",
            f"A superfat of {percent(budget.superfat)} leaves little room, and no spread of the fats is told: lots of "
            "one fat commonly differ by some per cent, and then caustic is left in the soap. Give the limits of their "
            "saponification values, or raise the superfat.",
            basis="common practice",
        )


def caution_idle_alkali(
    fats: Sequence[WeighedFat], budget: SaponificationBudget, notes: Notes, probability: float
) -> None:
    """Say what becomes of the alkali that was meant for wax and is not taken.

    Args:
        fats: the fats.
        budget: of the batch with every fat taking alkali.
        notes: where the caution goes.
        probability: how likely free alkali is at worst.
    """
    idle = sum([weighed.need for weighed in fats if weighed.fat.hardly_saponified])
    if not idle:
        return
    others = budget.need - idle
    left = 1 - (budget.alkali - budget.acid) / others if others > 1e-9 * budget.need else None
    if left is None:
        what, certain = "all of it stays free: there is no other fat.", True
    elif left < budget.superfat:
        what, certain = f"the superfat of the other fats is {percent(left)}", left < 0
        if certain:
            what += ", that is free alkali."
        elif probability >= CAUTION_FROM:
            what += f", and with a probability of {percent(probability, 0)} free alkali is left: raise the superfat."
        else:
            what += "."
    else:
        return
    notes.caution(
        "aqueous-alkali-hardly-saponifies",
        f"If the wax takes no alkali at all, {what}",
        "danger" if certain or probability >= DANGER_FROM else None,
    )
