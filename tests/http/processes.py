"""The service in processes of its own, whose output is read: as an operator meets it."""

import http.client
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from socket import socket
from typing import IO, Any, Final, NamedTuple, TypeVar

from prometheus_client.parser import text_string_to_metric_families

ROOT: Final = Path(__file__).parents[2]
PATIENCE: Final = 90.0
"""Seconds it may take to start, to end, or to write a line, on a machine that is busy."""


class Answer(NamedTuple):
    """What was answered."""

    status: int
    headers: dict[str, str]
    body: bytes


class Running:
    """A running service.

    Attributes:
        port: where it listens.
        process: that which was started.
    """

    def __init__(self, port: int, process: "subprocess.Popen[bytes]", output: Path | None) -> None:
        self.port = port
        self.process = process
        self._output = output

    def ask(self, method: str, path: str, body: bytes = b"", headers: Mapping[str, str] | None = None) -> Answer:
        """One request on a connection of its own, so that any worker may get it."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        try:
            connection.request(method, path, body or None, dict(headers or {}))
            reply = connection.getresponse()
            return Answer(reply.status, {name.lower(): value for name, value in reply.getheaders()}, reply.read())
        finally:
            connection.close()

    def samples(self) -> dict[tuple[str, tuple[tuple[str, str], ...]], float]:
        """Every sample of the metrics, by name and labels."""
        families = text_string_to_metric_families(self.ask("GET", "/metrics").body.decode())
        return {(one.name, tuple(sorted(one.labels.items()))): one.value for it in families for one in it.samples}

    def value(self, name: str, **labels: str) -> float:
        """A sample of the metrics; 0 where there is none."""
        return self.samples().get((name, tuple(sorted(labels.items()))), 0)

    def said(self) -> str:
        """All that it has written."""
        assert self._output is not None
        return self._output.read_text("utf-8")

    def lines(self) -> list[dict[str, Any]]:
        """All lines of its log."""
        return [json.loads(line) for line in self.said().splitlines()]

    def wait_for_line(self, fits: Callable[[dict[str, Any]], bool]) -> dict[str, Any]:
        """The first line that fits, once it is there."""
        return until(lambda: next((line for line in self.lines() if fits(line)), None))

    def wait_for_workers(self, number: int) -> None:
        """Wait until so many processes serve."""
        complete = "Application startup complete."
        until(lambda: sum(line["message"] == complete for line in self.lines()) >= number)

    def end(self) -> int:
        """End it as a supervisor does, and return its exit code."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(PATIENCE)


T = TypeVar("T")


def until(found: Callable[[], T | None]) -> T:
    """What is found, as soon as there is something that counts as true."""
    deadline = time.monotonic() + PATIENCE
    while True:
        thing = found()
        if thing:
            return thing
        assert time.monotonic() < deadline, "it did not come"
        time.sleep(0.02)


@contextmanager
def running(
    *words: str, output: Path | None = None, stdout: int | IO[bytes] | None = None, environment: Mapping[str, str] = {}
) -> Iterator[Running]:
    """A service that runs while the context lasts.

    Args:
        words: of the command after `python`; PORT stands for a port that is free.
        output: file that takes what it writes on standard output and standard error.
        stdout: takes its standard output, where no file does.
        environment: variables beside those of this process.
    """
    with socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, *(word.replace("PORT", str(port)) for word in words)]
    sink = None if output is None else output.open("wb")
    process = subprocess.Popen(
        command,
        cwd=ROOT,
        env={**os.environ, **environment},
        stdout=sink or stdout,
        stderr=subprocess.STDOUT if sink else None,
    )
    try:
        until(lambda: _connects(port, process))
        yield Running(port, process, output)
    finally:
        if process.poll() is None:
            process.terminate()
            process.wait(PATIENCE)
        if sink:
            sink.close()


def _connects(port: int, process: "subprocess.Popen[bytes]") -> bool:
    assert process.poll() is None, "the service ended"
    with socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0
