"""The shipped configuration of nginx: what it refuses, keeps, passes on and writes down."""

import json
import shutil
import ssl
import subprocess
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Final, NamedTuple

import pytest

from service.http.problems import KINDS
from tests.restart.exchanges import Answer, answer, ask, connect, head
from tests.restart.running_proxy import Proxy, proxy
from tests.restart.running_service import HOST, Service, free_port, started

SECRET: Final = "top-secret-7c1f"  # noqa: S105 - of this test alone
VALUE: Final = "/v1/values/density?alkali=NaOH&strength=50%25"
BODY: Final = b'{"strength":{"mass_fraction":"50 %"},"alkali":"NaOH"}'
BIG: Final = b'"' + b"x" * (2 << 20) + b'"'


class Both(NamedTuple):
    """A service behind its proxy."""

    service: Service
    front: Proxy


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Both]:
    """A service behind its proxy, for tests that leave both as they are."""
    folder = tmp_path_factory.mktemp("both")
    with (
        started(folder, LYESTOCK_TRUSTED_PROXIES=HOST) as service,
        proxy(folder, service.port) as front,
    ):
        yield Both(service, front)


def assert_is_problem(found: Answer, name: str, path: str) -> None:
    """What nginx refuses reads as if the service had refused it."""
    kind = KINDS[name]
    assert found.status == kind.status
    assert found.headers["content-type"] == "application/problem+json"
    document = json.loads(found.body)
    assert document.pop("detail")
    assert document == {"type": kind.uri, "title": kind.title, "status": kind.status, "instance": path}
    assert found.headers["x-request-id"]
    assert found.headers["x-content-type-options"] == "nosniff"
    assert found.headers["access-control-allow-origin"] == "*"
    assert ("retry-after" in found.headers) == (kind.status in {429, 503})
    assert ("allow" in found.headers) == (kind.status == 405)


@pytest.mark.parametrize(
    ("request_head", "name", "path"),
    [
        (head("POST", "/v1/concentration?digits=4", (), 2 << 20), "body-too-large", "/v1/concentration"),
        (head("POST", "/v1/bulk/concentration", (), (32 << 20) + 1), "body-too-large", "/v1/bulk/concentration"),
        (head("GET", "/v1/values/density?x=" + "y" * 20_000), "address-too-long", "/"),
        (head("GET", "/v1/fats", [("Cookie", "x" * 20_000)]), "headers-too-large", "/v1/fats"),
        (head("TRACE", "/v1/fats"), "method-not-allowed", "/v1/fats"),
        (head("GET", "/metrics"), "not-found", "/metrics"),
        (head("GET", "//metrics"), "not-found", "//metrics"),
        (head("GET", "/%6detrics?key=1"), "not-found", "/%6detrics"),
        (head("GET", "/proxy-refuses/internal"), "not-found", "/proxy-refuses/internal"),
        (b"GET /v1/fats HTTP/1.1\r\n\r\n", "invalid-request", "/v1/fats"),
        (b"nonsense\r\n\r\n", "invalid-request", "/"),
        (b'GET /a"b HTTP/1.1\r\n\r\n', "invalid-request", "/"),
    ],
)
def test_what_nginx_refuses_is_a_problem_of_the_service(both: Both, request_head: bytes, name: str, path: str) -> None:
    with connect(both.front.port, "127.0.2.1") as line:
        line.sendall(request_head)
        assert_is_problem(answer(line), name, path)


def test_what_the_service_refuses_passes_as_it_is(both: Both) -> None:
    for method, path, body, status in (
        ("GET", "/v1/nothing", None, 404),
        ("GET", "/v1/concentration", None, 405),
        ("POST", "/v1/concentration", b"{", 400),
    ):
        direct = ask(both.service.port, method, path, body)
        through = ask(both.front.port, method, path, body)
        assert (through.status, through.body) == (direct.status, direct.body)
        assert through.status == status
        names = set(direct.headers) - {"date", "x-request-id"}
        assert {n: through.headers.get(n) for n in names} == {n: direct.headers[n] for n in names}


@pytest.mark.parametrize("path", ["/v1/bulk/concentration", "/v1/production-plan"])
def test_large_bodies_reach_what_takes_them(both: Both, path: str) -> None:
    found = ask(both.front.port, "POST", path, BIG, address="127.0.2.2")
    assert found.status == 400
    assert json.loads(found.body)["type"] == "/problems/invalid-request"


