"""The service behind its real server, over sockets of this machine: what only the line can show."""

import json
import socket
import time
from collections.abc import Iterator
from typing import Final

import pytest

from service.http import wire
from service.http.wire import BODY_LIMIT
from tests.running import serve

BODY: Final = b'{"fats":[{"fat":"olive-oil","mass":"1 kg"}]}'
CHUNK: Final = b"10000\r\n" + b" " * 0x10000 + b"\r\n"
PATIENCE: Final = 10.0


@pytest.fixture(scope="module")
def port() -> Iterator[int]:
    """A server on a port that is free, which lingers no longer than a test needs."""
    patch = pytest.MonkeyPatch()
    patch.setattr(wire, "LINGER", 0.3)
    with serve() as served:
        yield served.port
    patch.undo()


class Line:
    """A connection."""

    def __init__(self, port: int) -> None:
        self._socket = socket.create_connection(("127.0.0.1", port), PATIENCE)
        self._left = b""

    def send(self, *parts: bytes) -> int:
        """Send parts until the other side closes; how many went out."""
        for count, part in enumerate(parts):
            try:
                self._socket.sendall(part)
            except OSError:
                return count
        return len(parts)

    def reply(self) -> tuple[int, dict[str, str], bytes]:
        """One reply: status, headers, body."""
        head = self._until(b"\r\n\r\n").decode("latin-1")
        first, *lines = head.rstrip().split("\r\n")
        headers = {name.lower(): value for name, _, value in (line.partition(": ") for line in lines)}
        status = int(first.split(" ")[1])
        if status == 100:
            return status, headers, b""
        size = int(headers.get("content-length", "0"))
        while len(self._left) < size:
            self._read()
        body, self._left = self._left[:size], self._left[size:]
        return status, headers, body

    def is_closed(self) -> bool:
        """Whether the other side has closed the connection, having said nothing more."""
        try:
            return self._socket.recv(1) == b""
        except ConnectionResetError:
            return True

    def _until(self, mark: bytes) -> bytes:
        while mark not in self._left:
            self._read()
        head, self._left = self._left.split(mark, 1)
        return head

    def _read(self) -> None:
        more = self._socket.recv(65536)
        assert more, "closed before the whole reply had come"
        self._left += more

    def close(self) -> None:
        self._socket.close()


@pytest.fixture
def line(port: int) -> Iterator[Line]:
    opened = Line(port)
    yield opened
    opened.close()


def head(method: str = "POST", target: str = "/v1/saponification", *more: str) -> bytes:
    lines = [f"{method} {target} HTTP/1.1", "Host: here", "Content-Type: application/json", *more]
    return ("\r\n".join(lines) + "\r\n\r\n").encode("latin-1")


def post(target: str = "/v1/saponification", *more: str, body: bytes = BODY) -> bytes:
    return head("POST", target, f"Content-Length: {len(body)}", *more) + body


# Bodies too large


def test_a_declared_body_too_large_is_refused_before_it_is_sent_and_the_connection_closed(line: Line) -> None:
    line.send(head("POST", "/v1/saponification", f"Content-Length: {BODY_LIMIT + 1}"))
    start = time.monotonic()
    status, headers, body = line.reply()
    assert time.monotonic() - start < 1
    assert (status, headers["connection"]) == (413, "close")
    assert (
        json.loads(body)["detail"] == "At most 1048576 bytes (1 MiB) are taken. Send one request for each calculation."
    )
    assert line.is_closed()


def test_a_body_too_large_that_is_sent_all_the_same_does_not_lose_its_answer(line: Line) -> None:
    line.send(head("POST", "/v1/saponification", f"Content-Length: {4 * BODY_LIMIT}"), b" " * 4 * BODY_LIMIT)
    status, headers, body = line.reply()
    assert (status, headers["connection"]) == (413, "close")
    assert json.loads(body)["type"] == "/problems/body-too-large"
    assert line.is_closed()


def test_a_body_in_chunks_is_refused_as_soon_as_it_is_too_large(line: Line) -> None:
    line.send(head("POST", "/v1/saponification", "Transfer-Encoding: chunked"), *[CHUNK] * 17)
    status, headers, _ = line.reply()  # though the body has not ended
    assert (status, headers["connection"]) == (413, "close")
    line.send(b"0\r\n\r\n")
    assert line.is_closed()


def test_an_endless_body_is_not_read_for_ever(line: Line) -> None:
    start = time.monotonic()
    sent = line.send(head("POST", "/v1/saponification", "Transfer-Encoding: chunked"), *[CHUNK] * 2000)
    assert sent < 2000
    assert time.monotonic() - start < PATIENCE


def test_a_body_of_exactly_the_limit_is_answered(line: Line) -> None:
    line.send(post(body=BODY.ljust(BODY_LIMIT)))
    assert line.reply()[0] == 200


def test_a_caller_that_asks_first_is_told_at_once_whether_to_send(port: int) -> None:
    line = Line(port)
    line.send(head("POST", "/v1/saponification", f"Content-Length: {len(BODY)}", "Expect: 100-continue"))
    assert line.reply()[0] == 100
    line.send(BODY)
    assert line.reply()[0] == 200
    line.close()
    line = Line(port)
    line.send(head("POST", "/v1/saponification", f"Content-Length: {2 * BODY_LIMIT}", "Expect: 100-continue"))
    assert line.reply()[0] == 413
    line.close()


