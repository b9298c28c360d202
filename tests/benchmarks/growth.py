"""`python -m tests.benchmarks.growth`: how time and memory grow with what is asked, and with who asks at once.

Writes results/growth.json, its page and its drawings. Time is processor time, the best of some turns (a disturbance
only ever adds); memory is the most that Python held beyond what it held before, in a turn of its own. Of callers it is
the median latency and the most that the service held meanwhile.
"""

import argparse
import asyncio
import json
import sys
import threading
import time
import tracemalloc
from collections.abc import Callable, Sequence
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

FATS: Final = (1, 2, 5, 10, 20, 50, 100, 200)
POINTS: Final = (2, 5, 10, 20, 50, 100, 200, 500, 1000)
ITEMS: Final = (1, 10, 100, 1000, 10_000)
LINES: Final = (1, 10, 100, 1000, 10_000)
CALLERS: Final = (1, 2, 4, 8, 16, 32, 64, 128, 256)
TURNS: Final = 5
LOOK: Final = 0.05
"""Seconds between two looks at the memory of the service."""
LEAST: Final = 0.02
"""Seconds of a turn at least; what is shorter is done several times in it."""


class Point(msgspec.Struct, forbid_unknown_fields=True):
    """What one size took."""

    size: int
    ms: float
    kib: float


class Series(msgspec.Struct, forbid_unknown_fields=True):
    """What some sizes took."""

    name: str
    points: list[Point]


class Growth(msgspec.Struct, forbid_unknown_fields=True):
    """All series of one run."""

    machine: Machine
    series: list[Series]


def _fats(count: int) -> Callable[[], object]:
    """A saponification of fats of one's own, all different, so that nothing is looked up twice."""
    fats = [
        {
            "name": f"own fat {index}",
            "mass": f"{between(50, 700, index):.1f} g",
            "saponification_value": {
                "value": round(between(180, 250, index, 1), 2),
                "uncertainty": 0.8,
                "unit": "mg/g",
            },
        }
        for index in range(count)
    ]
    body = msgspec.json.encode({"fats": fats, "superfat": "5 %", "alkalis": [{"alkali": "NaOH", "purity": "98 %"}]})
    run, write = calculations()["saponification"].run, renderer()
    return lambda: write(run(body))


def _points(count: int) -> Callable[[], object]:
    solid, charge = Solid("NaOH", 9.0), Charge(water=Water(10.0, 12.0))
    return lambda: mix(solid, charge, points=count)


class _Bulk:
    """Bodies of many splits, answered by the application."""

    def __init__(self) -> None:
        self._app = create_app()
        self._loop = asyncio.Runner()

    def __call__(self, count: int) -> Callable[[], object]:
        body = body_of([json.loads(one) for one in ring(bulk.NAME, count)], JSON)
        return lambda: self._loop.run(bulk.call(self._app, JSON, JSON, body))

    def close(self) -> None:
        self._loop.close()


def _lines(count: int) -> Callable[[], object]:
    run, write, body = calculations()["production-plan"].run, renderer(), plan(count)
    return lambda: write(run(body))


def milliseconds(work: Callable[[], object], turns: int = TURNS) -> float:
    """Processor time of some work, the best of some turns.

    Args:
        work: is done again and again.
        turns: how often it is measured.
    """
    clock = time.process_time
    begun = clock()
    work()
    often = max(1, min(1000, int(LEAST / max(clock() - begun, 1e-6))))
    found = []
    for _ in range(turns):
        begun = clock()
        for _ in range(often):
            work()
        found.append((clock() - begun) / often)
    return 1e3 * min(found)


def kibibytes(work: Callable[[], object]) -> float:
    """The most that some work holds beyond what was held before."""
    work()
    tracemalloc.start()
    try:
        before = tracemalloc.get_traced_memory()[0]
        tracemalloc.reset_peak()
        work()
        return (tracemalloc.get_traced_memory()[1] - before) / 1024
    finally:
        tracemalloc.stop()


def series(name: str, sizes: Sequence[int], made: Callable[[int], Callable[[], object]], turns: int = TURNS) -> Series:
    """Measure some sizes.

    Args:
        name: of the series.
        sizes: from small to large.
        made: makes the work of a size.
        turns: how often each is measured.
    """
    points = []
    for size in sizes:
        work = made(size)
        point = Point(size, float(f"{milliseconds(work, turns):.4g}"), round(kibibytes(work), 1))
        print(f"{name:10} {size:6}: {point.ms:10.3f} ms {point.kib:10.1f} KiB", flush=True)
        points.append(point)
    return Series(name, points)


def callers(running: Server, sizes: Sequence[int], seconds: float) -> Series:
    """Median latency of new splits, and the memory of the service, by callers who ask without pause.

    Args:
        running: the service, which nobody has asked yet.
        sizes: callers at once, each on a connection of its own, from few to many.
        seconds: of load for each.
    """
    points = []
    walk = Walk(ring("liquid-split"))
    further(running, "liquid-split", walk, 2 * seconds, connections=1)  # fills what it keeps, whoever asks
    for size in sizes:
        with _Looking(running) as looking:
            found = further(running, "liquid-split", walk, seconds, connections=size)
        if found.failures:
            raise RuntimeError(f"{found.failures} requests of {size} callers failed")
        print(f"callers    {size:6}: {found.p50:10.3f} ms {found.rate:10.0f} /s, {looking.most:.1f} MiB", flush=True)
        points.append(Point(size, float(f"{found.p50:.4g}"), round(1024 * looking.most, 1)))
    return Series("callers", points)


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


def measure(turns: int, seconds: float, most: int | None = None) -> list[Series]:
    """Measure every series.

    Args:
        turns: how often each size is measured.
        seconds: of load for each number of callers.
        most: the largest size; all that a request may have where it is not given.
    """

    def cut(sizes: Sequence[int]) -> Sequence[int]:
        return [one for one in sizes if most is None or one <= most]

    many = _Bulk()
    found = [
        series("fats", cut(FATS), _fats, turns),
        series("points", cut(POINTS), _points, turns),
        series("items", cut(ITEMS), many, turns),
        series("lines", cut(LINES), _lines, turns),
    ]
    many.close()
    with server("ours") as running:
        found.append(callers(running, cut(CALLERS), seconds))
    return found


def main() -> int:
    """Measure, and write what was found."""
    parser: Any = argparse.ArgumentParser(
        prog="python -m tests.benchmarks.growth", description=(__doc__ or "").split("\n")[0]
    )
    parser.add_argument("--turns", type=int, default=TURNS, help="turns for each size (default %(default)s)")
    parser.add_argument(
        "--seconds", type=float, default=3, help="load for each number of callers (default %(default)s)"
    )
    parser.add_argument("--show", action="store_true", help="write nothing")
    said = parser.parse_args()
    watch = Watch()
    found = measure(said.turns, said.seconds)
    if not said.show:
        keep("growth", Growth(watch.machine(), found))
    return 0


if __name__ == "__main__":
    sys.exit(main())
