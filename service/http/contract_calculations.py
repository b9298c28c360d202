"""The calculations in the contract: their operations, and examples of what is really answered."""

import json
from collections.abc import Mapping
from inspect import cleandoc
from typing import Any, Final

import msgspec

from service.calculations.registry import Calculation, Example
from service.calculations.shared.rendering import renderer
from service.http.calculation_query import EXAMPLE_DIGITS, NAMES, parameters
from service.http.contract_layout import pretty
from service.http.contract_operation import GUARDED
from service.http.forms import FORMS
from service.http.negotiation import JSON
from service.http.problems import (
    BODY_TOO_LARGE,
    INTERNAL,
    INVALID_REQUEST,
    METHOD_NOT_ALLOWED,
    NOT_ACCEPTABLE,
    NOT_SENSIBLE,
    REQUEST_TIMEOUT,
    UNSUPPORTED_MEDIA_TYPE,
)
from service.http.references import Schema, header_references, parameter_reference, problem_references

_INVENTED: Final = "The workshop is invented."
_BEGINS: Final = {"svg": '<?xml version="1.0" encoding="utf-8"?>', "html": "<!doctype html>"}
"""How a form begins; all of it is long."""
PROBLEMS: Final = (
    INVALID_REQUEST,
    METHOD_NOT_ALLOWED,
    NOT_ACCEPTABLE,
    BODY_TOO_LARGE,
    UNSUPPORTED_MEDIA_TYPE,
    NOT_SENSIBLE,
    INTERNAL,
    *GUARDED,
    REQUEST_TIMEOUT,
)


def operation_id(name: str) -> str:
    """Name of a calculation as a name of a method."""
    return name.replace("-", "_").replace("/", "_")


def operation(
    calculation: Calculation[Any, Any], request: Schema, answer: Schema, known: Mapping[str, Calculation[Any, Any]]
) -> Schema:
    """The operation of one calculation.

    Args:
        calculation: the calculation.
        request: schema of its request.
        answer: schema of its answer.
        known: all calculations; links lead to these alone.
    """
    return {
        "operationId": operation_id(calculation.name),
        "tags": ["calculations"],
        "summary": calculation.summary,
        "description": calculation.description,
        "parameters": [parameter_reference(name) for name in _parameters(calculation.name)],
        "requestBody": {
            "description": cleandoc(calculation.request.__doc__ or ""),
            "required": True,
            "content": {JSON: {"schema": request, "examples": _requests(calculation)}},
        },
        "responses": {"200": _success(calculation, answer, known), **problem_references(PROBLEMS)},
    }


def _parameters(name: str) -> list[str]:
    """Names of the parameters' components: of a calculation with another form, `format` takes that too."""
    form = FORMS.get(name)
    return [*NAMES] if form is None else [*NAMES[:-1], f"format_{form.word}"]


def format_parameters() -> dict[str, Schema]:
    """The components of `format` where it takes another form than JSON."""
    words = dict.fromkeys(form.word for form in FORMS.values())
    return {f"format_{word}": parameters(word)[-1].component() for word in words}


def _requests(calculation: Calculation[Any, Any]) -> Schema:
    """The examples of a request by their names."""
    return {
        example.name: {
            "summary": example.summary,
            "description": example.source or _INVENTED,
            "value": example.request,
        }
        for example in calculation.examples
    }


def _answers(calculation: Calculation[Any, Any]) -> Schema:
    """The answers to these examples."""
    return {
        example.name: {
            "summary": example.summary,
            "description": f"Answer to the request of this name, with digits={EXAMPLE_DIGITS}. "
            + (example.source or _INVENTED),
            "value": example_answer(calculation, example),
        }
        for example in calculation.examples
    }


def _success(calculation: Calculation[Any, Any], answer: Schema, known: Mapping[str, Calculation[Any, Any]]) -> Schema:
    """The response that holds the answer, and where it leads."""
    success: Schema = {
        "description": f"The answer: {calculation.summary[0].lower()}{calculation.summary[1:]}.",
        "headers": header_references("Data-Version", "X-Request-Id"),
        "content": {JSON: {"schema": answer, "examples": _answers(calculation)}},
    }
    form = FORMS.get(calculation.name)
    if form is not None:
        success["content"][form.media] = {
            "schema": {"title": "Picture" if form.word == "svg" else "Page", "description": form.description}
            | {"type": "string"},
            "example": _BEGINS[form.word],
        }
        success["headers"] |= header_references("Vary", "Content-Security-Policy")
    links = [link for link in calculation.links if link.to in known]
    if links:
        success["links"] = {
            link.name: {
                "operationId": operation_id(link.to),
                "description": link.description,
                "requestBody": link.request,
            }
            for link in links
        }
    return success


def example_answer(calculation: Calculation[Any, Any], example: Example, *, explain: bool = False) -> Any:
    """The answer to an example, as the contract shows it."""
    body = msgspec.json.encode(example.request)
    return json.loads(renderer("metric", EXAMPLE_DIGITS)(calculation.run(body, explain=explain)))


def example_files(known: Mapping[str, Calculation[Any, Any]]) -> dict[str, bytes]:
    """Every example as a pair of files, by their path: the request, and the answer the contract shows."""
    files: dict[str, bytes] = {}
    for name, calculation in known.items():
        for example in calculation.examples:
            for what, value in (("request", example.request), ("answer", example_answer(calculation, example))):
                files[f"{name}/{example.name}.{what}.json"] = pretty(value)
    return files
