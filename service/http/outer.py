"""The outermost application: what every answer needs, and the short way to the calculations.

A calculation's path is looked up in a table and served at once; all else goes to Litestar. Whatever must hold for
every request has its place here, once: request id, cross-origin access, keys, rates, limits, and counting.
"""

import asyncio
import re
import secrets
from collections.abc import Mapping, Sequence
from itertools import count
from time import perf_counter
from typing import Final

from service.http.addresses import BASE, VALUES, nothing_at
from service.http.metrics import IN_FLIGHT, UNANSWERED, Metrics
from service.http.operation.at_line import AT_LINE, AtLine
from service.http.operation.guard import HEALTH, Guard, Headers, Origins, Seen, privately
from service.http.operation.log_lines import Lines, Served
from service.http.operation.readiness import PROCESS
from service.http.operation.room import Room
from service.http.operation.settings import DEFAULTS, Settings
from service.http.operation.trace import TRACE, TRACEPARENT, trace_id
from service.http.operation.watch import Watch
from service.http.problems import REQUEST_TIMEOUT, RETRY, UNAVAILABLE, Trouble
from service.http.value_query import wants_inline
from service.http.values import refuse_value
from service.http.wire import (
    CLOSE,
    PROBLEM,
    REQUEST,
    ROOM,
    App,
    BodyWaited,
    Message,
    Receive,
    Scope,
    Send,
    answer_trouble,
)

REQUEST_ID: Final = re.compile(rb"[A-Za-z0-9._-]{1,64}")

_EXPOSED: Final = b"Allow, Data-Version, ETag, Link, RateLimit, RateLimit-Policy, Retry-After, X-Request-Id"
ALL: Final = (
    (b"access-control-expose-headers", _EXPOSED),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
)
"""Headers of every answer. An address may hold a key, and is told to no other page."""
ANY_ORIGIN: Final = (b"access-control-allow-origin", b"*")
"""Scripts of any origin may call, since nothing here is bound to a session."""
PREFLIGHT: Final = (
    (b"access-control-allow-methods", b"GET, HEAD, POST, OPTIONS"),
    (
        b"access-control-allow-headers",
        b"Accept, Authorization, Content-Encoding, Content-Type, If-None-Match, Traceparent, Tracestate, X-Request-Id",
    ),
    (b"access-control-max-age", b"86400"),
)
_VALUES: Final = BASE + VALUES


