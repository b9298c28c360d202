"""HTTP/1.1 as it comes over the line, for callers who are slow, greedy or not to be trusted.

protocol      uvicorn's protocol, made careful by the settings

uvicorn takes as long a head as is sent, for as long as it takes, and answers what is no HTTP by a line of plain text.
Here the head of a request has a size and a time, what is refused gets a problem document like everywhere, and what
two programs may read in two ways (RFC 9112, 11.2) is refused: who stands between caller and service must not take a
part of one request for another.
"""

import copyreg
from asyncio import AbstractEventLoop, BaseTransport, TimerHandle, Transport
from typing import Any, ClassVar, Final, cast

import httptools
from uvicorn.config import Config
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol
from uvicorn.server import ServerState

from service.http import wire
from service.http.operation.protocol_answers import no_http, refusal, too_large
from service.http.operation.settings import Settings
from service.http.problems import INVALID_REQUEST, Trouble

_PER_HEADER: Final = 4
"""Bytes of a header beside its name and its value: a colon, a blank, and the end of the line."""


class CarefulProtocol(HttpToolsProtocol):
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
        self._late: TimerHandle | None = None
        """Ends the wait for what the application does not wait for."""
        self._stuck: TimerHandle | None = None
        """Ends the wait for a caller that does not read."""
        self._left = wire.THROWN_AWAY
        self._line: Transport
        """The transport itself, whatever is put before it."""

    # From the line

    def connection_made(self, transport: BaseTransport) -> None:
        """Wait for the first request."""
        self._line = cast("Transport", transport)
        super().connection_made(self._line)
        self._allow(self.settings.header_seconds)

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop all waiting."""
        self._late = _cancelled(self._late)
        self._stuck = _cancelled(self._stuck)
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Read on."""
        if self._trouble is not None:
            self._throw_away(data)
            return
        self._unset_keepalive_if_required()
        self._fed = len(data)
        self._size += self._fed
        try:
            self.parser.feed_data(data)
        except httptools.HttpParserError as error:
            self._refuse(self._trouble or no_http(error))
        except httptools.HttpParserUpgrade as upgrade:
            self._read_on(data[upgrade.args[0] :])
        else:
            cycle = self.cycle
            if self._in_body or cycle is None or cycle.response_complete or self.headers is not self._trailers:
                self._look_at_time()

    def eof_received(self) -> bool:  # type: ignore[override]
        """A caller who has said all may still listen: what was asked wholly is answered, then the connection ends."""
        cycle = self.cycle
        if self._in_body or cycle is None or cycle.response_complete or self.transport.is_closing():
            return False
        cycle.keep_alive = False
        return True

    def pause_writing(self) -> None:
        """The caller reads more slowly than it is answered."""
        super().pause_writing()
        self._await_reader()

    def resume_writing(self) -> None:
        """The caller has read."""
        self._stuck = _cancelled(self._stuck)
        super().resume_writing()

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
        if hosts != 1 and (hosts or self.parser.get_http_version() == "1.1"):
            self._stop(Trouble(INVALID_REQUEST, f"A request has one header Host, and this has {hosts or 'none'}."))
        if self.parser.should_upgrade():
            self._upgrading = True
            return
        HttpToolsProtocol.on_headers_complete(self)
        self._in_body = True
        self.headers = self._trailers = []  # trailers are no headers of the request (RFC 9110, 6.5.1)
        if self._late is not None:
            self._late = _cancelled(self._late)

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

    def timeout_keep_alive_handler(self) -> None:
        """No next request came."""
        self._close()

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
                self._late = _cancelled(self._late)
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

    def _await_reader(self) -> None:
        """Give the caller a time to read what is written; after it the rest is thrown away."""
        size = self._line.get_write_buffer_size()
        if size and self._stuck is None:
            self._stuck = self.loop.call_later(self.settings.request_seconds, self._look_at_reader, size)

    def _look_at_reader(self, size: int) -> None:
        self._stuck = None
        if self._line.get_write_buffer_size() >= size:
            self._line.abort()
        else:
            self._await_reader()

    def _close(self) -> None:
        self.transport.close()
        self._await_reader()

    # What is refused

    def _stop(self, trouble: Trouble) -> None:
        """Make the parser stop; only the reader of data sees that."""
        self._trouble = trouble
        raise ValueError(trouble.detail)

    def _measure(self) -> None:
        """The exact size of a head; what came with it may belong to its body, or to another."""
        headers = sum(len(name) + len(value) + _PER_HEADER for name, value in self.headers)
        if len(self.url) + headers > self._largest:
            self._stop(too_large(self.url, self.settings))

    def _refuse(self, trouble: Trouble) -> None:
        """Read nothing more; tell why, once the requests before are answered."""
        self._trouble = trouble
        self._late = _cancelled(self._late)
        cycle = self.cycle
        if self._in_body:
            if self.pipeline:
                self.pipeline.popleft()  # its own request, which came last; others are answered before
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
        url = getattr(self, "url", b"") or b"/"
        head, document = refusal(trouble, url, self.server_state.default_headers, any_origin=self.settings.any_origin)
        self.transport.write(head)
        self.transport.write(document)
        self.logger.warning("A request was refused at the line: %s %s", trouble.kind.name, trouble.detail)
        if self._line.can_write_eof():
            self._line.write_eof()
            self._late = self.loop.call_later(wire.LINGER, self._close)
        else:
            self._close()

    def _throw_away(self, data: bytes) -> None:
        self._left -= len(data)
        if self._left < 0:
            self._close()

    def _read_on(self, rest: bytes) -> None:
        """Read a request as if it did not offer another protocol (RFC 9110, 7.8): its body would be lost else."""
        self._upgrading = False
        method = self.parser.get_method()
        if method == b"CONNECT":
            self._refuse(Trouble(INVALID_REQUEST, "This is no proxy: CONNECT is not known here."))
            return
        version = self.parser.get_http_version().encode()
        kept = [b"%b: %b\r\n" % header for header in self.headers if header[0] != b"upgrade"]
        self.parser = httptools.HttpRequestParser(self)
        self.data_received(b"%b %b HTTP/%b\r\n%b\r\n%b" % (method, self.url, version, b"".join(kept), rest))


def _cancelled(timer: TimerHandle | None) -> TimerHandle | None:
    if timer is not None:
        timer.cancel()
    return None


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
