"""The search for the greatest excess of heat: where it ends, where it asks, and how often."""

import math
from collections.abc import Callable

import pytest

from service.chemistry.ice_needed import _between, _greatest, _grid

Curve = Callable[[float], float]

GOLDEN: int = 23
"""Golden sections that take a fifth of the way down to the 4e-6 at which it ends."""


class Asked:
    """A curve that notes where it is asked."""

    def __init__(self, curve: Curve) -> None:
        self.curve = curve
        self.places: list[float] = []

    def __call__(self, x: float) -> float:
        """Ask it."""
        self.places.append(x)
        return self.curve(x)


@pytest.mark.parametrize(("summit", "start"), [(0.437, 0.4), (0.437, 0.5), (0.437, 0.437), (0.33, 0.3), (0.9, 0.9)])
@pytest.mark.parametrize(("steep", "high"), [(1.0, 0.0), (3e5, 5.0), (0.1, -7.0)])
def test_of_a_parabola_the_first_parabola_is_the_summit(summit: float, start: float, steep: float, high: float) -> None:
    """Three places make it, by two golden sections; what is asked after it only shows that nothing is higher."""
    curve = Asked(lambda x: high - steep * (x - summit) ** 2)
    place, height = _between(curve, start, curve.curve(start))
    assert place == pytest.approx(summit, abs=1e-6)
    assert height == pytest.approx(high, abs=steep * 1e-12)
    assert len(curve.places) <= 5


@pytest.mark.parametrize(("summit", "end"), [(1e-3, 0.0), (0.04, 0.0), (0.999, 1.0), (0.96, 1.0)])
def test_a_summit_just_inside_of_an_end_is_found(summit: float, end: float) -> None:
    curve = Asked(lambda x: -((x - summit) ** 2))
    place, _ = _between(curve, end, curve.curve(end))
    assert place == pytest.approx(summit, abs=1e-6)
    assert len(curve.places) <= 6


@pytest.mark.parametrize(("rising", "falling"), [(1.0, 1.0), (3.0, 1.0), (1.0, 9.0), (100.0, 1.0)])
@pytest.mark.parametrize(("kink", "start"), [(0.4371, 0.4), (0.4371, 0.5), (0.0371, 0.0), (0.9631, 1.0)])
def test_a_kink_takes_no_more_than_golden_sections(rising: float, falling: float, kink: float, start: float) -> None:
    """As where boiling takes the place of the limit: there no parabola fits."""
    curve = Asked(lambda x: min(rising * (x - kink), falling * (kink - x)))
    place, _ = _between(curve, start, curve.curve(start))
    assert place == pytest.approx(kink, abs=4e-6)
    assert len(curve.places) <= GOLDEN + 3


@pytest.mark.parametrize("start", [0.4, 0.5])
@pytest.mark.parametrize(
    ("curve", "summit"),
    [
        (lambda x: x * math.exp(-x / 0.45), 0.45),
        (lambda x: 2.0 * (x - 0.43) ** 3 - (x - 0.43) ** 2, 0.43),
        (lambda x: math.sin(math.pi * (x + 0.04)), 0.46),
    ],
)
def test_of_a_smooth_curve_parabolas_close_in(curve: Curve, summit: float, start: float) -> None:
    asked = Asked(curve)
    place, _ = _between(asked, start, curve(start))
    assert place == pytest.approx(summit, abs=3e-6)
    assert len(asked.places) <= 10


@pytest.mark.parametrize("summit", [-0.5, 0.0, 0.013, 0.27, 0.5, 0.731, 0.98, 1.0, 1.5])
@pytest.mark.parametrize("kinked", [False, True])
def test_it_asks_along_the_way_alone_and_between_the_neighbours_of_the_best(summit: float, kinked: bool) -> None:
    curve = Asked(lambda x: -abs(x - summit) if kinked else -((x - summit) ** 2))
    grid = _grid(curve.curve)
    best = min(max(summit, 0.0), 1.0)
    place, height = _greatest(curve, grid)
    assert place == pytest.approx(best, abs=4e-6)
    assert height == curve.curve(place)
    assert height >= max(grid)
    assert all(0.0 <= x <= 1.0 and abs(x - best) <= 0.2 for x in curve.places)


@pytest.mark.parametrize("end", [0.0, 1.0])
def test_from_an_end_that_is_level_or_falls_from_there_nothing_more_is_asked(end: float) -> None:
    """A level way, as where nothing is added, is greatest at its start; one place beside an end tells."""
    for slope in (0.0, 1.0):
        curve = Asked(lambda x, slope=slope: -slope * abs(x - end))  # type: ignore[misc]
        assert _between(curve, end, 0.0) == (end, 0.0)
        assert len(curve.places) == 1
