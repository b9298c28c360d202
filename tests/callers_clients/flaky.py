"""A door before the service that loses and puts off the first requests, as a network and a busy proxy do."""

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Final
from urllib.parse import urlsplit

LATER: Final = (
    b"HTTP/1.1 503 Service Unavailable\r\nretry-after: 0\r\ncontent-length: 0\r\nconnection: close\r\n\r\n",
    b"HTTP/1.1 429 Too Many Requests\r\nretry-after: 0\r\ncontent-length: 0\r\nconnection: close\r\n\r\n",
)


class Door:
    """What happened at it.

    Attributes:
        address: where it stands.
        came: connections that came.
    """

    def __init__(self, listener: socket.socket) -> None:
        self.address = f"http://127.0.0.1:{listener.getsockname()[1]}"
        self.came = 0


def _pass_on(source: socket.socket, target: socket.socket) -> None:
    with suppress(OSError):
        while data := source.recv(65536):
            target.sendall(data)
    with suppress(OSError):
        target.shutdown(socket.SHUT_WR)


def _lead(caller: socket.socket, service: tuple[str, int]) -> None:
    """Both ways between a caller and the service, until both have ended."""
    with caller, socket.create_connection(service) as inner:
        back = threading.Thread(target=_pass_on, args=(inner, caller), daemon=True)
        back.start()
        _pass_on(caller, inner)
        back.join()


@contextmanager
def flaky(address: str, *, always_later: bool = False) -> Iterator[Door]:
    """A door that drops the first connection, answers 503 and 429 to the next two, and then leads to the service.

    Args:
        address: of the service.
        always_later: whether it answers 503 for ever.
    """
    listener = socket.create_server(("127.0.0.1", 0))
    door = Door(listener)
    parts = urlsplit(address)
    service = (parts.hostname or "", parts.port or 0)
    ended = threading.Event()

    def stand() -> None:
        while not ended.is_set():
            try:
                caller, _ = listener.accept()
            except OSError:
                return
            door.came += 1
            if always_later or door.came < 4:
                caller.recv(65536)
            if always_later or door.came in {2, 3}:
                caller.sendall(LATER[0 if always_later else door.came - 2])
            elif door.came > 3:
                threading.Thread(target=_lead, args=(caller, service), daemon=True).start()
                continue
            caller.close()

    thread = threading.Thread(target=stand, daemon=True)
    thread.start()
    try:
        yield door
    finally:
        ended.set()
        with suppress(OSError):
            listener.shutdown(socket.SHUT_RDWR)
        listener.close()
        thread.join(5)
