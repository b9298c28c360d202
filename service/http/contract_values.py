"""The single values in the contract: their operations, and examples of what is really answered."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

import msgspec

from service.calculations.values.value import Value
from service.http.addresses import BASE, VALUES
from service.http.contract_calculations import operation_id
from service.http.contract_operation import GUARDED
from service.http.negotiation import JSON
from service.http.parameters import Parameter
from service.http.problems import INTERNAL, INVALID_REQUEST, METHOD_NOT_ALLOWED, NOT_ACCEPTABLE, NOT_SENSIBLE
from service.http.references import Schema, header_references, parameter_reference, problem_references, reference
from service.http.value_query import CSV, SHARED, TEXT, XML, parameters, read_wishes
from service.http.values import value_body

TAG: Final[Schema] = {
    "name": "values",
    "description": "One number for each address, for the cells of a spreadsheet. Any cache may keep them.",
}
_PROBLEMS: Final = (INVALID_REQUEST, METHOD_NOT_ALLOWED, NOT_ACCEPTABLE, NOT_SENSIBLE, INTERNAL, *GUARDED)
_SHARED: Final = tuple(one.name for one in SHARED)
_DIGITS: Final = "6"

_COMPONENTS: Final[dict[str, Schema]] = {
    "ValueText": {
        "title": "ValueText",
        "description": "The number alone: digits, a sign where it is negative, and the decimal sign; no unit and no "
        "exponent. With errors=inline it may be a text in ASCII that begins with `Error: `, of 200 characters at most.",
        "type": "string",
        "pattern": "^(?:-?[0-9]+(?:[.,][0-9]+)?|Error: .*)$",
    },
    "ValueTable": {
        "title": "ValueTable",
        "description": "CSV after RFC 4180: a header with the unit in brackets, and one row; the ends of the interval "
        "are empty where there is none. decimal=comma separates by semicolons.",
        "type": "string",
    },
    "ValueMarkup": {
        "title": "ValueMarkup",
        "description": "XML, flat, without namespaces, in ASCII: `answer` with `value`, `low` and `high` (each with "
        "its `unit`), `caution` (with `code` and `severity`) and `data_version`. "
        'FILTERXML(...;"number(//value)") reads it.',
        "type": "string",
    },
    "ValueAnswer": {
        "title": "ValueAnswer",
        "description": "The number with its unit, and what to take care of.",
        "type": "object",
        "properties": {
            "value": {"type": "number", "description": "The number, in `unit`.", "examples": [107.766]},
            "unit": {"type": "string", "description": "Its unit.", "examples": ["g"]},
            "low": {"type": "number", "description": "Lower end of the 95 % interval.", "examples": [105.076]},
            "high": {"type": "number", "description": "Upper end of the 95 % interval.", "examples": [110.457]},
            "cautions": {
                "type": "array",
                "items": reference("Caution"),
                "description": "What to take care of, as the calculation tells it.",
            },
            "data_version": {
                "type": "string",
                "description": "Version of the reference data.",
                "examples": ["sha256-393b566b6bbb"],
            },
        },
        "required": ["value", "unit", "cautions", "data_version"],
        "dependentRequired": {"low": ["high"], "high": ["low"]},
        "additionalProperties": False,
    },
}


def components(known: Mapping[str, Value]) -> dict[str, Schema]:
    """Schemas of what values are answered as, with examples of what is really answered.

    Args:
        known: the values by their names; none where there are none.
    """
    first = next(iter(known.values()), None)
    if first is None:
        return {}
    texts = {"ValueText": TEXT, "ValueTable": CSV, "ValueMarkup": XML}
    shown = {name: example(first, media).decode() for name, media in texts.items()}
    shown["ValueAnswer"] = msgspec.json.decode(example(first, JSON))
    return {name: schema | {"examples": [shown[name]]} for name, schema in _COMPONENTS.items()}


def shared_parameters() -> dict[str, Schema]:
    """Components of the parameters that all values share."""
    return {f"value_{one.name}": one.component() for one in SHARED}


def paths(known: Mapping[str, Value]) -> dict[str, Schema]:
    """The operations of the values.

    Args:
        known: the values by their names.
    """
    return {f"{BASE}{VALUES}{name}": {"get": _operation(value)} for name, value in known.items()}


def _operation(value: Value) -> Schema:
    headers = header_references("ETag", "Cache-Control", "Vary", "Data-Version", "X-Request-Id")
    return {
        "operationId": f"value_{operation_id(value.name)}",
        "tags": [TAG["name"]],
        "summary": value.summary,
        "description": f"{value.description}\n\nA text has no room for cautions: JSON and XML hold them. HEAD works as "
        "well.",
        "parameters": [*_references(parameters(value)), parameter_reference("if_none_match")],
        "responses": {
            "200": {
                "description": "The number; with errors=inline, a refusal as text, which no cache keeps.",
                "headers": headers,
                "content": {
                    TEXT: _media("ValueText", example(value, TEXT).decode()),
                    JSON: _media("ValueAnswer", msgspec.json.decode(example(value, JSON))),
                    CSV: _media("ValueTable", example(value, CSV).decode()),
                    XML: _media("ValueMarkup", example(value, XML).decode()),
                },
            },
            "304": {
                "description": "The caller has this answer already: If-None-Match names its entity tag. No body.",
                "headers": headers,
            },
            **problem_references(_PROBLEMS),
        },
    }


def _references(known: Iterable[Parameter]) -> list[Schema]:
    return [parameter_reference(f"value_{one.name}") if one.name in _SHARED else one.component() for one in known]


def _media(schema: str, shown: Any) -> Schema:
    return {"schema": reference(schema), "example": shown}


def example(value: Value, media: str) -> bytes:
    """What a value answers to the examples of its parameters.

    Args:
        value: the value.
        media: media type of the answer.
    """
    given = {one.name: one.example for one in value.inputs if one.name not in value.beside}
    wishes, _, _ = read_wishes(f"digits={_DIGITS}".encode(), value)
    return value_body(value, wishes, tuple(sorted(given.items())), (), media)
