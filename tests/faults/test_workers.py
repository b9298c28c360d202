"""A worker that dies in the middle of a request, clocks that jump, and logs that cannot be written."""

import contextlib
import os
import re
import shlex
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Final

import pytest

from service.http import outer
from tests.faults.processes import BODY, PATIENCE, Line, Reply, Running, free_port, head, post, running, start, stop
from tests.http.processes import until
from tests.running import serve

MANY: Final = b'{"items":[' + b",".join([BODY] * 3000) + b"]}"
"""What takes a worker a second or more."""


def ask(port: int, request: bytes) -> Reply:
    line = Line(port, 120)
    try:
        line.send(request)
        return line.reply()
    finally:
        line.close()


def children(process: int) -> list[int]:
    """The processes that a process started, that serve (proc(5))."""
    found = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii").split()
    alive = []
    for one in found:
        with contextlib.suppress(OSError):  # it has gone since
            if b"resource_tracker" not in Path(f"/proc/{one}/cmdline").read_bytes():
                alive.append(int(one))
    return alive


def serving(parent: int, port: int, line: Line) -> int:
    """The worker that holds the other end of a connection (proc(5), /proc/net/tcp)."""
    theirs = line.socket.getsockname()[1]
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline:
        rows = [row.split() for row in Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]]
        held = {row[9] for row in rows if (row[1][-4:], row[2][-4:]) == (f"{port:04X}", f"{theirs:04X}")}
        for worker in children(parent) or [parent]:
            for file in Path(f"/proc/{worker}/fd").iterdir():
                with contextlib.suppress(OSError):
                    if os.readlink(file) in {f"socket:[{one}]" for one in held}:
                        return worker
        time.sleep(0.05)
    raise AssertionError("no worker holds the connection")


def test_a_caller_whose_worker_dies_sees_it_and_may_ask_again() -> None:
    port = free_port()
    request = post("/v1/bulk/saponification", body=MANY)
    first = start(port=port, log="off")
    try:
        whole = ask(port, request)
        assert whole.status == 200
        line = first.line()
        line.send(request)
        assert line.reply_begins()
        first.process.send_signal(signal.SIGKILL)
        with pytest.raises(ConnectionResetError):  # never an answer that looks whole
            line.reply()
        line.close()
    finally:
        stop(first.process)
    second = start(port=port, log="off")
    try:
        assert ask(port, request).body == whole.body
    finally:
        stop(second.process)


def test_of_several_workers_the_others_go_on_when_one_dies() -> None:
    request = post("/v1/bulk/saponification", body=MANY)
    with running("--workers", "3", log="off") as service:
        until(lambda: len(children(service.process.pid)) == 3)
        service.works()
        line = service.line()
        line.send(request)
        assert line.reply_begins()
        worker = serving(service.process.pid, service.port, line)
        assert worker != service.process.pid
        os.kill(worker, signal.SIGKILL)
        with pytest.raises(ConnectionResetError):
            line.reply()
        line.close()
        for _ in range(50):  # the others are there all the time; the dead one's queue is lost with it
            service.works()
        again = ask(service.port, request)
        assert (again.status, again.body.count(b'"alkali":"NaOH"')) == (200, 3000)
        until(lambda: worker not in children(service.process.pid))  # a dead one stays until it is seen
        until(lambda: len(children(service.process.pid)) == 3)
        assert worker not in children(service.process.pid)


# Clocks that jump


