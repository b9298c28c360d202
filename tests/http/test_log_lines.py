"""The log of a service in a process of its own: what a line holds, and what no line ever holds."""

import json
import os
import re
import socket
import subprocess
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from service import __version__
from tests.http.processes import Running, running, until

SERVED = ("-m", "service", "--port", "PORT")
FAILING = ("-m", "tests.http.workers", "PORT", "2", "fails")
TRACE = "4bf92f3577b34da6a3ce929d0e0e4736"
TRACED = {"traceparent": f"00-{TRACE}-00f067aa0ba902b7-01"}
JSON = {"content-type": "application/json"}
BODY = b'{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "reference": "of-the-body"}'
HALF = b'{"mass": "1 kg", "share": "50 %"}'
SECRET = "sesame-of-the-house"  # noqa: S105 - nobody's
HEAD = {"time", "level", "message", "logger", "process"}
REQUEST = {*HEAD, "method", "route", "status", "milliseconds", "bytes", "request_id"}


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(*SERVED, output=tmp_path_factory.mktemp("log") / "log") as service:
        yield service


@pytest.fixture(scope="module")
def failing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """Two workers that write into one file, with a calculation that fails."""
    with running(*FAILING, output=tmp_path_factory.mktemp("log") / "log") as service:
        service.wait_for_workers(2)
        yield service


def line_of(service: Running, request_id: str) -> dict[str, Any]:
    """The line of a request."""
    return service.wait_for_line(lambda line: line.get("request_id") == request_id and line["message"] == "request")


def raw(service: Running, said: bytes) -> bytes:
    """The beginning of what is answered to bytes on the line; nothing where the connection is closed at once."""
    with socket.create_connection(("127.0.0.1", service.port), 10) as line:
        line.sendall(said)
        return line.recv(1 << 16)


def test_a_request_is_one_line_with_all_that_is_told_of_it(service: Running) -> None:
    before = datetime.now(UTC)
    reply = service.ask("POST", "/v1/concentration?units=us", BODY, {**JSON, **TRACED, "x-request-id": "batch-1"})
    line = line_of(service, "batch-1")
    assert set(line) == {*REQUEST, "trace_id"}
    assert (line["level"], line["message"], line["logger"]) == ("info", "request", "lyestock.request")
    assert (line["method"], line["route"], line["status"]) == ("POST", "/v1/concentration", 200)
    assert line["bytes"] == len(reply.body) > 100
    assert line["trace_id"] == TRACE
    assert line["process"] == service.process.pid
    assert 0 < line["milliseconds"] < 10_000
    assert before - timedelta(seconds=1) < datetime.fromisoformat(line["time"]) < datetime.now(UTC)
    assert line["time"].endswith("Z")
    assert sum(one.get("request_id") == "batch-1" for one in service.lines()) == 1


def test_the_id_that_the_service_gives_is_that_of_the_answer(service: Running) -> None:
    reply = service.ask("GET", "/health/live")
    line = line_of(service, reply.headers["x-request-id"])
    assert set(line) == REQUEST
    assert (line["method"], line["route"], line["status"], line["bytes"]) == ("GET", "/health/live", 200, 15)


@pytest.mark.parametrize(
    ("method", "path", "body", "told"),
    [
        ("GET", "/problems/not-found", b"", ("/problems/{kind}", 200, None)),
        ("GET", "/problems/none-such", b"", ("/problems/{kind}", 404, "not-found")),
        ("GET", "/v1/fats/olive-oil", b"", ("/v1/fats/{identifier}", 200, None)),
        ("GET", "/v1/concentration", b"", ("/v1/concentration", 405, "method-not-allowed")),
        ("POST", "/v1/concentration", b"{}", ("/v1/concentration", 400, "invalid-request")),
        ("POST", "/v1/bulk/concentration", b"[]", ("/v1/bulk/concentration", 400, "invalid-request")),
        ("GET", "/where/ever?a=b", b"", ("other", 404, "not-found")),
        ("GET", "//metrics", b"", ("other", 404, "not-found")),
        ("HEAD", "/metrics", b"", ("/metrics", 200, None)),
        ("OPTIONS", "/v1/concentration", b"", ("/v1/concentration", 204, None)),
        ("DELETE", "/docs", b"", ("other", 405, "method-not-allowed")),
        ("PURGE", "/v1/concentration", b"", ("/v1/concentration", 405, "method-not-allowed")),
    ],
)
def test_a_line_tells_template_status_and_kind_of_problem(
    service: Running, method: str, path: str, body: bytes, told: tuple[str, int, str | None]
) -> None:
    reply = service.ask(method, path, body, JSON)
    line = line_of(service, reply.headers["x-request-id"])
    route = re.sub(r"\{\w+\}$", "{}", line["route"])
    assert (route, line["status"], line.get("problem")) == (re.sub(r"\{\w+\}$", "{}", told[0]), *told[1:])
    assert line["method"] == (method if method != "PURGE" else "other")
    assert line["bytes"] == len(reply.body)


