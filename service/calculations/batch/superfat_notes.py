"""What a superfat check says beside its numbers: what may be done with the batch, and the steps."""

from collections.abc import Sequence
from typing import Final

from service.calculations.batch.acids import caution_acids
from service.calculations.batch.fat_notes import (
    LEAST_USUAL,
    SURELY,
    caution_fats,
    caution_free_alkali,
    caution_idle_alkali,
)
from service.calculations.batch.fat_yields import Risk
from service.calculations.batch.liquids import carbon_monoxide
from service.calculations.batch.saponification_notes import SELDOM_MEANT
from service.calculations.batch.saponification_steps import explain_idle_wax, explain_spread, explain_takers
from service.calculations.batch.split import Added
from service.calculations.batch.superfat_mending import AS_WANTED, Mending
from service.calculations.batch.superfat_slips import caution_slip
from service.calculations.batch.superfat_weighed import Batch, Drawn
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.standing_cautions import HANDLING
from service.chemistry import molar_masses
from service.chemistry.saponification_budget import SaponificationBudget

SLIP_FROM: Final = 2.0
"""Alkali over what fats and acids take, from which a slip of the weighing or of a unit is likelier than a spill."""
FOUR_DIGITS: Final = 1000.0
LEAST_APART: Final = 0.0005
"""Distance of two superfats [-] below which both are told as the same, to a tenth of a percent (a choice of this
service)."""
CERTAIN: Final = 0.995
"""Probability of free alkali from which it is told without one: it would come out as 100 %."""
UNKNOWN_FAT: Final = 1e-4
"""Fat of unknown kind per fats from which a word is due."""


def caution_check(batch: Batch, budget: SaponificationBudget, worst: Risk, wanted: float, notes: Notes) -> None:
    """Everything the person at the bench should know of this batch, but how to mend it.

    Args:
        batch: what was weighed.
        budget: what it leaves.
        worst: its risk.
        wanted: superfat that was meant.
        notes: where the cautions go.
    """
    notes.tell(*HANDLING)
    if budget.free_alkali_probability < SURELY:
        caution_free_alkali(budget, notes, worst.free_alkali_probability)
    likely_free = worst.free_alkali_probability >= SURELY
    if budget.superfat >= SELDOM_MEANT and not likely_free:
        notes.caution(
            "superfat-high",
            f"With {percent(budget.superfat)} of the fats left as they are the soap is soft, greasy and soon rancid. "
            "Compare the draw, and the strength of the stock, with what was meant.",
        )
    if budget.superfat < 0 or not likely_free:  # with wax a high superfat may be none, and no alkali need be lacking
        caution_slip(batch, budget, wanted, notes)
    caution_fats(batch.fats, notes)
    caution_idle_alkali(batch.fats, budget, notes, worst.free_alkali_probability)
    caution_acids(batch.own_acids, notes)
    _caution_liquids(batch.liquids, sum(one.mass for one in batch.fats), notes)


def _caution_liquids(liquids: Sequence[Added], mass: float, notes: Notes) -> None:
    for one in liquids:
        notes.tell(*one.liquid.cautions)
    sugary = dict.fromkeys([one.liquid.id for one in liquids if one.liquid.holds_sugar])
    if sugary:
        notes.tell(carbon_monoxide(*sugary))
    counted = sum(one.mass * one.liquid.fat for one in liquids if one.liquid.fat_like is not None)
    unknown = sum(one.mass * one.liquid.fat for one in liquids if one.liquid.fat_like is None)
    if counted:
        notes.caution(
            "liquid-brings-fat",
            f"The liquids bring {weight(counted)} of fat, which takes alkali too; the superfat counts it.",
        )
    if unknown >= UNKNOWN_FAT * mass:
        notes.caution(
            "liquid-brings-fat",
            f"The liquids bring {weight(unknown)} of fat of no known saponification value, which is left out.",
        )
    recalled = [one.liquid.name for one in liquids if one.liquid.acid_evidence in {"memory", "assumed"}]
    if recalled:
        notes.caution(
            "figure-from-memory",
            f"The acidity of {', '.join(recalled)} is from memory or assumed, not verified.",
            "note",
        )


def caution_mending(
    budget: SaponificationBudget,
    worst: Risk,
    wanted: float,
    more: tuple[Mending | None, Mending | None],
    notes: Notes,
    *,
    added: Sequence[Drawn],
    division: float,
) -> None:
    """What to do with the batch, and what not.

    Args:
        budget: what the batch leaves.
        worst: its risk.
        wanted: superfat.
        more: fat, and alkali, that makes it the wanted one.
        notes: where the cautions go.
        added: what that alkali is more of.
        division: step of the scale [kg]; of less than that it is said.
    """
    more_fat, more_alkali = more
    low, high = worst.lowest_superfat, budget.superfat_interval[1]
    if worst.free_alkali_probability >= SURELY:
        _caution_free(budget, worst.free_alkali_probability, more_fat, notes)
    elif low <= wanted <= high and abs(budget.superfat - wanted) > AS_WANTED:  # though nothing to add may be told
        notes.caution(
            "superfat-within-spread",
            f"The superfat lies between {percent(low)} and {percent(high)}, and the wanted {percent(wanted)} is among "
            "that: what these fats and weighings are known to does not tell whether anything is to be mended.",
        )
    if more_alkali is not None and budget.superfat - wanted >= LEAST_APART:
        coarse = " That is less than a step of this scale." if more_alkali.mass < division else ""
        notes.caution(
            "alkali-added-late",
            f"To come down to {percent(wanted)} takes {weight(more_alkali.mass, 'down')} {_more_of(added)}. "
            "Too much fat only softens a soap, and too much caustic burns: add it only where the soap would be of no "
            f"use without, while the batter is fluid, and stir it in fully.{coarse}",
            "danger" if wanted < LEAST_USUAL else None,
        )


