"""`python -m tests.benchmarks.front`: what nginx costs before the service, by the shipped configuration.

Answers of GET that it keeps, and requests that it passes on; on the loopback of this machine, where one address asks
for everything, so that the limits for an address are lifted and nothing else is changed. Without TLS. Writes
results/front.json and the page of capacity.
"""

import argparse
import http.client
import json
import os
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import msgspec

from service.http.bulk_examples import body_of
from service.http.negotiation import JSON
from tests.benchmarks.bodies import Walk, ring
from tests.benchmarks.compared import AGAIN, addresses
from tests.benchmarks.load import Load, further
from tests.benchmarks.results import Machine, Spread, Watch, keep, spread
from tests.benchmarks.servers import HOST, Server, resident, server

ROUNDS: Final = 5
POSTED: Final = ("liquid-split", "concentration")
MANY: Final = 1000
"""Items that are sent at once."""
TICKS: Final = 100
"""The system counts processor time in ticks; nginx takes so many in a round of many at once, at least."""
NEW: Final = 200_000
"""Different values that are asked for: more than are answered in all rounds, since nginx keeps every one."""


class Passed(msgspec.Struct, forbid_unknown_fields=True):
    """A kind of request, through nginx."""

    what: str
    rate: Spread
    """Requests per second, with the service, nginx and the load on this machine's cores."""
    nginx_us: Spread
    """Processor time of nginx for each."""
    service_us: Spread
    """Processor time of the service for each; none where nginx answers of itself."""
    asked_bytes: int
    """Of a request, with its head."""
    answered_bytes: int
    """Of its answer, with its head."""


class Front(msgspec.Struct, forbid_unknown_fields=True):
    """All that one run measured."""

    machine: Machine
    nginx_mib: float
    """Resident memory of all processes of nginx after the load, what they share counted for each."""
    kinds: list[Passed]


class _Nginx(Server):
    """A server of several processes."""

    def family(self) -> list[int]:
        """The process and those that it started."""
        told = Path(f"/proc/{self.process}/task/{self.process}/children")
        return [self.process, *(int(one) for one in told.read_text("ascii").split())]

    def resident(self) -> float:
        """Resident memory of all of them [MiB]."""
        return sum(resident(one) for one in self.family())

    def work(self) -> float:
        """Processor time that all of them used [s]."""
        return sum(Server(self.port, self.started, one).work() for one in self.family())


def lifted(text: str) -> str:
    """The configuration without limits for an address: all the load comes from one."""
    for shipped, own in (
        ("rate=40r/s", "rate=1000000r/s"),
        ("burst=200 ", "burst=1000000 "),
        ("limit_conn lines 64;", "limit_conn lines 1024;"),
    ):
        if shipped not in text:
            raise RuntimeError(f"the shipped configuration has no {shipped!r} any more")
        text = text.replace(shipped, own)
    return text


def _bytes(port: int, path: str, body: bytes | None) -> tuple[int, int]:
    """Bytes of a request and of its answer as they go over the line, heads counted by their text."""
    line = http.client.HTTPConnection(HOST, port, timeout=60)
    line.request("POST" if body else "GET", path, body, {"Content-Type": "application/json"} if body else {})
    reply = line.getresponse()
    told = reply.read()
    line.close()
    if reply.status != 200:
        raise RuntimeError(f"{path} has status {reply.status}")
    head = sum(len(name) + len(value) + 4 for name, value in reply.getheaders()) + len("HTTP/1.1 200 OK\r\n\r\n")
    asked = len(f"GET {path} HTTP/1.1\r\nHost: {HOST}:{port}\r\n\r\n")
    posted = len("Content-Type: application/json\r\nContent-Length: 000\r\n") + len(body) if body else 0
    return asked + posted, head + len(told)


def _many(nginx: Server, behind: Server, rounds: int, ticks: int) -> Passed:
    """Many splits at once through nginx, by the item; all of them new."""
    walk = Walk(ring(POSTED[0]))
    least = ticks / os.sysconf("SC_CLK_TCK")
    rates, before, after = [], [], []
    sizes = (0, 0)
    for _ in range(rounds):
        used, begun, items, took = nginx.work(), behind.work(), 0, 0.0
        while nginx.work() - used < least:
            body = body_of([json.loads(one) for one in walk.take(MANY)], JSON)
            started = time.perf_counter()
            sizes = _bytes(nginx.port, f"/v1/bulk/{POSTED[0]}", body)
            took += time.perf_counter() - started
            items += MANY
        rates.append(items / took)
        before.append(1e6 * (nginx.work() - used) / items)
        after.append(1e6 * (behind.work() - begun) / items)
    told = [spread(one) for one in (rates, before, after)]
    return Passed(f"an item of {MANY} splits at once", told[0], told[1], told[2], *(round(one / MANY) for one in sizes))


def measure(rounds: int, seconds: float, ticks: int = TICKS) -> Front:
    """Load the service through nginx.

    Args:
        rounds: how often each kind.
        seconds: of load in a round.
        ticks: of nginx's processor time in a round of many at once, at least.
    """
    from tests.restart.running_proxy import proxy  # noqa: PLC0415 - the page is made without what tests need

    watch = Watch()
    asked: dict[str, tuple[str, Sequence[bytes]]] = {
        **{f"`{name}`, new": (name, ring(name)) for name in POSTED},
        **{f"`{name}`, asked again": (name, ring(name, AGAIN)) for name in POSTED},
        **{f"{what}, read with GET": ("", found) for what, found in addresses(NEW).items()},
    }
    kinds = []
    with tempfile.TemporaryDirectory(prefix="front-") as folder, server("ours") as behind:
        os.chmod(folder, 0o755)  # noqa: S103 - nginx's workers run as somebody else
        with proxy(Path(folder), behind.port, lifted) as before:
            nginx = _Nginx(before.port, 0.0, before.process)
            for what, (name, bodies) in asked.items():
                walk = Walk(bodies)
                further(nginx, name, walk, 0.3)
                found: list[Load] = []
                behind_us = []
                for _ in range(rounds):
                    begun = behind.work()
                    told = further(nginx, name, walk, seconds)
                    behind_us.append(1e6 * (behind.work() - begun) / told.requests)
                    if len(bodies) == NEW and walk.rounds:
                        raise RuntimeError(f"{NEW} different values are too few: nginx keeps those that come back")
                    if told.failures:
                        raise RuntimeError(f"{told.failures} requests failed: {what}")
                    found.append(told)
                sizes = _bytes(before.port, *((f"/v1/{name}", bodies[0]) if name else (bodies[0].decode(), None)))
                kinds.append(
                    Passed(
                        what,
                        spread([one.rate for one in found]),
                        spread([one.work for one in found]),
                        spread(behind_us),
                        *sizes,
                    )
                )
                print(f"{what}: {kinds[-1].rate.text(0)} /s, nginx {kinds[-1].nginx_us.text(1)} µs", flush=True)
            kinds.append(_many(nginx, behind, rounds, ticks))
            held = nginx.resident()
    return Front(watch.machine(), round(held, 1), kinds)


def main() -> int:
    """Measure, and write what was found."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks.front", description=(__doc__ or "").split("\n")[0]
    )
    parser.add_argument("--rounds", type=int, default=ROUNDS, help="rounds (default %(default)s)")
    parser.add_argument("--seconds", type=float, default=3, help="seconds of load in a round (default %(default)s)")
    parser.add_argument("--show", action="store_true", help="write nothing")
    said = parser.parse_args()
    found = measure(said.rounds, said.seconds)
    if not said.show:
        keep("front", found)
    return 0


if __name__ == "__main__":
    sys.exit(main())
