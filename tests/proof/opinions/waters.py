"""Water, ice and steam: equations of IAPWS that ours were not made of."""

import math
from collections.abc import Callable, Iterator
from fractions import Fraction

from iapws import _Ice

from service.chemistry import water
from tests.proof.opinions.records import NONE, TEMPERATURE, Check, Ground, Opinion, Point, rows, steps
from tests.reference_cases.outside import IF97, if97

CRITICAL_KELVIN = 647.096
CRITICAL_PASCAL = 22.064e6
CRITICAL_DENSITY = 322.0
SR1 = "IAPWS SR1-86(1992), coefficients from memory"
_OfTemperature = Callable[[float], float]


def _tau_powers(part: str, kelvin: float) -> float:
    tau = 1.0 - kelvin / CRITICAL_KELVIN
    return sum(
        float(row["value"]) * math.pow(tau, Fraction(row["power"])) for row in rows("iapws_sr1_86.csv", part=part)
    )


def saturation_pressure(kelvin: float) -> float:
    """Wagner and Pruss [Pa]."""
    return float(CRITICAL_PASCAL * math.exp(CRITICAL_KELVIN / kelvin * _tau_powers("pressure", kelvin)))


def saturated_density(kelvin: float) -> float:
    """Of the liquid at saturation, Wagner and Pruss [kg/m3]."""
    return CRITICAL_DENSITY * (1.0 + _tau_powers("density", kelvin))


def _points(
    low: float, high: float, ours: _OfTemperature, relative: float, theirs: _OfTemperature, absolute: float = 0.0
) -> tuple[Point, ...]:
    return tuple(Point(t, 0.0, ours(t), absolute or relative * abs(ours(t)), theirs(t)) for t in steps(low, high, 13))


def _heat_capacity(t: float) -> float:
    return if97(t)["cp"] if t < 99.0 else if97(t, 0.5)["cp"]


def opinions() -> Iterator[Opinion]:
    """Of everything that the service takes from water."""
    yield Opinion(
        name="water-saturation-pressure",
        quantity="vapour pressure of water",
        unit="Pa",
        our_source="IAPWS R7-97(2012), region 4",
        their_source=SR1 + "; triple to critical point",
        shared="measurements; the equations have nothing in common",
        points=_points(0.01, 200.0, water.saturation_pressure, 2.5e-4, lambda t: saturation_pressure(t + 273.15)),
        explanation="Within 0.025 %, the uncertainty that IAPWS gives for either.",
        along=TEMPERATURE,
        curves=NONE,
        checks=(
            Check("pressure at 273.16 K [Pa]", saturation_pressure(273.16), 611.657, Ground.PUBLISHED, SR1, 1e-3),
            Check("pressure at 373.1243 K [Pa]", saturation_pressure(373.1243), 101325.0, Ground.PUBLISHED, SR1, 1.0),
        ),
        coded_here=True,
    )
    yield Opinion(
        name="water-density",
        quantity="density of water",
        unit="kg/m3",
        our_source="G. S. Kell, J. Chem. Eng. Data 20 (1975) 97-105, at 1 atm",
        their_source=SR1 + "; the liquid at saturation",
        shared="measurements; the equations have nothing in common",
        points=_points(0.01, 99.0, water.density, 1e-4, lambda t: saturated_density(t + 273.15)),
        explanation="Within 0.01 %; 1 atm compresses water by 0.005 %.",
        along=TEMPERATURE,
        curves=NONE,
        checks=(
            Check("density at 273.16 K [kg/m3]", saturated_density(273.16), 999.789, Ground.PUBLISHED, SR1, 1e-3),
            Check("density at 373.1243 K [kg/m3]", saturated_density(373.1243), 958.365, Ground.PUBLISHED, SR1, 1e-3),
        ),
        coded_here=True,
    )
    yield Opinion(
        name="water-heat-capacity",
        quantity="heat capacity of water",
        unit="J/(kg K)",
        our_source="polynomial of fifth order fitted to IAPWS R7-97(2012)",
        their_source=IF97 + "; at 1 atm, above 99 °C at 0.5 MPa",
        shared="ours was fitted to it: a check of the fit",
        points=_points(1.0, 149.0, water.heat_capacity, 4e-4, _heat_capacity),
        explanation="Within 0.04 %.",
        along=TEMPERATURE,
        curves=NONE,
    )
    yield Opinion(
        name="water-viscosity",
        quantity="viscosity of water",
        unit="Pa s",
        our_source="M. Laliberté, J. Chem. Eng. Data 52 (2007) 321-335",
        their_source="IAPWS R12-08, as programmed in the package iapws 1.5.5",
        shared="measurements",
        points=_points(0.5, 99.0, water.viscosity, 0.01, lambda t: if97(t)["mu"]),
        explanation="Within 1 %.",
        along=TEMPERATURE,
        curves=NONE,
    )
    yield Opinion(
        name="steam-enthalpy",
        quantity="enthalpy of steam at 1 atm over water at 25 °C",
        unit="J/kg",
        our_source="cubic fitted to IAPWS R7-97(2012), region 2",
        their_source=IF97,
        shared="ours was fitted to it: a check of the fit",
        points=_points(100.0, 200.0, water.steam_enthalpy, 0.0, lambda t: if97(t)["h"] - if97(25.0)["h"], 100.0),
        explanation="Within 0.1 kJ/kg.",
        along=TEMPERATURE,
        curves=NONE,
    )
    yield Opinion(
        name="ice-enthalpy",
        quantity="enthalpy of ice over water at 25 °C",
        unit="J/kg",
        our_source="parabola fitted to IAPWS R10-06(2009) and IAPWS-95",
        their_source="IAPWS R10-06(2009), as programmed in the package iapws 1.5.5, and IF97 for water",
        shared="ours was fitted to it: a check of the fit",
        points=_points(
            -30.0,
            -0.01,
            water.ice_enthalpy,
            0.0,
            lambda t: 1e3 * _Ice(t + 273.15, 0.101325)["h"] - if97(25.0)["h"],
            50.0,
        ),
        explanation="Within 0.05 kJ/kg, 0.015 % of the heat of fusion.",
        along=TEMPERATURE,
        curves=NONE,
    )
