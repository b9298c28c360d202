"""The contract as a document: valid, complete, the same as the committed one, and true in its examples."""

import json
import re
from pathlib import Path
from typing import Any, Final, get_args

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator

from service.calculations.cautions import GROUNDS, CautionCode
from service.calculations.faults import FAULT_CODES
from service.calculations.given import GIVEN
from service.calculations.registry import calculations
from service.http.contract import EXAMPLE_DIGITS, example_files, openapi, operation_id
from service.http.problems import KINDS
from service.http.schemas import text_pattern
from tests.asgi import Caller

COMMITTED: Final = Path(__file__).parents[2] / "openapi" / "openapi.json"
DOCUMENT: Final[dict[str, Any]] = json.loads(json.dumps(openapi(calculations())))
SCHEMAS: Final[dict[str, Any]] = DOCUMENT["components"]["schemas"]
POSTS: Final[dict[str, Any]] = {path: item["post"] for path, item in DOCUMENT["paths"].items() if "post" in item}
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


def validator(schema: dict[str, Any]) -> Draft202012Validator:
    """A validator of a schema of the contract, with all components at hand."""
    return Draft202012Validator({**schema, "components": {"schemas": SCHEMAS}})


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
    committed = {file.relative_to(folder).as_posix(): file.read_bytes() for file in folder.rglob("*.json")}
    assert committed == example_files(calculations())


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
        plain = "$ref" in schema or any("$ref" in branch for branch in schema.get("anyOf", ()))
        figure = member in {"value", "unit"}
        assert plain or figure or schema.get("description"), f"{name}.{member} is not described"


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
    assert set(POSTS[path]["responses"]) == {"200", "400", "405", "406", "413", "415", "422", "500"}


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
    example = next(name for one, name in EXAMPLES if one == path)
    answer = call("POST", path, request_example(path, example)).json()
    following = next(one for one, post in POSTS.items() if post["operationId"] == link["operationId"])
    body = _filled(link["requestBody"], answer)
    validator(POSTS[following]["requestBody"]["content"]["application/json"]["schema"]).validate(body)
    assert call("POST", following, body).status == 200, name


def _filled(node: Any, answer: Any) -> Any:
    """The request of a link, its runtime expressions replaced by what the answer holds."""
    if isinstance(node, dict):
        return {name: _filled(one, answer) for name, one in node.items()}
    if isinstance(node, list):
        return [_filled(one, answer) for one in node]
    if isinstance(node, str) and node.startswith("$response.body#/"):
        for step in node.removeprefix("$response.body#/").split("/"):
            answer = answer[int(step)] if isinstance(answer, list) else answer[step]
        return answer
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
