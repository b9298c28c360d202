"""The heat that a filled vessel loses to the still air of a room: free convection, radiation, and evaporation.

The outer surface is taken to be as warm as the contents but for the wall between them; that it is a little cooler is
left to the lower limit. How it is painted, what it stands on, and draughts are not known, so each part has limits; they
are bounds, not probabilities.

References:
    .. [1] S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329: free convection on a
       vertical plate, all Rayleigh numbers; checked with T. L. Bergman et al., Introduction to Heat Transfer, 6th ed.,
       example 9.2.
    .. [2] Air: `service.chemistry.air`.
    .. [3] W. K. Lewis, Trans. ASME 44 (1922) 325-340: evaporation goes with convection, h / (rho cp) being the
       coefficient of mass transfer (relation from memory).
    .. [4] Emissivities (from memory): plastic, glass and paint 0.85 to 0.95, bare metal 0.1 (polished) to 0.6 (dull).
"""

import math
from typing import Final, NamedTuple

from service.chemistry import air
from service.chemistry.errors import OutOfRange
from service.chemistry.heat_loss import GAS_CONSTANT, HEAT_OF_EVAPORATION, MOLAR_MASS_OF_WATER
from service.chemistry.ranges import require

STEFAN_BOLTZMANN: Final = 5.670374419e-8
"""[W/(m2 K4)] (exact in the SI since 2019, here to ten digits)."""
GRAVITY: Final = 9.80665
"""Standard acceleration [m/s2] (exact, by definition)."""
DULL: Final = (0.9, 0.85, 0.95)
"""Emissivity of plastic, glass and paint: value, lower and upper limit [-] [4]_ (from memory)."""
BARE_METAL: Final = (0.3, 0.1, 0.6)
"""Emissivity of bare metal [-] [4]_ (from memory)."""

_ABSOLUTE: Final = 273.15
STILL: Final = (1.0, 0.75, 1.5)
"""Of the correlation: scatter of measurements, a quarter, and to the upper side a slight draught [-] [1]_ (that a
quarter is usual is from memory)."""
BOTTOM: Final = (0.5, 0.0, 1.0)
"""Share of the bottom that loses heat like the wall: on a warm floor none, on a stand all of it [-] (assumed)."""
EVAPORATION: Final = (1.0, 0.0, 2.0)
"""Of the evaporation by [3]_: a skin or a draught may end or double it [-] (assumed)."""
_INSIDE: Final = (0.0, 0.02, 0.0)
"""Resistance between contents and outer surface beside a wall that is told [m2 K/W]: at the lower limit a stock that
nobody stirs, 50 % NaOH with a film of 90 to 250 W/(m2 K) between 25 and 90 °C (computed with [1]), and 2 mm of plastic.
They make a cooling 5 to 15 % longer than without."""
_LID: Final = (1.0, 0.5, 1.0)
"""Of the loss through a lid: the air under it may hold as much back as the air over it [-] (assumed)."""
SHAPE: Final = 1.15
"""Upper limit of the surface of a vessel of unknown shape: a cylinder two and a half times as wide as high has 1.14
times that of one as wide as high, one three times as high as wide 1.11 times [-] (computed)."""


LOWEST_LEVEL: Final = 1e-3
"""Height of the wall [m] below which convection is reckoned as there (numerical)."""

Range = tuple[float, float, float]
"""Value, lower and upper limit."""


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
        .. [1] S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329 (as coded in the
           package ht 1.2.0, seen-secondary).

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
"""Difference of temperatures that rounding may leave [K] (numerical)."""


def convection_coefficient(height: float, surface: float, ambient: float) -> float:
    """Coefficient of free convection from a vertical wall to still air [W/(m2 K)].

    Args:
        height: of the wall, above 0 [m].
        surface: its temperature, −60 to 200 [°C].
        ambient: temperature of the air, −60 to 100 [°C].

    Raises:
        OutOfRange: an argument is outside these ranges.

    References:
        .. [1] Churchill and Chu 1975, with the properties of `service.chemistry.air` at the mean temperature.
    """
    if not height > 0.0:
        raise OutOfRange("height", height, 0.0, math.inf, "a wall has a height")
    require("surface", surface, -60.0, 200.0, "properties of air were fitted near there")
    require("ambient", ambient, -60.0, 100.0, "properties of air were fitted near there")
    film = 0.5 * (surface + ambient)
    # A root of the difference would make much of one that rounding leaves of two equal temperatures.
    buoyancy = GRAVITY * max(0.0, abs(surface - ambient) - ALIKE) / (film + _ABSOLUTE)
    rayleigh = buoyancy * height**3 * air.PRANDTL / air.kinematic_viscosity(film) ** 2
    return vertical_nusselt(rayleigh, air.PRANDTL) * air.conductivity(film) / height


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


