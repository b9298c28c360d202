"""Masses on a scale with steps: largest remainders, by hand and in general."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.weighing import weigh


def test_the_largest_remainders_go_up() -> None:
    """By hand, in steps of 5: 12.4, 13.9 and 3.8 make 30.1, so 30: 10 + 10 + 0 leave two steps, for 3.8 and 13.9."""
    assert weigh([12.4, 13.9, 3.8], 5.0, "aaa", "xyz") == [10.0, 15.0, 5.0]


def test_each_group_holds_its_own_total() -> None:
    assert weigh([1.4, 1.4, 1.4], 1.0, ["a", "a", "b"], "xyz") == [2.0, 1.0, 1.0]


def test_equals_go_by_weight_and_then_by_name_whatever_their_order() -> None:
    assert weigh([0.5, 2.5], 1.0, "aa", "xy") == [0.0, 3.0]
    assert weigh([1.5, 1.5], 1.0, "aa", "yx") == [1.0, 2.0]
    assert weigh([1.5, 1.5], 1.0, "aa", "xy") == [2.0, 1.0]


@pytest.mark.parametrize("half", [118.75, 118.74999999999999, 118.75000000000001])
def test_halves_go_up_whatever_the_last_bit_says(half: float) -> None:
    assert weigh([half], 0.5, "a", "x") == [119.0]


@given(
    masses=st.lists(st.floats(0.0, 1e4), min_size=1, max_size=20),
    division=st.floats(1e-3, 100.0),
)
def test_totals_are_the_nearest_step_and_lines_within_one(masses: list[float], division: float) -> None:
    shown = weigh(masses, division, [0] * len(masses), ["x"] * len(masses))
    assert abs(sum(shown) - sum(masses)) <= division / 2 + 1e-6 * sum(masses)
    for one, mass in zip(shown, masses, strict=True):
        assert abs(one - mass) <= division * (1 + 1e-6) + 1e-6 * mass
        assert one / division == pytest.approx(round(one / division), abs=1e-6)


@pytest.mark.parametrize("division", [1e-6, 1e-3, 0.5])
def test_a_fine_scale_shows_what_is_there(division: float) -> None:
    for mass in (2083.2904277631538, 0.123456789, 5.0):
        (shown,) = weigh([mass], division, "a", "x")
        assert abs(shown - mass) <= division * 0.500001
