"""The contract as a document: valid, complete, the same as the committed one, and true in its examples."""

import json
import re
from pathlib import Path
from typing import Any, Final, get_args
from urllib.parse import urlencode

import pytest
from openapi_spec_validator import OpenAPIV31SpecValidator

from service.calculations.registry import calculations
from service.calculations.shared.cautions import GROUNDS, CautionCode
from service.calculations.shared.faults import FAULT_CODES
from service.calculations.shared.given import GIVEN
from service.http.app import create_app
from service.http.calculation_query import EXAMPLE_DIGITS
from service.http.contract_bulk import example_files as bulk_files
from service.http.contract_calculations import example_files, operation_id
from service.http.operation import guard
from service.http.operation.readiness import PROCESS
from service.http.operation.settings import Settings
from service.http.pages import ENDING
from service.http.problems import KINDS
from service.http.quantity_schemas import text_pattern
from tests.asgi import Caller
from tests.contract.documents import DOCUMENT, POSTS, SCHEMAS, validator

COMMITTED: Final = Path(__file__).parents[2] / "openapi" / "openapi.json"
EXAMPLES: Final = [
    (path, name)
    for path, post in POSTS.items()
    for name in post["requestBody"]["content"]["application/json"]["examples"]
]
LINKS: Final = [
    (path, name, link)
    for path, post in POSTS.items()
    for name, link in post["responses"]["200"].get("links", {}).items()
]


def parts(node: Any) -> list[Any]:
    """Every object of a document."""
    if isinstance(node, list):
        return [part for one in node for part in parts(one)]
    if isinstance(node, dict):
        return [node, *(part for one in node.values() for part in parts(one))]
    return []


def target(pointer: str) -> Any:
    """What a reference within the document points to."""
    node: Any = DOCUMENT
    for step in pointer.removeprefix("#/").split("/"):
        node = node[step.replace("~1", "/").replace("~0", "~")]
    return node


def request_example(path: str, name: str) -> Any:
    return POSTS[path]["requestBody"]["content"]["application/json"]["examples"][name]["value"]


def answer_example(path: str, name: str) -> Any:
    return POSTS[path]["responses"]["200"]["content"]["application/json"]["examples"][name]["value"]


def test_contract_is_valid_openapi_3_1() -> None:
    errors = [error.message for error in OpenAPIV31SpecValidator(DOCUMENT).iter_errors()]
    assert errors == []


def test_committed_contract_is_the_one_served(call: Caller) -> None:
    assert COMMITTED.read_bytes() == call("GET", "/openapi.json").body


def test_committed_examples_are_those_of_the_contract() -> None:
    folder = COMMITTED.parent / "examples"
    committed = {file.relative_to(folder).as_posix(): file.read_bytes() for file in folder.rglob("*.*")}
    assert committed == example_files(calculations()) | bulk_files(calculations())


def test_every_reference_resolves() -> None:
    references = {part["$ref"] for part in parts(DOCUMENT) if isinstance(part.get("$ref"), str)}
    assert len(references) > 50
    for reference in references:
        assert target(reference)


def test_every_component_is_used() -> None:
    used = {part["$ref"] for part in parts(DOCUMENT) if isinstance(part.get("$ref"), str)}
    assert {f"#/components/schemas/{name}" for name in SCHEMAS} <= used
    assert {
        part["$ref"].rpartition("/")[2] for part in parts(DOCUMENT["paths"]) if "responses" in part.get("$ref", "")
    } == {"".join(word.capitalize() for word in name.split("-")) for name in KINDS}


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_component_is_named_and_described(name: str) -> None:
    assert SCHEMAS[name]["title"]
    assert len(SCHEMAS[name]["description"]) > 10
    for member, schema in SCHEMAS[name].get("properties", {}).items():
        assert schema.get("description"), f"{name}.{member} is not described"
    for form in SCHEMAS[name].get("oneOf", ()):
        assert form["title"]
        assert form["description"]
    assert SCHEMAS[name]["examples"], f"{name} has no example"


def test_every_enumeration_says_its_type() -> None:
    for part in parts(DOCUMENT):
        if isinstance(part.get("enum"), list):
            assert part["type"] == "string"


