"""The heat that a filled vessel loses to the still air of a room: free convection, radiation, and evaporation.

The outer surface is taken to be as warm as the contents but for the wall between them. How it is painted, what it
stands on, and draughts are not known, so each part has limits; they are bounds, not probabilities.

References:
    .. [1] S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329: free convection on a
       vertical plate, all Rayleigh numbers; checked with T. L. Bergman et al., Introduction to Heat Transfer, 6th ed.,
       example 9.2.
    .. [2] Bergman et al., table A.4, air at 1 atm: 26.3 mW/(m K) and 15.89 mm2/s at 300 K, Pr 0.707 (from memory);
       between 250 and 350 K in proportion to the powers 0.87 and 1.79 of the absolute temperature (fitted to it).
    .. [3] W. K. Lewis, Trans. ASME 44 (1922) 325-340: evaporation goes with convection, as in `heat_loss`.
    .. [4] Emissivities (from memory): plastic, glass and paint 0.85 to 0.95, bare metal 0.1 (polished) to 0.6 (dull).
"""

import math
from typing import Final, NamedTuple

from service.chemistry.errors import OutOfRange
from service.chemistry.heat_loss import GAS_CONSTANT, HEAT_OF_EVAPORATION, MOLAR_MASS_OF_WATER
from service.chemistry.ranges import require

STEFAN_BOLTZMANN: Final = 5.670374419e-8
"""W/(m2 K4), exact in the SI since 2019."""
GRAVITY: Final = 9.80665
"""m/s2, standard acceleration."""
PRANDTL: Final = 0.707
"""Of air [-] [2]_."""
DULL: Final = (0.9, 0.85, 0.95)
"""Emissivity of plastic, glass and paint: value, lower and upper limit [-] [4]_."""
BARE_METAL: Final = (0.3, 0.1, 0.6)
"""Emissivity of bare metal [-] [4]_."""

_ABSOLUTE: Final = 273.15
_CONDUCTIVITY: Final = 26.3e-3
_VISCOSITY: Final = 15.89e-6
_CONVECTION: Final = (1.0, 0.75, 1.5)
"""Of the correlation: scatter of measurements (a quarter, from memory), and to the upper side a slight draught."""
_BOTTOM: Final = (0.5, 0.0, 1.0)
"""Share of the bottom that loses heat like the wall: on a warm floor none, on a stand all of it (assumed)."""
_EVAPORATION: Final = (1.0, 0.0, 2.0)
"""Of the evaporation by [3]_: a skin or a draught may end or double it (assumed)."""
_SHAPE: Final = 1.15
"""Upper limit of the surface of a vessel of unknown shape: a cylinder two and a half times as wide as high has 1.14
times that of one as wide as high, one three times as high as wide 1.11 times (computed)."""
_VOLUMETRIC_HEAT: Final = 1.1 * 1007.0
"""Density times heat capacity of air at 40 °C [J/(m3 K)], as in `heat_loss`."""


class Standing(NamedTuple):
    """A filled vessel in a room."""

    diameter: float
    """Inner diameter [m]."""
    level: float
    """How high the contents stand [m]."""
    ambient: float
    """Of the air [°C]."""
    emissivity: tuple[float, float, float]
    """Of its outside: value, lower and upper limit [-]."""
    wall_resistance: float
    """Thickness over conductivity of the wall, 0 where not known [m2 K/W]."""
    is_open: bool
    """Whether vapour can leave."""
    shape_known: bool
    """Whether the diameter is known; where it is not, more surface is reckoned with at the upper end."""


