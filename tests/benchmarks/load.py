"""Load on a server: by wrk where it is installed, else by a small generator of our own.

Both keep some connections busy, each with one request at a time, and go round the ring of bodies.
"""

import asyncio
import re
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator, Sequence
from itertools import cycle
from math import nan
from pathlib import Path
from typing import Any, Final, NamedTuple

from tests.benchmarks.bodies import Walk
from tests.benchmarks.servers import HOST, Server

CONNECTIONS: Final = 16

_LENGTH: Final = re.compile(rb"content-length: (\d+)", re.IGNORECASE)
_SCRIPT: Final = """
local bodies, requests, turn = {}, {}, 0
for line in io.lines("BODIES") do bodies[#bodies + 1] = line end
function init()
  for i, body in ipairs(bodies) do
    if body:sub(1, 1) == "/" then
      requests[i] = wrk.format("GET", body)
    else
      requests[i] = wrk.format("POST", nil, {["Content-Type"] = "application/json"}, body)
    end
  end
end
function request()
  turn = turn % #requests + 1
  return requests[turn]
end
function done(summary, latency)
  local e = summary.errors
  io.write(string.format("RESULT %d %d %d %f %f\\n", summary.requests, summary.duration,
    e.status + e.connect + e.read + e.write + e.timeout, latency:percentile(50), latency:percentile(99)))
end
"""


class Load(NamedTuple):
    """What a server did under load."""

    requests: int
    """Requests answered."""
    seconds: float
    """Time they took in all [s]."""
    failures: int
    """Requests that failed, or were answered with something else than 200."""
    p50: float
    """Median latency [ms]."""
    p99: float
    """Latency that one request of a hundred exceeds [ms]."""
    work: float = nan
    """Processor time of the server for each request [µs], where the system tells it."""

    @property
    def rate(self) -> float:
        """Requests per second."""
        return self.requests / self.seconds


def generator(*, own: bool = False) -> str:
    """Name of the generator that is used."""
    return "wrk" if not own and shutil.which("wrk") else "the benchmark's own"


def load(
    server: Server,
    name: str,
    bodies: Sequence[bytes],
    seconds: float,
    *,
    own: bool = False,
    connections: int = CONNECTIONS,
) -> Load:
    """Load a server for some seconds.

    Args:
        server: the server.
        name: the calculation that is asked.
        bodies: the requests; one that begins with a slash is an address, which is read with GET.
        seconds: how long.
        own: by the benchmark's own generator in any case.
        connections: each with one request at a time.
    """
    before = server.work()
    if generator(own=own) == "wrk" and seconds >= 1:
        found = _wrk(server.port, name, bodies, seconds, connections)
    else:
        found = asyncio.run(_load(server.port, name, bodies, seconds, connections))
    if not found.requests:
        raise RuntimeError(
            f"no request to {name} was answered within {seconds:g} s: the machine is too busy to measure"
        )
    return found._replace(work=1e6 * (server.work() - before) / found.requests)


def further(
    server: Server, name: str, walk: Walk, seconds: float, *, own: bool = False, connections: int = CONNECTIONS
) -> Load:
    """Load a server for some seconds with requests that follow on those of the last time.

    Args:
        server: the server.
        name: the calculation that is asked.
        walk: round the requests.
        seconds: how long.
        own: by the benchmark's own generator in any case.
        connections: each with one request at a time.
    """
    found = load(server, name, walk.ahead(), seconds, own=own, connections=connections)
    walk.on(found.requests + connections)  # what was under way at the end was not counted
    return found


def _wrk(port: int, name: str, bodies: Sequence[bytes], seconds: float, connections: int) -> Load:
    with tempfile.TemporaryDirectory() as folder:
        listed = Path(folder, "bodies")
        listed.write_bytes(b"\n".join(bodies) + b"\n")
        script = Path(folder, "ring.lua")
        script.write_text(_SCRIPT.replace("BODIES", str(listed)), encoding="ascii")
        words = ["wrk", "-t1", f"-c{connections}", f"-d{round(seconds)}s", "--timeout=30s", f"-s{script}"]
        done = subprocess.run([*words, f"http://{HOST}:{port}/v1/{name}"], capture_output=True, text=True, check=True)
    line = next(line for line in done.stdout.splitlines() if line.startswith("RESULT "))
    requests, microseconds, failures, p50, p99 = (float(word) for word in line.split()[1:])
    return Load(int(requests), microseconds / 1e6, int(failures), p50 / 1000, p99 / 1000)


class _Connection(asyncio.Protocol):
    """One connection: sends the next request as soon as the answer to the last one is complete."""

    def __init__(self, requests: Iterator[bytes], spent: list[float], failures: list[bytes]) -> None:
        self._requests = requests
        self._spent = spent
        self._failures = failures
        self._buffer = b""
        self._due = 0
        self.ending = False
        self.lost: asyncio.Future[None] = asyncio.get_running_loop().create_future()

    def connection_made(self, transport: Any) -> None:
        self._transport = transport
        self._next()

    def connection_lost(self, _: Exception | None) -> None:
        if not self.ending:
            self._failures.append(b"the connection was closed")
        self.lost.set_result(None)

    def _next(self) -> None:
        self._started = time.perf_counter()
        self._transport.write(next(self._requests))

    def data_received(self, data: bytes) -> None:
        self._buffer = self._buffer + data if self._buffer else data
        if not self._due:
            head, end, _ = self._buffer.partition(b"\r\n\r\n")
            if not end:
                return
            length = _LENGTH.search(head)
            self._due = len(head) + 4 + (int(length[1]) if length else 0)
        if len(self._buffer) < self._due:
            return
        self._spent.append(time.perf_counter() - self._started)
        if not self._buffer.startswith(b"HTTP/1.1 200"):
            self._failures.append(self._buffer)
        self._buffer, self._due = b"", 0
        if self.ending:
            self._transport.close()
        else:
            self._next()


def _written(port: int, name: str, body: bytes) -> bytes:
    """A request as it goes over the line."""
    if body.startswith(b"/"):
        return b"GET %b HTTP/1.1\r\nHost: %b:%d\r\n\r\n" % (body, HOST.encode(), port)
    head = f"POST /v1/{name} HTTP/1.1\r\nHost: {HOST}:{port}\r\nContent-Type: application/json\r\n"
    return f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body


async def _load(port: int, name: str, bodies: Sequence[bytes], seconds: float, connections: int) -> Load:
    requests = cycle(_written(port, name, body) for body in bodies)
    spent: list[float] = []
    failures: list[bytes] = []
    loop = asyncio.get_running_loop()
    started = time.perf_counter()
    pairs = [
        await loop.create_connection(lambda: _Connection(requests, spent, failures), HOST, port)
        for _ in range(connections)
    ]
    await asyncio.sleep(seconds)
    for _, connection in pairs:
        connection.ending = True
    await asyncio.wait_for(asyncio.gather(*(connection.lost for _, connection in pairs)), 30)
    took = time.perf_counter() - started
    spent.sort()
    p50, p99 = (spent[len(spent) * hundredths // 100] * 1000 for hundredths in (50, 99)) if spent else (nan, nan)
    return Load(len(spent), took, len(failures), p50, p99)
