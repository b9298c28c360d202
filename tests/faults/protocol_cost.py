"""What the careful protocol costs, beside uvicorn's own: `python -m tests.faults.protocol_cost`.

Both read the same request again and again and hand it to the service, by turns in one process, on a transport that
throws away what is written; the ratio is that of the median times of a turn.
"""

import asyncio
import multiprocessing
import statistics
import time
from typing import Any, Final

import uvicorn
import uvloop
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol
from uvicorn.server import ServerState

from service.http.app import create_app
from service.http.operation.protocol import protocol
from service.http.operation.settings import Settings
from tests.faults.processes import Line, free_port, head, post

TURNS: Final = 60
REQUESTS: Final = 300


class Nowhere(asyncio.Transport):
    """A transport of which nothing comes out."""

    def write(self, data: Any) -> None:
        """Count nothing, keep nothing."""

    def is_closing(self) -> bool:
        """Never."""
        return False

    def close(self) -> None:
        """Nothing to close."""

    def get_write_buffer_size(self) -> int:
        """Nothing waits."""
        return 0


async def turn(kind: type[HttpToolsProtocol], config: uvicorn.Config, request: bytes) -> float:
    """Seconds a request took."""
    state = ServerState()
    connection = kind(config, state, {}, asyncio.get_running_loop())
    connection.connection_made(Nowhere())
    start = time.perf_counter()
    for number in range(REQUESTS):
        connection.data_received(request)
        while state.total_requests <= number:
            await asyncio.sleep(0)
    taken = (time.perf_counter() - start) / REQUESTS
    connection.connection_lost(None)
    return taken


async def compare(request: bytes) -> tuple[float, float]:
    """Median times of a request: uvicorn's own protocol, and ours [s]."""
    config = uvicorn.Config(create_app(), log_config=None, access_log=False)
    config.load()
    careful = protocol(Settings())
    times: dict[type, list[float]] = {HttpToolsProtocol: [], careful: []}
    for number in range(TURNS):
        for kind in (HttpToolsProtocol, careful) if number % 2 else (careful, HttpToolsProtocol):
            times[kind].append(await turn(kind, config, request))
    return statistics.median(times[HttpToolsProtocol]), statistics.median(times[careful])


def serve(port: int, *, own: bool) -> None:
    """Serve in a process of its own."""
    http = HttpToolsProtocol if own else protocol(Settings())
    uvicorn.run(create_app(), port=port, http=http, log_config=None, access_log=False)


def over_sockets(request: bytes) -> tuple[float, float]:
    """Median times of a request as a caller sees them: uvicorn's own protocol, and ours [s]."""
    ports = {own: free_port() for own in (True, False)}
    starting = multiprocessing.get_context("spawn")
    servers = [starting.Process(target=serve, args=(port,), kwargs={"own": own}) for own, port in ports.items()]
    for server in servers:
        server.start()
    try:
        lines = {own: connected(port) for own, port in ports.items()}
        times: dict[bool, list[float]] = {True: [], False: []}
        for number in range(TURNS):
            for own in (True, False) if number % 2 else (False, True):
                start = time.perf_counter()
                for _ in range(REQUESTS):
                    lines[own].send(request)
                    lines[own].reply()
                times[own].append((time.perf_counter() - start) / REQUESTS)
        return statistics.median(times[True]), statistics.median(times[False])
    finally:
        for server in servers:
            server.terminate()
            server.join()


def connected(port: int) -> Line:
    """A connection to a server that is only starting."""
    while True:
        try:
            return Line(port)
        except OSError:
            time.sleep(0.05)


if __name__ == "__main__":
    more = [f"X-Header-{number}: some value" for number in range(12)]
    for name, request in (
        ("a calculation", post()),
        ("with twelve headers more", post("/v1/saponification", *more)),
        ("a page", head("GET", "/health/live")),
    ):
        for where, (own, ours) in (
            ("in the process", uvloop.run(compare(request))),
            ("over a socket", over_sockets(request)),
        ):
            print(f"{name}, {where}: {own * 1e6:.1f} µs by uvicorn's own, {ours * 1e6:.1f} µs; ratio {ours / own:.3f}")
