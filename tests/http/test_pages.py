"""What is read with GET: pages, contract and health; all of it from the service itself."""

import json
import re

import pytest

from service import __version__
from service.calculations.shared.fault_meanings import MEANINGS
from service.calculations.shared.faults import FAULT_CODES
from service.http.problems import KINDS
from service.reference import reference_data
from tests.asgi import Caller

PAGES = ["/", "/docs", "/problems", "/words", *(kind.uri for kind in KINDS.values())]
READABLE = [*PAGES, "/openapi.json", "/health/live", "/health/ready", "/docs/start.js", "/docs/swagger-ui.css"]
LOADED = re.compile(rb"""(?:src|href|url)\s*[=:(]\s*["']?([^"'>\s)]+)""")


@pytest.mark.parametrize("address", READABLE)
def test_head_answers_as_get_without_body(call: Caller, address: str) -> None:
    get, head = call("GET", address), call("HEAD", address)
    assert (get.status, head.status, head.body) == (200, 200, b"")
    assert len(get.body) > 0
    unlike = {"x-request-id"}
    assert {n: v for n, v in get.headers.items() if n not in unlike} == {
        n: v for n, v in head.headers.items() if n not in unlike
    }
    assert head.headers["content-length"] == str(len(get.body))


@pytest.mark.parametrize("address", READABLE)
def test_options_and_wrong_methods_tell_allow(call: Caller, address: str) -> None:
    assert call("OPTIONS", address).headers["allow"] == "GET, HEAD, OPTIONS"
    reply = call("DELETE", address)
    assert (reply.status, reply.headers["allow"]) == (405, "GET, HEAD, OPTIONS")
    assert reply.json()["type"] == "/problems/method-not-allowed"


@pytest.mark.parametrize("address", PAGES)
def test_pages_load_nothing_from_other_hosts(call: Caller, address: str) -> None:
    reply = call("GET", address)
    assert reply.headers["content-type"] == "text/html; charset=utf-8"
    policy = reply.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'")
    assert "http" not in policy
    loaded = LOADED.findall(reply.body)
    assert loaded, "the pattern found nothing, so it would find no foreign host either"
    assert [
        target for target in loaded if not target.startswith((b"/", b"data:,", b"#")) or target.startswith(b"//")
    ] == []


def test_docs_page_is_put_together_from_files_of_the_service(call: Caller) -> None:
    files = [target.decode() for target in LOADED.findall(call("GET", "/docs").body) if target.startswith(b"/docs/")]
    assert files == ["/docs/swagger-ui.css", "/docs/page.css", "/docs/swagger-ui-bundle.js", "/docs/start.js"]
    kinds = [call("GET", file).headers["content-type"] for file in files]
    css, script = "text/css; charset=utf-8", "text/javascript; charset=utf-8"
    assert kinds == [css, css, script, script]
    start = call("GET", "/docs/start.js").body
    assert b'url: "/openapi.json"' in start
    assert b"validatorUrl: null" in start, "else the page asks a foreign host to check the contract"


@pytest.mark.parametrize("name", ["index.html", "swagger-initializer.js", "..", "%2e%2e", "__init__.py"])
def test_no_other_file_is_served(call: Caller, name: str) -> None:
    assert call("GET", f"/docs/{name}").status == 404


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_every_kind_of_problem_has_its_page(call: Caller, kind: object) -> None:
    page = call("GET", kind.uri).body.decode()  # type: ignore[attr-defined]
    assert kind.title in page  # type: ignore[attr-defined]
    assert str(kind.status) in page  # type: ignore[attr-defined]


@pytest.mark.parametrize("kind", ["invalid-request", "not-sensible"])
def test_pages_of_refusals_explain_every_code_of_a_fault(call: Caller, kind: str) -> None:
    page = call("GET", f"/problems/{kind}").body.decode()
    assert set(re.findall(r"<dt id='([a-z-]+)'", page)) == FAULT_CODES == set(MEANINGS)


def test_unknown_kind_of_problem_is_not_found(call: Caller) -> None:
    reply = call("GET", "/problems/nothing")
    assert (reply.status, reply.json()["type"]) == (404, "/problems/not-found")


def test_health_tells_versions(call: Caller) -> None:
    assert call("GET", "/health/live").json() == {"status": "ok"}
    ready = call("GET", "/health/ready").json()
    assert ready["status"] == "ready"
    assert ready["version"] == __version__
    assert ready["data_version"] == call("POST", "/v1/part", {"mass": "1 g", "share": 1}).headers["data-version"]


def test_contract_is_served_as_json_and_names_every_calculation(call: Caller) -> None:
    reply = call("GET", "/openapi.json")
    assert reply.headers["content-type"] == "application/json"
    assert {"/v1/part", "/v1/fails", "/v1/endless", "/health/live"} <= json.loads(reply.body)["paths"].keys()


def test_first_page_lists_the_calculations(call: Caller) -> None:
    page = call("GET", "/").body.decode()
    assert "POST /v1/part" in page
    assert "href='/docs'" in page
    assert "<title>Lyestock</title>" in page


def test_pages_are_named_after_what_they_tell(call: Caller) -> None:
    assert "<title>Problems - Lyestock</title>" in call("GET", "/problems").body.decode()


def test_invalid_host_is_a_problem_document(call: Caller) -> None:
    reply = call("GET", "/docs", headers=[("host", "a b")])
    assert (reply.status, reply.json()["type"]) == (400, "/problems/invalid-request")


def test_start_page_lists_every_identifier_of_the_catalogue(call: Caller) -> None:
    text = call("GET", "/").body.decode()
    data = reference_data()
    for entries in (data.fats, data.liquids, data.acids, data.vessel_materials, data.sources):
        assert all(f"<code>{key}</code>" in text for key in entries)
