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
from tests.benchmarks.bodies import ring
from tests.benchmarks.compared import addresses
from tests.benchmarks.load import Load, load
from tests.benchmarks.results import Machine, Spread, keep, machine, spread
from tests.benchmarks.servers import HOST, Server, resident, server

ROUNDS: Final = 5
POSTED: Final = ("liquid-split", "concentration")
MANY: Final = 1000
"""Items that are sent at once."""


class Passed(msgspec.Struct, forbid_unknown_fields=True):
    """A kind of request, through nginx."""

    what: str
    rate: Spread
    """Requests per second, with the service, nginx and the load on this machine's cores."""
    nginx_us: Spread
    """Processor time of nginx for each."""
    service_us: Spread
    """Processor time of the service for each."""
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


def _many(nginx: Server, behind: Server, rounds: int) -> Passed:
    """Many splits at once through nginx, by the item."""
    body = body_of([json.loads(one) for one in ring(POSTED[0], MANY)], JSON)
    rates, before, after = [], [], []
    sizes = (0, 0)
    for _ in range(rounds + 1):
        used, begun, started = nginx.work(), behind.work(), time.perf_counter()
        sizes = _bytes(nginx.port, f"/v1/bulk/{POSTED[0]}", body)
        rates.append(MANY / (time.perf_counter() - started))
        before.append(1e6 * (nginx.work() - used) / MANY)
        after.append(1e6 * (behind.work() - begun) / MANY)
    told = [spread(one[1:]) for one in (rates, before, after)]
    return Passed(f"an item of {MANY} splits at once", told[0], told[1], told[2], *(round(one / MANY) for one in sizes))


def measure(rounds: int, seconds: float) -> Front:
    """Load the service through nginx.

    Args:
        rounds: how often each kind.
        seconds: of load in a round.
    """
    from tests.restart.running_proxy import proxy  # noqa: PLC0415 - the page is made without what tests need

    about = machine()
    asked: dict[str, tuple[str, Sequence[bytes]]] = {
        **{f"`{name}`, new": (name, ring(name)) for name in POSTED},
        **{f"{what}, read with GET": ("", found) for what, found in addresses().items()},
    }
    kinds = []
    with tempfile.TemporaryDirectory(prefix="front-") as folder, server("ours") as behind:
        os.chmod(folder, 0o755)  # noqa: S103 - nginx's workers run as somebody else
        with proxy(Path(folder), behind.port, lifted) as before:
            nginx = _Nginx(before.port, 0.0, before.process)
            for what, (name, bodies) in asked.items():
                load(nginx, name, bodies[:1] if len(bodies) == 1 else bodies[-200:], 0.3)
                found: list[Load] = []
                behind_us = []
                at = 0
                for _ in range(rounds):
                    begun = behind.work()
                    told = load(nginx, name, [*bodies[at:], *bodies[:at]], seconds)
                    behind_us.append(1e6 * (behind.work() - begun) / told.requests)
                    at = (at + told.requests) % len(bodies)
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
            kinds.append(_many(nginx, behind, rounds))
            held = nginx.resident()
    return Front(about, round(held, 1), kinds)


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