@pytest.mark.parametrize("jump", [-1e9, -3600.0, 3600.0, 1e9])
def test_a_wall_clock_that_is_set_changes_no_answer_and_no_wait(jump: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """Durations are taken from clocks that nobody sets. uvloop's timers are such, too."""
    true = time.time
    offset = 0.0
    for module in (time, *(found for found in (vars(outer).get("time"),) if found is not None)):
        monkeypatch.setattr(module, "time", lambda: true() + offset)
    monkeypatch.setattr(time, "time_ns", lambda: int((true() + offset) * 1e9))
    with serve() as served:
        line = Line(served.port)
        line.send(post())
        before = line.reply()
        offset = jump
        for _ in range(3):
            line.send(post())  # on a connection that was opened before
            assert line.reply().body == before.body
        idle = Line(served.port)
        assert idle.is_open(0.3)  # not closed as if it had waited for years
        idle.send(post())
        assert idle.reply().body == before.body
        idle.send(head("GET", "/metrics"))
        told = idle.reply().body.decode()
        seconds = [float(row.split()[-1]) for row in told.splitlines() if "_seconds_sum" in row and row[0] != "#"]
        assert seconds
        assert all(0 <= one < PATIENCE for one in seconds)
        line.close()
        idle.close()


def test_nothing_of_the_service_measures_by_the_wall_clock() -> None:
    allowed = {
        "service/http/operation/log_lines.py",
        "service/http/operation/log_records.py",
    }  # tell when, not how long
    for file in Path("service").rglob("*.py"):
        if str(file) in allowed:
            continue
        text = file.read_text(encoding="utf-8")
        found = re.search(r"\btime\.time(_ns)?\b|from time import .*\btime(_ns)?\b|datetime\.now\b|\butcnow\b", text)
        assert found is None, f"{file}: {found}"


# Logs that cannot be written


@pytest.fixture
def full() -> Iterator[IO[bytes]]:
    """A disk without room: Linux has one for tests (full(4))."""
    with Path("/dev/full").open("wb", buffering=0) as disk:
        yield disk


def busy(service: Running) -> None:
    """Requests of every kind that is logged: good, refused, and no HTTP."""
    for _ in range(20):
        service.works()
        line = service.line()
        line.send(post(body=b"{") + head("GET", "/nothing") + b"garbage\r\n\r\n")
        assert [line.reply().status for _ in range(3)] == [400, 404, 400]
        line.close()


@pytest.mark.parametrize("workers", ["1", "2"])
def test_a_full_disk_for_logs_stops_no_answer(full: IO[bytes], workers: str) -> None:
    service = start("--workers", workers, port=free_port(), stdout=full, stderr=full)
    try:
        busy(service)
        assert service.process.poll() is None
    finally:
        stop(service.process)
    assert service.process.returncode in {0, -signal.SIGTERM}


def test_logs_that_nobody_reads_any_more_stop_no_answer() -> None:
    ours, theirs = os.pipe()
    service = start(port=free_port(), stdout=theirs, stderr=theirs)
    try:
        os.close(theirs)
        os.close(ours)
        busy(service)
        assert service.process.poll() is None
    finally:
        stop(service.process)


def test_logs_that_are_read_slowly_stop_no_answer() -> None:
    """A pipe that is full makes writing wait, and whoever waits in the loop of events keeps everybody waiting."""
    ours, theirs = os.pipe()
    service = start(port=free_port(), stdout=theirs, stderr=theirs)
    os.close(theirs)
    try:
        done = threading.Event()

        def ask_on() -> None:
            with contextlib.suppress(OSError):
                for _ in range(60):
                    busy(service)
                done.set()

        asking = threading.Thread(target=ask_on, daemon=True)
        asking.start()
        assert done.wait(2 * PATIENCE), "the service waits for who reads its log"
    finally:
        with contextlib.suppress(ProcessLookupError):
            service.process.send_signal(signal.SIGKILL)
        stop(service.process)
        os.close(ours)


def test_streams_that_are_closed_stop_no_answer() -> None:
    """Some that start services leave standard output and error closed."""
    port = free_port()
    command = f"exec {shlex.quote(sys.executable)} -m service --port {port} >&- 2>&-"
    process = subprocess.Popen(["/bin/sh", "-c", command], start_new_session=True)
    service = Running(port, process)
    try:
        deadline = time.monotonic() + PATIENCE
        while time.monotonic() < deadline:
            with contextlib.suppress(OSError):
                service.works()
                break
            time.sleep(0.1)
        busy(service)
    finally:
        stop(process)
