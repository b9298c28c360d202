"""Times of a cooling, and the coefficient of Newton's law: closed forms, limits, and a fit to readings."""

import math
import random
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.cooling import MELTING_HEAT, cooling_times, geometric_way, melted_ice, newton_coefficient
from service.chemistry.cooling_fit import (
    fit,
    fitted_losses,
    loss_spread,
    student_factor,
    surface_change,
    time_limits,
    way,
)
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import Part
from tests.reference_cases.convection_validation import student_factors


@given(u=st.floats(0.1, 100.0), start=st.floats(30.0, 120.0), share=st.floats(0.001, 0.99), legs=st.integers(1, 40))
def test_newtons_law_is_exact_in_any_number_of_legs(u: float, start: float, share: float, legs: int) -> None:
    rest, capacity = 20.0, 1e4
    end = rest + share * (start - rest)
    nodes = geometric_way(start, end, rest, legs)
    heats = [capacity * (a - b) for a, b in pairwise(nodes)]
    times = cooling_times(heats, [u * (t - rest) for t in nodes])
    assert times[-1] == pytest.approx(capacity / u * math.log(1.0 / share), rel=1e-7)
    assert newton_coefficient(times[-1], capacity, (start - rest, end - rest)) == pytest.approx(u, rel=1e-7)


def test_a_bath_that_warms_takes_newtons_law_with_both_capacities() -> None:
    """Two bodies: their difference falls by u (1/C + 1/C_bath), here solved in small steps."""
    u, c, bath = 3.0, 8e3, 2e4
    t, b, elapsed, step = 80.0, 15.0, 0.0, 0.25
    while t > 45.0:
        q = u * (t - b)
        t, b, elapsed = t - q * step / c, b + q * step / bath, elapsed + step
    assert newton_coefficient(elapsed, c, (65.0, t - b), bath) == pytest.approx(u, rel=1e-3)


def test_the_way_goes_by_equal_factors_and_ends_at_its_end() -> None:
    nodes = geometric_way(90.0, 30.0, 20.0, 3)
    assert nodes[0] == 90.0
    assert nodes[-1] == 30.0
    assert (nodes[1] - 20.0) / 70.0 == pytest.approx((nodes[2] - 20.0) / (nodes[1] - 20.0))


def test_ice_melts_by_its_heat_of_fusion() -> None:
    # 333.43 kJ/kg: IAPWS-95 less ice Ih at 0 °C
    assert pytest.approx(333.43e3, rel=1e-3) == MELTING_HEAT
    assert melted_ice(MELTING_HEAT) == pytest.approx(1.0)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: cooling_times([1.0], [1.0]),
        lambda: cooling_times([1.0], [1.0, 0.0]),
        lambda: geometric_way(30.0, 40.0, 20.0, 3),
        lambda: geometric_way(30.0, 20.0, 20.0, 3),
        lambda: newton_coefficient(0.0, 1.0, (2.0, 1.0)),
        lambda: melted_ice(-1.0),
        lambda: student_factor(0),
        lambda: way(-1.0, 2.0, 1.0),
        lambda: way(1.0, 2.0, 0.0),
        lambda: fit([0.0], [0.0], [Part(1.0)]),
        lambda: fit([0.0, 1.0], [0.0], [Part(1.0)] * 2),
        lambda: fitted_losses((1.0, 1.0, 1.0), 0.0, 1.0, 0.0),
        lambda: fitted_losses((1.0, 1.0, 1.0), 1.0, 1.0, -1.0),
        lambda: fitted_losses((1.0, 1.0, 1.0), 1.0, 1.0, 0.0, 0.0),
        lambda: surface_change((0.0, 0.1), (1.0, 0.1), 0.5),
        lambda: time_limits(fit([0.0, 1.0], [0.0, 1.0], [Part(0.1)] * 2), 0.0, from_last=True),
        lambda: time_limits(fit([0.0, 1.0], [0.0, 1.0], [Part(9.0)] * 2), 1.0, from_last=True),
        lambda: loss_spread(fit([0.0, 1.0], [0.0, 1.0], [Part(0.1)] * 2), 0.0, from_last=True),
    ],
)
def test_what_cannot_be_is_refused(wrong: object) -> None:
    assert callable(wrong)
    with pytest.raises(OutOfRange):
        wrong()


@pytest.mark.parametrize(("freedom", "factor"), student_factors())
def test_students_factors_are_those_of_the_guide(freedom: int, factor: float) -> None:
    assert student_factor(freedom) == pytest.approx(factor, abs=0.006)


@given(u=st.floats(0.1, 50.0), ta=st.floats(0.0, 30.0), n=st.integers(2, 8))
def test_a_newton_curve_gives_its_coefficient_back(u: float, ta: float, n: int) -> None:
    capacity = 1e4
    times = [capacity / u * 0.2 * i for i in range(n)]
    temperatures = [ta + 60.0 * math.exp(-u * t / capacity) for t in times]
    ways = [way(capacity * (temperatures[0] - t), 60.0, t - ta) if t < ta + 60.0 else 0.0 for t in temperatures]
    found = fit(times, ways, [Part(capacity / (t - ta) * 0.3) for t in temperatures])
    assert found.coefficient == pytest.approx(u, rel=1e-6)
    assert not found.by_scatter