def vertical_nusselt(rayleigh: float, prandtl: float) -> float:
    """Nusselt number of free convection on a vertical plate [-].

    Args:
        rayleigh: Rayleigh number on the height, at least 0 [-].
        prandtl: Prandtl number, above 0 [-].

    Raises:
        OutOfRange: an argument is outside these ranges.

    References:
        .. [1] Churchill and Chu 1975.

    Examples:
        >>> round(vertical_nusselt(2.63e9 * 0.69, 0.69), 1)
        147.2
    """
    require("rayleigh", rayleigh, 0.0, math.inf, "a Rayleigh number is not negative")
    if not prandtl > 0.0:
        raise OutOfRange("prandtl", prandtl, 0.0, math.inf, "a Prandtl number is above 0")
    of_prandtl = (1.0 + (0.492 / prandtl) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    root: float = 0.825 + 0.387 * math.pow(rayleigh, 1.0 / 6.0) / of_prandtl
    return root * root


ALIKE: Final = 1e-9
"""Difference of temperatures that rounding may leave [K]."""


def convection_coefficient(height: float, surface: float, ambient: float) -> float:
    """Coefficient of free convection from a vertical wall to still air [W/(m2 K)].

    Args:
        height: of the wall, above 0 [m].
        surface: its temperature, −60 to 200 [°C].
        ambient: temperature of the air, −60 to 100 [°C].

    Raises:
        OutOfRange: an argument is outside these ranges.

    References:
        .. [1] Churchill and Chu 1975, with the properties of air of Bergman et al., table A.4, at the mean temperature.
    """
    if not height > 0.0:
        raise OutOfRange("height", height, 0.0, math.inf, "a wall has a height")
    require("surface", surface, -60.0, 200.0, "properties of air were fitted near there")
    require("ambient", ambient, -60.0, 100.0, "properties of air were fitted near there")
    film = 0.5 * (surface + ambient) + _ABSOLUTE
    viscosity = _VISCOSITY * math.pow(film / 300.0, 1.79)
    # A root of the difference would make much of one that rounding leaves of two equal temperatures.
    buoyancy = GRAVITY * max(0.0, abs(surface - ambient) - ALIKE) / film
    rayleigh = buoyancy * height**3 * PRANDTL / viscosity**2
    return vertical_nusselt(rayleigh, PRANDTL) * _CONDUCTIVITY * math.pow(film / 300.0, 0.87) / height


def radiation_coefficient(emissivity: float, surface: float, ambient: float) -> float:
    """Coefficient of radiation to surroundings as warm as the air [W/(m2 K)].

    Args:
        emissivity: of the surface, 0 to 1 [-].
        surface: its temperature [°C].
        ambient: temperature of the surroundings [°C].

    Raises:
        OutOfRange: the emissivity is outside 0 to 1.

    References:
        .. [1] Stefan and Boltzmann: emissivity times sigma times the difference of the fourth powers.
    """
    require("emissivity", emissivity, 0.0, 1.0, "an emissivity is a share")
    a, b = surface + _ABSOLUTE, ambient + _ABSOLUTE
    return emissivity * STEFAN_BOLTZMANN * (a * a + b * b) * (a + b)


def standing_loss(vessel: Standing, t: float, vapour: float, moisture: float) -> tuple[float, float, float]:
    """Heat that goes to the room [W]: value, lower and upper limit; negative where the room is warmer.

    Args:
        vessel: the vessel.
        t: temperature of the contents, −60 to 200 [°C].
        vapour: water vapour pressure over the contents [Pa].
        moisture: that of the room's air [Pa].

    Raises:
        OutOfRange: t or the room's temperature is outside its range.

    References:
        .. [1] the module's.
    """
    ambient, diameter = vessel.ambient, vessel.diameter
    disc = math.pi * diameter * diameter / 4.0
    convection = convection_coefficient(max(vessel.level, 1e-3), t, ambient)
    rise = t - ambient
    # Air of twice the volume carries twice the vapour: mass goes with convection, at 0 where the stock takes water up.
    density = max(0.0, vapour - moisture) * MOLAR_MASS_OF_WATER / (GAS_CONSTANT * (t + _ABSOLUTE))
    steam = disc * convection / _VOLUMETRIC_HEAT * density * HEAT_OF_EVAPORATION if vessel.is_open else 0.0
    found = []
    for i in range(3):
        outer = _CONVECTION[i] * convection + radiation_coefficient(vessel.emissivity[i], t, ambient)
        walls = math.pi * diameter * vessel.level + disc * _BOTTOM[i]
        through = 1.0 / (1.0 / outer + vessel.wall_resistance)
        area = _SHAPE if i == 2 and not vessel.shape_known else 1.0
        found.append((through * walls + outer * disc) * area * rise + _EVAPORATION[i] * steam)
    value, one, other = found
    # Where the room is warmer, the upper limits of the coefficients bring the most heat in.
    return value, min(value, one, other), max(value, one, other)
