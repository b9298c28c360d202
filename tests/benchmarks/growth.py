"""`python -m tests.benchmarks.growth`: how time and memory grow with what is asked, and with who asks at once.

Writes results/growth.json, its page and its drawings. Time is processor time, the best of some turns (a disturbance
only ever adds), which go on until the two best agree, all sizes in turn and always in another order; every request is
new. Memory is the most that Python held beyond what it held before, and the calls are those of its functions, when all
turns are over and what the service keeps of values is full. Of callers it is the median latency of the best turn and
the most that the service held in the first, from few to many.
"""

import argparse
import asyncio
import json
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from itertools import count as counter
from typing import Any, Final

import msgspec

from service.calculations.registry import calculations
from service.calculations.shared.rendering import renderer
from service.chemistry.mixing import mix
from service.chemistry.mixing_records import Charge, Solid, Water
from service.http.app import create_app
from service.http.bulk_examples import body_of
from service.http.negotiation import JSON
from tests.benchmarks import bulk
from tests.benchmarks.bodies import Walk, between, ring
from tests.benchmarks.load import further
from tests.benchmarks.plans import plan
from tests.benchmarks.results import Machine, Watch, keep
from tests.benchmarks.servers import Server, server
from tests.benchmarks.turns import LEAST_TURNS, MOST_TURNS, Fresh, Trial, calls, kibibytes, settle, timed

FATS: Final = (1, 2, 5, 10, 20, 50, 100, 200)
POINTS: Final = (2, 5, 10, 20, 50, 100, 200, 500, 1000)
ITEMS: Final = (1, 10, 100, 1000, 10_000)
LINES: Final = (1, 10, 100, 1000, 2000, 4000, 10_000)
CALLERS: Final = (1, 2, 4, 8, 16, 32, 64, 128, 256)
LOOK: Final = 0.05
"""Seconds between two looks at the memory of the service."""


class Point(msgspec.Struct, forbid_unknown_fields=True):
    """What one size took."""

    size: int
    ms: float
    kib: float
    calls: int | None = None
    """Functions that are called; none where that was not counted."""
    turns: int | None = None
    """How often the time was measured."""
    apart: float | None = None
    """Share by which the second best turn is above the best."""


class Series(msgspec.Struct, forbid_unknown_fields=True):
    """What some sizes took."""

    name: str
    points: list[Point]


class Growth(msgspec.Struct, forbid_unknown_fields=True):
    """All series of one run."""

    machine: Machine
    series: list[Series]


def _fats(count: int) -> Fresh:
    """Saponifications of fats of one's own, all different, so that nothing is looked up twice."""
    run, write, numbers = calculations()["saponification"].run, renderer(), counter()

    def one() -> dict[str, Any]:
        index = next(numbers)
        return {
            "name": f"own fat {index}",
            "mass": f"{between(50, 700, index):.4f} g",
            "saponification_value": {
                "value": round(between(180, 250, index, 1), 4),
                "uncertainty": 0.8,
                "unit": "mg/g",
            },
        }

    def fresh() -> Callable[[], object]:
        fats = [one() for _ in range(count)]
        body = msgspec.json.encode({"fats": fats, "superfat": "5 %", "alkalis": [{"alkali": "NaOH", "purity": "98 %"}]})
        return lambda: write(run(body))

    return fresh


def _points(count: int) -> Fresh:
    """Mixings that differ by a millionth, so that none is known and all go the same way."""
    numbers = counter()

    def fresh() -> Callable[[], object]:
        solid, charge = Solid("NaOH", 9.0 + 1e-6 * next(numbers)), Charge(water=Water(10.0, 12.0))
        return lambda: mix(solid, charge, points=count)

    return fresh


class _Bulk:
    """Bodies of many splits, answered by the application."""

    def __init__(self) -> None:
        self._app = create_app()
        self._loop = asyncio.Runner()
        self._walk = Walk(ring(bulk.NAME))

    def __call__(self, count: int) -> Fresh:
        def fresh() -> Callable[[], object]:
            body = body_of([json.loads(one) for one in self._walk.take(count)], JSON)
            return lambda: self._loop.run(bulk.call(self._app, JSON, JSON, body))

        return fresh

    def close(self) -> None:
        self._loop.close()


def _lines(count: int) -> Fresh:
    """Plans that differ by the mass of their batches, a little."""
    run, write, numbers = calculations()["production-plan"].run, renderer(), counter()

    def fresh() -> Callable[[], object]:
        body = plan(count, 4.0 + 1e-6 * next(numbers))
        return lambda: write(run(body))

    return fresh


