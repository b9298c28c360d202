"""Range checks and the root finders."""

import math

import pytest

from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import highest_below, require, require_mass_fraction, rising_root, straight_root


@pytest.mark.parametrize("value", [-0.1, 1.1, math.nan, math.inf])
def test_outside_and_nan_are_refused_with_what_was_asked(value: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        require("share", value, 0.0, 1.0, "why")
    assert (caught.value.quantity, caught.value.low, caught.value.high, caught.value.reason) == (
        "share",
        0.0,
        1.0,
        "why",
    )


@pytest.mark.parametrize("value", [0.0, 0.5, 1.0])
def test_the_ends_are_inside(value: float) -> None:
    require("share", value, 0.0, 1.0, "why")


def test_rounding_alone_does_not_push_a_strength_out() -> None:
    assert require_mass_fraction(0.5 + 4e-10, 0.5, "why") == 0.5
    for w in (0.5 + 2e-9, -1e-12, math.nan):
        with pytest.raises(OutOfRange):
            require_mass_fraction(w, 0.5, "why")


@pytest.mark.parametrize(
    ("function", "target", "root"),
    [
        (lambda x: x**3, 0.125, 0.5),
        (lambda x: math.exp(20 * x), math.exp(6.0), 0.3),
        (lambda x: math.atan(50 * (x - 0.7)), 0.0, 0.7),
        (lambda x: x, 0.0, 0.0),
        (lambda x: x, 1.0, 1.0),
        (lambda x: max(x - 0.4, 0.0) + 1e-3 * x, 4e-4, 0.4),
    ],
)
def test_root_of_a_rising_function_is_found(function, target: float, root: float) -> None:  # type: ignore[no-untyped-def]
    assert rising_root(function, target, 0.0, 1.0, quantity="y", reason="why") == pytest.approx(root, abs=1e-13)


@pytest.mark.parametrize("target", [-0.01, 1.01, math.nan])
def test_a_target_that_is_not_reached_is_refused_with_the_reach(target: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        rising_root(lambda x: x, target, 0.0, 1.0, quantity="y", reason="why")
    if not math.isnan(target):
        assert (caught.value.low, caught.value.high) == pytest.approx((0.0, 1.0))


def test_end_of_a_range_has_room_for_rounding_and_for_nothing_else() -> None:
    below, highest = (20.0, 60.0), (0.3, 0.5)
    assert highest_below(19.9, below, highest) == pytest.approx(0.3, abs=2e-9)
    assert highest_below(20.0 - 1e-12, below, highest) == pytest.approx(0.5, abs=2e-9)
    assert highest_below(20.0 - 1e-6, below, highest) == pytest.approx(0.3, abs=2e-9)
    assert highest_below(60.0 - 1e-12, below, highest) == pytest.approx(0.5, abs=2e-9)
    assert highest_below(40.0, below, highest) > 0.5 + 1e-12


@pytest.mark.parametrize("curvature", [-0.45, -1e-3, 0.0, 1e-6, 1e-3, 0.2])
@pytest.mark.parametrize("root", [0.0, 1e-9, 0.25, 0.999, 1.0])
def test_the_root_of_what_is_nearly_straight_is_found_in_a_few_steps(curvature: float, root: float) -> None:
    asked: list[float] = []

    def curve(x: float) -> float:
        asked.append(x)
        return (x - root) * (1.0 + curvature * (x + root))

    assert straight_root(curve, (0.0, curve(0.0)), (1.0, curve(1.0)), 1.0) == pytest.approx(root, abs=1e-7)
    assert len(asked) <= 9


def test_a_root_is_found_where_parabolas_lead_astray() -> None:
    def knee(x: float) -> float:
        return 1e-3 * (x - 0.9) if x < 0.9 else 50.0 * (x - 0.9)

    assert straight_root(knee, (0.0, knee(0.0)), (1.0, knee(1.0)), 1.0) == pytest.approx(0.9, abs=1e-4)
