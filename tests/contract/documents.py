"""The contract as a document, and validators of its parts; for the tests that read it."""

import json
from functools import cache
from typing import Any, Final

from jsonschema_rs import Draft202012Validator

from service.calculations.registry import calculations
from service.calculations.values.value_registry import values
from service.http.contract import openapi

DOCUMENT: Final[dict[str, Any]] = json.loads(json.dumps(openapi(calculations(), values())))
SCHEMAS: Final[dict[str, Any]] = DOCUMENT["components"]["schemas"]
_ALL: Final[dict[str, Any]] = {path: item["post"] for path, item in DOCUMENT["paths"].items() if "post" in item}
POSTS: Final[dict[str, Any]] = {path: post for path, post in _ALL.items() if post["tags"] == ["calculations"]}
"""The calculations, one request each."""
BULKS: Final[dict[str, Any]] = {path: post for path, post in _ALL.items() if post["tags"] == ["bulk"]}
"""The same for many requests at once."""


def request_schema(path: str) -> dict[str, Any]:
    found: dict[str, Any] = POSTS[path]["requestBody"]["content"]["application/json"]["schema"]
    return found


def request_examples(path: str) -> dict[str, Any]:
    examples = POSTS[path]["requestBody"]["content"]["application/json"]["examples"]
    return {name: example["value"] for name, example in examples.items()}


def answer_examples(path: str) -> dict[str, Any]:
    examples = POSTS[path]["responses"]["200"]["content"]["application/json"]["examples"]
    return {name: example["value"] for name, example in examples.items()}


def validator(schema: dict[str, Any]) -> Draft202012Validator:
    """A validator of a part of the contract, with all components at hand.

    Its regular expressions are those of ECMA 262, as JSON Schema wants them; Python's own end before a last newline.
    """
    return Draft202012Validator({**schema, "components": {"schemas": SCHEMAS}})


@cache
def component(name: str) -> Draft202012Validator:
    """The validator of a component."""
    return validator({"$ref": f"#/components/schemas/{name}"})
