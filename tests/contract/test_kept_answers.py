"""Answers that are kept show in nothing but speed."""

import json

import pytest

from service.http.endpoint import KEPT, LARGEST_KEPT, kept_document
from tests.asgi import Caller

SOLUTION = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "temperature": "21 °C"}
ADDRESS = "/v1/concentration"


@pytest.fixture(autouse=True)
def nothing_kept() -> None:
    kept_document.cache_clear()


def hits() -> int:
    return kept_document.cache_info().hits


def test_the_same_request_gets_the_same_bytes_reckoned_or_kept(call: Caller) -> None:
    reckoned = call("POST", ADDRESS, SOLUTION)
    kept = call("POST", ADDRESS, SOLUTION)
    assert hits() == 1
    assert kept.status == 200
    assert kept.body == reckoned.body
    assert {**kept.headers, "x-request-id": ""} == {**reckoned.headers, "x-request-id": ""}
    assert kept.headers["x-request-id"] != reckoned.headers["x-request-id"]


@pytest.mark.parametrize("query", ["?units=us", "?digits=3", "?explain=true", "?units=us&digits=3"])
def test_an_answer_is_kept_for_the_units_digits_and_steps_it_was_asked_in(call: Caller, query: str) -> None:
    plain, other = call("POST", ADDRESS, SOLUTION), call("POST", ADDRESS + query, SOLUTION)
    assert plain.body != other.body
    assert call("POST", ADDRESS, SOLUTION).body == plain.body
    assert call("POST", ADDRESS + query, SOLUTION).body == other.body


@pytest.mark.parametrize(
    "changed",
    [
        {"temperature": "22 °C"},
        {"alkali": "KOH"},
        {"reference": "jug 1"},
        {"strength": {"mass_fraction": "50 %", "uncertainty": "0.5 %"}},
    ],
    ids=lambda one: next(iter(one)),
)
def test_another_request_gets_another_answer(call: Caller, changed: dict[str, object]) -> None:
    first = call("POST", ADDRESS, SOLUTION)
    second = call("POST", ADDRESS, SOLUTION | changed)
    assert second.status == 200
    assert second.body != first.body
    assert hits() == 0


def test_another_calculation_does_not_give_the_kept_answer(call: Caller) -> None:
    assert call("POST", ADDRESS, SOLUTION).status == 200
    assert call("POST", "/v1/stock-mixing", SOLUTION).status == 400


def test_refusals_are_told_anew(call: Caller) -> None:
    impossible = SOLUTION | {"strength": {"mass_fraction": "90 %"}}
    first, second = call("POST", ADDRESS, impossible), call("POST", ADDRESS, impossible)
    assert (first.status, second.status) == (422, 422)
    assert second.body == first.body
    assert kept_document.cache_info().currsize == 0


def test_a_fault_of_the_query_is_told_although_the_answer_is_kept(call: Caller) -> None:
    assert call("POST", ADDRESS, SOLUTION).status == 200
    assert call("POST", ADDRESS + "?digits=99", SOLUTION).status == 400


def test_what_is_kept_is_bounded(call: Caller) -> None:
    body = json.dumps(SOLUTION).encode()
    large = body + b" " * (LARGEST_KEPT - len(body) + 1)
    json_type = [("content-type", "application/json")]
    assert call("POST", ADDRESS, large, json_type).status == 200
    assert call("POST", ADDRESS + "?explain=true", SOLUTION).status == 200
    assert kept_document.cache_info().currsize == 0
    assert call("POST", ADDRESS, large[:-1], json_type).status == 200
    assert kept_document.cache_info().currsize == 1
    assert kept_document.cache_info().maxsize == KEPT
