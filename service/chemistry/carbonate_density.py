"""Density of caustic that holds carbonate, and the hydroxide that a density leaves room for beside it.

Apparent volumes add up [1]_: the water, the hydroxide and the carbonate each take the volume that they have in a
solution of all that is dissolved together. That of the hydroxide is the one its own density has at that strength, so
that without carbonate nothing changes; that of carbonate is Laliberté's.

References:
    .. [1] M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760 (rule of mixing, and figures of Na2CO3 and K2CO3).
"""

import math
from typing import Final

from service.chemistry import density as densities
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require, rising_root
from service.chemistry.water import density as water_density
from service.reference import tables

_TABLE: Final = tables.read("laliberte_2009.csv")
CARBONATE_OF: Final[dict[Alkali, str]] = {"NaOH": "Na2CO3", "KOH": "K2CO3"}
_FIGURES: Final = {alkali: _TABLE.select(solute=of, property="density") for alkali, of in CARBONATE_OF.items()}
_LIMITS: Final = {alkali: _TABLE.select(solute=of, property="density limit") for alkali, of in CARBONATE_OF.items()}


def source_range_ends(alkali: Alkali) -> float:
    """Mass fraction up to which solutions of the carbonate were measured [-].

    Args:
        alkali: NaOH or KOH.
    """
    return _LIMITS[alkali][2]


def carbonate_volume(alkali: Alkali, dissolved: float, t: float) -> float:
    """Apparent volume of carbonate in a solution [m3/kg]; less than nothing where it draws the water together.

    Args:
        alkali: NaOH or KOH.
        dissolved: mass fraction of all that is dissolved, above 0 [-].
        t: temperature, 0 to 100 [°C].

    References:
        .. [1] as the module.
    """
    c0, c1, c2, c3, c4 = _FIGURES[alkali]
    return (dissolved + c2 + c3 * t) / ((c0 * dissolved + c1) * math.exp(1e-6 * (t + c4) ** 2))


def _volume(alkali: Alkali, dissolved: float, carbonate: float, t: float) -> float:
    """Volume of the solution [m3/kg]: that of hydroxide alone, with carbonate in the place of some of it."""
    alone = 1.0 / densities.density(alkali, dissolved, t)
    of_hydroxide = (alone - (1.0 - dissolved) / water_density(t)) / dissolved
    return alone + carbonate * (carbonate_volume(alkali, dissolved, t) - of_hydroxide)


def density_with_carbonate(alkali: Alkali, hydroxide: float, carbonate: float, t: float) -> float:
    """Density of a solution of hydroxide and its carbonate [kg/m3].

    Beyond `source_range_ends` of all that is dissolved the smooth formula is still evaluated.

    Args:
        alkali: NaOH or KOH.
        hydroxide: mass fraction of hydroxide, at least 0 [-].
        carbonate: mass fraction of Na2CO3 or K2CO3, at least 0; together as `densities.density` has it [-].
        t: temperature, 0 to 100 [°C].

    Raises:
        OutOfRange: an argument outside its range.

    References:
        .. [1] as the module.

    Examples:
        >>> round(density_with_carbonate("NaOH", 0.2, 0.01, 20.0), 1)
        1228.5
    """
    require("hydroxide", hydroxide, 0.0, 1.0, "a mass fraction")
    require("carbonate", carbonate, 0.0, 1.0, "a mass fraction")
    require("temperature", t, 0.0, 100.0, "solutions of carbonate were measured between freezing and boiling of water")
    if not carbonate:
        return densities.density(alkali, hydroxide, t)
    return 1.0 / _volume(alkali, hydroxide + carbonate, carbonate, t)


def hydroxide_beside_carbonate(alkali: Alkali, rho: float, carbonate: float, t: float) -> float:
    """Mass fraction of hydroxide [-] of a solution of known density that holds some carbonate.

    Args:
        alkali: NaOH or KOH.
        rho: density of the solution [kg/m3].
        carbonate: mass fraction of Na2CO3 or K2CO3 in it, at least 0 [-].
        t: temperature, 0 to 100 [°C].

    Raises:
        OutOfRange: no such solution is as light, or as heavy.

    References:
        .. [1] as the module.
    """
    require("carbonate", carbonate, 0.0, densities.HIGHEST_MASS_FRACTION[alkali], "as much as can be dissolved")
    require("temperature", t, 0.0, 100.0, "solutions of carbonate were measured between freezing and boiling of water")
    if not carbonate:
        return densities.mass_fraction_from_density(alkali, rho, t)
    dissolved = rising_root(
        lambda c: 1.0 / _volume(alkali, c, carbonate, t),
        rho,
        carbonate,
        densities.HIGHEST_MASS_FRACTION[alkali],
        quantity="density",
        reason="from carbonate alone to the strongest solution",
    )
    return dissolved - carbonate


def over_reading(alkali: Alkali, rho: float, carbonate: float, t: float) -> float:
    """By how much the mass fraction of hydroxide comes out too high where carbonate is counted as hydroxide [-].

    Args:
        alkali: NaOH or KOH.
        rho: density of the solution [kg/m3].
        carbonate: mass fraction of Na2CO3 or K2CO3 in it, at least 0 [-].
        t: temperature, 0 to 100 [°C].

    Raises:
        OutOfRange: no such solution is as light, or as heavy.

    References:
        .. [1] as the module.

    Examples:
        >>> round(over_reading("NaOH", 1228.5, 0.01, 20.0), 4)
        0.0099
    """
    alone = densities.mass_fraction_from_density(alkali, rho, t)
    return alone - hydroxide_beside_carbonate(alkali, rho, carbonate, t)
