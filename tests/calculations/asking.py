"""Asks a calculation as a caller would, with JSON, and gives back what the caller would get.

Every answer is held against the contract's schema of it, so that each test of a calculation tests the contract too.
"""

import json
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, Final

import pytest
from jsonschema_rs import Draft202012Validator

from service.calculations.registry import Calculation
from service.calculations.shared.faults import Fault, Refusal
from service.calculations.shared.rendering import UnitSystem, renderer
from service.http.schemas import schemas

Answer = dict[str, Any]
CALCULATIONS: Final = Path(__file__).parents[2] / "service" / "calculations"


def calculation(name: str) -> Calculation[Any, Any]:
    """A calculation by its name, found without the others."""
    (path,) = CALCULATIONS.glob(f"*/{name.replace('-', '_').replace('/', '_')}.py")
    module = import_module(f"service.calculations.{path.parent.name}.{path.stem}")
    found = module.CALCULATION
    assert isinstance(found, Calculation)
    return found


@cache
def answer_validator(name: str) -> Draft202012Validator:
    """A validator of a calculation's answers; stricter than the contract, since no member may be unknown to it."""
    (schema,), components = schemas([calculation(name).answer])
    for component in components.values():
        if component.get("type") == "object":
            component.setdefault("additionalProperties", False)
    return Draft202012Validator({**schema, "components": {"schemas": components}})


def ask(
    name: str,
    request: object,
    *,
    explain: bool = False,
    units: UnitSystem = "metric",
    digits: int | None = None,
) -> Answer:
    """The answer of a calculation, as JSON decodes it."""
    body = request if isinstance(request, bytes) else json.dumps(request).encode()
    answer = calculation(name).run(body, explain=explain)
    decoded = json.loads(renderer(units, digits)(answer))
    assert isinstance(decoded, dict)
    answer_validator(name).validate(decoded)
    return decoded


def refusal(name: str, request: object) -> Refusal:
    """The refusal of a calculation; a test fails where it answers."""
    with pytest.raises(Refusal) as refused:
        ask(name, request)
    return refused.value


def fault(name: str, request: object, status: int) -> Fault:
    """The only fault of a request, refused with a status."""
    refused = refusal(name, request)
    assert refused.status == status
    assert len(refused.faults) == 1, refused.faults
    return refused.faults[0]


def cautions(answer: Answer) -> dict[str, dict[str, str]]:
    """The gravest caution of each code of an answer, which comes first."""
    return {one["code"]: one for one in reversed(answer["cautions"])}


def message_of(answer: Answer, code: str) -> str:
    """What the gravest caution of a code says."""
    return cautions(answer)[code]["message"]


def assumed(answer: Answer) -> dict[str, str]:
    """What was assumed, by pointer."""
    return {one["pointer"]: one["value"] for one in answer["assumed"]}
