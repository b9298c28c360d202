"""What the contract promises of plans: limits, sizes and counts as they are written where callers read them."""

import json
from pathlib import Path
from typing import Any

import pytest

from service.calculations.orders import plan_request
from service.calculations.orders.production_plan import CALCULATION, MOST_BATCHES
from service.http.problems import BODY_TOO_LARGE
from service.http.schemas import schemas
from tests.calculations.asking import calculation

CONTRACT: Any = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", ["production-plan", "batch-sheet"])
def test_a_request_is_held_to_what_the_contract_says_of_it(name: str) -> None:
    """The contract has an example of each part beside."""
    _, components = schemas([calculation(name).request])
    assert components
    for part, schema in json.loads(json.dumps(components)).items():
        promised = CONTRACT["components"]["schemas"][part]
        assert schema == {key: value for key, value in promised.items() if key != "examples" or key in schema}, part


def test_a_plan_takes_as_much_as_its_description_says() -> None:
    def told(number: int) -> str:
        return f"{number:,}".replace(",", " ")

    assert f"{told(plan_request.MOST_LINES)} order lines" in CALCULATION.description
    assert f"{told(plan_request.MOST_RECIPES)} recipes" in CALCULATION.description
    assert f"{told(MOST_BATCHES)} batches" in CALCULATION.description


def test_a_plan_may_be_as_large_as_the_problem_says() -> None:
    mebibytes = CALCULATION.largest_body / 1024**2
    assert f" {mebibytes:g} MiB for a plan " in BODY_TOO_LARGE.meaning
