"""Solutions of one alkali, water and ice poured together: what they come to.

Enthalpies have the zero of `service.chemistry.enthalpy`. How near to boiling they come on the way there,
`service.chemistry.meeting` tells.

References:
    .. [1] balance of masses and enthalpies.
"""

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from service.chemistry import enthalpy as heats
from service.chemistry.enthalpy import at_strength
from service.chemistry.equilibrium import Amounts, State, boil_down, settle
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import ROUNDING, require
from service.chemistry.vapour_pressure import boiling_point
from service.chemistry.water import ice_enthalpy

_STEP: Final = 1e-4
"""Half the distance of strengths that a slope is taken over [-] (numerical)."""


class Part(NamedTuple):
    """A solution, water (strength 0) or ice that is poured."""

    mass: float
    """kg."""
    mass_fraction: float
    """Of hydroxide [-]; 0 for water and ice."""
    temperature: float
    """°C."""
    ice: bool = False


class Blend(NamedTuple):
    """What some parts come to, nothing lost."""

    poured: Amounts
    """Masses that went in [kg]."""
    heat: float
    """Enthalpy of all that went in [J]."""
    state: State
    """What they come to rest as; capped at boiling, with what left as steam gone from its strength."""
    steam: float
    """Water that boils off [kg]."""
    heat_released: float
    """Heat of diluting at 25 °C [J]; positive is given off."""
    beyond_data: bool
    """Whether so much boils off that the solution gets stronger than the data reach; steam is then not known."""

    @property
    def mass(self) -> float:
        """What is left, ice included [kg]."""
        return self.poured.total - self.steam

    @property
    def mass_fraction(self) -> float:
        """Hydroxide in all that is left, ice included [-]."""
        return self.poured.hydroxide / self.mass


def part_enthalpy(alkali: Alkali, part: Part) -> float:
    """Enthalpy of a part [J/kg].

    Args:
        alkali: its hydroxide.
        part: strength NaOH 0 to 0.55, KOH 0 to 0.50; temperature -28 to 200 °C, of ice -30 to 0 °C.

    Raises:
        OutOfRange: strength or temperature outside these ranges.

    References:
        .. [1] as `service.chemistry.enthalpy` and `service.chemistry.water`.
    """
    if part.ice:
        return ice_enthalpy(part.temperature)
    require("temperature", part.temperature, *heats.EXTENDED_RANGE, "heats of solutions reach no further")
    return at_strength(alkali, part.mass_fraction).enthalpy(part.temperature)


def amounts_of(parts: Sequence[Part]) -> Amounts:
    """Hydroxide and water in some parts [kg]; sums do not depend on their order.

    Args:
        parts: what is poured, masses above 0 [kg].
    """
    hydroxide = math.fsum(one.mass * one.mass_fraction for one in parts)
    return Amounts(hydroxide, math.fsum(one.mass * (1.0 - one.mass_fraction) for one in parts))


def blend(alkali: Alkali, parts: Sequence[Part]) -> Blend:
    """Pour solutions of one alkali, water and ice together and let them come to rest, by the balance of enthalpies.

    The order does not matter for what it comes to; see `service.chemistry.meeting` for the way there. While ice remains
    the liquid lies on its freezing line. The heat of melting crystals of a hydrate is not counted: a solution that
    holds some gets less warm.

    Args:
        alkali: NaOH or KOH.
        parts: one or more; masses above 0 [kg], strengths NaOH 0 to 0.55, KOH 0 to 0.50 [-], temperatures -28 to
            200 °C, of ice -30 to 0 °C.

    Raises:
        OutOfRange: a part outside these ranges.

    References:
        .. [1] balance of masses and enthalpies, with `service.chemistry.enthalpy` and `equilibrium`.

    Examples:
        >>> whole = blend("NaOH", [Part(2.0, 0.5, 25.0), Part(1.0, 0.0, 25.0)])
        >>> round(whole.state.temperature, 1)
        57.8
    """
    poured = amounts_of(parts)
    require("mass", poured.total, 1e-12, 1e9, "there must be something to pour")
    heat = math.fsum(one.mass * part_enthalpy(alkali, one) for one in parts)
    liquid = at_strength(alkali, poured.strength)
    apart = math.fsum(one.mass * at_strength(alkali, one.mass_fraction).at_25 for one in parts)
    released = 0.0 if alike(parts, poured.strength) else apart - poured.total * liquid.at_25
    state, steam, beyond = settled(alkali, poured, heat)
    return Blend(poured, heat, state, steam, released, beyond)


