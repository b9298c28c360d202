"""A plan's body may be larger than that of the other calculations, and both are bounded."""

import json

import pytest

from service.calculations.registry import LARGEST_BODY, calculations
from service.http.app import create_app
from tests.asgi import Caller

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
