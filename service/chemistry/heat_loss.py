"""Surfaces of vessels, and what goes from them to the air; the most of it is told by `highest_loss`.

References:
    .. [1] geometry of a cylinder and of a disc.
"""

import math
from typing import Final

from service.chemistry.errors import OutOfRange

HEAT_OF_EVAPORATION: Final = 2.4e6
"""Of water near 45 °C, for estimates: from caustic of 50 % it takes up to a quarter more, which their upper limits have
room for [J/kg] (computed: 2.394e6 by IAPWS R7-97, rounded up)."""

GAS_CONSTANT: Final = 8.314462618
"""[J/(mol K)] (exact in the SI since 2019, here to ten digits)."""
MOLAR_MASS_OF_WATER: Final = 18.015e-3
"""[kg/mol] (IUPAC, abridged atomic weights 2021: computed)."""


def vessel_area(volume: float) -> float:
    """Whole surface of a cylinder of this volume, twice as wide as high: wider than most vessels [m2].

    Args:
        volume: above 0 [m3].

    Raises:
        OutOfRange: if the volume is not above 0.
    """
    if not volume > 0:
        raise OutOfRange("volume", volume, 0.0, math.inf, "a vessel has a volume")
    return math.pi * math.pow(8 * volume / math.pi, 2 / 3)


def cylinder_area(diameter: float, height: float) -> float:
    """Whole surface of a cylinder, bottom and top included [m2].

    Args:
        diameter: above 0 [m].
        height: above 0 [m].
    """
    return math.pi * diameter * (diameter / 2 + height)


def disc_area(diameter: float) -> float:
    """Area of a disc [m2].

    Args:
        diameter: above 0 [m].
    """
    return math.pi * diameter**2 / 4


def cylinder_volume(diameter: float, height: float) -> float:
    """Volume of a cylinder [m3].

    Args:
        diameter: above 0 [m].
        height: above 0 [m].
    """
    return disc_area(diameter) * height