def in_process(sizes: Callable[[Sequence[int]], Sequence[int]], least: int, most: int) -> Iterator[Series]:
    """Measure what needs no server, all of it in turn.

    Args:
        sizes: those of the given ones that are measured.
        least: turns of each size.
        most: turns, whether they agree or not.
    """
    with closing(_Bulk()) as many:
        makers: dict[str, tuple[Sequence[int], Callable[[int], Fresh]]]
        makers = {"fats": (FATS, _fats), "points": (POINTS, _points), "items": (ITEMS, many), "lines": (LINES, _lines)}
        made = {(name, size): make(size) for name, (all_sizes, make) in makers.items() for size in sizes(all_sizes)}
        trials = {place: Trial(f"{place[0]} {place[1]}", timed(fresh)) for place, fresh in made.items()}
        settle(list(trials.values()), least, most)
        for name in makers:
            points = []
            for place, trial in trials.items():
                if place[0] == name:
                    fresh = made[place]
                    points.append(_point(place[1], trial, round(kibibytes(fresh), 1), calls(fresh)))
                    print(f"{name:10} {points[-1]}", flush=True)
            yield Series(name, points)


def _point(size: int, trial: Trial, kib: float, called: int | None = None) -> Point:
    apart = None if trial.apart is None else round(trial.apart, 4)
    return Point(size, float(f"{trial.best:.4g}"), kib, called, len(trial.found), apart)


def callers(running: Server, sizes: Sequence[int], seconds: float, least: int, most: int) -> Series:
    """Median latency of new splits, and the memory of the service, by callers who ask without pause.

    Args:
        running: the service, which nobody has asked yet.
        sizes: callers at once, each on a connection of its own, from few to many.
        seconds: of load for each.
        least: turns of each.
        most: turns, whether they agree or not.
    """
    walk = Walk(ring("liquid-split"))
    further(running, "liquid-split", walk, 2 * seconds, connections=1)  # fills what it keeps, whoever asks

    def loaded(size: int) -> Callable[[], float]:
        def turn() -> float:
            found = further(running, "liquid-split", walk, seconds, connections=size)
            if found.failures:
                raise RuntimeError(f"{found.failures} requests of {size} callers failed")
            print(f"callers    {size:6}: {found.p50:10.3f} ms {found.rate:10.0f} /s", flush=True)
            return found.p50

        return turn

    trials = {size: Trial(f"callers {size}", loaded(size)) for size in sizes}
    held = {}
    for size, trial in trials.items():
        with _Looking(running) as looking:
            trial.found.append(trial.turn())
        held[size] = round(1024 * looking.most, 1)
    settle(list(trials.values()), least, most)
    return Series("callers", [_point(size, trial, held[size]) for size, trial in trials.items()])


class _Looking:
    """Looks at the memory of a server while it is loaded."""

    def __init__(self, running: Server) -> None:
        self.most = running.resident()
        self._running = running
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._look, daemon=True)

    def __enter__(self) -> "_Looking":
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()
        self._thread.join()

    def _look(self) -> None:
        while not self._over.wait(LOOK):
            self.most = max(self.most, self._running.resident())


def measure(turns: int, seconds: float, largest: int | None = None) -> list[Series]:
    """Measure every series.

    Args:
        turns: how often each size is measured at most.
        seconds: of load for each number of callers.
        largest: the largest size; all that a request may have where it is not given.
    """

    def cut(sizes: Sequence[int]) -> Sequence[int]:
        return [one for one in sizes if largest is None or one <= largest]

    least = min(LEAST_TURNS, turns)
    found = list(in_process(cut, least, turns))
    with server("ours") as running:
        found.append(callers(running, cut(CALLERS), seconds, least, turns))
    return found


def main() -> int:
    """Measure, and write what was found."""
    parser: Any = argparse.ArgumentParser(
        prog="python -m tests.benchmarks.growth", description=(__doc__ or "").split("\n")[0]
    )
    parser.add_argument("--turns", type=int, default=MOST_TURNS, help="turns of a size at most (default %(default)s)")
    parser.add_argument(
        "--seconds", type=float, default=3, help="load for each number of callers (default %(default)s)"
    )
    parser.add_argument("--largest", type=int, help="the largest size (default: all)")
    parser.add_argument("--show", action="store_true", help="write nothing")
    said = parser.parse_args()
    if said.largest is not None and not said.show:
        parser.error("--largest leaves sizes out: only with --show")
    watch = Watch()
    found = measure(said.turns, said.seconds, said.largest)
    if not said.show:
        keep("growth", Growth(watch.machine(), found))
    return 0


if __name__ == "__main__":
    sys.exit(main())