class Outer:
    """The application a server runs."""

    def __init__(
        self,
        endpoints: Mapping[str, tuple[str, App]],
        rest: App,
        metrics: Metrics,
        addresses: Sequence[str] = (),
        *,
        settings: Settings = DEFAULTS,
        lines: Lines | None = None,
    ) -> None:
        """Put the application together.

        Args:
            endpoints: for the path of every calculation its name and the application that serves it.
            rest: serves all else.
            metrics: counts the requests.
            addresses: every path there is, to name the one that may be meant.
            settings: keys, rates and limits.
            lines: where a line for each request goes; none is written where it is not given.
        """
        self._lanes = {path: (serve, metrics.calculation(name)) for path, (name, serve) in endpoints.items()}
        self._rest = rest
        self._metrics = metrics
        self._addresses = addresses
        self._lines = lines
        self._prefix = secrets.token_hex(6).encode()
        self._numbers = count(1)
        self._room = Room(settings)
        self._guard = Guard(settings, self._room)
        self._at_line = AtLine(settings, self._guard, metrics, lines)
        self._origins = Origins(settings)
        self._every: Headers = (ANY_ORIGIN, *ALL) if self._origins.any else ALL
        self._watch = Watch(settings.request_seconds)
        self._seconds = settings.request_seconds
        self._most = settings.most_concurrent

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request, or the life cycle."""
        if scope["type"] != "http":
            await self._live(scope, receive, send)
            return
        started = perf_counter()
        method, path = scope["method"], scope["path"]
        identifier = scope[REQUEST] = self._request_id(scope)
        any_origin = self._origins.any
        headless = method == "HEAD"
        status, size = UNANSWERED, 0
        trouble, told, keyed = self._admitted(scope)
        asked = PREFLIGHT if method == "OPTIONS" else ()
        extra: Headers = ((b"x-request-id", identifier), *self._every, *told, *asked)
        if not any_origin:
            extra += self._origins.of(scope["headers"])
        metrics = self._metrics

        async def sender(message: Message) -> None:
            nonlocal status, size
            running.since = perf_counter()
            if message["type"] == "http.response.start":
                status = message["status"]
                headers = message["headers"] if any_origin else self._origins.varied(message["headers"])
                message["headers"] = [*(privately(headers) if keyed else headers), *extra]
            elif headless:
                message["body"] = b""
            else:
                size += len(message.get("body", b""))
            await send(message)

        serve, meter = self._lanes.get(path) or (self._way_of(path), None)
        metrics.whole[IN_FLIGHT] += 1
        running = self._watch.enter(started)
        try:
            await (serve(scope, receive, sender) if trouble is None else _refuse(scope, sender, trouble))
        except asyncio.CancelledError as cut:
            if not (running.late or PROCESS.draining):
                raise
            if status == UNANSWERED:
                await self._cut_off(scope, sender, late=running.late, body_waited=isinstance(cut, BodyWaited))
        finally:
            self._watch.leave(running)
            self._room.leave(scope)
            metrics.whole[IN_FLIGHT] -= 1
            if meter is None:
                meter = metrics.page(scope.get("path_template"))
            seconds, kind = perf_counter() - started, scope.get(PROBLEM)
            meter.served(status, seconds)
            if kind is not None:
                metrics.problem(kind)
            if self._lines is not None:
                self._lines.add(
                    Served(method, meter.template, status, seconds, size, identifier, scope.get(TRACE), kind)
                )

    async def _live(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Begin and end; whoever speaks with the callers is told where to tell what it refuses."""
        if "state" in scope:
            scope["state"][AT_LINE] = self._at_line
        await self._rest(scope, receive, send)

    def _admitted(self, scope: Scope) -> Seen:
        """Look at a request before it is read."""
        scope[ROOM] = self._room
        path: str = scope["path"]
        if self._metrics.whole[IN_FLIGHT] >= self._most and path not in HEALTH:
            return Seen(Trouble(UNAVAILABLE, UNAVAILABLE.example, headers=RETRY), (), keyed=False)
        guard = self._guard
        if not (guard.watches or scope["query_string"] or len(path) > _SHORT):
            return _PLAIN
        trouble = guard.too_long(scope)
        return guard.look(scope) if trouble is None else Seen(trouble, (), keyed=False)

    async def _cut_off(self, scope: Scope, send: Send, *, late: bool, body_waited: bool) -> None:
        """Answer a request that did not get on, or not until the service ends.

        What is left of it is not read, so the connection ends.
        """
        if not late:
            trouble = Trouble(UNAVAILABLE, _ENDED, headers=(*RETRY, CLOSE))
        elif body_waited:
            trouble = Trouble(
                REQUEST_TIMEOUT, f"The body was not complete after {self._seconds:g} s.", headers=(CLOSE,)
            )
        else:
            detail = f"No answer was ready after {self._seconds:g} s. Ask for less at once."
            trouble = Trouble(UNAVAILABLE, detail, headers=(*RETRY, CLOSE))
        await answer_trouble(scope, send, trouble)

    def _way_of(self, path: str) -> App:
        """A path with an empty segment would be the same page under a second address."""
        return self._rest if path == "/" or (path[-1:] != "/" and "//" not in path) else self._nothing

    async def _nothing(self, scope: Scope, _: Receive, send: Send) -> None:
        await answer_trouble(scope, send, nothing_at(scope["path"], self._addresses))

    def _request_id(self, scope: Scope) -> bytes:
        """The request id that came, or a new one; what trace the request belongs to is kept in the scope."""
        found = None
        traces = []
        for name, value in scope["headers"]:
            if name == b"x-request-id":
                if found is None and REQUEST_ID.fullmatch(value):
                    found = value
            elif name == TRACEPARENT:
                traces.append(value)
        if len(traces) == 1:
            scope[TRACE] = trace_id(traces[0])
        return found or b"%b-%x" % (self._prefix, next(self._numbers))


_PLAIN: Final = Seen(None, (), keyed=False)
_ENDED: Final = "The service ends, and this was not done in the time there was. Ask again in 1 s."
_SHORT: Final = 512
"""Characters of a path that cannot be too long, whatever is set."""


async def _refuse(scope: Scope, send: Send, trouble: Trouble) -> None:
    """Refuse a request before it is read; a cell that wants to show what is wrong is told so there."""
    if scope["path"].startswith(_VALUES) and scope["method"] in {"GET", "HEAD"} and wants_inline(scope["query_string"]):
        await refuse_value(scope, send, trouble)
    else:
        await answer_trouble(scope, send, trouble)
