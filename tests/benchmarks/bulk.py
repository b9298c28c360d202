"""What an item of many costs, whether that stays so with their number, and what others notice of it.

python -m tests.benchmarks.bulk prints, for splits of a ring whose requests all differ, microseconds of processor time
an item, in each format, beside those of the calculation alone; and the median latency of a caller of single splits
while one server answers ten thousand at once, beside that without. Everything is measured in turns, so that the
ratios hold on other machines.
"""

import asyncio
import http.client
import json
import sys
import threading
import time
from itertools import product
from statistics import median
from typing import Any, Final, NamedTuple

from service.calculations.registry import calculations
from service.calculations.shared.rendering import renderer
from service.http.app import create_app
from service.http.bulk_examples import body_of
from service.http.bulk_query import CSV, NDJSON
from service.http.negotiation import JSON
from service.http.wire import App, Message
from tests.benchmarks.bodies import Walk, ring
from tests.benchmarks.servers import HOST, Server, server

NAME: Final = "liquid-split"
COUNTS: Final = (100, 1000, 10_000)
FORMATS: Final = ((JSON, JSON), (NDJSON, NDJSON), (CSV, CSV), (CSV, JSON))
ROUNDS: Final = 5
LEAST: Final = 10_000
"""Items that are measured together at least, in several calls where one has fewer."""
AHEAD: Final = 300
"""Single calls in a round without many items beside them."""


class Cost(NamedTuple):
    """Microseconds of processor time an item."""

    taken: str
    answered: str
    items: int
    bulk: float
    alone: float
    """Of the calculation alone: decoding, calculating and encoding, without any HTTP."""


async def call(app: App, media: str, answered: str, body: bytes) -> int:
    """Ask an application for many splits at once, and give the bytes that it answers.

    Args:
        app: the application.
        media: type of the body.
        answered: type of the answer.
        body: the items.
    """
    left = [body]
    size = 0

    async def receive() -> Message:
        if not left:
            await asyncio.Event().wait()
        return {"type": "http.request", "body": left.pop(), "more_body": False}

    async def send(message: Message) -> None:
        nonlocal size
        size += len(message.get("body", b""))

    headers = [(b"content-type", media.encode()), (b"accept", answered.encode())]
    path = f"/v1/bulk/{NAME}"
    scope = {"type": "http", "method": "POST", "path": path, "query_string": b"", "headers": headers}
    await app(scope, receive, send)
    return size


def costs(
    counts: tuple[int, ...] = COUNTS,
    rounds: int = ROUNDS,
    formats: tuple[tuple[str, str], ...] = FORMATS,
    least: int = LEAST,
) -> list[Cost]:
    """The median cost of an item for each format and number, all of them new.

    Args:
        counts: how many items are sent at once.
        rounds: how often each is measured, in turns.
        formats: in what they are sent, and answered.
        least: items that are measured together at least.
    """
    app = create_app()
    run, write = calculations()[NAME].run, renderer()
    found: list[Cost] = []
    walk = Walk(ring(NAME))
    clock = time.process_time
    loop = asyncio.Runner()  # making one for each call would cost more than ten items
    for media, answered in formats:
        times: dict[int, list[tuple[float, float]]] = {count: [] for count in counts}
        for _, count in product(range(rounds), counts):
            turns = max(1, least // count)
            bulk = alone = 0.0
            for _ in range(turns):
                sent = body_of([json.loads(one) for one in walk.take(count)], media)
                begun = clock()
                loop.run(call(app, media, answered, sent))
                bulk += clock() - begun
                bodies = walk.take(count)
                begun = clock()
                for body in bodies:
                    write(run(body))
                alone += clock() - begun
            times[count].append((bulk / turns, alone / turns))
        for count, told in times.items():
            bulk, alone = (median(one) / count * 1e6 for one in zip(*told, strict=True))
            found.append(Cost(media, answered, count, bulk, alone))
    loop.close()
    return found


class Beside(NamedTuple):
    """Median latencies of single calls [s]."""

    alone: float
    during: float
    """While many items are answered."""
    answered: int
    """Single calls answered meanwhile."""


def beside(running: Server, walk: Walk, count: int = COUNTS[-1], ahead: int = AHEAD) -> Beside:
    """What a caller of single splits notices of many.

    Args:
        running: the server.
        walk: round splits that are new to it.
        count: items of the many.
        ahead: single calls before.
    """
    many = body_of([json.loads(one) for one in walk.take(count)], JSON)
    single = iter(walk.ahead())
    other = http.client.HTTPConnection(HOST, running.port, timeout=60)

    def once() -> float:
        body = next(single)
        walk.on(1)
        begun = time.perf_counter()
        other.request("POST", f"/v1/{NAME}", body, {"content-type": "application/json"})
        other.getresponse().read()
        return time.perf_counter() - begun

    alone = [once() for _ in range(ahead)]
    done = threading.Event()

    def read() -> None:
        line = http.client.HTTPConnection(HOST, running.port, timeout=60)
        line.request("POST", f"/v1/bulk/{NAME}", many, {"content-type": "application/json"})
        reply: Any = line.getresponse()
        while reply.read(1 << 16):
            pass
        line.close()
        done.set()

    threading.Thread(target=read, daemon=True).start()
    during = []
    while not done.is_set():
        during.append(once())
    other.close()
    return Beside(median(alone), median(during), len(during))


def main() -> int:
    """Measure, and print what was found."""
    print("| body | answer | items | µs an item | of the calculation alone |")
    print("|---|---|---|---|---|")
    for one in costs():
        shown = f"{one.bulk:.1f} | {one.bulk / one.alone:.2f} ({one.alone:.1f} µs)"
        print(f"| {one.taken} | {one.answered} | {one.items} | {shown} |")
    walk = Walk(ring(NAME))
    with server("ours") as running:
        told = [beside(running, walk) for _ in range(ROUNDS)]
    ratio = median(one.during / one.alone for one in told)
    alone, during = (median(getattr(one, name) for one in told) * 1e3 for name in ("alone", "during"))
    print(f"a single split beside 10 000: {ratio:.2f} times its median latency ({alone:.2f} ms alone, {during:.2f} ms)")
    return 0


if __name__ == "__main__":
    sys.exit(main())
