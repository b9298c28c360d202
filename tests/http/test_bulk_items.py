"""Many items at once, as JSON and as lines: the same answers as one by one, and faults that stay where they are."""

import json
from typing import Any, Final

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.registry import calculations
from service.http.app import create_app
from service.http.bulk_items import MOST_ITEMS, holds_more
from tests.asgi import Caller, Reply
from tests.contract.realistic import REALISTIC
from tests.http.conftest import HALF

WHOLE: Final = Caller(create_app())
JSON: Final = ("content-type", "application/json")
LINES: Final = ("content-type", "application/x-ndjson")
BAD: Final[list[Any]] = [
    {"mass": "1 kg"},
    {"mass": 1, "share": 2, "reference": "named"},
    {"mass": "1 kg", "share": 0},
    {"mass": "6 fl oz", "share": "5 %", "other": 1},
    [],
    None,
    "x",
    7,
]


def in_lines(*items: Any) -> bytes:
    return "".join(json.dumps(item) + "\n" for item in items).encode()


def results(reply: Reply) -> list[Any]:
    """The results of an answer as JSON or as lines."""
    assert reply.status == 200, reply.body
    if reply.headers["content-type"] == "application/x-ndjson":
        return [json.loads(line) for line in reply.body.splitlines()]
    told = reply.json()
    assert [told["succeeded"], told["failed"]] == [
        sum(("result" if good else "problem") in one for one in told["results"]) for good in (True, False)
    ]
    found: list[Any] = told["results"]
    return found


def is_as_alone(call: Caller, name: str, query: str, item: Any, told: Any) -> None:
    """Whether an item's result is what a call for it alone brings."""
    alone = call("POST", f"/v1/{name}?{query}", json.dumps(item).encode(), [JSON])
    assert told["status"] == alone.status
    due = alone.json()
    if alone.status == 200:
        assert told["result"] == due
    else:
        assert told["problem"] == due | {"instance": f"/v1/bulk/{name}"}
    has_mark = isinstance(item, dict) and isinstance(item.get("reference"), str)
    assert told.get("reference") == (item["reference"] if has_mark else None)


# The same as one by one


@pytest.mark.parametrize("name", calculations())
@pytest.mark.parametrize("query", ["", "units=us&digits=5", "explain=true"])
def test_examples_in_bulk_are_as_alone(name: str, query: str) -> None:
    items = [example.request | {"reference": example.name} for example in calculations()[name].examples]
    items += [{}, {"reference": "none"}]
    in_json = results(WHOLE("POST", f"/v1/bulk/{name}?{query}", {"items": items}))
    assert [one["index"] for one in in_json] == list(range(len(items)))
    for item, told in zip(items, in_json, strict=True):
        is_as_alone(WHOLE, name, query, item, told)
    assert results(WHOLE("POST", f"/v1/bulk/{name}?{query}", in_lines(*items), [LINES])) == in_json


@given(data=st.data())
def test_whatever_is_asked_in_bulk_is_as_alone(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(REALISTIC)))
    anything = st.recursive(st.none() | st.booleans() | st.integers() | st.text(), st.lists, max_leaves=3)
    items = data.draw(st.lists(REALISTIC[name] | anything, min_size=1, max_size=3))
    told = results(WHOLE("POST", f"/v1/bulk/{name}", {"items": items}))
    assert len(told) == len(items)
    for item, one in zip(items, told, strict=True):
        is_as_alone(WHOLE, name, "", item, one)
    assert results(WHOLE("POST", f"/v1/bulk/{name}", in_lines(*items), [LINES])) == told


def test_one_bad_item_spoils_none_of_the_others(call: Caller) -> None:
    items = [one for bad in BAD for one in (HALF, bad)]
    told = results(call("POST", "/v1/bulk/part", {"items": items}))
    assert [one["status"] for one in told] == [200, 400, 200, 400, 200, 422, *[200, 400] * 5]
    for item, one in zip(items, told, strict=True):
        is_as_alone(call, "part", "", item, one)


def test_a_line_that_is_no_json_is_that_items_problem(call: Caller) -> None:
    half = json.dumps(HALF).encode()
    body = b"\xef\xbb\xbf" + b"\r\n".join([half, b"", b'{"mass": 1 g}', b" \t", half, b"\xff", b"[" * 5000, half])
    told = results(call("POST", "/v1/bulk/part", body, [LINES]))
    assert [one["status"] for one in told] == [200, 400, 200, 400, 400, 200]
    assert [one["index"] for one in told] == list(range(6))
    assert told[1]["problem"]["errors"][0]["code"] == "malformed-json"


