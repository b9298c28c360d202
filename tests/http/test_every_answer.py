"""What holds for every answer: request id, access from scripts of any origin, one address for one thing."""

import pytest

from tests.asgi import Caller

ADDRESSES = ["/", "/docs", "/openapi.json", "/health/live", "/problems", "/nothing", "/v1/part", "/v1/", "/docs/"]


@pytest.mark.parametrize("address", ADDRESSES)
def test_every_answer_carries_the_callers_request_id(call: Caller, address: str) -> None:
    assert call("GET", address, headers=[("x-request-id", "Batch_12.a-b")]).headers["x-request-id"] == "Batch_12.a-b"


@pytest.mark.parametrize("said", ["", "a b", "a" * 65, "ä", 'x"y'])
def test_unusable_request_id_is_replaced(call: Caller, said: str) -> None:
    first = call("GET", "/health/live", headers=[("x-request-id", said)]).headers["x-request-id"]
    second = call("GET", "/health/live").headers["x-request-id"]
    assert first not in {said, second}
    assert first.rpartition("-")[0] == second.rpartition("-")[0] != ""


@pytest.mark.parametrize("address", ADDRESSES)
def test_scripts_of_any_origin_may_read_every_answer(call: Caller, address: str) -> None:
    headers = call("GET", address, headers=[("origin", "https://sheet.example")]).headers
    assert headers["access-control-allow-origin"] == "*"
    assert "X-Request-Id" in headers["access-control-expose-headers"]


@pytest.mark.parametrize("address", ["/v1/part", "/openapi.json"])
def test_preflight_allows_json_posts(call: Caller, address: str) -> None:
    asked = [
        ("origin", "https://sheet.example"),
        ("access-control-request-method", "POST"),
        ("access-control-request-headers", "content-type"),
    ]
    reply = call("OPTIONS", address, headers=asked)
    assert reply.status == 204
    assert "POST" in reply.headers["access-control-allow-methods"]
    assert "Content-Type" in reply.headers["access-control-allow-headers"]


@pytest.mark.parametrize("address", ["/docs/", "//docs", "/v1/part/", "/v1//part", "/problems/", "/health/live/"])
def test_address_with_a_slash_too_many_is_not_found(call: Caller, address: str) -> None:
    reply = call("GET", address)
    assert reply.status == 404
    assert reply.json()["type"] == "/problems/not-found"


def test_unknown_address_is_a_problem_document_that_names_it(call: Caller) -> None:
    reply = call("POST", "/v1/nothing?x=1", {})
    assert reply.status == 404
    assert reply.headers["content-type"] == "application/problem+json"
    assert reply.json()["instance"] == "/v1/nothing"
