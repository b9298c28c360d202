"""How parts of the contract are named, and referred to from where they are used."""

from collections.abc import Iterable
from typing import Any, Final

from service.http.problems import ProblemKind

Schema = dict[str, Any]

SCHEMAS: Final = "#/components/schemas/{name}"
"""Where the schema of a name stands."""


def reference(name: str) -> Schema:
    """A reference to a schema."""
    return {"$ref": SCHEMAS.format(name=name)}


def header_references(*names: str) -> Schema:
    """References to some headers."""
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}


def parameter_reference(name: str) -> Schema:
    """A reference to a parameter."""
    return {"$ref": f"#/components/parameters/{name}"}


def response_name(kind: ProblemKind) -> str:
    """Name of the response that is a problem of this kind."""
    return "".join(word.capitalize() for word in kind.name.split("-"))


def problem_references(kinds: Iterable[ProblemKind]) -> Schema:
    """References to the responses that are problems, by their status."""
    ordered = sorted(kinds, key=lambda kind: kind.status)
    return {str(kind.status): {"$ref": f"#/components/responses/{response_name(kind)}"} for kind in ordered}
