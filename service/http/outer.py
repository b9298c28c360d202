"""The outermost application: what every answer needs, and the short way to the calculations.

A calculation's path is looked up in a table and served at once; all else goes to Litestar. Whatever must
hold for every request (request id, cross-origin access, and what an operator may want to limit or count)
has its place here, once.
"""

import re
import secrets
from collections.abc import Mapping, Sequence
from itertools import count
from time import perf_counter
from typing import Final

from service.http.addresses import nothing_at
from service.http.metrics import UNANSWERED, Metrics
from service.http.wire import PROBLEM, REQUEST, App, Message, Receive, Scope, Send, answer_trouble

REQUEST_ID: Final = re.compile(rb"[A-Za-z0-9._-]{1,64}")

EVERY: Final = (
    (b"access-control-allow-origin", b"*"),
    (b"access-control-expose-headers", b"Allow, Data-Version, ETag, Link, X-Request-Id"),
    (b"x-content-type-options", b"nosniff"),
)
"""Headers of every answer: scripts of any origin may call, since nothing here is bound to a session."""
PREFLIGHT: Final = (
    (b"access-control-allow-methods", b"GET, HEAD, POST, OPTIONS"),
    (b"access-control-allow-headers", b"Accept, Content-Encoding, Content-Type, If-None-Match, X-Request-Id"),
    (b"access-control-max-age", b"86400"),
)


class Outer:
    """The application a server runs."""

    def __init__(
        self, endpoints: Mapping[str, tuple[str, App]], rest: App, metrics: Metrics, addresses: Sequence[str] = ()
    ) -> None:
        """Put the application together.

        Args:
            endpoints: for the path of every calculation its name and the application that serves it.
            rest: serves all else.
            metrics: counts the requests.
            addresses: every path there is, to name the one that may be meant.
        """
        self._lanes = {path: (serve, metrics.calculation(name)) for path, (name, serve) in endpoints.items()}
        self._rest = rest
        self._metrics = metrics
        self._addresses = addresses
        self._prefix = secrets.token_hex(6).encode()
        self._numbers = count(1)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request, or the life cycle."""
        if scope["type"] != "http":
            await self._rest(scope, receive, send)
            return
        started = perf_counter()
        method, path = scope["method"], scope["path"]
        identifier = scope[REQUEST] = self._request_id(scope["headers"])
        mark = (b"x-request-id", identifier)
        extra = (mark, *EVERY, *PREFLIGHT) if method == "OPTIONS" else (mark, *EVERY)
        headless = method == "HEAD"
        status = UNANSWERED

        async def sender(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                message["headers"] = [*message["headers"], *extra]
            elif headless and message["type"] == "http.response.body":
                message["body"] = b""
            await send(message)

        serve, meter = self._lanes.get(path) or (self._way_of(path), None)
        metrics = self._metrics
        metrics.in_flight += 1
        try:
            await serve(scope, receive, sender)
        finally:
            metrics.in_flight -= 1
            if meter is None:
                meter = metrics.page(scope.get("path_template"))
            meter.served(status, perf_counter() - started)
            if PROBLEM in scope:
                metrics.problem(scope[PROBLEM])

    def _way_of(self, path: str) -> App:
        """A path with an empty segment would be the same page under a second address."""
        return self._rest if path == "/" or (path[-1:] != "/" and "//" not in path) else self._nothing

    async def _nothing(self, scope: Scope, _: Receive, send: Send) -> None:
        await answer_trouble(scope, send, nothing_at(scope["path"], self._addresses))

    def _request_id(self, headers: list[tuple[bytes, bytes]]) -> bytes:
        for name, value in headers:
            if name == b"x-request-id" and REQUEST_ID.fullmatch(value):
                return value
        return b"%b-%x" % (self._prefix, next(self._numbers))
