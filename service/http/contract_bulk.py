"""Many items at once in the contract: their operations, and examples of what is really answered."""

from collections.abc import Mapping
from functools import cache
from typing import Any, Final

import msgspec

from service.calculations.registry import Calculation, Example
from service.http.addresses import BASE, BULK
from service.http.bulk_examples import MEDIA, answer_of, body_of
from service.http.bulk_items import MOST_ITEMS
from service.http.bulk_query import CSV, NDJSON, OWN, PARAMETERS, read_wishes
from service.http.calculation_query import EXAMPLE_DIGITS
from service.http.contract_calculations import PROBLEMS, operation_id
from service.http.contract_layout import pretty
from service.http.negotiation import JSON
from service.http.references import Schema, header_references, parameter_reference, problem_references, reference
from service.http.schemas import cut

TAG: Final[Schema] = {
    "name": "bulk",
    "description": f"One calculation for up to {MOST_ITEMS} requests in one call, as JSON, as lines or as a table. A "
    "request that is refused spoils none of the others.",
}
_OWN: Final = frozenset(one.name for one in OWN)
_DESCRIPTION: Final = f"""\
Each item is a request as `{{path}}` takes it, and gets the answer it would get there, in the order they were sent. What
is wrong with an item is its own problem, with pointers into that item; the status of the whole is 200. Only what leaves
open where an item ends, or what a column is, is refused as a whole: broken JSON, more than {MOST_ITEMS} items, a column
that no member has, a row with other cells than the header.

- **JSON** is an object with `items` alone; **NDJSON** has an item on each line, and a blank line is passed over.
- **CSV** has a row for each item. A column is the path of a member, its steps joined by dots, places of lists counted
  from 0: `stocks.0.strength.mass_fraction [%]`. The unit of a quantity stands in its header, and a cell with another
  unit is refused; fractions and ratios need none (`0.05`, `5 %`, `2:1`). Ends and uncertainties are columns of their
  own: `mass.low [g]`, `mass.high [g]`, `mass.uncertainty [g]`. An empty cell leaves its member out.
- **A table that is answered** has `index`, `reference` and `status`, then the members of the answers in the same way,
  then those of the problems, below `problem`. It begins when all items are calculated, since only then its columns are
  known; JSON and NDJSON begin at once.
- **gzip** is taken (`Content-Encoding`) and given (`Accept-Encoding`). A body has 32 MiB at most, unpacked too."""

_COMPONENTS: Final[dict[str, Schema]] = {
    "BulkLines": {
        "title": "BulkLines",
        "description": "NDJSON: a JSON document on each line, in UTF-8. In a request each is an item, in an answer a "
        "result, as JSON lists them under `results`.",
        "type": "string",
        "minLength": 1,
    },
    "BulkTable": {
        "title": "BulkTable",
        "description": "CSV after RFC 4180 in UTF-8: a header, and a row for each item. A column is the path of a "
        "member, with the unit of a quantity in brackets. decimal=comma separates by semicolons.",
        "type": "string",
        "minLength": 1,
    },
}


def _name(calculation: Calculation[Any, Any]) -> str:
    """Beginning of the names of a calculation's components."""
    return "Bulk" + "".join(word.capitalize() for word in operation_id(calculation.name).split("_"))


def components(known: Mapping[str, Calculation[Any, Any]], schema_of: Mapping[type, Schema]) -> dict[str, Schema]:
    """Schemas of bodies and answers, with examples of what is really answered.

    Args:
        known: the calculations by their names.
        schema_of: schemas of their requests and answers.
    """
    found: dict[str, Schema] = {}
    for calculation in known.values():
        if not calculation.examples:
            continue
        asked, answered = (cut(msgspec.json.decode(example(calculation, what, JSON))) for what in ("request", "answer"))
        name = _name(calculation)
        found[f"{name}Request"] = _request(name, calculation, schema_of[calculation.request]) | {"examples": [asked]}
        found[f"{name}Result"] = _result(name, calculation, schema_of[calculation.answer]) | {
            "examples": answered["results"]
        }
        found[f"{name}Answer"] = _answer(name) | {"examples": [answered]}
    first = next((one for one in known.values() if one.examples), None)
    if first is not None:
        for name, media in (("BulkLines", NDJSON), ("BulkTable", CSV)):
            found[name] = _COMPONENTS[name] | {"examples": [example(first, "request", media).decode()]}
    return found


def _request(name: str, calculation: Calculation[Any, Any], request: Schema) -> Schema:
    return {
        "title": f"{name}Request",
        "description": f"Requests to {BASE}{calculation.name}. One that does not fit its schema gets a problem in its "
        "place; the others are answered.",
        "type": "object",
        "properties": {
            "items": {
                "type": "array",
                "description": "The requests.",
                "items": request,
                "minItems": 1,
                "maxItems": MOST_ITEMS,
            }
        },
        "required": ["items"],
        "additionalProperties": False,
    }


