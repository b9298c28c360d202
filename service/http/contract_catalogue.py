"""The catalogue in the contract: its operations, its components, and examples of what is really answered."""

import json
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

import msgspec
from msgspec import UNSET, Struct

from service.calculations.catalogue.catalogue_collections import ACIDS, COLLECTIONS, USUAL, Collection
from service.calculations.catalogue.catalogue_figures import EVIDENCE
from service.calculations.shared.messages import LONGEST_IDENTIFIER, LONGEST_REFERENCE
from service.http.addresses import BASE
from service.http.catalogue import ServedCollection
from service.http.catalogue_query import CSV, MOST_ENTRIES, read_wishes
from service.http.contract_operation import GUARDED
from service.http.negotiation import JSON
from service.http.parameters import Parameter
from service.http.problems import INTERNAL, INVALID_REQUEST, METHOD_NOT_ALLOWED, NOT_ACCEPTABLE, NOT_FOUND
from service.http.references import Schema, header_references, parameter_reference, problem_references, reference
from service.http.tags import CACHE_CONTROL

SHAPES: Final = tuple(collection.shape for collection in COLLECTIONS)
"""Structs whose schemas the components need."""

TAG: Final[Schema] = {
    "name": "catalogue",
    "description": "The reference data: every figure with its limits, its source and how well it was verified.",
}

HEADERS: Final[dict[str, Schema]] = {
    "ETag": {
        "description": "Entity tag of the answer: it depends on address, format, and the versions of service and data.",
        "required": True,
        "schema": {"type": "string", "pattern": '^"[0-9a-f]{32}"$'},
        "example": '"f2b83ee6cdcdeb666e27f20d6cf517f2"',
    },
    "Cache-Control": {
        "description": "How long, and by whom, the answer may be kept.",
        "required": True,
        "schema": {"type": "string", "minLength": 1},
        "example": CACHE_CONTROL,
    },
    "Vary": {
        "description": "The header of the request that the answer depends on.",
        "required": True,
        "schema": {"type": "string", "const": "Accept"},
        "example": "Accept",
    },
    "Link": {
        "description": "Pages `first`, `prev`, `next`, `last` (RFC 8288), where a list does not fit on one page.",
        "schema": {"type": "string", "minLength": 1},
        "example": '</v1/fats?limit=100&offset=100>; rel="next"',
    },
}

_SHARED: Final = ("source", "evidence", "limit", "offset", "units", "digits", "format", "decimal", "reference")
"""Parameters that are the same in every collection."""
_IF_NONE_MATCH: Final[Schema] = {
    "name": "If-None-Match",
    "in": "header",
    "description": "Entity tags of answers the caller has: if it has this one, the answer is 304 without a body.",
    "schema": {"type": "string"},
    "example": '"f2b83ee6cdcdeb666e27f20d6cf517f2"',
}
_PROBLEMS: Final = (INVALID_REQUEST, NOT_FOUND, METHOD_NOT_ALLOWED, NOT_ACCEPTABLE, INTERNAL, *GUARDED)
_TABLE: Final = "CatalogueTable"
_CITES: Final = {
    "fats": "saponification_value/source",
    "liquids": "water/source",
    "acids": "molar_mass/source",
    "alkalis": "purity/source",
    "vessel-materials": "heat_capacity/source",
    "fatty-acids": "molar_mass/source",
    "practices": "source",
}
"""Where an entry of a collection names a source: to follow from there."""


def parameters(collections: Iterable[ServedCollection]) -> dict[str, Schema]:
    """Components of the parameters that all collections share, and of the header for entity tags."""
    found = {one.name: one for served in collections for one in served.of_list if one.name in _SHARED}
    return {
        **{f"catalogue_{name}": found[name].component() for name in _SHARED},
        "if_none_match": _IF_NONE_MATCH,
    }


def paths(collections: Iterable[ServedCollection]) -> dict[str, Schema]:
    """The operations of the catalogue."""
    found = {}
    for served in collections:
        path = BASE + served.collection.path
        found[path] = {"get": _list(served)}
        found[path + "/{id}"] = {"get": _read(served)}
    return found


