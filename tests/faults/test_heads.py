"""Heads of requests that are too large, hold what no text is, or carry what should end up in a header of the answer."""

from collections.abc import Iterator
from typing import Final

import pytest

from tests.faults.processes import BODY, Line, Reply, Running, head, post, running

LARGEST: Final = 16_384
MIB: Final = 1 << 20
EVIL: Final = (
    "\r\nX-Evil: 1",
    "%0d%0aX-Evil:%201",
    "%0D%0A%0D%0A<script>",
    "\nX-Evil: 1",
    "\u2028X-Evil: 1",
    "%E5%98%8D%E5%98%8A",
)


@pytest.fixture(scope="module")
def service() -> Iterator[Running]:
    with running(log="off") as found:
        yield found


@pytest.fixture
def line(service: Running) -> Iterator[Line]:
    opened = service.line()
    yield opened
    opened.close()


def sized(total: int, *, each: int = 0) -> bytes:
    """A request whose target and headers have so many bytes, in one header or in many."""
    start = len("/health/live") + len("Host: here\r\n") + len("Content-Type: application/json\r\n")
    left = total - start
    headers = []
    while each and left > 2 * each:
        headers.append("X-A: " + "b" * (each - 7))
        left -= each
    headers.append("X-B: " + "b" * (left - 7))
    return head("GET", "/health/live", *headers)


@pytest.mark.parametrize("each", [0, 100, 8])
@pytest.mark.parametrize("beyond", [0, 1, 20_000, 4 * MIB])
def test_a_head_has_a_largest_size(line: Line, each: int, beyond: int) -> None:
    line.send(sized(LARGEST + beyond, each=each))
    reply = line.reply()
    if beyond:
        assert (reply.status, reply.kind(), reply.headers["connection"]) == (431, "headers-too-large", "close")
        assert line.is_closed()
    else:
        assert reply.status == 200
        line.send(sized(LARGEST, each=each))
        assert line.reply().status == 200


def test_a_head_too_large_in_pieces_is_refused_as_soon_as_it_is(line: Line) -> None:
    line.send(b"GET / HTTP/1.1\r\nHost: a\r\nX-A: ")
    for _ in range(15):
        line.send(b"a" * 1024)
        assert line.is_open(0.01)
    line.send(b"a" * 2048)
    assert line.reply().kind() == "headers-too-large"


@pytest.mark.parametrize("size", [8193, 12_000, 100_000, 2 * MIB])
def test_an_address_too_long_is_told_as_that(line: Line, size: int) -> None:
    line.send(head("GET", "/" + "a" * (size - 1)))
    reply = line.reply()
    assert (reply.status, reply.kind()) == (414, "address-too-long")


def test_requests_before_one_with_a_head_too_large_are_answered(line: Line) -> None:
    line.send(post() * 3 + sized(LARGEST + 1) + post())
    assert [line.reply().status for _ in range(4)] == [200, 200, 200, 431]
    assert line.is_closed()


def test_a_large_body_behind_a_small_head_is_no_large_head(line: Line) -> None:
    line.send(post(body=BODY.ljust(MIB)) + sized(LARGEST) + post(body=BODY.ljust(MIB)))
    assert [line.reply().status for _ in range(3)] == [200, 200, 200]


@pytest.mark.parametrize("endless", [b"X-A: " + b"b" * 65_000, b"X-A: b\r\n" * 8000], ids=["one", "many"])
def test_endless_trailers_are_not_kept(line: Line, service: Running, endless: bytes) -> None:
    """The parser keeps trailers; 100 MB of them would be 100 MB of memory."""
    before = service.resident()
    line.send(head("POST", "/v1/saponification", "Transfer-Encoding: chunked") + b"1\r\n{\r\n0\r\n")
    assert line.send(*[endless] * 1600) < 1600
    assert service.resident() - before < 50 * MIB
    service.works()


def test_an_endless_extension_of_a_chunk_is_not_read_for_ever(line: Line, service: Running) -> None:
    line.send(head("POST", "/v1/saponification", "Transfer-Encoding: chunked") + b"1;")
    assert line.send(*[b"a" * 65_000] * 1600) < 1600
    service.works()


# Bytes that are no text


@pytest.mark.parametrize("bytes_", ["%ff", "%c3%28", "%ed%a0%80", "%f8%88%80%80%80", "%c0%af", "%00", "%c0%80"])
def test_bytes_that_are_no_utf_8_are_nothing_known(line: Line, bytes_: str) -> None:
    for target, kinds in (
        (f"/v1/{bytes_}", {"not-found"}),
        (f"/v1/fats/{bytes_}", {"not-found"}),
        (f"/problems/{bytes_}", {"not-found"}),
        (f"/v1/fats?q={bytes_}", {"invalid-request"}),
        (f"/v1/fats?{bytes_}=1", {"invalid-request"}),
        (f"/openapi.json?{bytes_}", {"invalid-request"}),
    ):
        line.send(head("GET", target))
        assert line.reply().kind() in kinds, target
    line.send(post(f"/v1/saponification?units={bytes_}"))
    assert line.reply().kind() == "invalid-request"


