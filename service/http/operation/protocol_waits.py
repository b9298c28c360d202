"""Callers that do not read what they are answered, and connections on which nothing more is asked.

PatientProtocol   uvicorn's protocol, with a limit to its patience
"""

from asyncio import BaseTransport, TimerHandle, Transport
from typing import ClassVar, cast

from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

from service.http.operation.settings import Settings


class PatientProtocol(HttpToolsProtocol):
    """One connection.

    Attributes:
        settings: what the operator says.
    """

    settings: ClassVar[Settings]
    _stuck: TimerHandle | None = None
    """Ends the wait for a caller that does not read."""
    _line: Transport
    """The transport itself, whatever is put before it."""

    def connection_made(self, transport: BaseTransport) -> None:
        """Keep hold of the line."""
        self._line = cast("Transport", transport)
        super().connection_made(self._line)

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop all waiting."""
        self._stuck = cancelled(self._stuck)
        super().connection_lost(exc)

    def pause_writing(self) -> None:
        """The caller reads more slowly than it is answered."""
        super().pause_writing()
        self._await_reader()

    def resume_writing(self) -> None:
        """The caller has read."""
        self._stuck = cancelled(self._stuck)
        super().resume_writing()

    def timeout_keep_alive_handler(self) -> None:
        """No next request came."""
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


def cancelled(timer: TimerHandle | None) -> TimerHandle | None:
    """Cancel a timer, if there is one; what is left of it is None."""
    if timer is not None:
        timer.cancel()
    return None
