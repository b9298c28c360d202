"""Parts that operations of the contract share: headers, and responses that are problems."""

from typing import Any, Final

from service.http.bulk_headers import ACCEPT, ENCODINGS
from service.http.contract_operation import OF_PROBLEM
from service.http.negotiation import JSON
from service.http.outer import REQUEST_ID
from service.http.paper import POLICY
from service.http.problems import (
    INVALID_REQUEST,
    METHOD_NOT_ALLOWED,
    NOT_SENSIBLE,
    PROBLEM_JSON,
    UNAVAILABLE,
    UNSUPPORTED_MEDIA_TYPE,
    ProblemKind,
)
from service.http.references import Schema, header_references, reference
from service.reference import reference_data

HEADERS: Final[dict[str, Schema]] = {
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
    "Content-Security-Policy": {
        "description": "That a picture or a page loads nothing and runs nothing; not with JSON.",
        "schema": {"type": "string", "const": POLICY},
        "example": POLICY,
    },
    "Accept": {
        "description": "The type that is due, or all that are, where another one was declared or none.",
        "schema": {"type": "string", "enum": [JSON, ACCEPT]},
        "example": JSON,
    },
    "Accept-Encoding": {
        "description": "The encoding that is due, where the body was compressed.",
        "schema": {"type": "string", "enum": ["identity", ENCODINGS]},
        "example": "identity",
    },
    "Retry-After": {
        "description": "Seconds after which to ask again.",
        "required": True,
        "schema": {"type": "string", "pattern": "^[0-9]+$"},
        "example": "1",
    },
}


def problem_response(kind: ProblemKind, example: Any) -> Schema:
    """A response that is a problem."""
    headers = {
        METHOD_NOT_ALLOWED: ("Allow", "X-Request-Id"),
        NOT_SENSIBLE: ("Data-Version", "X-Request-Id"),
        UNAVAILABLE: ("Retry-After", "X-Request-Id"),
        UNSUPPORTED_MEDIA_TYPE: ("Accept", "Accept-Encoding", "X-Request-Id"),
        **OF_PROBLEM,
    }.get(kind, ("X-Request-Id",))
    referred = header_references(*headers)
    if kind is INVALID_REQUEST:  # pages answer it as well, and without
        referred["Data-Version"] = {**HEADERS["Data-Version"], "required": False}
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
