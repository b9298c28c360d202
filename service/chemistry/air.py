"""Air at 1 atm as a vessel meets it: what carries heat, and how freely it flows.

References:
    .. [1] T. L. Bergman et al., Introduction to Heat Transfer, 6th ed., table A.4, air at 1 atm: 26.3 mW/(m K) and
       15.89 mm2/s at 300 K, Pr 0.707 (from memory); between 250 and 350 K in proportion to the powers 0.87 and 1.79
       of the absolute temperature (fitted to it).
"""

from typing import Final

from service.chemistry.errors import OutOfRange

ABSOLUTE_ZERO: Final = -273.15
"""°C."""
PRANDTL: Final = 0.707
"""Of air [-] [1]_."""
VOLUMETRIC_HEAT: Final = 1.1 * 1007.0
"""Density times heat capacity of air at 40 °C [J/(m3 K)], as in `heat_loss`."""
COLDEST: Final = -60.0
HOTTEST: Final = 200.0
"""Temperatures that the powers of [1]_ are taken to [°C]."""

_CONDUCTIVITY: Final = 26.3e-3
_VISCOSITY: Final = 15.89e-6
_AT: Final = 300.0


def conductivity(t: float) -> float:
    """Thermal conductivity of air [W/(m K)].

    Args:
        t: temperature [°C], −60 to 200.

    Raises:
        OutOfRange: t is outside that range.

    References:
        .. [1] the module's.

    Examples:
        >>> round(conductivity(26.85), 4)
        0.0263
    """
    return _CONDUCTIVITY * float(_relative(t) ** 0.87)


def kinematic_viscosity(t: float) -> float:
    """Kinematic viscosity of air at 1 atm [m2/s].

    Args:
        t: temperature [°C], −60 to 200.

    Raises:
        OutOfRange: t is outside that range.

    References:
        .. [1] the module's.

    Examples:
        >>> round(kinematic_viscosity(26.85) * 1e6, 2)
        15.89
    """
    return _VISCOSITY * float(_relative(t) ** 1.79)


def _relative(t: float) -> float:
    if not COLDEST <= t <= HOTTEST:
        raise OutOfRange("temperature", t, COLDEST, HOTTEST, "properties of air were fitted near there")
    return (t - ABSOLUTE_ZERO) / _AT
