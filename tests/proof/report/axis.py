"""An axis of a plot: figures to coordinates, and where its ticks stand."""

import math
from typing import NamedTuple


class Axis(NamedTuple):
    """Figures from `low` to `high`, drawn from `start` to `end`."""

    low: float
    high: float
    start: float
    end: float
    logarithmic: bool = False

    def __call__(self, value: float) -> float:
        """Where a figure stands."""
        if self.logarithmic:
            share = math.log(value / self.low) / math.log(self.high / self.low)
        else:
            share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def ticks(self) -> list[tuple[float, str]]:
        """Round figures along it, and how they are written."""
        if self.logarithmic:
            first, last = math.floor(math.log10(self.low)), math.ceil(math.log10(self.high))
            heads = (1,) if last - first > 3 else (1, 2, 5)
            every = [head * 10.0**power for power in range(first, last + 1) for head in heads]
        else:
            step = _step(self.high - self.low)
            first = math.ceil(self.low / step - 1e-9)
            every = [step * index for index in range(first, math.floor(self.high / step + 1e-9) + 1)]
        near = 1e-9 * (self.high - self.low)
        return [(at, _written(at)) for at in every if self.low - near <= at <= self.high + near]


def _step(span: float) -> float:
    """A round figure of which some six make the span."""
    rough = span / 6
    power = 10.0 ** math.floor(math.log10(rough))
    return next(head * power for head in (1, 2, 5, 10) if head * power >= rough * (1 - 1e-9))


def _written(at: float) -> str:
    return f"{at:.10g}" if 1e-4 <= abs(at) < 1e6 or at == 0 else f"{at:.3g}"


def axis(low: float, high: float, start: float, end: float, *, logarithmic: bool = False, names: int = 0) -> Axis:
    """An axis that holds these figures with a little room at both ends.

    Args:
        low: lowest figure.
        high: highest figure.
        start: coordinate of its beginning.
        end: coordinate of its end.
        logarithmic: whether equal factors are equally far apart.
        names: number of things that are counted along it, from 0; none where it has figures.
    """
    if names:
        return Axis(-0.5, names - 0.5, start, end)
    if logarithmic:
        room = (high / low) ** 0.03
        return Axis(low / room, high * room, start, end, True)
    room = 0.04 * (high - low) or 0.1 * abs(high) or 1.0
    return Axis(low - room, high + room, start, end)
