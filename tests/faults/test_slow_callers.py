"""Callers who are slow, stop in the middle, or do not listen: they lose their connection, and nobody else waits."""

import socket
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from tests.faults.processes import BODY, Line, Running, head, post, running

HEAD_SECONDS: Final = 0.8
REQUEST_SECONDS: Final = 2.0
IDLE_SECONDS: Final = 3
LONGEST: Final = 20.0
"""Seconds after which a connection should be long gone: generous, for a machine that is busy."""
SIZE: Final = f"Content-Length: {len(BODY)}"


@pytest.fixture(scope="module")
def service() -> Iterator[Running]:
    with running(
        log="off", header_seconds=HEAD_SECONDS, request_seconds=REQUEST_SECONDS, idle_seconds=IDLE_SECONDS
    ) as found:
        yield found


@pytest.fixture
def line(service: Running) -> Iterator[Line]:
    opened = service.line()
    yield opened
    opened.close()


def trickle(line: Line, data: bytes, pause: float = 0.1) -> float:
    """Send a byte at a time, for ever; how long the other side bore it [s]."""
    start = time.monotonic()
    while (lasted := time.monotonic() - start) < LONGEST:
        for place in range(len(data)):
            if not line.send(data[place : place + 1]) or not line.is_open(pause):
                return time.monotonic() - start
    return lasted


def test_a_caller_that_says_nothing_loses_its_connection(line: Line, service: Running) -> None:
    start = time.monotonic()
    service.works()
    assert line.is_closed()
    assert HEAD_SECONDS * 0.9 < time.monotonic() - start < LONGEST


@pytest.mark.parametrize(
    "endless", [b"GET / HTTP/1.1\r\nHost: a\r\n" + b"X-A: b\r\n" * 9999, b"GET /" + b"a" * 9999, b"\r\n"]
)
@pytest.mark.parametrize("before", [0, 1], ids=["first", "later"])
def test_a_head_that_trickles_in_is_cut_off(line: Line, service: Running, endless: bytes, before: int) -> None:
    for _ in range(before):
        line.send(post())
        assert line.reply().status == 200
    assert HEAD_SECONDS * 0.9 < trickle(line, endless) < LONGEST
    service.works()


def test_many_slow_heads_keep_nobody_waiting(service: Running) -> None:
    slow = [service.line() for _ in range(300)]
    for one in slow:
        one.send(b"POST /v1/saponification HTTP/1.1\r\nHost: a\r\nX-")
    assert service.works() < LONGEST / 4
    assert all(one.is_closed() for one in slow)
    for one in slow:
        one.close()


@pytest.mark.parametrize("pause", [0.05, 0.5])
def test_a_head_in_pieces_that_is_complete_in_time_is_answered(line: Line, pause: float) -> None:
    sent = post()
    for place in (7, 40):
        line.send(sent[:place])
        time.sleep(pause * HEAD_SECONDS / 2)
        sent = sent[place:]
    line.send(sent)
    assert line.reply().status == 200


@pytest.mark.parametrize("framing", [SIZE, "Transfer-Encoding: chunked"])
def test_a_body_that_does_not_come_is_told(line: Line, service: Running, framing: str) -> None:
    line.send(head("POST", "/v1/saponification", framing))
    service.works()
    reply = line.reply()
    assert (reply.status, reply.kind(), reply.headers["connection"]) == (408, "request-timeout", "close")
    assert line.is_closed()


def test_a_body_that_trickles_in_is_cut_off(line: Line) -> None:
    line.send(head("POST", "/v1/saponification", f"Content-Length: {1 << 20}"))
    assert REQUEST_SECONDS * 0.9 < trickle(line, b" " * 9999) < LONGEST
    assert line.reply().kind() == "request-timeout"


def test_a_body_that_trickles_in_after_its_answer_is_cut_off(line: Line) -> None:
    """Nobody reads the body of a request that was refused, and so nobody else watches its time."""
    line.send(head("POST", "/nothing", f"Content-Length: {1 << 20}"))
    assert line.reply().status == 404
    assert trickle(line, b" " * 9999) < LONGEST


def test_a_body_that_comes_after_its_answer_leaves_the_connection_to_the_next(line: Line) -> None:
    line.send(head("POST", "/nothing", "Content-Length: 100000"))
    assert line.reply().status == 404
    line.send(b" " * 99_999)
    assert line.is_open(0.2)
    line.send(b" ")
    assert line.is_open(HEAD_SECONDS * 1.5)  # it is idle now, as after any other answer
    line.send(post())
    assert line.reply().status == 200


def test_a_connection_that_is_done_is_kept_for_a_while(line: Line) -> None:
    line.send(post())
    line.reply()
    start = time.monotonic()
    assert line.is_closed()
    assert IDLE_SECONDS * 0.9 < time.monotonic() - start < LONGEST


# Half of a connection


def test_a_caller_that_has_said_all_still_gets_its_answers(line: Line) -> None:
    many = b"\n".join([BODY] * 2000)
    line.send(
        post()
        + post("/v1/bulk/saponification", body=many).replace(b"application/json", b"application/x-ndjson")
        + post()
    )
    line.socket.shutdown(socket.SHUT_WR)
    assert line.reply().status == 200
    reply = line.reply()
    assert (reply.status, reply.body.count(b'"alkali":"NaOH"')) == (200, 2000)
    assert line.reply().status == 200
    assert line.is_closed()


@pytest.mark.parametrize("part", [post()[:30], post()[:-5], post("/nothing")[:-5], b"\r\n"])
def test_a_caller_that_ends_in_the_middle_ends_its_connection(line: Line, service: Running, part: bytes) -> None:
    line.send(part)
    if b"/nothing" in part:
        assert line.reply().status == 404
    start = time.monotonic()
    line.socket.shutdown(socket.SHUT_WR)
    assert line.is_closed()
    assert time.monotonic() - start < LONGEST
    service.works()


# Callers that do not read


def holds(service: Running, line: Line) -> bool:
    """Whether the service still holds its end of a connection, as Linux lists them (proc(5), /proc/net/tcp)."""
    theirs = line.socket.getsockname()[1]
    for row in Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]:
        (
            _,
            local,
            remote,
            *_,
        ) = fields = row.split()
        if (local[-4:], remote[-4:]) == (f"{service.port:04X}", f"{theirs:04X}"):
            return fields[9] != "0"
    return False


def is_let_go(service: Running, line: Line) -> bool:
    """Whether it gives a connection up in the end."""
    deadline = time.monotonic() + LONGEST
    while holds(service, line) and time.monotonic() < deadline:
        time.sleep(0.1)
    return not holds(service, line)


@pytest.mark.parametrize("size", [600, 9000])
def test_a_caller_that_does_not_read_is_let_go(service: Running, size: int) -> None:
    """Else its answer would be kept for ever; so few that all is written, and so many that writing waits."""
    deaf = service.line()
    deaf.socket.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
    many = b"\n".join([BODY] * size)
    lines = post("/v1/bulk/saponification", "Accept-Encoding: identity", body=many)
    deaf.send(lines.replace(b"application/json", b"application/x-ndjson"))
    assert deaf.reply_begins()
    assert holds(service, deaf)
    assert is_let_go(service, deaf)
    service.works()
    deaf.close()


def test_a_caller_that_asks_on_without_reading_is_let_go(service: Running) -> None:
    deaf = Line(service.port, 1.0)
    deaf.socket.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
    part = head("GET", "/openapi.json") * 1000
    sent = deaf.send(*[part] * 1000)
    assert sent < 1000
    service.works()
    assert is_let_go(service, deaf)
    deaf.close()