def complete(components: dict[str, Schema], collections: Sequence[ServedCollection]) -> None:
    """Add what the structs of the entries do not say: answers, pages, words of evidence, and examples.

    Args:
        components: schemas of all components, SHAPES among them.
        collections: all collections; the examples are taken from them.
    """
    for name, example in _examples(collections).items():
        component = components[name]
        component["examples"] = [example]
        if "evidence" in component["properties"]:
            component["properties"]["evidence"] = reference("Evidence") | {"description": "How well it was verified."}
    components["Evidence"] = {
        "title": "Evidence",
        "description": "How well a figure was verified.\n\n"
        + "\n".join(f"- `{word}`: {meaning}" for word, meaning in EVIDENCE.items()),
        "type": "string",
        "enum": list(EVIDENCE),
        "examples": ["seen-primary"],
    }
    components[_TABLE] = {
        "title": _TABLE,
        "description": "CSV after RFC 4180, in UTF-8: a header, then a row for each entry. A column is a member's "
        "path, as in `saponification_value.low [mg/g]` or `fatty_acids.shares.C18:1.value [1]`, with the unit in "
        "brackets; an item of a list is named by its number, from 0. The columns are the same whatever is chosen; a "
        "cell is empty where an entry lacks the member. A text that begins with = + - @, a tab or a line break "
        "has an apostrophe before it, so that no spreadsheet takes it for a formula; numbers never have.",
        "type": "string",
        "examples": [next(_page_example(one, CSV).decode() for one in collections if one.collection is ACIDS)],
    }
    for served in collections:
        collection = served.collection
        entry = components[collection.shape.__name__]
        always = _always(served.version)
        components[_answer_name(collection)] = {
            **entry,
            "title": _answer_name(collection),
            "description": f"{entry['description']} With the version of the data.",
            "properties": {**entry["properties"], **always},
            "required": [*entry["required"], "data_version"],
            "examples": [json.loads(_entry_example(served, JSON))],
        }
        components[_page_name(collection)] = _page(collection, always, json.loads(_page_example(served, JSON)))


def _page(collection: Collection, always: dict[str, Schema], example: Any) -> Schema:
    """The schema of a list."""
    count = {"type": "integer", "minimum": 0}
    members = {
        "items": {
            "description": "The entries of this page, in the order of the data.",
            "type": "array",
            "items": reference(collection.shape.__name__),
            "maxItems": MOST_ENTRIES,
        },
        "total": {"description": "Entries that were found, on all pages.", **count},
        "limit": {"description": "Entries that a page holds at most.", **count, "minimum": 1, "maximum": MOST_ENTRIES},
        "offset": {"description": "Entries passed over before the first of this page.", **count},
        **always,
    }
    return {
        "title": _page_name(collection),
        "description": f"A page of a list. {collection.text}",
        "type": "object",
        "properties": members,
        "required": [name for name in members if name != "reference"],
        "additionalProperties": False,
        "examples": [example],
    }


def _always(version: str) -> dict[str, Schema]:
    return {
        "data_version": {
            "description": "Version of the reference data.",
            "type": "string",
            "minLength": 1,
            "examples": [version],
        },
        "reference": {
            "description": "The caller's own mark, where one was given.",
            "type": "string",
            "maxLength": LONGEST_REFERENCE,
            "examples": ["sheet 7, cell B2"],
        },
    }


def _list(served: ServedCollection) -> Schema:
    """The operation that answers a list."""
    collection = served.collection
    name = collection.path.replace("-", "_")
    return {
        "operationId": f"list_{name}",
        "tags": [TAG["name"]],
        "summary": f"{collection.title}: a list",
        "description": f"{collection.text} In the order of the data; conditions that are given must all be met. HEAD "
        "works as well.",
        "parameters": _references(served.of_list),
        "responses": {
            "200": {
                "description": "The entries.",
                "headers": _headers(*HEADERS),
                "content": {
                    JSON: _media(_page_name(collection), json.loads(_page_example(served, JSON))),
                    CSV: _media(_TABLE, _page_example(served, CSV).decode()),
                },
                "links": {
                    "readFirst": {
                        "operationId": _read_name(collection),
                        "description": "Read the first entry alone.",
                        "parameters": {"id": "$response.body#/items/0/id"},
                    }
                },
            },
            **_others(listed=True),
        },
    }


