"""What a soap weighs when it has dried to a stated moisture: a balance of water, without a curve of time.

Nothing but water is taken to leave it: a mass balance.
"""

import math
from typing import Final

from service.chemistry.ranges import require

_WHY: Final = "a soap dries by no more than the water that it holds, and no drier than dry"


def highest_moisture(mass: float, water: float) -> float:
    """Mass fraction of water before any of it has dried off, by mass balance [-].

    Args:
        mass: of the soap, above 0 [kg].
        water: in it, from 0 to the mass [kg].

    Raises:
        OutOfRange: outside these ranges.
    """
    require("mass", mass, math.ulp(0.0), math.inf, "a soap has a mass")
    require("water", water, 0.0, mass, _WHY)
    return water / mass


def cured_mass(mass: float, water: float, moisture: float) -> float:
    """Mass at a stated mass fraction of water [kg], by mass balance: what is dry, over its share.

    Args:
        mass: of the soap as it was poured, above 0 [kg].
        water: in it then, from 0 to the mass [kg].
        moisture: mass fraction of water that it has dried to, from 0 to `highest_moisture` [-].

    Raises:
        OutOfRange: outside these ranges.
    """
    require("moisture", moisture, 0.0, highest_moisture(mass, water), _WHY)
    if water == mass:
        return mass
    return (mass - water) / (1.0 - moisture)
