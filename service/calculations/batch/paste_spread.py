"""What the spreads of fats, alkali and acids leave open of what a paste consists of."""

from collections.abc import Sequence
from typing import Final, Literal, NamedTuple

from service.calculations.batch.fats import WeighedFat
from service.calculations.shared.messages import AlkaliName
from service.chemistry import molar_masses
from service.chemistry.saponification_budget import Reagent
from service.chemistry.soap_paste import Saponified, reacting
from service.chemistry.uncertainty import Combined, Part, combine, coverage_half_width

What = Literal["fat", "alkali", "both"]
ALL_OF: Final[tuple[What, ...]] = ("fat", "alkali", "both")
FREE: Final = frozenset({"fatty-acid", "resin"})
"""Kinds of fat whose acids are free: they set water free, and no glycerol."""


class Reacting(NamedTuple):
    """What there is that may react, or by how much one input changes it."""

    fat_mass: float = 0.0
    """kg."""
    esters: float = 0.0
    """Hydroxide that they take [mol]."""
    free_acids: float = 0.0
    """Hydroxide that they take [mol]."""
    soda: float = 0.0
    """mol."""
    potash: float = 0.0
    """mol."""
    acids: float = 0.0
    """Hydroxide that acids beside the fats take [mol]."""

    def moved(self, by: "Reacting", times: float) -> "Reacting":
        """With a change so many times."""
        return Reacting(*(one + times * change for one, change in zip(self, by, strict=True)))

    def becomes(self, what: What) -> Saponified:
        """What it becomes if all of one reacts; below 0 what of the other lacks for that.

        Args:
            what: all the fat, or all the alkali, or both, the fats taking just what there is.
        """
        given = self.soda + self.potash
        left = 1.0 - self.acids / given
        alkalis: dict[AlkaliName, float] = {"NaOH": self.soda * left, "KOH": self.potash * left}
        need, there = self.esters + self.free_acids, given * left
        fitting = there / need if what == "both" else 1.0
        reacted = need if what == "fat" else there
        return reacting(self.fat_mass, self.esters * fitting, self.free_acids * fitting, alkalis, reacted)


class Input(NamedTuple):
    """Something uncertain."""

    change: Reacting
    """By one unit of it."""
    part: Part


def _need(fat: WeighedFat, amount: float) -> Reacting:
    free = fat.fat.kind in FREE
    return Reacting(esters=0.0 if free else amount, free_acids=amount if free else 0.0)


def inputs_of(
    fats: Sequence[WeighedFat], alkalis: Sequence[tuple[AlkaliName, float, Part]], acids: Sequence[Reagent]
) -> tuple[Reacting, list[Input]]:
    """What may react, and what is uncertain of it.

    Args:
        fats: what takes alkali; lines of the same fat have one saponification value.
        alkalis: hydroxide, its mass [kg] and the spread of that.
        acids: what takes alkali beside the fats.
    """
    whole = Reacting(acids=sum(one.mass * one.content for one in acids))
    found: list[Input] = []
    values: dict[object, Input] = {}
    for fat in fats:
        line = fat.line
        whole = whole.moved(_need(fat, fat.need)._replace(fat_mass=fat.mass), 1.0)
        if line.saponification_value_part.standard_uncertainty:
            before = values.get(line.fat, Input(Reacting(), line.saponification_value_part))
            change = before.change.moved(_need(fat, fat.mass / molar_masses.KOH), 1.0)
            values[line.fat] = before._replace(change=change)
        if line.mass_part.standard_uncertainty:
            found.append(Input(_need(fat, fat.need / fat.mass)._replace(fat_mass=1.0), line.mass_part))
    for alkali, mass, part in alkalis:
        per_mass = 1.0 / molar_masses.ALKALI[alkali]
        change = Reacting(soda=per_mass) if alkali == "NaOH" else Reacting(potash=per_mass)
        whole = whole.moved(change, mass)
        if part.standard_uncertainty:
            found.append(Input(change, part))
    found += [Input(Reacting(acids=one.content), one.mass_part) for one in acids if one.mass_part.standard_uncertainty]
    return whole, [*values.values(), *found]


def ends(whole: Reacting, uncertain: Sequence[Input], parts: Saponified) -> tuple[Saponified, Saponified]:
    """Lower and upper ends of the 95 % interval of each part [kg].

    What reacts is the lesser of what the fats and the alkali let react, and so it is of its ends: each is smooth, and
    their lesser is not. What is left of the one is nothing where the other is the lesser.

    Args:
        whole: what may react.
        uncertain: what is uncertain of it.
        parts: what it becomes.
    """
    if not uncertain:
        return parts, parts
    lows, highs = {}, {}
    for what in ALL_OF:
        value = whole.becomes(what)
        halves = _half_widths(whole, uncertain, what)
        lows[what] = Saponified(*(one - half for one, half in zip(value, halves, strict=True)))
        highs[what] = Saponified(*(one + half for one, half in zip(value, halves, strict=True)))
    found = []
    for side in (lows, highs):
        lesser = [max(0.0, min(pair)) for pair in zip(side["fat"], side["alkali"], strict=True)]
        found.append(
            Saponified(lesser[0], lesser[1], max(0.0, side["alkali"].fat), max(0.0, side["fat"].alkali), lesser[4])
        )
    # Fat that takes more needs more alkali, and alkali that finds less fat makes less of it: both at most is too much.
    found[1] = found[1]._replace(soap=min(found[1].soap, highs["both"].soap))
    low = Saponified(*map(min, found[0], parts))
    return low, Saponified(*map(max, found[1], parts))


def _half_widths(whole: Reacting, uncertain: Sequence[Input], what: What) -> list[float]:
    """95 % half-widths of what it becomes, to first order (JCGM 100:2008, 5.1.2)."""
    contributions: list[list[tuple[float, Part | Combined]]] = [[] for _ in Saponified._fields]
    for change, part in uncertain:
        step = part.standard_uncertainty
        less = whole.moved(change, -step).becomes(what)
        more = whole.moved(change, step).becomes(what)
        for place, (a, b) in enumerate(zip(less, more, strict=True)):
            contributions[place].append(((b - a) / (2.0 * step), part))
    return [coverage_half_width(combine(one)) for one in contributions]
