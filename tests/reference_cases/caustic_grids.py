"""Strengths and temperatures at which caustic solutions are compared with other people's programs."""

from itertools import product
from typing import Final

from service.chemistry.molar_masses import Alkali

Place = tuple[float, float]
"""Mass fraction and temperature [°C]."""

PRESSURES: Final[list[Place]] = list(product([0.01, 0.10, 0.30, 0.50, 0.55], [20.0, 60.0, 100.0, 150.0]))
"""Of NaOH, with Olsson's vapour pressure."""
OLSSON_DENSITIES: Final[list[Place]] = list(product([0.05, 0.10, 0.30, 0.50, 0.55], [0.0, 20.0, 60.0, 100.0, 149.0]))
LALIBERTE_DENSITIES: Final[list[Place]] = list(product([0.0, 0.10, 0.30, 0.50], [5.0, 20.0, 60.0, 95.0, 120.0]))
"""Of KOH."""
ENTHALPIES: Final[list[Place]] = list(
    product(
        [0.05, 0.10, 0.20, 0.30, 0.33, 0.40, 0.45, 0.50, 0.55],
        [25.0, 40.0, 60.0, 80.0, 100.0, 120.0, 150.0],
    )
)
"""Of NaOH, with Olsson's enthalpy."""
HEAT_CAPACITIES: Final[dict[Alkali, list[Place]]] = {
    "NaOH": list(product([0.05, 0.10, 0.20, 0.30], [5.0, 25.0, 60.0, 100.0, 120.0])),
    "KOH": list(product([0.05, 0.10, 0.20, 0.30, 0.40, 0.46], [5.0, 25.0, 60.0, 100.0, 120.0])),
}
"""With Laliberté's heat capacity."""
SLOPES: Final[list[float]] = [30.0, 60.0, 100.0, 140.0]
"""Temperatures at which the slope of Olsson's enthalpy is taken, of 50 % NaOH."""
VISCOSITIES: Final[list[tuple[Alkali, float, float]]] = [
    ("NaOH", 0.2, 15.0),
    ("NaOH", 0.5, 40.0),
    ("NaOH", 0.5, 70.0),
    ("KOH", 0.3, 0.0),
    ("KOH", 0.5, 40.0),
]
"""With Laliberté's viscosity."""
CARBONATED: Final[list[tuple[float, float, float]]] = list(
    product([0.05, 0.2, 0.35], [0.005, 0.03], [10.0, 25.0, 60.0])
)
"""KOH, K2CO3 and temperature, with Laliberté's density."""
OVER_READINGS: Final[list[Place]] = list(product([0.05, 0.1, 0.2, 0.4, 0.48], [15.0, 40.0]))
"""NaOH beside 1 % of Na2CO3."""
