"""The contract: an OpenAPI 3.1 document made from the registered calculations.

It is made anew at every start from the very objects that serve the requests, so that it cannot say anything
else than what is done; the committed copy is compared with it in the tests.
"""

import json
from collections.abc import Mapping
from typing import Any, Final

import msgspec

from service import __version__
from service.calculations.cautions import GROUNDS
from service.calculations.registry import Calculation, Example
from service.calculations.rendering import MOST_DIGITS, renderer
from service.http.outer import REQUEST_ID
from service.http.parameters import FORMATS, UNIT_SYSTEMS
from service.http.problems import (
    BODY_TOO_LARGE,
    INTERNAL,
    INVALID_REQUEST,
    KINDS,
    METHOD_NOT_ALLOWED,
    NOT_ACCEPTABLE,
    NOT_FOUND,
    NOT_SENSIBLE,
    PAGES,
    PROBLEM_JSON,
    UNSUPPORTED_MEDIA_TYPE,
    Problem,
    ProblemKind,
    example_problem,
)
from service.http.schemas import Schema, reference, schemas

EXAMPLE_DIGITS: Final = 6
"""Digits of the answers in the contract: the last digits of a machine's own arithmetic do not belong there."""

_JSON: Final = "application/json"

_DESCRIPTION: Final = """\
- **A quantity in** is a text with its unit (`"170.1 g"`, `"6 oz"`, `"20 °C"`), or an object with `value` and
  `unit`, or with limits or an uncertainty. A number without unit is refused where a unit is needed; a number is
  written with a decimal point. `oz` is mass; a fluid ounce is a volume and is refused where a mass is due.
- **A quantity out** is `{"value": ..., "unit": ...}`; where it is uncertain, `low` and `high` are the ends of
  the interval that holds 95 %. Nothing is rounded unless `digits` asks for it.
- **Masses named `mass` beside an alkali** are of pure hydroxide; `mass_as_supplied` is what is weighed from a bag.
- **Cautions** of an answer are part of it: read them.
- **Problems** are documents after RFC 9457. They list every fault of a request at once, each with its place and
  how to mend it. Their `type` is the address of a page that explains it.
- A call only computes. It may be repeated safely, and the same request gets the same bytes.

Caustic burns. What is calculated here does not replace the safety data sheet, nor local rules, nor weighing twice.
"""

_PARAMETERS: Final[dict[str, Schema]] = {
    "units": {
        "name": "units",
        "in": "query",
        "description": "Units of the answer: g, mL, °C, kg/L, kJ; or oz, fl_oz, °F, lb/gal, kWh.",
        "schema": {"type": "string", "enum": list(UNIT_SYSTEMS), "default": UNIT_SYSTEMS[0]},
    },
    "digits": {
        "name": "digits",
        "in": "query",
        "description": "Significant digits of every number; all there are where it is not given.",
        "schema": {"type": "integer", "minimum": 1, "maximum": MOST_DIGITS},
        "example": EXAMPLE_DIGITS,
    },
    "explain": {
        "name": "explain",
        "in": "query",
        "description": "Answer also the steps of the calculation, so that a person can redo it by hand.",
        "schema": {"type": "boolean", "default": False},
    },
    "format": {
        "name": "format",
        "in": "query",
        "description": "Format of the answer; wins over the header Accept.",
        "schema": {"type": "string", "enum": list(FORMATS)},
    },
}

_HEADERS: Final[dict[str, Schema]] = {
    "X-Request-Id": {
        "description": "Mark of this request in the service's log: the caller's own, if it sent a usable one.",
        "required": True,
        "schema": {"type": "string", "pattern": f"^{REQUEST_ID.pattern.decode()}$"},
        "example": "batch-12",
    },
    "Data-Version": {
        "description": "Version of the reference data.",
        "required": True,
        "schema": {"type": "string", "minLength": 1},
    },
    "Allow": {
        "description": "Methods this address knows.",
        "required": True,
        "schema": {"type": "string", "minLength": 1},
        "example": "POST, OPTIONS",
    },
}

