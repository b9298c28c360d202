"""Air that blows across a vessel: range, limits, and how it grows out of still air."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import air
from service.chemistry.errors import OutOfRange
from service.chemistry.moving_air import (
    crossflow_nusselt,
    forced_coefficient,
    moving_coefficients,
    moving_loss,
    together,
)
from service.chemistry.standing_loss import DULL, Standing, standing_loss


def _vessel(*, is_open: bool = False, diameter: float = 0.3) -> Standing:
    return Standing(diameter, 0.3, 20.0, DULL, 0.0, is_open, True)


@given(t=st.floats(21.0, 140.0), speed=st.floats(0.05, 30.0))
def test_moving_air_takes_no_less_than_still_air(t: float, speed: float) -> None:
    moving = moving_loss(_vessel(), t, (speed, speed, speed), 0.0, 0.0)
    still = standing_loss(_vessel(), t, 0.0, 0.0)
    assert all(a >= b * (1 - 1e-12) for a, b in zip(moving, still, strict=True))


@given(speed=st.floats(0.05, 20.0), more=st.floats(0.01, 5.0))
def test_faster_air_takes_more(speed: float, more: float) -> None:
    slow, fast = (moving_loss(_vessel(), 60.0, (v, v, v), 0.0, 0.0)[0] for v in (speed, speed + more))
    assert slow < fast


def test_a_speed_known_within_limits_widens_the_loss() -> None:
    known = moving_coefficients(_vessel(), 60.0, (2.0, 2.0, 2.0))
    unsure = moving_coefficients(_vessel(), 60.0, (2.0, 0.5, 4.0))
    assert unsure[0] == known[0]
    assert unsure[1] < known[1] < known[0] < known[2] < unsure[2]


def test_a_breeze_by_hand() -> None:
    """2 m/s across 0.3 m in air of 40 °C, 17.0 mm2/s (Lemmon and Jacobsen 2004): Re 35 300, Nu 113, 10 W/(m2 K)."""
    reynolds = 2.0 * 0.3 / air.kinematic_viscosity(40.0)
    assert reynolds == pytest.approx(35_300, rel=0.01)
    assert forced_coefficient(0.3, 2.0, 40.0) == pytest.approx(10.2, rel=0.03)


def test_forced_and_free_together_are_more_than_each_and_less_than_the_sum() -> None:
    assert 10.0 < together(10.0, 5.0) < 15.0
    assert together(10.0, 0.0) == pytest.approx(10.0)


@pytest.mark.parametrize(("reynolds", "prandtl"), [(0.1, 0.7), (1.1e7, 0.7), (100.0, 0.0)])
def test_beyond_what_was_measured_is_refused(reynolds: float, prandtl: float) -> None:
    with pytest.raises(OutOfRange):
        crossflow_nusselt(reynolds, prandtl)


def test_a_cylinder_without_diameter_and_a_negative_coefficient_are_refused() -> None:
    with pytest.raises(OutOfRange):
        forced_coefficient(0.0, 1.0, 20.0)
    with pytest.raises(OutOfRange):
        together(-1.0, 1.0)


@pytest.mark.parametrize("t", [-61.0, 201.0])
def test_air_is_known_between_its_limits(t: float) -> None:
    for of in (air.conductivity, air.kinematic_viscosity):
        with pytest.raises(OutOfRange):
            of(t)
