"""Range checks shared by the correlations, and root finders for those that rise and those that are nearly straight."""

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence

from service.chemistry.errors import OutOfRange

ROUNDING = 1e-9
"""How far a mass fraction or a temperature may lie beyond a limit, or relative to it a mass, by rounding alone [-, °C]
(numerical)."""

_CLOSED = 1e-13
"""Residual over its scale at which a place is the root [-] (numerical)."""
_NEAR = 1e-4
"""Step over the width of the search after which none is left to take: it leaves the less, the straighter the function
is, and it is short where that is straight [-] (numerical)."""


def require(quantity: str, value: float, low: float, high: float, reason: str) -> None:
    """Raise OutOfRange unless low <= value <= high; NaN is out of every range.

    Args:
        quantity: name of the argument.
        value: what was asked [SI].
        low: lower end [SI].
        high: upper end [SI].
        reason: why the range ends there.

    Raises:
        OutOfRange: the value is not in the range.
    """
    if not low <= value <= high:
        raise OutOfRange(quantity, value, low, high, reason)


def require_mass_fraction(w: float, high: float, reason: str) -> float:
    """Give w, brought down to `high` where rounding alone put it above; raise OutOfRange beyond.

    Args:
        w: mass fraction [-].
        high: highest mass fraction [-].
        reason: why the range ends there.

    Raises:
        OutOfRange: w is below 0 or beyond rounding above `high`.
    """
    if high < w <= high + ROUNDING:
        return high
    if not 0.0 <= w <= high:
        raise OutOfRange("mass_fraction", w, 0.0, high, reason)
    return w


def highest_below(t: float, below: Sequence[float], highest: Sequence[float]) -> float:
    """Highest mass fraction [-] of the first range that ends above a temperature, with room for rounding.

    A stock of 50 % stays within a range to 50 %, however its strength and its temperature were said.

    Args:
        t: temperature [°C], below the last end.
        below: where each range ends, rising [°C].
        highest: highest mass fraction of each range [-].
    """
    return ROUNDING + highest[min(bisect_right(below, t + ROUNDING), len(highest) - 1)]


def rising_root(
    function: Callable[[float], float], target: float, low: float, high: float, *, quantity: str, reason: str
) -> float:
    """Solve function(x) = target for a function that rises from low to high, to about 1e-14 in x.

    The method is Chandrupatla's [1]_: inverse quadratic interpolation where that is safe, else bisection.

    Args:
        function: rising function.
        target: its wanted value [unit of the function].
        low: lower end of x [unit of x].
        high: upper end of x [unit of x].
        quantity: what the target is called, for the error.
        reason: why the target's range ends at function(low) and function(high).

    Raises:
        OutOfRange: the target lies outside function(low) to function(high).

    References:
        .. [1] T. R. Chandrupatla, Adv. Eng. Software 28 (1997) 145-149 (its bounds here are numerical settings).
    """
    a, b = low, high
    fa, fb = function(a) - target, function(b) - target
    # A target a few rounding errors outside is the end itself: w = 0 must come back from the density of water.
    slack = 8e-15 * max(abs(target), 1e-300)
    if abs(fa) <= slack:
        return a
    if abs(fb) <= slack:
        return b
    if not fa < 0.0 < fb:
        raise OutOfRange(quantity, target, fa + target, fb + target, reason)
    c, fc = a, fa
    t = 0.5
    for _ in range(100):
        x = a + t * (b - a)
        fx = function(x) - target
        if (fx < 0.0) == (fa < 0.0):
            c, fc = a, fa
        else:
            c, b, fc, fb = b, a, fb, fa
        a, fa = x, fx
        best, smallest = (a, fa) if abs(fa) < abs(fb) else (b, fb)
        tolerance = 2.0 * math.ulp(abs(best)) + 1e-17
        if smallest == 0.0 or abs(b - a) <= 2.0 * tolerance:
            return best
        limit = tolerance / abs(b - a)
        along = (a - b) / (c - b)
        down = (fa - fb) / (fc - fb)
        if down * down < along and (1.0 - down) ** 2 < 1.0 - along:
            t = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        else:
            t = 0.5
        t = min(max(t, limit), 1.0 - limit)
    return best


def straight_root(
    function: Callable[[float], float], left: tuple[float, float], right: tuple[float, float], scale: float
) -> float:
    """Solve function(x) = 0 between two places where the signs differ, for a function that is nearly straight there.

    By inverse quadratic interpolation, which leaves about the product of the errors of its three places: none is asked
    for only to prove that the last step was small.

    Args:
        function: what is to be 0; rising or falling all the way.
        left: a place [unit of x], and the function there [unit of the function].
        right: another, and the function there, of the other sign.
        scale: what the function is small against [unit of the function].

    References:
        .. [1] inverse quadratic interpolation, as for `rising_root`.

    Examples:
        >>> round(straight_root(lambda x: x + 0.01 * x * x - 1.0, (0.0, -1.0), (1.0, 0.01), 1.0), 9)
        0.990195136
    """
    (a, fa), (b, fb) = left, right
    near = _NEAR * abs(b - a)
    x = b - fb * (b - a) / (fb - fa) if fb != fa else b
    for _ in range(100):
        fx = function(x)
        if abs(fx) <= _CLOSED * scale:
            break
        if (fx < 0.0) == (fa < 0.0):
            a, fa, b, fb = b, fb, a, fa
        # The root lies between x and a; b was an end until now.
        to_a = (a - x) / (fa - fx)
        bend = ((b - x) / (fb - fx) - to_a) / (fb - fa) if fb != fx else 0.0
        step = fx * (fa * bend - to_a)
        if abs(step) <= near:
            return x + step
        b, fb = x, fx
        x = x + step if 0.0 < step / (a - x) < 1.0 else 0.5 * (a + x)
    return x
