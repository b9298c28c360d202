"""Density of solutions of caustic soda (Olsson 1997) and caustic potash (Laliberté 2009).

Olsson's formula misses the density of pure water by +0.23 % at 0 °C to -0.11 % at 40 °C, so that 0 degrees
Twaddell would not be water. Below 5 % it is therefore drawn towards Kell's water, by a share that falls
smoothly from all at 0 to none at 5 %; from 5 % up it is the formula as published.
"""

import math
from functools import lru_cache
from itertools import pairwise
from typing import Final

from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import ROUNDING, highest_below, require, require_mass_fraction, rising_root
from service.chemistry.water import density as water_density
from service.reference import tables

_OLSSON: Final = tables.read("olsson_1997.csv")
_K: Final = _OLSSON.select(property="density", name="k")
_L: Final = _OLSSON.select(property="density", name="l")
_M: Final = _OLSSON.select(property="density", name="m")
_VALIDITY: Final = tables.read("olsson_1997_validity.csv")
_BELOW: Final = _VALIDITY.select("below", property="density")
_HIGHEST: Final = _VALIDITY.select("highest_mass_fraction", property="density")
_LALIBERTE: Final = tables.read("laliberte_2009.csv")
_KOH: Final = _LALIBERTE.select(solute="KOH", property="density")
_COLDEST_KOH, _HOTTEST_KOH, _STRONGEST_KOH = _LALIBERTE.select(solute="KOH", property="density limit")

HIGHEST_MASS_FRACTION: Final[dict[Alkali, float]] = {"NaOH": 0.55, "KOH": 0.50}
"""Strongest solutions that densities are reckoned for [-] (assumed: the formulas run on smoothly)."""
HIGHEST_TEMPERATURE: Final[dict[Alkali, float]] = {"NaOH": 150.0, "KOH": 120.0}
"""Hottest solutions that densities are reckoned for [°C] (assumed: the formulas run on smoothly)."""
_WHY_STRENGTH: Final[dict[Alkali, str]] = {
    "NaOH": "densities of caustic soda are reckoned up to 55 %",
    "KOH": "densities of caustic potash are reckoned up to 50 %",
}
_WHY_TEMPERATURE: Final[dict[Alkali, str]] = {
    "NaOH": "densities of caustic soda are reckoned from 0 to 150 °C",
    "KOH": "densities of caustic potash are reckoned from 0 to 120 °C",
}

_SPREAD: Final = ((0.0, 0.0035), (40.0, 0.0015), (100.0, 0.0015), (120.0, 0.0065), (150.0, 0.0065))
"""Temperatures [°C] and 95 % half widths of the NaOH densities, relative [-], linear between (assumed).
They hold every deviation from the handbook densities, which are International Critical Tables in Perry, from memory:
0.30 % at 0 °C, 0.23 at 15, 0.19 at 20, 0.11 at 40 and 0.09 at 100 °C, and from a table at 0.5 to 6 mol/kg, 0.14 % at
85 °C. Above 100 °C there is no table, only Laliberté's correlation to 120 °C: to 30 % it is up to 0.63 % lighter there,
and held; stronger it is up to 1.8 % denser, as it is at 80 to 100 °C, where the tables contradict it. Nothing above
120 °C."""
_SPREAD_KOH: Final = ((0.0, 0.003), (15.0, 0.002), (20.0, 0.002), (40.0, 0.003), (120.0, 0.003))
"""Temperatures [°C] and 95 % half widths of the KOH densities, relative [-], linear between (assumed).
Two tables, at 15 and 18 °C, lie within 0.13 %: Perry's, from memory, and one without origin. The CRC Handbook at 20 °C
is not held: 0.65 % lower at 40 to 50 %. Colder and warmer there is nothing but the correlation itself, so that 0.1 % is
added, as where its author claims nothing."""
_SPREAD_BEYOND_SOURCE: Final = 0.001
"""By how much it is wider where the authors claim nothing, relative [-] (assumed)."""
DRAWN_TO_WATER_BELOW: Final = 0.05
"""Mass fraction of NaOH below which the density is drawn towards that of water [-] (assumed)."""


def density(alkali: Alkali, w: float, t: float) -> float:
    """Density of the solution [kg/m3].

    Outside the published range of the correlation but inside the range given here the smooth formula is
    still evaluated; `in_source_range` tells, and `density_half_width` is wider there.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: temperature [°C], NaOH 0 to 150, KOH 0 to 120.

    Raises:
        OutOfRange: w or t outside that range.

    References:
        .. [1] NaOH: H. Olsson, A. Jernqvist, G. Aly, Int. J. Thermophys. 18 (1997) 779-793.
        .. [2] KOH: M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760.

    Examples:
        >>> round(density("NaOH", 0.5, 20.0), 1)
        1522.9
    """
    w = require_mass_fraction(w, HIGHEST_MASS_FRACTION[alkali], _WHY_STRENGTH[alkali])
    require("temperature", t, 0.0, HIGHEST_TEMPERATURE[alkali], _WHY_TEMPERATURE[alkali])
    return _caustic_soda(w, t) if alkali == "NaOH" else _laliberte(w, t)


