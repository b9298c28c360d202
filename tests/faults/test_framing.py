"""Requests that two programs may read in two ways, and what else is no HTTP: refused as problems, in order.

The shapes are those that RFC 9112 tells a server to refuse (2.2, 3.2, 5.1, 5.2, 6.1, 6.3, 7.1), each named.
"""

from collections.abc import Iterator
from typing import Final

import pytest

from tests.faults.processes import BODY, Line, Running, head, post, running

SIZE: Final = f"Content-Length: {len(BODY)}"
CHUNKED: Final = "Transfer-Encoding: chunked"
CHUNKS: Final = b"%x\r\n%b\r\n0\r\n\r\n" % (len(BODY), BODY)
AFTER: Final = b"GET /smuggled HTTP/1.1\r\nHost: here\r\n\r\n"
"""What an attacker hides behind a request: an answer to it would be told to the next caller of a proxy."""


@pytest.fixture(scope="module")
def service() -> Iterator[Running]:
    with running(log="off") as found:
        yield found


@pytest.fixture
def line(service: Running) -> Iterator[Line]:
    opened = service.line()
    yield opened
    opened.close()


def raw(*lines: str, first: str = "POST /v1/saponification HTTP/1.1", end: str = "\r\n") -> bytes:
    return end.join([first, "Host: here", "Content-Type: application/json", *lines, "", ""]).encode("latin-1")


REFUSED: Final = {
    # 6.1, 6.3: both ways to say how long a body is, and two lengths
    "length and chunks": raw(SIZE, CHUNKED) + CHUNKS,
    "chunks and length": raw(CHUNKED, SIZE) + CHUNKS,
    "length of nothing and chunks": raw("Content-Length: 0", CHUNKED) + CHUNKS,
    "two lengths": raw(SIZE, "Content-Length: 3") + BODY,
    "two lengths alike": raw(SIZE, SIZE) + BODY,
    "lengths in a list": raw(f"{SIZE}, {len(BODY)}") + BODY,
    "length with sign": raw(f"Content-Length: +{len(BODY)}") + BODY,
    "negative length": raw("Content-Length: -1") + BODY,
    "hexadecimal length": raw("Content-Length: 0x2c") + BODY,
    "length with a blank in it": raw("Content-Length: 4 4") + BODY,
    "length beyond 64 bits": raw("Content-Length: 18446744073709551660") + BODY,
    # 6.1, 7: transfer codings
    **{
        f"transfer coding {coding!r}": raw(f"Transfer-Encoding: {coding}") + CHUNKS
        for coding in (
            *("xchunked", "chunked, identity", "identity", "chunked, chunked", "gzip, chunked", "gzip"),
            *("\x0bchunked", "chunked;q=1", '"chunked"', "chun ked", ""),
        )
    },
    "two transfer codings": raw(CHUNKED, "Transfer-Encoding: identity") + CHUNKS,
    "chunked twice": raw(CHUNKED, CHUNKED) + CHUNKS,
    # 5.1: no blank before the colon; 5.2: no folding
    "blank before the colon of a length": raw(f"Content-Length : {len(BODY)}") + BODY,
    "blank before the colon of a coding": raw("Transfer-Encoding : chunked") + CHUNKS,
    "coding on a folded line": raw("Transfer-Encoding:\r\n chunked") + CHUNKS,
    "folded line": raw(SIZE, "X-A: b\r\n\tc") + BODY,
    "blank before the first header": raw(SIZE).replace(b"\r\nHost", b"\r\n Host") + BODY,
    # 2.2: ends of lines
    "bare line feeds": raw(SIZE, end="\n") + BODY,
    "one bare line feed": raw(SIZE, "X-A: b\nX-B: c") + BODY,
    "bare line feed at the end of the head": raw(SIZE)[:-2] + b"\n" + BODY,
    "bare carriage return": raw(SIZE, "X-A: b\rX-B: c") + BODY,
    # 5.5 of RFC 9110: what no value may hold
    "zero byte in a value": raw(SIZE, "X-A: b\0c") + BODY,
    "control character in a value": raw(SIZE, "X-A: b\x01c") + BODY,
    "byte above 127 in a name": raw(SIZE, "X-\xe9: b") + BODY,
    # 7.1: chunks
    "size of a chunk beyond 64 bits": raw(CHUNKED) + b"1000000000000002c\r\n" + BODY + b"\r\n0\r\n\r\n",
    "size of a chunk with 0x": raw(CHUNKED) + b"0x2c\r\n" + BODY + b"\r\n0\r\n\r\n",
    "size of a chunk with sign": raw(CHUNKED) + b"-2c\r\n" + BODY + b"\r\n0\r\n\r\n",
    "size of a chunk with a blank": raw(CHUNKED) + b"2c \r\n" + BODY + b"\r\n0\r\n\r\n",
    "chunk longer than it says": raw(CHUNKED) + b"2c\r\n" + BODY + b"XX\r\n0\r\n\r\n",
    "chunk without a size": raw(CHUNKED) + b"\r\n" + BODY + b"\r\n0\r\n\r\n",
    "chunks by bare line feeds": raw(CHUNKED) + CHUNKS.replace(b"\r\n", b"\n"),
    "extension of a chunk ended by a bare line feed": raw(CHUNKED) + CHUNKS.replace(b"\r\n", b";a\n", 1),
    # 3.2: Host
    "no host": raw(SIZE).replace(b"Host: here\r\n", b"") + BODY,
    "two hosts": raw(SIZE, "Host: there") + BODY,
    # 3: no request
    "another version": raw(SIZE, first="POST /v1/saponification HTTP/9.9") + BODY,
    "HTTP/0.9": b"GET /\r\n",
    "HTTP/0.9 that says so": raw(SIZE, first="POST /v1/saponification HTTP/0.9") + BODY,
    "HTTP/2 in the words of HTTP/1": raw(SIZE, first="POST /v1/saponification HTTP/2.0") + BODY,
    "HTTP/2": b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    "TLS": b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
    "another method": raw(SIZE, first="FOO / HTTP/1.1"),
    "proxy": raw(first="CONNECT there:443 HTTP/1.1"),
    "byte above 127 in the path": raw(SIZE, first="POST /v1/\xff HTTP/1.1") + BODY,
    "blank in the path": raw(SIZE, first="POST /v1/a b HTTP/1.1") + BODY,
}


