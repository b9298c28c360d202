"""What a soap paste holds, from the batch it came from: soap, glycerol, fat, and the water it has lost."""

from typing import Annotated, Final, NamedTuple

from msgspec import Meta

from service.calculations.batch.acids import AcidLine, weighed_acids
from service.calculations.batch.fats import WeighedFat, weighed_fats
from service.calculations.batch.paste_spread import FREE, ends, inputs_of
from service.calculations.shared.given import Mass, PlainMass
from service.calculations.shared.messages import MOST_LIQUIDS, Alkali, AlkaliName, FatLines
from service.calculations.shared.notes import Notes, grams
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import Ruled
from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import ROUNDING
from service.chemistry.saponification_budget import (
    Reagent,
    SaponificationBudget,
    need_contributions,
    saponification_budget,
)
from service.chemistry.soap_paste import Saponified, saponified
from service.chemistry.uncertainty import combine, coverage_half_width

WIDEST: Final = 0.5
"""Half-width of the need, over the need, or of the alkali for the fats, over that alkali, beyond which nothing can be
said of a batch."""


class AlkaliIn(Ruled, kw_only=True):
    """An alkali that went into a batch, as saponification answers it."""

    alkali: Alkali
    mass: Annotated[Mass, Meta(description="Pure hydroxide.", examples=["250 g"])]


class PasteBatch(Ruled, kw_only=True):
    """The batch a paste came from: all that went in."""

    fats: FatLines
    alkalis: Annotated[
        list[AlkaliIn], Meta(min_length=1, max_length=2, description="The alkalis, as pure hydroxide; each once.")
    ]
    water_mass: Annotated[
        PlainMass, Meta(description="All the water that went in, that of the stock and of the solid among it.")
    ]
    acids: (
        Annotated[list[AcidLine], Meta(max_length=MOST_LIQUIDS, description="Acids that went in; they take alkali.")]
        | None
    ) = None


class Held(NamedTuple):
    """What a paste holds [kg]."""

    parts: Saponified
    lowest: Saponified
    highest: Saponified
    """Ends of the 95 % interval of each part, by the spread of the fats and of the alkali."""
    evaporated: float
    evaporated_half_width: float
    """Of its 95 % interval."""
    budget: SaponificationBudget | None
    """What the batch leaves of its superfat; None where that cannot be told."""


def held(given: PasteBatch, paste: Mass, notes: Notes) -> Held:
    """What is in a paste of a weighed mass.

    Args:
        given: the batch.
        paste: its mass.
        notes: where faults and cautions go.

    Raises:
        Refusal: with every fault found; or where masses do not add up.
    """
    paste_mass = paste.value
    fats = weighed_fats(given.fats, notes, "/batch/fats")
    acids = weighed_acids(given.acids or (), notes, "/batch/acids")
    names = [one.alkali for one in given.alkalis]
    if len(set(names)) < len(names):
        notes.fault("/batch/alkalis", "contradiction", f"{names[0]} is listed twice", "put it on one line")
    notes.stop_at_faults()
    amounts = {one.alkali: one.mass.value / molar_masses.ALKALI[one.alkali] for one in given.alkalis}
    brought = sum(amounts.values())
    left = 1 - sum(one.mass * one.content for one in acids) / brought
    taking = [one for one in fats if not one.fat.hardly_saponified]
    if left <= 0 or not taking:
        raise notes.refuse(
            "/batch",
            "contradiction",
            "nothing of this batch becomes soap: its acids take all the alkali, or no fat takes any",
            "compare the masses of fats, alkali and acids",
        )
    for_fats: dict[AlkaliName, float] = {name: amount * left for name, amount in amounts.items()}
    parts = _saponified(taking, for_fats)
    whole = sum(one.mass for one in fats) + sum(one.mass for one in acids) + given.water_mass.value
    whole += sum(one.mass.value for one in given.alkalis)
    evaporated = whole - paste_mass
    if evaporated < -ROUNDING * whole:
        raise notes.refuse(
            "/paste_mass",
            "contradiction",
            f"the paste weighs {grams(paste_mass)}, and all that went in {grams(whole)}",
            "add the water that went in since, or weigh the paste without its vessel",
        )
    if evaporated > given.water_mass.value + parts.water:
        raise notes.refuse(
            "/paste_mass",
            "contradiction",
            f"{grams(evaporated)} are gone, more than the water that there was: paste was spilled or taken out",
            "give the share of the batch that the paste is: all its masses in that proportion",
        )
    _check_spread(taking, notes)
    _check_alkali(given, acids, sum(for_fats.values()), notes)
    weighed = [(one.alkali, one.mass.value, part_of(one.mass)) for one in given.alkalis]
    lowest, highest = ends(*inputs_of(taking, weighed, acids), parts)
    reagents = [
        Reagent(one.alkali, one.mass.value, 1 / molar_masses.ALKALI[one.alkali], mass_part=part_of(one.mass))
        for one in given.alkalis
    ]
    try:
        budget: SaponificationBudget | None = saponification_budget([one.line for one in taking], reagents, acids)
    except OutOfRange:
        budget = None
    gone = _evaporated_half_width(given, fats, acids, paste)
    return Held(parts, lowest, highest, max(evaporated, 0.0), gone, budget)


def _check_spread(fats: list[WeighedFat], notes: Notes) -> None:
    """Refuse fats whose need is so uncertain that nothing can be said."""
    try:
        need, by_fat = need_contributions([one.line for one in fats])
        spread = coverage_half_width(combine([(1.0, one) for one in by_fat.values()])) / need
    except OutOfRange:
        spread = 1.0
    if spread > WIDEST:
        raise notes.refuse(
            "/batch/fats",
            "contradiction",
            "the limits of these fats are so wide that nothing can be said of the soap",
            "narrow the limits, as certificates of analysis state them",
        )


def _check_alkali(given: PasteBatch, acids: list[Reagent], left: float, notes: Notes) -> None:
    """Refuse alkali so uncertain that there may be none for the fats.

    Args:
        given: the batch.
        acids: what takes alkali beside the fats.
        left: hydroxide that they leave for the fats [mol].
        notes: where the fault goes.
    """
    parts = [(1.0 / molar_masses.ALKALI[one.alkali], part_of(one.mass)) for one in given.alkalis]
    parts += [(one.content, one.mass_part) for one in acids]
    if coverage_half_width(combine(parts)) > WIDEST * left:
        raise notes.refuse(
            "/batch/alkalis",
            "contradiction",
            "alkali and acids are known so badly that nothing can be said of the soap",
            "narrow their limits, or weigh them anew",
        )


def _saponified(fats: list[WeighedFat], alkalis: dict[AlkaliName, float]) -> Saponified:
    """What becomes of fats by the best estimates."""
    free = sum(one.need for one in fats if one.fat.kind in FREE)
    esters = sum(one.need for one in fats) - free
    return saponified(sum(one.mass for one in fats), esters, free, alkalis)


def _evaporated_half_width(given: PasteBatch, fats: list[WeighedFat], acids: list[Reagent], paste: Mass) -> float:
    """95 % half-width of what has gone [kg]: of all that went in, and of the paste."""
    parts = [part_of(one.mass) for one in given.alkalis] + [one.line.mass_part for one in fats]
    parts += [one.mass_part for one in acids] + [part_of(paste)]
    return coverage_half_width(combine([(1.0, one) for one in parts]))


def paste_part(mass: Mass) -> float:
    """95 % half-width of a weighed paste [kg]."""
    return coverage_half_width(combine([(1.0, part_of(mass))]))
