"""Requests as workshops send them: known fats, masses a scale shows, strengths a stock has.

The contract allows far more than that, so that most of what test_fuzz.py makes up is refused. Here only what
is likely to compute is made up, within what the contract allows. Beside the check that test_fuzz.py replaces,
`negative_data_rejection` is left out here: nothing forbidden is made up, and what a link carries on (an answer's
interval) fits the contract, but not its narrowed copy.
"""

from collections import Counter
from typing import Any, Final

import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis.specs.openapi.checks import negative_data_rejection

from service.calculations.given import GIVEN, Ratio
from service.calculations.reading import Given
from service.http.app import create_app
from service.http.schemas import text_format
from service.reference import reference_data
from tests.contract.fuzzing import REPLACED, contract_of, load, usual

DATA: Final = reference_data()
KNOWN: Final = {
    "fat": sorted(DATA.fats),
    "liquid": sorted(DATA.liquids),
    "acid": sorted(DATA.acids),
    "material": sorted(DATA.vessel_materials),
}
LONGEST_LIST: Final = 4
LEFT_OUT: Final[list[Any]] = [*REPLACED, negative_data_rejection]


def _usual_quantity(given: type[Given], component: dict[str, Any]) -> dict[str, Any]:
    text = next(branch for branch in component["oneOf"] if branch.get("format") == text_format(given))
    low, high = (given.kind.metric.from_si(end) for end in usual(given))
    number = {"type": "number", "minimum": low, "maximum": high}
    unit = {"const": given.kind.metric.symbol}
    exact = {"type": "object", "properties": {"value": number, "unit": unit}, "required": ["value", "unit"]}
    branches = [text, exact | {"additionalProperties": False}]
    if issubclass(given, Ratio):
        branches.append(number)
    return {"oneOf": branches}


def _narrow(node: Any) -> None:
    """Leave only catalogue names, and short lists."""
    if isinstance(node, list):
        for one in node:
            _narrow(one)
    elif isinstance(node, dict):
        for name, member in node.get("properties", {}).items():
            for branch in (member, *member.get("anyOf", ())) if isinstance(member, dict) else ():
                if name in KNOWN and branch.get("type") == "string":
                    branch["enum"] = KNOWN[name]
        if "fatty_acids" in node.get("properties", {}):
            node["properties"]["fatty_acids"]["propertyNames"] = {"enum": sorted(DATA.fatty_acids)}
        if node.get("type") == "array":
            node["maxItems"] = min(node.get("maxItems", LONGEST_LIST), LONGEST_LIST)
        for one in node.values():
            _narrow(one)


def _named_by(node: Any) -> set[str]:
    """Components that a part of the contract refers to."""
    if isinstance(node, list):
        return set().union(*map(_named_by, node))
    if isinstance(node, dict):
        own = {node["$ref"].rpartition("/")[2]} if "$ref" in node else set()
        return own.union(*map(_named_by, node.values()))
    return set()


def _usual_contract(document: Any) -> Any:
    components = document["components"]["schemas"]
    left = _named_by([path["post"]["requestBody"] for path in document["paths"].values() if "post" in path])
    narrowed: set[str] = set()
    while left:
        name = left.pop()
        narrowed.add(name)
        _narrow(components[name])
        left |= _named_by(components[name]) - narrowed
    for given in GIVEN:
        if given.__name__ in narrowed:
            components[given.__name__] = _usual_quantity(given, components[given.__name__])
    return document


ANSWERS: Final = Counter[tuple[str, int]]()
app = create_app()
schema = load(
    app,
    _usual_contract(contract_of(app)),
    {
        "generation": {"mode": "positive", "max-examples": 60},
        "phases": {"examples": {"enabled": False}, "coverage": {"enabled": False}},
    },
)


@schema.include(method="POST").parametrize()
def test_usual_requests_hold_the_contract(case: schemathesis.Case[Any]) -> None:
    response = case.call_and_validate(excluded_checks=LEFT_OUT)
    ANSWERS[case.path, response.status_code] += 1
    assert response.status_code in {200, 422}, "what is usual is well formed"


class Machine(schema.as_state_machine()):  # type: ignore[misc]  # made at run time
    """Follows the links of the contract, from an answer to the next request."""

    def validate_response(self, response: schemathesis.Response, case: schemathesis.Case[Any], **_: object) -> None:
        case.validate_response(response, excluded_checks=LEFT_OUT)


TestUsualLinks = Machine.TestCase
TestUsualLinks.settings = settings(
    max_examples=10, stateful_step_count=4, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


def test_many_usual_requests_compute() -> None:
    asked = Counter[str]()
    for (path, _), times in ANSWERS.items():
        asked[path] += times
    shares = {path: ANSWERS[path, 200] / times for path, times in asked.items()}
    assert shares.keys() == {path for path, item in schema.raw_schema["paths"].items() if "post" in item}
    assert min(shares.values()) > 0.1, shares
