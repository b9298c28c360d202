"""The service as it is run, in a process of its own, and connections to it that show what comes over the line."""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final, NamedTuple

import msgspec

BODY: Final = b'{"fats":[{"fat":"olive-oil","mass":"1 kg"}]}'
TARGET: Final = "/v1/saponification"
PATIENCE: Final = 90.0
"""Seconds after which a test gives up; nothing is timed by it."""


class Running(NamedTuple):
    """A service."""

    port: int
    process: subprocess.Popen[bytes]

    def resident(self) -> int:
        """Bytes of memory that its process has, as Linux counts them."""
        status = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        return next(int(line.split()[1]) << 10 for line in status.splitlines() if line.startswith("VmRSS"))

    def line(self) -> "Line":
        """A new connection."""
        return Line(self.port)

    def works(self) -> float:
        """Ask on a new connection; how long the right answer took [s]."""
        start = time.monotonic()
        line = self.line()
        line.send(post())
        reply = line.reply()
        line.close()
        assert reply.status == 200, reply
        return time.monotonic() - start


class Reply(NamedTuple):
    """An answer."""

    status: int
    headers: dict[str, str]
    body: bytes

    def kind(self) -> str:
        """The kind of problem, of an answer that is one."""
        assert self.headers["content-type"] == "application/problem+json", self
        document: dict[str, Any] = msgspec.json.decode(self.body)
        assert document["status"] == self.status
        assert document["instance"].isascii()
        kind: str = document["type"]
        return kind.removeprefix("/problems/")


class Line:
    """A connection."""

    def __init__(self, port: int, patience: float = PATIENCE) -> None:
        self.socket = socket.create_connection(("127.0.0.1", port), patience)
        self.left = b""

    def send(self, *parts: bytes) -> int:
        """Send parts until the other side closes; how many went out."""
        for count, part in enumerate(parts):
            try:
                self.socket.sendall(part)
            except OSError:
                return count
        return len(parts)

    def reply(self) -> Reply:
        """The next answer."""
        head = self._until(b"\r\n\r\n").decode("latin-1")
        first, *lines = head.split("\r\n")
        headers = {name.lower(): value for name, _, value in (line.partition(": ") for line in lines)}
        body = b""
        if headers.get("transfer-encoding") == "chunked":
            while size := int(self._until(b"\r\n"), 16):
                body += self._exactly(size)
                self._exactly(2)
            self._exactly(2)
        else:
            body = self._exactly(int(headers.get("content-length", "0")))
        return Reply(int(first.split(" ")[1]), headers, body)

    def is_closed(self) -> bool:
        """Whether the other side closes the connection, saying nothing more."""
        try:
            return not self.left and self.socket.recv(1) == b""
        except ConnectionResetError:
            return True

    def is_open(self, seconds: float) -> bool:
        """Whether the other side says nothing for a time, and does not close either."""
        self.socket.settimeout(seconds)
        try:
            self.socket.recv(1, socket.MSG_PEEK)
        except TimeoutError:
            return True
        finally:
            self.socket.settimeout(PATIENCE)
        return False

    def reply_begins(self) -> bool:
        """Whether an answer begins to come; none of it is taken."""
        return self.socket.recv(1, socket.MSG_PEEK) == b"H"

    def close(self) -> None:
        """Leave."""
        self.socket.close()

    def _until(self, mark: bytes) -> bytes:
        while mark not in self.left:
            self._read()
        found, self.left = self.left.split(mark, 1)
        return found

    def _exactly(self, size: int) -> bytes:
        while len(self.left) < size:
            self._read()
        found, self.left = self.left[:size], self.left[size:]
        return found

    def _read(self) -> None:
        more = self.socket.recv(1 << 16)
        if not more:
            raise ConnectionResetError("closed before the whole answer had come")
        self.left += more


def head(method: str = "POST", target: str = TARGET, *more: str, version: str = "1.1") -> bytes:
    """The head of a request; what is given more stands last."""
    lines = [f"{method} {target} HTTP/{version}", "Host: here", "Content-Type: application/json", *more]
    return ("\r\n".join(lines) + "\r\n\r\n").encode("latin-1")


def post(target: str = TARGET, *more: str, body: bytes = BODY) -> bytes:
    """A request with a body."""
    return head("POST", target, f"Content-Length: {len(body)}", *more) + body


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.create_server(("127.0.0.1", 0)) as found:
        port: int = found.getsockname()[1]
        return port


def start(*words: str, port: int, stdout: Any = subprocess.DEVNULL, stderr: Any = None, **said: object) -> Running:
    """Start the service as an operator does, and wait until it answers.

    Args:
        words: of the command line, more.
        port: where it listens.
        stdout: of the process.
        stderr: of the process.
        said: settings.
    """
    environment = {name: value for name, value in os.environ.items() if not name.startswith("LYESTOCK_")}
    environment |= {f"LYESTOCK_{name.upper()}": str(value) for name, value in said.items()}
    command = [sys.executable, "-m", "service", "--port", str(port), *words]
    process = subprocess.Popen(
        command, env=environment, stdout=stdout, stderr=stdout if stderr is None else stderr, start_new_session=True
    )
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline and process.poll() is None:
        try:
            socket.create_connection(("127.0.0.1", port), 1).close()
        except OSError:
            time.sleep(0.05)
        else:
            return Running(port, process)
    stop(process)
    raise AssertionError("the service did not start")


def stop(process: subprocess.Popen[bytes]) -> None:
    """End a service, whatever it is doing."""
    process.terminate()
    try:
        process.wait(5)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


@contextmanager
def running(*words: str, **said: Any) -> Iterator[Running]:
    """The service while the context lasts."""
    found = start(*words, port=free_port(), **said)
    try:
        yield found
    finally:
        stop(found.process)
