"""Solutions of one alkali, water and ice poured together: what they come to, and how near to boiling on the way.

Enthalpies have the zero of `service.chemistry.enthalpy`. In the plane of strength and enthalpy every mixture of some
solutions, in whatever proportion, lies within the polygon that has them for corners (the enthalpy-concentration
diagram): at each strength the hottest that any part can get lies on its upper edge. So one walk along that edge finds
the highest temperature and the least distance to boiling for every order of pouring.

References:
    .. [1] balance of masses and enthalpies; the enthalpy-concentration diagram, as W. L. McCabe, Trans. AIChE 31 (1935)
       129-169, drew it for caustic soda (from memory).
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from service.chemistry import enthalpy as heats
from service.chemistry.enthalpy import at_strength
from service.chemistry.equilibrium import Amounts, State, boil_down, settle
from service.chemistry.mixing_path import summit
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import ROUNDING, require, straight_root
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width
from service.chemistry.water import ice_enthalpy

_GRID: Final = 0.025
"""Distance of the strengths tried [-] (numerical); between neighbours the temperature changes by a few kelvins."""
_STEP: Final = 1e-4
"""Half the distance of strengths that a slope is taken over, and the least that two are apart [-] (numerical)."""
_KELVIN: Final = 1.0
"""What a distance to boiling counts as nothing against [K] (numerical)."""


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


class Meeting(NamedTuple):
    """Two of the parts where they meet, in the proportion in which something is at its worst."""

    first: int
    """Index of one of the parts."""
    second: int
    """Index of the other; the same where the worst is a part as it is."""
    share: float
    """Mass of the first in the mass of both [-]."""
    mass_fraction: float
    """Of hydroxide, of both [-]."""
    temperature: float
    """Of both, had nothing boiled [°C]."""


class Hottest(NamedTuple):
    """The worst of all the ways in which parts can meet."""

    boiling_margin: float
    """Least distance to the lower end of the boiling point at 1 atm [K]."""
    nearest: Meeting
    """Where that is."""
    temperature: float
    """Highest temperature, capped at boiling [°C]."""
    at: Meeting
    """Where that is."""


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

    The order does not matter for what it comes to; see `hottest` for the way there. While ice remains the liquid lies
    on its freezing line. The heat of melting crystals of a hydrate is not counted: a solution that holds some gets
    less warm.

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


def hottest(alkali: Alkali, parts: Sequence[Part]) -> Hottest:
    """The worst of all the ways in which some parts can meet, in whatever order and proportion.

    Args:
        alkali: NaOH or KOH.
        parts: as for `blend`; their masses do not matter.

    Raises:
        OutOfRange: as `blend` does.

    References:
        .. [1] as the module has it: a mixture lies on the line between its parts.

    Examples:
        >>> found = hottest("NaOH", [Part(1.0, 0.5, 25.0), Part(9.0, 0.0, 25.0)])
        >>> round(found.temperature, 1), round(found.nearest.mass_fraction, 2)
        (58.5, 0.24)
    """
    points = [(one.mass_fraction, part_enthalpy(alkali, one), i) for i, one in enumerate(parts)]
    corners = upper_edge(points)
    ends = _corners(parts, corners)
    found = [(distance_to_boiling(alkali, one.mass_fraction, one.temperature), one) for one in ends]
    for a, b in pairwise(corners):
        found += _along(alkali, a, b)
    margin, nearest = min(found, key=lambda pair: pair[0])
    capped = [(min(one.temperature, boiling_point(alkali, one.mass_fraction)), one) for _, one in found]
    temperature, at = max(capped, key=lambda pair: pair[0])
    return Hottest(margin, nearest, temperature, at)


def upper_edge(points: Sequence[tuple[float, float, int]]) -> list[tuple[float, float, int]]:
    """Corners of the upper edge of the polygon round some points, from the weakest to the strongest.

    Args:
        points: strength [-], enthalpy [J/kg] and a number of each.
    """
    edge: list[tuple[float, float, int]] = []
    for w, h, i in sorted(points):
        if edge and edge[-1][0] == w:
            edge.pop()  # of one strength the hottest counts, which comes last
        while len(edge) > 1 and _below(edge[-2], edge[-1], (w, h)):
            edge.pop()
        edge.append((w, h, i))
    return edge


def _below(a: tuple[float, float, int], b: tuple[float, float, int], c: tuple[float, float]) -> bool:
    """Whether b lies on or below the line from a to c."""
    return (b[1] - a[1]) * (c[0] - a[0]) <= (c[1] - a[1]) * (b[0] - a[0])


def _grid(low: float, high: float) -> list[float]:
    """Strengths between two, at the same places whatever they are, so that their heats are found once."""
    first, last = math.floor(low / _GRID) + 1, math.ceil(high / _GRID)
    return [i * _GRID for i in range(first, last)]


def _corners(parts: Sequence[Part], corners: Sequence[tuple[float, float, int]]) -> list[Meeting]:
    """The parts as they are; ice is nowhere near boiling, and its heat is none of a liquid."""
    return [
        Meeting(i, i, 1.0, parts[i].mass_fraction, parts[i].temperature)
        for _, _, i in corners
        if not parts[i].ice or len(corners) == 1
    ]


def _between(alkali: Alkali, a: tuple[float, float, int], b: tuple[float, float, int], w: float) -> Meeting:
    """Where two parts meet at a strength between theirs; frozen mixtures count as 0 °C, far from boiling."""
    share = (b[0] - w) / (b[0] - a[0])
    h = share * a[1] + (1.0 - share) * b[1]
    liquid = at_strength(alkali, w)
    t = liquid.temperature(h) if h > liquid.enthalpy(0.0) else 0.0
    return Meeting(a[2], b[2], share, w, t)


def _along(alkali: Alkali, a: tuple[float, float, int], b: tuple[float, float, int]) -> list[tuple[float, Meeting]]:
    """Two parts at strengths between theirs, and their distances to boiling: where it is hottest, nearest, and about.

    What boils is the hotter the stronger it is, so the strength at which it boils no more is tried, too.
    """
    met: dict[float, tuple[float, Meeting]] = {}

    def meet(w: float) -> tuple[float, Meeting]:
        if w not in met:
            one = _between(alkali, a, b, w)
            met[w] = distance_to_boiling(alkali, w, one.temperature), one
        return met[w]

    def temperature(w: float) -> float:
        return meet(w)[1].temperature

    def nearness(w: float) -> float:
        return -meet(w)[0]

    def over(w: float) -> float:
        return temperature(w) - boiling_point(alkali, w)

    if b[0] - a[0] <= 4.0 * _STEP:
        return []  # as good as one strength: the parts themselves are the worst
    inner = [w for w in _grid(a[0], b[0]) if a[0] + _STEP < w < b[0] - _STEP] or [0.5 * (a[0] + b[0])]
    row = [a[0], *inner, b[0]]
    for height in (temperature, nearness):
        best = max(range(1, len(inner) + 1), key=lambda i: height(row[i]))
        places = row[best - 1], row[best], row[best + 1]  # beside an end the highest may lie between the two
        summit(height, places, (height(places[0]), height(places[1]), height(places[2])))
    if min(margin for margin, _ in met.values()) < 0.0:
        for here, after in pairwise(row):
            if over(here) > 0.0 > over(after):
                straight_root(over, (here, over(here)), (after, over(after)), _KELVIN)
    return [pair for w, pair in met.items() if w not in {a[0], b[0]}]


def distance_to_boiling(alkali: Alkali, w: float, t: float) -> float:
    """Distance of a solution, hot or cold, to the lower end of its boiling point at 1 atm [K].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: its temperature, had nothing boiled [°C].

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] as `service.chemistry.vapour_pressure.boiling_point_half_width`.
    """
    return boiling_point(alkali, w) - boiling_point_half_width(alkali, w) - t


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