def test_a_member_given_twice_in_an_item_is_that_items_problem(call: Caller) -> None:
    body = b'{"items": [{"mass": "1 kg", "mass": "2 kg", "share": "5 %"}, {"mass": "1 kg", "share": "5 %"}]}'
    told = results(call("POST", "/v1/bulk/part", body, [JSON]))
    assert told[0]["problem"]["errors"][0] | {"detail": ""} == {
        "code": "repeated-member",
        "detail": "",
        "mend": "give it once",
        "pointer": "/mass",
    }
    assert told[1]["status"] == 200


def test_what_fails_within_the_service_is_that_items_problem_and_hidden(call: Caller) -> None:
    for name in ("fails", "endless"):
        told = results(call("POST", f"/v1/bulk/{name}", {"items": [HALF, {}]}))
        assert [one["status"] for one in told] == [500, 400]
        assert "secret" not in json.dumps(told)


def test_an_item_larger_than_a_single_request_may_be_is_refused_alone(call: Caller) -> None:
    large = HALF | {"reference": "x" * (1 << 20)}
    told = results(call("POST", "/v1/bulk/part", {"items": [large, HALF]}))
    assert [one["status"] for one in told] == [413, 200]
    assert told[0]["problem"]["type"] == "/problems/body-too-large"


def test_ten_thousand_items_are_answered_in_order(call: Caller) -> None:
    items = [{"mass": f"{1 + index} g", "share": 0.5, "reference": f"{index}"} for index in range(MOST_ITEMS)]
    reply = call("POST", "/v1/bulk/part", {"items": items})
    told = results(reply)
    assert reply.json()["succeeded"] == MOST_ITEMS
    for index, one in enumerate(told):
        assert (one["index"], one["reference"]) == (index, f"{index}")
        assert one["result"]["part"]["value"] == pytest.approx((1 + index) / 2)
    assert results(call("POST", "/v1/bulk/part", in_lines(*items), [LINES])) == told


# Faults of the whole


@pytest.mark.parametrize(
    ("body", "code", "pointer"),
    [
        (b"", "malformed-json", ""),
        (b"{", "malformed-json", ""),
        (b'{"items": [{"mass": 1 g}]}', "malformed-json", ""),
        (b'{"items": [1,]}', "malformed-json", ""),
        (b'{"items": [1]} 2', "malformed-json", ""),
        ('{"items": [1]}'.encode("utf-16"), "malformed-json", ""),
        (b'{"items": ' + b"[" * 5000 + b"]" * 5000 + b"}", "malformed-json", ""),
        (b'[{"mass": "1 kg"}]', "wrong-type", ""),
        (b"5", "wrong-type", ""),
        (b'{"items": {}}', "wrong-type", "/items"),
        (b'{"items": null}', "wrong-type", "/items"),
        (b'{"items": []}', "too-few", "/items"),
        (b'{"items": [ ]}', "too-few", "/items"),
        (b'{"items": [1], "items": [2]}', "repeated-member", "/items"),
        (b'{"items": [1], "\\u0069tems": [2]}', "repeated-member", "/items"),
        (b'{"items": [1], "units": "us"}', "unknown-member", "/units"),
        (b'{"items": [' + b"{}," * MOST_ITEMS + b"{}]}", "too-many", "/items"),
        (b'{"items": [' + b"0," * 600_000 + b"0]}", "too-many", "/items"),
        (b'{"items": [' + b"[" * 99 + b"]" * 99 + b",0" * 600_000 + b"]}", "malformed-json", ""),
    ],
    ids=lambda value: str(value)[:24],
)
def test_a_fault_of_the_whole_is_one_problem(call: Caller, body: bytes, code: str, pointer: str) -> None:
    reply = call("POST", "/v1/bulk/part", body, [JSON])
    reply.detail(400)
    (fault,) = reply.json()["errors"]
    assert (fault["code"], fault["pointer"]) == (code, pointer)
    assert reply.headers["data-version"]


def test_a_misspelt_list_of_items_names_the_right_word(call: Caller) -> None:
    reply = call("POST", "/v1/bulk/part", {"item": [HALF]})
    assert [fault["code"] for fault in reply.json()["errors"]] == ["unknown-member", "missing-member"]
    assert reply.json()["errors"][0]["mend"] == "write 'items'"


@pytest.mark.parametrize("body", [b"", b"\n \r\n\t\n"])
def test_no_line_at_all_is_refused(call: Caller, body: bytes) -> None:
    (fault,) = call("POST", "/v1/bulk/part", body, [LINES]).json()["errors"]
    assert (fault["code"], fault["line"]) == ("too-few", 1)


