"""Water, ice and steam: density, heat, viscosity and saturation.

The zero of enthalpy is liquid water at 25 °C, as in `service.chemistry.enthalpy`.
"""

import math
from functools import lru_cache
from typing import Final

from service.chemistry.ranges import require
from service.reference import tables

_KELL: Final = tables.read("kell_1975.csv")
_K0, _K1, _K2, _K3, _K4, _K5 = _KELL.select(part="numerator")
_L0, _L1 = _KELL.select(part="denominator")
_HEAT: Final = tables.read("alkali_enthalpy.csv")
_HEAT_CAPACITY: Final = tuple(1e3 * c for c in _HEAT.select(substance="water", part="heat_capacity"))
_C0, _C1, _C2, _C3, _C4, _C5 = _HEAT_CAPACITY
_ICE_0, _ICE_1, _ICE_2 = (1e3 * c for c in _HEAT.select(substance="ice", part="enthalpy [kJ/kg]"))
_STEAM: Final = tuple(1e3 * c for c in _HEAT.select(substance="steam", part="enthalpy [kJ/kg]"))
_VISCOSITY: Final = tables.read("laliberte_2009.csv").select(solute="water", property="viscosity")
_REGION_4: Final = tables.read("iapws_if97_region4.csv").select()
ZERO: Final = 25.0
"""Where the enthalpy of water, and of solid hydroxide, is 0 [°C] (exact, a convention)."""
COLDEST_ICE: Final = -30.0
"""Down to which the enthalpy of ice was fitted [°C] (numerical)."""
_STEAM_FROM: Final = 100.0
"""Where the polynomial of steam counts from [°C] (numerical)."""

CRITICAL_PRESSURE: Final = 22.064e6
"""[Pa] (IAPWS R7-97(2012), in the package iapws 1.5.5: seen-secondary)."""
CRITICAL_TEMPERATURE: Final = 373.946
"""[°C] (IAPWS R7-97(2012), in the package iapws 1.5.5: seen-secondary)."""
LOWEST_PRESSURE: Final = 611.2
"""The saturation pressure at 0 °C, where region 4 ends [Pa] (computed, and rounded down)."""


def _polynomial(coefficients: tuple[float, ...], x: float) -> float:
    total = 0.0
    for c in reversed(coefficients):
        total = total * x + c
    return total


def density(t: float) -> float:
    """Density of liquid water at 1 atm [kg/m3], to 0.01 % against IAPWS-IF97.

    Args:
        t: temperature [°C], 0 to 150.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] G. S. Kell, J. Chem. Eng. Data 20 (1975) 97-105.

    Examples:
        >>> round(density(20.0), 2)
        998.2
    """
    require("temperature", t, 0.0, 150.0, "Kell's equation for water holds from 0 to 150 °C")
    # Written out, since mixings and coolings ask it hundreds of times.
    return (((((_K5 * t + _K4) * t + _K3) * t + _K2) * t + _K1) * t + _K0) / (_L1 * t + _L0)


def heat_capacity(t: float) -> float:
    """Isobaric heat capacity of liquid water [J/(kg K)], to 0.04 % against IAPWS-IF97.

    Args:
        t: temperature [°C], 0 to 150.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] polynomial of fifth order fitted to IAPWS R7-97(2012).
    """
    require("temperature", t, 0.0, 150.0, "the heat capacity of water was fitted from 0 to 150 °C")
    x = t / 100.0
    return ((((_C5 * x + _C4) * x + _C3) * x + _C2) * x + _C1) * x + _C0


@lru_cache(maxsize=32)
def enthalpy(t: float) -> float:
    """Enthalpy of liquid water relative to 25 °C [J/kg]: the integral of `heat_capacity`.

    Args:
        t: temperature [°C], 0 to 150.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] polynomial of fifth order fitted to IAPWS R7-97(2012), integrated.
    """
    require("temperature", t, 0.0, 150.0, "the heat capacity of water was fitted from 0 to 150 °C")
    x = t / 100.0
    return 100.0 * sum(c * (x**k - (ZERO / 100.0) ** k) / k for k, c in enumerate(_HEAT_CAPACITY, start=1))


def viscosity(t: float) -> float:
    """Viscosity of liquid water [Pa s], to 1 % against IAPWS 2008.

    Args:
        t: temperature [°C], 0 to 100.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] M. Laliberté, J. Chem. Eng. Data 52 (2007) 321-335.
    """
    require("temperature", t, 0.0, 100.0, "the viscosity of water was compared from 0 to 100 °C")
    return viscosity_beyond(t)