@pytest.mark.parametrize("bad", [b"\xff", b"\xc3(", b"\xed\xa0\x80", b"\xc0\xaf"])
def test_a_body_that_is_no_utf_8_is_refused(line: Line, bad: bytes) -> None:
    for body in (
        b'{"reference":"' + bad + b'","fats":[{"fat":"olive-oil","mass":"1 kg"}]}',
        b'{"fats":[{"fat":"' + bad + b'","mass":"1 kg"}]}',
        b'{"fats":[{"fat":"olive-oil","mass":"1 ' + bad + b'"}]}',
        b'{"' + bad + b'":1}',
        bad,
    ):
        line.send(post(body=body))
        assert line.reply().kind() == "invalid-request"


@pytest.mark.parametrize(
    "name",
    ["Accept", "Accept-Encoding", "Content-Type", "Content-Encoding", "If-None-Match", "X-Request-Id", "Origin"],
)
def test_headers_that_are_no_ascii_do_no_harm(line: Line, name: str) -> None:
    for value in ("\xff\xfe", "\xe9", "a" * 10_000, ";" * 10_000, "," * 10_000, '"' * 10_000, "a;q=" + "9" * 9000):
        for target in ("/v1/saponification", "/v1/bulk/saponification"):
            sent = post(target, f"{name}: {value}")
            if name == "Content-Type":
                sent = sent.replace(b"Content-Type: application/json\r\n", b"")
            line.send(sent)
            assert line.reply().status in {200, 400, 406, 415}
        line.send(head("GET", "/v1/fats", f"{name}: {value}"))
        assert line.reply().status in {200, 406}


# What callers send does not become a header of the answer


def clean(reply: Reply) -> None:
    assert not [name for name, value in reply.headers.items() if "evil" in name + value.lower() or "<script" in value]


@pytest.mark.parametrize("evil", EVIL)
def test_identifiers_become_no_headers(line: Line, evil: str) -> None:
    target = evil.replace("\r\n", "%0d%0a").replace("\n", "%0a").replace(" ", "%20").replace("\u2028", "%e2%80%a8")
    for path in (f"/v1/fats/{target}", f"/problems/{target}", f"/{target}", f"/v1/fats/olive-oil{target}"):
        line.send(head("GET", path))
        reply = line.reply()
        assert reply.kind() == "not-found"
        clean(reply)
    named = evil.encode("unicode-escape").replace(b"\\x", b"\\u00").decode()
    for query in ("", "?explain=true"):
        line.send(post(f"/v1/saponification{query}", body=BODY[:-1] + f',"reference":"{named}"}}'.encode()))
        reply = line.reply()
        assert reply.status == 200
        clean(reply)
    line.send(post(body=BODY.replace(b"olive-oil", named.encode())))
    reply = line.reply()
    assert reply.status in {400, 422}
    clean(reply)


@pytest.mark.parametrize(
    "identifier",
    ["a b", "<script>", "a,b", "a;b", "\xe9vil", "a" * 65, "%0d%0aX-Evil: 1", "../evil", "evil\tid", '"evil"'],
)
def test_a_request_id_that_is_none_is_not_repeated(line: Line, identifier: str) -> None:
    line.send(post("/v1/saponification", f"X-Request-Id: {identifier}"))
    reply = line.reply()
    assert reply.status == 200
    assert identifier not in reply.headers["x-request-id"]
    clean(reply)


@pytest.mark.parametrize(
    "target", ["/", "/docs", "/openapi.json", "/problems", "/words", "/v1/fats", "/nothing", "/health/live"]
)
def test_the_name_a_caller_gives_the_service_is_told_to_nobody(line: Line, target: str) -> None:
    """Else a page kept by a proxy could lead others to an address of an attacker."""
    for host in ("evil.example", "evil.example:1", 'evil"><script>', "evil@here"):
        sent = head("GET", target, f"X-Forwarded-Host: {host}", f"Forwarded: host={host}")
        line.send(sent.replace(b"Host: here", b"Host: " + host.encode()))
        reply = line.reply()
        assert b"evil" not in reply.body
        clean(reply)
    line.send(b"GET http://evil.example" + target.encode() + b" HTTP/1.1\r\nHost: here\r\n\r\n")
    assert b"evil" not in line.reply().body


# Ways round a path


@pytest.mark.parametrize(
    "trick",
    [
        "..%2f", "%2e%2e%2f", "..%252f", "%252e%252e%252f", "..%5c", "..%c0%af", "....//", "..;/", "%00", "%2500",
        "a%00.html", ".", "..", "%2e", "~", "*", "a" * 3000, "%61" * 1000, "../" * 600, "a/" * 1000, "%2f" * 600,
        " %20", "{entry}", "__class__", "con", "C:%5c", "%EF%BC%8F..", "NaN", "-1", "0", "null", "''", "\\",
    ],
    ids=lambda trick: trick[:14],
)  # fmt: skip
@pytest.mark.parametrize("shelf", ["/problems/", "/v1/fats/", "/docs/", "/health/", "/v1/bulk/", "/v1/values/", "/"])
def test_a_path_leads_nowhere_else(line: Line, shelf: str, trick: str) -> None:
    for tail in ("", "etc/passwd", "pyproject.toml", "internal"):
        target = (shelf + trick + tail).replace(" ", "")
        if target.removesuffix("/.").removesuffix("/..") == "":
            continue
        line.send(head("GET", target))
        reply = line.reply()
        assert reply.kind() in {"not-found", "method-not-allowed"}, target
        assert b"root:" not in reply.body
        assert b"[project]" not in reply.body
