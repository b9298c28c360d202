"""Where solutions, water and ice meet: how hot any part of them can get, and how near to boiling.

In the plane of strength and enthalpy every mixture of some solutions, in whatever proportion, lies within the polygon
that has them for corners (the enthalpy-concentration diagram): at each strength the hottest that any part can get lies
on its upper edge. So one walk along that edge finds the highest temperature and the least distance to boiling for every
order of pouring.

References:
    .. [1] the enthalpy-concentration diagram, as W. L. McCabe, Trans. AIChE 31 (1935) 129-169, drew it for caustic soda
       (from memory).
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from service.chemistry.blending import Part, part_enthalpy
from service.chemistry.enthalpy import at_strength
from service.chemistry.mixing_path import summit
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import straight_root
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width

_GRID: Final = 0.025
"""Distance of the strengths tried [-] (numerical); between neighbours the temperature changes by a few kelvins."""
_APART: Final = 1e-4
"""Least distance of two strengths that are tried [-] (numerical)."""
_KELVIN: Final = 1.0
"""What a distance to boiling counts as nothing against [K] (numerical)."""


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

    if b[0] - a[0] <= 4.0 * _APART:
        return []  # as good as one strength: the parts themselves are the worst
    inner = [w for w in _grid(a[0], b[0]) if a[0] + _APART < w < b[0] - _APART] or [0.5 * (a[0] + b[0])]
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


def meet(alkali: Alkali, parts: Sequence[Part], first: int, second: int, share: float) -> Meeting:
    """Two parts of different strength where they meet in a proportion.

    Args:
        alkali: NaOH or KOH.
        parts: as for `blend`; their masses do not matter.
        first: index of one of them.
        second: index of the other.
        share: mass of the first in the mass of both [-], 0 to 1.

    Raises:
        OutOfRange: as `blend` does.

    References:
        .. [1] as the module has it: a mixture lies on the line between its parts.

    Examples:
        >>> met = meet("NaOH", [Part(1.0, 0.5, 25.0), Part(9.0, 0.0, 25.0)], 0, 1, 0.56)
        >>> round(met.mass_fraction, 2), round(met.temperature, 1)
        (0.28, 58.2)
    """
    a, b = ((parts[i].mass_fraction, part_enthalpy(alkali, parts[i]), i) for i in (first, second))
    return _between(alkali, a, b, share * a[0] + (1.0 - share) * b[0])


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
