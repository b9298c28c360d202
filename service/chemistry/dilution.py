"""Pouring water into a caustic solution: how warm they get together, and how near any part of them comes to boiling.

Where water and solution meet they mix in every proportion before they are one, and some proportions are nearer to
boiling than the whole will be. So the distance from boiling is sought over all of them.
"""

from typing import Final, NamedTuple

from service.chemistry import water as waters
from service.chemistry.enthalpy import EXTENDED_RANGE, Strength, at_strength
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width

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
    own, added = at_strength(alkali, w).enthalpy(t), waters.enthalpy(water_t)

    def mixed(share: float) -> float:
        """Temperature with this share of solution in the whole."""
        return Strength(alkali, share * w).temperature(share * own + (1.0 - share) * added)

    whole = mass / (mass + water_mass)
    temperature = hottest = mixed(whole)
    margin = _margin(alkali, whole * w, temperature)
    for i in range(1, _PROPORTIONS + 1):
        share = i / _PROPORTIONS
        here = mixed(share)
        if share > whole and here > hottest:
            hottest = here
        margin = min(margin, _margin(alkali, share * w, here))
    return Dilution(temperature, max(hottest, t, water_t), margin)


def _margin(alkali: Alkali, w: float, t: float) -> float:
    return boiling_point(alkali, w) - boiling_point_half_width(alkali, w) - t
