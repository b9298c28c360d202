"""Packed bodies and answers: unpacked no further than the limit, packed where the caller likes it."""

import gzip
import json
import time
import tracemalloc
import zlib
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.registry import calculations
from service.http.app import create_app
from service.http.gzip_coding import Packer, takes_gzip
from service.http.operation.settings import DEFAULTS
from tests.asgi import Caller, Reply
from tests.http.conftest import HALF

BODY: Final = json.dumps({"items": [HALF] * 50}).encode()
LARGEST: Final = DEFAULTS.largest_bulk_body


def sent(call: Caller, body: bytes | list[bytes], *headers: tuple[str, str], coding: str = "gzip") -> Reply:
    said = [("content-type", "application/json"), ("content-encoding", coding), *headers]
    return call("POST", "/v1/bulk/part", body, said)


def test_a_packed_body_is_answered_like_a_plain_one(call: Caller) -> None:
    plain = call("POST", "/v1/bulk/part", BODY, [("content-type", "application/json")])
    packed = gzip.compress(BODY)
    halves = gzip.compress(BODY[:99]) + gzip.compress(BODY[99:])
    for body in (packed, halves, packed + b"\0" * 512, [packed[:7], packed[7:9], packed[9:]]):
        for coding in ("gzip", "x-gzip", "GZIP"):
            assert sent(call, body, coding=coding).body == plain.body
    assert sent(call, BODY, coding="identity").body == plain.body


@pytest.mark.parametrize(
    "body",
    [
        b"",
        BODY,
        gzip.compress(BODY)[:-1],
        gzip.compress(BODY)[:40],
        gzip.compress(BODY)[:-8] + b"\0" * 8,
        gzip.compress(BODY) + b"rest",
        zlib.compress(BODY),
    ],
    ids=["empty", "plain", "without its last byte", "cut", "wrong check sum", "followed by others", "zlib"],
)
def test_what_is_no_whole_gzip_is_refused(call: Caller, body: bytes) -> None:
    reply = sent(call, body)
    reply.detail(400)
    assert reply.codes == ["malformed-gzip"]


def test_what_swells_beyond_the_limit_is_refused_before_it_is_unpacked(call: Caller) -> None:
    packing = zlib.compressobj(9, wbits=31)
    bomb = b"".join(packing.compress(b" " * (1 << 20)) for _ in range(1024)) + packing.flush()
    assert len(bomb) < LARGEST
    tracemalloc.start()
    start = time.process_time()
    reply = sent(call, bomb)
    took, (_, peak) = time.process_time() - start, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    reply.detail(413)
    assert "connection" not in reply.headers  # the whole body was read
    assert peak < 3 * LARGEST
    assert took < 5


def test_a_plain_body_over_the_limit_is_refused(call: Caller) -> None:
    body = b'{"items": [' + b" " * LARGEST + b"]}"
    for given_as in (body, [body[:99], body[99:]]):
        reply = call("POST", "/v1/bulk/part", given_as, [("content-type", "application/json")])
        assert reply.detail(413) == "At most 33554432 bytes (32 MiB) are taken. Send fewer items at once."


@pytest.mark.parametrize("coding", ["br", "deflate", "gzip, gzip", "zstd"])
def test_other_codings_are_refused(call: Caller, coding: str) -> None:
    reply = sent(call, BODY, coding=coding)
    reply.detail(415)
    assert reply.headers["accept-encoding"] == "gzip, identity"


@pytest.mark.parametrize(
    ("said", "packed"),
    [
        ("gzip", True),
        ("x-gzip", True),
        ("br, GZIP;q=0.5", True),
        ("*", True),
        ("gzip;q=0", False),
        ("gzip;q=0, *", False),
        ("identity", False),
        ("identity, gzip;q=0.5", False),
        ("identity;q=0.5, gzip;q=0.5", True),
        ("*;q=0", False),
        ("br", False),
        ("", False),
        ("gzip;q=x", False),
        ("gzip;q=2", False),
        ("gzip; q = 0.2", True),
    ],
)
def test_an_answer_is_packed_where_the_caller_likes_it(call: Caller, said: str, packed: bool) -> None:
    assert takes_gzip([said]) is packed
    headers = [("content-type", "application/json"), ("accept-encoding", said)]
    reply = call("POST", "/v1/bulk/part", BODY, headers)
    plain = call("POST", "/v1/bulk/part", BODY, headers[:1])
    assert ("content-encoding" in reply.headers) is packed
    assert (gzip.decompress(reply.body) if packed else reply.body) == plain.body
    assert reply.headers["vary"] == "Accept, Accept-Encoding"


def test_a_problem_is_never_packed(call: Caller) -> None:
    headers = [("content-type", "application/json"), ("accept-encoding", "gzip")]
    assert call("POST", "/v1/bulk/part", b"{}", headers).detail(400)


@given(st.lists(st.binary(max_size=40_000), max_size=8))
def test_however_a_text_is_cut_the_packed_bytes_are_the_same(pieces: list[bytes]) -> None:
    def packed(parts: list[bytes]) -> bytes:
        packer = Packer()
        return b"".join([*map(packer.pack, parts), packer.end()])

    whole = packed([b"".join(pieces)])
    assert packed(pieces) == whole
    assert gzip.decompress(whole) == b"".join(pieces)


def test_packing_saves_nine_parts_of_ten() -> None:
    items: list[Any] = [calculations()["liquid-split"].examples[0].request] * 200
    headers = [("content-type", "application/json"), ("accept-encoding", "gzip")]
    reply = Caller(create_app())("POST", "/v1/bulk/liquid-split", json.dumps({"items": items}).encode(), headers)
    assert 10 * len(reply.body) < len(gzip.decompress(reply.body))
