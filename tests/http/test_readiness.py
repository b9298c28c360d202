"""Whether the service takes requests, as a balancer asks."""

import pytest

from service import __version__
from service.http.operation.readiness import PROCESS
from service.reference import reference_data
from tests.asgi import Caller

READY = {"status": "ready", "version": __version__, "data_version": reference_data().version, "build": ""}


def test_readiness_says_what_runs(call: Caller) -> None:
    assert call("GET", "/health/ready").json() == READY


def test_draining_service_is_not_ready_and_lives_and_answers(call: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(PROCESS, "draining", True)
    for method in ("GET", "HEAD"):
        reply = call(method, "/health/ready")
        assert reply.status == 503
        assert int(reply.headers["retry-after"]) > 0
        assert reply.headers["content-type"] == "application/problem+json"
    problem = call("GET", "/health/ready").json()
    assert (problem["type"], problem["status"]) == ("/problems/unavailable", 503)
    assert call("GET", "/health/live").json() == {"status": "ok"}
    assert call("POST", "/v1/part", {"mass": "1 kg", "share": "50 %"}).status == 200
    monkeypatch.setattr(PROCESS, "draining", False)
    assert call("GET", "/health/ready").json() == READY
