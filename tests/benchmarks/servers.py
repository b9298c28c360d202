"""The servers that are compared, each a process of its own: the same uvicorn, set the same, by the service's protocol.

What differs is the application, and what the service does for itself where it has a process alone: it leaves what it
holds at its start out of collections of garbage.

`python -m tests.benchmarks.servers NAME PORT [CORE]` runs one.
"""

import http.client
import importlib
import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from math import nan
from pathlib import Path
from socket import socket
from typing import Final, Literal, NamedTuple

ROOT: Final = Path(__file__).resolve().parents[2]
HOST: Final = "127.0.0.1"
APPS: Final = {
    "floor": "tests.benchmarks.floor",
    "peer": "tests.benchmarks.peer",
}
"""Module of each application that is no service; its create_app makes it."""
SERVICE: Final[dict[str, Literal["json", "off"]]] = {"ours": "json", "silent": "off"}
"""The service as it is shipped, by what its setting of the log is. Its log goes nowhere."""
PATIENCE: Final = 30.0
"""Seconds a server may take to start."""


def resident(process: int) -> float:
    """Resident memory of a process [MiB]; not a number where the system does not tell it."""
    status = Path(f"/proc/{process}/status")
    if not status.exists():
        return nan
    line = next(line for line in status.read_text("ascii").splitlines() if line.startswith("VmRSS:"))
    return int(line.split()[1]) / 1024


class Server(NamedTuple):
    """A running server."""

    port: int
    started: float
    """Time from the start of its process until it took a connection [s]."""
    process: int
    """Id of its process."""

    def resident(self) -> float:
        """Resident memory [MiB]; not a number where the system does not tell it."""
        return resident(self.process)

    def work(self) -> float:
        """Processor time it has used [s]; not a number where the system does not tell it."""
        told = Path(f"/proc/{self.process}/stat")
        if not told.exists():
            return nan
        fields = told.read_text("utf-8").rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def run(name: str, port: int, core: int | None) -> None:
    """Serve in this process: one worker, pinned to one core where that is possible."""
    if core is not None and hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {core})
    import uvicorn  # noqa: PLC0415 - only a server needs it

    from service.http.operation.settings import Settings  # noqa: PLC0415
    from service.http.operation.workers import serve, server_config  # noqa: PLC0415

    settings = Settings(host=HOST, port=port, log=SERVICE.get(name, "off"))
    if name in SERVICE:
        sys.exit(serve(settings, lambda: settings))
    uvicorn.Server(server_config(settings, importlib.import_module(APPS[name]).create_app)).run()


def free_port() -> int:
    """A port nobody listens on."""
    with socket() as probe:
        probe.bind((HOST, 0))
        port: int = probe.getsockname()[1]
        return port


@contextmanager
def server(name: str, core: int | None = None) -> Iterator[Server]:
    """A server that runs while the context lasts."""
    port = free_port()
    words = [sys.executable, "-m", "tests.benchmarks.servers", name, str(port), *([] if core is None else [str(core)])]
    begun = time.perf_counter()
    process = subprocess.Popen(words, cwd=ROOT, stdout=subprocess.DEVNULL)
    try:
        _wait(process, name, port)
        yield Server(port, time.perf_counter() - begun, process.pid)
    finally:
        process.terminate()
        process.wait(10)


def _wait(process: subprocess.Popen[bytes], name: str, port: int) -> None:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end and process.poll() is None:
        with socket() as probe:
            if probe.connect_ex((HOST, port)) == 0:
                return
        time.sleep(0.01)
    raise RuntimeError(f"the server {name!r} did not start")


def ask(port: int, name: str, body: bytes) -> tuple[int, bytes]:
    """One request, on a connection of its own: status and body of the answer."""
    connection = http.client.HTTPConnection(HOST, port, timeout=30)
    try:
        connection.request("POST", f"/v1/{name}", body, {"Content-Type": "application/json"})
        reply = connection.getresponse()
        return reply.status, reply.read()
    finally:
        connection.close()


def agrees(port: int, name: str) -> bool:
    """Whether a server answers the first request of a ring as the calculation itself does."""
    from service.calculations.registry import calculations  # noqa: PLC0415 - the environment is ready only now
    from service.calculations.shared.rendering import renderer  # noqa: PLC0415
    from tests.benchmarks.bodies import ring  # noqa: PLC0415

    body = ring(name, 1)[0]
    status, told = ask(port, name, body)
    due = renderer()(calculations()[name].run(body))
    return status == 200 and json.loads(told) == json.loads(due)


if __name__ == "__main__":
    run(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else None)
