"""Viscosity of caustic solutions (Laliberté 2009)."""

import math
from functools import lru_cache
from typing import Final

from service.chemistry import water
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require, require_mass_fraction
from service.reference import tables

_TABLE: Final = tables.read("laliberte_2009.csv")
_COEFFICIENTS: Final[dict[Alkali, tuple[float, ...]]] = {
    "NaOH": _TABLE.select(solute="NaOH", property="viscosity"),
    "KOH": _TABLE.select(solute="KOH", property="viscosity"),
}
_LIMITS: Final[dict[Alkali, tuple[float, ...]]] = {
    "NaOH": _TABLE.select(solute="NaOH", property="viscosity limit"),
    "KOH": _TABLE.select(solute="KOH", property="viscosity limit"),
}

RANGE: Final[dict[Alkali, tuple[float, float]]] = {
    "NaOH": (_LIMITS["NaOH"][0], _LIMITS["NaOH"][1]),
    "KOH": (_LIMITS["KOH"][0], _LIMITS["KOH"][1]),
}
"""Temperatures between which they were fitted [°C]."""
RELATIVE_HALF_WIDTH: Final = 0.12
"""95 % half width, relative [-] (assumed): against the CRC Handbook (20 °C) the deviation is -9.1 (at 4 %) to +2.9 %
for NaOH to 40 %, -5.9 to +8.2 % for KOH to 50 %."""


def viscosity(alkali: Alkali, w: float, t: float) -> float:
    """Viscosity of the solution [Pa s].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.56, KOH 0 to 0.519.
        t: temperature [°C], NaOH 12.5 to 70, KOH -14.1 to 40.

    Raises:
        OutOfRange: w or t outside that range.

    References:
        .. [1] M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760.

    Examples:
        >>> round(viscosity("NaOH", 0.5, 20.0) * 1e3, 1)
        81.5
    """
    lowest, highest, strongest = _LIMITS[alkali]
    w = require_mass_fraction(w, strongest, "the viscosities that were fitted end there (Laliberté 2009)")
    require("temperature", t, lowest, highest, "the viscosities that were fitted end there (Laliberté 2009)")
    upper, v4, lower = _at_strength(alkali, w)
    pure = water.viscosity_beyond(t)
    return float(pure ** (1.0 - w) * (1e-3 * math.exp(upper / (v4 * t + 1.0) - lower)) ** w)


@lru_cache(maxsize=256)
def _at_strength(alkali: Alkali, w: float) -> tuple[float, float, float]:
    """What does not change with temperature: a stock keeps its strength while it cools."""
    v1, v2, v3, v4, v5, v6 = _COEFFICIENTS[alkali]
    return float(v1 * w**v2 + v3), v4, math.log(v5 * w**v6 + 1.0)


def viscosity_half_width(alkali: Alkali, w: float, t: float) -> float:
    """Half the width of the 95 % interval of `viscosity` [Pa s]: 12 % of it.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `viscosity`.
        t: temperature [°C], as for `viscosity`.

    Raises:
        OutOfRange: as `viscosity` does.

    References:
        .. [1] judged from the deviations against the CRC Handbook, 102nd ed. (2021), at 20 °C.
    """
    return RELATIVE_HALF_WIDTH * viscosity(alkali, w, t)
