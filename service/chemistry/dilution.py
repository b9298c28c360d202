"""Pouring water into a caustic solution: how warm they get together, and how near any part of them comes to boiling.

Where water and solution meet they mix in every proportion before they are one, and some proportions are nearer to
boiling than the whole will be. So the distance from boiling is sought over all of them.
"""

from collections.abc import Callable
from functools import lru_cache
from typing import Final, NamedTuple

from service.chemistry import water as waters
from service.chemistry.enthalpy import EXTENDED_RANGE, Strength, at_strength
from service.chemistry.meeting import distance_to_boiling
from service.chemistry.mixing_path import summit
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require

_PROPORTIONS: Final = 20
"""Proportions tried [-] (numerical); between neighbours the temperature changes by some kelvins."""


class Dilution(NamedTuple):
    """What comes of pouring water into a solution, nothing lost and nothing boiled off."""

    temperature: float
    """Of the whole [°C]."""
    hottest: float
    """Highest on the way from the solution to the whole [°C]; never below either of the two."""
    boiling_margin: float
    """Least distance to the lower end of the boiling point at 1 atm over every proportion of the two [K]."""


def dilute(alkali: Alkali, stock: tuple[float, float, float], water: tuple[float, float]) -> Dilution:
    """Temperatures of a solution into which water is poured, by the balance of enthalpies.

    The heat of melting crystals is not counted: a solution that holds some gets less warm.

    Args:
        alkali: NaOH or KOH.
        stock: mass, above 0 [kg]; mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50; temperature [°C].
        water: mass, above 0 [kg]; temperature, 0 to 100 [°C].

    Raises:
        OutOfRange: an argument is outside these ranges, or the solution outside -28 to 200 °C.

    References:
        .. [1] as `service.chemistry.enthalpy` and `service.chemistry.vapour_pressure`.

    Examples:
        >>> found = dilute("NaOH", (2.0, 0.5, 25.0), (1.0, 25.0))
        >>> round(found.temperature, 1)
        57.8
    """
    mass, w, t = stock
    water_mass, water_t = water
    require("mass", mass, 1e-12, 1e9, "there must be a solution")
    require("water", water_mass, 1e-12, 1e9, "there must be water")
    require("temperature", t, *EXTENDED_RANGE, "heats of solutions reach no further")
    require("water_temperature", water_t, 0.0, 100.0, "liquid water at 1 atm")
    meeting = _meeting(alkali, w, t, water_t)
    whole = mass / (mass + water_mass)
    temperature = meeting.mixed(whole)
    hottest = max(temperature, t, water_t, meeting.peak if meeting.peak_share > whole else temperature)
    return Dilution(temperature, hottest, min(meeting.margin, distance_to_boiling(alkali, whole * w, temperature)))


class _Meeting:
    """A solution and water in every proportion, however much there is of them."""

    def __init__(self, alkali: Alkali, w: float, t: float, water_t: float) -> None:
        self.alkali, self.w = alkali, w
        self.own, self.added = at_strength(alkali, w).enthalpy(t), waters.enthalpy(water_t)
        # The ends are proportions, too: of hot water and cool solution the water itself is nearest to boiling.
        shares = [i / _PROPORTIONS for i in range(_PROPORTIONS + 1)]
        warmth = [water_t, *(self.mixed(share) for share in shares[1:-1]), t]
        near = [-distance_to_boiling(alkali, share * w, here) for share, here in zip(shares, warmth, strict=True)]
        self.peak_share, self.peak = _highest(self.mixed, warmth)
        self.margin = -_highest(self._nearness, near)[1]

    def mixed(self, share: float) -> float:
        """Temperature with this share of solution in the whole."""
        return Strength(self.alkali, share * self.w).temperature(share * self.own + (1.0 - share) * self.added)

    def _nearness(self, share: float) -> float:
        """The distance from boiling with its sign turned, so that the highest is the nearest."""
        return -distance_to_boiling(self.alkali, share * self.w, self.mixed(share))


_meeting: Final = lru_cache(maxsize=256)(_Meeting)
"""Kept, since a workshop draws from the same stock for many batches."""


def _highest(height: Callable[[float], float], heights: list[float]) -> tuple[float, float]:
    """Place and height of the highest of a curve, sought between the neighbours of the best proportion."""
    best = max(range(_PROPORTIONS + 1), key=heights.__getitem__)
    best = min(max(best, 1), _PROPORTIONS - 1)  # beside an end the highest may lie just inside of it
    around = heights[best - 1], heights[best], heights[best + 1]
    places = (best - 1) / _PROPORTIONS, best / _PROPORTIONS, (best + 1) / _PROPORTIONS
    return summit(height, places, around)
