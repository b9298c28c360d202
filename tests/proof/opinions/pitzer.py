"""Pitzer's equations for water over caustic solutions, coded from the publications.

    phi - 1 = -A sqrt m/(1 + 1.2 sqrt m) + m (b0 + b1 exp(-2 sqrt m)) + m^2 C         ln a = -2 m M phi
    ln gamma = -A (sqrt m/(1 + b sqrt m) + 2/b ln(1 + b sqrt m)) + m B' + m^2 C'

A = 0.3915 at 25 °C. Where a temperature other than 25 °C is asked for, ln a follows from its slope (heat of dilution)
and from the partial heat capacity of water (Laliberté 2009), with both taken as they are at and near 25 °C.
"""

import math
from collections.abc import Callable
from typing import Final

from service.chemistry.molar_masses import ALKALI, WATER, Alkali
from tests.proof.opinions.records import Check, Ground, coefficients
from tests.reference_cases import outside

ROOM: Final = 298.15
SLOPE: Final = 0.3915
"""Debye-Hückel slope of the osmotic coefficient at 25 °C [kg^0.5 mol^-0.5], Pitzer and Mayorga 1973 (0.392)."""
GAS_CONSTANT: Final = 8.314462618
SLOPE_RISE: Final = 1986.0 / (4.0 * GAS_CONSTANT * ROOM**2)
"""Of that slope with temperature [1/K], from the slope for enthalpy of 1.986 kJ kg^0.5 mol^-1.5."""
FUSION: Final = 6009.5
"""Heat of fusion of ice at 0 °C [J/mol], IAPWS: 333.42 kJ/kg and 18.015 g/mol with three digits more."""
FUSION_RISE: Final = 38.1
"""Heat capacity of water less that of ice at 0 °C [J/(mol K)], IAPWS: 4.220 and 2.097 kJ/(kg K)."""


def _figures(alkali: Alkali, kind: str = "") -> tuple[float, float, float]:
    b0, b1, c = (coefficients("pitzer.csv", salt=alkali, name=name + kind) for name in ("beta0", "beta1", "cphi"))
    return (b0[0], b1[0], c[0]) if b0 else (0.0, 0.0, 0.0)


def highest(alkali: Alkali, kind: str = "highest") -> float:
    """Molality to which it was fitted [mol/kg]."""
    return coefficients("pitzer.csv", salt=alkali, name=kind)[0]


def mass_fraction(alkali: Alkali, m: float) -> float:
    """Of a molality [mol/kg]."""
    return m * ALKALI[alkali] / (1.0 + m * ALKALI[alkali])


def osmotic_coefficient(alkali: Alkali, m: float) -> float:
    """At 25 °C [-]."""
    return 1.0 + _excess(m, SLOPE, *_figures(alkali))


def _excess(m: float, slope: float, b0: float, b1: float, c: float) -> float:
    root = math.sqrt(m)
    return -slope * root / (1.0 + 1.2 * root) + m * (b0 + b1 * math.exp(-2.0 * root)) + m * m * c


def activity_coefficient(alkali: Alkali, m: float) -> float:
    """Mean ionic, at 25 °C [-]."""
    b0, b1, c = _figures(alkali)
    root = math.sqrt(m)
    of_charges = -SLOPE * (root / (1.0 + 1.2 * root) + 2.0 / 1.2 * math.log(1.0 + 1.2 * root))
    second = 2.0 * b0 + b1 / (2.0 * m) * (1.0 - math.exp(-2.0 * root) * (1.0 + 2.0 * root - 2.0 * m))
    return math.exp(of_charges + m * second + 1.5 * m * m * c)


def log_activity(alkali: Alkali, m: float, t: float = 25.0) -> float:
    """Natural logarithm of the activity of water [-]."""
    kelvin = t + 273.15
    water = 2.0 * m * WATER
    at_room = -water * osmotic_coefficient(alkali, m)
    if t == 25.0:
        return at_room
    # KOH has no slopes; its heat of dilution hardly changes to 2 mol/kg (0.1 kJ/mol, Thomsen and Balej).
    rise = _excess(m, SLOPE_RISE, *_figures(alkali, " slope")) if alkali == "NaOH" else 0.0
    heat = GAS_CONSTANT * ROOM**2 * water * rise
    of_heat = heat / GAS_CONSTANT * (1.0 / kelvin - 1.0 / ROOM)
    of_capacity = _water_heat_capacity(alkali, m, 10.0) / GAS_CONSTANT * (math.log(kelvin / ROOM) + ROOM / kelvin - 1.0)
    return at_room + of_heat - of_capacity


def _water_heat_capacity(alkali: Alkali, m: float, t: float) -> float:
    """Partial molar heat capacity of water less that of pure water [J/(mol K)]."""
    w, step = mass_fraction(alkali, m), 2e-3
    lower, here, upper = (outside.laliberte_heat_capacity(alkali, x, t) for x in (w - step, w, w + step))
    return WATER * (here - w * (upper - lower) / (2.0 * step) - outside.laliberte_heat_capacity(alkali, 0.0, t))


def freezing_point(alkali: Alkali, m: float) -> float:
    """Temperature at which ice and the solution have the same activity of water [°C]."""
    return _meeting(lambda t: log_activity(alkali, m, t))


def melting_point(log_activity: float) -> float:
    """Temperature at which ice and a solution have the same activity of water [°C].

    Args:
        log_activity: natural logarithm of that of the solution [-], taken not to change with temperature.
    """
    return _meeting(lambda _: log_activity)


def _meeting(log_activity: Callable[[float], float]) -> float:
    low, high = -50.0, 0.0
    while high - low > 1e-4:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _ice(middle) < log_activity(middle) else (low, middle)
    return 0.5 * (low + high)


def _ice(t: float) -> float:
    """Natural logarithm of the activity of water in equilibrium with ice [-]."""
    kelvin, zero = t + 273.15, 273.15
    of_heat = (FUSION - FUSION_RISE * zero) * (1.0 / kelvin - 1.0 / zero)
    return -(of_heat + FUSION_RISE * math.log(zero / kelvin)) / GAS_CONSTANT


def checks(alkali: Alkali) -> tuple[Check, ...]:
    """Activity coefficients that others tabulate."""
    table = "R. A. Robinson, R. H. Stokes, Electrolyte Solutions, from memory: another compilation of the same"
    known = {
        "NaOH": ((1.0, 0.677), (3.0, 0.783), (5.0, 1.076)),
        "KOH": ((1.0, 0.735), (3.0, 1.051), (5.0, 1.673)),
    }[alkali]
    return tuple(
        Check(
            f"activity coefficient of {alkali}, {m:g} mol/kg, 25 °C",
            activity_coefficient(alkali, m),
            value,
            Ground.EXPECTED,
            table,
        )
        for m, value in known
    )