_CALCULATION_PROBLEMS: Final = (
    INVALID_REQUEST,
    METHOD_NOT_ALLOWED,
    NOT_ACCEPTABLE,
    BODY_TOO_LARGE,
    UNSUPPORTED_MEDIA_TYPE,
    NOT_SENSIBLE,
    INTERNAL,
)
_PAGE_PROBLEMS: Final = (INVALID_REQUEST, METHOD_NOT_ALLOWED, INTERNAL)


def contract(known: Mapping[str, Calculation[Any, Any]]) -> bytes:
    """The contract of some calculations, as bytes that are the same on every machine."""
    document = msgspec.json.encode(openapi(known))
    return msgspec.json.format(document, indent=2) + b"\n"


def operation_id(name: str) -> str:
    """Name of a calculation as a name of a method."""
    return name.replace("-", "_").replace("/", "_")


def openapi(known: Mapping[str, Calculation[Any, Any]]) -> Schema:
    """The contract as a document."""
    types = [kind for calculation in known.values() for kind in (calculation.request, calculation.answer)]
    found, components = schemas([*types, Problem])
    pairs = iter(found)
    paths: dict[str, Schema] = {}
    for name, calculation in known.items():
        paths[f"/v1/{name}"] = {"post": _operation(calculation, next(pairs), next(pairs), known)}
    components["Caution"]["properties"]["code"]["description"] += "\n\n" + "\n".join(
        f"- `{code}` ({ground.severity}): {ground.meaning}" for code, ground in GROUNDS.items()
    )
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Lyestock",
            "version": __version__,
            "summary": "Calculations for soap workshops that work from a concentrated lye stock",
            "description": _DESCRIPTION,
            "contact": {"name": "The operator of this service"},
            "license": {"name": "All rights reserved", "identifier": "LicenseRef-All-rights-reserved"},
        },
        "servers": [{"url": "/", "description": "The service that this contract was read from."}],
        "security": [{}],
        "tags": [
            {"name": "calculations", "description": "What a batch or a stock needs."},
            {"name": "operation", "description": "How the service is, and what it says about itself."},
        ],
        "paths": {**paths, **_pages()},
        "components": {
            "schemas": components,
            "parameters": _PARAMETERS,
            "headers": _HEADERS,
            "responses": {_response_name(kind): _problem(kind) for kind in KINDS.values()},
        },
    }


def _operation(
    calculation: Calculation[Any, Any], request: Schema, answer: Schema, known: Mapping[str, Calculation[Any, Any]]
) -> Schema:
    """The operation of one calculation."""
    examples = calculation.examples
    success: Schema = {
        "description": "The answer.",
        "headers": _header_references("Data-Version", "X-Request-Id"),
        "content": {
            _JSON: {
                "schema": answer,
                "examples": {
                    example.name: {
                        "summary": example.summary,
                        "description": f"Answer to the request of this name, with digits={EXAMPLE_DIGITS}.",
                        "value": example_answer(calculation, example),
                    }
                    for example in examples
                },
            }
        },
    }
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
    return {
        "operationId": operation_id(calculation.name),
        "tags": ["calculations"],
        "summary": calculation.summary,
        "description": calculation.description,
        "parameters": [{"$ref": f"#/components/parameters/{name}"} for name in _PARAMETERS],
        "requestBody": {
            "required": True,
            "content": {
                _JSON: {
                    "schema": request,
                    "examples": {
                        example.name: {"summary": example.summary, "value": example.request} for example in examples
                    },
                }
            },
        },
        "responses": {"200": success, **_problem_references(_CALCULATION_PROBLEMS)},
    }


def example_answer(calculation: Calculation[Any, Any], example: Example) -> Any:
    """The answer to an example, as the contract shows it."""
    body = msgspec.json.encode(example.request)
    return json.loads(renderer("metric", EXAMPLE_DIGITS)(calculation.run(body)))


