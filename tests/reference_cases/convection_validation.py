"""Where convection is compared with published examples and with the package ht.

[1]_ T. L. Bergman et al., Introduction to Heat Transfer, 6th ed., example 7.4 (from memory): a cylinder of 12.7 mm in
     air of 10 m/s, 26.2 °C, its surface at 128.4 °C: Re 6071, Pr 0.70, Nu 40.6 by Churchill and Bernstein, so 96 W/(m2
     K), where 102 was measured.
[2]_ The same, example 9.2: a vertical plate, Gr 2.63e9, Pr 0.69, Nu 147.
"""

import math
from itertools import product
from typing import Final, NamedTuple

from tests.reference_cases.outside import read_table

EXAMPLE_REYNOLDS, EXAMPLE_PRANDTL, EXAMPLE_NUSSELT = 6071.0, 0.70, 40.6
EXAMPLE_DIAMETER, EXAMPLE_SPEED, EXAMPLE_FILM = 0.0127, 10.0, 0.5 * (26.2 + 128.4)
EXAMPLE_COEFFICIENT, EXAMPLE_MEASURED = 96.0, 102.0
"""W/(m2 K)."""
PLATE_GRASHOF, PLATE_PRANDTL, PLATE_NUSSELT = 2.63e9, 0.69, 147.0

CROSS_FLOWS: Final = list(product([3.0, 137.0, 4.1e3, 2.6e4, 3.3e5, 8.9e6], [0.69, 0.713, 4.3, 11.0]))
"""Re, Pr."""
ZUKAUSKAS: Final = [6e2, 5e3, 3e4, 1.5e5]
"""Re, with Pr 0.707."""
PLATES: Final = list(product([7.0, 3.1e4, 8.8e6, 4.4e9, 6.7e11], [0.702, 6.6, 13.0, 180.0, 900.0]))
"""Ra, Pr."""
AIR: Final = [-40.0, -10.0, 15.0, 40.0, 70.0]
WATER: Final = [0.01, 1.0, 7.0, 23.0, 44.0, 66.0, 88.0, 99.0]
"""°C."""
CONDUCTIVITY_OF_AIR: Final = math.hypot(0.02, 0.009)
VISCOSITY_OF_AIR: Final = math.hypot(0.01, 0.01)
"""What Lemmon and Jacobsen, whom our air is fitted to, say of themselves (from memory), and what its fit claims."""
AIR_IN_A_COEFFICIENT: Final = 0.009 * 2 / 3 + 0.01 / 3
"""What the fit claims, in a coefficient of free convection: it goes with k (nu k)^(-1/3) at the most."""
WATER_CLAIMED: Final = 0.002
"""Of the conductivity of water, as the model claims."""


class Wall(NamedTuple):
    """Coefficients of a vertical wall in a room of 20 °C [W/(m2 K)]."""

    height: float
    """m"""
    surface: float
    """°C"""
    convection: float
    radiation: float


def walls() -> list[Wall]:
    """By the package ht."""
    return [Wall(*(float(row[name]) for name in Wall._fields)) for row in read_table("wall_coefficients.csv")]


def student_factors() -> list[tuple[int, float]]:
    """(degrees of freedom, factor for 95 %)."""
    return [(int(row["degrees_of_freedom"]), float(row["factor"])) for row in read_table("student_factors.csv")]
