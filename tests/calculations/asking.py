"""Asks a calculation as a caller would, with JSON, and gives back what the caller would get."""

import json
from importlib import import_module
from typing import Any

import pytest

from service.calculations.faults import Fault, Refusal
from service.calculations.registry import Calculation
from service.calculations.rendering import UnitSystem, renderer

Answer = dict[str, Any]


def calculation(name: str) -> Calculation[Any, Any]:
    """A calculation by its name, found without the others."""
    module = import_module(f"service.calculations.{name.replace('-', '_')}")
    found = module.CALCULATION
    assert isinstance(found, Calculation)
    return found


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


def assumed(answer: Answer) -> dict[str, str]:
    """What was assumed, by pointer."""
    return {one["pointer"]: one["value"] for one in answer["assumed"]}
