"""The contract: an OpenAPI 3.1 document made from the registered calculations.

It is made anew at every start from the very objects that serve the requests, so that it cannot say anything
else than what is done; the committed copy is compared with it in the tests.
"""

import json
from collections.abc import Iterator, Mapping
from typing import Any, Final

import msgspec

from service import __version__
from service.calculations.catalogue_collections import catalogue
from service.calculations.cautions import GROUNDS
from service.calculations.faults import Refusal
from service.calculations.registry import Calculation, Example
from service.calculations.rendering import MOST_DIGITS, renderer
from service.http import catalogue_contract
from service.http.catalogue import shelves
from service.http.outer import REQUEST_ID
from service.http.parameters import FORMATS, UNIT_SYSTEMS, read_query
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
    refused,
)
from service.http.schemas import Schema, add_examples, reference, schemas
from service.reference import reference_data

EXAMPLE_DIGITS: Final = 6
"""Digits of the answers in the contract: the last digits of a machine's own arithmetic do not belong there."""

_INVENTED: Final = "The workshop is invented."
_WIDTH: Final = 280
_MOST_LEAVES: Final = 24
"""Values that a line of the written contract may hold."""

_JSON: Final = "application/json"

_DESCRIPTION: Final = """\
Lyestock calculates for soap workshops that draw their alkali from a concentrated lye stock: the alkali that fats
need, the stock that holds it and the liquid to add beside it, what a stock is by its strength, and how hot the next
mixing gets.

## How to ask

- **A call** is a POST with a JSON object. It only computes: making it again does no harm, and brings the same
  bytes.
- **A quantity in** is a text with its unit (`"170.1 g"`, `"6 oz"`, `"20 °C"`), or an object with `value` and
  `unit`, or with limits or an uncertainty. A number without unit is refused where a unit is needed; a number is
  written with a decimal point. `oz` is mass; a fluid ounce is a volume and is refused where a mass is due.
- **`mass`, beside an alkali,** is that of the pure hydroxide; `mass_as_supplied` is what is weighed from a bag.
- **Unknown members and parameters** are refused, so that a slip of the pen is not a default in silence. A member that
  may be left out may also be null.

## How to read the answer

- **A quantity out** is `{"value": ..., "unit": ...}`; where it is uncertain, `low` and `high` are the ends of
  the interval that holds 95 %. Nothing is rounded unless `digits` asks for it. It may be sent on as it is.
- **Cautions** of an answer are part of it: read them. **Assumed** lists every default that was used.
- **Members may be added** to answers within `/v1`; a program leaves alone what it does not know.
- **Links** of a response lead from one calculation to the next.
- **Problems** are documents after RFC 9457. They list every fault of a request at once (the first hundred, and how
  many there are), each with its place and how to mend it. Their `type` is the address of a page that explains it.

## What the schemas cannot say

What fits a schema is refused with status 400 only where no schema can tell: `out-of-range`, since the limits of a
quantity depend on its unit and those of a text cannot be stated at all; `repeated-member`, and `malformed-json`.
Status 422 is for chemistry, physics and the catalogue. Where a request has faults of the first kind, its
`unknown-identifier` are told with them, with status 400; whatever else chemistry objects is told once it can be read.

## Every address

HEAD works wherever GET does. OPTIONS answers 204 with the header Allow everywhere. Every answer bears `X-Request-Id`,
and headers that let scripts of any origin read it (`Access-Control-Allow-Origin`, `Access-Control-Expose-Headers`) and
keep browsers from guessing its type (`X-Content-Type-Options`). Lists in the examples of components are cut to three
items; the examples of the operations are whole.

Caustic burns. What is calculated here does not replace the safety data sheet, nor local rules, nor weighing twice.
"""