def _caustic_soda(w: float, t: float) -> float:
    rho = _olsson(w, t)
    if w < DRAWN_TO_WATER_BELOW:
        share = (1.0 - w / DRAWN_TO_WATER_BELOW) ** 2
        rho += share * (water_density(t) - _olsson(0.0, t))
    return rho


def _olsson(w: float, t: float) -> float:
    k, m, n = _at_strength(w)
    return k + (m + n * t) * t


@lru_cache(maxsize=256)
def _at_strength(w: float) -> tuple[float, float, float]:
    """Coefficients of 1, t and t² at a strength: a stock keeps its strength while its temperature changes."""
    root = math.sqrt(1.0 - w)
    k = m = n = 0.0
    for one, other, third in zip(reversed(_K), reversed(_L), reversed(_M), strict=True):
        k, m, n = k * root + one, m * root + other, n * root + third
    return k, m, n


def _laliberte(w: float, t: float) -> float:
    c0, c1, c2, c3, c4 = _KOH
    apparent = (c0 * w + c1) * math.exp(1e-6 * (t + c4) ** 2) / (w + c2 + c3 * t)
    return 1.0 / ((1.0 - w) / water_density(t) + w / apparent)


def in_source_range(alkali: Alkali, w: float, t: float) -> bool:
    """Whether the correlation's authors claim this strength and temperature.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-].
        t: temperature [°C].

    References:
        .. [1] Olsson et al. 1997: to 20 % below 10 °C, 30 % below 20 °C, 50 % below 60 °C, 60 % below 70 °C,
           70 % below 150 °C. Laliberté 2009, KOH: 4 to 95 °C, to 51.9 %.
    """
    if alkali == "KOH":
        return _COLDEST_KOH - ROUNDING <= t <= _HOTTEST_KOH + ROUNDING and 0.0 <= w <= _STRONGEST_KOH
    if not (0.0 <= t < _BELOW[-1] and w >= 0.0):
        return False
    return w <= highest_below(t, _BELOW, _HIGHEST)


def relative_half_width(alkali: Alkali, w: float, t: float) -> float:
    """Half the width of the 95 % interval of `density`, over the density [-].

    NaOH 0.35 % at 0 °C, 0.25 % at 20 °C, 0.15 % from 40 to 100 °C, 0.65 % from 120 °C up; KOH 0.2 % from 15 to
    20 °C, 0.3 % at 0 °C and from 40 °C up; both 0.1 % more outside the source's range. Judged from the deviations
    against handbook densities. For KOH one table (CRC) is 0.65 % lower than two others at 40 to 50 % and is not
    covered.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `density`.
        t: temperature [°C], as for `density`.

    References:
        .. [1] International Critical Tables 3 (1928) 79, as recalled from Perry's handbook.
        .. [2] CRC Handbook of Chemistry and Physics, 102nd ed. (2021), densities at 20 °C.
    """
    spreads = _SPREAD if alkali == "NaOH" else _SPREAD_KOH
    spread = spreads[-1][1]
    for (t0, s0), (t1, s1) in pairwise(spreads):
        if t <= t1:
            spread = s0 + (s1 - s0) * (t - t0) / (t1 - t0)
            break
    return spread if in_source_range(alkali, w, t) else spread + _SPREAD_BEYOND_SOURCE


def density_half_width(alkali: Alkali, w: float, t: float) -> float:
    """Half the width of the 95 % interval of `density` [kg/m3].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `density`.
        t: temperature [°C], as for `density`.

    Raises:
        OutOfRange: as `density` does.

    References:
        .. [1] as `relative_half_width`.
    """
    return relative_half_width(alkali, w, t) * density(alkali, w, t)


def mass_fraction_from_density(alkali: Alkali, rho: float, t: float) -> float:
    """Mass fraction of hydroxide [-] of the solution that has this density; the inverse of `density`.

    Args:
        alkali: NaOH or KOH.
        rho: density [kg/m3].
        t: temperature [°C], as for `density`.

    Raises:
        OutOfRange: t out of range, or no solution in the range of `density` is as light or as heavy.

    References:
        .. [1] as `density`.
    """
    require("temperature", t, 0.0, HIGHEST_TEMPERATURE[alkali], _WHY_TEMPERATURE[alkali])
    formula = _caustic_soda if alkali == "NaOH" else _laliberte
    return rising_root(
        lambda w: formula(w, t),
        rho,
        0.0,
        HIGHEST_MASS_FRACTION[alkali],
        quantity="density",
        reason=f"from water to the strongest solution: {_WHY_STRENGTH[alkali]}",
    )
