"""What a process does when it is told to end: finish what it serves, in a set time, and close what is idle."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from typing import Final

import pytest

from tests.restart.exchanges import answer, ask, connect, head, is_closed
from tests.restart.running_service import (
    HOST,
    PATIENCE,
    clean_environment,
    free_port,
    is_alive,
    keeping_all_busy,
    listens,
    started,
    wait_for,
)

BODY: Final = json.dumps(
    {"strength": {"mass_fraction": "50 %"}, "alkali": "NaOH", "reference": "the last one"}
).encode()
ITEMS: Final = 10_000
HOW_MANY: Final = pytest.mark.parametrize("workers", [1, 2])


@HOW_MANY
def test_many_at_once_in_flight_are_finished(tmp_path: Path, workers: int) -> None:
    items = [{"strength": {"mass_fraction": "50 %"}, "alkali": "NaOH", "reference": f"{i}"} for i in range(ITEMS)]
    body = json.dumps({"items": items}).encode()
    with started(tmp_path, workers) as service, socket.socket() as line:
        line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1 << 14)  # so that the answer cannot wait in the kernel
        line.settimeout(PATIENCE)
        line.connect((HOST, service.port))
        line.sendall(head("POST", "/v1/bulk/concentration", [("Accept", "application/x-ndjson")], len(body)) + body)
        assert line.recv(12, socket.MSG_PEEK) == b"HTTP/1.1 200"
        service.told(signal.SIGTERM)
        time.sleep(1)
        assert service.process.poll() is None
        found = answer(line)
        assert [json.loads(one)["result"]["reference"] for one in found.body.splitlines()] == [
            f"{i}" for i in range(ITEMS)
        ]
        assert is_closed(line)
        assert service.process.wait(PATIENCE) == 0


@HOW_MANY
def test_a_request_in_flight_is_answered_and_told_that_the_connection_ends(tmp_path: Path, workers: int) -> None:
    with started(tmp_path, workers) as service, connect(service.port) as line, connect(service.port) as idle:
        idle.sendall(head("GET", "/health/live"))
        assert "connection" not in answer(idle).headers
        line.sendall(head("POST", "/v1/concentration", (), len(BODY)) + BODY[:10])
        time.sleep(0.5)
        service.told(signal.SIGTERM)
        assert is_closed(idle), "an idle connection is closed"
        wait_for(lambda: not listens(service.port), "no new connection is taken")
        line.sendall(BODY[10:])
        found = answer(line)
        assert found.status == 200
        assert json.loads(found.body)["reference"] == "the last one"
        assert found.headers["connection"] == "close"
        assert is_closed(line)
        assert service.process.wait(PATIENCE) == 0


@HOW_MANY
def test_what_does_not_end_is_cut_off_after_the_set_time(tmp_path: Path, workers: int) -> None:
    with started(tmp_path, workers, LYESTOCK_DRAIN_SECONDS="2") as service, connect(service.port) as line:
        line.sendall(head("POST", "/v1/concentration", (), len(BODY)) + BODY[:10])
        time.sleep(0.5)
        began = time.monotonic()
        assert service.end() == 0
        assert 1.9 <= time.monotonic() - began < 2 + 10  # not before; the rest is what a busy machine may take
        found = answer(line)
        assert (found.status, json.loads(found.body)["type"]) == (503, "/problems/unavailable")
        assert (found.headers["retry-after"], found.headers["connection"]) == ("1", "close")
        assert is_closed(line)


def ready_after_the_signal(folder: Path) -> int | None:
    """The status of /health/ready after the signal; None where the connection, being idle, was closed before."""
    with started(folder) as service, connect(service.port) as line:
        line.sendall(head("GET", "/health/ready"))
        assert answer(line).status == 200
        service.told(signal.SIGTERM)
        time.sleep(0.03)
        try:
            line.sendall(head("GET", "/health/ready"))
            return answer(line).status
        except ConnectionError:
            return None


def test_it_is_not_ready_from_the_signal_on(tmp_path: Path) -> None:
    """The server looks every tenth of a second whether it is to end, and then closes idle connections: that may come
    first once or twice, but not ten times."""
    found = next((status for _ in range(10) if (status := ready_after_the_signal(tmp_path)) is not None), None)
    assert found == 503


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT, signal.SIGHUP])
def test_any_signal_to_end_is_no_failure(tmp_path: Path, number: int) -> None:
    with started(tmp_path) as service:
        assert service.end(number) == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_several_workers_end_with_their_supervisor(tmp_path: Path, number: int) -> None:
    with started(tmp_path, workers=2) as service:
        workers = service.workers()
        assert service.end(number) == 0
        assert not any(map(is_alive, workers))


def test_an_end_during_a_rolling_restart_takes_no_longer(tmp_path: Path) -> None:
    with started(tmp_path, workers=2, LYESTOCK_DRAIN_SECONDS="3") as service, keeping_all_busy(service):
        service.told(signal.SIGHUP)
        service.wait_for_starts(3)
        time.sleep(0.5)  # the first of the old ones drains now
        began = time.monotonic()
        assert service.end() == 0
        assert time.monotonic() - began < 3 + 10


def test_workers_end_when_their_supervisor_is_killed(tmp_path: Path) -> None:
    with started(tmp_path, workers=2) as service:
        workers = service.workers()
        service.end(signal.SIGKILL)
        wait_for(lambda: not any(map(is_alive, workers)), "the workers end")
        assert not listens(service.port)


STUCK: Final = """
import sys
from service.http.operation import workers
from service.http.operation.settings import Settings

async def stuck(scope, receive, send):
    if scope["type"] == "lifespan":
        while True:
            message = await receive()
            await send({"type": message["type"] + ".complete"})
    while True:
        pass

workers.create_app = lambda settings: stuck
workers.AFTER_DRAIN = 0.5
settings = Settings(port=int(sys.argv[1]), drain_seconds=1)
sys.exit(workers.serve(settings, lambda: settings))
"""


def test_a_process_that_hangs_is_cut_off(tmp_path: Path) -> None:
    port = free_port()
    process = subprocess.Popen([sys.executable, "-c", STUCK, str(port)], env=clean_environment({}), cwd=tmp_path)
    wait_for(lambda: listens(port), "it listens")
    with connect(port) as line:
        line.sendall(head("GET", "/"))
        time.sleep(0.5)
        process.send_signal(signal.SIGTERM)
        assert process.wait(PATIENCE) == 1


def test_a_worker_lets_sighup_pass(tmp_path: Path) -> None:
    with started(tmp_path, workers=2) as service:
        before = service.workers()
        for one in before:
            os.kill(one, signal.SIGHUP)
        time.sleep(1)
        assert service.workers() == before
        assert ask(service.port, "GET", "/health/live").status == 200