_PARAMETERS: Final[dict[str, Schema]] = {
    "units": {
        "name": "units",
        "in": "query",
        "description": "Units of the answer: g, mL, °C, kg/L, kJ; or oz, fl_oz, °F, lb/gal, kWh.",
        "schema": {"type": "string", "enum": list(UNIT_SYSTEMS), "default": UNIT_SYSTEMS[0]},
        "example": UNIT_SYSTEMS[0],
    },
    "digits": {
        "name": "digits",
        "in": "query",
        "description": "Significant digits of every number; all there are where it is not given. Ends of an "
        "interval are rounded outwards.",
        "schema": {"type": "integer", "minimum": 1, "maximum": MOST_DIGITS},
        "example": EXAMPLE_DIGITS,
    },
    "explain": {
        "name": "explain",
        "in": "query",
        "description": "Answer also the steps of the calculation, to be followed with a pocket calculator. "
        "`digits` rounds the numbers in them, too.",
        "schema": {"type": "boolean", "default": False},
        "example": False,
    },
    "format": {
        "name": "format",
        "in": "query",
        "description": "Format of the answer; wins over the header Accept.",
        "schema": {"type": "string", "enum": list(FORMATS)},
        "example": FORMATS[0],
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
        "description": "Version of the reference data: a digest of their content.",
        "required": True,
        "schema": {"type": "string", "minLength": 1},
        "example": reference_data().version,
    },
    "Allow": {
        "description": "Methods this address knows.",
        "required": True,
        "schema": {"type": "string", "minLength": 1},
        "example": "POST, OPTIONS",
    },
    "Accept": {
        "description": "The type that is due, where another one was declared or none.",
        "schema": {"type": "string", "const": _JSON},
        "example": _JSON,
    },
    "Accept-Encoding": {
        "description": "The encoding that is due, where the body was compressed.",
        "schema": {"type": "string", "const": "identity"},
        "example": "identity",
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
    return pretty(openapi(known))


def pretty(document: Any) -> bytes:
    """A document for people as well: what fits into a line stands in one, all else member by member."""
    return _lines(document, "").encode() + b"\n"


def _lines(node: Any, indent: str) -> str:
    if _leaves(node) <= _MOST_LEAVES:
        line = json.dumps(node, ensure_ascii=False)
        if len(indent) + len(line) <= _WIDTH or not isinstance(node, dict | list):
            return line
    deeper = indent + "  "
    if isinstance(node, dict):
        rows = [f"{json.dumps(name, ensure_ascii=False)}: {_lines(one, deeper)}" for name, one in node.items()]
        opened, closed = "{", "}"
    else:
        rows = [_lines(one, deeper) for one in node]
        opened, closed = "[", "]"
    return f"{opened}\n{deeper}" + f",\n{deeper}".join(rows) + f"\n{indent}{closed}"


def _leaves(node: Any) -> int:
    """How much a value holds, at least; enough to tell that it does not fit into a line."""
    if not isinstance(node, dict | list):
        return 1
    if len(node) > _MOST_LEAVES:
        return len(node)
    return sum(_leaves(one) for one in (node.values() if isinstance(node, dict) else node))


def operation_id(name: str) -> str:
    """Name of a calculation as a name of a method."""
    return name.replace("-", "_").replace("/", "_")


def openapi(known: Mapping[str, Calculation[Any, Any]]) -> Schema:
    """The contract as a document."""
    types = [kind for calculation in known.values() for kind in (calculation.request, calculation.answer)]
    found, components = schemas([*types, Problem, *catalogue_contract.SHAPES])
    pairs = iter(found)
    paths: dict[str, Schema] = {}
    for name, calculation in known.items():
        paths[f"/v1/{name}"] = {"post": _operation(calculation, next(pairs), next(pairs), known)}
    components["Caution"]["properties"]["code"]["description"] += "\n\n" + "\n".join(
        f"- `{code}` ({ground.severity}): {ground.meaning}" for code, ground in GROUNDS.items()
    )
    add_examples(components, _samples(known, types, found))
    listed = shelves(catalogue())
    catalogue_contract.complete(components, listed)
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
            catalogue_contract.TAG,
            {"name": "operation", "description": "How the service is, and what it says about itself."},
        ],
        "paths": {**paths, **catalogue_contract.paths(listed), **_pages()},
        "components": {
            "schemas": dict(sorted(components.items())),
            "parameters": {**_PARAMETERS, **catalogue_contract.parameters(listed)},
            "headers": {**_HEADERS, **catalogue_contract.HEADERS},
            "responses": {_response_name(kind): _problem(kind, _shown(kind, known)) for kind in KINDS.values()},
        },
    }