def test_a_caller_who_asks_too_fast_is_slowed_down_and_others_are_not(both: Both) -> None:
    with connect(both.front.port, "127.0.2.3") as line:
        refused = None
        for _ in range(2000):
            line.sendall(head("GET", "/health/live"))
            found = answer(line)
            if found.status != 200:
                refused = found
                break
    assert refused is not None
    assert_is_problem(refused, "too-many-requests", "/health/live")
    assert ask(both.front.port, "GET", "/health/live", address="127.0.2.4").status == 200


def test_answers_of_get_are_kept_and_compared(both: Both) -> None:
    first = ask(both.front.port, "GET", VALUE)
    assert first.status == 200
    assert first.body == ask(both.service.port, "GET", VALUE).body
    again = ask(both.front.port, "GET", VALUE, None, [("X-Request-Id", "mine-1")])
    assert (again.status, again.body, again.headers["etag"]) == (200, first.body, first.headers["etag"])
    assert again.headers["x-request-id"] == "mine-1"
    same = ask(both.front.port, "GET", VALUE, None, [("If-None-Match", first.headers["etag"])])
    assert (same.status, same.headers["etag"]) == (304, first.headers["etag"])
    short = ask(both.front.port, "HEAD", VALUE)
    assert (short.status, short.headers["content-length"]) == (200, first.headers["content-length"])
    other = ask(both.front.port, "GET", VALUE, None, [("Accept", "application/json")])
    assert other.headers["content-type"] != first.headers["content-type"]
    assert other.body == ask(both.service.port, "GET", VALUE, None, [("Accept", "application/json")]).body
    assert other.body != first.body
    assert how_kept(both.front, "/v1/values/density")[:5] == ["MISS", "HIT", "HIT", "HIT", "MISS"]


def test_contract_and_catalogue_are_kept_but_no_calculation(both: Both) -> None:
    for path in ("/openapi.json", "/v1/fats", "/health/ready"):
        for _ in range(2):
            assert ask(both.front.port, "GET", path).status == 200
    for _ in range(2):
        assert ask(both.front.port, "POST", "/v1/concentration?digits=3", BODY).status == 200
    assert how_kept(both.front, "/openapi.json") == ["MISS", "HIT"]
    assert how_kept(both.front, "/v1/fats")[-2:] == ["MISS", "HIT"]
    assert how_kept(both.front, "/health/ready") == ["MISS", "MISS"]
    assert set(how_kept(both.front, "/v1/concentration")[-2:]) == {""}


def test_what_is_asked_with_a_key_is_not_kept(both: Both) -> None:
    path = "/v1/values/density?alkali=NaOH&strength=31%25"
    ask(both.front.port, "GET", path)
    for _ in range(2):
        found = ask(both.front.port, "GET", path, None, [("Authorization", f"Bearer {SECRET}")])
        assert found.headers["cache-control"].startswith("private")
        ask(both.front.port, "GET", f"{path}&key={SECRET}")
    assert how_kept(both.front, "/v1/values/density")[-5:] == ["MISS", *["BYPASS"] * 4]


def how_kept(front: Proxy, path: str) -> list[str]:
    """What came of looking for kept answers of a path, as the log has it."""
    time.sleep(0.2)
    lines = [json.loads(one) for one in front.log.splitlines()]
    return [one["cache"] for one in lines if one["path"] == path and one["status"] in {200, 304}]


class _Echo(BaseHTTPRequestHandler):
    """Tells what it was asked, or fails as it is told."""

    protocol_version = "HTTP/1.1"
    go_on: threading.Event

    def do_GET(self) -> None:
        if self.path.startswith("/broken"):
            self.close_connection = True
            return
        if self.path.startswith("/v1/bulk/"):
            self.send_response(200)
            self.send_header("Transfer-Encoding", "chunked")
            self.end_headers()
            self.wfile.write(b"5\r\nfirst\r\n")
            self.wfile.flush()
            self.go_on.wait(30)
            self.wfile.write(b"4\r\nlast\r\n0\r\n\r\n")
            return
        body = json.dumps([[name.lower(), value] for name, value in self.headers.items()]).encode()
        self.send_response(200)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        pass


@contextmanager
def echo() -> Iterator[tuple[int, threading.Event]]:
    """A server in the place of the service, and what lets it go on with an answer."""
    go_on = threading.Event()
    handler = type("Handler", (_Echo,), {"go_on": go_on})
    with ThreadingHTTPServer((HOST, 0), handler) as server:
        server.daemon_threads = True
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server.server_address[1], go_on
        server.shutdown()


