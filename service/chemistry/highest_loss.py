"""The most heat and water that a vessel loses to the still air of a room: bounds, not estimates.

A mixing loses some of its heat while it goes on. How much depends on draught, lid, stirring and vessel; what can be
said is how much it is at most: all of the surface as warm as the contents, and everything at the upper limits of
`standing_loss`, so that no estimate of a cooling by the same correlations lies above. A fan carries off more.

References:
    .. [1] `service.chemistry.standing_loss`: free convection by Churchill and Chu 1975, one and a half times, radiation
       at an emissivity of 0.95, and twice the evaporation by Lewis 1922.
    .. [2] Stefan's flow: vapour that leaves carries air away from the surface, so that it goes ln(1/(1 - x))/x times as
       fast as by diffusion alone, with its share x of the pressure; R. B. Bird, W. E. Stewart and E. N. Lightfoot,
       Transport Phenomena, 2nd ed., 18.2 (from memory).
"""

import math
from typing import Final

from service.chemistry import air
from service.chemistry.heat_loss import GAS_CONSTANT, MOLAR_MASS_OF_WATER
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require
from service.chemistry.standing_loss import (
    DULL,
    EVAPORATION,
    LOWEST_LEVEL,
    STILL,
    convection_coefficient,
    radiation_coefficient,
)
from service.chemistry.vapour_pressure import ATMOSPHERE, HIGHEST_TEMPERATURE, water_vapour_pressure

DENSEST: Final = 1600.0
"""No stock is denser, and the lower it stands, the more heat goes from each part of its wall [kg/m3] (assumed: 52 %
NaOH has 1550)."""
NEAR_BOILING: Final = 0.9
"""Share of the air's pressure from which on a stock boils rather than dries, by what heat it has [-] (assumed)."""
_STEP: Final = 0.5
"""To either side of a slope [K] (numerical)."""
_ABSOLUTE: Final = 273.15
"""0 °C [K] (exact, by definition)."""


def heat_of_evaporation(alkali: Alkali, w: float, t: float) -> float:
    """Of water from a solution of one hydroxide [J/kg].

    Args:
        alkali: "NaOH" or "KOH".
        w: mass fraction of it, from 0 to `vapour_pressure.HIGHEST_MASS_FRACTION` [-].
        t: temperature [°C], 0 to 200.

    Raises:
        OutOfRange: w or t is outside these ranges.

    References:
        .. [1] Clausius and Clapeyron, -R d ln p / d(1/T), with the vapour pressures of `vapour_pressure`. That of an
           ideal gas, so up to 2 % too much at 1 atm.

    Examples:
        >>> [round(heat_of_evaporation("NaOH", w, 60.0) / 1e6, 2) for w in (0.0, 0.5)]
        [2.36, 2.93]
    """
    require("t", t, 0.0, HIGHEST_TEMPERATURE, "vapour pressures are reckoned there")
    low, high = max(0.0, t - _STEP), min(HIGHEST_TEMPERATURE, t + _STEP)
    rise = math.log(water_vapour_pressure(alkali, w, high)) - math.log(water_vapour_pressure(alkali, w, low))
    apart = 1.0 / (low + _ABSOLUTE) - 1.0 / (high + _ABSOLUTE)
    return GAS_CONSTANT / MOLAR_MASS_OF_WATER * rise / apart


def highest_loss_rate(area: float, level: float, t: float, ambient: float) -> float:
    """The most heat that goes through the surface to the air [W]; negative where the air is warmer.

    Args:
        area: surface [m2].
        level: how high the contents stand [m].
        t: temperature of the contents, taken for the whole surface, −60 to 200 [°C].
        ambient: temperature of the air, −60 to 100 [°C].

    Raises:
        OutOfRange: a temperature is outside its range.

    References:
        .. [1] the module's.

    Examples:
        >>> round(highest_loss_rate(1.0, 0.1, 118.0, 20.0) / 98.0, 1)
        20.1
    """
    convection = convection_coefficient(max(level, LOWEST_LEVEL), t, ambient)
    return (STILL[2] * convection + radiation_coefficient(DULL[2], t, ambient)) * area * (t - ambient)


def highest_evaporation_rate(open_area: float, level: float, t: float, ambient: float, pressure: float) -> float:
    """The most water that leaves an open surface into dry air [kg/s].

    Args:
        open_area: free surface of the liquid [m2].
        level: how high the contents stand [m].
        t: temperature of the liquid, −60 to 200 [°C].
        ambient: temperature of the air, −60 to 100 [°C].
        pressure: of the water vapour over the liquid, at least 0 [Pa].

    Raises:
        OutOfRange: a temperature is outside its range.

    References:
        .. [1] the module's.

    Examples:
        >>> round(highest_evaporation_rate(0.0314, 0.1, 80.0, 20.0, 10e3) * 1200.0, 4)
        0.0297
    """
    convection = convection_coefficient(max(level, LOWEST_LEVEL), t, ambient)
    density = pressure * MOLAR_MASS_OF_WATER / (GAS_CONSTANT * (t + _ABSOLUTE))
    share = min(pressure / ATMOSPHERE, NEAR_BOILING)
    flow = -math.log1p(-share) / share if share > 0.0 else 1.0
    return EVAPORATION[2] * open_area * convection * density * flow / air.VOLUMETRIC_HEAT
