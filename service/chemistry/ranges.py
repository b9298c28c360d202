"""Range checks shared by the correlations, and a root finder for those that rise."""

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence

from service.chemistry.errors import OutOfRange

ROUNDING = 1e-9
"""How far a mass fraction or a temperature may lie beyond a limit, or relative to it a mass, by rounding alone."""


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
        .. [1] T. R. Chandrupatla, Adv. Eng. Software 28 (1997) 145-149.
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
