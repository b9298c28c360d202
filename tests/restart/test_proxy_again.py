"""When nginx asks again: where a worker has gone, at most twice, and never because the service is busy or slow."""

import json
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, Final

import pytest

from tests.restart.exchanges import answer, ask, connect, head
from tests.restart.running_proxy import proxy
from tests.restart.running_service import HOST, started
from tests.restart.test_proxy import BODY, assert_is_problem

PATHS: Final = ["/v1/concentration", "/v1/production-plan", "/v1/bulk/concentration"]
MOST: Final = 3
"""How often a request is passed on at most."""
KILLING: Final = b'{"kills":"its worker"}'
BUSY: Final = b'{"type":"/problems/unavailable"}'


class Fickle(BaseHTTPRequestHandler):
    """Breaks connections off without an answer, or says it is busy, as often as it is told, and then answers."""

    protocol_version = "HTTP/1.1"
    asked: list[bytes]
    breaks: int
    busy: bool
    slow: float

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers.get("Content-Length", "0")))
        self.asked.append(body)
        if len(self.asked) <= self.breaks or body == KILLING:
            self.close_connection = True
            return
        time.sleep(self.slow)
        self.send_response(503 if self.busy else 200)
        if self.busy:
            self.send_header("Retry-After", "1")
        said = BUSY if self.busy else body
        self.send_header("Content-Length", str(len(said)))
        self.end_headers()
        self.wfile.write(said)

    def do_GET(self) -> None:
        self.do_POST()

    def log_message(self, *_: object) -> None:
        pass


@contextmanager
def fickle(breaks: int = 0, *, busy: bool = False, slow: float = 0) -> Iterator[tuple[int, list[bytes]]]:
    """A server in the place of the service, and the bodies it was asked with."""
    asked: list[bytes] = []
    told: dict[str, Any] = {"asked": asked, "breaks": breaks, "busy": busy, "slow": slow}
    with ThreadingHTTPServer((HOST, 0), type("Handler", (Fickle,), told)) as server:
        server.daemon_threads = True
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server.server_address[1], asked
        server.shutdown()


@pytest.mark.parametrize("path", PATHS)
def test_a_busy_service_is_asked_once(tmp_path: Path, path: str) -> None:
    with fickle(busy=True) as (port, asked), proxy(tmp_path, port) as front:
        for count in range(1, 4):
            found = ask(front.port, "POST", path, BODY)
            assert (found.status, found.body, found.headers["retry-after"]) == (503, BUSY, "1")
            assert len(asked) == count


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("breaks", range(1, MOST))
def test_what_a_worker_leaves_is_asked_again_with_its_body(tmp_path: Path, path: str, breaks: int) -> None:
    body = b"x" * 300_000  # lies in a file of nginx by then
    with fickle(breaks) as (port, asked), proxy(tmp_path, port) as front:
        found = ask(front.port, "POST", path, body)
        assert (found.status, found.body) == (200, body)
        assert asked == [body] * (breaks + 1)


@pytest.mark.parametrize("path", PATHS)
def test_a_request_that_kills_its_worker_is_passed_on_three_times_at_most(tmp_path: Path, path: str) -> None:
    with fickle(breaks=1000) as (port, asked), proxy(tmp_path, port) as front:
        assert_is_problem(ask(front.port, "POST", path, BODY), "unavailable", path)
        assert len(asked) == MOST


@pytest.mark.parametrize("path", PATHS)
def test_it_stays_at_three_where_many_connections_are_kept(tmp_path: Path, path: str) -> None:
    with fickle(slow=0.5) as (port, asked), proxy(tmp_path, port, with_one_worker) as front:
        with ExitStack() as stack:
            lines = [stack.enter_context(connect(front.port)) for _ in range(20)]
            for line in lines:
                line.sendall(head("POST", path, (), len(BODY)) + BODY)
            assert [answer(line).status for line in lines] == [200] * 20
        assert ask(front.port, "POST", path, KILLING).status == 503
        assert asked[20:] == [KILLING] * MOST


def with_one_worker(text: str) -> str:
    """One process, so that whoever calls finds all connections that are kept."""
    assert "worker_processes auto;" in text
    return text.replace("worker_processes auto;", "worker_processes 1;")


def test_a_slow_answer_is_waited_for_and_not_asked_for_again(tmp_path: Path) -> None:
    def impatient(text: str) -> str:
        for shipped, seconds in (("proxy_read_timeout 75s;", 2), ("proxy_next_upstream_timeout 10s;", 1)):
            assert text.count(shipped) == 1
            text = text.replace(shipped, f"{shipped.split()[0]} {seconds}s;")
        return text

    with fickle(slow=4) as (port, asked), proxy(tmp_path, port, impatient) as front:
        for path in PATHS:
            assert_is_problem(ask(front.port, "POST", path, BODY), "unavailable", path)
        assert_is_problem(ask(front.port, "GET", PATHS[0], b""), "unavailable", PATHS[0])
        assert len(asked) == len(PATHS) + 1


def test_what_a_busy_worker_refuses_is_not_multiplied(tmp_path: Path) -> None:
    with (
        started(tmp_path, LYESTOCK_MOST_CONCURRENT="1", LYESTOCK_TRUSTED_PROXIES=HOST) as service,
        proxy(tmp_path, service.port) as front,
        connect(service.port) as busy,
    ):
        busy.sendall(head("POST", "/v1/concentration", (), len(BODY)) + BODY[:10])
        time.sleep(0.5)
        for _ in range(5):
            assert ask(front.port, "POST", "/v1/concentration", BODY).status == 503
        busy.sendall(BODY[10:])
        assert answer(busy).status == 200
        time.sleep(0.5)
        refused = [json.loads(line) for line in service.log.splitlines() if '"status":503' in line]
    assert [one["problem"] for one in refused] == ["unavailable"] * 5
