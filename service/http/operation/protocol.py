"""HTTP/1.1 as it comes over the line, for callers who are slow, greedy or not to be trusted.

protocol      uvicorn's protocol, made careful by the settings

uvicorn takes as long a head as is sent, for as long as it takes, and answers what is no HTTP by a line of plain text.
Here the head of a request has a size and a time, what is refused gets a problem document like everywhere, and what
two programs may read in two ways (RFC 9112, 11.2) is refused: who stands between caller and service must not take a
part of one request for another.
"""

import copyreg
from asyncio import AbstractEventLoop, BaseTransport, TimerHandle
from time import perf_counter
from typing import Any, ClassVar, Final, cast

import httptools
from uvicorn.config import Config
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol
from uvicorn.server import ServerState

from service.http import wire
from service.http.operation.at_line import AT_LINE, AtLine
from service.http.operation.protocol_answers import no_http, refusal, too_large, without_upgrade
from service.http.operation.protocol_waits import PatientProtocol, cancelled
from service.http.operation.settings import Settings
from service.http.problems import INVALID_REQUEST, Trouble

_PER_HEADER: Final = 4
"""Bytes of a header beside its name and its value: a colon, a blank, and the end of the line."""
_VERSIONS: Final = frozenset({"1.0", "1.1"})
"""The parser knows others too, among them requests of one line that tell none."""