def standing_loss(vessel: Standing, t: float, vapour: float, moisture: float) -> Range:
    """Heat that goes to a room of still air [W]: value, lower and upper limit; negative where the room is warmer.

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
    convection = convection_coefficient(max(vessel.level, LOWEST_LEVEL), t, vessel.ambient)
    value, low, high = STILL
    return air_loss(vessel, t, (value * convection, low * convection, high * convection), steam(t, vapour, moisture))


def air_loss(vessel: Standing, t: float, convection: Range, vapour_density: float) -> Range:
    """Heat that goes to air [W]: value, lower and upper limit; negative where the air is warmer.

    Args:
        vessel: the vessel.
        t: temperature of the contents [°C].
        convection: its coefficient, value and limits [W/(m2 K)].
        vapour_density: by how much the air over the contents is denser in vapour than the room's, as of `steam`
            [kg/m3].

    Raises:
        OutOfRange: the emissivity is none.

    References:
        .. [1] the module's.
    """
    diameter = vessel.diameter
    rise = t - vessel.ambient
    disc = math.pi * diameter * diameter / 4.0
    found = []
    for i in range(3):
        outer = convection[i] + radiation_coefficient(vessel.emissivity[i], t, vessel.ambient)
        walls = math.pi * diameter * vessel.level + disc * BOTTOM[i]
        through = 1.0 / (1.0 / outer + vessel.wall_resistance + _INSIDE[i])
        found.append((through * walls + outer * disc * _top(vessel, i)) * _area(vessel, i) * rise)
    return _with_steam(vessel, found, disc * convection[0] * vapour_density)


def top_loss(vessel: Standing, t: float, convection: Range, vapour_density: float) -> Range:
    """Heat that goes through lid or free surface alone [W]: value, lower and upper limit.

    Args:
        vessel: the vessel.
        t: temperature of the contents [°C].
        convection: its coefficient, value and limits [W/(m2 K)].
        vapour_density: as for `air_loss` [kg/m3].

    Raises:
        OutOfRange: the emissivity is none.

    References:
        .. [1] the module's.
    """
    disc = math.pi * vessel.diameter * vessel.diameter / 4.0
    rise = t - vessel.ambient
    found = [
        (convection[i] + radiation_coefficient(vessel.emissivity[i], t, vessel.ambient))
        * disc
        * _top(vessel, i)
        * rise
        * _area(vessel, i)
        for i in range(3)
    ]
    return _with_steam(vessel, found, disc * convection[0] * vapour_density)


def steam(t: float, vapour: float, moisture: float) -> float:
    """By how much air at the surface of the contents is denser in water vapour than the room's [kg/m3], at least 0.

    Air of twice the volume carries twice the vapour: mass goes with convection, at 0 where the stock takes water up.

    Args:
        t: temperature of the contents, above −273.15 [°C].
        vapour: water vapour pressure over the contents [Pa].
        moisture: that of the room's air [Pa].

    References:
        .. [1] law of the ideal gas.
    """
    return max(0.0, vapour - moisture) * MOLAR_MASS_OF_WATER / (GAS_CONSTANT * (t + _ABSOLUTE))


def _top(vessel: Standing, which: int) -> float:
    return 1.0 if vessel.is_open else _LID[which]


def _area(vessel: Standing, which: int) -> float:
    return SHAPE if which == 2 and not vessel.shape_known else 1.0


def _with_steam(vessel: Standing, dry: list[float], carried: float) -> Range:
    evaporation = carried / air.VOLUMETRIC_HEAT * HEAT_OF_EVAPORATION if vessel.is_open else 0.0
    value, one, other = (dry[i] + EVAPORATION[i] * evaporation for i in range(3))
    # Where the room is warmer, the upper limits of the coefficients bring the most heat in.
    return value, min(value, one, other), max(value, one, other)
