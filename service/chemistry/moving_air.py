"""The heat that a filled vessel loses to air that blows across it.

The vessel is a cylinder that stands in the wind. Where the air hardly moves free convection is left, so both are put
together.

References:
    .. [1] S. W. Churchill and M. Bernstein, J. Heat Transfer 99 (1977) 300-306: forced convection across a cylinder,
       all Reynolds numbers; as equation 7.54 in T. L. Bergman et al., Introduction to Heat Transfer, 6th ed., where
       measurements are said to lie within a fifth to a quarter of such correlations (from memory).
    .. [2] Bergman et al., 9.9: forced and free convection together, by the sum of the third powers (from memory).
"""

import math
from typing import Final

from service.chemistry import air
from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import require
from service.chemistry.standing_loss import LOWEST_LEVEL, Range, Standing, air_loss, convection_coefficient, steam

MOVING: Final = (1.0, 0.75, 1.5)
"""Of the correlation: scatter of measurements, and to the upper side the eddies of a fan [-] (assumed)."""
LEAST_PECLET: Final = 0.2
HIGHEST_REYNOLDS: Final = 1e7
"""Between which [1]_ was compared with measurements [-] (from memory)."""


def crossflow_nusselt(reynolds: float, prandtl: float) -> float:
    """Nusselt number of forced convection across a cylinder [-].

    Args:
        reynolds: Reynolds number on the diameter, to 1e7 [-]; times the Prandtl number at least 0.2.
        prandtl: Prandtl number, above 0 [-].

    Raises:
        OutOfRange: an argument is outside these ranges.

    References:
        .. [1] S. W. Churchill and M. Bernstein, J. Heat Transfer 99 (1977) 300-306 (as coded in the package ht 1.2.0,
           seen-secondary).

    Examples:
        >>> round(crossflow_nusselt(6071.0, 0.70), 1)
        40.6
    """
    if not prandtl > 0.0:
        raise OutOfRange("prandtl", prandtl, 0.0, math.inf, "a Prandtl number is above 0")
    why = "measurements were compared there (Churchill and Bernstein 1977)"
    require("reynolds", reynolds, LEAST_PECLET / prandtl, HIGHEST_REYNOLDS, why)
    of_prandtl = math.pow(prandtl, 1.0 / 3.0) / (1.0 + math.pow(0.4 / prandtl, 2.0 / 3.0)) ** 0.25
    turbulent = (1.0 + math.pow(reynolds / 282000.0, 0.625)) ** 0.8
    return float(0.3 + 0.62 * math.sqrt(reynolds) * of_prandtl * turbulent)


def forced_coefficient(diameter: float, speed: float, film: float) -> float:
    """Coefficient of forced convection from a cylinder to air that blows across it [W/(m2 K)].

    Args:
        diameter: of the cylinder, above 0 [m].
        speed: of the air [m/s]; the Reynolds number is to be within the range of `crossflow_nusselt`.
        film: mean temperature of surface and air, −60 to 200 [°C].

    Raises:
        OutOfRange: an argument is outside its range.

    References:
        .. [1] the module's, with the properties of `service.chemistry.air`.
    """
    if not diameter > 0.0:
        raise OutOfRange("diameter", diameter, 0.0, math.inf, "a cylinder has a diameter")
    reynolds = speed * diameter / air.kinematic_viscosity(film)
    return crossflow_nusselt(reynolds, air.PRANDTL) * air.conductivity(film) / diameter


def together(forced: float, free: float) -> float:
    """Coefficient of forced and free convection together [W/(m2 K)].

    Args:
        forced: that of forced convection alone, at least 0 [W/(m2 K)].
        free: that of free convection alone, at least 0 [W/(m2 K)].

    Raises:
        OutOfRange: one of them is negative.

    References:
        .. [1] Bergman et al., 9.9.
    """
    require("forced", forced, 0.0, math.inf, "a coefficient is not negative")
    require("free", free, 0.0, math.inf, "a coefficient is not negative")
    return math.cbrt(forced**3 + free**3)


def moving_coefficients(vessel: Standing, t: float, speed: Range) -> Range:
    """Coefficient of convection to air that blows across a vessel, and its limits [W/(m2 K)].

    Args:
        vessel: the vessel.
        t: temperature of the contents, −60 to 200 [°C].
        speed: of the air: value, lower and upper limit [m/s].

    Raises:
        OutOfRange: as `forced_coefficient`.

    References:
        .. [1] the module's.
    """
    film = 0.5 * (t + vessel.ambient)
    free = convection_coefficient(max(vessel.level, LOWEST_LEVEL), t, vessel.ambient)
    value = together(forced_coefficient(vessel.diameter, speed[0], film), free)
    if speed[1] == speed[2]:
        return MOVING[0] * value, MOVING[1] * value, MOVING[2] * value
    low, high = (together(forced_coefficient(vessel.diameter, one, film), free) for one in speed[1:])
    return MOVING[0] * value, MOVING[1] * low, MOVING[2] * high


def moving_loss(vessel: Standing, t: float, speed: Range, vapour: float, moisture: float) -> Range:
    """Heat that goes to moving air [W]: value, lower and upper limit; negative where the air is warmer.

    Args:
        vessel: the vessel.
        t: temperature of the contents, −60 to 200 [°C].
        speed: of the air: value, lower and upper limit [m/s].
        vapour: water vapour pressure over the contents [Pa].
        moisture: that of the air [Pa].

    Raises:
        OutOfRange: as `forced_coefficient`.

    References:
        .. [1] the module's; wall, bottom, radiation and vapour as in `service.chemistry.standing_loss`.
    """
    return air_loss(vessel, t, moving_coefficients(vessel, t, speed), steam(t, vapour, moisture))
