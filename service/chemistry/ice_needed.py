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
from functools import cached_property, lru_cache
from typing import Final, NamedTuple

from service.chemistry import enthalpy as heats
from service.chemistry import water as waters
from service.chemistry.equilibrium import INERT_HEAT_CAPACITY, liquid_enthalpy, liquid_temperature
from service.chemistry.mixing_path import NEVER_BOILS, Vessel
from service.chemistry.mixing_records import Charge, Ice, Solid
from service.chemistry.ranges import require, rising_root
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width
from service.chemistry.water import ZERO

COLDEST_LIMIT: Final = 0.0
HOTTEST_LIMIT: Final = 150.0
"""Limits that ice is sought for [°C] (assumed: below ice may remain, above everything boils)."""
_WHY_LIMIT: Final = "below 0 °C ice remains, and above 150 °C all of it boils"
_STEPS: Final = 10
_REFINED: Final = 40
"""Parts of a way that are looked at, and steps of the search for its greatest excess [-] (numerical)."""
_FINE: Final = 1e-6
"""Share of the solid to which the place of the greatest excess is found; there it is flat [-] (numerical)."""
_LEAST: Final = 1e-9
_ROUNDING: Final = 1e-13
"""Shares below which there is nothing to seek, and what rounding may leave of a heat [-] (numerical)."""
_TURNS: Final = 8
_SAME: Final = 1e-2
"""Most turns, and by how much the last moves the peak [K]: the next would by a hundredth of the square (numerical)."""
_GOLDEN: Final = 0.3819660112501051
"""(3 - √5)/2, the smaller part of the golden section [-] (exact, to the digits of a float)."""


class Needed(NamedTuple):
    """Ice that keeps a mixing below its limit."""

    mass: float
    """kg, what has melted of it counted; below 0 none is needed, and more than the water is more than there is;
    infinite where the ice takes nothing off."""
    share: float
    """Share of the solid that is in where the limit is met."""
    by_boiling: bool
    """Whether it is boiling that sets the limit there, which comes before the temperature asked for."""


class Peak(NamedTuple):
    """The highest temperature of a mixing."""

    temperature: float
    """°C."""
    share: float
    """Share of the solid that is in then."""


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
    over = _over(solid, contents, enthalpy_shift, limit, (boiling_shift, clearance))
    share, heat = _greatest(over.heat, over.grid)
    by_boiling = over.by_boiling(share)
    if taken_off > 0.0:
        return Needed(heat / taken_off, share, by_boiling)
    return Needed(math.inf if heat > 0.0 else 0.0, share, by_boiling)


def solid_temperature_needed(
    solid: Solid,
    contents: Charge,
    limit: float,
    taken_off: float,
    *,
    enthalpy_shift: float = 0.0,
    boiling_shift: float = 0.0,
    clearance: float = 0.0,
) -> float | None:
    """How cold a solid has to be for a mixing to stay at or below a temperature, and below boiling [°C].

    What the solid brings is straight in its temperature, so that nothing has to be tried: at each share it is the heat
    that is too much over the heat capacity of what is in, and the coldest of them counts.

    Args:
        solid: the solid, at any temperature.
        contents: what it is added to, with liquid water in the place of ice.
        limit: highest temperature [°C], 0 to 150.
        taken_off: heat that all of the ice takes off in the place of water [J], 0 or more.
        enthalpy_shift: as for `service.chemistry.mixing.mix` [-].
        boiling_shift: as for `ice_needed` [-].
        clearance: as for `ice_needed` [K].

    Returns:
        The highest such temperature, above that of the solid where there is heat to spare; None where the contents
        alone are too hot, or where the heat capacity of so cold a solid is not known.

    Raises:
        OutOfRange: as `ice_needed`.

    References:
        .. [1] as `ice_needed`.
    """
    require("taken_off", taken_off, 0.0, 1e18, "ice takes heat off, and does not bring any")
    over = _over(solid, contents, enthalpy_shift, limit, (boiling_shift, clearance))
    if over.grid[0] > taken_off:
        return None
    inert = max(1.0 - solid.purity - solid.moisture, 0.0)
    per_mass = (solid.purity + solid.moisture) * heats.solid_heat_capacity(solid.alkali) + inert * INERT_HEAT_CAPACITY
    capacity = solid.mass_as_supplied * per_mass
    if capacity <= 0.0:
        return solid.temperature

    def too_warm(share: float, heat: float | None = None) -> float:
        share = max(share, _LEAST)  # with nothing in it bears on nothing how cold it is
        return ((over.heat(share) if heat is None else heat) - taken_off) / (share * capacity)

    grid = [too_warm(0.0), *(too_warm(place / _STEPS, heat) for place, heat in enumerate(over.grid) if place)]
    t = solid.temperature - _greatest(too_warm, grid)[1]
    return t if t >= heats.COLDEST_SOLID else None


