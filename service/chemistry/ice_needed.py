"""How much of a mixing's water must be ice, and how much solid a vessel takes, so that it stays below a temperature.

With a share s of the solid in, and all ice melted, the heat that is too much for the temperature limit T is

    X(s) = H_contents + s H_solid - m(s) h(w(s), T) - m_inert c_inert (T - 25)

where H_contents is that of the contents with liquid water in the place of the ice. Masses, and with them m and w, do
not depend on how much of the water is ice, and each kilogram of ice takes off the same heat. So the ice that is
needed is the greatest X along the way over the heat that a kilogram takes off: no iteration, and the very balance that
`service.chemistry.mixing` solves for the temperature.
"""

import math
from collections.abc import Callable
from typing import Final, NamedTuple

from service.chemistry import water as waters
from service.chemistry.equilibrium import INERT_HEAT_CAPACITY, liquid_enthalpy
from service.chemistry.mixing_path import Vessel
from service.chemistry.mixing_records import Charge, Ice, Solid
from service.chemistry.ranges import require
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width

COLDEST_LIMIT: Final = 0.0
"""°C; below it ice may remain, and the balance is another one."""
HOTTEST_LIMIT: Final = 150.0
_WHY_LIMIT: Final = "below 0 °C ice remains, and above 150 °C all of it boils"
_STEPS: Final = 16
_REFINED: Final = 40


class Needed(NamedTuple):
    """Ice that keeps a mixing below its limit."""

    mass: float
    """kg, what has melted of it counted; below 0 none is needed, and more than the water is more than there is;
    infinite where the ice takes nothing off."""
    share: float
    """Share of the solid that is in where the limit is met."""
    by_boiling: bool
    """Whether it is boiling that sets the limit there, which comes before the temperature asked for."""


def heat_taken_off(ice: Ice, water_temperature: float) -> float:
    """Heat that ice takes off in the place of as much water [J/kg].

    Args:
        ice: its temperature [°C] and the share of it that has melted; its mass does not matter.
        water_temperature: of the water whose place it takes [°C], 0 to 100.

    References:
        .. [1] enthalpies of ice and water as in `service.chemistry.water`.
    """
    melted = ice.melted_share
    h = melted * waters.enthalpy(0.0) + (1.0 - melted) * waters.ice_enthalpy(ice.temperature)
    return waters.enthalpy(water_temperature) - h


def ice_needed(
    solid: Solid,
    contents: Charge,
    limit: float,
    taken_off: float,
    *,
    enthalpy_shift: float = 0.0,
    boiling_shift: float = 0.0,
    clearance: float = 0.0,
) -> Needed:
    """Ice in the place of water that keeps a mixing at or below a temperature, and below boiling.

    Args:
        solid: the solid.
        contents: what it is added to, with liquid water where ice may take its place.
        limit: highest temperature [°C], 0 to 150.
        taken_off: heat that a kilogram of ice takes off in the place of water [J/kg], see `heat_taken_off`; 0 where
            all of it has melted and the water is as cold.
        enthalpy_shift: as for `service.chemistry.mixing.mix` [-].
        boiling_shift: half widths of the 95 % interval by which the boiling point is taken lower [-].
        clearance: distance to that boiling point that is kept [K], 0 to 50.

    Raises:
        OutOfRange: what `mix` would raise, or a limit or a clearance out of range.

    References:
        .. [1] balance of enthalpies, see the module.

    Examples:
        >>> from service.chemistry.mixing_records import Water
        >>> off = heat_taken_off(Ice(1.0), 20.0)
        >>> half = ice_needed(Solid("NaOH", 1.0, 20.0), Charge(Water(1.0, 20.0)), 90.0, off)
        >>> round(half.mass, 4), round(half.share, 2)
        (0.3754, 0.83)
    """
    require("limit", limit, COLDEST_LIMIT, HOTTEST_LIMIT, _WHY_LIMIT)
    require("clearance", clearance, 0.0, 50.0, "a distance to boiling")
    excess = _excess(Vessel(solid, contents, enthalpy_shift), limit, boiling_shift, clearance)
    share, (heat, by_boiling) = _greatest(excess)
    if taken_off > 0.0:
        return Needed(heat / taken_off, share, by_boiling)
    return Needed(math.inf if heat > 0.0 else 0.0, share, by_boiling)


def most_solid(
    solid: Solid, contents: Charge, limit: float, *, enthalpy_shift: float = 0.0, boiling_shift: float = 0.0
) -> float:
    """Share of a solid that contents take before they get to a temperature, or to boiling [-]; 1 where all of it.

    Args:
        solid: the solid.
        contents: what it is added to; ice among it counts by its heat, so it must have melted at the limit.
        limit: highest temperature [°C], 0 to 150.
        enthalpy_shift: as for `service.chemistry.mixing.mix` [-].
        boiling_shift: as for `ice_needed` [-].

    Raises:
        OutOfRange: as `ice_needed`.

    References:
        .. [1] as `ice_needed`.
    """
    require("limit", limit, COLDEST_LIMIT, HOTTEST_LIMIT, _WHY_LIMIT)
    excess = _excess(Vessel(solid, contents, enthalpy_shift), limit, boiling_shift)
    before = 0.0
    if excess(before)[0] > 0.0:
        return 0.0
    for place in range(1, _STEPS + 1):
        here = place / _STEPS
        if excess(here)[0] > 0.0:
            for _ in range(_REFINED):
                middle = 0.5 * (before + here)
                before, here = (before, middle) if excess(middle)[0] > 0.0 else (middle, here)
            return before
        before = here
    return 1.0


def _excess(
    vessel: Vessel, limit: float, boiling_shift: float, clearance: float = 0.0
) -> Callable[[float], tuple[float, bool]]:
    """Heat that is too much for the limit [J], and whether boiling sets it, as a function of the share."""
    alkali = vessel.alkali

    def excess(share: float) -> tuple[float, bool]:
        amounts = vessel.masses(share)
        liquid = vessel.liquid(share)
        boiling = boiling_point(alkali, liquid.mass_fraction)
        if boiling_shift:
            boiling -= boiling_shift * boiling_point_half_width(alkali, liquid.mass_fraction)
        boiling -= clearance
        t = min(limit, boiling)
        held = amounts.solution * liquid_enthalpy(liquid, t, vessel.shift)
        held += amounts.inert * INERT_HEAT_CAPACITY * (t - 25.0)
        return vessel.heat(share) - held, boiling < limit

    return excess


def _greatest(excess: Callable[[float], tuple[float, bool]]) -> tuple[float, tuple[float, bool]]:
    """The greatest excess and its share: over a grid, then by golden sections between the neighbours of the best."""
    grid = [(excess(place / _STEPS), place) for place in range(_STEPS + 1)]
    best, place = max(grid, key=lambda pair: (pair[0][0], -pair[1]))
    low, high = max(place - 1, 0) / _STEPS, min(place + 1, _STEPS) / _STEPS
    golden = 0.6180339887498949
    a, b = high - golden * (high - low), low + golden * (high - low)
    at_a, at_b = excess(a), excess(b)
    for _ in range(_REFINED):
        if high - low < 1e-6:
            break
        if at_a[0] >= at_b[0]:
            high, b, at_b = b, a, at_a
            a = high - golden * (high - low)
            at_a = excess(a)
        else:
            low, a, at_a = a, b, at_b
            b = low + golden * (high - low)
            at_b = excess(b)
    found, share = max((best, place / _STEPS), (at_a, a), (at_b, b), key=lambda pair: pair[0][0])
    return share, found