def test_too_many_lines_are_refused_where_they_begin(call: Caller) -> None:
    (fault,) = call("POST", "/v1/bulk/part", b"\n\n" + b"{}\n" * (MOST_ITEMS + 2), [LINES]).json()["errors"]
    assert (fault["code"], fault["line"]) == ("too-many", MOST_ITEMS + 3)


def test_faults_of_query_and_body_are_told_together(call: Caller) -> None:
    reply = call("POST", "/v1/bulk/part?digits=99&unit=us", {"items": []})
    assert reply.codes == ["unknown-parameter", "invalid-parameter", "too-few"]
    assert call("POST", "/v1/bulk/part?digits=99", {"items": [HALF]}).codes == ["invalid-parameter"]


@given(
    items=st.lists(st.recursive(st.none() | st.floats() | st.text(), st.lists), min_size=1, max_size=5),
    indent=st.none() | st.integers(0, 2),
    ascii_only=st.booleans(),
)
def test_a_long_list_is_counted_without_making_its_items(
    items: list[Any], indent: int | None, ascii_only: bool
) -> None:
    body = json.dumps(items, indent=indent, ensure_ascii=ascii_only).encode(errors="surrogatepass")
    counts = [holds_more(msgspec.Raw(body), most) for most in range(1, 7)]
    assert counts == [len(items) > most for most in range(1, 7)]


# The rest of HTTP


def test_other_methods_are_told_to_post(call: Caller) -> None:
    options = call("OPTIONS", "/v1/bulk/part")
    assert (options.status, options.headers["allow"]) == (204, "POST, OPTIONS")
    for method in ("GET", "HEAD", "PUT", "DELETE"):
        reply = call(method, "/v1/bulk/part")
        assert (reply.status, reply.headers["allow"]) == (405, "POST, OPTIONS")


def test_an_unknown_calculation_names_the_one_that_may_be_meant() -> None:
    assert "/v1/bulk/liquid-split?" in WHOLE("POST", "/v1/bulk/liquid-splt", {}).detail(404)
    assert "it has a slash too many. Use /v1/bulk/liquid-split." in WHOLE("POST", "/v1/bulk/liquid-split/").detail(404)


@pytest.mark.parametrize(
    ("media", "status"),
    [
        ("application/json; charset=utf-8", 200),
        ("application/x-ndjson", 400),
        ("application/jsonl", 400),
        ("application/ndjson;charset=UTF-8", 400),
        ("application/json; charset=latin-1", 415),
        ("text/plain", 415),
        ("application/vnd.x+json", 415),
        ("", 415),
    ],
)
def test_the_body_is_read_as_its_type_says(call: Caller, media: str, status: int) -> None:
    body = json.dumps({"items": [HALF]}, indent=1).encode()
    reply = call("POST", "/v1/bulk/part", body, [("content-type", media)] if media else [])
    if status == 400:  # three broken lines and more
        assert {one["status"] for one in results(reply)} == {400}
    else:
        assert reply.status == status
    if status == 415:
        assert reply.headers["accept"] == "application/json, application/x-ndjson, text/csv"


@pytest.mark.parametrize(
    ("query", "accept", "media"),
    [
        ("", "*/*", "application/x-ndjson"),
        ("", "", "application/x-ndjson"),
        ("", "application/*", "application/x-ndjson"),
        ("", "application/json", "application/json"),
        ("", "application/x-ndjson;q=0.1, application/json", "application/json"),
        ("format=json", "application/x-ndjson", "application/json"),
        ("format=ndjson", "image/png", "application/x-ndjson"),
    ],
)
def test_the_answer_has_the_format_that_is_wished(call: Caller, query: str, accept: str, media: str) -> None:
    headers = [LINES, ("accept", accept)] if accept else [LINES]
    reply = call("POST", f"/v1/bulk/part?{query}", in_lines(HALF), headers)
    assert (reply.status, reply.headers["content-type"]) == (200, media)
    assert reply.headers["vary"] == "Accept, Accept-Encoding"
    assert len(results(reply)) == 1


def test_a_format_that_there_is_not_is_refused(call: Caller) -> None:
    assert call("POST", "/v1/bulk/part", in_lines(HALF), [LINES, ("accept", "image/png")]).status == 406


def test_the_same_call_brings_the_same_bytes() -> None:
    body = {"items": [one.request for one in calculations()["liquid-split"].examples] * 3}
    first, second = (WHOLE("POST", "/v1/bulk/liquid-split", body) for _ in range(2))
    assert first.body == second.body
