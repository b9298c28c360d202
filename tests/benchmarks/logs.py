"""`python -m tests.benchmarks.logs`: what counting and a line of the log cost a request.

In this process: microseconds of what a request does itself, and of the thread that writes. Against servers: the service
with its log and without, loaded in turn.
"""

import argparse
import asyncio
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from copy import copy
from itertools import cycle, islice, product
from pathlib import Path
from statistics import median, quantiles
from typing import Final

from service.http.app import create_app
from service.http.metrics import IN_FLIGHT, Metrics
from service.http.operation.log_lines import Lines, Served
from service.http.operation.worker_counts import counts_folder
from service.http.outer import Outer
from service.http.wire import Message
from tests.benchmarks.bodies import RING, ring
from tests.benchmarks.load import Load, load
from tests.benchmarks.report import ratios, spread
from tests.benchmarks.servers import ROOT, server

TURN: Final = 10_000
"""Requests in a turn; fewer than may wait for being written."""

_MULTIPROCESS: Final = """
import time
from prometheus_client import Counter, Gauge, Histogram
requests = Counter("r", "r", ("route", "status"))
seconds = Histogram("s", "s", ("route",), buckets=[n / 1000 for n in range(1, 15)])
flying = Gauge("f", "f", multiprocess_mode="livesum")
kept, one = seconds.labels("concentration"), {status: requests.labels("concentration", status) for status in ("200",)}
def turn():
    began = time.process_time()
    for _ in range(10_000):
        flying.inc()
        flying.dec()
        one["200"].inc()
        kept.observe(0.0002)
    return (time.process_time() - began) * 100
print(sorted(turn() for _ in range(9))[4])
"""
"""The same counts by prometheus_client's own means for several processes, with the labels looked up beforehand."""


def counting(shared: bool) -> float:
    """Microseconds that counting a request takes."""
    metrics = Metrics(["concentration"], "data")
    meter = metrics.calculation("concentration")

    def turn() -> None:
        for _ in range(TURN):
            metrics.whole[IN_FLIGHT] += 1
            metrics.whole[IN_FLIGHT] -= 1
            meter.served(200, 0.0002)

    if not shared:
        return _microseconds(turn)
    with counts_folder() as folder:
        metrics.share(folder)
        return _microseconds(turn)


def counting_by_library() -> float:
    """Microseconds that the same takes in prometheus_client's multiprocess mode."""
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "PROMETHEUS_MULTIPROC_DIR": folder}
        words = [sys.executable, "-c", _MULTIPROCESS]
        return float(subprocess.run(words, env=environment, cwd=ROOT, capture_output=True, check=True).stdout)


def telling() -> tuple[float, float]:
    """Microseconds that a line takes of the request itself, and of the thread that encodes and writes it."""
    with Path(os.devnull).open("wb") as output:
        lines = Lines()
        lines.open(output.fileno())
        asked, written = [], []
        for _ in range(9):
            # The time of this thread alone; the other one works beside it.
            began, whole = time.thread_time(), time.process_time()
            for number in range(TURN):
                about = ("POST", "/v1/concentration", 200, 0.0002 + number / 1e9, 1000, b"0123456789ab-1f", None, None)
                lines.add(Served(*about))
            asked.append(time.thread_time() - began)
            lines.flush(60)
            written.append(time.process_time() - whole - asked[-1])
        if lines.lost:
            raise RuntimeError("lines were lost, so that nothing was measured")
        return 1e6 * median(asked) / TURN, 1e6 * median(written) / TURN


def in_process(name: str, turns: int, requests: int = 200) -> list[float]:
    """Processor time of the whole application with its log, the writing thread counted, as ratios to that without.

    Turns of both follow each other at once, each with requests that are new: other work on the machine meets both.
    """
    app = create_app()
    silent = copy(app)
    silent._lines = None
    lines = app._lines
    assert lines is not None
    lines.open(os.open(os.devnull, os.O_WRONLY))
    bodies = cycle(ring(name, RING))

    async def turn(one: Outer) -> float:
        began = time.process_time()
        for body in islice(bodies, requests):
            await _ask(one, name, body)
        lines.flush(60)
        return time.process_time() - began

    async def measure() -> list[float]:
        found = []
        for number in range(turns):
            pair = (app, silent) if number % 2 else (silent, app)
            spent = {one is app: await turn(one) for one in pair}
            found.append(spent[True] / spent[False])
        return found[2:]  # those before warm up

    return asyncio.run(measure())


async def _ask(app: Outer, name: str, body: bytes) -> None:
    headers = [(b"host", b"x"), (b"accept", b"*/*"), (b"content-type", b"application/json")]
    scope = {"type": "http", "method": "POST", "path": f"/v1/{name}", "query_string": b"", "headers": headers}

    async def receive() -> Message:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(_: Message) -> None:
        return

    await app(scope, receive, send)


def _microseconds(turn: Callable[[], None]) -> float:
    found = []
    for _ in range(9):
        began = time.process_time()
        turn()
        found.append(time.process_time() - began)
    return 1e6 * median(found) / TURN


def _middle(values: list[float]) -> str:
    """The median, with the quarters below and above it."""
    low, middle, high = quantiles(values, n=4)
    return f"{middle:.3f} ({low:.3f} to {high:.3f})"


def main() -> int:
    """Measure, and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.logs")
    parser.add_argument("--rounds", type=int, default=7)
    parser.add_argument("--seconds", type=float, default=2)
    parser.add_argument("--turns", type=int, default=200)
    parser.add_argument("names", nargs="*", default=["liquid-split", "concentration"])
    said = parser.parse_args()
    print(f"counting a request: {counting(False):.2f} µs alone, {counting(True):.2f} µs where all workers find it,")
    print(f"{counting_by_library():.2f} µs by prometheus_client's multiprocess mode")
    asked, written = telling()
    print(f"a line: {asked:.2f} µs of the request, {written:.2f} µs of the thread that writes")
    print("| calculation | processor time in process, of that without a log |\n|---|---|")
    for name in said.names:
        print(f"| `{name}` | {_middle(in_process(name, said.turns))} |")
    with server("ours") as ours, server("silent") as silent:
        found: dict[tuple[str, str], list[Load]] = {key: [] for key in product(said.names, ("ours", "silent"))}
        place = 0
        for number, name in product(range(said.rounds + 1), said.names):
            order = (("ours", ours), ("silent", silent))
            for which, one in order if number % 2 else order[::-1]:
                bodies = ring(name, RING)[place % RING :] + ring(name, RING)[: place % RING]
                got = load(one, name, bodies, said.seconds if number else 0.3)
                place += got.requests
                if number:  # the first warms up
                    found[name, which].append(got)
    print("| calculation | rate, of that without a log | processor time | p50, p99 |\n|---|---|---|---|")
    for name in said.names:
        ours_, silent_ = found[name, "ours"], found[name, "silent"]
        p50, p99 = (median(ratios(ours_, silent_, which)) for which in ("p50", "p99"))
        rate, work = (spread(ratios(ours_, silent_, which)) for which in ("rate", "work"))
        print(f"| `{name}` | {rate} | {work} | {p50:.2f}, {p99:.2f} |")
    return 0


if __name__ == "__main__":
    sys.exit(main())
