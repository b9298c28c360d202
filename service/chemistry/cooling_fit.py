"""The heat-loss coefficient of Newton's law, fitted to readings of a cooling.

With the heat capacity C and the surroundings at T_a the integral of C dT / (T - T_a) from a reading to the first one,
its way [J/K], is U A times the time between both. So the coefficient is the slope of the ways against the times, by
least squares, each weighed by the inverse variance that its thermometer leaves.

References:
    .. [1] T. L. Bergman et al., Introduction to Heat Transfer, 6th ed., 5.1 (lumped capacitance).
    .. [2] JCGM 100:2008, H.3 (a straight line by least squares), and table G.2 (Student's t).
"""

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from service.chemistry.air import VOLUMETRIC_HEAT
from service.chemistry.errors import OutOfRange
from service.chemistry.heat_loss import HEAT_OF_EVAPORATION
from service.chemistry.ranges import require
from service.chemistry.uncertainty import Combined, Part, combine, coverage_factor, coverage_half_width
from service.chemistry.warming import logarithmic_mean

_NORMAL: Final = 1.959963984540054
"""0.975 quantile of the normal distribution [-] (exact, to the digits of a float)."""


class Fitted(NamedTuple):
    """A coefficient, and how well readings tell it."""

    coefficient: float
    """W/K."""
    half_width: float
    """Of its 95 % interval [W/K]: by the scatter of the readings, or by the thermometer where that leaves more.

    Readings scatter beyond their thermometer because the coefficient changes on the way. It is then between those from
    one reading to the next, which of three readings leave much less than Student's factor does.
    """
    by_scatter: bool
    """Whether it is the scatter that leaves more."""
    mean_time: float
    """Weighted mean of the times [s]."""
    mean_way: float
    """Weighted mean of the ways [J/K]."""
    thermometer: float
    """Half-width of its interval by the thermometer alone [W/K]."""
    pulls: tuple[float, ...]
    """By how much each way moves it [1/s]; in all 0."""
    spreads: tuple[Part, ...]
    """What the thermometer leaves of each way [J/K]."""


def way(heat: float, before: float, after: float) -> float:
    """Integral of the heat capacity over the difference of temperatures, from one reading to the next [J/K].

    Args:
        heat: given off between them, at least 0 [J].
        before: difference to the surroundings at the first, above 0 [K].
        after: at the second, above 0 [K].

    Raises:
        OutOfRange: a difference is not above 0.

    References:
        .. [1] exact for a constant heat capacity: it is then C ln(before / after).

    Examples:
        >>> round(way(9e3 * 30.0, 60.0, 30.0), 1)
        6238.3
    """
    require("heat", heat, 0.0, math.inf, "what cools gives off heat")
    return heat / logarithmic_mean(before, after)


def student_factor(freedom: int) -> float:
    """Factor of Student's distribution for a two-sided interval of 95 % [1], to 0.2 %.

    Args:
        freedom: degrees of freedom, at least 1 [1].

    Raises:
        OutOfRange: fewer than 1.

    References:
        .. [1] closed forms for 1 and 2; else the expansion in powers of 1/freedom, Abramowitz and Stegun 26.7.5
           (exact numbers of a series).

    Examples:
        >>> [round(student_factor(n), 2) for n in (1, 2, 5, 10)]
        [12.71, 4.3, 2.57, 2.23]
    """
    require("freedom", freedom, 1, math.inf, "a scatter needs more readings than a line needs")
    if freedom == 1:
        return math.tan(0.475 * math.pi)
    if freedom == 2:
        return 0.95 * math.sqrt(2.0 / (1.0 - 0.95**2))
    z, n = _NORMAL, float(freedom)
    first = (z**3 + z) / 4.0
    second = (5.0 * z**5 + 16.0 * z**3 + 3.0 * z) / 96.0
    third = (3.0 * z**7 + 19.0 * z**5 + 17.0 * z**3 - 15.0 * z) / 384.0
    fourth = (79.0 * z**9 + 776.0 * z**7 + 1482.0 * z**5 - 1920.0 * z**3 - 945.0 * z) / 92160.0
    return z + (first + (second + (third + fourth / n) / n) / n) / n


