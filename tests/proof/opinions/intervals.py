"""The interval of a superfat, beside the propagation of whole distributions (JCGM 101:2008)."""

import math
from collections.abc import Iterator

import numpy as np

from tests.proof.opinions.records import Axis, Opinion, Point
from tests.reference_cases.test_monte_carlo import CASES, ours, true_superfats

CASE = Axis("case, in the order of the list", "-")
END = Axis("end of the interval: 0 lower, 1 upper", "-")
SEED = 8


def numerical_tolerance(standard_uncertainty: float) -> float:
    """Half a unit of the one significant digit of a standard uncertainty (JCGM 101:2008, 7.9.2)."""
    return float(0.5 * 10.0 ** math.floor(math.log10(standard_uncertainty)))


def _points() -> Iterator[Point]:
    for place, case in enumerate(CASES.values(), start=1):
        budget, alkali = ours(case)
        _, drawn = true_superfats(case, alkali, seed=SEED)
        tolerance = numerical_tolerance(float(np.std(drawn)))
        for end, (stated, share) in enumerate(zip(budget.superfat_interval, (2.5, 97.5), strict=True)):
            yield Point(float(place), float(end), stated, tolerance, float(np.percentile(drawn, share)))


def opinions() -> Iterator[Opinion]:
    """Of twelve batches."""
    yield Opinion(
        name="superfat-monte-carlo",
        quantity="ends of the 95 % interval of a superfat",
        unit="-",
        our_source="JCGM 100:2008, with the coverage factor of the widest rectangle and a rest",
        their_source="200 000 draws from the distributions of the inputs, JCGM 101:2008, 2.5 and 97.5 %",
        shared="the model; not the way through it",
        points=tuple(_points()),
        explanation="Within 0.0005, and 0.001 where a coarse scale weighs a small batch.",
        along=CASE,
        curves=END,
        labels=tuple(CASES),
    )