# Lengths that lie, bodies that are slow


def test_a_body_shorter_than_it_says_keeps_nobody_else_waiting(port: int) -> None:
    slow, other = Line(port), Line(port)
    slow.send(head("POST", "/v1/saponification", f"Content-Length: {len(BODY)}"), BODY[:10])
    other.send(post())
    assert other.reply()[0] == 200
    slow.send(BODY[10:])
    assert slow.reply()[0] == 200
    slow.close()
    other.close()


def test_a_body_longer_than_it_says_is_cut_and_said_to_be(line: Line) -> None:
    line.send(head("POST", "/v1/saponification", "Content-Length: 10", "Connection: close") + BODY)
    status, _, body = line.reply()
    assert status == 400
    assert json.loads(body)["errors"][0]["mend"] == "close every bracket and quote, and check Content-Length"


@pytest.mark.parametrize("length", ["-1", "abc", "5, 6", "1" * 40])
def test_a_length_that_is_none_is_refused(line: Line, length: str) -> None:
    line.send(head("POST", "/v1/saponification", f"Content-Length: {length}") + BODY)
    assert line.reply()[0] in {400, 413}


def test_a_caller_that_leaves_in_the_middle_harms_nobody(port: int) -> None:
    for part in (b"", BODY[:5], b" " * 100_000):
        gone = Line(port)
        gone.send(head("POST", "/v1/saponification", "Content-Length: 500000"), part)
        gone.close()
    line = Line(port)
    line.send(post())
    assert line.reply()[0] == 200
    line.close()


# One connection, several requests


def test_a_refused_request_leaves_the_connection_to_the_next(line: Line) -> None:
    for bad, status in (
        (post(body=b"{"), 400),
        (post("/nothing"), 404),
        (post("/v1/saponification", "Accept: text/csv"), 406),
        (post("/v1/saponification", "Content-Encoding: gzip"), 415),
        (head("GET"), 405),
        (post(body=b'{"fats":[{"fat":"nothing","mass":"1 g"}]}'), 422),
    ):
        line.send(bad)
        assert line.reply()[0] == status
        line.send(post())
        assert line.reply()[0] == 200


def test_requests_sent_at_once_are_answered_in_order(line: Line) -> None:
    line.send(post() + head("GET", "/health/live") + post(body=b"null") + post())
    assert [line.reply()[0] for _ in range(4)] == [200, 200, 400, 200]


def test_many_callers_at_once_get_each_its_own_answer(port: int) -> None:
    lines = [Line(port) for _ in range(40)]
    for number, line in enumerate(lines):
        line.send(
            post(
                body=json.dumps({"reference": f"no {number}", "fats": [{"fat": "olive-oil", "mass": "1 kg"}]}).encode()
            )
        )
    for number, line in enumerate(lines):
        status, _, body = line.reply()
        assert (status, json.loads(body)["reference"]) == (200, f"no {number}")
        line.close()


# Targets and methods as they come over the line


@pytest.mark.parametrize(
    ("target", "status"),
    [
        ("/v1/s%61ponification", 200),
        ("http://here/v1/saponification", 200),
        ("/v1/saponification#part", 200),
        ("/v1/saponification%2F", 404),
        ("/v1%2Fsaponification", 200),
        ("/v1/saponification%00", 404),
        ("/v1/saponification%", 404),
        ("/v1/saponification%zz", 404),
        ("/v1/saponification%ff", 404),
        ("//v1/saponification", 404),
        ("/v1/../v1/saponification", 404),
        ("/v1/x%0d%0aX-Evil:%201", 404),
        ("*", 404),
        ("/v1/saponification?units=us&units=us", 400),
        ("/v1/saponification?%ff=%fe", 400),
        ("/v1/saponification?" + "a=1&" * 2000, 400),
        ("/v1/saponification?" + "a" * 8_000, 400),
        ("/v1/saponification?" + "a=1&" * 5000, 414),
        ("/v1/saponification?" + "a" * 60_000, 414),
    ],
    ids=lambda value: str(value)[:30],
)
def test_targets_are_decoded_once_and_no_further(line: Line, target: str, status: int) -> None:
    line.send(post(target))
    found, headers, body = line.reply()
    assert found == status
    assert "x-evil" not in headers
    if found >= 400:
        assert json.loads(body)["instance"].isascii()


@pytest.mark.parametrize("method", ["HEAD", "TRACE", "PUT", "QUERY", "PROPFIND"])
def test_another_method_gets_allow(line: Line, method: str) -> None:
    line.send(head(method, "/v1/saponification", "Connection: close"))
    first = line._until(b"\r\n\r\n").decode().lower()
    assert first.startswith("http/1.1 405")
    assert "allow: post, options" in first


@pytest.mark.parametrize(
    "request_",
    [
        b"FOO / HTTP/1.1\r\n\r\n",
        b"GET /\xff HTTP/1.1\r\n\r\n",
        b"GET / HTTP/9.9\r\n\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
        b"POST / HTTP/1.1\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
    ],
    ids=lambda value: str(value[:16]),
)
def test_what_is_no_http_is_turned_away_by_the_server(line: Line, request_: bytes) -> None:
    """The server says so in plain words before the service sees anything."""
    line.send(request_)
    first = line._until(b"\r\n\r\n")
    assert first.startswith(b"HTTP/1.1 400")
