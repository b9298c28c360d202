"""Uncertainty of a result from the uncertainties of what went into it.

First-order propagation [1]_: the combined variance is the sum over the inputs of (sensitivity times
standard uncertainty) squared. What goes out is a symmetric interval that covers 95 %.

Two standard uncertainties would overshoot where one rectangular input dominates, and that is the usual case
here: the saponification value of a fat is known as a pair of limits, and it outweighs every balance. So the
result is taken as distributed like *the widest rectangular part plus a normal for all the rest*, of the same
total variance. Its 95 % coverage factor k runs from 1.645 (0.95 times the square root of 3: one rectangle
alone) to 1.960 (no rectangle). It dips to 1.6443 on the way, since a whisker of normal spread widens the
standard uncertainty sooner than the interval.

The interval is exact for one rectangle and a normal. Where a second rectangle takes the place of the normal,
it covers between 94.4 % (the second 0.37 times as wide as the first) and 95.3 % (both alike).

References:
    .. [1] JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in
       measurement (GUM), 4.3.7 (rectangular), 4.3.9 (triangular), 5.1.2 (law of propagation), F.2.2.1
       (resolution of an indicating device), G.1.4 (coverage by convolution), G.2.2 (the normal limit).
    .. [2] EA-4/02 M, Evaluation of the uncertainty of measurement in calibration, gives k = 1.65 where one
       rectangular contribution dominates (cited from memory).
"""

import math
from collections.abc import Iterable
from typing import Final, NamedTuple

from service.chemistry.errors import OutOfRange

COVERAGE: Final = 0.95
"""Probability that an interval given out covers [-] (assumed, as is usual)."""

_ROOT_3: Final = math.sqrt(3.0)
_ROOT_6: Final = math.sqrt(6.0)
_ROOT_2: Final = math.sqrt(2.0)
_ROOT_2_PI: Final = math.sqrt(2.0 * math.pi)
"""[-] (exact, to the digits of a float)."""
_NORMAL: Final = 1.959963984540054
"""0.975 quantile of the normal distribution [-] (exact, to the digits of a float)."""

_NARROW: Final = 1e-3
"""Half-width over normal spread below which a rectangle cannot be told from a normal of its variance [-] (numerical).

The difference of the two distributions is of the fourth power of this ratio, 1e-12; the exact formula would
lose more than that to cancellation.
"""

_CELLS: Final = 256
"""Cells of the table of coverage factors [-] (numerical): linear interpolation in it is good to 1e-5."""


class Part(NamedTuple):
    """Uncertainty of one input, or of one contribution to a result.

    Build it with `rectangular`, `triangular`, `normal` or `net_weighing`.

    Attributes:
        standard_uncertainty: standard uncertainty, all of it [unit of the quantity].
        rectangular_half_width: half-width of the rectangle that it is, or of the wider of those that it is made
            of; 0 where there is none [unit of the quantity].
    """

    standard_uncertainty: float
    rectangular_half_width: float = 0.0


class Combined(NamedTuple):
    """Uncertainty of a result.

    It may enter `combine` again, in place of a Part.

    Attributes:
        standard_uncertainty: combined standard uncertainty [unit of the result].
        widest_rectangular: half-width of the widest rectangular contribution to it [unit of the result].
    """

    standard_uncertainty: float
    widest_rectangular: float


EXACT: Final = Part(0.0, 0.0)
"""The uncertainty of what is known without any [unit of the result] (exact)."""


def rectangular(half_width: float) -> Part:
    """Uncertainty of a quantity known only to lie within limits [1]_ 4.3.7.

    Args:
        half_width: half the distance between the limits, at least 0 [unit of the quantity].

    Raises:
        OutOfRange: if the half-width is negative or not finite.
    """
    _check("half_width", half_width)
    return Part(half_width / _ROOT_3, half_width)


def triangular(half_width: float) -> Part:
    """Uncertainty of a quantity within limits, likelier near their middle [1]_ 4.3.9.

    A triangle is the sum of two rectangles of half its width, and one of them is kept as such.

    Args:
        half_width: half the distance between the limits, at least 0 [unit of the quantity].

    Raises:
        OutOfRange: if the half-width is negative or not finite.
    """
    _check("half_width", half_width)
    return Part(half_width / _ROOT_6, half_width / 2.0)


def normal(standard_uncertainty: float) -> Part:
    """Uncertainty of a measured quantity, given as its standard uncertainty.

    Args:
        standard_uncertainty: at least 0 [unit of the quantity].

    Raises:
        OutOfRange: if it is negative or not finite.
    """
    _check("standard_uncertainty", standard_uncertainty)
    return Part(standard_uncertainty)


def net_weighing(scale_division: float) -> Part:
    """Uncertainty that the steps of a scale leave in a net mass.

    Tare and gross are each rounded by at most half a division [1]_ F.2.2.1, and the difference of two equal
    rectangles is a triangle of one division to either side: 0.408 divisions of standard uncertainty.

    Args:
        scale_division: step of the display, at least 0 [kg].

    Raises:
        OutOfRange: if it is negative or not finite.
    """
    return triangular(scale_division)


