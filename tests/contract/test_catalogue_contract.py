"""The catalogue against the contract: every entry fits its schema, and the contract says what it must."""

from typing import Any, get_args

import pytest

from service.calculations.catalogue.catalogue_collections import COLLECTIONS, Collection
from service.calculations.catalogue.catalogue_figures import EVIDENCE, Cited
from service.http.catalogue_query import MOST_ENTRIES
from service.reference import Evidence, reference_data
from tests.asgi import Caller
from tests.contract.documents import DOCUMENT, SCHEMAS, validator

collections = pytest.mark.parametrize("collection", COLLECTIONS, ids=lambda one: one.path)


def operations(collection: Collection) -> tuple[dict[str, Any], dict[str, Any]]:
    path = f"/v1/{collection.path}"
    return DOCUMENT["paths"][path]["get"], DOCUMENT["paths"][path + "/{id}"]["get"]


def schema(operation: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = operation["responses"]["200"]["content"]["application/json"]["schema"]
    return found


@collections
@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_entry_and_list_fits_the_contract(call: Caller, collection: Collection, units: str) -> None:
    listed, read = operations(collection)
    page = call("GET", f"/v1/{collection.path}?limit={MOST_ENTRIES}&units={units}&reference=x").json()
    validator(schema(listed)).validate(page)
    assert page["total"] == len(page["items"]) == len(collection.records(reference_data()))
    fits = validator(schema(read))
    for item in page["items"]:
        fits.validate(call("GET", f"/v1/{collection.path}/{item['id']}?units={units}").json())


@collections
def test_schemas_of_entries_refuse_what_is_not_said(call: Caller, collection: Collection) -> None:
    _, read = operations(collection)
    entry = call("GET", f"/v1/{collection.path}/{collection.example}").json()
    assert not validator(schema(read)).is_valid({**entry, "colour": "green"})
    assert not validator(schema(read)).is_valid({name: one for name, one in entry.items() if name != "data_version"})


def test_schema_of_a_figure_needs_limits_source_and_known_evidence() -> None:
    fits = validator(SCHEMAS["CitedSaponificationValue"])
    figure = {
        "value": 190.0,
        "low": 184.0,
        "high": 196.0,
        "unit": "mg/g",
        "source": "codex-cxs-33",
        "evidence": "seen-reprint",
    }
    assert fits.is_valid(figure)
    assert fits.is_valid({**figure, "note": "crude oil"})
    for name in figure:
        assert not fits.is_valid({key: one for key, one in figure.items() if key != name}), name
    for wrong in ({"low": None}, {"unit": "g/100g"}, {"evidence": "rumour"}, {"source": 1}, {"colour": "green"}):
        assert not fits.is_valid({**figure, **wrong}), wrong


def test_every_figure_refers_to_the_words_of_evidence() -> None:
    for shape in Cited.__subclasses__():
        evidence = SCHEMAS[shape.__name__]["properties"]["evidence"]
        assert evidence["$ref"] == "#/components/schemas/Evidence"
    assert SCHEMAS["Evidence"]["enum"] == list(get_args(Evidence))
    for word, meaning in EVIDENCE.items():
        assert f"- `{word}`: {meaning}" in SCHEMAS["Evidence"]["description"].splitlines()


@collections
def test_operations_document_statuses_formats_and_headers(collection: Collection) -> None:
    listed, read = operations(collection)
    guarded = {"401", "414", "429", "431", "503"}
    assert set(listed["responses"]) == {"200", "304", "400", "405", "406", "500"} | guarded
    assert set(read["responses"]) == {"200", "304", "400", "404", "405", "406", "500"} | guarded
    name, one = collection.path.replace("-", "_"), collection.one.replace("-", "_")
    assert (listed["operationId"], read["operationId"]) == (f"list_{name}", f"read_{one}")
    for operation in (listed, read):
        assert operation["tags"] == ["catalogue"]
        good, kept = operation["responses"]["200"], operation["responses"]["304"]
        assert set(good["content"]) == {"application/json", "text/csv"}
        assert "content" not in kept
        for answer in (good, kept):
            assert {"ETag", "Cache-Control", "Vary", "Data-Version", "X-Request-Id"} <= answer["headers"].keys()
    assert "Link" in listed["responses"]["200"]["headers"]


@collections
def test_identifiers_fit_the_pattern_of_the_path(collection: Collection) -> None:
    _, read = operations(collection)
    (identifier,) = (one for one in read["parameters"] if one.get("in") == "path")
    assert "enum" not in identifier["schema"]
    fits = validator(identifier["schema"])
    for key in collection.records(reference_data()):
        fits.validate(key)
    assert not any(fits.is_valid(wrong) for wrong in ("", "a b", "../x", "a" * 81, "-", "ä"))


@collections
def test_links_of_the_contract_lead_from_list_to_entry_to_source(call: Caller, collection: Collection) -> None:
    listed, read = operations(collection)
    page = call("GET", f"/v1/{collection.path}").json()
    (to_entry,) = listed["responses"]["200"]["links"].values()
    assert to_entry["operationId"] == read["operationId"]
    key = _followed(to_entry["parameters"]["id"], page)
    entry = call("GET", f"/v1/{collection.path}/{key}")
    assert entry.status == 200
    for to_source in read["responses"]["200"].get("links", {}).values():
        assert to_source["operationId"] == "read_source"
        source = _followed(to_source["parameters"]["id"], entry.json())
        assert call("GET", f"/v1/sources/{source}").status == 200


def _followed(expression: str, answer: Any) -> str:
    for step in expression.removeprefix("$response.body#/").split("/"):
        answer = answer[int(step)] if isinstance(answer, list) else answer[step]
    return str(answer)


def test_objects_of_the_catalogue_are_closed() -> None:
    names = [*(one.shape.__name__ for one in COLLECTIONS), *(shape.__name__ for shape in Cited.__subclasses__())]
    for name in [*names, "FatAcids", "OtherFigure", "ShareLimits", "FatPage", "FatAnswer"]:
        assert SCHEMAS[name]["additionalProperties"] is False
