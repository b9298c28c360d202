"""Keys: who has one is let in, who has none is told how to ask, and no answer or address keeps one."""

import json
import re
from hashlib import sha256
from typing import Final

import pytest

from service.command import main
from service.http.app import create_app
from service.http.operation.keys import Keys, new_key, shown_key
from service.http.operation.settings import Settings
from tests.asgi import Caller

KEY, HASH = new_key()
OTHER, OTHER_HASH = new_key()
BEARER: Final = [("authorization", f"Bearer {KEY}")]
STRENGTH: Final = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}
DENSITY: Final = "/v1/values/density?alkali=NaOH&strength=50%20%25"


@pytest.fixture(scope="module")
def call() -> Caller:
    return Caller(create_app(settings=Settings(key_hashes=(HASH, OTHER_HASH))))


@pytest.fixture(scope="module")
def free() -> Caller:
    return Caller(create_app())


def test_the_command_prints_a_new_key_and_its_hash(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["key"]) == 0
    said = capsys.readouterr()
    found = re.fullmatch(r"key:  (\S+)\nhash: sha256:(\S+)\n", said.out)
    assert found
    assert sha256(found[1].encode()).hexdigest() == found[2]
    assert len(found[1]) > 43  # 256 bits in base64
    assert "shown this once" in said.err
    main(["key"])
    assert capsys.readouterr().out != said.out


def test_every_good_key_is_known_by_its_place_and_no_other() -> None:
    keys = Keys([HASH, OTHER_HASH])
    assert (keys.place(KEY.encode()), keys.place(OTHER.encode())) == (0, 1)
    for bad in (b"", KEY[:-1].encode(), KEY.encode() + b"x", HASH.encode(), b"\xff" * 1000):
        assert keys.place(bad) is None


@pytest.mark.parametrize("scheme", ["Bearer", "bearer", "BEARER"])
@pytest.mark.parametrize("key", [KEY, OTHER])
def test_a_good_key_in_the_header_is_let_in(call: Caller, scheme: str, key: str) -> None:
    reply = call("POST", "/v1/concentration", STRENGTH, [("authorization", f"{scheme} {key}")])
    assert reply.status == 200


def test_a_good_key_in_the_address_is_let_in_and_seen_by_nothing_behind(call: Caller, free: Caller) -> None:
    reply = call("GET", f"{DENSITY}&key={KEY}&digits=4")
    unkeyed = free("GET", f"{DENSITY}&digits=4")
    assert (reply.status, reply.body) == (200, unkeyed.body)
    assert reply.headers["etag"] == unkeyed.headers["etag"]
    assert call("GET", f"{DENSITY}&key={KEY[:-1]}%{ord(KEY[-1]):02X}").status == 200
    assert call("POST", f"/v1/bulk/concentration?key={KEY}", {"items": [STRENGTH]}).json()["succeeded"] == 1
    assert call("GET", f"/v1/fats/olive-oil?key={KEY}").status == 200


@pytest.mark.parametrize(
    ("path", "method"),
    [
        ("/v1/concentration", "POST"),
        ("/v1/concentration", "GET"),
        ("/v1/bulk/concentration", "POST"),
        ("/v1/fats", "GET"),
        ("/v1/fats", "HEAD"),
        (DENSITY, "GET"),
        ("/metrics", "GET"),
        ("/nowhere", "GET"),
        ("//v1/fats", "GET"),
    ],
)
@pytest.mark.parametrize(
    ("headers", "query", "error"),
    [
        ([], "", False),
        ([("authorization", "Basic YTpi")], "", False),
        ([("authorization", f"Bearer {KEY}x")], "", True),
        ([("authorization", "Bearer ")], "", True),
        ([], "key=", True),
        ([], f"key={HASH}", True),
    ],
)
def test_without_a_good_key_it_is_told_how_to_show_one(
    call: Caller, path: str, method: str, headers: list[tuple[str, str]], query: str, error: bool
) -> None:
    mark = "&" if "?" in path else "?"
    reply = call(method, path + (mark + query if query else ""), headers=headers)
    assert reply.status == 401
    assert reply.headers["content-type"] == "application/problem+json"
    challenge = reply.headers["www-authenticate"]
    assert challenge == 'Bearer realm="lyestock"' + (', error="invalid_token"' if error else "")
    if method != "HEAD":
        told = reply.json()
        assert told["type"] == "/problems/unauthorized"
        assert "Authorization: Bearer KEY" in told["detail"]
        assert KEY not in json.dumps(told)


@pytest.mark.parametrize(
    "path", ["/", "/docs", "/docs/page.css", "/words", "/openapi.json", "/problems", "/problems/unauthorized"]
)
def test_what_tells_how_to_ask_needs_no_key(call: Caller, path: str) -> None:
    assert call("GET", path).status == 200


def test_health_and_preflight_need_no_key(call: Caller) -> None:
    assert call("GET", "/health/live").status == call("GET", "/health/ready").status == 200
    assert call("OPTIONS", "/v1/concentration").status == 204


@pytest.mark.parametrize("path", ["/health", "/health/", "/health/other", "/health/live/", "/health/ready/more"])
def test_what_only_begins_like_health_needs_a_key(call: Caller, path: str) -> None:
    assert call("GET", path).status == 401


def test_a_cell_shows_what_is_wrong_with_its_key(call: Caller) -> None:
    reply = call("GET", DENSITY + "&errors=inline")
    assert reply.status == 200
    assert reply.body.startswith(b"Error: A key is needed here.")
    assert reply.headers["cache-control"] == "no-store"


def test_no_shared_cache_keeps_what_a_key_was_shown_for(call: Caller, free: Caller) -> None:
    assert call("GET", DENSITY, headers=BEARER).headers["cache-control"] == "private, max-age=3600"
    assert call("GET", "/v1/fats", headers=BEARER).headers["cache-control"] == "private, max-age=3600"
    assert free("GET", f"{DENSITY}&key={KEY}").headers["cache-control"] == "private, max-age=3600"
    assert free("GET", DENSITY).headers["cache-control"] == "public, max-age=3600"


def test_a_key_that_nobody_asks_for_does_no_harm(free: Caller) -> None:
    assert free("GET", f"{DENSITY}&key=any", headers=BEARER).status == 200
    assert free("POST", "/v1/concentration?key=", STRENGTH).status == 200


@pytest.mark.parametrize(
    ("query", "key", "rest"),
    [
        (b"", None, b""),
        (b"a=1", None, b"a=1"),
        (b"key=k", b"k", b""),
        (b"a=1&key=k%2Bx&b=2", b"k+x", b"a=1&b=2"),
        (b"key=k&key=l", b"k", b""),
        (b"monkey=1", None, b"monkey=1"),
        (b"a=key=1", None, b"a=key=1"),
        (b"key=\xff%", b"\xff%", b""),
    ],
)
def test_key_is_taken_out_of_the_query(query: bytes, key: bytes | None, rest: bytes) -> None:
    assert shown_key([], query) == (key, rest)


def test_header_goes_before_the_address() -> None:
    assert shown_key([(b"authorization", b"Bearer a ")], b"key=b") == (b"a", b"")