def combine(contributions: Iterable[tuple[float, Part | Combined]]) -> Combined:
    """Combined uncertainty of a result from independent inputs [1]_ 5.1.2.

    What several inputs share must have been put together first: errors of one quantity add up linearly.

    Args:
        contributions: (sensitivity [unit of result per unit of input], uncertainty of the input).
    """
    variance = widest = 0.0
    for sensitivity, (standard_uncertainty, half_width) in contributions:
        contribution = sensitivity * standard_uncertainty
        variance += contribution * contribution
        reach = abs(sensitivity) * half_width
        widest = max(widest, reach)
    return Combined(math.sqrt(variance), widest)


def coverage_factor(combined: Combined) -> float:
    """Coverage factor k of the 95 % interval [1].

    Args:
        combined: combined uncertainty; its own unit does not matter.
    """
    total, widest = combined
    if total <= 0.0:
        return _FACTORS[0]
    rectangle_share = widest / (_ROOT_3 * total)
    remaining = 1.0 - rectangle_share * rectangle_share
    if remaining <= 0.0:
        return _FACTORS[0]
    place = math.sqrt(remaining) * _CELLS
    cell = int(place)
    if cell >= _CELLS:
        return _FACTORS[_CELLS]
    low = _FACTORS[cell]
    return low + (place - cell) * (_FACTORS[cell + 1] - low)


def coverage_half_width(combined: Combined) -> float:
    """Half-width of the symmetric interval that covers 95 % [unit of the result].

    Args:
        combined: combined uncertainty [unit of the result].
    """
    return coverage_factor(combined) * combined[0]


def interval(value: float, combined: Combined) -> tuple[float, float]:
    """Ends of the 95 % interval round a value [unit of the value].

    Args:
        value: the best estimate [its own unit].
        combined: its combined uncertainty [unit of the value].
    """
    half_width = coverage_half_width(combined)
    return value - half_width, value + half_width


def probability_below(limit: float, mean: float, combined: Combined) -> float:
    """Probability that the true value lies below a limit [1].

    With half-width a of the rectangle, standard deviation s of the normal rest, z the distance from mean to
    limit, and G(x) = x Phi(x) + phi(x) the integral of the normal distribution function Phi:
    P = s / (2 a) (G((z + a) / s) - G((z - a) / s)). Where the rest is a second rectangle and no normal, that is off
    by 0.0099 at most (two alike, one standard uncertainty from the mean), and towards caution far out.

    Args:
        limit: the limit [unit of the quantity].
        mean: the best estimate [unit of the quantity].
        combined: combined uncertainty of the best estimate [unit of the quantity]. Where it is 0, the value
            is below the limit (1), above it (0), or right on it (0.5, exact).
    """
    total, half_width = combined
    distance = limit - mean
    if distance == 0.0:
        return 0.5  # both sides are alike, which the difference below would miss by a rounding
    if total <= 0.0:
        return float(distance > 0.0)
    rest = math.sqrt(max(0.0, total * total - half_width * half_width / 3.0))
    if half_width <= _NARROW * rest:
        return 0.5 * math.erfc(-distance / (total * _ROOT_2))
    if rest <= _NARROW**2 * half_width:
        # Also where rounding alone has left a rest: the normal is then too narrow to show.
        return min(1.0, max(0.0, 0.5 + 0.5 * distance / half_width))
    upper = _integral_of_normal((distance + half_width) / rest)
    lower = _integral_of_normal((distance - half_width) / rest)
    return min(1.0, max(0.0, rest / (2.0 * half_width) * (upper - lower)))


def _integral_of_normal(x: float) -> float:
    return 0.5 * x * math.erfc(-x / _ROOT_2) + math.exp(-0.5 * x * x) / _ROOT_2_PI


def _density(distance: float, rest: float, half_width: float) -> float:
    upper = math.erfc(-(distance + half_width) / (rest * _ROOT_2))
    lower = math.erfc(-(distance - half_width) / (rest * _ROOT_2))
    return (upper - lower) / (4.0 * half_width)


def _coverage_factors() -> tuple[float, ...]:
    """Coverage factors of unit variance against the share s of the normal rest in the standard uncertainty.

    The table runs in s and not in the share of the rectangle, in which k turns too sharply at the pure
    rectangle. Newton's method on the distribution function, each cell started from the one before it.
    """
    quantile = 0.5 + COVERAGE / 2.0
    factor = COVERAGE * _ROOT_3
    factors = [factor]
    for cell in range(1, _CELLS):
        rest = cell / _CELLS
        half_width = math.sqrt(3.0 * (1.0 - rest * rest))
        for _ in range(20):
            excess = probability_below(factor, 0.0, Combined(1.0, half_width)) - quantile
            step = excess / _density(factor, rest, half_width)
            factor -= step
            if abs(step) < 1e-12:
                break
        factors.append(factor)
    factors.append(_NORMAL)
    return tuple(factors)


_FACTORS: Final = _coverage_factors()


def _check(quantity: str, value: float) -> None:
    if not 0.0 <= value < math.inf:
        raise OutOfRange(quantity, value, 0.0, math.inf, "an uncertainty is finite and not negative")
