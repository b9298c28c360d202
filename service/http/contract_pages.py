"""The pages in the contract: the operations that only tell how the service is, and what it says about itself."""

from typing import Any, Final

from service import __version__
from service.http.contract_operation import LIMITED, NO_KEY
from service.http.negotiation import JSON
from service.http.problems import (
    INTERNAL,
    INVALID_REQUEST,
    KINDS,
    METHOD_NOT_ALLOWED,
    NOT_FOUND,
    PAGES,
    UNAUTHORIZED,
    UNAVAILABLE,
    ProblemKind,
)
from service.http.references import Schema, header_references, problem_references
from service.reference import reference_data

_PROBLEMS: Final = (INVALID_REQUEST, METHOD_NOT_ALLOWED, INTERNAL, *LIMITED)


def paths() -> dict[str, Schema]:
    """The operations that only read."""
    return {
        "/health/live": _page(
            "is_live",
            "Whether the service runs",
            JSON,
            _closed("Live", "That the service runs.", {"status": ("It runs.", {"type": "string", "const": "ok"})}),
            example={"status": "ok"},
        ),
        "/health/ready": _page(
            "is_ready",
            "Whether the service takes requests, and in which version",
            JSON,
            _closed(
                "Ready",
                "That the service takes requests.",
                {
                    "status": ("It takes requests.", {"type": "string", "const": "ready"}),
                    "version": ("Version of the service.", {"type": "string", "minLength": 1}),
                    "data_version": ("Version of the reference data.", {"type": "string", "minLength": 1}),
                    "build": (
                        "What was built, as the operator calls it; empty where it is not said.",
                        {"type": "string"},
                    ),
                },
            ),
            example={"status": "ready", "version": __version__, "data_version": reference_data().version, "build": ""},
            problems=(*_PROBLEMS, UNAVAILABLE),
        ),
        "/openapi.json": _page(
            "read_contract",
            "This contract",
            JSON,
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
            problems=(*_PROBLEMS, UNAUTHORIZED),
        ),
        "/docs": _page(
            "open_docs",
            "A page to read this contract and to try it",
            "text/html",
            {"title": "Page", "description": "HTML.", "type": "string"},
            example="<!doctype html>...",
        ),
        "/words": _page(
            "explain_words",
            "The words of the trade that questions and answers use, each explained once",
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
            problems=(NOT_FOUND, *_PROBLEMS),
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
    problems: tuple[ProblemKind, ...] = _PROBLEMS,
) -> Schema:
    """An operation that only reads."""
    operation: Schema = {
        "operationId": name,
        "tags": ["operation"],
        "summary": summary,
        "description": f"{summary}. HEAD works as well.",
    }
    if UNAUTHORIZED not in problems:
        operation["security"] = NO_KEY
    if parameters:
        operation["parameters"] = parameters
    operation["responses"] = {
        "200": {
            "description": summary,
            "headers": header_references(*headers, "X-Request-Id"),
            "content": {media: {"schema": schema} | ({} if example is None else {"example": example})},
        },
        **problem_references(problems),
    }
    return {"get": operation}
