"""The most heat that a vessel loses to the air and takes up itself: bounds, not estimates.

A mixing loses some of its heat while it goes on. How much depends on draught, lid, stirring and vessel; what
can be said is how much it is at most.

References:
    .. [1] S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329 (free convection on
       a vertical plate); with radiation at an emissivity of 0.9 it gives 9 to 14 W/(m2 K) for walls of 0.1 to
       0.3 m height at 30 to 90 °C in air of 20 °C (computed).
    .. [2] W. K. Lewis, Trans. ASME 44 (1922) 325-340: heat and mass transfer to air go together, so that
       h / (rho cp) is the coefficient of mass transfer (relation from memory).
"""

import math
from typing import Final

from service.chemistry.errors import OutOfRange

HIGHEST_COEFFICIENT: Final = 14.0
"""Convection and radiation from a wall up to 90 °C in still air, upper end [W/(m2 K)] [1]_ (computed)."""

MASS_TRANSFER: Final = 6.0 / (1.1 * 1007.0)
"""Mass transfer from a free surface, by [2]_ from 6 W/(m2 K) of convection alone [m/s] (computed)."""

HEAT_OF_EVAPORATION: Final = 2.4e6
"""Of water [J/kg] (computed: pure water at 43 °C, a solution of 30 % NaOH at 100 °C). From one of 50 % it is 2.65e6 at
140 °C to 2.87e6 at 60 °C."""

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


def highest_loss_rate(area: float, t: float, ambient: float) -> float:
    """The most heat that goes through the surface to the air [W]; negative where the air is warmer.

    Args:
        area: surface [m2].
        t: temperature of the contents, taken for the whole surface [°C].
        ambient: temperature of the air [°C].
    """
    return HIGHEST_COEFFICIENT * area * (t - ambient)


def highest_evaporation_rate(open_area: float, t: float, vapour_pressure: float) -> float:
    """The most heat that goes with the vapour from an open surface into dry air [W].

    Args:
        open_area: free surface of the liquid [m2].
        t: temperature of the liquid [°C].
        vapour_pressure: water vapour pressure over it [Pa].
    """
    vapour_density = vapour_pressure * MOLAR_MASS_OF_WATER / (GAS_CONSTANT * (t + 273.15))
    return open_area * MASS_TRANSFER * vapour_density * HEAT_OF_EVAPORATION


def cylinder_volume(diameter: float, height: float) -> float:
    """Volume of a cylinder [m3].

    Args:
        diameter: above 0 [m].
        height: above 0 [m].
    """
    return disc_area(diameter) * height
