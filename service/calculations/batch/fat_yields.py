"""What becomes of fats in a batch: the glycerol they give, and what may be left of the superfat at worst."""

from collections.abc import Sequence
from typing import NamedTuple

from service.calculations.batch.fats import WeighedFat
from service.chemistry.errors import OutOfRange
from service.chemistry.saponification import glycerol_mass
from service.chemistry.saponification_budget import FatLine, Reagent, SaponificationBudget, saponification_budget


class Risk(NamedTuple):
    """What may be left of the superfat at worst, and how likely free alkali is."""

    lowest_superfat: float
    free_alkali_probability: float


def risk(
    fats: Sequence[WeighedFat],
    reagents: tuple[Sequence[Reagent], Sequence[Reagent], float],
    budget: SaponificationBudget,
    beside: Sequence[FatLine] = (),
) -> Risk:
    """The risk of a batch; where wax is among the fats, with the wax taking no alkali, if that is the worse.

    Where hardly anything is left that takes alkali, a share of its need tells nothing: the lowest superfat is then
    all the alkali over the need of all the fats, below 0.

    Args:
        fats: the fats.
        reagents: alkalis, acids and the scale's division, as the budget was made with.
        budget: of the batch with every fat taking alkali.
        beside: lines of fats that come from elsewhere, as those of liquids.
    """
    told = Risk(budget.superfat_interval[0], budget.free_alkali_probability)
    if not any(weighed.fat.hardly_saponified for weighed in fats):
        return told
    idle = _with_idle_wax(fats, reagents, beside)
    if idle is None:
        return Risk(min(told.lowest_superfat, budget.superfat - 1.0), 1.0)
    return Risk(
        min(told.lowest_superfat, idle.superfat_interval[0]),
        max(told.free_alkali_probability, idle.free_alkali_probability),
    )


def free_alkali(
    fats: Sequence[WeighedFat],
    reagents: tuple[Sequence[Reagent], Sequence[Reagent], float],
    budget: SaponificationBudget,
    beside: Sequence[FatLine] = (),
) -> tuple[float, float, float]:
    """Alkali that nothing takes, and the ends of its interval [mol]; the upper one with wax taking none.

    Args:
        fats: the fats.
        reagents: alkalis, acids and the scale's division, as the budget was made with.
        budget: of the batch with every fat taking alkali.
        beside: lines of fats that come from elsewhere, as those of liquids.
    """
    low, high = budget.excess_interval
    if any(weighed.fat.hardly_saponified for weighed in fats):
        idle = _with_idle_wax(fats, reagents, beside)
        high = max(high, budget.alkali - budget.acid if idle is None else idle.excess_interval[1])
    return max(0.0, budget.excess), max(0.0, low), max(0.0, high)


def _with_idle_wax(
    fats: Sequence[WeighedFat],
    reagents: tuple[Sequence[Reagent], Sequence[Reagent], float],
    beside: Sequence[FatLine],
) -> SaponificationBudget | None:
    """The batch with wax taking no alkali; None where hardly anything takes any."""
    taking = [weighed.line for weighed in fats if not weighed.fat.hardly_saponified]
    if not taking and not beside:
        return None
    try:
        return saponification_budget([*taking, *beside], *reagents)
    except OutOfRange:
        return None


def glycerol(fats: Sequence[WeighedFat], alkali_for_fats: float) -> float:
    """Glycerol that alkali sets free [kg].

    Free acids take alkali before any ester does; of the esters only triglycerides give glycerol.

    Args:
        fats: the fats.
        alkali_for_fats: hydroxide that is left for them [mol].
    """
    amounts = {"triglyceride": 0.0, "free": 0.0, "other": 0.0}
    for weighed in fats:
        kind = weighed.fat.kind
        group = kind if kind == "triglyceride" else "free" if kind in {"fatty-acid", "resin"} else "other"
        amounts[group] += weighed.need
    esters = amounts["triglyceride"] + amounts["other"]
    if esters <= 0:
        return 0.0
    saponified = max(0.0, alkali_for_fats - amounts["free"]) * amounts["triglyceride"] / esters
    return glycerol_mass(min(saponified, amounts["triglyceride"]))