def example_files(known: Mapping[str, Calculation[Any, Any]]) -> dict[str, bytes]:
    """Every example as a pair of files, by their path: the request, and the answer the contract shows."""
    files: dict[str, bytes] = {}
    for name, calculation in known.items():
        for example in calculation.examples:
            for what, value in (("request", example.request), ("answer", example_answer(calculation, example))):
                pretty = msgspec.json.format(msgspec.json.encode(value), indent=2)
                files[f"{name}/{example.name}.{what}.json"] = pretty + b"\n"
    return files


def _header_references(*names: str) -> Schema:
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}


def _response_name(kind: ProblemKind) -> str:
    return "".join(word.capitalize() for word in kind.name.split("-"))


def _problem_references(kinds: tuple[ProblemKind, ...]) -> Schema:
    return {str(kind.status): {"$ref": f"#/components/responses/{_response_name(kind)}"} for kind in kinds}


def _problem(kind: ProblemKind) -> Schema:
    """A response that is a problem."""
    headers = {
        METHOD_NOT_ALLOWED: ("Allow", "X-Request-Id"),
        NOT_SENSIBLE: ("Data-Version", "X-Request-Id"),
    }.get(kind, ("X-Request-Id",))
    return {
        "description": f"{kind.title}. {kind.meaning}",
        "headers": _header_references(*headers),
        "content": {
            PROBLEM_JSON: {
                "schema": reference("Problem"),
                "examples": {kind.name: {"summary": kind.title, "value": example_problem(kind)}},
            }
        },
    }


def _pages() -> dict[str, Schema]:
    """The operations that only read."""
    word = {"type": "string", "minLength": 1}
    return {
        "/health/live": _page(
            "is_live",
            "Whether the service runs",
            _JSON,
            _closed("Live", "That the service runs.", {"status": {"const": "ok"}}),
        ),
        "/health/ready": _page(
            "is_ready",
            "Whether the service takes requests, and in which version",
            _JSON,
            _closed(
                "Ready",
                "That the service takes requests.",
                {"status": {"const": "ready"}, "version": word, "data_version": word},
            ),
        ),
        "/openapi.json": _page(
            "read_contract",
            "This contract",
            _JSON,
            {"title": "Contract", "description": "An OpenAPI document.", "type": "object"},
            headers=("Data-Version",),
        ),
        "/metrics": _page(
            "read_metrics",
            "What the service counts about itself, for Prometheus",
            "text/plain",
            {"title": "Metrics", "description": "The text format of Prometheus.", "type": "string"},
        ),
        "/docs": _page(
            "open_docs",
            "A page to read this contract and to try it",
            "text/html",
            {"title": "Page", "description": "HTML.", "type": "string"},
        ),
        PAGES + "{kind}": _page(
            "explain_problem",
            "The page that explains a kind of problem",
            "text/html",
            {"title": "Page", "description": "HTML.", "type": "string"},
            parameters=[
                {
                    "name": "kind",
                    "in": "path",
                    "required": True,
                    "description": "Name of the kind.",
                    "schema": {"type": "string", "enum": list(KINDS)},
                    "example": INVALID_REQUEST.name,
                }
            ],
            problems=(NOT_FOUND, *_PAGE_PROBLEMS),
        ),
    }


def _closed(title: str, description: str, members: Schema) -> Schema:
    """An object of some members, all of them there."""
    return {
        "title": title,
        "description": description,
        "type": "object",
        "properties": members,
        "required": list(members),
        "additionalProperties": False,
    }


def _page(
    name: str,
    summary: str,
    media: str,
    schema: Schema,
    *,
    headers: tuple[str, ...] = (),
    parameters: list[Schema] | None = None,
    problems: tuple[ProblemKind, ...] = _PAGE_PROBLEMS,
) -> Schema:
    """An operation that only reads."""
    operation: Schema = {
        "operationId": name,
        "tags": ["operation"],
        "summary": summary,
        "description": f"{summary}. HEAD works as well.",
    }
    if parameters:
        operation["parameters"] = parameters
    operation["responses"] = {
        "200": {
            "description": summary,
            "headers": _header_references(*headers, "X-Request-Id"),
            "content": {media: {"schema": schema}},
        },
        **_problem_references(problems),
    }
    return {"get": operation}
