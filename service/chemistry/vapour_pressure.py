"""Vapour pressure of water over caustic solutions, and their boiling points (Olsson 1997, Balej 1985)."""

import math
from functools import lru_cache
from itertools import pairwise
from typing import Final

from service.chemistry.molar_masses import ALKALI, Alkali
from service.chemistry.ranges import highest_below, require, require_mass_fraction
from service.chemistry.water import saturation_pressure, saturation_temperature
from service.reference import tables

_OLSSON: Final = tables.read("olsson_1997.csv")
_A1: Final = tuple(reversed(_OLSSON.select(property="pressure", name="k")))
_A2: Final = tuple(reversed(_OLSSON.select(property="pressure", name="l")))
_A3: Final = tuple(reversed(_OLSSON.select(property="pressure", name="m")))
_VALIDITY: Final = tables.read("olsson_1997_validity.csv")
_BELOW: Final = _VALIDITY.select("below", property="pressure")
_HIGHEST: Final = _VALIDITY.select("highest_mass_fraction", property="pressure")
_BALEJ: Final = tables.read("balej_1985.csv")
_ADDED: Final[dict[Alkali, tuple[float, ...]]] = {
    "NaOH": _BALEJ.select(alkali="NaOH", term="A"),
    "KOH": _BALEJ.select(alkali="KOH", term="A"),
}
_FACTOR: Final[dict[Alkali, tuple[float, ...]]] = {
    "NaOH": _BALEJ.select(alkali="NaOH", term="B-1"),
    "KOH": _BALEJ.select(alkali="KOH", term="B-1"),
}
_BALEJ_LIMIT: Final[dict[Alkali, float]] = {"NaOH": 25.0, "KOH": 18.0}
"""To which the equation was fitted [mol/kg] (J. Balej, Int. J. Hydrogen Energy 10, 1985, 233-243, as told in a public
program: seen-secondary)."""

ATMOSPHERE: Final = 101325.0
"""[Pa] (exact, by definition)."""
HIGHEST_MASS_FRACTION: Final[dict[Alkali, float]] = {"NaOH": 0.55, "KOH": 0.50}
"""Strongest solutions that vapour pressures are reckoned for [-] (assumed: NaOH as for heats; KOH where Balej ends)."""
HIGHEST_TEMPERATURE: Final = 200.0
"""[°C] (the highest of both authors, seen-secondary)."""
LOWEST_BOILING_POINT: Final = 99.5
"""At 1 atm, below the lower end of every boiling point: that rises with the strength, from 99.6 °C for water [°C]
(computed, and rounded down)."""
_WHY_STRENGTH: Final[dict[Alkali, str]] = {
    "NaOH": "vapour pressures of caustic soda are reckoned up to 55 %",
    "KOH": "Balej's equation for caustic potash ends at 18 mol/kg, 50 %",
}
_WHY_TEMPERATURE: Final = "the vapour pressure equations hold from 0 to 200 °C"
_LN_KILO: Final = math.log(1000.0)
_LN_TEN: Final = math.log(10.0)
"""What the equations count pressures in [-] (exact: kPa, and powers of ten)."""
_LEAST_NAOH: Final = ((0.0, 0.3), (0.1, 0.3), (0.2, 0.5), (0.3, 1.3), (0.35, 2.0), (0.5, 2.0))
"""Mass fractions, and 95 % half widths of the boiling point of NaOH at least, linear between them [K] (assumed). More
is the disagreement of the two equations; but from 29 to 38 % both lie 1.0 to 1.6 K above Gerlach's boiling points
of 1887, from memory, from which they stray by at most 0.34 K up to 23 %."""
_GERLACH: Final = 100.0
"""What Gerlach's boiling points, from memory, tell is the activity near here; it is not known to be worse in the cold
[°C] (assumed)."""
_SPREAD_KOH: Final = ((0.0, 0.3), (0.2, 0.5), (0.3, 1.0), (0.4, 2.0), (0.45, 3.0), (0.5, 5.0))
"""Mass fractions, and 95 % half widths of the boiling point of KOH, linear between them [K] (assumed). It has one
equation only; judged from that author's NaOH equation, which drifts from Olsson's by 0.3 K at 30 %, 0.8 K at 40 % and
5 K at 50 %. Gerlach's boiling points, from memory, agree within 0.3 K to 40 %."""
_LEAST_OF_PRESSURE: Final = (0.01, 0.1)
"""Relative half width of vapour pressures at least, and by how much it rises with the mass fraction [-] (assumed)."""
_STRONGEST_KOH: Final = 0.5025
"""Mass fraction of KOH at 18 mol/kg [-] (computed from its molar mass, and rounded up)."""