def alike(parts: Sequence[Part], w: float) -> bool:
    """Whether all parts are as strong as their sum but for rounding, so that nothing is diluted.

    Args:
        parts: what is poured.
        w: mass fraction of hydroxide in all of it [-].
    """
    return all(abs(one.mass_fraction - w) <= ROUNDING for one in parts)


def settled(alkali: Alkali, poured: Amounts, heat: float) -> tuple[State, float, bool]:
    """What masses and heat come to rest as: the state, the water that boiled off [kg], whether that left the data.

    Args:
        alkali: NaOH or KOH.
        poured: masses [kg].
        heat: enthalpy of everything [J].

    References:
        .. [1] as `blend`.
    """
    liquid = at_strength(alkali, poured.strength)
    state = settle(alkali, liquid, poured, heat)
    if state.temperature is None:
        return state, 0.0, False
    boiling = boiling_point(alkali, liquid.mass_fraction)
    if state.temperature <= boiling + ROUNDING:
        return state, 0.0, False
    down = boil_down(alkali, poured, heat)
    if down is None:
        return State(boiling, 0.0, liquid.mass_fraction, None), 0.0, True
    left = poured.total - down.steam_mass
    return State(down.temperature, 0.0, poured.hydroxide / left, None), down.steam_mass, False


def enthalpy_slope(alkali: Alkali, w: float, t: float) -> float:
    """How the enthalpy of the solution changes with its strength at one temperature [J/kg per mass fraction].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: temperature [°C], -28 to 200.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] difference quotient of `service.chemistry.enthalpy.enthalpy` over 0.0002.
    """
    low, high = max(0.0, w - _STEP), min(heats.HIGHEST_MASS_FRACTION[alkali], w + _STEP)
    return (at_strength(alkali, high).enthalpy(t) - at_strength(alkali, low).enthalpy(t)) / (high - low)


def enthalpy_bend(alkali: Alkali, w: float, t: float, reach: float) -> float:
    """By how much the enthalpy lies higher on either side of a strength, on the mean of both sides [J/kg].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: temperature [°C], -28 to 200.
        reach: distance to either side [-]; the shorter side is taken where the data end.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] second difference of `service.chemistry.enthalpy.enthalpy`.

    Examples:
        >>> round(enthalpy_bend("NaOH", 0.3, 25.0, 0.01), 1)
        272.5
    """
    shorter = min(reach, w, heats.HIGHEST_MASS_FRACTION[alkali] - w)
    if shorter <= 0.0:
        return 0.0
    low, high = at_strength(alkali, w - shorter).enthalpy(t), at_strength(alkali, w + shorter).enthalpy(t)
    bend = 0.5 * (low + high) - at_strength(alkali, w).enthalpy(t)
    return bend * (reach / shorter) ** 2


def balance_half_width(alkali: Alkali, parts: Sequence[Part], after: Part, *, warmth: bool = True) -> float:
    """Half the width of the 95 % interval of the heat that a balance of enthalpies is closed with [J].

    The heat of diluting of each part, and the heat capacities, whose model errs alike before and after. Parts are as
    uncertain as their sum, since what they come to is the same for all.

    Args:
        alkali: NaOH or KOH.
        parts: what is poured.
        after: the liquid that it comes to.
        warmth: whether with the heat capacities; without, of the heat of diluting at 25 °C.

    Raises:
        OutOfRange: a strength beyond the data.

    References:
        .. [1] as `service.chemistry.enthalpy.dilution_half_width` and `enthalpy_half_width`.
    """
    liquids = [one for one in parts if not one.ice]
    of_diluting = math.fsum(
        one.mass * one.mass_fraction * heats.dilution_half_width(alkali, one.mass_fraction, after.mass_fraction)
        for one in liquids
    )
    if not warmth:
        return of_diluting
    before = math.fsum(_warmth_half_width(alkali, one) for one in liquids)
    return math.hypot(of_diluting, before - _warmth_half_width(alkali, after))


def _warmth_half_width(alkali: Alkali, part: Part) -> float:
    """Of the heat that a liquid holds over 25 °C [J]; colder than that it is negative."""
    liquid = at_strength(alkali, part.mass_fraction)
    return part.mass * liquid.capacity_spread * (liquid.enthalpy(part.temperature) - liquid.at_25)
