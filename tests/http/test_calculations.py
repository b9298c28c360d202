"""Calling a calculation: what is answered, and what is refused how."""

import logging

import pytest

from service.http.wire import BODY_LIMIT
from tests.asgi import Caller, Reply
from tests.http.conftest import HALF

JSON = [("content-type", "application/json")]


def problem(reply: Reply, status: int, kind: str) -> dict[str, object]:
    """The problem document of a reply, after a look at what every such document holds."""
    assert reply.status == status
    assert reply.headers["content-type"] == "application/problem+json"
    document: dict[str, object] = reply.json()
    assert document["type"] == f"/problems/{kind}"
    assert document["status"] == status
    assert document["detail"]
    return document


def test_answer_carries_value_unit_and_data_version(call: Caller) -> None:
    reply = call("POST", "/v1/part", HALF)
    assert reply.status == 200
    assert reply.headers["content-type"] == "application/json"
    assert reply.headers["content-length"] == str(len(reply.body))
    answer = reply.json()
    assert answer["part"] == {"value": 500.0, "unit": "g"}
    assert answer["cautions"] == answer["assumed"] == []
    assert reply.headers["data-version"] == answer["data_version"] != ""
    assert "steps" not in answer
    assert "reference" not in answer


def test_same_call_gives_same_bytes(call: Caller) -> None:
    assert call("POST", "/v1/part", HALF).body == call("POST", "/v1/part", HALF).body


def test_byte_order_mark_is_passed_over(call: Caller) -> None:
    assert call("POST", "/v1/part", b'\xef\xbb\xbf{"mass": "1 kg", "share": 0.5}', JSON).status == 200


def test_reference_comes_back_untouched(call: Caller) -> None:
    assert call("POST", "/v1/part", HALF | {"reference": " Ä/7 \u0000"}).json()["reference"] == " Ä/7 \u0000"


def test_query_chooses_units_digits_and_steps(call: Caller) -> None:
    answer = call("POST", "/v1/part?units=us&digits=3&explain=true&format=json", HALF).json()
    assert answer["part"] == {"value": 17.6, "unit": "oz"}
    assert answer["steps"][0]["expression"] == "mass * share"


def test_every_fault_of_query_and_body_is_told_at_once(call: Caller) -> None:
    body = {"mass": 3, "share": "50", "fats~/": 1}
    reply = call("POST", "/v1/part?digits=16&digits=2&unit=us&explain=yes&units=imperial", body)
    document = problem(reply, 400, "invalid-request")
    faults = {(error.get("parameter") or error["pointer"], error["code"]) for error in reply.json()["errors"]}
    assert faults == {
        ("digits", "invalid-parameter"),
        ("digits", "repeated-parameter"),
        ("unit", "unknown-parameter"),
        ("explain", "invalid-parameter"),
        ("units", "invalid-parameter"),
        ("/mass", "bare-number"),
        ("/share", "percent-missing"),
        ("/fats~0~1", "unknown-member"),
    }
    assert document["detail"] == "The request has 8 faults: see errors."
    assert document["instance"] == "/v1/part"


def test_fault_of_the_query_alone_is_told(call: Caller) -> None:
    assert call("POST", "/v1/part?Units=us", HALF).codes == ["unknown-parameter"]


def test_pointer_names_the_member_at_fault(call: Caller) -> None:
    errors = call("POST", "/v1/part", {"mass": {"value": "1", "unit": "g"}, "share": 0.5}).json()["errors"]
    assert [error["pointer"] for error in errors] == ["/mass/value"]
    assert errors[0]["mend"]


@pytest.mark.parametrize("digits", ["0", "16", "1.0", "+5", "05", "", "１", "null", "5%20"])
def test_digits_outside_one_to_fifteen_are_refused(call: Caller, digits: str) -> None:
    assert call("POST", f"/v1/part?digits={digits}", HALF).codes == ["invalid-parameter"]


@pytest.mark.parametrize("query", ["", "&", "units=metric", "explain=false", "digits=15", "units=%6detric"])
def test_usual_queries_are_taken(call: Caller, query: str) -> None:
    assert call("POST", f"/v1/part?{query}", HALF).status == 200


def test_chemistry_is_refused_as_not_sensible(call: Caller) -> None:
    reply = call("POST", "/v1/part", {"mass": "1 kg", "share": 0})
    problem(reply, 422, "not-sensible")
    assert reply.codes == ["contradiction"]
    assert reply.headers["data-version"]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b" ",
        b"{",
        b"nope",
        b'{"mass": "\xff g", "share": 0.5}',
        b'{"mass": "\\ud800", "share": 0.5}',
        b"[" * 20_000,
        b'{"mass":' * 20_000,
        '{"mass": "1 kg", "share": 0.5}'.encode("utf-16"),
        b'{"mass": "1 kg", "share": NaN}',
        b'{"mass": "1 kg", "share": 1e400}',
    ],
    ids=range(11),
)
def test_what_is_not_json_is_refused(call: Caller, body: bytes) -> None:
    reply = call("POST", "/v1/part", body, JSON)
    problem(reply, 400, "invalid-request")
    assert reply.codes == ["malformed-json"]
    assert reply.json()["errors"][0]["pointer"] == ""


