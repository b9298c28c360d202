"""Root finders: exactness, rounding at the ends, and how often they ask, beside another program of the same method."""

import math
from collections.abc import Callable
from typing import Final

import pytest

from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import ROUNDING, require, require_mass_fraction, rising_root, straight_root
from tests.chemistry.refusing import refused

Function = Callable[[float], float]

RISING: Final[list[tuple[Function, float, float, float, int]]] = [
    # function, low, high, root, and how often scipy asks
    (lambda x: x**3, 0.0, 1.0, 0.3, 10),
    (lambda x: x**3, -2.0, 5.0, 1.2, 12),
    (lambda x: math.exp(20.0 * x), 0.0, 1.0, 0.7, 12),
    (math.log, 0.1, 30.0, 17.0, 8),
    (lambda x: math.atan(50.0 * (x - 0.7)), 0.0, 1.0, 0.6, 13),
    (lambda x: 998.2 + 1100.0 * x - 200.0 * x * x, 0.0, 0.55, 0.31, 7),
    (lambda x: x + math.sin(x) / 2.0, 2.0, 12.0, 5.0, 10),
    (lambda x: math.tanh(30.0 * (x - 4.0)), 0.0, 10.0, 4.01, 16),
    (lambda x: x * x, 3.0, 9.0, 3.0001, 7),
    (math.sqrt, 1e-6, 100.0, 99.0, 4),
    (math.sqrt, 0.0, 1.0, 0.7, 5),
    (lambda x: x**5, 0.0, 1.0, 0.6, 10),
    (lambda x: math.tanh(5.0 * (x - 0.6)), 0.0, 1.0, 0.3, 12),
]
"""Counts: scipy.optimize.elementwise.find_root of scipy 1.17.1, the method of Chandrupatla 1997 too, run with no bound
on the residual and one of 8.9e-16 on the place, relative."""


class Counted:
    """A function that counts how often it is asked."""

    def __init__(self, function: Function) -> None:
        self.function = function
        self.asked = 0

    def __call__(self, x: float) -> float:
        """Ask it."""
        self.asked += 1
        return self.function(x)


@pytest.mark.parametrize(("function", "low", "high", "root"), [one[:4] for one in RISING])
def test_a_root_is_found_to_the_last_digits_that_the_function_tells(
    function: Function, low: float, high: float, root: float
) -> None:
    """Rounding of the function, over its slope, is all that is left."""
    target = function(root)
    found = rising_root(function, target, low, high, quantity="y", reason="why")
    step = 1e-6
    slope = (function(min(root + step, high)) - function(max(root - step, low))) / (2.0 * step)
    assert found == pytest.approx(root, abs=4e-16 * abs(target) / slope + 1e-15 * abs(root) + 1e-15)


@pytest.mark.parametrize(("function", "low", "high", "root", "asked"), RISING)
def test_as_much_is_asked_as_by_another_program_of_the_same_method(
    function: Function, low: float, high: float, root: float, asked: int
) -> None:
    ours = Counted(function)
    rising_root(ours, function(root), low, high, quantity="y", reason="why")
    assert ours.asked == asked


@pytest.mark.parametrize("root", [1e-9, 3e-7, 2e-5])
def test_a_root_near_nought_is_found_to_its_own_digits(root: float) -> None:
    target = math.sinh(root)
    assert rising_root(math.sinh, target, 0.0, 1.0, quantity="y", reason="why") == pytest.approx(root, abs=1e-16)
    assert rising_root(math.sinh, -target, -1.0, 0.0, quantity="y", reason="why") == pytest.approx(-root, abs=1e-16)


