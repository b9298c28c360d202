"""Head and body of an answer in one write.

uvicorn writes the head of an answer, and then its body. A worker that is killed between the two leaves half an answer:
a proxy has passed on its status by then, and cannot ask another worker any more. In one write an answer is there or
not. It also saves a call to the system for each request.

GatheringProtocol   uvicorn's own protocol over httptools, which writes so
"""

import asyncio
from typing import Any, Final

from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

_HEAD: Final = b"HTTP/1.1 "
_INTERIM: Final = b"HTTP/1.1 1"
"""How an interim answer begins (100 Continue), after which the caller goes on; it must not wait."""


class GatheringTransport(asyncio.Transport):
    """A transport that keeps the head of an answer until the next write, or until it is told to let it go."""

    def __init__(self, transport: asyncio.Transport) -> None:
        super().__init__()
        self._transport = transport
        self._head = b""

    def write(self, data: bytes | bytearray | memoryview) -> None:
        """Write, a head together with what follows it."""
        if self._head:
            data, self._head = self._head + data, b""
        elif data[:9] == _HEAD and data[:10] != _INTERIM:
            self._head = bytes(data)
            return
        self._transport.write(data)

    def let_go(self) -> None:
        """Write a head that nothing follows."""
        if self._head:
            head, self._head = self._head, b""
            self._transport.write(head)

    def close(self) -> None:
        """Close the connection when all is written."""
        self.let_go()
        self._transport.close()

    def abort(self) -> None:
        """Close the connection at once."""
        self._head = b""
        self._transport.abort()

    def is_closing(self) -> bool:
        """Whether the connection is closed, or is about to."""
        return self._transport.is_closing()

    def pause_reading(self) -> None:
        """Read no more."""
        self._transport.pause_reading()

    def resume_reading(self) -> None:
        """Read again."""
        self._transport.resume_reading()

    def get_extra_info(self, name: str, default: Any = None) -> Any:
        """What is known of the connection."""
        return self._transport.get_extra_info(name, default)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._transport, name)


class GatheringProtocol(HttpToolsProtocol):
    """uvicorn's own protocol over httptools, which writes the head of an answer together with its body."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin with a connection."""
        self._gathering = GatheringTransport(transport)
        super().connection_made(self._gathering)

    def on_response_complete(self) -> None:
        """An answer is complete; a head without body is still to be written."""
        self._gathering.let_go()
        super().on_response_complete()
