"""What slip a superfat far from any that is meant looks like: a decimal point, a unit, a vessel, a draw."""

from collections.abc import Iterator, Sequence
from typing import Final

from service.calculations.batch.superfat_weighed import Batch, Drawn
from service.calculations.shared.notes import Notes, percent, weight
from service.chemistry import density, molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.saponification_budget import SaponificationBudget

FAR_ABOVE: Final = 0.30
FAR_BELOW: Final = -0.20
"""Superfats beyond which a slip is likelier than a spill (a choice of this service)."""
MEANT: Final = (-1e-9, 0.10)
"""Superfats that recipes mean [-], 0 to 10 % (common practice)."""
LITTLE: Final = 1e-6
"""Share of the alkali that other lines bring, below which one line is all of it."""
NEAR_WANTED: Final = 0.10
"""Distance from a superfat that was asked for within which a high one is meant."""
MOST_NAMED: Final = 2

FLUID_OUNCE: Final = 29.5735295625
"""US fluid ounce [mL]."""
OUNCE: Final = 28.349523125
"""Avoirdupois ounce [g]."""

_UNITS: Final = (
    (10.0, "decimal point one place too far right", "decimal point one place too far left"),
    (100.0, "decimal point two places too far right", "decimal point two places too far left"),
    (1000.0, "kg for g", "g for kg"),
    (OUNCE, "oz for g", "g for oz"),
    (16.0, "lb for oz", "oz for lb"),
    (2.2046226218, "kg for lb", "lb for kg"),
    (453.59237, "lb for g", "g for lb"),
)
"""How many times too much alkali a slip of a unit brings, with what it is, and the same the other way round."""


def caution_slip(batch: Batch, budget: SaponificationBudget, wanted: float, notes: Notes) -> None:
    """Say what a superfat that is far out looks like.

    A slip is named where the batch without it would have a superfat that recipes mean.

    Args:
        batch: what was weighed.
        budget: what it leaves.
        wanted: superfat that was meant.
        notes: where the caution goes.
    """
    if FAR_BELOW <= budget.superfat <= FAR_ABOVE or abs(budget.superfat - wanted) <= NEAR_WANTED:
        return
    named = []
    for what, times in _slips(batch.drawn):
        corrected = 1 - (budget.alkali / times - budget.acid) / budget.need
        if MEANT[0] <= corrected <= MEANT[1]:
            named.append(f"{what} ({percent(abs(corrected))})")
    looks = f"One slip would explain it: {' or '.join(named[:MOST_NAMED])}. " if named else ""
    notes.caution(
        "slip-likely",
        f"A superfat of {percent(budget.superfat)} is far from any that is meant. {looks}Check units, decimal points, "
        f"tare, and draws left out or listed twice: {_off_by(batch, budget, wanted)}.",
    )


def _off_by(batch: Batch, budget: SaponificationBudget, wanted: float) -> str:
    """How much of what was weighed is too much, or lacking."""
    due = (budget.need * (1 - wanted) + budget.acid) / budget.alkali
    mass = sum(one.reagent.mass for one in batch.drawn)
    what = "stock" if all(one.from_stock for one in batch.drawn) else "alkali as weighed"
    # What is lacking is rounded down, as where it is told to be added.
    if due > 1:
        return f"{weight((due - 1) * mass, 'down')} of {what} are lacking"
    return f"{weight((1 - due) * mass)} of {what} are too much"


def _slips(drawn: Sequence[Drawn]) -> Iterator[tuple[str, float]]:
    """Slips, and how many times the alkali that is meant each of them brings; the likelier ones first."""
    yield from _of_strength(drawn)
    for times, more, less in _UNITS:
        yield f"{more} in the alkali", times
        yield f"{less} in the alkali", 1 / times
    brought = sum(one.amount for one in drawn)
    for place, one in enumerate(drawn, start=1):
        if one.amount < brought * (1 - LITTLE):
            yield f"line {place} of the alkali is one too many", brought / (brought - one.amount)
    yield "all was listed twice", 2.0
    yield "half of it was left out", 0.5
    kinds = {one.alkali for one in drawn}
    other = molar_masses.KOH / molar_masses.NAOH
    if kinds == {"NaOH"}:
        yield "KOH was told as NaOH", other
    elif kinds == {"KOH"}:
        yield "NaOH was told as KOH", 1 / other


def _of_strength(drawn: Sequence[Drawn]) -> Iterator[tuple[str, float]]:
    """Slips of stock and solid, where all is of one kind."""
    first, *others = drawn
    if any(one[2:] != first[2:] or one.alkali != first.alkali for one in others):
        return
    if not first.from_stock:
        yield "the mass of a 50 % stock was weighed as solid", 2.0
        return
    w = first.content
    yield "the mass of the pure alkali was drawn as stock", w
    yield "the whole liquid of 2:1 was drawn as stock", 3 * w
    try:
        heavy = density.density(first.alkali, w, 20.0) / 1000
    except OutOfRange:
        return
    yield "fluid ounces were drawn for ounces", heavy * FLUID_OUNCE / OUNCE