def test_names_for_generated_code_are_plain_and_none_stands_twice() -> None:
    named = [part for part in parts(SCHEMAS) if "x-enum-varnames" in part]
    assert len(named) > 10
    for part in named:
        names = part["x-enum-varnames"]
        assert len(names) == len(set(names)) == len(part["enum"])
        assert all(re.fullmatch(r"[A-Z][A-Z0-9]*(_[A-Z0-9]+)*", name) for name in names)


def test_every_parameter_and_header_is_described_with_an_example_that_fits() -> None:
    parameters = [part for part in parts(DOCUMENT) if "in" in part and "schema" in part]
    assert len(parameters) > 4
    for part in [*parameters, *DOCUMENT["components"]["headers"].values()]:
        assert part["description"]
        validator(part["schema"]).validate(part["example"])


def test_every_response_but_304_is_described_and_has_a_body_with_an_example() -> None:
    found = [
        response if "description" in response else target(response["$ref"])
        for item in DOCUMENT["paths"].values()
        for operation in item.values()
        for status, response in operation["responses"].items()
        if status != "304"
    ]
    for response in found:
        assert response["description"]
        assert "X-Request-Id" in response["headers"]
        for media in response["content"].values():
            examples = [one["value"] for one in media.get("examples", {}).values()] or [media["example"]]
            for example in examples:
                validator(media["schema"]).validate(example)


def test_every_example_says_where_it_comes_from() -> None:
    for path, name in EXAMPLES:
        example = POSTS[path]["requestBody"]["content"]["application/json"]["examples"][name]
        invented = "(invented)" in example["summary"]
        assert example["description"].startswith("The workshop is invented" if invented else "Published: ")


@pytest.mark.parametrize("path", POSTS)
def test_objects_of_requests_are_closed(path: str) -> None:
    left = [POSTS[path]["requestBody"]["content"]["application/json"]["schema"]]
    seen: set[str] = set()
    while left:
        for part in parts(left.pop()):
            if "properties" in part and part.get("type") == "object":
                assert part["additionalProperties"] is False
            reference = part.get("$ref")
            if isinstance(reference, str) and reference not in seen:
                seen.add(reference)
                left.append(target(reference))
    assert seen


def test_every_operation_is_named_tagged_and_described() -> None:
    operations = [operation for item in DOCUMENT["paths"].values() for operation in item.values()]
    tags = {tag["name"] for tag in DOCUMENT["tags"]}
    names = [operation["operationId"] for operation in operations]
    assert len(set(names)) == len(names)
    for operation in operations:
        assert re.fullmatch(r"[a-z]+(_[a-z]+)*", operation["operationId"])
        assert set(operation["tags"]) <= tags
        assert operation["summary"]
        assert operation["description"]
        assert any(status.startswith("4") for status in operation["responses"])


@pytest.mark.parametrize("path", POSTS)
def test_every_calculation_documents_every_status(path: str) -> None:
    own = {"200", "400", "405", "406", "408", "413", "415", "422", "500"}
    assert set(POSTS[path]["responses"]) == own | {"401", "414", "429", "431", "503"}


def test_every_answer_holds_cautions_assumptions_and_data_version() -> None:
    for post in POSTS.values():
        answer = target(post["responses"]["200"]["content"]["application/json"]["schema"]["$ref"])
        assert {"cautions", "assumed", "data_version"} <= set(answer["required"])


def test_all_codes_are_in_the_contract() -> None:
    assert set(SCHEMAS["Caution"]["properties"]["code"]["enum"]) == set(get_args(CautionCode))
    assert set(SCHEMAS["Fault"]["properties"]["code"]["enum"]) == FAULT_CODES
    assert set(SCHEMAS["Problem"]["properties"]["type"]["enum"]) == {f"/problems/{name}" for name in KINDS}


def test_every_caution_is_listed_with_its_severity_and_meaning() -> None:
    listed = SCHEMAS["Caution"]["properties"]["code"]["description"].splitlines()
    for code, ground in GROUNDS.items():
        assert f"- `{code}` ({ground.severity}): {ground.meaning}" in listed


