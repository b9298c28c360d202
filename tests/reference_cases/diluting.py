"""Caustic thinned with water of 25 °C: as the service answers it, and by another program's enthalpies."""

from typing import Any, Final

from tests.calculations.asking import ask
from tests.reference_cases import outside

DILUTIONS: Final = [
    (strong, weak) for strong in (0.5, 0.4, 0.3) for weak in (0.45, 0.35, 0.25, 0.2, 0.15) if weak < strong
]


def diluted(alkali: str, strong: float, weak: float, of: float) -> dict[str, Any]:
    """So many kilograms of a solution thinned with water, all of 25 °C."""
    lines = [
        {"alkali": alkali, "mass": f"{mass!r} kg", "strength": {"mass_fraction": w}, "temperature": "25 °C"}
        for mass, w in ((of, strong), (of * (strong / weak - 1), 0))
    ]
    return ask("stock-dilution", {"solutions": lines})


def by_olsson(strong: float, weak: float) -> float:
    """Temperature by the enthalpies of the package absorptionlib (Olsson 1997), moved as `outside` says [°C]."""
    share = weak / strong
    heat = share * outside.olsson_enthalpy_moved(strong, 25.0)  # water of 25 °C brings none
    low, high = 0.0, 150.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if outside.olsson_enthalpy_moved(weak, middle) < heat else (low, middle)
    return low
