"""The outermost application: what every answer needs, and the short way to the calculations.

A calculation's path is looked up in a table and served at once; all else goes to Litestar. Whatever must
hold for every request (request id, cross-origin access, and what an operator may want to limit or count)
has its place here, once.
"""

import re
import secrets
from collections.abc import Mapping
from itertools import count
from typing import Final

from service.http.problems import NOT_FOUND, Trouble
from service.http.wire import App, Message, Receive, Scope, Send, answer_trouble

REQUEST_ID: Final = re.compile(rb"[A-Za-z0-9._-]{1,64}")

EVERY: Final = (
    (b"access-control-allow-origin", b"*"),
    (b"access-control-expose-headers", b"Allow, Data-Version, X-Request-Id"),
    (b"x-content-type-options", b"nosniff"),
)
"""Headers of every answer: scripts of any origin may call, since nothing here is bound to a session."""
PREFLIGHT: Final = (
    (b"access-control-allow-methods", b"GET, HEAD, POST, OPTIONS"),
    (b"access-control-allow-headers", b"Accept, Content-Type, X-Request-Id"),
    (b"access-control-max-age", b"86400"),
)


class Outer:
    """The application a server runs."""

    def __init__(self, endpoints: Mapping[str, App], rest: App) -> None:
        self._endpoints = endpoints
        self._rest = rest
        self._prefix = secrets.token_hex(6).encode()
        self._numbers = count(1)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request, or the life cycle."""
        if scope["type"] != "http":
            await self._rest(scope, receive, send)
            return
        mark = (b"x-request-id", self._request_id(scope["headers"]))
        extra = (mark, *EVERY, *PREFLIGHT) if scope["method"] == "OPTIONS" else (mark, *EVERY)

        headless = scope["method"] == "HEAD"

        async def sender(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message["headers"], *extra]
            elif headless and message["type"] == "http.response.body":
                message["body"] = b""
            await send(message)

        path = scope["path"]
        serve = self._endpoints.get(path)
        if serve is None:
            serve = self._rest if path == "/" or (path[-1:] != "/" and "//" not in path) else _nothing
        await serve(scope, receive, sender)

    def _request_id(self, headers: list[tuple[bytes, bytes]]) -> bytes:
        for name, value in headers:
            if name == b"x-request-id" and REQUEST_ID.fullmatch(value):
                return value
        return b"%b-%x" % (self._prefix, next(self._numbers))


async def _nothing(scope: Scope, _: Receive, send: Send) -> None:
    """A path with an empty segment would be the same page under a second address."""
    await answer_trouble(scope, send, Trouble(NOT_FOUND, "There is nothing at this path; it has a slash too many."))
