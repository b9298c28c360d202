"""Bytes in and bytes out, on the terms of ASGI."""

import asyncio
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from contextlib import suppress
from typing import Any, Final

from service.http.problems import BODY_TOO_LARGE, PROBLEM_JSON, Trouble, path_of

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

PROBLEM: Final = "lyestock.problem"
"""Where a scope holds the name of the kind of problem it was answered with."""
REQUEST: Final = "lyestock.request"
"""Where a scope holds the request id."""
ROOM: Final = "lyestock.room"
"""Where a scope holds what counts the bytes that are held for all requests; nothing counts where it is not set."""
SMALL: Final = 1 << 16
"""Bytes of a body that are held without being counted."""
BODY_LIMIT: Final = 1 << 20
"""Bytes a request may hold."""
FEWER: Final = "Send one request for each calculation."
THROWN_AWAY: Final = 16 << 20
"""Bytes of a refused body that are taken from the line and dropped, so that the caller gets to read the answer."""
LINGER: Final = 2.0
"""Seconds that this may take."""
CLOSE: Final = (b"connection", b"close")
"""Header of an answer after which the connection ends, of HTTP/1."""


class Gone(Exception):  # noqa: N818 - says what the caller is
    """The caller left before the body had come."""


class BodyWaited(asyncio.CancelledError):
    """The request was cut off while its body was waited for."""


async def read_body(
    scope: Scope, receive: Receive, declared: bytes, limit: int = BODY_LIMIT, mend: str = FEWER
) -> bytes:
    """The whole body.

    Args:
        scope: the request.
        receive: channel of the request.
        declared: value of Content-Length, empty where the body comes in chunks.
        limit: bytes taken at most.
        mend: what to do where there are more.

    Raises:
        Trouble: 413, as soon as the body is known to be too large; 503, where there is no room for it.
        Gone: the caller left.
        BodyWaited: it was not complete in the time there is.
    """
    digits = declared.lstrip(b"0")
    if len(digits) > len(str(limit)) or (digits.isdigit() and int(digits) > limit):
        raise _too_large(limit, mend)
    chunks: list[bytes] = []
    size = 0
    while True:
        try:
            message = await receive()
        except asyncio.CancelledError:
            raise BodyWaited from None
        if message["type"] != "http.request":
            raise Gone
        chunk: bytes = message.get("body", b"")
        size += len(chunk)
        if size > limit:
            raise _too_large(limit, mend)
        hold(scope, size)
        chunks.append(chunk)
        if not message.get("more_body", False):
            return chunks[0] if len(chunks) == 1 else b"".join(chunks)


def hold(scope: Scope, size: int) -> None:
    """Count the bytes that are held of a large body.

    Args:
        scope: the request.
        size: bytes, with those before.

    Raises:
        Trouble: 503, where there is no room for them.
    """
    if size > SMALL and ROOM in scope:
        scope[ROOM].hold(scope, size)


def _too_large(limit: int, mend: str) -> Trouble:
    detail = f"At most {limit} bytes ({limit >> 20} MiB) are taken. {mend}"
    return Trouble(BODY_TOO_LARGE, detail)


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


async def answer_and_part(scope: Scope, receive: Receive, send: Send, trouble: Trouble) -> None:
    """Send a problem document while the caller still sends, and close the connection.

    Closing with bytes unread would take the answer from the caller's hands before it is read (RFC 9112, 9.6). So what
    comes is thrown away for a while: until the caller stops, or has sent too much, or time is up.
    """
    scope[PROBLEM] = trouble.kind.name
    document = trouble.document(path_of(scope))
    close = (CLOSE,) if scope.get("http_version", "").startswith("1") else ()
    headers = [
        (b"content-type", PROBLEM_JSON.encode()),
        (b"content-length", b"%d" % len(document)),
        *trouble.headers,
        *close,
    ]
    await send({"type": "http.response.start", "status": trouble.kind.status, "headers": headers})
    await send({"type": "http.response.body", "body": document, "more_body": True})
    with suppress(TimeoutError):
        async with asyncio.timeout(LINGER):
            left = THROWN_AWAY
            while left > 0:
                message = await receive()
                left -= len(message.get("body", b""))
                if message["type"] != "http.request" or not message.get("more_body", False):
                    break
    await send({"type": "http.response.body", "body": b"", "more_body": False})