def fit(times: Sequence[float], ways: Sequence[float], spreads: Sequence[Part]) -> Fitted:
    """The coefficient whose line is nearest to readings.

    Args:
        times: of the readings, rising, two or more [s].
        ways: of each from the first [J/K].
        spreads: what the thermometer leaves of each way, above 0 [J/K].

    Raises:
        OutOfRange: there are fewer than two readings, or as many of one as not of another.

    References:
        .. [1] the module's.

    Examples:
        >>> found = fit([0.0, 1000.0, 2000.0], [0.0, 1500.0, 3000.0], [Part(10.0)] * 3)
        >>> round(found.coefficient, 6), found.by_scatter
        (1.5, False)
    """
    n = len(times)
    require("number of readings", n, 2, math.inf, "a line has two ends")
    require("number of ways", len(ways), n, n, "each reading has its way")
    require("number of spreads", len(spreads), n, n, "each reading has its spread")
    weights = [1.0 / part.standard_uncertainty**2 for part in spreads]
    whole = math.fsum(weights)
    mean_time = math.fsum(a * t for a, t in zip(weights, times, strict=True)) / whole
    mean_way = math.fsum(a * y for a, y in zip(weights, ways, strict=True)) / whole
    square = math.fsum(a * (t - mean_time) ** 2 for a, t in zip(weights, times, strict=True))
    pulls = [a * (t - mean_time) / square for a, t in zip(weights, times, strict=True)]
    slope = math.fsum(pull * y for pull, y in zip(pulls, ways, strict=True))
    thermometer = coverage_half_width(_combined(pulls, spreads))
    scatter = 0.0
    if n > 2:
        left = math.fsum(
            a * (y - mean_way - slope * (t - mean_time)) ** 2 for a, t, y in zip(weights, times, ways, strict=True)
        )
        scatter = student_factor(n - 2) * math.sqrt(left / (n - 2) / square)
    legs = [(ways[i] - ways[i - 1]) / (times[i] - times[i - 1]) for i in range(1, n)]
    farthest = max(abs(one - slope) for one in legs) + thermometer
    half_width = max(thermometer, min(scatter, farthest))
    return Fitted(
        slope, half_width, scatter > thermometer, mean_time, mean_way, thermometer, tuple(pulls), tuple(spreads)
    )


def _combined(pulls: Sequence[float], spreads: Sequence[Part]) -> Combined:
    return combine(zip(pulls, spreads, strict=True))


def time_limits(fitted: Fitted, way: float, *, from_last: bool) -> tuple[float, float]:
    """Ends of the 95 % interval of the time in which what cools goes a further way, at least 0 [s].

    A time holds where what is left of the way then, D = W - S t, is no farther from 0 than what the readings leave of
    it. Where the way starts at the last reading, that errs twice: read too warm, the way is longer and the slope S of
    the readings is less. With the pull p of each reading on the slope,

        dD = -sum(p t dy) - dy_last

    Args:
        fitted: the coefficient of the readings, surely above 0.
        way: to go, above 0 [J/K].
        from_last: whether it starts at the last reading; else at a temperature that is known.

    Raises:
        OutOfRange: the way is not above 0, or the interval of the coefficient reaches to 0.

    References:
        .. [1] E. C. Fieller, J. R. Stat. Soc. B 16 (1954) 175-185: limits of a ratio whose parts err together, here the
           way over the slope (from memory).

    Examples:
        >>> found = fit([0.0, 1000.0, 2000.0], [0.0, 1500.0, 3000.0], [Part(10.0)] * 3)
        >>> [round(t) for t in time_limits(found, 1500.0, from_last=False)]
        [991, 1009]
        >>> [round(t) for t in time_limits(found, 1500.0, from_last=True)]
        [980, 1021]
    """
    slope, half_width = fitted.coefficient, fitted.half_width
    if not way > 0.0:
        raise OutOfRange("way", way, 0.0, math.inf, "it is still to be gone")
    if not slope > half_width:
        raise OutOfRange("coefficient", slope - half_width, 0.0, math.inf, "what surely cools comes to an end")
    if not from_last:
        return way / (slope + half_width), way / (slope - half_width)
    time = way / slope
    of_last = fitted.spreads[-1].standard_uncertainty ** 2
    # The factor is that of all at the time itself; the slope keeps its own, and what scatter leaves beside.
    pulls = [time * pull for pull in fitted.pulls]
    pulls[-1] += 1.0
    factor = coverage_factor(_combined(pulls, fitted.spreads)) ** 2
    square = slope * slope - half_width * half_width
    both = way * slope + factor * fitted.pulls[-1] * of_last
    rest = way * way - factor * of_last
    root = math.sqrt(both * both - square * rest)
    return max(0.0, rest / (both + root)), (both + root) / square


