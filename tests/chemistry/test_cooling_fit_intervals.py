"""Intervals of a fit to readings, against closed forms of Student's distribution and the spread of errors by hand.

References:
    .. [1] M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4: A(t|n), the
       probability that Student's t lies within t, as a finite series (from memory).
    .. [2] JCGM 100:2008, 5.1.2: errors of independent inputs add up by their squares, each by its own sensitivity.
    .. [3] E. C. Fieller, J. R. Stat. Soc. B 16 (1954) 175-185 (from memory): limits of a ratio are where numerator less
       ratio times denominator is as far from 0 as its own errors leave it.
"""

import math
from collections.abc import Callable

import pytest

from service.chemistry.cooling_fit import Fitted, fit, loss_spread, student_factor, time_limits
from service.chemistry.uncertainty import Part
from tests.chemistry.refusing import refused

NORMAL = 1.959964
"""97.5 % of the standard normal distribution (tables; from memory)."""


def _within(t: float, freedom: int) -> float:
    """Probability that Student's t lies within t [1]."""
    angle = math.atan(t / math.sqrt(freedom))
    odd = freedom % 2
    term = math.cos(angle) if odd else 1.0
    total = 0.0
    for k in range(1, (freedom - 1) // 2 + 1 if odd else freedom // 2 + 1):
        total += term
        term *= math.cos(angle) ** 2 * (2 * k / (2 * k + 1) if odd else (2 * k - 1) / (2 * k))
    return 2.0 / math.pi * (angle + math.sin(angle) * total) if odd else math.sin(angle) * total


@pytest.mark.parametrize("freedom", [1, 2])
def test_students_first_two_factors_are_exact(freedom: int) -> None:
    assert _within(student_factor(freedom), freedom) == pytest.approx(0.95, abs=1e-12)


@pytest.mark.parametrize("freedom", [3, 4, 5, 8, 13, 21, 40, 80, 160])
def test_students_series_leaves_out_what_falls_by_the_fifth_power(freedom: int) -> None:
    """Four terms of 1/n are taken, so that the probability is wrong by 1/n^5, with a factor below 1."""
    assert abs(_within(student_factor(freedom), freedom) - 0.95) < 0.1 / freedom**5


def test_no_scatter_without_freedom() -> None:
    with refused("freedom", 1, math.inf):
        student_factor(0)


def _unlike() -> Fitted:
    """Readings on one line, the later ones with wider errors: those of the thermometer are all there is."""
    return fit([0.0, 600.0, 1500.0, 2500.0], [0.0, 900.0, 2250.0, 3750.0], [Part(u) for u in (8.0, 12.0, 25.0, 60.0)])


def _bent() -> Fitted:
    """1.2 J/(K s), then 0.9: by far beyond the thermometer."""
    return fit([0.0, 1000.0, 3000.0], [0.0, 1200.0, 3000.0], [Part(0.1)] * 3)


def test_a_bent_line_reaches_to_its_steepest_leg() -> None:
    """By hand: mean time 4000/3, mean way 1400, slope 4.6e6 / (14e6/3) = 0.985714; Student's factor would say more."""
    found = _bent()
    assert found.coefficient == pytest.approx(4.6e6 / (14e6 / 3.0))
    assert found.by_scatter
    assert found.half_width - found.thermometer == pytest.approx(1.2 - 4.6e6 / (14e6 / 3.0))


def test_scatter_by_students_factor() -> None:
    """By hand: residuals 2, -1, -2, -1, 2 of a slope of 1 leave 14 of three degrees of freedom, on 1e7 s2; 3.182."""
    ways = [1000.0 * i + residual for i, residual in enumerate((2.0, -1.0, -2.0, -1.0, 2.0))]
    found = fit([1000.0 * i for i in range(5)], ways, [Part(1e-3)] * 5)
    assert found.coefficient == pytest.approx(1.0)
    assert found.half_width == pytest.approx(3.182 * math.sqrt(14.0 / 3.0 / 1e7), rel=2e-3)


def _spread(fitted: Fitted, by_slope: float, by_last: float) -> float:
    """Half-width that the errors of all ways leave of by_slope dS + by_last dy_last [2]."""
    parts = [by_slope * pull * one.standard_uncertainty for pull, one in zip(fitted.pulls, fitted.spreads, strict=True)]
    parts[-1] += by_last * fitted.spreads[-1].standard_uncertainty
    return NORMAL * math.sqrt(math.fsum(part * part for part in parts))


@pytest.mark.parametrize("readings", [_unlike, _bent])
@pytest.mark.parametrize("to_go", [500.0, 1500.0, 6000.0])
def test_the_ends_of_a_time_are_where_nothing_may_be_left_to_go(readings: Callable[[], Fitted], to_go: float) -> None:
    """[3]: |W - S t| is the half-width of W - S t itself, at either end; what scatter leaves beside goes with t."""
    fitted = readings()
    slope = fitted.coefficient
    beside = fitted.half_width**2 - fitted.thermometer**2
    for from_last in (True, False):
        low, high = time_limits(fitted, to_go, from_last=from_last)
        assert low < to_go / slope < high
        for t in (low, high):
            reach = math.hypot(_spread(fitted, t, float(from_last)), math.sqrt(beside) * t)
            assert abs(to_go - slope * t) == pytest.approx(reach, rel=1e-5)


def test_a_way_that_errors_may_have_gone_already_takes_no_time_at_the_least() -> None:
    assert time_limits(_unlike(), 50.0, from_last=True)[0] == 0.0


@pytest.mark.parametrize("capacity", [3e3, 9e3, 1e5])
def test_the_loss_at_the_last_reading_errs_by_its_slope_and_its_temperature(capacity: float) -> None:
    """A way that is too long by dy is a temperature too low by dy/C of its difference."""
    fitted = _unlike()
    found = loss_spread(fitted, capacity, from_last=True)
    assert found == pytest.approx(_spread(fitted, 1.0 / fitted.coefficient, -1.0 / capacity), rel=1e-5)


@pytest.mark.parametrize("readings", [_unlike, _bent])
def test_where_the_last_reading_is_certain_the_loss_errs_as_the_slope_does(readings: Callable[[], Fitted]) -> None:
    """Its own error vanishes with the capacity, whether thermometer or scatter makes the interval of the slope."""
    fitted = readings()
    relative = fitted.half_width / fitted.coefficient
    assert loss_spread(fitted, 1e12, from_last=True) == pytest.approx(relative, rel=1e-6)
    assert loss_spread(fitted, 1e12, from_last=False) == pytest.approx(relative)