def test_rules_between_members_are_in_the_contract() -> None:
    two_forms = {"mass_fraction": "50 %", "water_ratio": "1:1"}
    strength = validator(SCHEMAS["Strength"])
    assert not strength.is_valid(two_forms)
    assert not strength.is_valid({})
    assert strength.is_valid({"mass_fraction": "50 %", "water_ratio": None})
    assert not strength.is_valid({"mass_fraction": "50 %", "baume_modulus": 145})


@pytest.mark.parametrize(("path", "name"), EXAMPLES)
def test_example_fits_its_schema(path: str, name: str) -> None:
    post = POSTS[path]
    validator(post["requestBody"]["content"]["application/json"]["schema"]).validate(request_example(path, name))
    validator(post["responses"]["200"]["content"]["application/json"]["schema"]).validate(answer_example(path, name))


@pytest.mark.parametrize(("path", "name"), EXAMPLES)
def test_example_gives_the_answer_the_contract_shows(call: Caller, path: str, name: str) -> None:
    reply = call("POST", f"{path}?digits={EXAMPLE_DIGITS}", request_example(path, name))
    assert reply.status == 200
    assert reply.json() == answer_example(path, name)


@pytest.mark.parametrize("path", POSTS)
def test_every_calculation_has_an_example(path: str) -> None:
    assert any(one == path for one, _ in EXAMPLES)


def test_examples_of_members_fit_their_schemas() -> None:
    looked_at = 0
    for part in parts(SCHEMAS):
        if isinstance(part.get("examples"), list):
            for example in part["examples"]:
                validator(part).validate(example)
                looked_at += 1
    assert looked_at > 50


def test_every_link_leads_to_a_calculation() -> None:
    targets = {link.to for calculation in calculations().values() for link in calculation.links}
    assert targets <= calculations().keys()
    assert {link["operationId"] for _, _, link in LINKS} == {operation_id(name) for name in targets}


@pytest.mark.parametrize(("path", "name", "link"), LINKS)
def test_link_carries_an_answer_on_to_the_next_calculation(
    call: Caller, path: str, name: str, link: dict[str, Any]
) -> None:
    following = next(one for one, post in POSTS.items() if post["operationId"] == link["operationId"])
    fits = validator(POSTS[following]["requestBody"]["content"]["application/json"]["schema"])
    for units in ("metric", "us"):
        request = request_example(path, next(name for one, name in EXAMPLES if one == path))
        answer = call("POST", f"{path}?units={units}", request).json()
        body = filled(link["requestBody"], request, answer)
        assert "$" not in json.dumps(body)
        fits.validate(body)
        assert call("POST", following, body).status == 200, name


@pytest.mark.parametrize(("path", "name"), EXAMPLES)
def test_every_example_leads_on_by_every_link(call: Caller, path: str, name: str) -> None:
    request = request_example(path, name)
    answer = call("POST", path, request).json()
    for link in POSTS[path]["responses"]["200"].get("links", {}).values():
        following = next(one for one, post in POSTS.items() if post["operationId"] == link["operationId"])
        reply = call("POST", following, filled(link["requestBody"], request, answer))
        # Potash is not drawn from the soda stock that the link supposes, no alkali from water, and below 0 °C no
        # properties are known.
        led_nowhere = {
            "published-titration": ["contradiction"],
            "published-heat-of-water": ["out-of-range"],
            "published-newton-cooling": ["beyond-data"],
        }
        assert reply.status == 200 or reply.codes == led_nowhere.get(name)


@pytest.mark.parametrize("water", ["20 °C", "70 °C"])
def test_a_mixing_leads_to_its_cooling_from_the_upper_end_of_its_peak(call: Caller, water: str) -> None:
    """The longest that it can take; where it boils, from the upper end of the boiling point."""
    asked = {
        "solid": {"alkali": "NaOH", "mass_as_supplied": "10 kg", "purity": "99 %"},
        "water": {"mass": "10 kg", "temperature": water},
    }
    mixed = call("POST", "/v1/stock-mixing", asked).json()
    assert mixed["boils"] is (water == "70 °C")
    reply = call("POST", "/v1/stock-cooling", filled(_link("/v1/stock-mixing", "until-it-is-cool"), asked, mixed))
    assert reply.status == 200, reply.body
    assert reply.json()["path"][0]["temperature"]["value"] == mixed["peak_temperature"]["high"]