def _more_of(added: Sequence[Drawn]) -> str:
    """What a batch lacks, as the end of a sentence: stock where it was drawn, else the solid."""
    stock = added[0].from_stock
    if len(added) == 1:
        return f"more of the {'stock' if stock else 'solid'}"
    return (
        f"more {'stock' if stock else 'solid'} in all, in the shares in which it was {'drawn' if stock else 'weighed'}"
    )


def _caution_free(budget: SaponificationBudget, probability: float, more_fat: Mending | None, notes: Notes) -> None:
    share = (budget.alkali - budget.acid) / budget.need
    if share >= SLIP_FROM:
        times = f"{share:.3g}" if share < FOUR_DIGITS else f"{share:.0f}"
        slip = f"There is {times} times the alkali that the fats can take: most likely a unit or a scale slipped."
        mend = (
            "If it was really weighed so, do not touch or heat it, and have it disposed of as caustic waste; else mend "
            "the figures."
        )
    else:
        over = percent(share - 1)
        slip = (
            f"It is likelier than not ({percent(probability, 0)}) that there is more alkali than the fats can take."
            if share < 1 or over == "0 %"
            else f"There is {over} more alkali than the fats can take."
            if probability >= CERTAIN
            else f"There is probably ({percent(probability, 0)}) more alkali than the fats can take, {over} by the "
            "middles."
        )
        fat = "more fat" if more_fat is None else f"{weight(more_fat.mass, 'up')} of fat"
        mend = (
            f"While the batter is fluid, stir in {fat}; once it has set, melt it again with that. Either way let it "
            "cure, and titrate its free alkali before anybody washes with it."
        )
    notes.caution("free-alkali-left", f"{slip} It burns skin: do not use or sell it. {mend}")


def explain_check(batch: Batch, budget: SaponificationBudget, notes: Notes) -> None:
    """The steps, so that a person can redo them by hand."""
    for one in batch.drawn:
        notes.step(
            f"hydroxide in the {one.alkali} {'drawn' if one.from_stock else 'weighed'}",
            "mass * mass_fraction / molar_mass",
            {
                "mass": (one.reagent.mass * 1000, "g"),
                "mass_fraction": (one.content, "1"),
                "molar_mass": (molar_masses.ALKALI[one.alkali] * 1000, "g/mol"),
            },
            (one.amount, "mol"),
            "definition of mass fraction; abridged standard atomic weights (IUPAC/CIAAW)",
        )
    explain_takers(batch.fats, batch.reagents[1], notes)
    for line in batch.beside:
        notes.step(
            f"hydroxide for {line.fat}",
            "mass * saponification_value / 1000 / molar_mass_koh",
            {
                "mass": (line.mass * 1000, "g"),
                "saponification_value": (line.saponification_value * 1000, "mg/g"),
                "molar_mass_koh": (molar_masses.KOH * 1000, "g/mol"),
            },
            (line.mass * line.saponification_value / molar_masses.KOH, "mol"),
            "ISO 3657 (definition); composition in the catalogue",
        )
    notes.step(
        "superfat",
        "1 - (alkali - acid) / need",
        {"alkali": (budget.alkali, "mol"), "acid": (budget.acid, "mol"), "need": (budget.need, "mol")},
        (budget.superfat, "1"),
        "share of the fats' need left unmet; below 0 that much alkali is free",
    )
    left = budget.alkali - budget.acid
    explain_spread(batch.lines, batch.reagents, (budget.need, left), "", notes)
    explain_idle_wax(batch.fats, batch.beside, batch.reagents, left, notes)


def explain_mending(
    budget: SaponificationBudget,
    wanted: float,
    more: tuple[Mending | None, Mending | None],
    notes: Notes,
    *,
    added: Sequence[Drawn],
) -> None:
    """The steps of what mends it: fat, or alkali."""
    more_fat, more_alkali = more
    inputs = {
        "alkali": (budget.alkali, "mol"),
        "acid": (budget.acid, "mol"),
        "need": (budget.need, "mol"),
        "wanted": (wanted, "1"),
    }
    if more_fat is not None:
        notes.step(
            "fat to add",
            "((alkali - acid) / (1 - wanted) - need) * mass_per_mole",
            inputs | {"mass_per_mole": (more_fat.per_amount * 1000, "g/mol")},
            (more_fat.mass * 1000, "g"),
            "the need that leaves the wanted superfat; a mole of hydroxide takes molar mass of KOH over "
            "saponification value of fat",
        )
    if more_alkali is not None:
        notes.step(
            "stock to add" if added[0].from_stock else "solid to add",
            "(need * (1 - wanted) - (alkali - acid)) * mass_per_mole",
            inputs | {"mass_per_mole": (more_alkali.per_amount * 1000, "g/mol")},
            (more_alkali.mass * 1000, "g"),
            "the alkali that leaves the wanted superfat",
        )
