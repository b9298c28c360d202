"""Density of a soap batter as it is poured: what its parts take up side by side, and the air that stirring leaves.

Volumes are added up as if mixing changed none [1]_, but for what caustic and water lose as they mix. Fats: by the
relative densities that standards state, with the thermal expansion of vegetable oils [2]_.

References:
    .. [1] Y. Choi and M. R. Okos, Effects of temperature and composition on the thermal properties of foods (1986), as
       printed in the ASHRAE Handbook - Refrigeration (SI) 2006, chapter 9: 1/density = sum of mass fraction / density.
    .. [2] Codex Alimentarius CXS 210-1999, table 2 and CXS 33-1981 (relative densities of fats); the expansion, 0.68
       kg/m3 for each kelvin, is from memory.
"""

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from service.chemistry.ranges import require
from service.reference import tables

COLDEST: Final = 0.0
HOTTEST: Final = 100.0
"""Temperatures [°C] at which a batter or a liquid fat is reckoned with (assumed: there is water in it)."""
_PER_KELVIN: Final = 0.68
"""By how much the density of a liquid fat falls with temperature [kg/(m3 K)] [2]_ (from memory)."""
_ALL: Final = (20.0, 900.0, 936.0)
"""Temperature [°C], and the least and the highest density at it [kg/m3] that the standards' limits of fats from coconut
oil to linseed oil lie within [2]_ (seen-reprint)."""
_TABLE: Final = tables.read("fat_densities.csv")
_OTHERS: Final = {row["fat"]: (float(row["temperature"]), float(row["low"]), float(row["high"])) for row in _TABLE.rows}
LEAST_AIR: Final = 0.0
USUAL_AIR: Final = 0.03
MOST_AIR: Final = 0.06
"""Volume fractions of air that stirring leaves in a batter [-] (common practice, no source: a stick blender kept under
the surface leaves little, and a whisk more)."""


class BatterPart(NamedTuple):
    """A part of a batter: its mass [kg], its density [kg/m3] and the 95 % half-width of that."""

    mass: float
    density: float
    half_width: float = 0.0


class BatterDensity(NamedTuple):
    """Density of a batter and the ends of its 95 % interval [kg/m3]."""

    density: float
    low: float
    high: float


class FatDensity(NamedTuple):
    """Density of a liquid fat and its 95 % half-width [kg/m3]."""

    density: float
    half_width: float


def fat_density(fat: str, t: float) -> FatDensity:
    """Density of a liquid fat: that of its own where it is known to differ, else that of all fats [kg/m3].

    Args:
        fat: its identifier in the catalogue; any other text is a fat like most.
        t: temperature, 0 to 100 [°C].

    Raises:
        OutOfRange: outside that range.
    """
    require("temperature", t, COLDEST, HOTTEST, "fats are taken as liquid, and to expand evenly, from 0 to 100 °C")
    at, low, high = _OTHERS.get(fat, _ALL)
    return FatDensity((low + high) / 2 - _PER_KELVIN * (t - at), (high - low) / 2)


def batter_density(parts: Sequence[BatterPart], air: float = USUAL_AIR, contraction: float = 0.0) -> BatterDensity:
    """Density of what all parts make together, with air in it [kg/m3].

    The air errs as a rectangle from `LEAST_AIR` to `MOST_AIR`; the parts err independently of it and of each other.

    Args:
        parts: masses at least 0 and not all 0 [kg]; densities above 0, half-widths at least 0 [kg/m3].
        air: volume fraction of air, 0 to 0.06 [-].
        contraction: volume that parts lose as they mix, at least 0 and less than half of what they take up side by
            side [m3].

    Raises:
        OutOfRange: outside these ranges.
    """
    require("air", air, LEAST_AIR, MOST_AIR, "more air than stirring leaves")
    for part in parts:
        require("mass", part.mass, 0.0, math.inf, "a mass is not negative")
        require("density", part.density, math.ulp(0.0), math.inf, "a density is above nothing")
    mass = math.fsum(part.mass for part in parts)
    require("mass", mass, math.ulp(0.0), math.inf, "a batter has a mass")
    side_by_side = math.fsum(part.mass / part.density for part in parts)
    require("contraction", contraction, 0.0, side_by_side / 2, "mixing takes away a few per cent")
    volume = side_by_side - contraction
    density = mass / volume * (1 - air)
    by_parts = math.hypot(*(part.mass / part.density**2 * part.half_width / volume for part in parts))
    low = density * (1 - math.hypot(by_parts, (MOST_AIR - air) / (1 - air)))
    high = density * (1 + math.hypot(by_parts, (air - LEAST_AIR) / (1 - air)))
    return BatterDensity(density, low, high)
