"""Bytes in and bytes out, on the terms of ASGI."""

from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from typing import Any, Final

from service.http.problems import BODY_TOO_LARGE, PROBLEM_JSON, Trouble, path_of

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

PROBLEM: Final = "lyestock.problem"
"""Where a scope holds the name of the kind of problem it was answered with."""
BODY_LIMIT: Final = 1 << 20
"""Bytes a request may hold."""


class Gone(Exception):  # noqa: N818 - says what the caller is
    """The caller left before the body had come."""


async def read_body(receive: Receive, declared: bytes, limit: int = BODY_LIMIT) -> bytes:
    """The whole body.

    Args:
        receive: channel of the request.
        declared: value of Content-Length, empty where the body comes in chunks.
        limit: bytes taken at most.

    Raises:
        Trouble: 413, as soon as the body is known to be too large.
        Gone: the caller left.
    """
    if len(declared) > len(str(limit)) or (declared.isdigit() and int(declared) > limit):
        raise _too_large(limit)
    chunks: list[bytes] = []
    size = 0
    while True:
        message = await receive()
        if message["type"] != "http.request":
            raise Gone
        chunk: bytes = message.get("body", b"")
        size += len(chunk)
        if size > limit:
            raise _too_large(limit)
        chunks.append(chunk)
        if not message.get("more_body", False):
            return chunks[0] if len(chunks) == 1 else b"".join(chunks)


def _too_large(limit: int) -> Trouble:
    return Trouble(BODY_TOO_LARGE, f"At most {limit} bytes are taken.")


async def answer(
    send: Send,
    status: int,
    body: bytes,
    media: bytes,
    headers: Iterable[tuple[bytes, bytes]] = (),
) -> None:
    """Send one answer."""
    await send(
        {
            "type": "http.response.start",
            "status": status,
            "headers": [(b"content-type", media), (b"content-length", b"%d" % len(body)), *headers],
        }
    )
    await send({"type": "http.response.body", "body": body, "more_body": False})


async def answer_empty(send: Send, headers: Iterable[tuple[bytes, bytes]]) -> None:
    """Send 204, which has no body."""
    await send({"type": "http.response.start", "status": 204, "headers": [*headers]})
    await send({"type": "http.response.body", "body": b"", "more_body": False})


async def answer_trouble(scope: Scope, send: Send, trouble: Trouble) -> None:
    """Send a problem document."""
    scope[PROBLEM] = trouble.kind.name
    document = trouble.document(path_of(scope))
    await answer(send, trouble.kind.status, document, PROBLEM_JSON.encode(), trouble.headers)
