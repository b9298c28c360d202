"""What the service counts about itself: it rises with the requests, and no caller can make it grow."""

import asyncio
from collections.abc import Iterator

import pytest
from prometheus_client.parser import text_string_to_metric_families
from prometheus_client.samples import Sample

from service import __version__
from service.http.app import create_app
from service.http.metrics import BOUNDS, Meter
from service.http.outer import Outer
from service.http.problems import KINDS
from service.http.wire import Message
from service.reference import reference_data
from tests.asgi import Caller
from tests.http.conftest import EXAMPLES, HALF, _calculation, fails, part

PAGES = {
    "/",
    "/docs",
    "/docs/{name}",
    "/health/live",
    "/health/ready",
    "/metrics",
    "/openapi.json",
    "/problems",
    "/problems/{kind}",
}


def make() -> Outer:
    known = (_calculation("part", part, EXAMPLES), _calculation("fails", fails))
    return create_app({one.name: one for one in known})


@pytest.fixture
def alone() -> Caller:
    """A caller of an application that nobody else has called."""
    return Caller(make())


def samples(call: Caller, prefix: str = "lyestock") -> Iterator[Sample]:
    reply = call("GET", "/metrics")
    assert reply.status == 200
    for family in text_string_to_metric_families(reply.body.decode()):
        if family.name.startswith(prefix):
            yield from family.samples


def value(call: Caller, name: str, **labels: str) -> float | None:
    found = [one.value for one in samples(call) if one.name == name and one.labels == labels]
    assert len(found) <= 1
    return found[0] if found else None


def series(call: Caller) -> set[tuple[str, tuple[tuple[str, str], ...]]]:
    return {(one.name, tuple(sorted(one.labels.items()))) for one in samples(call)}


def test_requests_are_counted_by_calculation_and_status(alone: Caller) -> None:
    assert value(alone, "lyestock_requests_total", route="part", status="200") is None
    for _ in range(3):
        alone("POST", "/v1/part?digits=3", HALF)
    alone("POST", "/v1/part", {"mass": "1 kg"})
    alone("POST", "/v1/part", {"mass": "1 kg", "share": 0})
    assert value(alone, "lyestock_requests_total", route="part", status="200") == 3
    assert value(alone, "lyestock_requests_total", route="part", status="400") == 1
    assert value(alone, "lyestock_requests_total", route="part", status="422") == 1


def test_latencies_fall_into_classes_that_add_up(alone: Caller) -> None:
    for _ in range(5):
        alone("POST", "/v1/part", HALF)
    classes = [
        one.value for one in samples(alone) if one.name.endswith("_bucket") and one.labels.get("route") == "part"
    ]
    assert len(classes) == len(BOUNDS) + 1
    assert classes == sorted(classes)
    assert classes[-1] == value(alone, "lyestock_request_seconds_count", route="part") == 5
    seconds = value(alone, "lyestock_request_seconds_sum", route="part")
    assert seconds is not None
    assert 0 < seconds < 5


@pytest.mark.parametrize(("seconds", "place"), [(0.0, 0), (0.0001, 0), (0.000101, 1), (2.5, 13), (2.6, 14), (1e9, 14)])
def test_class_holds_its_upper_bound(seconds: float, place: int) -> None:
    meter = Meter("part", "/v1/part")
    meter.served(200, seconds)
    values = meter.values()
    names = [*(str(bound) for bound in BOUNDS), "+Inf"]
    assert [index for index, name in enumerate(names) if values[f"part {name}"]] == [place]


def test_time_of_calculating_is_part_of_the_latency(alone: Caller) -> None:
    for _ in range(4):
        alone("POST", "/v1/part", HALF)
    alone("POST", "/v1/part", {"mass": "1 kg"})
    assert value(alone, "lyestock_calculation_seconds_count", calculation="part") == 4
    spent = value(alone, "lyestock_calculation_seconds_sum", calculation="part")
    whole = value(alone, "lyestock_request_seconds_sum", route="part")
    assert spent is not None
    assert whole is not None
    assert 0 < spent < whole


def test_pages_are_counted_by_the_template_of_their_path(alone: Caller) -> None:
    for kind in list(KINDS)[:3]:
        alone("GET", f"/problems/{kind}")
    alone("GET", "/problems/none-such")
    alone("HEAD", "/docs")
    assert value(alone, "lyestock_requests_total", route="/problems/{kind}", status="200") == 3
    assert value(alone, "lyestock_requests_total", route="/problems/{kind}", status="404") == 1
    assert value(alone, "lyestock_requests_total", route="/docs", status="200") == 1


