"""A plan's body may be larger than that of the other calculations, and both are bounded."""

import json

import pytest

from service.calculations.registry import LARGEST_BODY, calculations
from service.calculations.shared.decoding import MOST_ENTRIES
from service.http.app import create_app
from tests.asgi import Caller, Reply
from tests.benchmarks.plans import plan

JSON = [("content-type", "application/json")]
PLAN = "/v1/production-plan"


@pytest.fixture(scope="module")
def serve() -> Caller:
    return Caller(create_app())


def test_a_plan_of_many_lines_is_read(serve: Caller) -> None:
    request = calculations()["production-plan"].examples[1].request
    body = json.dumps(request).encode().ljust(3 * LARGEST_BODY)
    assert serve("POST", PLAN, body, JSON).status == 200


def test_other_calculations_and_larger_plans_are_refused(serve: Caller) -> None:
    large = b" " * (2 * LARGEST_BODY)
    assert "(1 MiB)" in serve("POST", "/v1/saponification", large, JSON).detail(413)
    assert "(32 MiB)" in serve("POST", PLAN, b" " * (32 * LARGEST_BODY + 1), JSON).detail(413)


def fault(reply: Reply) -> str:
    """The first fault of a request that cannot be read."""
    assert reply.status == 400
    told: str = reply.json()["errors"][0]["detail"]
    return told


@pytest.mark.parametrize(
    ("unit", "before", "after"),
    [('"v":1', '{"materials":[{"mass":{', "}}]}"), ('"v":1', "{", "}"), ("1", '{"orders":[', "]}")],
    ids=["quantity", "members", "entries"],
)
def test_a_body_of_more_members_than_any_request_is_not_read(serve: Caller, unit: str, before: str, after: str) -> None:
    full = (before + ",".join([unit] * (MOST_ENTRIES + 2)) + after).encode()
    assert f"the body holds {MOST_ENTRIES + 1} members and entries" in fault(serve("POST", PLAN, full, JSON))
    nearly = (before + ",".join([unit] * (MOST_ENTRIES + 1)) + after).encode()
    assert "members and entries" not in fault(serve("POST", PLAN, nearly, JSON))


@pytest.mark.parametrize("digits", [399, 450, 4290, 60_000])
def test_digits_upon_digits_are_not_read_as_a_number(serve: Caller, digits: int) -> None:
    """Whatever its place among the others, a number of 400 digits or more is found."""
    for start in range(0, 400, 57):
        body = f'{{"orders":[{"1" + " " * start},{"9" * digits}{",1" * 40_000}]}}'.encode()
        told = serve("POST", PLAN, body, JSON)
        assert told.codes[0] == "too-long"
        at = body.index(b"99") + 1
        assert f"at byte {at} begins a number of more than 200 digits" in fault(told)


def test_the_largest_plan_of_a_workshop_is_read(serve: Caller) -> None:
    """Ten thousand order lines, each for one of a thousand recipes."""
    request = json.loads(plan(10_000))
    recipes = [*request["recipes"].values()]
    request["recipes"] = {f"SKU-{at}": recipes[at % len(recipes)] for at in range(1_000)}
    assert serve("POST", PLAN, json.dumps(request).encode(), JSON).status == 200


def test_an_item_too_large_to_be_passed_over_is_refused(serve: Caller) -> None:
    members = ",".join(f'"u{at:07d}":1' for at in range(600_000))
    body = f'{{"items":[{{}},{{{members}}}]}}'.encode()
    told = serve("POST", "/v1/bulk/saponification", body, JSON)
    assert told.json()["errors"][0]["pointer"] == "/items/1"
    assert "the item nests deeply, or has more than 4 MiB" in fault(told)


def test_a_list_of_millions_is_not_taken_apart(serve: Caller) -> None:
    body = b'{"items":[' + b"1," * 3_000_001 + b"1]}"
    told = fault(serve("POST", "/v1/bulk/saponification", body, JSON))
    assert "there are 3000001 commas, and 3000000 are taken" in told
