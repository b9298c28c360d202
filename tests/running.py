"""The service as callers meet it: behind its real server, on a socket, noting who asks it for what."""

import socket
import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final, NamedTuple

import uvicorn

from service.http.app import create_app
from service.http.operation.settings import DEFAULTS
from service.http.operation.workers import server_config
from service.http.wire import App, Receive, Scope, Send

PATIENCE: Final = 60.0
"""Seconds it may take to start, and to end."""


class Served(NamedTuple):
    """A running service: its port, and how often each method asked for each path and query."""

    port: int
    asked: Counter[tuple[str, str]]

    @property
    def address(self) -> str:
        """Where it is asked."""
        return f"http://127.0.0.1:{self.port}"


def _noting(app: App, asked: Counter[tuple[str, str]]) -> App:
    """The application, which notes every request before it passes it on."""

    async def noted(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            query = scope["query_string"].decode()
            asked[scope["method"], scope["path"] + (f"?{query}" if query else "")] += 1
        await app(scope, receive, send)

    return noted


@contextmanager
def serve() -> Iterator[Served]:
    """The service behind its real server, on a port that is free, while the context lasts."""
    asked: Counter[tuple[str, str]] = Counter()
    listener = socket.create_server(("127.0.0.1", 0))
    config = server_config(DEFAULTS, lambda: _noting(create_app(), asked))
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    deadline = time.monotonic() + PATIENCE
    while not server.started and time.monotonic() < deadline:
        time.sleep(0.01)
    assert server.started
    try:
        yield Served(listener.getsockname()[1], asked)
    finally:
        server.should_exit = True
        thread.join(PATIENCE)
        listener.close()