@pytest.mark.parametrize(
    ("method", "address", "body", "kind"),
    [
        ("POST", "/v1/part", {"mass": "1 kg"}, "invalid-request"),
        ("POST", "/v1/part", {"mass": "1 kg", "share": 0}, "not-sensible"),
        ("POST", "/v1/fails", HALF, "internal"),
        ("GET", "/v1/part", None, "method-not-allowed"),
        ("DELETE", "/docs", None, "method-not-allowed"),
        ("GET", "/nothing", None, "not-found"),
        ("GET", "/docs/", None, "not-found"),
        ("GET", "/problems/none-such", None, "not-found"),
    ],
)
def test_problems_are_counted_by_kind(
    alone: Caller, method: str, address: str, body: dict[str, object] | None, kind: str
) -> None:
    alone(method, address, body)
    counts = {one.labels["kind"]: one.value for one in samples(alone, "lyestock_problems")}
    assert counts == {**dict.fromkeys(KINDS, 0), kind: 1}


def test_scan_of_a_thousand_paths_adds_no_series(alone: Caller) -> None:
    def scan(number: int) -> None:
        for address in ("/{}", "/v1/{}", "/v1/part/{}", "/docs/{}", "/problems/{}", "/health/{}/", "/v1//{}"):
            alone("GET", address.format(f"path-{number}?x={number}"))
        alone(f"METHOD{number}", "/v1/part")
        alone("POST", "/v1/part", {"mass": "1 kg"}, [("content-type", f"a/{number}"), ("x-request-id", str(number))])

    scan(-1)
    alone("GET", "/metrics")
    before = series(alone)
    for number in range(1000):
        scan(number)
    assert series(alone) == before
    assert value(alone, "lyestock_requests_total", route="other", status="404") == 5 * 1001


def test_labels_are_from_closed_sets(alone: Caller) -> None:
    pages = [template.replace("{name}", "start.js").replace("{kind}", "internal") for template in sorted(PAGES)]
    for address in (*pages, "/a", "/docs/x", "/problems/x", "/v1/part", "/v1/fails", "/v1/", "/metrics?a=1"):
        for method in ("GET", "POST", "OPTIONS", "BREW"):
            alone(method, address, HALF)
    known = {
        "route": {"part", "fails", "other", *PAGES},
        "status": {"200", "204", "400", "404", "405", "500"},
        "kind": set(KINDS),
        "calculation": {"part", "fails", "bulk/part", "bulk/fails"},
        "version": {__version__},
        "data_version": {reference_data().version},
        "build": {""},
        "le": {*(str(bound) for bound in BOUNDS), "+Inf"},
    }
    found: dict[str, set[str]] = {}
    for one in samples(alone, "lyestock_"):
        for name, label in one.labels.items():
            found.setdefault(name, set()).add(label)
    assert found["route"] == known["route"]
    assert all(labels <= known[name] for name, labels in found.items())


def test_in_flight_is_the_request_that_reads_it(alone: Caller) -> None:
    for _ in range(3):
        alone("POST", "/v1/fails", HALF)
        alone("GET", "/nothing")
    assert value(alone, "lyestock_requests_in_flight") == 1


def test_caller_who_leaves_is_counted_as_unanswered() -> None:
    app = make()

    async def receive() -> Message:
        return {"type": "http.disconnect"}

    async def send(_: Message) -> None:
        raise AssertionError("nobody is there")

    headers = [(b"content-type", b"application/json")]
    scope = {"type": "http", "method": "POST", "path": "/v1/part", "query_string": b"", "headers": headers}
    asyncio.run(app(scope, receive, send))
    assert value(Caller(app), "lyestock_requests_total", route="part", status="unanswered") == 1
    assert value(Caller(app), "lyestock_requests_in_flight") == 1


def test_applications_count_apart() -> None:
    one, other = Caller(make()), Caller(make())
    one("POST", "/v1/part", HALF)
    assert value(one, "lyestock_requests_total", route="part", status="200") == 1
    assert value(other, "lyestock_requests_total", route="part", status="200") is None


def test_what_runs_and_how_the_process_is_are_told(alone: Caller) -> None:
    info = next(one for one in samples(alone, "lyestock") if one.name == "lyestock_info")
    assert info.labels["data_version"] == reference_data().version
    assert any(one.name == "python_gc_collections_total" for one in samples(alone, "python_gc"))
    assert any(one.name == "python_info" for one in samples(alone, "python"))


def test_page_is_text_for_prometheus_and_not_kept(alone: Caller) -> None:
    reply = alone("GET", "/metrics")
    assert reply.headers["content-type"] == "text/plain; version=0.0.4; charset=utf-8"
    assert reply.headers["cache-control"] == "no-store"
    head = alone("HEAD", "/metrics")
    assert (head.status, head.body) == (200, b"")


def test_page_refuses_parameters_and_other_methods(alone: Caller) -> None:
    reply = alone("GET", "/metrics?name=x&b")
    assert (reply.status, reply.codes) == (400, ["unknown-parameter", "unknown-parameter"])
    assert [error["parameter"] for error in reply.json()["errors"]] == ["name", "b"]
    reply = alone("POST", "/metrics")
    assert (reply.status, reply.headers["allow"]) == (405, "GET, HEAD, OPTIONS")
