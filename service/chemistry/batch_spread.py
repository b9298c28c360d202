"""How well the temperature of a batch is known, and where a liquid begins to freeze by what is dissolved in it."""

import math
from math import fsum
from typing import Final

from service.chemistry.batch_blend import Blend
from service.chemistry.blending import Part, balance_half_width, part_enthalpy
from service.chemistry.food_heat import FAT, SPREAD, acid_heat_spread, heat_of
from service.chemistry.ranges import require

CRYOSCOPIC: Final = 1.86
"""Depression of the freezing point of water [K kg/mol] (computed: R T²/L at 0 °C with the heat of fusion L of
`service.chemistry.water`, 333.4 kJ/kg; 1.8606)."""
_STEP: Final = 1e-4
_WEAK: Final = 1e-3
"""Difference of strengths that a slope is taken over, downwards but below the second [-] (numerical)."""
_SHARE: Final = 1e-6
"""Share of the stock's mass that a slope is taken over [-] (numerical)."""


def model_half_width(blend: Blend, t: float, share: float) -> float:
    """95 % half-width that the models leave of the temperature of a batch [K].

    The equation for fats errs alike for all of them, and that for what is dissolved in the liquids likewise; both only
    over the way from where something came to where it goes. What free fatty acids leave open beyond fats errs alike for
    them, and is added in full. The stock's heats err as in a dilution.

    Args:
        blend: the batch.
        t: what it comes to [°C].
        share: part of the heat of diluting that is given off [-], 0 or 1.

    References:
        .. [1] `service.chemistry.food_heat.SPREAD` and `acid_spread`; `service.chemistry.blending.balance_half_width`.
    """
    there = FAT.enthalpy(t)
    fats = SPREAD * abs(fsum(one.mass * (FAT.enthalpy(one.temperature) - there) for one in blend.fats))
    warmest = acid_heat_spread(t)
    fats += abs(fsum(one.mass * (acid_heat_spread(one.temperature) - warmest) for one in blend.fats if one.acid))
    dry = SPREAD * abs(
        fsum(heat.enthalpy(one.temperature) - heat.enthalpy(t) for one in blend.liquids for heat in (heat_of(one.dry),))
    )
    stock = blend.stock
    after = Part(stock.mass + blend.water, blend.thinned, t) if share else Part(stock.mass, stock.mass_fraction, t)
    of_stock = balance_half_width(blend.alkali, [stock], after)
    return math.hypot(fats, dry, of_stock) / blend.capacity(t, share)


def heat_per_mass_of_stock(blend: Blend, t: float, share: float) -> float:
    """By how much a kilogram more of the stock changes the heat that is left for the rest [J/kg].

    Args:
        blend: the batch.
        t: what it comes to [°C].
        share: part of the heat of diluting that is given off [-].

    References:
        .. [1] slope of `Blend.enthalpy`, by a difference over a millionth.
    """
    step = _SHARE * blend.stock.mass
    more = Blend(
        blend.alkali,
        blend.stock._replace(mass=blend.stock.mass + step),
        blend.fats,
        blend.liquids,
        fat_mass=blend.fat_mass,
    )
    less = Blend(blend.alkali, blend.stock, blend.fats, blend.liquids, fat_mass=blend.fat_mass)
    rise = (more.enthalpy(t, share) - less.enthalpy(t, share)) / step
    return part_enthalpy(blend.alkali, blend.stock) - rise


def heat_per_strength(blend: Blend, t: float, share: float) -> float:
    """By how much a stronger stock changes the heat that is left for the rest [J per mass fraction].

    Args:
        blend: the batch; strength NaOH below 0.55, KOH below 0.50 by 1e-4.
        t: what it comes to [°C].
        share: part of the heat of diluting that is given off [-].

    References:
        .. [1] slope of `Blend.enthalpy`, by a difference over 1e-4.
    """
    step = -_STEP if blend.stock.mass_fraction > _WEAK else _STEP
    stock = blend.stock._replace(mass_fraction=blend.stock.mass_fraction + step)
    other = Blend(blend.alkali, stock, blend.fats, blend.liquids, fat_mass=blend.fat_mass)
    base = Blend(blend.alkali, blend.stock, blend.fats, blend.liquids, fat_mass=blend.fat_mass)
    brought = other.beside - base.beside
    return (brought - other.enthalpy(t, share) + base.enthalpy(t, share)) / step


def freezing_point(water: float, dissolved: float) -> float:
    """Where ice begins to form in a liquid, by the ideal depression of the freezing point [°C].

    Args:
        water: mass fraction of water [-], above 0.
        dissolved: amount of all that is dissolved in one mass of the liquid [mol/kg].

    Raises:
        OutOfRange: there is no water.

    References:
        .. [1] F. M. Raoult's law for dilute solutions; in strong ones, as honey, it tells no more than that they do not
           freeze.

    Examples:
        >>> round(freezing_point(0.87, 0.25), 2)
        -0.53
    """
    require("water", water, 1e-6, 1.0, "without water there is no ice")
    return -CRYOSCOPIC * dissolved / water


def unfrozen_share(freezing: float, t: float) -> float:
    """Share of the water of a frozen liquid that is liquid yet, at most [-].

    What freezes out leaves the rest stronger, so that at a temperature t a share of freezing / t stays liquid; and
    protein holds some water too, which never freezes: so a tenth at least is allowed for.

    Args:
        freezing: where ice begins to form [°C].
        t: temperature [°C], at or below 0.

    References:
        .. [1] ideal depression of the freezing point; that proteins hold water back is from memory.

    Examples:
        >>> unfrozen_share(-0.53, -18.0), unfrozen_share(-4.9, -9.8)
        (0.1, 0.5)
    """
    if freezing == 0.0:
        return 0.0
    if t < freezing:
        return max(_HELD_BACK, freezing / t)
    return _HELD_BACK if freezing > _DILUTE else 1.0


_HELD_BACK: Final = 0.1
"""Share of the water of a frozen liquid that stays liquid at least [-] (that proteins hold some is from memory; how
much is a guess on the safe side)."""
_DILUTE: Final = -1.0
"""[°C]; what begins to freeze above this is mostly water, and frozen where somebody says so (assumed)."""
