"""What callers can fill nginx's disk with has a bound, whoever they are and however slowly they send."""

import json
import select
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, suppress
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Final, NamedTuple

import pytest

from tests.restart.exchanges import Answer, answer, ask, connect, head
from tests.restart.running_proxy import Proxy, proxy
from tests.restart.running_service import HOST, free_port, started, wait_for
from tests.restart.test_proxy import BODY, assert_is_problem

LONG: Final = 2 << 20
"""Bytes of a body that only a plan or many items may have."""
MIDDLE: Final = 500_000
"""Bytes of a body that anything may have, and that does not stay in memory."""
STALLED: Final = 30
ANSWER: Final = 50_000_000
"""Bytes of an answer that fits into no buffer on its way."""
PLAN: Final = "/v1/production-plan"
BULK: Final = "/v1/bulk/concentration"


@pytest.fixture(scope="module")
def front(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Proxy]:
    """nginx before a service."""
    folder = tmp_path_factory.mktemp("room")
    with started(folder, LYESTOCK_TRUSTED_PROXIES=HOST) as service, proxy(folder, service.port) as running:
        yield running


class Uploads(NamedTuple):
    """Bodies that have begun to come and do not go on: those that are waited for, and the others' answers."""

    waiting: list[socket.socket]
    refused: list[Answer]


def stall(stack: ExitStack, front: Proxy, path: str, size: int, addresses: list[str], *, chunked: bool) -> Uploads:
    """Begin a body from each address, and send all but its last bytes."""
    lines = []
    for address in addresses:
        line = stack.enter_context(connect(front.port, address))
        lines.append(line)
        declared = [("Transfer-Encoding", "chunked"), ("Content-Type", "application/json")] if chunked else []
        with suppress(OSError):  # who refuses it need not read it
            line.sendall(head("POST", path, declared, None if chunked else size))
            line.sendall((f"{size:x}\r\n".encode() if chunked else b"") + b" " * (size - 10))
    time.sleep(1)
    answered = [line for line in lines if select.select([line], [], [], 0)[0]]
    return Uploads([line for line in lines if line not in answered], [answer(line) for line in answered])


def filed(front: Proxy, folder: str = "lyestock-body") -> int:
    """Bytes of the files in a folder that nginx has open; those without a name any more count too."""
    size = 0
    for process in children_of_nginx(front):
        for one in Path(f"/proc/{process}/fd").iterdir():
            with suppress(OSError):
                if folder in str(one.readlink()):
                    size += one.stat().st_size
    return size


def children_of_nginx(front: Proxy) -> list[int]:
    main = int((front.folder / "nginx.pid").read_text(encoding="ascii"))
    return [int(one) for one in Path(f"/proc/{main}/task/{main}/children").read_text(encoding="ascii").split()]


@pytest.mark.parametrize(
    ("path", "size", "chunked", "most"),
    [
        (PLAN, LONG, False, 2),
        (PLAN, LONG, True, 2),
        (BULK, LONG, False, 2),
        (BULK, LONG, True, 2),
        (PLAN, MIDDLE, False, 16),
        ("/v1/concentration", MIDDLE, False, 16),
        ("/v1/concentration", MIDDLE, True, 16),
    ],
)
def test_one_address_fills_little(front: Proxy, path: str, size: int, chunked: bool, most: int) -> None:
    with ExitStack() as stack:
        uploads = stall(stack, front, path, size, ["127.0.4.1"] * STALLED, chunked=chunked)
        assert len(uploads.waiting) == most
        for refused in uploads.refused:
            assert_is_problem(refused, "unavailable", path)
            assert "at once" in json.loads(refused.body)["detail"]
        assert 0 < filed(front) <= most * size
        # Others, and what is short, are served meanwhile.
        assert ask(front.port, "POST", path, b" " * size, address="127.0.4.2").status == 400
        assert ask(front.port, "POST", "/v1/concentration", BODY, address="127.0.4.1").status == 200
    wait_for(lambda: filed(front) == 0, "nothing is left of them")
    assert ask(front.port, "POST", path, b" " * size, address="127.0.4.1").status == 400


def test_many_addresses_fill_no_more_than_the_sum(front: Proxy) -> None:
    with ExitStack() as stack:
        long = stall(stack, front, PLAN, LONG, [f"127.0.5.{i}" for i in range(1, 13)], chunked=False)
        assert len(long.waiting) == 8
        middle = stall(stack, front, PLAN, MIDDLE, [f"127.0.6.{i}" for i in range(1, 81)], chunked=False)
        assert len(middle.waiting) == 64 - 8
        for refused in (*long.refused, *middle.refused):
            assert_is_problem(refused, "unavailable", PLAN)
        assert filed(front) <= 8 * LONG + 56 * MIDDLE
        assert ask(front.port, "POST", "/v1/concentration", BODY, address="127.0.4.2").status == 200
    wait_for(lambda: filed(front) == 0, "nothing is left of them")


@pytest.mark.parametrize("path", [PLAN, BULK])
def test_a_long_body_is_told_that_the_service_has_gone(tmp_path: Path, path: str) -> None:
    with proxy(tmp_path, free_port()) as alone:
        assert_is_problem(ask(alone.port, "POST", path, b" " * LONG), "unavailable", path)


class _Talkative(BaseHTTPRequestHandler):
    """Answers with more than fits into any buffer."""

    def do_POST(self) -> None:
        self.rfile.read(int(self.headers["Content-Length"]))
        self.send_response(200)
        self.send_header("Content-Length", str(ANSWER))
        self.end_headers()
        with suppress(OSError):  # nobody reads it to its end
            self.wfile.write(b"x" * ANSWER)

    def log_message(self, *_: object) -> None:
        pass


@pytest.mark.parametrize("path", [PLAN, BULK, "/v1/concentration"])
def test_an_answer_that_nobody_reads_fills_no_file(tmp_path: Path, path: str) -> None:
    with ThreadingHTTPServer((HOST, 0), _Talkative) as server, proxy(tmp_path, server.server_address[1]) as front:
        server.daemon_threads = True
        threading.Thread(target=server.serve_forever, daemon=True).start()
        with connect(front.port) as line:
            line.sendall(head("POST", path, (), len(BODY)) + BODY)
            assert line.recv(12, socket.MSG_PEEK) == b"HTTP/1.1 200"
            time.sleep(1)
            assert filed(front, "lyestock-answers") == 0
        server.shutdown()