@pytest.mark.parametrize(
    "body", [b"null", b"[]", b'"text"', b"1", b"1" * 5000, b'{"mass":' + b"9" * 400 + b',"share":0.5}']
)
def test_json_of_another_shape_is_refused(call: Caller, body: bytes) -> None:
    problem(call("POST", "/v1/part", body, JSON), 400, "invalid-request")


@pytest.mark.parametrize("method", ["GET", "HEAD", "PUT", "DELETE", "PATCH", "TRACE", "QUERY"])
def test_other_methods_are_refused_with_allow(call: Caller, method: str) -> None:
    reply = call(method, "/v1/part")
    assert reply.status == 405
    assert reply.headers["allow"] == "POST, OPTIONS"
    assert reply.headers["content-type"] == "application/problem+json"


def test_options_answers_allow_without_body(call: Caller) -> None:
    reply = call("OPTIONS", "/v1/part")
    assert (reply.status, reply.headers["allow"], reply.body) == (204, "POST, OPTIONS", b"")


@pytest.mark.parametrize(
    "media",
    [
        "application/json",
        "application/json; charset=utf-8",
        'Application/JSON;charset="UTF-8"',
        "application/json; profile=x",
    ],
)
def test_json_in_utf_8_is_taken(call: Caller, media: str) -> None:
    assert call("POST", "/v1/part", HALF, [("content-type", media)]).status == 200


@pytest.mark.parametrize(
    "headers",
    [
        [],
        [("content-type", "text/plain")],
        [("content-type", "application/x-www-form-urlencoded")],
        [("content-type", "application/jsonx")],
        [("content-type", "application/json; charset=latin-1")],
    ],
    ids=str,
)
def test_other_content_types_are_refused(call: Caller, headers: list[tuple[str, str]]) -> None:
    reply = call("POST", "/v1/part", b'{"mass": "1 kg", "share": 0.5}', headers)
    problem(reply, 415, "unsupported-media-type")
    assert reply.headers["accept"] == "application/json"


def test_compressed_body_is_refused(call: Caller) -> None:
    reply = call("POST", "/v1/part", HALF, [*JSON, ("content-encoding", "gzip")])
    problem(reply, 415, "unsupported-media-type")
    assert reply.headers["accept-encoding"] == "identity"


@pytest.mark.parametrize(
    "accept",
    ["*/*", "application/json", "application/*", "", "text/html, */*;q=0.1", "APPLICATION/JSON;q=0.5", "nonsense, */*"],
)
def test_callers_that_take_json_get_it(call: Caller, accept: str) -> None:
    assert call("POST", "/v1/part", HALF, [*JSON, ("accept", accept)]).status == 200


@pytest.mark.parametrize(
    "accept", ["application/xml", "text/*", "application/json;q=0", "application/json;q=0, */*", "nonsense", "*/json"]
)
def test_callers_that_take_no_json_are_refused(call: Caller, accept: str) -> None:
    problem(call("POST", "/v1/part", HALF, [*JSON, ("accept", accept)]), 406, "not-acceptable")


def test_format_in_the_address_wins_over_accept(call: Caller) -> None:
    assert call("POST", "/v1/part?format=json", HALF, [*JSON, ("accept", "text/csv")]).status == 200


def test_two_accept_headers_are_read_together(call: Caller) -> None:
    headers = [*JSON, ("accept", "text/csv"), ("accept", "application/json")]
    assert call("POST", "/v1/part", HALF, headers).status == 200


def test_body_at_the_limit_is_read(call: Caller) -> None:
    body = b'{"mass": "1 kg", "share": 0.5}'.ljust(BODY_LIMIT)
    assert call("POST", "/v1/part", body, JSON).status == 200
    assert call("POST", "/v1/part", [body[:1000], body[1000:]], JSON).status == 200


def test_a_body_holds_one_mebibyte() -> None:
    assert BODY_LIMIT == 1024 * 1024


def test_body_over_the_limit_is_refused(call: Caller) -> None:
    problem(call("POST", "/v1/part", b" " * (BODY_LIMIT + 1), JSON), 413, "body-too-large")


def test_chunked_body_over_the_limit_is_refused(call: Caller) -> None:
    problem(call("POST", "/v1/part", [b" " * BODY_LIMIT, b" "], JSON), 413, "body-too-large")


def test_a_declared_length_with_leading_zeros_is_the_number_it_says(call: Caller) -> None:
    body = b'{"mass": "1 kg", "share": "50 %"}'
    assert call("POST", "/v1/part", [body], [*JSON, ("content-length", f"{len(body):012}")]).status == 200


def test_declared_length_over_the_limit_is_refused_before_reading(call: Caller) -> None:
    headers = [*JSON, ("content-length", str(BODY_LIMIT + 1))]
    problem(call("POST", "/v1/part", [b"{}"], headers), 413, "body-too-large")


@pytest.mark.parametrize("name", ["fails", "endless"])
def test_fault_of_the_service_is_logged_and_hidden(call: Caller, name: str, caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.ERROR, "lyestock"):
        reply = call("POST", f"/v1/{name}", HALF)
    problem(reply, 500, "internal")
    assert b"secret" not in reply.body
    assert b"inf" not in reply.body.lower()
    assert [record.name for record in caplog.records] == ["lyestock"]
    assert caplog.records[0].exc_info is not None
    assert f"request {reply.headers['x-request-id']} failed at /v1/{name}" in caplog.text