def _read(served: ServedCollection) -> Schema:
    """The operation that answers one entry."""
    collection = served.collection
    one = collection.one.replace("-", " ")
    success: Schema = {
        "description": "The entry.",
        "headers": _headers(*(name for name in HEADERS if name != "Link")),
        "content": {
            JSON: _media(_answer_name(collection), json.loads(_entry_example(served, JSON))),
            CSV: _media(_TABLE, _entry_example(served, CSV).decode()),
        },
    }
    if collection.path in _CITES:
        success["links"] = {
            "readSource": {
                "operationId": "read_source",
                "description": "Read the source that it cites.",
                "parameters": {"id": f"$response.body#/{_CITES[collection.path]}"},
            }
        }
    identifier = {
        "name": "id",
        "in": "path",
        "required": True,
        "description": f"Identifier of the {one}. One that is not in the catalogue is answered with 404.",
        "schema": {"type": "string", "pattern": collection.pattern, "maxLength": LONGEST_IDENTIFIER},
        "example": collection.example,
    }
    return {
        "operationId": _read_name(collection),
        "tags": [TAG["name"]],
        "summary": f"{collection.title}: one entry",
        "description": f"All that is known of one {one}. HEAD works as well.",
        "parameters": [identifier, *_references(served.of_entry)],
        "responses": {"200": success, **_others(listed=False)},
    }


def _others(*, listed: bool) -> Schema:
    """All answers but the good one."""
    return {
        "304": {
            "description": "The caller has this answer already: If-None-Match names its entity tag. There is no body.",
            "headers": _headers(*(name for name in HEADERS if listed or name != "Link")),
        },
        **problem_references(kind for kind in _PROBLEMS if kind is not NOT_FOUND or not listed),
    }


def _media(schema: str, example: Any) -> Schema:
    return {"schema": reference(schema), "example": example}


def _headers(*names: str) -> Schema:
    return header_references(*names, "Data-Version", "X-Request-Id")


def _references(known: Iterable[Parameter]) -> list[Schema]:
    shared = [parameter_reference(f"catalogue_{one.name}") if one.name in _SHARED else one.component() for one in known]
    return [*shared, parameter_reference("if_none_match")]


def _read_name(collection: Collection) -> str:
    return f"read_{collection.one.replace('-', '_')}"


def _answer_name(collection: Collection) -> str:
    return collection.shape.__name__.replace("Entry", "Answer")


def _page_name(collection: Collection) -> str:
    return collection.shape.__name__.replace("Entry", "Page")


def _page_example(served: ServedCollection, media: str) -> bytes:
    wishes, given, _ = read_wishes(b"limit=1", served.of_list, None)
    return served.page(wishes, given, media).body


def _entry_example(served: ServedCollection, media: str) -> bytes:
    wishes, _, _ = read_wishes(b"", served.of_entry, None)
    return served.entry(served.collection.example, wishes, media).body


def _examples(collections: Sequence[ServedCollection]) -> dict[str, Any]:
    """The first instance of every struct that the entries hold, by the struct's name."""
    found: dict[str, Any] = {}
    for served in collections:
        for entry in served.catalogue.entries(served.collection, USUAL):
            for one in _structs(entry):
                found.setdefault(type(one).__name__, msgspec.to_builtins(one))
    return found


def _structs(node: object) -> Iterator[Struct]:
    if isinstance(node, Struct):
        yield node
        for name in node.__struct_fields__:
            if (value := getattr(node, name)) is not UNSET:
                yield from _structs(value)
    elif isinstance(node, tuple | dict):
        for one in node.values() if isinstance(node, dict) else node:
            yield from _structs(one)