def _olsson(w: float) -> tuple[float, float, float]:
    """A1, A2, A3 of ln(p/kPa) = (A1 + A2 t)/(t - A3)."""
    # Written out, since loops take twice the time; the paths of mixings ask for dozens.
    y = math.log(1.0 - w)
    a, b, c, d, e, f, g, h, i = _A1
    a1 = (((((((a * y + b) * y + c) * y + d) * y + e) * y + f) * y + g) * y + h) * y + i
    a, b, c, d, e, f, g, h, i, j, k = _A2
    a2 = (((((((((a * y + b) * y + c) * y + d) * y + e) * y + f) * y + g) * y + h) * y + i) * y + j) * y + k
    a, b, c, d, e, f, g, h, i, j, k = _A3
    a3 = (((((((((a * y + b) * y + c) * y + d) * y + e) * y + f) * y + g) * y + h) * y + i) * y + j) * y + k
    return a1, a2, a3


_olsson_again: Final = lru_cache(maxsize=64)(_olsson)
"""The same for pressures, where one strength is asked for at several temperatures."""


def _balej(alkali: Alkali, w: float) -> tuple[float, float]:
    """A and B of log10 p = A + B log10 p0, pressures in bar."""
    m = w / (ALKALI[alkali] * (1.0 - w))
    a, b, c = _ADDED[alkali]
    d, e, f = _FACTOR[alkali]
    return ((c * m + b) * m + a) * m, 1.0 + ((f * m + e) * m + d) * m


def _balej_pressure(alkali: Alkali, w: float, t: float) -> float:
    a, b = _balej(alkali, w)
    return 1e5 * math.exp(_LN_TEN * (a + b * math.log10(saturation_pressure(t) * 1e-5)))


def _balej_boiling_point(alkali: Alkali, w: float, pressure: float) -> float:
    a, b = _balej(alkali, w)
    return saturation_temperature(1e5 * math.exp(_LN_TEN * (math.log10(pressure * 1e-5) - a) / b))


def _balej_reach(w: float) -> float:
    """Strength at which the two equations for NaOH are compared: Balej's ends at 25 mol/kg, 50 %."""
    highest = _BALEJ_LIMIT["NaOH"] * ALKALI["NaOH"]
    return min(w, highest / (1.0 + highest))


def water_vapour_pressure(alkali: Alkali, w: float, t: float) -> float:
    """Partial pressure of water over the solution [Pa].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: temperature [°C], 0 to 200.

    Raises:
        OutOfRange: w or t outside that range.

    References:
        .. [1] NaOH: H. Olsson, A. Jernqvist, G. Aly, Int. J. Thermophys. 18 (1997) 779-793.
        .. [2] KOH: J. Balej, Int. J. Hydrogen Energy 10 (1985) 233-243, on the vapour pressure of water of
           IAPWS R7-97(2012).

    Examples:
        >>> round(water_vapour_pressure("NaOH", 0.5, 20.0))
        163
    """
    w = require_mass_fraction(w, HIGHEST_MASS_FRACTION[alkali], _WHY_STRENGTH[alkali])
    require("temperature", t, 0.0, HIGHEST_TEMPERATURE, _WHY_TEMPERATURE)
    if alkali == "KOH":
        return _balej_pressure(alkali, w, t)
    a1, a2, a3 = _olsson_again(w)
    return 1000.0 * math.exp((a1 + a2 * t) / (t - a3))


def water_vapour_pressure_half_width(alkali: Alkali, w: float, t: float) -> float:
    """Half the width of the 95 % interval of `water_vapour_pressure` [Pa].

    NaOH: the disagreement of Olsson and Balej (27 % at 50 %, 20 °C), or what that of Gerlach's boiling points comes
    to at 100 °C (8 % at 40 %), where that is more. KOH: the half width of the boiling point times the slope of the
    pressure. Both at least 1 % plus a tenth of the mass fraction (6 % at 50 %), since the two equations cross here
    and there and would then seem to be exact.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `water_vapour_pressure`.
        t: temperature [°C], as for `water_vapour_pressure`.

    Raises:
        OutOfRange: as `water_vapour_pressure` does.

    References:
        .. [1] as `water_vapour_pressure`; Balej also gives an equation for NaOH.
    """
    p = water_vapour_pressure(alkali, w, t)
    cooler = min(t if alkali == "KOH" else max(t, _GERLACH), HIGHEST_TEMPERATURE - 0.5)
    rise = water_vapour_pressure(alkali, w, cooler + 0.5) / water_vapour_pressure(alkali, w, cooler)
    relative = 2.0 * math.log(rise) * _between(_SPREAD_KOH if alkali == "KOH" else _LEAST_NAOH, w)
    if alkali == "NaOH":
        reach = _balej_reach(w)
        apart = abs(_balej_pressure(alkali, reach, t) / water_vapour_pressure(alkali, reach, t) - 1.0)
        relative = max(relative, apart)
    return p * max(relative, _LEAST_OF_PRESSURE[0] + _LEAST_OF_PRESSURE[1] * w)


