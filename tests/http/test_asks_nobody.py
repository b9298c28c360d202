"""No request makes the service open a connection, look up a name, or start a program."""

import json
import socket
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from typing import Any, Final

import pytest

from service.http.app import create_app
from tests.asgi import Caller
from tests.contract.documents import POSTS, request_examples
from tests.contract.example_calls import example_calls

OUTWARD: Final = frozenset(
    {
        *("socket.connect", "socket.sendto", "socket.sendmsg", "socket.getaddrinfo", "socket.gethostbyname"),
        *("socket.gethostbyaddr", "socket.getnameinfo", "urllib.Request", "http.client.connect", "ftplib.connect"),
        *("subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", "os.fork", "os.forkpty"),
    }
)
"""Events that Python tells of whatever asks another host, or could (sys.audit, in its documentation)."""
ELSEWHERE: Final = "http://127.0.0.1:9/secret"

_WATCHERS: Final[list[list[str]]] = []


def _note(event: str, arguments: tuple[Any, ...]) -> None:
    if event in OUTWARD:
        for one in _WATCHERS:
            one.append(f"{event} {arguments}")


sys.addaudithook(_note)  # which cannot be taken back: it does nothing but where it is asked to


@contextmanager
def watched() -> Iterator[list[str]]:
    """What goes outward meanwhile, in any thread."""
    seen: list[str] = []
    _WATCHERS.append(seen)
    try:
        yield seen
    finally:
        _WATCHERS.remove(seen)


@pytest.fixture(scope="module")
def call() -> Caller:
    return Caller(create_app())


def test_no_example_of_any_operation_asks_anybody(call: Caller) -> None:
    count = 0
    with watched() as seen:
        for asked in example_calls():
            reply = call(asked.method, asked.address, asked.body, asked.headers)
            assert reply.status == 200, (asked, reply.body)
            count += 1
    assert seen == []
    assert count > 200


def test_an_address_of_another_host_is_never_called(call: Caller) -> None:
    headers = [("host", "127.0.0.1:9"), ("x-forwarded-host", "127.0.0.1:9"), ("referer", ELSEWHERE)]
    headers += [
        ("origin", ELSEWHERE),
        ("forwarded", "for=127.0.0.1;host=127.0.0.1:9"),
        ("content-type", "application/json"),
    ]
    statuses = set()
    with watched() as seen:
        for path in POSTS:
            for example in request_examples(path).values():
                for body in _with_address(example):
                    statuses.add(call("POST", path, json.dumps(body).encode(), headers).status)
        for path in (f"/v1/fats/{ELSEWHERE}", f"/v1/values/density?strength={ELSEWHERE}", f"/{ELSEWHERE}", ELSEWHERE):
            statuses.add(call("GET", path, None, headers).status)
    assert seen == []
    assert statuses <= {200, 400, 404, 405, 422}
    assert {200, 400} <= statuses


def _with_address(node: Any) -> Iterator[Any]:
    """Copies of a request, in each of which another text is an address."""
    if isinstance(node, str):
        yield ELSEWHERE
    elif isinstance(node, dict):
        for name, value in node.items():
            yield from ({**node, name: other} for other in _with_address(value))
    elif isinstance(node, list):
        for place, value in enumerate(node):
            yield from ([*node[:place], other, *node[place + 1 :]] for other in _with_address(value))


def test_who_asks_somebody_is_seen() -> None:
    with watched() as seen, closing(socket.socket()) as line:
        line.connect_ex(("127.0.0.1", 9))
        socket.getaddrinfo("127.0.0.1", 9)
    assert [one.split()[0] for one in seen] == ["socket.connect", "socket.getaddrinfo"]