def loss_spread(fitted: Fitted, capacity: float, *, from_last: bool) -> float:
    """Half-width of the 95 % interval of the heat lost at a temperature, over that heat [1].

    Read too warm, the last reading has more to lose and makes the slope less: both in part cancel.

    Args:
        fitted: the coefficient of the readings, above 0.
        capacity: of contents and vessel there, above 0 [J/K].
        from_last: whether the temperature is that of the last reading; else it is known.

    Raises:
        OutOfRange: the capacity is not above 0.

    References:
        .. [1] JCGM 100:2008, 5.2.

    Examples:
        >>> found = fit([0.0, 1000.0, 2000.0], [0.0, 1500.0, 3000.0], [Part(10.0)] * 3)
        >>> [round(loss_spread(found, 9e3, from_last=one), 4) for one in (False, True)]
        [0.0092, 0.0079]
    """
    if not capacity > 0.0:
        raise OutOfRange("capacity", capacity, 0.0, math.inf, "what cools gives off heat")
    slope = fitted.coefficient
    if not from_last:
        return fitted.half_width / slope
    pulls = [pull / slope for pull in fitted.pulls]
    pulls[-1] -= 1.0 / capacity
    by_scatter = fitted.half_width**2 - fitted.thermometer**2
    return math.sqrt(coverage_half_width(_combined(pulls, fitted.spreads)) ** 2 + max(0.0, by_scatter) / slope**2)


def fitted_losses(
    coefficient: tuple[float, float, float], apart: float, mean: float, power: float, vapour: float = 1.0
) -> tuple[float, float, float]:
    """Heat lost by a fitted coefficient [W]: by Newton's law, and its limits where the coefficient falls on the way.

    Free convection, radiation and evaporation make a coefficient fall with the difference of temperatures, which a fit
    over a short way does not see. The limits hold for a coefficient in proportion to any power of the difference from 0
    (Newton's law) to the one given, that is as fitted at the mean of the readings, with and without what vapour makes
    of it.

    Args:
        coefficient: value, lower and upper limit, above 0 [W/K].
        apart: difference to the surroundings, above 0 [K].
        mean: geometric mean of that of the readings, above 0 [K].
        power: highest power, at least 0 [1].
        vapour: by how much more or less an open surface loses per kelvin there than at the mean, as of
            `surface_change`; 1 where it is closed [1].

    Raises:
        OutOfRange: the power is negative, or a difference or the vapour not above 0.

    References:
        .. [1] powers of free convection: 1/4 laminar, 1/3 turbulent (Bergman et al., 9.4).
    """
    require("power", power, 0.0, math.inf, "a warmer vessel does not lose less")
    if not min(apart, mean) > 0.0:
        raise OutOfRange("apart", min(apart, mean), 0.0, math.inf, "what cools is warmer than its surroundings")
    if not vapour > 0.0:
        raise OutOfRange("vapour", vapour, 0.0, math.inf, "an open surface radiates beside")
    change = math.pow(apart / mean, power)
    value, low, high = (one * apart for one in coefficient)
    return value, low * min(1.0, change, change * vapour), high * max(1.0, change, change * vapour)


def surface_change(now: tuple[float, float], mean: tuple[float, float], convection: float) -> float:
    """By how much an open surface loses more or less per kelvin at one temperature than at another, by vapour alone.

    It is that of the surface only, so the most that vapour changes the loss of a whole vessel, whose walls stay dry.

    Args:
        now: difference to the surroundings [K], and by how much the air over the surface is denser in water vapour
            than the room's, as of `service.chemistry.standing_loss.steam` [kg/m3].
        mean: likewise at the other.
        convection: share of convection in what a dry surface loses; the rest is radiation [1].

    Raises:
        OutOfRange: a difference is not above 0.

    References:
        .. [1] W. K. Lewis, Trans. ASME 44 (1922) 325-340: evaporation goes with convection.

    Examples:
        >>> round(surface_change((15.0, 0.02), (70.0, 0.3), 0.5), 2)
        0.43
    """
    if not min(now[0], mean[0]) > 0.0:
        raise OutOfRange("apart", min(now[0], mean[0]), 0.0, math.inf, "what cools is warmer than its surroundings")
    per_density = convection * HEAT_OF_EVAPORATION / VOLUMETRIC_HEAT
    there, here = (1.0 + per_density * density / apart for apart, density in (mean, now))
    return here / there
