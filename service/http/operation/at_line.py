"""What is refused at the line, before the application sees it: counted, logged and taken off the caller's rate, too."""

import logging
from collections.abc import Iterable
from typing import Any, Final

from uvicorn.middleware.proxy_headers import ProxyHeadersMiddleware

from service.http.metrics import LINE, Metrics
from service.http.operation.guard import Guard
from service.http.operation.log_lines import Lines, Served
from service.http.operation.settings import Settings
from service.http.problems import TOO_MANY_REQUESTS, Trouble

AT_LINE: Final = "lyestock.at-line"
"""Where the state of the server, which the application fills as it begins (ASGI, lifespan state), holds an `AtLine`."""

_LOG: Final = logging.getLogger("lyestock.line")


class AtLine:
    """What the protocol tells of the requests that it refuses."""

    def __init__(self, settings: Settings, guard: Guard, metrics: Metrics, lines: Lines | None) -> None:
        """Begin.

        Args:
            settings: which proxies are trusted.
            guard: has the rates of callers.
            metrics: counts.
            lines: where a line for each request goes; none is written where it is not given.
        """
        self._trusted = ProxyHeadersMiddleware(_nothing, [*settings.trusted_proxies]).trusted_hosts
        self._guard = guard
        self._metrics = metrics
        self._lines = lines

    def limited(
        self, trouble: Trouble, peer: tuple[str, int] | None, headers: Iterable[tuple[bytes, bytes]]
    ) -> Trouble:
        """Take a request off the rate of its caller.

        Args:
            trouble: why it is refused.
            peer: who is at the other end of the line.
            headers: of the request, where its head is whole; else none.

        Returns:
            The trouble with what is told of the rate, or that too much was asked.
        """
        caller = self._caller("" if peer is None else peer[0], headers)
        if caller is None:
            return trouble
        refused, told = self._guard.at_line(caller)
        return refused or Trouble(trouble.kind, trouble.detail, headers=(*trouble.headers, *told))

    def told(self, method: str, trouble: Trouble, size: int, request_id: bytes, seconds: float) -> None:
        """Count and log that a request was refused.

        Args:
            method: of the request, empty where it is not known.
            trouble: what was answered.
            size: bytes of the document.
            request_id: that the caller was told.
            seconds: time since the last of the request came [s].
        """
        kind = trouble.kind
        self._metrics.line.served(kind.status, seconds)
        self._metrics.problem(kind.name)
        if self._lines is not None:
            self._lines.add(Served(method, LINE, kind.status, seconds, size, request_id, None, kind.name))
        if kind is not TOO_MANY_REQUESTS:
            told = {"request_id": request_id.decode("ascii"), "route": LINE}
            _LOG.warning("A request was refused at the line: %s", trouble.detail, extra=told)

    def _caller(self, peer: str, headers: Iterable[tuple[bytes, bytes]]) -> str | None:
        """The address of a caller; None where a trusted proxy stands before it, and does not tell it."""
        if peer not in self._trusted:
            return peer
        told = b", ".join(value for name, value in headers if name == b"x-forwarded-for").decode("latin-1")
        caller: str = self._trusted.get_trusted_client_address(told)[0] if told else ""
        return caller or None


async def _nothing(_: Any, __: Any, ___: Any) -> None:
    """The application behind a middleware of which only the list of those who are trusted is used."""