@pytest.mark.parametrize("shape", REFUSED)
def test_what_may_be_read_in_two_ways_is_refused_and_nothing_after_it_read(line: Line, shape: str) -> None:
    line.send(REFUSED[shape] + AFTER)
    reply = line.reply()
    assert (reply.status, reply.kind(), reply.headers["connection"]) == (400, "invalid-request", "close")
    assert reply.headers["x-request-id"]
    assert line.is_closed()


@pytest.mark.parametrize("shape", REFUSED)
def test_a_request_before_gets_its_own_answer(line: Line, shape: str) -> None:
    line.send(post() + REFUSED[shape] + AFTER)
    assert b'"alkali":"NaOH"' in line.reply().body
    assert line.reply().kind() == "invalid-request"
    assert line.is_closed()


@pytest.mark.parametrize(
    "request_",
    [
        raw("Content-Length: 00044") + BODY,
        raw("Transfer-Encoding: Chunked") + CHUNKS,
        raw("Transfer-Encoding:\t chunked") + CHUNKS,
        raw(CHUNKED) + CHUNKS.replace(b"\r\n", b";name=value\r\n", 1),
        raw(CHUNKED) + CHUNKS.replace(b"\r\n", b';name="a;b"\r\n', 1),
        raw(CHUNKED) + b"".join(b"1\r\n%c\r\n" % one for one in BODY) + b"0\r\n\r\n",
        raw(CHUNKED) + b"0" * 15 + CHUNKS,
        raw(SIZE, "X-A: \xe9\xff") + BODY,
        b"\r\n\r\n" + raw(SIZE) + BODY,
    ],
    ids=lambda value: repr(value[90:140]),
)
def test_what_is_odd_but_clear_is_answered_and_so_is_the_next(line: Line, request_: bytes) -> None:
    line.send(request_ + AFTER)
    assert b'"alkali":"NaOH"' in line.reply().body
    assert line.reply().status == 404


