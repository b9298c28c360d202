"""Air at 1 atm as a vessel meets it: what carries heat, and how freely it flows.

References:
    .. [1] E. W. Lemmon and R. T. Jacobsen, Int. J. Thermophys. 25 (2004) 21-69 (viscosity and thermal conductivity of
       air), with the density and the heat capacity of E. W. Lemmon et al., J. Phys. Chem. Ref. Data 29 (2000)
       331-385; evaluated at 1 atm with the package chemicals 1.5.2. Powers of the absolute temperature fitted to
       them from -60 to 200 °C: conductivity to 0.9 %, viscosity to 1 %.
"""

from typing import Final

from service.chemistry.errors import OutOfRange

ABSOLUTE_ZERO: Final = -273.15
"""[°C] (exact, by definition)."""
PRANDTL: Final = 0.707
"""Of air at 300 K; 0.72 at -60 °C and 0.70 from 80 °C up [-] [1]_ (computed)."""
VOLUMETRIC_HEAT: Final = 1.1 * 1007.0
"""Density [kg/m3] times heat capacity [J/(kg K)] of air at 48 °C [1]_ (computed)."""
COLDEST: Final = -60.0
HOTTEST: Final = 200.0
"""Temperatures between which the powers were fitted [°C] (numerical)."""

_AT: Final = 300.0
"""[K] (numerical, where the powers are 1)."""
_CONDUCTIVITY: Final = 26.30e-3
"""At 300 K [W/(m K)] [1]_ (computed)."""
_VISCOSITY: Final = 15.69e-6
"""Kinematic, at 300 K [m2/s] [1]_ (computed)."""
_CONDUCTIVITY_POWER: Final = 0.835
_VISCOSITY_POWER: Final = 1.771
"""Powers of the temperature that they go with [-] [1]_ (computed)."""


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
    return _CONDUCTIVITY * float(_relative(t) ** _CONDUCTIVITY_POWER)


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
        15.69
    """
    return _VISCOSITY * float(_relative(t) ** _VISCOSITY_POWER)


def _relative(t: float) -> float:
    if not COLDEST <= t <= HOTTEST:
        raise OutOfRange("temperature", t, COLDEST, HOTTEST, "properties of air were fitted near there")
    return (t - ABSOLUTE_ZERO) / _AT
