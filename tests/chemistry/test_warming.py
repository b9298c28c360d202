"""Warming against a loss: the closed form of constant coefficients, and the end of what is reached.

[1]_ T. L. Bergman et al., Introduction to Heat Transfer, 6th ed., 5.3, general lumped capacitance analysis.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.errors import OutOfRange
from service.chemistry.warming import Leg, logarithmic_mean, steady_temperature, warm


def _legs(start: float, end: float, capacity: float, count: int) -> list[Leg]:
    step = (end - start) / count
    return [Leg(start + (i + 1) * step, capacity * step) for i in range(count)]


@given(
    power=st.floats(100.0, 5000.0),
    coefficient=st.floats(0.1, 50.0),
    capacity=st.floats(1e3, 1e7),
    share=st.floats(0.05, 0.99),
    count=st.integers(1, 9),
)
def test_a_loss_in_proportion_gives_the_exponential_however_few_legs(
    power: float, coefficient: float, capacity: float, share: float, count: int
) -> None:
    room, start = 20.0, 15.0
    steady = room + power / coefficient
    end = start + share * (steady - start)
    found = warm(start, _legs(start, end, capacity, count), power, lambda t: coefficient * (t - room))
    # [1]: (T - T_s) / (T_0 - T_s) = exp(-t UA / C), solved for t
    due = -capacity / coefficient * math.log((end - steady) / (start - steady))
    assert found.reached
    assert found.times[-1] == pytest.approx(due, rel=1e-6)


def test_without_loss_the_time_is_heat_over_power() -> None:
    # 10 kg at 2 kJ/(kg K) by 20 K with 500 W at 80 %: 400 kJ / 400 W = 1000 s, by hand
    found = warm(20.0, [Leg(40.0, 400e3)], 400.0, lambda _: 0.0)
    assert found.times == pytest.approx((1000.0,))


def test_melting_at_one_temperature_takes_its_heat_over_the_net_power() -> None:
    found = warm(5.0, [Leg(5.0, 90e3), Leg(10.0, 0.0)], 100.0, lambda _: 10.0)
    assert found.times[0] == pytest.approx(1000.0)


def test_what_the_heater_cannot_reach_is_said() -> None:
    legs = _legs(20.0, 80.0, 1e5, 6)
    found = warm(20.0, legs, 300.0, lambda t: 10.0 * (t - 20.0))
    assert not found.reached
    assert len(found.times) == 2  # 30 and 40 °C; at 50 °C the loss takes all of it


@given(power=st.floats(1.0, 1e4), coefficient=st.floats(0.01, 100.0))
def test_the_steady_temperature_balances_the_loss(power: float, coefficient: float) -> None:
    found = steady_temperature(power, lambda t: coefficient * (t - 20.0), 20.0, 150.0)
    due = 20.0 + power / coefficient
    if found is None:
        assert due > 150.0
    else:
        assert found == pytest.approx(due, rel=1e-9)


@given(a=st.floats(1e-6, 1e6), b=st.floats(1e-6, 1e6))
def test_the_logarithmic_mean_lies_between_the_geometric_and_the_arithmetic(a: float, b: float) -> None:
    found = logarithmic_mean(a, b)
    assert math.sqrt(a * b) * (1 - 1e-9) <= found <= (a + b) / 2 * (1 + 1e-9)


@pytest.mark.parametrize("pair", [(0.0, 1.0), (1.0, -1.0), (math.nan, 1.0)])
def test_a_logarithmic_mean_of_what_is_not_positive_is_refused(pair: tuple[float, float]) -> None:
    with pytest.raises(OutOfRange):
        logarithmic_mean(*pair)
