"""Temperatures beside a threshold: what rounding and units leave is on it, and every temperature has one side."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.shared import thresholds

NEAR = [0.0, 1e-13, 1e-9, thresholds.SAID_ALIKE]
"""Differences [K] that the unit in which a temperature was said may leave."""


@pytest.mark.parametrize("apart", NEAR)
def test_what_is_on_a_threshold_is_cautioned_and_what_is_on_a_limit_is_allowed(apart: float) -> None:
    for beside in (apart, -apart):
        assert thresholds.above(beside, 0.0)
        assert thresholds.below(beside, 0.0)
        assert not thresholds.beyond(beside, 0.0)
        assert not thresholds.short_of(beside, 0.0)


@pytest.mark.parametrize("apart", [1e-5, 1e-4, 0.001, 1.0, 300.0])
def test_what_a_thermometer_tells_apart_is_on_one_side(apart: float) -> None:
    """Those of platinum tell a thousandth of a kelvin (common practice, no source)."""
    for threshold in (-40.0, 0.0, 50.0):
        warmer, colder = threshold + apart, threshold - apart
        assert thresholds.above(warmer, threshold)
        assert thresholds.beyond(warmer, threshold)
        assert not thresholds.below(warmer, threshold)
        assert not thresholds.short_of(warmer, threshold)
        assert thresholds.below(colder, threshold)
        assert thresholds.short_of(colder, threshold)
        assert not thresholds.above(colder, threshold)
        assert not thresholds.beyond(colder, threshold)


@given(st.floats(-300, 1000), st.floats(-300, 1000))
def test_no_temperature_is_on_neither_side_or_strictly_on_both(t: float, threshold: float) -> None:
    assert thresholds.above(t, threshold) != thresholds.short_of(t, threshold)
    assert thresholds.below(t, threshold) != thresholds.beyond(t, threshold)
    assert not (thresholds.beyond(t, threshold) and thresholds.short_of(t, threshold))
