"""What the contract says of keys, and of what any address may refuse before it looks at a request."""

from typing import Final

from service.http.problems import (
    ADDRESS_TOO_LONG,
    HEADERS_TOO_LARGE,
    TOO_MANY_REQUESTS,
    UNAUTHORIZED,
    UNAVAILABLE,
)
from service.http.references import Schema

LIMITED: Final = (ADDRESS_TOO_LONG, TOO_MANY_REQUESTS, HEADERS_TOO_LARGE, UNAVAILABLE)
"""Problems of every address."""
GUARDED: Final = (UNAUTHORIZED, *LIMITED)
"""Problems of every address that needs a key where keys are given out."""

SECURITY: Final[list[Schema]] = [{}, {"bearer": []}, {"key": []}]
"""Whether keys are given out is up to who runs a service."""
NO_KEY: Final[list[Schema]] = []
SCHEMES: Final[dict[str, Schema]] = {
    "bearer": {
        "type": "http",
        "scheme": "bearer",
        "description": "A key, where whoever runs the service gives keys out; without need it does no harm.",
    },
    "key": {
        "type": "apiKey",
        "in": "query",
        "name": "key",
        "description": "The same key in the address, for callers that cannot set headers, such as a cell of a "
        "spreadsheet. It is never written to a log here; a file that holds such an address holds the key.",
    },
}

HEADERS: Final[dict[str, Schema]] = {
    "WWW-Authenticate": {
        "description": "How to show a key (RFC 6750).",
        "required": True,
        "schema": {"type": "string", "pattern": '^Bearer realm="lyestock"'},
        "example": 'Bearer realm="lyestock"',
    },
    "Retry-After": {
        "description": "Time after which asking again makes sense [s].",
        "required": True,
        "schema": {"type": "integer", "minimum": 1},
        "example": 3,
    },
    "RateLimit": {
        "description": "Requests that are left (r), and time until as many as there may be are (t) [s]; IETF draft "
        "ietf-httpapi-ratelimit-headers. Told with every answer where a rate is set.",
        "schema": {"type": "string", "pattern": '^"(?:address|key)";r=[0-9]+;t=[0-9]+$'},
        "example": '"address";r=0;t=60',
    },
    "RateLimit-Policy": {
        "description": "Requests there may be (q) in how much time (w) [s]; from the same draft.",
        "schema": {"type": "string", "pattern": '^"(?:address|key)";q=[0-9]+;w=[0-9]+$'},
        "example": '"address";q=1200;w=60',
    },
}
OF_PROBLEM: Final = {
    UNAUTHORIZED: ("WWW-Authenticate", "X-Request-Id"),
    TOO_MANY_REQUESTS: ("RateLimit", "RateLimit-Policy", "Retry-After", "X-Request-Id"),
    UNAVAILABLE: ("Retry-After", "X-Request-Id"),
}
"""Headers that these problems have."""
