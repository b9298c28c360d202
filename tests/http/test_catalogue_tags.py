"""Formats and entity tags of the catalogue: what is sent again, and what is not."""

import re

import msgspec
import pytest

from service.calculations.catalogue.catalogue_collections import COLLECTIONS
from service.http import tags
from service.reference import reference_data
from tests.asgi import Caller, Reply
from tests.http.serving import serving

ADDRESSES = [
    *(f"/v1/{collection.path}" for collection in COLLECTIONS),
    *(f"/v1/{collection.path}/{collection.example}" for collection in COLLECTIONS),
    "/v1/fats?search=oil&limit=2&format=csv",
]


def tag(call: Caller, address: str, accept: str = "*/*") -> str:
    return call("GET", address, headers=[("accept", accept)]).headers["etag"]


def asked(call: Caller, address: str, *said: str, method: str = "GET") -> Reply:
    return call(method, address, headers=[("if-none-match", one) for one in said])


@pytest.mark.parametrize("address", ADDRESSES)
def test_answers_may_be_kept_and_asked_again(call: Caller, address: str) -> None:
    reply = call("GET", address)
    assert re.fullmatch(r'"[0-9a-f]{32}"', reply.headers["etag"])
    assert re.fullmatch(r"public, max-age=[1-9][0-9]*", reply.headers["cache-control"])
    assert reply.headers["vary"] == "Accept"


@pytest.mark.parametrize("method", ["GET", "HEAD"])
@pytest.mark.parametrize("address", ADDRESSES)
def test_caller_that_has_the_answer_gets_304_without_body(call: Caller, address: str, method: str) -> None:
    full = call("GET", address)
    reply = asked(call, address, full.headers["etag"], method=method)
    assert (reply.status, reply.body) == (304, b"")
    assert not reply.headers.keys() & {"content-type", "content-length"}
    for name in ("etag", "cache-control", "vary", "data-version"):
        assert reply.headers[name] == full.headers[name]


def test_if_none_match_is_compared_weakly_and_in_lists(call: Caller) -> None:
    own = tag(call, "/v1/fats")
    for said in (own, f"W/{own}", f'"x", {own}', f'W/"a,b" ,W/{own}', "*", " * "):
        assert asked(call, "/v1/fats", said).status == 304, said
    assert asked(call, "/v1/fats", '"x"', own).status == 304


def test_other_tags_and_what_is_no_tag_get_the_answer(call: Caller) -> None:
    own = tag(call, "/v1/fats")
    for said in ('"x"', "", own.strip('"'), own[:-1], f'"{own[1:-2]}"', f'w/"{own}', '"*"', own.upper(), "\xff"):
        reply = asked(call, "/v1/fats", said)
        assert (reply.status, len(reply.body) > 1000) == (200, True), said


def test_refused_request_is_refused_whatever_the_caller_has(call: Caller) -> None:
    assert asked(call, "/v1/fats?limit=0", "*").status == 400
    assert asked(call, "/v1/fats/olive", "*").status == 404


def test_tag_differs_by_address_format_and_entry(call: Caller) -> None:
    tags = [
        tag(call, "/v1/fats"),
        tag(call, "/v1/fats", "text/csv"),
        tag(call, "/v1/fats?units=us"),
        tag(call, "/v1/fats?digits=3"),
        tag(call, "/v1/fats?format=csv&decimal=comma"),
        tag(call, "/v1/fats/olive-oil"),
        tag(call, "/v1/fats/coconut-oil"),
        tag(call, "/v1/liquids"),
    ]
    assert len(set(tags)) == len(tags)
    assert tag(call, "/v1/fats") == tags[0]


def test_tag_differs_by_version_of_the_service(call: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tag(call, "/v1/acids/lactic-acid", "text/csv")
    monkeypatch.setattr(tags, "__version__", "999")
    assert tag(call, "/v1/acids/lactic-acid", "text/csv") != before


def test_tag_differs_by_version_of_the_data(call: Caller) -> None:
    """The table of one acid has the same bytes, and comes from other data all the same."""
    before = call("GET", "/v1/acids/lactic-acid?format=csv")
    after = serving(msgspec.structs.replace(reference_data(), version="sha256-other"))(
        "GET", "/v1/acids/lactic-acid?format=csv"
    )
    assert after.headers["data-version"] == "sha256-other"
    assert after.body == before.body
    assert after.headers["etag"] != before.headers["etag"]


@pytest.mark.parametrize("address", ADDRESSES)
@pytest.mark.parametrize("accept", ["application/json", "text/csv"])
def test_head_answers_as_get_without_body(call: Caller, address: str, accept: str) -> None:
    get, head = (call(method, address, headers=[("accept", accept)]) for method in ("GET", "HEAD"))
    assert (get.status, head.status, head.body) == (200, 200, b"")
    assert get.headers["content-length"] == str(len(get.body))
    for headers in (get.headers, head.headers):
        del headers["x-request-id"]
    assert get.headers == head.headers


@pytest.mark.parametrize(
    ("query", "accept", "kind"),
    [
        ("", None, "json"),
        ("", "*/*", "json"),
        ("", "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "json"),  # a browser
        ("", "text/csv", "csv"),
        ("", "text/*", "csv"),
        ("", "application/json;q=0.5, text/csv", "csv"),
        ("", "text/csv;q=0.5, application/json", "json"),
        ("?format=csv", "application/json", "csv"),
        ("?format=json", "text/csv", "json"),
        ("?format=csv", "application/xml", "csv"),
    ],
)
def test_format_in_the_address_wins_over_accept(call: Caller, query: str, accept: str | None, kind: str) -> None:
    headers = [] if accept is None else [("accept", accept)]
    for address in ("/v1/acids", "/v1/acids/lactic-acid"):
        media = call("GET", address + query, headers=headers).headers["content-type"].partition(";")[0]
        assert media == {"json": "application/json", "csv": "text/csv"}[kind]


@pytest.mark.parametrize("accept", ["application/xml", "image/*", "text/csv;q=0, application/json;q=0", "nonsense"])
def test_callers_that_take_neither_are_refused(call: Caller, accept: str) -> None:
    reply = call("GET", "/v1/fats", headers=[("accept", accept)])
    assert (reply.status, reply.json()["type"]) == (406, "/problems/not-acceptable")
    assert "text/csv" in reply.json()["detail"]
    assert reply.headers["vary"] == "Accept"


def test_scripts_of_any_origin_may_read_tag_and_links(call: Caller) -> None:
    exposed = call("GET", "/v1/fats?limit=1").headers["access-control-expose-headers"].split(", ")
    assert {"ETag", "Link", "Data-Version"} <= set(exposed)
