"""Every operation of the contract as it is called with its own examples, in every format it has."""

import json
import re
from collections.abc import Iterator
from typing import Any, Final, NamedTuple
from urllib.parse import quote, urlencode

from service.calculations.values.value_registry import values
from tests.contract.documents import BULKS, DOCUMENT, POSTS, request_examples

JSON: Final = "application/json"


class Call(NamedTuple):
    """A call, what it should be answered as, and the schema of that where it is JSON."""

    method: str
    address: str
    body: bytes | None
    kind: str
    wanted: str
    schema: dict[str, Any] | None

    @property
    def headers(self) -> list[tuple[str, str]]:
        """Headers to send."""
        return [("accept", self.wanted), *([("content-type", self.kind)] if self.body is not None else [])]


def example_calls() -> Iterator[Call]:
    """All of them."""
    for path, post in POSTS.items():
        for body in request_examples(path).values():
            for query in ("", "?explain=true"):
                yield from _calls("POST", path + query, json.dumps(body).encode(), JSON, post)
    for path, post in BULKS.items():
        for kind, told in post["requestBody"]["content"].items():
            example = told["example"]
            body = example.encode() if isinstance(example, str) else json.dumps(example).encode()
            yield from _calls("POST", path, body, kind, post)
    for path, item in DOCUMENT["paths"].items():
        if "get" in item:
            yield from _calls("GET", _address(path, item["get"]), None, "", item["get"])


def _calls(method: str, address: str, body: bytes | None, kind: str, operation: dict[str, Any]) -> Iterator[Call]:
    for wanted, told in operation["responses"]["200"]["content"].items():
        yield Call(method, address, body, kind, wanted, told["schema"] if wanted == JSON else None)


def _address(path: str, operation: dict[str, Any]) -> str:
    known = {one["name"]: one["example"] for one in operation.get("parameters", ()) if "example" in one}
    address = re.sub(r"\{(\w+)\}", lambda found: quote(str(known[found[1]]), safe=":"), path)
    for name, value in values().items():
        if path == f"/v1/values/{name}":
            query = {one.name: one.example for one in value.inputs if one.name not in value.beside}
            return f"{address}?{urlencode(query)}"
    return address
