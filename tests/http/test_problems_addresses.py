"""Addresses that are not meant: paths, methods and queries; what is said of them, and that it is safe."""

import gc
import json
import time

import pytest

from service.http.app import create_app
from service.http.calculation_query import NAMES, read_wishes
from service.http.parameters import stray_parameters
from tests.asgi import Caller
from tests.http.conftest import HALF

LOST = "There is nothing at this path"


@pytest.fixture(scope="module")
def whole() -> Caller:
    """The service with all its calculations."""
    return Caller(create_app())


# Paths


@pytest.mark.parametrize(
    ("path", "told"),
    [
        ("/v1/liquid-splt", f"{LOST}. Did you mean /v1/liquid-split or /v1/liquids?"),
        ("/v1/Saponification", f"{LOST}. Did you mean /v1/saponification?"),
        ("/V1/saponification", f"{LOST}. Did you mean /v1/saponification?"),
        ("/saponification", f"{LOST}. Did you mean /v1/saponification?"),
        ("/api/v1/stock-mixing", f"{LOST}. Did you mean /v1/stock-mixing?"),
        ("/v1/saponification\x00", f"{LOST}. Did you mean /v1/saponification?"),
        ("/dcos", f"{LOST}. Did you mean /docs?"),
        ("/helth/live", f"{LOST}. Did you mean /health/live?"),
        ("/openapi", f"{LOST}. Did you mean /openapi.json?"),
        ("/problem/internal", f"{LOST}. Did you mean /problems/internal?"),
        ("/v1/saponification/", f"{LOST}; it has a slash too many. Use /v1/saponification."),
        ("//v1/saponification", f"{LOST}; it has a slash too many. Use /v1/saponification."),
        ("/v1//saponification", f"{LOST}; it has a slash too many. Use /v1/saponification."),
        ("/docs/", f"{LOST}; it has a slash too many. Use /docs."),
        ("/v1/../v1/saponification", f"{LOST}; write it without dots. Use /v1/saponification."),
        ("/v1/./saponification", f"{LOST}; write it without dots. Use /v1/saponification."),
        ("/xyzzy", f"{LOST}. The start page, /, lists what there is; /docs shows how to ask."),
        ("*", f"{LOST}. The start page, /, lists what there is; /docs shows how to ask."),
        ("/" * 5000, f"{LOST}. Did you mean /?"),
    ],
    ids=lambda value: value[:24].replace("\x00", "NUL"),
)
@pytest.mark.parametrize("method", ["GET", "POST", "PUT"])
def test_a_path_where_nothing_is_names_the_one_that_may_be_meant(
    whole: Caller, method: str, path: str, told: str
) -> None:
    assert whole(method, path).detail(404) == told


@pytest.mark.parametrize(
    ("path", "told"),
    [
        ("/problems/intrnal", "There is no such kind of problem (did you mean 'internal'?). /problems lists all."),
        (
            "/docs/swagger.css",
            "There is no such file (did you mean 'swagger-ui.css' or 'page.css'?). Use the page /docs.",
        ),
    ],
)
def test_a_page_that_is_not_there_names_the_one_that_may_be_meant(whole: Caller, path: str, told: str) -> None:
    assert whole("GET", path).detail(404) == told


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("/v1/" + "a" * 8000, 404),
        ("/" + "v1/saponification" * 480, 404),
        ("/é" * 2000, 404),
        ("/v1/" + "a" * 60_000, 414),
        ("/" + "v1/saponification" * 4000, 414),
        ("/é" * 9000, 414),
    ],
)
def test_a_long_path_is_told_of_shortly_and_at_once(whole: Caller, path: str, status: int) -> None:
    start = time.process_time()
    reply = whole("POST", path, {})
    assert time.process_time() - start < 0.2
    assert reply.status == status
    assert len(reply.body) < 2000


@pytest.mark.parametrize(
    ("raw", "instance"),
    [
        (b"/x\r\nX-Evil: 1", "/x%0D%0AX-Evil:%201"),
        (b"/x\xff\xfe", "/x%FF%FE"),
        (b"/x\x00\x1b[31m", "/x%00%1B%5B31m"),
        ("/ü/\u202e".encode(), "/%C3%BC/%E2%80%AE"),
        (b"/<script>alert(1)</script>", "/%3Cscript%3Ealert(1)%3C/script%3E"),
        (b'/"}', "/%22%7D"),
        (b"/a%0d%0ab", "/a%0d%0ab"),
    ],
)
def test_a_hostile_path_is_repeated_in_safe_letters(whole: Caller, raw: bytes, instance: str) -> None:
    reply = whole.raw("POST", raw, b"")
    assert reply.status == 404
    assert reply.json()["instance"] == instance
    assert reply.body.isascii()
    assert "x-evil" not in reply.headers


# Methods


@pytest.mark.parametrize("method", ["GET", "PUT", "TRACE", "CONNECT", "QUERY", "PROPFIND"])
def test_another_method_at_a_calculation_is_told_to_post(call: Caller, method: str) -> None:
    reply = call(method, "/v1/part?x=1")
    assert reply.detail(405) == f"{method} is not known here. Send the request as JSON with POST; /docs shows how."
    assert reply.headers["allow"] == "POST, OPTIONS"


