"""Worked examples A1, A2 and A3 of the guide to uncertainty in analytical chemistry.

EURACHEM/CITAC Guide CG 4, Quantifying Uncertainty in Analytical Measurement, 3rd ed. 2012 (QUAM). Its inputs and
results were read in the documentation of the GUM Tree Calculator (Measurement Standards Laboratory of New
Zealand). The guide's atomic weights are older than today's; they are kept.
"""

import math
from collections.abc import Callable

from service.chemistry.uncertainty import Combined, Part, combine, normal, rectangular, triangular

_Input = tuple[float, Part | Combined]

A2_CONTRIBUTIONS = (
    ("V", 7.47292e-5, 1e-10),
    ("R", 5.10681e-5, 1e-10),
    ("m", 3.21735e-5, 1e-10),
    ("P", 2.94842e-5, 1e-10),
    ("M", 1.88312e-6, 1e-11),
)
"""Input of example A2, its printed contribution [mol/L], one unit of the last printed digit."""
MEAN_OF_THREE = 0.001 / math.sqrt(3)
"""Repeatability of a mean of three titrations."""


def propagate(model: Callable[..., float], inputs: dict[str, _Input]) -> tuple[float, Combined, dict[str, float]]:
    """Value, combined uncertainty and contribution of each input, with sensitivities by central difference."""
    values = {name: value for name, (value, _) in inputs.items()}
    contributions = []
    for name, (value, part) in inputs.items():
        step = abs(value) * 1e-6
        slope = (model(**values | {name: value + step}) - model(**values | {name: value - step})) / (2 * step)
        contributions.append((slope, part))
    by_input = {name: abs(slope) * part[0] for name, (slope, part) in zip(inputs, contributions, strict=True)}
    return model(**values), combine(contributions), by_input


def a1() -> tuple[float, Combined, dict[str, float]]:
    """Cadmium calibration standard [mg/L]."""
    volume = combine([(1, triangular(0.1)), (1, normal(0.02)), (1, rectangular(0.084))])
    return propagate(
        lambda m, P, V: 1000 * m * P / V,
        {"m": (100.28, normal(0.05)), "P": (0.9999, rectangular(0.0001)), "V": (100.0, volume)},
    )


def _phthalate() -> dict[str, _Input]:
    """Mass [g], purity and molar mass [g/mol] of potassium hydrogen phthalate, with the guide's atomic weights."""
    molar_mass = 8 * 12.0107 + 5 * 1.00794 + 4 * 15.9994 + 39.0983
    atoms = combine(
        [(8, rectangular(0.0008)), (5, rectangular(0.00007)), (4, rectangular(0.0003)), (1, rectangular(0.0001))]
    )
    return {
        "m": (0.3888, combine([(1, rectangular(0.00015))] * 2)),
        "P": (1.0, rectangular(0.0005)),
        "M": (molar_mass, atoms),
    }


def a2() -> tuple[float, Combined, dict[str, float]]:
    """Standardisation of a sodium hydroxide solution [mol/L]."""
    volume = combine([(1, triangular(0.03)), (1, normal(0.006))])
    return propagate(
        lambda m, P, M, V, R: 1000 * m * P / (M * V) * R,
        _phthalate() | {"V": (18.64, volume), "R": (1.0, normal(0.0005))},
    )


def a3(repeatability: float = 0.001, bias: Part | None = None) -> tuple[float, Combined, dict[str, float]]:
    """Titration of hydrochloric acid [mol/L]; `bias` is the uncertainty of an indicator bias of 0.05 mL."""

    def burette(half_width: float, volume: float) -> Combined:
        return combine([(1, triangular(half_width)), (1, rectangular(volume * 2.1e-4 * 4))])

    def model(
        *, m: float, P: float, M: float, V1: float, V2: float, V3: float, R: float, B1: float, B2: float
    ) -> float:
        return 1000 * m * P * (V2 - B2) / ((V1 - B1) * M * V3) * R

    shift = (0.05, bias) if bias else (1e-30, Part(0.0))
    return propagate(
        model,
        _phthalate()
        | {
            "V2": (14.89, burette(0.03, 15)),
            "V1": (18.64, burette(0.03, 19)),
            "V3": (15.0, burette(0.02, 15)),
            "R": (1.0, normal(repeatability)),
            "B1": shift,
            "B2": shift,
        },
    )
