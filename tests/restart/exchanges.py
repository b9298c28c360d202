"""One request on a plain socket, and its answer, with nothing in between."""

import re
import socket
from collections.abc import Iterable
from contextlib import suppress
from typing import NamedTuple

from tests.restart.running_service import HOST


class Answer(NamedTuple):
    """An answer: its header names are in small letters; where one stands several times, all values are kept."""

    status: int
    headers: dict[str, str]
    body: bytes


def connect(port: int, address: str = HOST) -> socket.socket:
    """A connection from an address of this machine."""
    return socket.create_connection((HOST, port), timeout=60, source_address=(address, 0))


def head(method: str, path: str, headers: Iterable[tuple[str, str]] = (), length: int | None = None) -> bytes:
    """The head of a request."""
    lines = [f"{method} {path} HTTP/1.1", "Host: lyestock.example", *(f"{name}: {value}" for name, value in headers)]
    if length is not None:
        lines += [f"Content-Length: {length}", "Content-Type: application/json"]
    return "\r\n".join((*lines, "", "")).encode()


def answer(line: socket.socket, *, bodiless: bool = False) -> Answer:
    """Read an answer.

    Raises:
        ConnectionError: the connection ended before the answer did.
    """
    data = b""
    while b"\r\n\r\n" not in data:
        data += _more(line)
    top, _, rest = data.partition(b"\r\n\r\n")
    first, *lines = top.decode("latin-1").split("\r\n")
    headers: dict[str, str] = {}
    for one in lines:
        name, _, value = one.partition(": ")
        headers[name.lower()] = f"{headers[name.lower()]}, {value}" if name.lower() in headers else value
    status = int(first.split()[1])
    if bodiless or status in {204, 304}:
        return Answer(status, headers, b"")
    if headers.get("transfer-encoding") == "chunked":
        return Answer(status, headers, _chunks(line, rest))
    while len(rest) < int(headers["content-length"]):
        rest += _more(line)
    return Answer(status, headers, rest)


def _chunks(line: socket.socket, data: bytes) -> bytes:
    body = bytearray()
    rest = bytearray(data)
    while True:
        while (found := re.match(rb"([0-9a-fA-F]+)\r\n", rest)) is None or len(rest) < found.end() + int(
            found[1], 16
        ) + 2:
            rest += _more(line)
        size = int(found[1], 16)
        if not size:
            return bytes(body)
        body += rest[found.end() : found.end() + size]
        del rest[: found.end() + size + 2]


def _more(line: socket.socket) -> bytes:
    data = line.recv(1 << 16)
    if not data:
        raise ConnectionError("the connection ended before the answer did")
    return data


def ask(
    port: int,
    method: str,
    path: str,
    body: bytes | None = None,
    headers: Iterable[tuple[str, str]] = (),
    address: str = HOST,
) -> Answer:
    """One request on a connection of its own."""
    with connect(port, address) as line:
        with suppress(OSError):  # who refuses a body early need not read it to its end; the answer is there
            line.sendall(head(method, path, headers, None if body is None else len(body)) + (body or b""))
        return answer(line, bodiless=method == "HEAD")


def is_closed(line: socket.socket, seconds: float = 30) -> bool:
    """Whether the other side closes a connection."""
    line.settimeout(seconds)
    try:
        return line.recv(1) == b""
    except TimeoutError:
        return False
    except ConnectionError:
        return True