class CarefulProtocol(PatientProtocol):
    """One connection.

    Attributes:
        settings: what the operator says.
    """

    settings: ClassVar[Settings]

    def __init__(
        self,
        config: Config,
        server_state: ServerState,
        app_state: dict[str, Any],
        _loop: AbstractEventLoop | None = None,
    ) -> None:
        super().__init__(config, server_state, app_state, _loop)
        self._largest = self.settings.largest_headers
        self._in_body = False
        """Whether a head has come, and its body is not complete."""
        self._trailers: list[tuple[bytes, bytes]] | None = None
        """Where headers go that come behind a body. Once a next request begins, they go elsewhere."""
        self._size = 0
        """Bytes since the last request, or the last part of its body, ended."""
        self._fed = 0
        """Bytes that came last."""
        self._upgrading = False
        self._trouble: Trouble | None = None
        """What nothing more is read after."""
        self._stopped = False
        """Whether that is in a head which is whole."""
        self._since = 0.0
        """When the last data came, by the clock of `time.perf_counter` [s]."""
        self._late: TimerHandle | None = None
        """Ends the wait for what the application does not wait for."""
        self._left = wire.THROWN_AWAY

    # From the line

    def connection_made(self, transport: BaseTransport) -> None:
        """Wait for the first request."""
        super().connection_made(transport)
        self._allow(self.settings.header_seconds)

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop all waiting."""
        self._late = cancelled(self._late)
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Read on."""
        if self._trouble is not None:
            self._throw_away(data)
            return
        self._unset_keepalive_if_required()
        self._since = perf_counter()
        if self._is_read(data):
            cycle = self.cycle
            if self._in_body or cycle is None or cycle.response_complete or self.headers is not self._trailers:
                self._look_at_time()

    def _is_read(self, data: bytes | memoryview) -> bool:
        """Have data parsed; whether that went well.

        A request that offers another protocol is read as if it did not (RFC 9110, 7.8): its body would be lost else.
        There may be thousands of them in the data, which are neither copied nor gone into deeper for each.
        """
        try:
            while True:
                self._fed = len(data)
                self._size += self._fed
                try:
                    self.parser.feed_data(data)
                except httptools.HttpParserUpgrade as upgrade:
                    data = memoryview(data)[upgrade.args[0] :]
                else:
                    return True
                self._upgrading = False
                if self.parser.get_method() == b"CONNECT":
                    self._refuse(Trouble(INVALID_REQUEST, "This is no proxy: CONNECT is not known here."))
                    return False
                head = without_upgrade(self.parser, self.url, self.headers)
                self.parser = httptools.HttpRequestParser(self)
                self._size = 0
                self.parser.feed_data(head)
        except httptools.HttpParserError as error:
            self._refuse(self._trouble or no_http(error))
            return False

    def eof_received(self) -> bool:  # type: ignore[override]
        """A caller who has said all may still listen: what was asked wholly is answered, then the connection ends."""
        cycle = self.cycle
        if self._in_body or cycle is None or cycle.response_complete or self.transport.is_closing():
            return False
        cycle.keep_alive = False
        return True

    # From the parser

    def on_headers_complete(self) -> None:
        """Look at a head before anything is made of it."""
        if self._size > self._largest or self._fed > self._largest:
            self._measure()
        hosts = 0
        for name, value in self.headers:
            if name == b"host":
                hosts += 1
            elif name == b"transfer-encoding" and value.lower() != b"chunked":
                self._stop(Trouble(INVALID_REQUEST, "Of transfer codings only chunked is known. Send the body so."))
        version = self.parser.get_http_version()
        if version not in _VERSIONS:
            self._stop(Trouble(INVALID_REQUEST, f"HTTP/{version} is not known here. Send the request by HTTP/1.1."))
        if hosts != 1 and (hosts or version == "1.1"):
            self._stop(Trouble(INVALID_REQUEST, f"A request has one header Host, and this has {hosts or 'none'}."))
        if self.parser.should_upgrade():
            self._upgrading = True
            return
        HttpToolsProtocol.on_headers_complete(self)
        self._in_body = True
        self.headers = self._trailers = []  # trailers are no headers of the request (RFC 9110, 6.5.1)
        if self._late is not None:
            self._late = cancelled(self._late)

    def on_body(self, body: bytes) -> None:
        """A part of a body."""
        self._size = 0
        HttpToolsProtocol.on_body(self, body)

    def on_message_complete(self) -> None:
        """A request is complete."""
        if not self._upgrading:
            self._in_body = False
            self._size = 0
            HttpToolsProtocol.on_message_complete(self)  # half as dear as super(), and met by every request

    # To the line

    def on_response_complete(self) -> None:
        """An answer is complete: go on to the next request, or tell what came in place of it."""
        more = bool(self.pipeline)
        super().on_response_complete()
        if self.transport.is_closing():
            self._await_reader()
        elif self._trouble is not None and not more:
            self._tell(self._trouble)

    # What is waited for

    def _look_at_time(self) -> None:
        """Give what has begun a time in which it must end, where nobody else does."""
        if self.headers is not self._trailers:  # in a head
            if self._size > self._largest:
                self._refuse(too_large(self.url, self.settings))
            else:
                self._allow(self.settings.header_seconds)
        elif self._in_body:
            if self._size > self._largest and self._size > self._fed:
                # Only what stands around the parts of a body grows so, such as trailers, which the parser keeps.
                self._refuse(too_large(b"", self.settings))
            elif self.cycle.response_complete:
                self._allow(self.settings.request_seconds)
        elif self.cycle is None or self.cycle.response_complete:
            if self._size:  # blank lines before a request
                self._allow(self.settings.header_seconds)
            else:  # the end of a body that was answered before
                self._late = cancelled(self._late)
                self.timeout_keep_alive_task = self.loop.call_later(
                    self.timeout_keep_alive, self.timeout_keep_alive_handler
                )

    def _allow(self, seconds: float) -> None:
        if self._late is None:
            self._late = self.loop.call_later(seconds, self._too_late)

    def _too_late(self) -> None:
        self._late = None
        if self.cycle is not None and not self.cycle.response_complete:
            self._allow(self.settings.header_seconds)  # an answer is due before, and meanwhile nothing may be read
        else:
            self._close()

    # What is refused

    def _stop(self, trouble: Trouble) -> None:
        """Make the parser stop at the end of a head; only the reader of data sees that."""
        self._trouble = trouble
        self._stopped = True
        raise ValueError(trouble.detail)

    def _measure(self) -> None:
        """The exact size of a head; what came with it may belong to its body, or to another."""
        headers = sum(len(name) + len(value) + _PER_HEADER for name, value in self.headers)
        if len(self.url) + headers > self._largest:
            self._stop(too_large(self.url, self.settings))

    def _refuse(self, trouble: Trouble) -> None:
        """Read nothing more; tell why, once the requests before are answered."""
        self._trouble = trouble
        self._late = cancelled(self._late)
        cycle = self.cycle
        if self._in_body:
            if self.pipeline:
                self.pipeline.popleft()  # its own request, which came last; others are answered before
                self._in_body, self._stopped = False, True  # nobody will see it
                return
            cycle.disconnected = True
            cycle.message_event.set()
            if cycle.response_started:
                self._close()
                return
        elif cycle is not None and not cycle.response_complete:
            return
        self._tell(trouble)

    def _tell(self, trouble: Trouble) -> None:
        """Answer, and close; not at once, since closing with bytes unread takes the answer away (RFC 9112, 9.6)."""
        self._unset_keepalive_if_required()
        whole = self._in_body or self._stopped
        desk: AtLine | None = self.app_state.get(AT_LINE)
        if desk is not None and not self._in_body:  # the rate of a request whose head was good has been looked at
            trouble = desk.limited(trouble, self.client, self.scope["headers"] if whole else ())
        url = getattr(self, "url", b"") or b"/"
        answer = refusal(trouble, url, self.server_state.default_headers, any_origin=self.settings.any_origin)
        self.transport.write(answer.head)
        self.transport.write(answer.document)
        if desk is not None:
            method = self.parser.get_method().decode("ascii") if whole else ""
            desk.told(method, trouble, len(answer.document), answer.request_id, perf_counter() - self._since)
        if self._line.can_write_eof():
            self._line.write_eof()
            self._late = self.loop.call_later(wire.LINGER, self._close)
        else:
            self._close()

    def _throw_away(self, data: bytes) -> None:
        self._left -= len(data)
        if self._left < 0:
            self._close()


class _Made(type):
    """Protocols that were made by settings; a worker's process makes the same anew, where one is handed over to it."""

    settings: Settings
    kin: tuple[type[HttpToolsProtocol], ...]


def _anew(made: _Made) -> tuple[Any, ...]:
    return protocol, (made.settings, *made.kin)


copyreg.pickle(_Made, cast("Any", _anew))


def protocol(settings: Settings, *kin: type[HttpToolsProtocol]) -> type[CarefulProtocol]:
    """The protocol of a server, for `uvicorn.Config(http=...)`.

    Args:
        settings: time and size of a head, and the time in which a caller must read.
        kin: what the protocol shall do beside, as other classes on uvicorn's own do it.
    """
    return cast("type[CarefulProtocol]", _Made("Protocol", (CarefulProtocol, *kin), {"settings": settings, "kin": kin}))