@lru_cache(maxsize=256)
def boiling_point(alkali: Alkali, w: float, pressure: float = ATMOSPHERE) -> float:
    """Temperature at which the solution boils [°C].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        pressure: pressure of the air above it [Pa]; the result must lie between 0 and 200 °C.

    Raises:
        OutOfRange: w outside its range, or the boiling point outside 0 to 200 °C.

    References:
        .. [1] as `water_vapour_pressure`, solved for the temperature.

    Examples:
        >>> round(boiling_point("NaOH", 0.5), 1)
        146.4
    """
    w = require_mass_fraction(w, HIGHEST_MASS_FRACTION[alkali], _WHY_STRENGTH[alkali])
    require("pressure", pressure, 1.0, 2e6, "vapour pressures of caustic solutions from 0 to 200 °C")
    if alkali == "KOH":
        t = _balej_boiling_point(alkali, w, pressure)
    else:
        a1, a2, a3 = _olsson(w)
        logarithm = math.log(pressure) - _LN_KILO
        t = (a1 + logarithm * a3) / (logarithm - a2)
    require("boiling_point", t, 0.0, HIGHEST_TEMPERATURE, _WHY_TEMPERATURE)
    return t


@lru_cache(maxsize=256)
def boiling_point_half_width(alkali: Alkali, w: float, pressure: float = ATMOSPHERE) -> float:
    """Half the width of the 95 % interval of `boiling_point` [K].

    NaOH: the disagreement of Olsson and Balej (5 K at 50 %; beyond 50 %, where Balej ends, as at 50 %), at
    least 0.3 K to 10 %, 0.5 K at 20 %, 1.3 K at 30 % and 2 K from 35 % up, since Gerlach's boiling points [2]_ are up
    to 1.6 K lower. KOH: 0.3 K in water, 1 K at 30 %, 2 K at 40 %, 5 K at 50 % (judged, see the module).

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `boiling_point`.
        pressure: pressure of the air above it [Pa].

    Raises:
        OutOfRange: as `boiling_point` does.

    References:
        .. [1] as `water_vapour_pressure`.
        .. [2] G. T. Gerlach, Z. anal. Chem. 26 (1887) 413, as in the Smithsonian Physical Tables (from memory).
    """
    t = boiling_point(alkali, w, pressure)
    if alkali == "KOH":
        return _between(_SPREAD_KOH, w)
    reach = _balej_reach(w)
    ours = t if reach == w else boiling_point(alkali, reach, pressure)
    return max(abs(_balej_boiling_point(alkali, reach, pressure) - ours), _between(_LEAST_NAOH, w))


def _between(spreads: tuple[tuple[float, float], ...], w: float) -> float:
    for (w0, s0), (w1, s1) in pairwise(spreads):
        if w <= w1:
            return s0 + (s1 - s0) * (w - w0) / (w1 - w0)
    return spreads[-1][1]


def in_source_range(alkali: Alkali, w: float, t: float) -> bool:
    """Whether the equation's authors claim this strength and temperature.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-].
        t: temperature [°C]; for a boiling point, the boiling point.

    References:
        .. [1] Olsson et al. 1997: to 41.8 % below 20 °C, 50 % below 60 °C, 64.7 % below 70 °C, 70 % below
           150 °C, 80 % below 200 °C. Balej 1985, KOH: to 18 mol/kg, 0 to 200 °C.
    """
    if alkali == "KOH":
        return 0.0 <= t <= HIGHEST_TEMPERATURE and 0.0 <= w <= _STRONGEST_KOH
    if not (0.0 <= t < _BELOW[-1] and w >= 0.0):
        return False
    return w <= highest_below(t, _BELOW, _HIGHEST)
