"""What purity, strength and data leave open of the amounts of a mixing with ice."""

from typing import NamedTuple

from service.calculations.mixing.ice_amounts import Amounts
from service.calculations.mixing.ice_plan import CLEAR_OF_BOILING, Planned
from service.calculations.mixing.mixing_contents import GivenCharge, GivenSolid
from service.calculations.mixing.mixing_runs import within_data
from service.calculations.shared.reading import NORMAL_95
from service.chemistry import mixing_records as records
from service.chemistry.ice_needed import ice_needed
from service.chemistry.uncertainty import Combined, Part, combine, coverage_half_width, normal


class AmountSpreads(NamedTuple):
    """95 % half-widths [kg] of what a stock of just the wanted strength takes."""

    solid: float
    water: float
    """Of liquid water and ice together."""
    total: float


def amount_spreads(
    wanted: Amounts, solid: GivenSolid, existing: GivenCharge, strength: tuple[float, float], *, by_solid: bool
) -> AmountSpreads:
    """What purity and the strength of what is in the vessel leave open of the amounts.

    Args:
        wanted: the amounts.
        solid: the solid.
        existing: what is in the vessel already.
        strength: mass fraction that is wanted, and how it changes with the purity [-].
        by_solid: whether the mass of the solid is what is told, and all else follows from it.
    """
    w, slope = strength
    purity, there = solid.solid.purity, existing.existing
    by_purity = (
        (wanted.solid - wanted.total * slope) / w if by_solid else (wanted.total * slope - wanted.solid) / purity
    )

    def half_width(by_hydroxide: float, by_mass: float) -> float:
        parts: list[tuple[float, Part | Combined]] = [(by_purity, solid.purity_spread)]
        if there is not None:
            parts += there.contributions(there.mass * by_hydroxide, there.found.mass_fraction * by_hydroxide + by_mass)
        return coverage_half_width(combine(parts))

    if by_solid:
        return AmountSpreads(0.0, half_width(1.0 / w, -1.0), half_width(1.0 / w, 0.0))
    return AmountSpreads(half_width(-1.0 / purity, 0.0), half_width(1.0 / purity, -1.0), 0.0)


def least_ice(plan: Planned) -> float:
    """Lower end of the ice that these amounts call for [kg]: purity, data and an existing stock at their lower ends.

    The ice that is answered is enough at the upper end of all of them at once.

    Args:
        plan: the mixing.
    """
    given = plan.given_charge(0.0)
    solid, best = within_data(plan.solid.solid, given), given.charge

    def needed(solid: records.Solid, charge: records.Charge, shift: float = 0.0) -> float:
        return ice_needed(
            solid,
            charge,
            plan.held_to,
            plan.taken_off,
            enthalpy_shift=shift,
            boiling_shift=1.0,
            clearance=CLEAR_OF_BOILING,
        ).mass

    middle = needed(solid, best)
    parts: list[tuple[float, Part | Combined]] = [(abs(middle - needed(solid, best, -1.0)), normal(1.0 / NORMAL_95))]
    if plan.solid.coolest != plan.solid.solid:
        half = middle - needed(within_data(plan.solid.coolest, given), best)
        parts.append((half, _of_half_width(plan.solid.purity_spread)))
    existing = given.existing
    if existing is not None and given.hydroxide_half_width:
        half = max(abs(middle - needed(solid, one)) for one in (given.hottest, given.coolest))
        parts.append((half, _of_half_width(existing.found.spread)))
    return max(middle - coverage_half_width(combine(parts)), 0.0)


def _of_half_width(spread: Combined) -> Combined:
    """The same spread, of which there is some, with a 95 % half-width of 1."""
    half = coverage_half_width(spread)
    return Combined(spread.standard_uncertainty / half, spread.widest_rectangular / half)