def test_a_forged_address_is_not_passed_on_and_a_request_id_is(tmp_path: Path) -> None:
    with echo() as (port, _), proxy(tmp_path, port) as front:
        forged = [("X-Forwarded-For", "6.6.6.6"), ("Forwarded", "for=6.6.6.6"), ("X-Forwarded-Proto", "gopher")]
        found = ask(front.port, "GET", "/", None, [*forged, ("X-Request-Id", "a-b_c.1")], address="127.0.3.9")
        told = json.loads(found.body)
        assert [value for name, value in told if name == "x-forwarded-for"] == ["127.0.3.9"]
        assert [value for name, value in told if name == "x-forwarded-proto"] == ["http"]
        assert "forwarded" not in dict(told)
        assert dict(told)["x-request-id"] == found.headers["x-request-id"] == "a-b_c.1"
        found = ask(front.port, "GET", "/", None, [("X-Request-Id", 'bad "id"')])
        made = dict(json.loads(found.body))["x-request-id"]
        assert found.headers["x-request-id"] == made
        assert len(made) == 32
        found = ask(front.port, "GET", "/", None, [("Authorization", f"Bearer {SECRET}")])
        assert dict(json.loads(found.body))["authorization"] == f"Bearer {SECRET}"


def test_many_at_once_come_while_they_are_made(tmp_path: Path) -> None:
    with echo() as (port, go_on), proxy(tmp_path, port) as front, connect(front.port) as line:
        line.sendall(head("GET", "/v1/bulk/concentration"))
        data = b""
        while b"first" not in data:
            data += line.recv(1000)
        assert b"last" not in data
        go_on.set()
        while not data.endswith(b"0\r\n\r\n"):
            data += line.recv(1000)
        assert b"last" in data


@pytest.mark.parametrize("path", ["/broken", "/v1/concentration"])
def test_a_service_that_has_gone_is_told_and_no_key_is_written_down(tmp_path: Path, path: str) -> None:
    with echo() as (port, _), proxy(tmp_path, port if path == "/broken" else free_port()) as front:
        asked = f"{path}?digits=4&key={SECRET}"
        found = ask(front.port, "GET", asked, None, [("Authorization", f"Bearer {SECRET}"), ("Cookie", SECRET)])
        assert_is_problem(found, "unavailable", path)
        for _ in range(400):
            found = ask(front.port, "GET", f"/metrics?key={SECRET}", None, [("Referer", f"http://x/?key={SECRET}")])
        ask(front.port, "GET", f"/v1/fats?key={SECRET}" + "y" * 20_000)
        time.sleep(0.3)
        assert '"upstream_status":"502 : 502, 502"' in front.log
    written = b"".join(one.read_bytes() for one in sorted(tmp_path.rglob("*")) if one.is_file())
    assert b"/metrics" in written
    assert SECRET.encode() not in written


def test_the_part_for_tls_works_when_it_is_taken_in(tmp_path: Path) -> None:
    if shutil.which("openssl") is None:
        pytest.skip("openssl is not installed: no certificate can be made for the test")
    (tmp_path / "tls").mkdir()
    subprocess.run(
        [
            *("openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost"),
            *("-addext", "subjectAltName=IP:127.0.0.1"),
            *("-keyout", str(tmp_path / "tls" / "lyestock.key"), "-out", str(tmp_path / "tls" / "lyestock.crt")),
        ],
        check=True,
        capture_output=True,
    )

    def with_tls(text: str) -> str:
        lines = [one for one in text.splitlines(keepends=True) if "listen 80" not in one or one.strip()[0] == "#"]
        return "".join(one.replace("#tls ", "") if one.strip().startswith("#tls ") else one for one in lines)

    with echo() as (port, _), proxy(tmp_path, port, with_tls) as front:
        trust = ssl.create_default_context(cafile=str(tmp_path / "tls" / "lyestock.crt"))
        with connect(front.port) as plain, trust.wrap_socket(plain, server_hostname=HOST) as line:
            line.sendall(head("GET", "/"))
            found = answer(line)
    assert found.status == 200
    assert dict(json.loads(found.body))["x-forwarded-proto"] == "https"
    assert found.headers["strict-transport-security"] == "max-age=31536000"
    assert found.headers["x-content-type-options"] == "nosniff"