def test_links_lead_from_the_fats_to_the_next_mixing_of_the_stock(call: Caller) -> None:
    """Saponification, split, mixing: what is drawn is what is mixed anew, at the same strength."""
    request = request_example("/v1/saponification", "olive-and-coconut")
    alkali = call("POST", "/v1/saponification", request).json()
    split_request = filled(_link("/v1/saponification", "split-the-liquid"), request, alkali)
    split = call("POST", "/v1/liquid-split", split_request).json()
    draw = split["stock_draws"][0]
    assert draw["alkali_mass"]["value"] == pytest.approx(alkali["alkalis"][0]["mass"]["value"])
    mixed = call("POST", "/v1/stock-mixing", filled(_link("/v1/liquid-split", "mix-new-stock"), split_request, split))
    assert mixed.json()["mass"]["value"] == pytest.approx(draw["mass"]["value"])
    assert mixed.json()["strength"]["mass_fraction"]["value"] == pytest.approx(0.5)


def _link(path: str, name: str) -> Any:
    return POSTS[path]["responses"]["200"]["links"][name]["requestBody"]


def filled(node: Any, request: Any, answer: Any) -> Any:
    """The request of a link, its runtime expressions replaced by what request and answer hold."""
    if isinstance(node, dict):
        return {name: filled(one, request, answer) for name, one in node.items()}
    if isinstance(node, list):
        return [filled(one, request, answer) for one in node]
    if isinstance(node, str) and node.startswith("$"):
        body, _, pointer = node.partition("#/")
        found = {"$request.body": request, "$response.body": answer}[body]
        for step in pointer.split("/"):
            found = found[int(step)] if isinstance(found, list) else found[step]
        return found
    return node


SPELLED: Final = (
    *("1 {}", "60 {}", "1{}", " 1  {} ", "+1.5e2 {}", ".5 {}", "1. {}", "-1 {}", "1  \u00a0{}", "2:1", "2 : 1"),
    *("1 {}\n", "1 {} x", "1,5 {}", "e5 {}", "1 2 {}", "{}", "1e {}", "1e1234 {}", "\u0661 {}", "1      {}"),
    *("1" * 40 + " {}", "1" * 41 + " {}", "2:", ":1", "1:2:3"),
)


@pytest.mark.parametrize("given", GIVEN)
def test_pattern_of_a_quantity_says_what_is_read(given: Any) -> None:
    """Whatever the pattern takes is refused for nothing but its range, and whatever it leaves out is refused."""
    pattern = re.compile(text_pattern(given))
    taken = 0
    for word in [*given.kind.units, "kg", "fl_oz", "Mg", "°", "1"]:
        for spelled in SPELLED:
            text = spelled.format(word)
            try:
                given.read(text)
                code = ""
            except ValueError as fault:
                code = getattr(fault, "code", "no code")
            assert (code in {"", "out-of-range"}) == bool(pattern.fullmatch(text)), (text, code)
            taken += not code
    assert taken


def test_examples_of_problems_fit_their_schema() -> None:
    for response in DOCUMENT["components"]["responses"].values():
        media = response["content"]["application/problem+json"]
        for example in media["examples"].values():
            validator(media["schema"]).validate(example["value"])


BODY: Final = {"fats": [{"fat": "olive-oil", "mass": "1 kg"}]}
ASKED: Final[dict[str, tuple[str, str, Any, list[tuple[str, str]]]]] = {
    "invalid-request": (
        "POST",
        "/v1/saponification?unit=us",
        {"fats": [{"fat": "olive-oil", "mass": 170.1}]},
        [],
    ),
    "not-sensible": ("POST", "/v1/saponification", {"fats": [{"fat": "olive", "mass": "1 kg"}]}, []),
    "not-found": ("GET", "/v1/saponifications", None, []),
    "method-not-allowed": ("GET", "/v1/saponification", None, []),
    "not-acceptable": ("POST", "/v1/saponification", BODY, [("accept", "text/csv")]),
    "body-too-large": ("POST", "/v1/saponification", b" " * 1_048_577, [("content-type", "application/json")]),
    "unsupported-media-type": ("POST", "/v1/saponification", b"{}", [("content-type", "text/plain")]),
    "internal": ("POST", "/v1/saponification", {**BODY, "reference": "asked only where it fails"}, []),
    "unauthorized": ("POST", "/v1/saponification", BODY, []),
    "address-too-long": ("POST", "/v1/saponification?" + "a" * (9000 - 19), BODY, []),
    "too-many-requests": ("POST", "/v1/saponification", {**BODY, "superfat": "7 %"}, []),
    "unavailable": ("GET", "/health/ready", None, []),
}
"""What is asked for each kind of problem: method, address, body, headers. What fails must not have been answered."""
SET: Final = {
    "unauthorized": Settings(key_hashes=("sha256:" + "0" * 64,)),
    "too-many-requests": Settings(rate_per_address=20),
}
"""What is set where a problem needs a setting."""
ELSEWHERE: Final = {"request-timeout", "headers-too-large"}
"""Problems of time, which tests/operation/test_limits.py has, and of the line: tests/faults has them."""


