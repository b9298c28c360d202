"""How much work takes: time by turns that are repeated until they agree, memory, and how many functions are called."""

import random
import sys
import time
import tracemalloc
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from types import FrameType
from typing import Final

LEAST_TURNS: Final = 5
MOST_TURNS: Final = 15
AGREE: Final = 0.03
"""Share by which the two best turns may differ for them to be believed."""
LEAST: Final = 0.02
"""Seconds of a turn at least; what is shorter is done several times in it."""
Work = Callable[[], object]
Fresh = Callable[[], Work]
"""Prepares work that was not done before, so that nothing which is kept of others answers it."""


@dataclass
class Trial:
    """Something that is measured again and again."""

    name: str
    turn: Callable[[], float]
    """Measures once [ms]."""
    found: list[float] = field(default_factory=list)

    @property
    def best(self) -> float:
        """The least that was measured, since a disturbance only ever adds [ms]."""
        return min(self.found)

    @property
    def apart(self) -> float | None:
        """Share by which the second best is above the best; none where there is no second."""
        if len(self.found) < 2:
            return None
        first, second = sorted(self.found)[:2]
        return second / first - 1.0


def settle(trials: Sequence[Trial], least: int = LEAST_TURNS, most: int = MOST_TURNS) -> None:
    """Measure in turn, each round in another order, until the two best turns of each agree.

    Args:
        trials: what is measured; what was found before counts.
        least: turns of each.
        most: turns, whether they agree or not.
    """
    order = random.Random(most)  # noqa: S311 - no secret, and the same on every run
    while left := [one for one in trials if len(one.found) < least or (len(one.found) < most and not _agreed(one))]:
        order.shuffle(left)
        for one in left:
            one.found.append(one.turn())


def _agreed(one: Trial) -> bool:
    return one.apart is not None and one.apart <= AGREE


def timed(fresh: Fresh) -> Callable[[], float]:
    """A turn of new works: milliseconds of processor time for each of them.

    Args:
        fresh: prepares one, which is not counted.
    """
    often = 0

    def turn() -> float:
        nonlocal often
        clock = time.process_time
        if not often:
            work = fresh()
            begun = clock()
            work()
            often = max(1, min(1000, int(LEAST / max(clock() - begun, 1e-6))))
        works = [fresh() for _ in range(often)]
        begun = clock()
        for work in works:
            work()
        return 1e3 * (clock() - begun) / often

    return turn


def kibibytes(fresh: Fresh) -> float:
    """The most that new work holds beyond what was held before."""
    fresh()()
    work = fresh()
    tracemalloc.start()
    try:
        before = tracemalloc.get_traced_memory()[0]
        tracemalloc.reset_peak()
        work()
        return (tracemalloc.get_traced_memory()[1] - before) / 1024
    finally:
        tracemalloc.stop()


def calls(fresh: Fresh) -> int:
    """Functions that new work calls, of Python and of C: the same on every machine, however busy."""
    count = 0

    def look(_: FrameType, event: str, __: object) -> None:
        nonlocal count
        count += event in {"call", "c_call"}

    work, before = fresh(), sys.getprofile()
    sys.setprofile(look)
    try:
        work()
    finally:
        sys.setprofile(before)
    return count
