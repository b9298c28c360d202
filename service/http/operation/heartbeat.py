"""Signs of life of a worker: given by the event loop that serves, and by nobody in its place.

Worker   a process that serves, and says so as long as its loop turns

uvicorn answers its supervisor from a thread of its own, which goes on where the loop hangs. Here the thread hands each
question on to the loop, which answers it when its turn comes. Long calculations go on beside the loop and keep no
answer back.
"""

import asyncio
import socket
import time
from contextlib import suppress
from typing import Final

import uvicorn
from uvicorn.supervisors.multiprocess import Process

MOST_BETWEEN: Final = 1.0
"""Time between two looks of the supervisor, of which there are two a second, that counts at most [s]."""


class _Server(uvicorn.Server):
    """A server that tells by which loop it serves, once it does."""

    loop: asyncio.AbstractEventLoop | None = None

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to serve."""
        await super().startup(sockets)
        self.loop = asyncio.get_running_loop()


class Worker(Process):
    """A worker, as its supervisor sees it and as it sees itself."""

    _owes = False
    """Whether a question is not answered yet."""
    _silent = 0.0
    _looked = 0.0

    @property
    def server(self) -> uvicorn.Server:
        """The server of the worker, made in its own process."""
        if self._server is None:
            self._server = _Server(config=self.config)
        return self._server

    def pong(self) -> None:
        """Wait for a question, and have it answered: by the loop, once it serves."""
        self.child_conn.recv()
        server = self.server
        loop = server.loop if isinstance(server, _Server) else None
        if loop is None:
            self._answer()
        elif not loop.is_closed():
            loop.call_soon_threadsafe(self._answer)

    def _answer(self) -> None:
        self.child_conn.send(self.server.started)

    def silent_for(self) -> float:
        """How long the worker has owed an answer; asks it anew where it owes none [s].

        Never waits, so that one which hangs keeps nobody from looking at the others. Of the time between two looks
        `MOST_BETWEEN` counts at most: where the whole machine stood still, nobody could have answered.
        """
        now = time.monotonic()
        with suppress(OSError, EOFError):  # whoever cannot be asked owes an answer, too
            while self.parent_conn.poll():
                self.parent_conn.recv()
                self._owes = False
        if self._owes:
            self._silent += min(now - self._looked, MOST_BETWEEN)
        else:
            self._owes, self._silent = True, 0.0
            with suppress(OSError):
                self.parent_conn.send(b"ping")
        self._looked = now
        return self._silent