def test_a_post_to_a_page_is_told_to_get(call: Caller) -> None:
    reply = call("POST", "/docs", {})
    assert reply.detail(405) == "POST is not known here; GET, HEAD, OPTIONS are. Pages are read with GET."


# Queries of pages


@pytest.mark.parametrize(
    "address", ["/", "/docs", "/openapi.json", "/health/live", "/health/ready", "/problems/internal"]
)
@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_a_page_refuses_parameters_it_does_not_take(call: Caller, method: str, address: str) -> None:
    assert call(method, address).status == 200
    reply = call(method, f"{address}?x=1&x=2&units=us&y")
    assert reply.status == 400
    if method == "GET":
        assert [(one["parameter"], one["code"]) for one in reply.json()["errors"]] == [
            ("x", "unknown-parameter"),
            ("x", "unknown-parameter"),
            ("units", "unknown-parameter"),
            ("y", "unknown-parameter"),
        ]
        assert reply.json()["errors"][2]["mend"] == "leave it out; units goes to the calculations, below /v1/"


@pytest.mark.parametrize("query", ["", "&", "&&"])
def test_an_empty_query_asks_for_nothing(call: Caller, query: str) -> None:
    assert call("GET", f"/health/live?{query}").status == 200


# Queries of calculations


@pytest.mark.parametrize(
    ("query", "parameter", "code", "told", "mend"),
    [
        ("unit=us", "unit", "unknown-parameter", "there is no parameter 'unit' (did you mean 'units'?)", "write units"),
        (
            "Units=us",
            "Units",
            "unknown-parameter",
            "there is no parameter 'Units' (did you mean 'units'?)",
            "write units",
        ),
        (
            "superfat=5",
            "superfat",
            "unknown-parameter",
            "there is no parameter 'superfat'",
            "use units, digits, explain and format; what is calculated goes into the body",
        ),
        (
            "=5",
            "",
            "unknown-parameter",
            "there is no parameter without a name",
            "use units, digits, explain and format; what is calculated goes into the body",
        ),
        (
            "units=imperial",
            "units",
            "invalid-parameter",
            "'imperial' is not known for units",
            "write units=metric or units=us",
        ),
        ("units", "units", "invalid-parameter", "units has no value", "write units=metric or units=us"),
        (
            "units=%ff",
            "units",
            "invalid-parameter",
            "'\ufffd' is not known for units",
            "write units=metric or units=us",
        ),
        (
            "digits=1e3",
            "digits",
            "invalid-parameter",
            "'1e3' is not a whole number from 1 to 15",
            "write digits=6, or leave it out",
        ),
        ("digits=", "digits", "invalid-parameter", "digits has no value", "write digits=6, or leave it out"),
        ("units=us&units=us", "units", "repeated-parameter", "units is given more than once", "give it once"),
    ],
)
def test_a_query_that_is_not_known_is_told_word_for_word(
    call: Caller, query: str, parameter: str, code: str, told: str, mend: str
) -> None:
    reply = call("POST", f"/v1/part?{query}", HALF)
    assert reply.status == 400
    assert reply.json()["errors"] == [{"code": code, "detail": told, "mend": mend, "parameter": parameter}]


def test_no_parameter_is_passed_over_however_many_there_are(call: Caller) -> None:
    query = "&".join(["a=1"] * 99 + ["units=us", "digits=3", "digits=4", "nix=1"])
    document = call("POST", f"/v1/part?{query}", HALF).json()
    assert document["detail"] == "The request has 100 faults: see errors."
    assert document["errors"][-1]["code"] == "too-many"
    assert document["errors"][-1]["parameter"] == "digits"
    assert "103 parameters" in document["errors"][-1]["detail"]


def test_a_known_parameter_behind_a_hundred_others_is_not_dropped_in_silence(call: Caller) -> None:
    assert call("POST", "/v1/part?" + "&" * 300 + "units=us", HALF).json()["part"]["unit"] == "oz"
    assert call("POST", "/v1/part?" + "units=us&" * 150, HALF).status == 400


@pytest.mark.parametrize("read", [read_wishes, lambda query: stray_parameters(query, NAMES)])
@pytest.mark.parametrize("query", [b"a&" * 30_000, b"unit=1&" * 9000, b"%" * 60_000, b"=" * 60_000, b"\xff" * 60_000])
def test_a_long_query_is_looked_at_in_no_time(read: object, query: bytes) -> None:
    gc.disable()  # a sweep over the heap of a whole test run takes longer than what is looked at here
    try:
        start = time.process_time()
        assert read(query)  # type: ignore[operator]
        assert time.process_time() - start < 0.2
    finally:
        gc.enable()


def test_faults_of_the_query_are_told_beside_a_wrong_content_type(call: Caller) -> None:
    reply = call("POST", "/v1/part?unit=us", json.dumps(HALF).encode(), [("content-type", "text/plain")])
    assert reply.detail(415) == "Content-Type is text/plain. Send Content-Type: application/json."
    assert reply.codes == ["unknown-parameter"]
