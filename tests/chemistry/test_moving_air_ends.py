"""Moving air: what is refused and why, and how limits of a speed become limits of a coefficient."""

import math
from collections.abc import Callable

import pytest

from service.chemistry.errors import OutOfRange
from service.chemistry.moving_air import crossflow_nusselt, forced_coefficient, moving_coefficients, together
from service.chemistry.standing_loss import DULL, Standing, convection_coefficient

VESSEL = Standing(0.3, 0.3, 20.0, DULL, 0.0, False, True)


@pytest.mark.parametrize(
    ("ask", "quantity", "low", "high"),
    [
        (lambda: crossflow_nusselt(100.0, 0.0), "prandtl", 0.0, math.inf),
        (lambda: crossflow_nusselt(100.0, -0.5), "prandtl", 0.0, math.inf),
        (lambda: crossflow_nusselt(0.0399, 5.0), "reynolds", 0.04, 1e7),
        (lambda: crossflow_nusselt(0.399, 0.5), "reynolds", 0.4, 1e7),
        (lambda: crossflow_nusselt(1.001e7, 0.5), "reynolds", 0.4, 1e7),
        (lambda: forced_coefficient(0.0, 1.0, 20.0), "diameter", 0.0, math.inf),
        (lambda: forced_coefficient(-1.0, 1.0, 20.0), "diameter", 0.0, math.inf),
        (lambda: together(-1e-9, 1.0), "forced", 0.0, math.inf),
        (lambda: together(1.0, -1e-9), "free", 0.0, math.inf),
    ],
)
def test_what_is_outside_is_named_with_its_limits(
    ask: Callable[[], float], quantity: str, low: float, high: float
) -> None:
    with pytest.raises(OutOfRange) as caught:
        ask()
    assert caught.value.quantity == quantity
    assert (caught.value.low, caught.value.high) == pytest.approx((low, high))


@pytest.mark.parametrize(("reynolds", "prandtl"), [(0.0401, 5.0), (0.401, 0.5), (1e7, 0.5), (100.0, 0.01)])
def test_within_the_measured_range_there_is_a_nusselt_number(reynolds: float, prandtl: float) -> None:
    """Of a creeping flow it goes to 0.3 (Churchill and Bernstein 1977)."""
    assert crossflow_nusselt(reynolds, prandtl) > 0.3


def test_a_coefficient_beside_none_is_itself_and_both_together_are_of_degree_one_either_way_round() -> None:
    assert together(0.0, 5.0) == pytest.approx(5.0)
    assert together(0.0, 0.0) == 0.0
    assert together(3.0, 4.0) == together(4.0, 3.0)
    assert together(30.0, 40.0) == pytest.approx(10.0 * together(3.0, 4.0))
    assert together(1.0, 1.0) ** 3 == pytest.approx(2.0)  # sum of third powers (Bergman et al. 9.9, from memory)


@pytest.mark.parametrize("limits", [(0.5, 4.0), (0.5, 2.0), (2.0, 4.0), (2.0, 2.0)])
def test_the_limits_are_those_of_the_slowest_and_of_the_fastest_air(limits: tuple[float, float]) -> None:
    low, high = limits
    found = moving_coefficients(VESSEL, 60.0, (2.0, low, high))
    assert found[0] == moving_coefficients(VESSEL, 60.0, (2.0, 2.0, 2.0))[0]
    assert found[1] == moving_coefficients(VESSEL, 60.0, (low, low, low))[1]
    assert found[2] == moving_coefficients(VESSEL, 60.0, (high, high, high))[2]


def test_air_has_the_mean_temperature_of_surface_and_room() -> None:
    """By hand: 60 and 20 °C make a film of 40 °C; measurements lie within a quarter (Bergman et al., from memory)."""
    free = convection_coefficient(0.3, 60.0, 20.0)
    due = together(forced_coefficient(0.3, 2.0, 40.0), free)
    value, low, high = moving_coefficients(VESSEL, 60.0, (2.0, 2.0, 2.0))
    assert value == pytest.approx(due, rel=1e-12)
    assert low == pytest.approx(0.75 * due, rel=1e-12)
    assert high > 1.25 * due