def _samples(
    known: Mapping[str, Calculation[Any, Any]], types: list[type], found: list[Schema]
) -> Iterator[tuple[Schema, Any]]:
    """Requests, answers and a problem, each with its schema, for the examples of the components."""
    schema_of = dict(zip(types, found, strict=False))
    yield reference("Problem"), _shown(INVALID_REQUEST, known)
    for calculation in known.values():
        for example in calculation.examples:
            yield schema_of[calculation.request], example.request
            yield schema_of[calculation.answer], example_answer(calculation, example)
        for example in calculation.examples[:1]:
            yield schema_of[calculation.answer], example_answer(calculation, example, explain=True)


def _operation(
    calculation: Calculation[Any, Any], request: Schema, answer: Schema, known: Mapping[str, Calculation[Any, Any]]
) -> Schema:
    """The operation of one calculation."""
    examples = calculation.examples
    success: Schema = {
        "description": f"The answer: {calculation.summary[0].lower()}{calculation.summary[1:]}.",
        "headers": _header_references("Data-Version", "X-Request-Id"),
        "content": {
            _JSON: {
                "schema": answer,
                "examples": {
                    example.name: {
                        "summary": example.summary,
                        "description": f"Answer to the request of this name, with digits={EXAMPLE_DIGITS}. "
                        + (example.source or _INVENTED),
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
            "description": (calculation.request.__doc__ or "").strip(),
            "required": True,
            "content": {
                _JSON: {
                    "schema": request,
                    "examples": {
                        example.name: {
                            "summary": example.summary,
                            "description": example.source or _INVENTED,
                            "value": example.request,
                        }
                        for example in examples
                    },
                }
            },
        },
        "responses": {"200": success, **_problem_references(_CALCULATION_PROBLEMS)},
    }


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


def _header_references(*names: str) -> Schema:
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}


def _response_name(kind: ProblemKind) -> str:
    return "".join(word.capitalize() for word in kind.name.split("-"))


def _problem_references(kinds: tuple[ProblemKind, ...]) -> Schema:
    return {str(kind.status): {"$ref": f"#/components/responses/{_response_name(kind)}"} for kind in kinds}


_FAULTY: Final[dict[ProblemKind, tuple[bytes, bytes]]] = {
    INVALID_REQUEST: (b"unit=us", b'{"fats": [{"fat": "olive-oil", "mass": 170.1}]}'),
    NOT_SENSIBLE: (b"", b'{"fats": [{"fat": "olive", "mass": "1 kg"}]}'),
}
"""Query and body of a request that is refused so."""
_ASKED_IN_EXAMPLES: Final = "saponification"


def _shown(kind: ProblemKind, known: Mapping[str, Calculation[Any, Any]]) -> Any:
    """An example of a problem: what is really answered to a faulty request, where there is one."""
    if kind not in _FAULTY or _ASKED_IN_EXAMPLES not in known:
        return example_problem(kind)
    query, body = _FAULTY[kind]
    _, faults = read_query(query)
    try:
        known[_ASKED_IN_EXAMPLES].run(body)
    except Refusal as one:
        faults.extend(one.faults)
    refusal = Refusal(400 if kind is INVALID_REQUEST else 422, faults)
    return json.loads(refused(refusal).document(f"/v1/{_ASKED_IN_EXAMPLES}"))


def _problem(kind: ProblemKind, example: Any) -> Schema:
    """A response that is a problem."""
    headers = {
        METHOD_NOT_ALLOWED: ("Allow", "X-Request-Id"),
        NOT_SENSIBLE: ("Data-Version", "X-Request-Id"),
        UNSUPPORTED_MEDIA_TYPE: ("Accept", "Accept-Encoding", "X-Request-Id"),
    }.get(kind, ("X-Request-Id",))
    referred = _header_references(*headers)
    if kind is INVALID_REQUEST:  # pages answer it as well, and without
        referred["Data-Version"] = {**_HEADERS["Data-Version"], "required": False}
    return {
        "description": f"{kind.title}. {kind.meaning}",
        "headers": referred,
        "content": {
            PROBLEM_JSON: {
                "schema": reference("Problem"),
                "examples": {kind.name: {"summary": kind.title, "description": kind.mend, "value": example}},
            }
        },
    }


def _pages() -> dict[str, Schema]:
    """The operations that only read."""
    return {
        "/health/live": _page(
            "is_live",
            "Whether the service runs",
            _JSON,
            _closed("Live", "That the service runs.", {"status": ("It runs.", {"type": "string", "const": "ok"})}),
            example={"status": "ok"},
        ),
        "/health/ready": _page(
            "is_ready",
            "Whether the service takes requests, and in which version",
            _JSON,
            _closed(
                "Ready",
                "That the service takes requests.",
                {
                    "status": ("It takes requests.", {"type": "string", "const": "ready"}),
                    "version": ("Version of the service.", {"type": "string", "minLength": 1}),
                    "data_version": ("Version of the reference data.", {"type": "string", "minLength": 1}),
                },
            ),
            example={"status": "ready", "version": __version__, "data_version": reference_data().version},
        ),
        "/openapi.json": _page(
            "read_contract",
            "This contract",
            _JSON,
            {"title": "Contract", "description": "An OpenAPI document.", "type": "object"},
            example={"openapi": "3.1.0", "info": {"title": "Lyestock", "version": __version__}, "paths": {}},
            headers=("Data-Version",),
        ),
        "/metrics": _page(
            "read_metrics",
            "What the service counts about itself, for Prometheus",
            "text/plain",
            {"title": "Metrics", "description": "The text format of Prometheus.", "type": "string"},
            example="# TYPE lyestock_requests_total counter\n",
        ),
        "/docs": _page(
            "open_docs",
            "A page to read this contract and to try it",
            "text/html",
            {"title": "Page", "description": "HTML.", "type": "string"},
            example="<!doctype html>...",
        ),
        PAGES + "{kind}": _page(
            "explain_problem",
            "The page that explains a kind of problem",
            "text/html",
            {"title": "Page", "description": "HTML.", "type": "string"},
            example="<!doctype html>...",
            parameters=[
                {
                    "name": "kind",
                    "in": "path",
                    "required": True,
                    "description": "Name of the kind: the last part of `type`.",
                    "schema": {"type": "string", "enum": list(KINDS)},
                    "example": INVALID_REQUEST.name,
                }
            ],
            problems=(NOT_FOUND, *_PAGE_PROBLEMS),
        ),
    }


def _closed(title: str, description: str, members: dict[str, tuple[str, Schema]]) -> Schema:
    """An object of some members, each with its description, all of them there."""
    return {
        "title": title,
        "description": description,
        "type": "object",
        "properties": {name: {**schema, "description": said} for name, (said, schema) in members.items()},
        "required": list(members),
        "additionalProperties": False,
    }


def _page(
    name: str,
    summary: str,
    media: str,
    schema: Schema,
    *,
    example: Any = None,
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
            "content": {media: {"schema": schema} | ({} if example is None else {"example": example})},
        },
        **_problem_references(problems),
    }
    return {"get": operation}
