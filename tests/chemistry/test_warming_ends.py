"""Warming where the heater does just not suffice, and logarithmic means of numbers that are almost the same."""

import math
from decimal import Decimal, localcontext

import pytest

from service.chemistry.warming import Leg, logarithmic_mean, steady_temperature, warm
from tests.chemistry.refusing import refused


def test_a_heater_that_does_no_more_than_hold_its_temperature_reaches_none() -> None:
    """At 30 °C the loss of 10 W/K takes all of 100 W."""
    found = warm(30.0, [Leg(40.0, 1e5)], 100.0, lambda t: 10.0 * (t - 20.0))
    assert found == ((), False)
    found = warm(25.0, [Leg(30.0, 1e5)], 100.0, lambda t: 10.0 * (t - 20.0))
    assert found == ((), False)


def test_what_is_left_of_the_power_may_be_less_than_a_watt() -> None:
    """0.5 W bring 1 kJ in 2000 s, from 0.2 to 0.8 W they are the logarithmic mean."""
    assert warm(20.0, [Leg(21.0, 1e3)], 0.5, lambda _: 0.0).times == pytest.approx((2000.0,))
    found = warm(20.0, [Leg(21.0, 1e3)], 0.8, lambda t: 0.6 * (t - 20.0))
    assert found.times == pytest.approx((1e3 * math.log(4.0) / 0.6,))


@pytest.mark.parametrize("middle", [0.7, 350.0])
@pytest.mark.parametrize("apart", [0.0, 1e-9, 3e-6, 0.5e-4, 0.99e-4])
def test_a_mean_of_two_that_are_almost_alike_keeps_its_digits(middle: float, apart: float) -> None:
    """(a - b) / ln(a / b) with 60 digits."""
    a, b = middle * (1.0 + apart), middle * (1.0 - apart)
    with localcontext() as digits:
        digits.prec = 60
        exact = Decimal(a) if a == b else (Decimal(a) - Decimal(b)) / (Decimal(a) / Decimal(b)).ln()
    assert logarithmic_mean(a, b) == pytest.approx(float(exact), rel=1e-15, abs=0.0)
    assert logarithmic_mean(b, a) == logarithmic_mean(a, b)


@pytest.mark.parametrize("one", [0.0, -1.0, math.nan])
def test_a_mean_is_of_what_is_above_nought(one: float) -> None:
    for pair in ((one, 2.0), (2.0, one)):
        with refused("net power", 0.0, math.inf):
            logarithmic_mean(*pair)


def test_a_steady_temperature_may_be_the_end_of_the_search() -> None:
    assert steady_temperature(130.0, lambda t: t - 20.0, 20.0, 150.0) == pytest.approx(150.0)
    assert steady_temperature(130.1, lambda t: t - 20.0, 20.0, 150.0) is None