@pytest.mark.parametrize("low", [2.0, 500.0])
def test_a_target_beside_an_end_by_rounding_alone_is_that_end(low: float) -> None:
    """As the density of water, 998.2, that comes back with another last digit."""
    high = 3.0 * low

    def line(x: float) -> float:
        return 1.7 * x

    for target in (math.nextafter(line(low), 0.0), line(low), math.nextafter(line(low), math.inf)):
        assert rising_root(line, target, low, high, quantity="y", reason="why") == low
    for target in (math.nextafter(line(high), 0.0), line(high), math.nextafter(line(high), math.inf)):
        assert rising_root(line, target, low, high, quantity="y", reason="why") == high
    for target in (line(low) * (1.0 - 1e-13), line(high) * (1.0 + 1e-13)):
        with pytest.raises(OutOfRange) as caught:
            rising_root(line, target, low, high, quantity="y", reason="why")
        assert (caught.value.low, caught.value.high) == pytest.approx((line(low), line(high)))


def test_an_end_at_which_the_function_is_nought_is_found() -> None:
    assert rising_root(lambda x: x - 2.0, 0.0, 2.0, 5.0, quantity="y", reason="why") == 2.0
    assert rising_root(lambda x: x - 5.0, 0.0, 2.0, 5.0, quantity="y", reason="why") == 5.0


@pytest.mark.parametrize(
    ("function", "root"),
    [
        (lambda x: x - 7.0 + 0.002 * (x - 7.0) ** 2, 7.0),
        (lambda x: 3.0 * (7.0 - x) - 0.01 * (x - 7.0) ** 2, 7.0),
        (lambda x: math.log(x / 7.0), 7.0),
        (lambda x: x * x - 49.0, 7.0),
        (lambda x: -math.expm1(0.1 * (x - 7.0)), 7.0),
    ],
)
@pytest.mark.parametrize(("left", "right"), [(5.0, 10.0), (10.0, 5.0), (6.9, 20.0), (1.0, 7.5)])
def test_what_is_nearly_straight_is_solved_between_any_two_places(
    function: Function, root: float, left: float, right: float
) -> None:
    """To a millionth of the width, in no more steps than halving would take for a thousandth."""
    asked = Counted(function)
    found = straight_root(asked, (left, function(left)), (right, function(right)), 1.0)
    assert found == pytest.approx(root, abs=1e-6 * abs(right - left))
    assert asked.asked <= 10


def test_what_is_closed_at_once_is_asked_once() -> None:
    line = Counted(lambda x: 2.0 * x - 3.0)
    assert straight_root(line, (0.0, -3.0), (2.0, 1.0), 1.0) == 1.5
    assert line.asked == 1


def test_it_ends_after_a_hundred_questions_where_the_function_tells_nothing() -> None:
    """Each at half of the way that is left, so that it stays between its ends."""
    places: list[float] = []

    def nothing(x: float) -> float:
        places.append(x)
        return math.nan

    assert 0.0 <= straight_root(nothing, (0.0, -1.0), (1.0, 1.0), 1.0) <= 1.0
    assert all(0.0 <= x <= 1.0 for x in places)
    assert len(places) == 100


@pytest.mark.parametrize("high", [0.3, 0.5, 0.55])
def test_a_mass_fraction_has_room_for_rounding_at_its_upper_end_and_is_brought_down_to_it(high: float) -> None:
    for w in (high, math.nextafter(high, 1.0), high + ROUNDING):
        assert require_mass_fraction(w, high, "why") == high
    assert require_mass_fraction(0.0, high, "why") == 0.0
    below = math.nextafter(high, 0.0)
    assert require_mass_fraction(below, high, "why") == below
    for w in (high + 1.01 * ROUNDING, -5e-324, math.nan):
        with refused("mass_fraction", 0.0, high):
            require_mass_fraction(w, high, "why")


def test_a_range_of_one_value_holds_that() -> None:
    require("share", 0.5, 0.5, 0.5, "why")
    for value in (math.nextafter(0.5, 0.0), math.nextafter(0.5, 1.0)):
        with pytest.raises(OutOfRange):
            require("share", value, 0.5, 0.5, "why")