def test_the_interval_of_a_fit_covers_as_it_says() -> None:
    """2000 draws of four readings with a normal error of 0.5 K: the coefficient lies in 95 % of the intervals."""
    rng, u, capacity = random.Random(5), 2.0, 1e4  # noqa: S311 - draws, not secrets
    times = [0.0, 1000.0, 2000.0, 3000.0]
    covered = 0
    for _ in range(2000):
        read = [60.0 * math.exp(-u * t / capacity) + rng.gauss(0.0, 0.5) for t in times]
        ways = [capacity * math.log(read[0] / one) for one in read]
        found = fit(times, ways, [Part(capacity / one * 0.5) for one in read])
        covered += abs(found.coefficient - u) <= found.half_width
    assert 0.94 < covered / 2000 <= 1.0  # the wider of two intervals, so rather more than 95 %


@pytest.mark.parametrize("count", [2, 3, 6, 13, 40])
def test_the_interval_of_a_time_from_the_last_reading_covers_as_it_says(count: int) -> None:
    """2000 draws of readings with normal errors: the time that is true lies in 95 % of the intervals.

    By Newton's law a difference of 60 K falls to 20 K, and on to 15 K in C/(U A) ln(4/3) (Bergman et al., 5.1).
    """
    rng, u, capacity = random.Random(count), 2.0, 1e4  # noqa: S311 - draws, not secrets
    whole, kelvins = capacity / u * math.log(3.0), 0.2
    times = [whole * i / (count - 1) for i in range(count)]
    covered = 0
    for _ in range(2000):
        read = [60.0 * math.exp(-u * t / capacity) + rng.gauss(0.0, kelvins) for t in times]
        ways = [capacity * math.log(read[0] / one) for one in read]
        found = fit(times, ways, [Part(capacity / one * kelvins) for one in read])
        low, high = time_limits(found, capacity * math.log(read[-1] / 15.0), from_last=True)
        covered += low <= capacity / u * math.log(4.0 / 3.0) <= high
    # Three standard deviations of 2000 draws; above, since the wider of thermometer and scatter is told.
    assert 0.95 - 3.0 * math.sqrt(0.95 * 0.05 / 2000) < covered / 2000 <= (0.97 if count == 2 else 1.0)


def test_a_time_from_a_temperature_that_is_known_has_the_interval_of_the_slope() -> None:
    found = fit([0.0, 1000.0, 2000.0], [0.0, 1500.0, 3000.0], [Part(10.0)] * 3)
    low, high = time_limits(found, 600.0, from_last=False)
    assert (600.0 / high, 600.0 / low) == pytest.approx((1.5 - found.half_width, 1.5 + found.half_width))


@given(more=st.floats(0.01, 1.0), count=st.integers(2, 20))
def test_a_last_reading_that_is_off_moves_time_and_loss_within_their_intervals(more: float, count: int) -> None:
    """Off by less than its standard uncertainty, the others true, as a refit says it."""
    u, capacity, kelvins = 2.0, 1e4, 0.3
    times = [500.0 * i for i in range(count)]
    true = [60.0 * math.exp(-u * t / capacity) for t in times]
    read = [*true[:-1], true[-1] + more * kelvins]
    ways = [capacity * math.log(60.0 / one) for one in read]
    found = fit(times, ways, [Part(capacity / one * kelvins) for one in read])
    if found.coefficient > found.half_width:
        low, high = time_limits(found, capacity * math.log(read[-1] / 5.0), from_last=True)
        assert low <= capacity / u * math.log(true[-1] / 5.0) <= high
    lost = found.coefficient * read[-1]
    assert abs(u * true[-1] / lost - 1.0) <= loss_spread(found, capacity, from_last=True)


def test_scatter_beyond_the_thermometer_widens_the_interval() -> None:
    times, spreads = [0.0, 1.0, 2.0, 3.0], [Part(0.01)] * 4
    even, uneven = fit(times, [0.0, 1.0, 2.0, 3.0], spreads), fit(times, [0.0, 1.2, 1.8, 3.0], spreads)
    assert not even.by_scatter
    assert uneven.by_scatter
    assert uneven.half_width > 10 * even.half_width


@given(apart=st.floats(1.0, 100.0), power=st.floats(0.0, 1.0))
def test_a_coefficient_that_falls_with_the_difference_lies_within_the_limits(apart: float, power: float) -> None:
    value, low, high = fitted_losses((2.0, 1.9, 2.1), apart, 30.0, power)
    assert low <= value <= high
    assert low <= 2.0 * apart * (apart / 30.0) ** power <= high


@given(apart=st.floats(1.0, 100.0), power=st.floats(0.0, 1.0), vapour=st.floats(0.1, 10.0))
def test_vapour_that_dries_up_lowers_the_lower_limit_alone(apart: float, power: float, vapour: float) -> None:
    _, low, high = fitted_losses((2.0, 1.9, 2.1), apart, 30.0, power, vapour)
    assert low <= 2.0 * apart * (apart / 30.0) ** power * vapour <= high
    assert low <= fitted_losses((2.0, 1.9, 2.1), apart, 30.0, power)[1]
    assert high >= fitted_losses((2.0, 1.9, 2.1), apart, 30.0, power)[2]


def test_an_open_surface_by_hand() -> None:
    """At 70 K above the room 0.3 kg/m3 of vapour carry 0.3 * 2.4e6 / 1108 = 650 K worth of convection."""
    assert surface_change((70.0, 0.0), (70.0, 0.3), 1.0) == pytest.approx(70.0 / (70.0 + 650.0), rel=0.05)
    assert surface_change((15.0, 0.0), (70.0, 0.0), 0.5) == 1.0