def most_solid(
    solid: Solid,
    contents: Charge,
    limit: float,
    *,
    enthalpy_shift: float = 0.0,
    boiling_shift: float = 0.0,
    at_most: float = 1.0,
) -> float:
    """Share of a solid that contents take before they get to a temperature, or to boiling [-].

    Args:
        solid: the solid.
        contents: what it is added to; ice among it counts by its heat, so it must have melted at the limit.
        limit: highest temperature [°C], 0 to 150.
        enthalpy_shift: as for `service.chemistry.mixing.mix` [-].
        boiling_shift: as for `ice_needed` [-].
        at_most: the share that is answered where they take more [-], 0 to 1.

    Raises:
        OutOfRange: as `ice_needed`.

    References:
        .. [1] as `ice_needed`.
    """
    vessel = Vessel(solid, contents, enthalpy_shift)
    over = _Over(vessel, limit, boiling_shift).heat
    beyond = vessel.masses(1.0).strength > heats.HIGHEST_MASS_FRACTION[solid.alkali]
    before = 0.0
    if over(before) > 0.0:
        return 0.0
    while before < at_most:
        here = min(before + 1.0 / _STEPS, at_most)
        if beyond:
            vessel.liquid(here)  # raises where the data end; the limit may come before
        if over(here) > 0.0:
            share = rising_root(over, 0.0, before, here, quantity="share", reason="the excess changes its sign")
            return max(share - _ROUNDING, before)
        before = here
    return at_most


def peak_temperature(
    solid: Solid, contents: Charge, near: float, *, enthalpy_shift: float = 0.0, share: float | None = None
) -> Peak | None:
    """Highest temperature of a mixing that is liquid there [°C], and the share of the solid that is in then [-].

    The temperature of a share and the share of the greatest heat at a temperature are found in turn: where the one is
    highest the other is flat, so that two turns do.

    Args:
        solid: the solid.
        contents: what it is added to.
        near: a temperature near it to begin with [°C], 0 to 150.
        enthalpy_shift: as for `service.chemistry.mixing.mix` [-].
        share: a share near that of the peak [-], 0 to 1, where one is known.

    Returns:
        None where ice is left at the peak, or it comes near boiling: then `service.chemistry.mixing.mix` tells.

    Raises:
        OutOfRange: as `service.chemistry.mixing.mix`.

    References:
        .. [1] balance of enthalpies, see the module.

    Examples:
        >>> from service.chemistry.mixing_records import Water
        >>> found = peak_temperature(Solid("NaOH", 0.3, 20.0), Charge(Water(1.0, 10.0)), 60.0)
        >>> round(found.temperature, 2), round(found.share, 2)
        (79.11, 1.0)
    """
    require("near", near, COLDEST_LIMIT, HOTTEST_LIMIT, _WHY_LIMIT)
    vessel = Vessel(solid, contents, enthalpy_shift)
    vessel.liquid(1.0)
    t, place = near, share
    for _ in range(_TURNS):
        over = _heat_over_limit(vessel, t)
        place = (_greatest(over, _grid(over)) if place is None else _between(over, place, over(place)))[0]
        before, amounts = t, vessel.masses(place)
        t = liquid_temperature(vessel.liquid(place), amounts, vessel.heat(place), shift=enthalpy_shift, start=t)
        if not COLDEST_LIMIT <= t < NEVER_BOILS:
            return None
        if abs(t - before) < _SAME:
            return Peak(t, place)
    return None


@lru_cache(maxsize=8)
def _over(solid: Solid, contents: Charge, shift: float, limit: float, boiling: tuple[float, float]) -> "_Over":
    """The same mixing is asked for its ice, and then for how cold its solid had to be."""
    vessel = Vessel(solid, contents, shift)
    vessel.liquid(1.0)  # raises where it gets stronger than the data reach
    return _Over(vessel, limit, *boiling)