def test_a_length_in_http_1_0_is_taken_and_the_connection_closed(line: Line) -> None:
    line.send(head("POST", "/v1/saponification", SIZE, version="1.0") + BODY)
    assert line.reply().status == 200
    assert line.is_closed()


def test_trailers_are_no_headers(line: Line) -> None:
    """RFC 9110, 6.5.1: else a caller could give a key, or a proxy's header, behind the back of a proxy."""
    without = raw(CHUNKED).replace(b"Content-Type: application/json\r\n", b"")
    line.send(without + CHUNKS[:-2] + b"Content-Type: application/json\r\n\r\n")
    assert line.reply().kind() == "unsupported-media-type"
    line.send(raw(CHUNKED) + CHUNKS[:-2] + b"X-Request-Id: mine\r\n\r\n")
    reply = line.reply()
    assert (reply.status, reply.headers["x-request-id"] == "mine") == (200, False)


@pytest.mark.parametrize(
    "upgrade",
    [
        ("Connection: Upgrade, HTTP2-Settings", "Upgrade: h2c", "HTTP2-Settings: AAMAAABkAAQAAP__"),
        ("Connection: Upgrade", "Upgrade: websocket", "Sec-WebSocket-Version: 13"),
    ],
    ids=["HTTP/2", "websocket"],
)
def test_a_caller_that_offers_another_protocol_is_answered_in_this_one(line: Line, upgrade: tuple[str, ...]) -> None:
    """RFC 9110, 7.8: as some libraries do with their first request; its body must not be lost."""
    line.send(post("/v1/saponification", *upgrade) + post("/v1/saponification", *upgrade))
    assert b'"alkali":"NaOH"' in line.reply().body
    assert b'"alkali":"NaOH"' in line.reply().body
    asked = post("/v1/saponification", *upgrade)
    line.send(asked[:-10])
    assert line.is_open(0.2)
    line.send(asked[-10:])
    assert b'"alkali":"NaOH"' in line.reply().body


def test_offers_of_another_protocol_may_come_by_the_thousand_at_once(line: Line) -> None:
    offer = head("GET", "/health/live", "Connection: upgrade", "Upgrade: x")
    line.send(offer * 2000)
    assert [line.reply().status for _ in range(2000)] == [200] * 2000
    line.send(post("/v1/saponification", "Connection: upgrade", "Upgrade: x") * 3 + AFTER)
    assert [line.reply().status for _ in range(4)] == [200, 200, 200, 404]


def test_a_body_that_breaks_while_it_is_waited_for_is_told(line: Line) -> None:
    line.send(raw(CHUNKED))
    assert line.is_open(0.2)
    line.send(b"zz\r\n")
    assert line.reply().kind() == "invalid-request"
    assert line.is_closed()


def test_many_requests_at_once_are_answered_in_order(line: Line) -> None:
    numbers = range(300)
    line.send(b"".join(post(body=BODY[:-1] + b',"reference":"%d"}' % number) for number in numbers))
    for number in numbers:
        reply = line.reply()
        assert reply.status == 200
        assert b'"reference":"%d"' % number in reply.body


def test_answers_stay_in_order_whatever_is_asked_between(line: Line) -> None:
    asked = [
        (post(), 200),
        (head("GET", "/health/live"), 200),
        (post(body=b"{"), 400),
        (head("GET", "/nothing"), 404),
        (post("/v1/saponification", "Transfer-Encoding: chunked").replace(SIZE.encode() + b"\r\n", b""), 400),
    ]
    line.send(b"".join(request for request, _ in asked))
    assert [line.reply().status for _ in asked] == [status for _, status in asked]
    assert line.is_closed()