@pytest.mark.parametrize(
    "header", ["", f"ff-{TRACE}-00f067aa0ba902b7-01", f"00-{'0' * 32}-00f067aa0ba902b7-01", "00-sesame", TRACE]
)
def test_an_invalid_trace_is_passed_over_and_not_told(service: Running, header: str) -> None:
    reply = service.ask("GET", "/health/live", headers={"traceparent": header})
    assert reply.status == 200
    assert "trace_id" not in line_of(service, reply.headers["x-request-id"])


def test_two_traces_are_none_and_answers_have_no_header_of_a_trace(service: Running) -> None:
    header = f"traceparent: {TRACED['traceparent']}\r\n".encode()
    for count in (1, 2):
        mark = f"parents-{count}"
        said = b"GET /health/live HTTP/1.1\r\nHost: x\r\nConnection: close\r\nX-Request-Id: %b\r\n" % mark.encode()
        reply = raw(service, said + header * count + b"\r\n")
        assert reply.startswith(b"HTTP/1.1 200")
        assert b"trace" not in reply.lower()
        assert line_of(service, mark).get("trace_id") == (TRACE if count == 1 else None)


def test_no_line_holds_a_key_a_query_a_body_or_an_unknown_path(service: Running) -> None:
    asked = [
        ("GET", f"/metrics?key={SECRET}", b"", {}),
        ("GET", f"/v1/value/none?KEY={SECRET}&x=1", b"", {}),
        ("GET", f"/where/{SECRET}?key={SECRET}", b"", {}),
        ("GET", f"/problems/{SECRET}", b"", {"authorization": f"Bearer {SECRET}"}),
        ("GET", f"/docs/key%3D{SECRET}", b"", {}),
        ("POST", f"/v1/concentration?key={SECRET}", SECRET.encode(), JSON),
        ("POST", "/v1/concentration", b'{"alkali": "%b"}' % SECRET.encode(), {"authorization": f"Basic {SECRET}"}),
        (SECRET.upper(), "/v1/concentration", b"", {}),
        ("GET", "/health/live", b"", {"x-request-id": f"key={SECRET}", "cookie": SECRET, "referer": f"/?key={SECRET}"}),
        ("GET", "/health/live", b"", {"traceparent": SECRET, "tracestate": f"x={SECRET}"}),
    ]
    for method, path, body, headers in asked:
        service.ask(method, path, body, headers)
    for broken in (
        f"GET /?key={SECRET} HTTX/1.1\r\n\r\n",
        f"GET /?key={SECRET}\r\n\r\n",
        f"GET /?key={SECRET} HTTP/1.1\r\nContent-Length: {SECRET}\r\n\r\n",
        f"GET /{'x' * 70_000}?key={SECRET} HTTP/1.1\r\nHost: x\r\n\r\n",
        f"GET ws://x/?key={SECRET} HTTP/1.1\r\nHost: x\r\nConnection: upgrade\r\nUpgrade: websocket\r\n\r\n",
        f"POST /v1/concentration?key={SECRET} HTTP/1.1\r\nHost: x\r\nContent-Length: 5\r\n\r\n{SECRET}",
    ):
        raw(service, broken.encode())
    last = service.ask("GET", "/health/live").headers["x-request-id"]
    line_of(service, last)
    assert any(line["logger"] == "lyestock.line" and line["level"] == "warning" for line in service.lines())
    assert SECRET not in service.said().lower()
    assert "of-the-body" not in service.said()