def viscosity_beyond(t: float) -> float:
    """The equation of `viscosity` without its range [Pa s]: correlations of solutions are fitted with it beyond.

    Args:
        t: temperature [°C], above -28.

    References:
        .. [1] as `viscosity`.
    """
    a, b, c, d = _VISCOSITY
    return 1e-3 * (t + a) / ((b * t + c) * t + d)


def saturation_pressure(t: float) -> float:
    """Vapour pressure of water [Pa].

    Args:
        t: temperature [°C], 0 to 373.946.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] IAPWS R7-97(2012), region 4, equation 30.

    Examples:
        >>> round(saturation_pressure(100.0))
        101418
    """
    require("temperature", t, 0.0, CRITICAL_TEMPERATURE, "liquid water and vapour coexist only there")
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _REGION_4
    kelvin = t + 273.15
    theta = kelvin + n9 / (kelvin - n10)
    a = (theta + n1) * theta + n2
    b = (n3 * theta + n4) * theta + n5
    c = (n6 * theta + n7) * theta + n8
    return 1e6 * (2.0 * c / (math.sqrt(b * b - 4.0 * a * c) - b)) ** 4


def saturation_temperature(p: float) -> float:
    """Boiling point of water [°C].

    Args:
        p: pressure [Pa], 611.2 to 22.064e6.

    Raises:
        OutOfRange: p outside that range.

    References:
        .. [1] IAPWS R7-97(2012), region 4, equation 31.

    Examples:
        >>> round(saturation_temperature(101325.0), 2)
        99.97
    """
    require("pressure", p, LOWEST_PRESSURE, CRITICAL_PRESSURE, "liquid water and vapour coexist only there")
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _REGION_4
    beta = math.sqrt(math.sqrt(p * 1e-6))
    e = (beta + n3) * beta + n6
    f = (n1 * beta + n4) * beta + n7
    g = (n2 * beta + n5) * beta + n8
    d = 2.0 * g / (-f - math.sqrt(f * f - 4.0 * e * g))
    s = n10 + d
    return 0.5 * (s - math.sqrt(s * s - 4.0 * (n9 + n10 * d))) - 273.15


def ice_enthalpy(t: float) -> float:
    """Enthalpy of ice relative to liquid water at 25 °C [J/kg], to 0.05 kJ/kg; −438.3 kJ/kg at 0 °C.

    Args:
        t: temperature [°C], −30 to 0.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] IAPWS R10-06(2009), Equation of State 2006 for H2O Ice Ih, with IAPWS-95 for the liquid,
           evaluated with the package iapws 1.5.5 and fitted by a parabola.
    """
    require("temperature", t, COLDEST_ICE, 0.0, "the enthalpy of ice was fitted from -30 to 0 °C")
    return (_ICE_2 * t + _ICE_1) * t + _ICE_0


def ice_temperature(h: float) -> float:
    """Temperature of ice of this enthalpy [°C]; the inverse of `ice_enthalpy`.

    Args:
        h: enthalpy relative to liquid water at 25 °C [J/kg], of ice from −30 to 0 °C.

    Raises:
        OutOfRange: h outside that range.

    References:
        .. [1] as `ice_enthalpy`.
    """
    require("enthalpy", h, ice_enthalpy(COLDEST_ICE), _ICE_0, "the enthalpy of ice was fitted from -30 to 0 °C")
    beyond = h - _ICE_0
    return max(2.0 * beyond / (_ICE_1 + math.sqrt(_ICE_1 * _ICE_1 + 4.0 * _ICE_2 * beyond)), COLDEST_ICE)


def steam_enthalpy(t: float) -> float:
    """Enthalpy of steam at 1 atm relative to liquid water at 25 °C [J/kg], to 0.1 kJ/kg.

    A solution boils above 100 °C, so the steam that leaves it is superheated.

    Args:
        t: temperature [°C], 99.9 to 200.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] IAPWS R7-97(2012), region 2, evaluated with the package iapws 1.5.5 and fitted by a cubic.
    """
    require("temperature", t, 99.9, 200.0, "steam at 1 atm was fitted from its saturation to 200 °C")
    return _polynomial(_STEAM, t - _STEAM_FROM)