@pytest.mark.parametrize("name", [name for name in KINDS if name not in ELSEWHERE])
def test_example_of_a_problem_is_what_is_answered(call: Caller, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    method, address, body, headers = ASKED[name]
    if name == "internal":
        monkeypatch.setattr(calculations()["saponification"], "calculate", lambda *_: 1 / 0)
    if name in SET:
        call = Caller(create_app(settings=SET[name]))
    if name == "too-many-requests":
        monkeypatch.setattr(guard, "monotonic", lambda: 0.0)  # a bucket fills again while a busy machine asks
        for _ in range(20):
            assert call(method, address, body, headers).status == 200
    if name == "unavailable":
        monkeypatch.setattr(PROCESS, "draining", True)
    reply = call(method, address, body, headers)
    (response,) = (
        one for one in DOCUMENT["components"]["responses"].values() if f"problems/{name}" in json.dumps(one["content"])
    )
    example = response["content"]["application/problem+json"]["examples"][name]["value"]
    if name in {"not-found", "unavailable"}:  # their examples stand for any path
        example = example | {"instance": address}
    if name == "unavailable":  # and that of another reason
        example = example | {"detail": ENDING}
    assert reply.json() == example
    assert reply.status == example["status"]
    # What every answer bears stands in the description of the contract.
    undocumented = reply.headers.keys() - {header.lower() for header in response["headers"]}
    # Connection is of the line, not of the answer (RFC 9110, 7.6.1).
    everywhere = EVERYWHERE if name != "unauthorized" else EVERYWHERE - {"access-control-allow-origin"}
    assert undocumented - {"content-type", "content-length", "connection"} == everywhere


EVERYWHERE: Final = {
    "access-control-allow-origin",
    "access-control-expose-headers",
    "referrer-policy",
    "x-content-type-options",
}


def test_headers_of_every_answer_are_named_in_the_description() -> None:
    said = DOCUMENT["info"]["description"].lower()
    assert all(f"`{header}`" in said for header in EVERYWHERE)


ONE_OF: Final = {"water_ratio", "water_mass"}
"""Parameters of which one must be given, or another in its place."""


def _address(path: str) -> str:
    """A path with the examples of its parameters put in, those of the query that it needs among them."""
    template, parameters = path, DOCUMENT["paths"][path].get("get", {}).get("parameters", ())
    for parameter in parameters:
        if parameter.get("in") == "path":
            path = path.replace(f"{{{parameter['name']}}}", parameter["example"])
    asked = {one["name"]: one["example"] for one in parameters if one.get("required") or one.get("name") in ONE_OF}
    return f"{path}?{urlencode(asked)}" if asked and "{" not in template else path


@pytest.mark.parametrize("path", DOCUMENT["paths"])
def test_head_and_options_work_as_the_description_says(call: Caller, path: str) -> None:
    address = _address(path)
    options = call("OPTIONS", address)
    assert (options.status, options.body) == (204, b"")
    allowed = set(options.headers["allow"].split(", "))
    assert {method.upper() for method in DOCUMENT["paths"][path]} <= allowed
    if "get" in DOCUMENT["paths"][path]:
        assert "HEAD" in allowed
        head, get = call("HEAD", address), call("GET", address)
        assert head.body == b""
        assert head.status == get.status == 200
        assert head.headers.keys() == get.headers.keys()
    else:
        assert allowed == {"POST", "OPTIONS"}
