"""The service as it is run for others: started by its command, with workers, and told to end by signals."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
HOST: Final = "127.0.0.1"
PATIENCE: Final = 120.0
"""Seconds that anything may take on a busy machine."""
STARTED: Final = "Application startup complete"
"""What each worker's server says once it serves."""


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        port: int = probe.getsockname()[1]
        return port


def listens(port: int) -> bool:
    """Whether anybody takes connections on a port."""
    with socket.socket() as probe:
        return probe.connect_ex((HOST, port)) == 0


def wait_for(what: Callable[[], bool], why: str) -> None:
    """Wait until something holds."""
    end = time.monotonic() + PATIENCE
    while not what():
        assert time.monotonic() < end, f"this took too long: {why}"
        time.sleep(0.05)


def clean_environment(extra: Mapping[str, str]) -> dict[str, str]:
    """The environment without settings of whoever runs the tests."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("LYESTOCK_")}
    return {**kept, "PYTHONPATH": str(ROOT), **extra}


class Service:
    """A running service.

    Attributes:
        port: where it listens.
        process: the one that was started; with several workers their supervisor.
    """

    def __init__(self, folder: Path, workers: int, port: int, extra: Mapping[str, str]) -> None:
        self.port = port
        self._log = folder / f"service-{port}.log"
        with self._log.open("wb") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "service", "--port", str(port), "--workers", str(workers)],
                cwd=folder,
                env=clean_environment(extra),
                stdout=log,
                stderr=log,
            )

    @property
    def log(self) -> str:
        """What it has said."""
        return self._log.read_text(encoding="utf-8")

    @property
    def starts(self) -> int:
        """Workers that have begun to serve since the start."""
        return self.log.count(STARTED)

    def wait_for_starts(self, count: int) -> None:
        """Wait until so many workers have begun to serve since the start."""
        wait_for(lambda: self.starts >= count or self.process.poll() is not None, f"{count} starts\n{self.log}")
        assert self.process.poll() is None, self.log

    def workers(self) -> list[int]:
        """Process ids of the workers, as the system knows them."""
        return children(self.process.pid)

    def told(self, number: int) -> None:
        """Send a signal to the process that was started."""
        self.process.send_signal(number)

    def end(self, number: int = signal.SIGTERM) -> int:
        """Tell it to end, and wait.

        Returns:
            Its exit code.
        """
        self.told(number)
        return self.process.wait(PATIENCE)


def children(pid: int) -> list[int]:
    """Workers among the processes that another has started."""
    found = []
    for child in Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii").split():
        try:
            command = Path(f"/proc/{child}/cmdline").read_bytes()
        except OSError:
            continue  # it has just ended
        if b"spawn_main" in command:
            found.append(int(child))
    return found


def is_alive(pid: int) -> bool:
    """Whether a process runs, and is not only waiting to be taken note of."""
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def sockets(pid: int) -> int:
    """Sockets that a process has open."""
    count = 0
    for one in Path(f"/proc/{pid}/fd").iterdir():
        with suppress(OSError):  # closed meanwhile
            count += str(one.readlink()).startswith("socket:")
    return count


@contextmanager
def keeping_all_busy(service: Service) -> Iterator[None]:
    """Requests that never end, at every worker, whichever takes a connection."""
    before = {pid: sockets(pid) for pid in service.workers()}
    with ExitStack() as stack:
        for _ in range(500):
            line = stack.enter_context(socket.create_connection((HOST, service.port), timeout=60))
            line.sendall(
                b"POST /v1/concentration HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
                b"Content-Length: 100\r\n\r\n{"
            )
            time.sleep(0.05)
            if all(sockets(pid) > count for pid, count in before.items()):
                break
        else:
            raise AssertionError("one worker takes all connections")
        time.sleep(0.5)
        yield


@contextmanager
def started(folder: Path, workers: int = 1, port: int | None = None, **extra: str) -> Iterator[Service]:
    """A service while the context lasts; then it is ended, and killed where that does not help.

    Args:
        folder: where it is started, and writes its log.
        workers: processes that serve.
        port: where it listens; one that is free where it is not given.
        extra: further environment variables.
    """
    service = Service(folder, workers, port or free_port(), extra)
    try:
        service.wait_for_starts(workers)
        wait_for(lambda: listens(service.port), "it listens")
        yield service
    finally:
        if service.process.poll() is None:
            left = service.workers()
            service.process.terminate()
            try:
                service.process.wait(30)
            except subprocess.TimeoutExpired:
                for pid in (service.process.pid, *left):
                    if is_alive(pid):
                        os.kill(pid, signal.SIGKILL)
                service.process.wait(30)
