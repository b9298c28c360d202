"""What is refused at the line is counted, logged and taken off the caller's rate like all else."""

from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from tests.faults.processes import Line, Reply, head, post
from tests.http.processes import Running, running, until

GARBAGE: Final = b"garbage\r\n\r\n"
TWO_HOSTS: Final = head("GET", "/nothing", "Host: there")
PROXY: Final = "X-Forwarded-For: 192.0.2.7"
OTHER: Final = "X-Forwarded-For: 192.0.2.8"
SERVED: Final = ("-m", "service", "--port", "PORT")


@pytest.fixture
def service(tmp_path: Path) -> Iterator[Running]:
    with running(*SERVED, output=tmp_path / "log") as found:
        yield found


def replies(service: Running, sent: bytes, count: int = 1) -> list[Reply]:
    line = Line(service.port)
    line.send(sent)
    found = [line.reply() for _ in range(count)]
    line.close()
    return found


def counted(service: Running, status: int) -> float:
    return service.value("lyestock_requests_total", route="line", status=str(status))


def warnings(service: Running) -> list[str]:
    return [one["message"] for one in service.lines() if "refused at the line" in one["message"]]


@pytest.mark.parametrize(
    ("sent", "status", "kind", "method"),
    [
        (GARBAGE, 400, "invalid-request", "other"),
        (TWO_HOSTS, 400, "invalid-request", "GET"),
        (head("GET", "/", "X-A: " + "a" * 20_000), 431, "headers-too-large", "GET"),
        (head("GET", "/" + "a" * 9000 + "b" * 9000), 414, "address-too-long", "GET"),
        (head("POST", "/v1/saponification", "Transfer-Encoding: chunked") + b"zz\r\n", 400, "invalid-request", "POST"),
    ],
    ids=["garbage", "two hosts", "headers", "address", "chunk"],
)
def test_a_refusal_is_counted_and_logged_with_the_id_that_was_told(
    service: Running, sent: bytes, status: int, kind: str, method: str
) -> None:
    (reply,) = replies(service, sent)
    assert (reply.status, reply.kind()) == (status, kind)
    until(lambda: counted(service, status) == 1)
    assert service.value("lyestock_problems_total", kind=kind) == 1
    told = {"request_id": reply.headers["x-request-id"], "route": "line"}
    line = service.wait_for_line(lambda one: one["message"] == "request" and told.items() <= one.items())
    assert (line["status"], line["problem"], line["method"]) == (status, kind, method)
    assert line["bytes"] == len(reply.body)
    why = service.wait_for_line(lambda one: one["level"] == "warning" and told.items() <= one.items())
    assert "refused at the line" in why["message"]


def test_what_comes_behind_good_requests_is_counted_beside_them(service: Running) -> None:
    assert [one.status for one in replies(service, post() * 2 + GARBAGE, 3)] == [200, 200, 400]
    until(lambda: counted(service, 400) == 1)
    assert service.value("lyestock_requests_total", route="saponification", status="200") == 2


def test_refusals_are_taken_off_the_rate_of_their_address(tmp_path: Path) -> None:
    limited = {"LYESTOCK_RATE_PER_ADDRESS": "3"}
    with running(*SERVED, output=tmp_path / "log", environment=limited) as service:
        first = [replies(service, GARBAGE)[0] for _ in range(3)]
        assert [one.status for one in first] == [400] * 3
        assert first[0].headers["ratelimit"].startswith('"address";r=2')
        fourth = replies(service, TWO_HOSTS)[0]
        assert (fourth.status, fourth.kind()) == (429, "too-many-requests")
        assert int(fourth.headers["retry-after"]) > 0
        assert replies(service, post())[0].status == 429
        # The log is written beside the answers: what was warned of comes in the end, and before what came after it.
        until(lambda: len(warnings(service)) >= 3)
        service.wait_for_line(lambda one: one["message"] == "request" and one["route"] == "/v1/saponification")
        assert len(warnings(service)) == 3  # who asks too much does not fill the log twice


def test_a_body_that_breaks_counts_once_for_the_rate(tmp_path: Path) -> None:
    broken = head("POST", "/v1/saponification", "Transfer-Encoding: chunked") + b"zz\r\n"
    with running(*SERVED, output=tmp_path / "log", environment={"LYESTOCK_RATE_PER_ADDRESS": "3"}) as service:
        assert [replies(service, broken)[0].status for _ in range(2)] == [400, 400]
        assert replies(service, post())[0].headers["ratelimit"].startswith('"address";r=0')


def test_behind_a_proxy_the_caller_that_it_tells_is_meant_and_never_the_proxy(tmp_path: Path) -> None:
    behind = {"LYESTOCK_RATE_PER_ADDRESS": "2", "LYESTOCK_TRUSTED_PROXIES": "127.0.0.1"}
    with running(*SERVED, output=tmp_path / "log", environment=behind) as service:
        refused = head("GET", "/nothing", "Host: there", PROXY)
        assert [replies(service, refused)[0].status for _ in range(3)] == [400, 400, 429]
        assert [replies(service, GARBAGE)[0].status for _ in range(5)] == [400] * 5  # nobody knows whose it is
        assert replies(service, post("/v1/saponification", OTHER))[0].status == 200
        assert replies(service, post("/v1/saponification", PROXY))[0].status == 429


def test_who_is_no_proxy_cannot_put_it_on_another(tmp_path: Path) -> None:
    with running(*SERVED, output=tmp_path / "log", environment={"LYESTOCK_RATE_PER_ADDRESS": "2"}) as service:
        asked = [replies(service, head("GET", "/", "Host: there", f"X-Forwarded-For: 192.0.2.{n}")) for n in range(3)]
        assert [one[0].status for one in asked] == [400, 400, 429]