def _result(name: str, calculation: Calculation[Any, Any], answer: Schema) -> Schema:
    return {
        "title": f"{name}Result",
        "description": "What came of an item: its answer or its problem.",
        "type": "object",
        "properties": {
            "index": {
                "type": "integer",
                "minimum": 0,
                "maximum": MOST_ITEMS - 1,
                "description": "Place of the item among those sent; the first is 0.",
            },
            "reference": {
                "type": "string",
                "maxLength": 200,
                "description": "The item's own mark, as it was sent; left out where it has none.",
            },
            "status": {
                "type": "integer",
                "minimum": 200,
                "maximum": 599,
                "description": "The status that the item alone would get.",
            },
            "result": answer | {"description": f"The answer, as {BASE}{calculation.name} gives it."},
            "problem": reference("Problem") | {"description": "What is wrong; pointers lead into the item."},
        },
        "required": ["index", "status"],
        "oneOf": [
            {"title": f"{name}Answered", "description": "The item was answered.", "required": ["result"]},
            {"title": f"{name}Refused", "description": "The item was refused.", "required": ["problem"]},
        ],
        "additionalProperties": False,
    }


def _answer(name: str) -> Schema:
    count = {"type": "integer", "minimum": 0, "maximum": MOST_ITEMS}
    return {
        "title": f"{name}Answer",
        "description": "What came of the items, in their order, and how many were answered and refused.",
        "type": "object",
        "properties": {
            "results": {
                "type": "array",
                "description": "What came of each item.",
                "items": reference(f"{name}Result"),
                "minItems": 1,
                "maxItems": MOST_ITEMS,
            },
            "succeeded": count | {"description": "How many items were answered."},
            "failed": count | {"description": "How many were refused."},
        },
        "required": ["results", "succeeded", "failed"],
        "additionalProperties": False,
    }


def shared_parameters() -> dict[str, Schema]:
    """Components of the parameters that single calls do not have, or have otherwise."""
    return {f"bulk_{one.name}": one.component() for one in OWN}


def paths(known: Mapping[str, Calculation[Any, Any]]) -> dict[str, Schema]:
    """The operations.

    Args:
        known: the calculations by their names.
    """
    return {f"{BASE}{BULK}{name}": {"post": _operation(one)} for name, one in known.items() if one.examples}


def _operation(calculation: Calculation[Any, Any]) -> Schema:
    name = _name(calculation)
    headers: Schema = {
        **header_references("Data-Version", "X-Request-Id"),
        "Vary": {
            "description": "The headers of the request that the answer depends on.",
            "required": True,
            "schema": {"type": "string", "const": "Accept, Accept-Encoding"},
            "example": "Accept, Accept-Encoding",
        },
        "Content-Encoding": {
            "description": "Given where the answer is packed.",
            "schema": {"type": "string", "const": "gzip"},
            "example": "gzip",
        },
    }
    parameters = [f"bulk_{one.name}" if one.name in _OWN else one.name for one in PARAMETERS]
    return {
        "operationId": f"bulk_{operation_id(calculation.name)}",
        "tags": [TAG["name"]],
        "summary": f"{calculation.summary}, for many requests at once",
        "description": _DESCRIPTION.replace("{path}", BASE + calculation.name),
        "parameters": [parameter_reference(one) for one in parameters],
        "requestBody": {
            "description": "The items.",
            "required": True,
            "content": _content(calculation, "request", f"{name}Request"),
        },
        "responses": {
            "200": {
                "description": "What came of each item.",
                "headers": headers,
                "content": _content(calculation, "answer", f"{name}Answer"),
            },
            **problem_references(PROBLEMS),
        },
    }


def _content(calculation: Calculation[Any, Any], what: str, schema: str) -> Schema:
    """Body or answer in every format."""
    named = {JSON: schema, NDJSON: "BulkLines", CSV: "BulkTable"}
    content: Schema = {}
    for media, name in named.items():
        shown = example(calculation, what, media)
        value = msgspec.json.decode(shown) if media == JSON else shown.decode()
        content[media] = {"schema": reference(name), "example": value}
    return content


@cache
def example(calculation: Calculation[Any, Any], what: str, media: str) -> bytes:
    """An example of a calculation as one item, or what is answered to it.

    Args:
        calculation: the calculation.
        what: `request` or `answer`.
        media: media type of both.
    """
    body = body_of([{"reference": "batch 12"} | _shortest(calculation).request], media)
    if what == "request":
        return body
    wishes, _ = read_wishes(f"digits={EXAMPLE_DIGITS}".encode())
    return answer_of(calculation, body, media, wishes, media)


@cache
def _shortest(calculation: Calculation[Any, Any]) -> Example:
    """The example that asks for least, so that the contract stays short."""
    return min(calculation.examples, key=lambda one: len(msgspec.json.encode(one.request)))


def example_files(known: Mapping[str, Calculation[Any, Any]]) -> dict[str, bytes]:
    """Every example as files, by their path: the request and the answer in each format.

    Args:
        known: the calculations by their names.
    """
    files: dict[str, bytes] = {}
    for name, calculation in known.items():
        for media, ending in MEDIA.items():
            for what in ("request", "answer"):
                shown = example(calculation, what, media)
                path = f"{BULK}{name}/{_shortest(calculation).name}.{what}.{ending}"
                files[path] = pretty(msgspec.json.decode(shown)) if media == JSON else shown
    return files