def test_a_failure_is_told_with_its_traceback_in_one_member_and_without_keys(failing: Running) -> None:
    reply = failing.ask("POST", "/v1/fails", HALF, {**JSON, **TRACED})
    assert reply.status == 500
    request_id = reply.headers["x-request-id"]
    line = failing.wait_for_line(lambda line: line["message"].startswith(f"request {request_id} "))
    assert set(line) == {*HEAD, "route", "request_id", "trace_id", "traceback"}
    assert (line["level"], line["logger"], line["trace_id"]) == ("error", "lyestock", TRACE)
    assert line["route"] == "/v1/fails"
    assert line["message"] == f"request {request_id} failed at /v1/fails"
    assert line["traceback"].startswith("Traceback (most recent call last):\n")
    assert "in tells_a_key\n" in line["traceback"]
    assert "https://there.example/v1/part?key=***&units=us refused" in line["traceback"]
    served = line_of(failing, request_id)
    assert (served["level"], served["status"], served["problem"]) == ("error", 500, "internal")
    assert served["trace_id"] == TRACE
    assert SECRET not in reply.body.decode() + failing.said()


def test_lines_of_several_workers_in_one_output_stay_whole(failing: Running) -> None:
    with ThreadPoolExecutor(8) as pool:
        replies = list(pool.map(lambda name: failing.ask("POST", f"/v1/{name}", HALF, JSON), ("fails", "part") * 60))
    for reply in replies:
        line_of(failing, reply.headers["x-request-id"])
    lines = failing.lines()
    assert {frozenset(line) >= HEAD for line in lines} == {True}
    assert len({line["process"] for line in lines if line["message"] == "request"}) == 2


def test_start_and_stop_and_what_the_server_says_are_lines_too(tmp_path: Path) -> None:
    with running(*SERVED, output=tmp_path / "log") as service:
        service.ask("GET", "/health/live")
        service.end()
        lines = service.lines()
    assert all(set(line) >= HEAD for line in lines)
    messages = [line["message"] for line in lines]
    begin = next(
        place for place, message in enumerate(messages) if message.startswith(f"Lyestock {__version__} begins")
    )
    assert begin < messages.index("request") < messages.index("Lyestock ends")
    assert messages[-1] == f"Finished server process [{service.process.pid}]"
    assert {line["logger"] for line in lines} >= {"lyestock", "lyestock.request", "uvicorn.error"}


def test_last_line_of_a_supervisor_is_written_as_it_ends(tmp_path: Path) -> None:
    with running(*FAILING, output=tmp_path / "log") as service:
        service.wait_for_workers(2)
        assert service.end() == 0
        lines = service.lines()
    assert sum(line["message"].startswith("Finished server process") for line in lines) == 2
    assert (lines[-1]["process"], lines[-1]["message"]) == (
        service.process.pid,
        f"Stopping parent process [{service.process.pid}]",
    )


# Outputs that fail


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_full_disk_loses_lines_counts_them_and_fails_no_request() -> None:
    with Path("/dev/full").open("wb") as full, running(*SERVED, stdout=full) as service:
        for _ in range(20):
            assert service.ask("POST", "/v1/concentration", BODY, JSON).status == 200
        until(lambda: service.value("lyestock_log_lines_lost_total") > 20)
        assert service.value("lyestock_requests_total", route="concentration", status="200") == 20


def test_an_output_whose_reader_has_gone_fails_no_request() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    with os.fdopen(writer, "wb") as output, running(*SERVED, stdout=output) as service:
        for _ in range(5):
            assert service.ask("GET", "/health/live").status == 200
        until(lambda: service.value("lyestock_log_lines_lost_total") > 5)


def test_no_output_at_all_fails_no_request_and_no_connection_gets_the_log() -> None:
    program = "import os, sys; os.close(1); os.execv(sys.executable, [sys.executable, *sys.argv[1:]])"
    with running("-c", program, *SERVED) as service:
        for _ in range(5):
            reply = service.ask("GET", "/health/live")
            assert (reply.status, reply.body) == (200, b'{"status":"ok"}')
        until(lambda: service.value("lyestock_log_lines_lost_total") > 5)


def test_a_reader_who_does_not_read_keeps_no_request_waiting() -> None:
    with running(*SERVED, stdout=subprocess.PIPE) as service:
        asked = 600  # some 280 bytes each: more than twice what a pipe holds
        for _ in range(asked):
            assert service.ask("GET", "/health/live").status == 200
        assert service.process.stdout is not None
        service.process.terminate()
        with service.process.stdout as stdout:
            text = stdout.read()
    assert sum(json.loads(line)["message"] == "request" for line in text.splitlines()) == asked