class _Over:
    """Heat that is too much for a limit, as a function of the share of the solid that is in."""

    def __init__(self, vessel: Vessel, limit: float, boiling_shift: float, clearance: float = 0.0) -> None:
        require("limit", limit, COLDEST_LIMIT, HOTTEST_LIMIT, _WHY_LIMIT)
        require("clearance", clearance, 0.0, 50.0, "a distance to boiling")
        self.vessel, self.limit, self.boiling_shift, self.clearance = vessel, limit, boiling_shift, clearance
        self.heat_over_limit = _heat_over_limit(vessel, limit)
        self.heat = self.heat_over_limit if limit + clearance < NEVER_BOILS else self._heat_over_either

    @cached_property
    def grid(self) -> list[float]:
        """The heat at equal steps."""
        return _grid(self.heat)

    def _boiling(self, w: float) -> float:
        """Where it is taken to boil, less the distance that is kept [°C]."""
        boiling = boiling_point(self.vessel.alkali, w) - self.clearance
        if self.boiling_shift:
            boiling -= self.boiling_shift * boiling_point_half_width(self.vessel.alkali, w)
        return boiling

    def _heat_over_either(self, share: float) -> float:
        """Too much for the limit, or for boiling where that comes before it [J]."""
        vessel = self.vessel
        amounts = vessel.masses(share)
        boiling = self._boiling(amounts.strength)
        if boiling >= self.limit:
            return self.heat_over_limit(share)
        held = amounts.solution * liquid_enthalpy(vessel.liquid(share), boiling, vessel.shift)
        held += amounts.inert * INERT_HEAT_CAPACITY * (boiling - ZERO)
        return vessel.heat(share) - held

    def by_boiling(self, share: float) -> bool:
        """Whether boiling comes before the limit."""
        if self.limit + self.clearance < NEVER_BOILS:
            return False
        return self._boiling(self.vessel.masses(share).strength) < self.limit


def _heat_over_limit(vessel: Vessel, limit: float) -> Callable[[float], float]:
    """Heat that is too much for a temperature [J] as a function of the share, without a look at boiling."""
    enthalpy = heats.isotherm(vessel.alkali, limit, vessel.shift)
    hydroxide, solution = vessel.hydroxide_before, vessel.hydroxide_before + vessel.water_before
    more_hydroxide, more_solution = vessel.hydroxide_added, vessel.hydroxide_added + vessel.water_added
    heat, more_heat = vessel.heat_before, vessel.heat_added
    more_heat -= vessel.inert_added * INERT_HEAT_CAPACITY * (limit - ZERO)

    def over(share: float) -> float:
        mass = solution + share * more_solution
        return heat + share * more_heat - mass * enthalpy((hydroxide + share * more_hydroxide) / mass)

    return over


def _grid(function: Callable[[float], float]) -> list[float]:
    return [function(place / _STEPS) for place in range(_STEPS + 1)]


def _greatest(function: Callable[[float], float], grid: list[float]) -> tuple[float, float]:
    """Where a function is greatest, and how great: over a grid, then between the neighbours of the best."""
    place = max(range(_STEPS + 1), key=grid.__getitem__)
    return _between(function, place / _STEPS, grid[place])


def _between(function: Callable[[float], float], x: float, at_x: float) -> tuple[float, float]:
    """The greatest between the neighbours of x: by parabolas, and golden sections where they do not close in (Brent).

    R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 5.
    """
    a, b = max(x - 1.0 / _STEPS, 0.0), min(x + 1.0 / _STEPS, 1.0)
    if x in (0.0, 1.0) and function(abs(x - _FINE)) <= at_x:
        return x, at_x  # at an end, and falling from there
    v = w = x
    at_v = at_w = at_x
    step = before = 0.0
    for _ in range(_REFINED):
        middle = 0.5 * (a + b)
        if abs(x - middle) <= 2.0 * _FINE - 0.5 * (b - a):
            break
        p = q = 0.0
        if abs(before) > _FINE:
            r, q = (x - w) * (at_x - at_v), (x - v) * (at_x - at_w)
            p, q = (x - v) * q - (x - w) * r, 2.0 * (q - r)
            p, q = (-p, q) if q > 0.0 else (p, -q)
        if q and abs(p) < abs(0.5 * q * before) and q * (a - x) < p < q * (b - x):
            before, step = step, p / q
            if x + step - a < 2.0 * _FINE or b - x - step < 2.0 * _FINE:
                step = math.copysign(_FINE, middle - x)
        else:
            before = (a if x >= middle else b) - x
            step = _GOLDEN * before
        u = x + (step if abs(step) >= _FINE else math.copysign(_FINE, step))
        at_u = function(u)
        if at_u >= at_x:
            a, b = (x, b) if u >= x else (a, x)
            v, w, x = w, x, u
            at_v, at_w, at_x = at_w, at_x, at_u
            continue
        a, b = (u, b) if u < x else (a, u)
        if at_u >= at_w or w == x:
            v, w, at_v, at_w = w, u, at_w, at_u
        elif at_u >= at_v or v in (x, w):
            v, at_v = u, at_u
    return x, at_x
