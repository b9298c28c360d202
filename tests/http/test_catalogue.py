"""The catalogue: lists and entries, what finds them, and what is refused."""

import json
import math
import re
from pathlib import Path
from typing import Any, get_args
from urllib.parse import quote

import pytest

from service.calculations.catalogue.catalogue_collections import COLLECTIONS, FATS, Collection
from service.calculations.catalogue.catalogue_figures import EVIDENCE
from service.reference import Evidence, Figure, reference_data
from tests.asgi import Caller, Reply

PATHS = [f"/v1/{collection.path}" for collection in COLLECTIONS]
ENTRIES = [f"/v1/{collection.path}/{collection.example}" for collection in COLLECTIONS]
CONTRACT_PATHS = ["fats", "liquids", "acids", "alkalis", "vessel-materials", "practices", "sources"]
SET_BY_US = {"default_purity", "strength"}
"""Members that are set, not measured: a default, and the strength up to which a limit holds."""


def items(call: Caller, path: str, query: str = "") -> list[dict[str, Any]]:
    reply = call("GET", f"{path}?limit=500&{query}")
    assert reply.status == 200
    found: list[dict[str, Any]] = reply.json()["items"]
    return found


def ids(call: Caller, path: str, query: str = "") -> list[str]:
    return [item["id"] for item in items(call, path, query)]


def faults(reply: Reply) -> set[tuple[str, str]]:
    assert reply.status == 400
    assert reply.headers["content-type"] == "application/problem+json"
    return {(error["parameter"], error["code"]) for error in reply.json()["errors"]}


def not_found(reply: Reply) -> str:
    assert reply.status == 404
    assert reply.headers["content-type"] == "application/problem+json"
    problem = reply.json()
    assert problem["type"] == "/problems/not-found"
    return str(problem["detail"])


@pytest.mark.parametrize("path", CONTRACT_PATHS)
def test_every_list_of_the_contract_is_there(call: Caller, path: str) -> None:
    page = call("GET", f"/v1/{path}?limit=500").json()
    assert page["total"] == len(page["items"]) > 0
    assert (page["limit"], page["offset"]) == (500, 0)


@pytest.mark.parametrize("path", [*PATHS, *ENTRIES])
def test_answers_name_the_version_of_the_data(call: Caller, path: str) -> None:
    reply = call("GET", path)
    assert reply.headers["data-version"] == reply.json()["data_version"] == reference_data().version


@pytest.mark.parametrize("path", PATHS)
def test_entry_says_what_the_list_says_of_it(call: Caller, path: str) -> None:
    for item in items(call, path):
        entry = call("GET", f"{path}/{item['id']}").json()
        assert entry.pop("data_version")
        assert entry == item


@pytest.mark.parametrize(
    ("address", "member", "low", "high", "unit"),
    [
        # Codex Alimentarius CXS 33-1981, olive oil: 184 to 196 mg KOH/g, iodine value (Wijs) 75 to 94
        ("/v1/fats/olive-oil", "saponification_value", 184, 196, "mg/g"),
        ("/v1/fats/olive-oil", "iodine_value", 75, 94, "g/100g"),
        # Codex Alimentarius CXS 210-1999, table 2, coconut oil: 248 to 265 mg KOH/g, iodine value 6.3 to 10.6
        ("/v1/fats/coconut-oil", "saponification_value", 248, 265, "mg/g"),
        ("/v1/fats/coconut-oil", "iodine_value", 6.3, 10.6, "g/100g"),
        # the same, at most 15 g/kg unsaponifiable
        ("/v1/fats/coconut-oil", "unsaponifiable", 0, 0.015, "1"),
        # USDA SR26, NDB 01106, whole goat milk: 87.03 g water and 4.14 g fat in 100 g
        ("/v1/liquids/goat-milk", "water", 0.8703, 0.8703, "1"),
        ("/v1/liquids/goat-milk", "fat", 0.0414, 0.0414, "1"),
        # JECFA, INS 524: at least 95 % total alkali
        ("/v1/alkalis/NaOH", "purity", 0.95, 1, "1"),
        # IUPAC/CIAAW abridged standard atomic weights 2021: 22.990 + 15.999 + 1.008
        ("/v1/alkalis/NaOH", "molar_mass", 39.99677, 39.99677, "g/mol"),
        ("/v1/fatty-acids/C18:1", "molar_mass", 282.468, 282.468, "g/mol"),
    ],
)
def test_figures_are_those_of_their_source(
    call: Caller, address: str, member: str, low: float, high: float, unit: str
) -> None:
    figure = call("GET", address).json()[member]
    assert (figure["low"], figure["high"], figure["unit"]) == (low, high, unit)
    assert figure["value"] == pytest.approx((low + high) / 2, rel=1e-14)


def test_us_units_are_converted(call: Caller) -> None:
    """By definition t/°F = 1.8 t/°C + 32, and 1 lb/gal = 0.45359237 kg / 3.785411784 L."""
    metric = call("GET", "/v1/vessel-materials/hdpe").json()
    us = call("GET", "/v1/vessel-materials/hdpe?units=us").json()
    temperature = us["limits"][0]["temperature"]
    assert temperature["unit"] == "°F"
    assert temperature["value"] == pytest.approx(1.8 * metric["limits"][0]["temperature"]["value"] + 32, rel=1e-14)
    assert us["density"]["unit"] == "lb/gal"
    assert us["density"]["low"] == pytest.approx(metric["density"]["low"] * 3.785411784 / 0.45359237, rel=1e-14)
    assert us["heat_capacity"] == metric["heat_capacity"]


def test_digits_are_those_asked_for(call: Caller) -> None:
    assert call("GET", "/v1/fats/coconut-oil?digits=2").json()["saponification_value"]["value"] == 260  # of 256.5
    assert call("GET", "/v1/liquids/goat-milk").json()["carbohydrate"]["value"] == 0.0445  # not 0.044500000000000005


def test_reference_comes_back_untouched(call: Caller) -> None:
    for address in ("/v1/fats", "/v1/fats/olive-oil"):
        assert call("GET", f"{address}?reference=%C3%84%2F7+%00").json()["reference"] == "Ä/7 \0"
    assert "reference" not in call("GET", "/v1/fats").json()


def figures(node: Any, name: str = "") -> list[tuple[str, dict[str, Any]]]:
    """Every figure below a node, with the member it stands under."""
    if isinstance(node, list):
        return [one for part in node for one in figures(part, name)]
    if isinstance(node, dict):
        own = [(name, node)] if "unit" in node else []
        return own + [one for key, part in node.items() for one in figures(part, key)]
    return []


@pytest.mark.parametrize("path", PATHS)
def test_every_figure_has_evidence_and_a_source_that_is_served(call: Caller, path: str) -> None:
    keys = set()
    for item in items(call, path):
        composition = item.pop("fatty_acids", None)
        cited = [figure for name, figure in figures(item) if name not in SET_BY_US]
        if composition is not None:
            cited.append(composition)
        if path == "/v1/practices":
            cited.append(item)
        for figure in cited:
            assert figure["evidence"] in get_args(Evidence)
            keys.add(figure["source"])
    assert keys or path == "/v1/sources"
    for key in keys:
        assert call("GET", f"/v1/sources/{key}").json()["title"]


@pytest.mark.parametrize("path", PATHS)
def test_no_member_is_null(call: Caller, path: str) -> None:
    def nulls(node: Any) -> bool:
        if isinstance(node, dict):
            node = list(node.values())
        return node is None or (isinstance(node, list) and any(nulls(one) for one in node))

    assert not any(nulls(item) for item in items(call, path))


def test_open_end_is_left_out(call: Caller) -> None:
    """Food Safety and Standards Regulations of India 2011, coconut oil: saponification value not less than 250."""
    other = call("GET", "/v1/fats/coconut-oil").json()["other_figures"]
    minimum = next(one for one in other if one["source"] == "fss-india-2011" and "saponification" in one["property"])
    assert minimum["low"] == 250
    assert not minimum.keys() & {"value", "high"}


def test_nothing_known_of_a_fat_is_left_out(call: Caller) -> None:
    """Counted against the records: figures, shares, remarks, and what other sources say."""
    served = {item["id"]: item for item in items(call, "/v1/fats")}
    assert served.keys() == reference_data().fats.keys()
    for key, fat in reference_data().fats.items():
        item = served[key]
        said = {name for name in fat.__struct_fields__ if getattr(fat, name) not in (None, "")}
        assert said <= item.keys()
        for name in said:
            figure = getattr(fat, name)
            if isinstance(figure, Figure):
                assert (item[name]["source"], item[name]["evidence"]) == (figure.source, figure.evidence)
                assert item[name].get("note", "") == figure.note
        if fat.fatty_acids is not None:
            assert item["fatty_acids"]["shares"].keys() == fat.fatty_acids.shares.keys()
            assert item["fatty_acids"]["source"] == fat.fatty_acids.source
            assert item["fatty_acids"].get("note", "") == fat.fatty_acids.note
        assert [(one["property"], one["source"], one.get("note", "")) for one in item["other_figures"]] == [
            (name, figure.source, figure.note) for name, figure in fat.other_figures
        ]
        ends = [(one.get("low", -math.inf), one.get("high", math.inf)) for one in item["other_figures"]]
        assert [math.isfinite(end) for pair in ends for end in pair] == [
            math.isfinite(end) for _, figure in fat.other_figures for end in (figure.low, figure.high)
        ]


@pytest.mark.parametrize("path", ["liquids", "acids", "alkalis", "vessel-materials", "practices", "sources"])
def test_every_member_of_a_record_is_served(call: Caller, path: str) -> None:
    records = next(one for one in COLLECTIONS if one.path == path).records(reference_data())
    told_elsewhere = {"key"} | ({"source", "evidence"} if path == "acids" else set())  # id; the figures' own
    for item in items(call, f"/v1/{path}"):
        record = records[item["id"]]
        said = {name for name in record.__struct_fields__ if getattr(record, name) not in (None, "")}
        assert said - told_elsewhere <= item.keys(), item["id"]


def test_words_of_evidence_are_explained() -> None:
    assert EVIDENCE.keys() == set(get_args(Evidence))


@pytest.mark.parametrize("collection", COLLECTIONS, ids=lambda one: one.path)
@pytest.mark.parametrize("limit", [1, 7, 100])
def test_walk_along_next_finds_every_entry_once(call: Caller, collection: Collection, limit: int) -> None:
    address: str | None = f"/v1/{collection.path}?limit={limit}&digits=3"
    found: list[str] = []
    while address is not None:
        reply = call("GET", address)
        found += [item["id"] for item in reply.json()["items"]]
        address = links(reply).get("next")
    assert found == list(collection.records(reference_data()))


def links(reply: Reply) -> dict[str, str]:
    return {name: target for target, name in re.findall(r'<([^>]*)>; rel="(\w+)"', reply.headers.get("link", ""))}


def test_links_keep_what_was_asked_and_lead_both_ways(call: Caller) -> None:
    first = call("GET", "/v1/fats?search=oil&limit=10&units=us")
    assert first.json()["total"] > 20
    assert "prev" not in links(first)
    second = call("GET", links(first)["next"])
    assert second.json()["offset"] == 10
    assert call("GET", links(second)["prev"]).json() == first.json()
    assert links(second)["first"] == links(second)["prev"]
    last = call("GET", links(second)["last"])
    assert "next" not in links(last)
    assert last.json()["offset"] + len(last.json()["items"]) == last.json()["total"] == first.json()["total"]


def test_page_beyond_the_end_is_empty_and_leads_back(call: Caller) -> None:
    reply = call("GET", "/v1/acids?offset=5000&limit=4")
    assert reply.json()["items"] == []
    assert call("GET", links(reply)["prev"]).json()["items"]


def test_list_that_fits_on_a_page_has_no_links(call: Caller) -> None:
    assert "link" not in call("GET", "/v1/alkalis").headers


def test_search_needs_all_words_in_any_order_and_case(call: Caller) -> None:
    assert "palm-kernel-oil" in ids(call, "/v1/fats", "search=KERNEL+palm")
    assert "palm-oil" not in ids(call, "/v1/fats", "search=KERNEL+palm")
    assert "maize-oil" in ids(call, "/v1/fats", "search=corn")  # by its name
    assert "olive-oil" in ids(call, "/v1/fats", "search=europaea")  # by its species
    assert ids(call, "/v1/fats", "search=palm+nothing") == []
    assert "codex-cxs-33" in ids(call, "/v1/sources", "search=codex+olive")
    assert "temperature-50-percent-ice" in ids(call, "/v1/practices", "search=ice")
    assert ids(call, "/v1/alkalis", "search=potash") == ["KOH"]


@pytest.mark.parametrize("collection", [one for one in COLLECTIONS if one.filtered], ids=lambda one: one.path)
def test_filter_by_member_divides_the_list(call: Caller, collection: Collection) -> None:
    path, member = f"/v1/{collection.path}", str(collection.filtered)
    every = items(call, path)
    values = {item[member] for item in every}
    assert len(values) > 1
    parts = [items(call, path, f"{member}={quote(value)}") for value in values]
    assert all(item[member] == value for value, part in zip(values, parts, strict=True) for item in part)
    assert sum(map(len, parts)) == len(every)


def test_filters_by_source_and_evidence_find_figures_of_other_sources_too(call: Caller) -> None:
    by_source = ids(call, "/v1/fats", "source=simmons-appleton-1908")
    assert "olive-oil" in by_source  # only under other_figures
    assert len(by_source) < len(ids(call, "/v1/fats"))
    recalled = items(call, "/v1/liquids", "evidence=memory")
    assert recalled
    assert all('"memory"' in json.dumps(item) for item in recalled)
    assert ids(call, "/v1/fats", "kind=wax&evidence=seen-primary&search=jojoba") in ([], ["jojoba-oil"])


def test_every_fault_of_the_query_is_told_at_once(call: Caller) -> None:
    reply = call("GET", "/v1/fats?limt=3&kind=waxx&limit=0&limit=2&digits=16&offset=-1&source=codex&search=&format=xml")
    assert faults(reply) == {
        ("limt", "unknown-parameter"),
        ("kind", "invalid-parameter"),
        ("limit", "invalid-parameter"),
        ("limit", "repeated-parameter"),
        ("digits", "invalid-parameter"),
        ("offset", "invalid-parameter"),
        ("source", "invalid-parameter"),
        ("search", "invalid-parameter"),
        ("format", "invalid-parameter"),
    }
    told = {error["parameter"]: error["detail"] for error in reply.json()["errors"]}
    assert "did you mean 'limit'" in told["limt"]
    assert "'wax'" in told["kind"]


@pytest.mark.parametrize("value", ["0", "501", "1.0", "+5", "05", "", "１", "null", "5%20", "1e2", "9" * 5000])
def test_limit_outside_one_to_five_hundred_is_refused(call: Caller, value: str) -> None:
    assert faults(call("GET", f"/v1/fats?limit={quote(value, safe='%')}")) == {("limit", "invalid-parameter")}


def test_word_that_a_parameter_does_not_know_is_answered_with_those_it_does(call: Caller) -> None:
    error = call("GET", "/v1/fats?kind=oil").json()["errors"][0]
    assert error["mend"] == "write kind=triglyceride or kind=wax or kind=resin or kind=fatty-acid"


@pytest.mark.parametrize("query", ["kind=wax", "limit=1", "search=a", "explain=true", "%00=1", "=", "a" * 3000])
def test_parameters_of_lists_are_unknown_to_entries(call: Caller, query: str) -> None:
    assert {code for _, code in faults(call("GET", f"/v1/fats/olive-oil?{query}"))} == {"unknown-parameter"}


def test_too_many_parameters_are_told(call: Caller) -> None:
    assert ("units", "too-many") in faults(call("GET", "/v1/fats?" + "units=us&" * 101))


def test_unknown_identifier_is_not_found_with_what_may_be_meant(call: Caller) -> None:
    assert "did you mean 'olive-oil'" in not_found(call("GET", "/v1/fats/olive"))
    assert "did you mean 'maize-oil'" in not_found(call("GET", "/v1/fats/corn-oil"))
    assert "did you mean 'NaOH'" in not_found(call("GET", "/v1/alkalis/naoh"))
    assert "did you mean" not in not_found(call("GET", "/v1/fats/zzzz"))


HOSTILE = [
    *(
        "\0",
        "..",
        ".",
        "%",
        "%2f",
        "..\\..\\x",
        "../alkalis/NaOH",
        "é",
        "\U0001f9fc",
        "\ufffd",
        " ",
        "olive-oil ",
        "{id}",
    ),
    *("Olive-oil", "olive-oil;x=1", "olive-oil.json", "<script>", "'", "a" * 60_000, "\r\nX-Bad: 1", "__class__", "*"),
]


@pytest.mark.parametrize("identifier", HOSTILE, ids=lambda text: ascii(text)[:20])
@pytest.mark.parametrize("path", ["/v1/fats", "/v1/alkalis", "/v1/fatty-acids", "/v1/sources"])
@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_any_other_path_is_not_found(call: Caller, path: str, identifier: str, method: str) -> None:
    reply = call(method, f"{path}/{identifier}")
    status = 404 if len(identifier) < 8000 else 414
    assert (reply.status, reply.headers["content-type"]) == (status, "application/problem+json")


@pytest.mark.parametrize(
    "address", ["/v1/fats/", "/v1/fats/olive-oil/", "/v1//fats", "/v1/fats//olive-oil", "/v1/Fats"]
)
def test_other_spellings_of_an_address_are_not_found(call: Caller, address: str) -> None:
    not_found(call("GET", address))


@pytest.mark.parametrize("address", [*PATHS, *ENTRIES])
@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "TRACE"])
def test_other_methods_are_refused_with_allow(call: Caller, address: str, method: str) -> None:
    reply = call(method, address)
    assert (reply.status, reply.headers["allow"]) == (405, "GET, HEAD, OPTIONS")
    assert reply.json()["type"] == "/problems/method-not-allowed"


@pytest.mark.parametrize("address", [*PATHS, *ENTRIES])
def test_options_tell_the_methods(call: Caller, address: str) -> None:
    reply = call("OPTIONS", address)
    assert (reply.status, reply.headers["allow"], reply.body) == (204, "GET, HEAD, OPTIONS", b"")
    assert "If-None-Match" in reply.headers["access-control-allow-headers"]


def test_start_page_leads_to_every_list(call: Caller) -> None:
    page = call("GET", "/").body.decode()
    targets = re.findall(r"href='(/v1/[^']*)'", page)
    assert {*PATHS, f"/v1/{FATS.path}?format=csv"} <= set(targets)
    for target in (one for one in targets if one.count("/") == 2 or one in ENTRIES):
        assert call("GET", target).status == 200


def test_readme_shows_what_is_answered(call: Caller) -> None:
    """What the README cuts short is left out there: every member it shows has that value."""
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    section = text.partition("## The catalogue")[2].partition("\n## ")[0]
    address, shown = re.findall(r"curl -s 'localhost:8765(/[^']*)'\n```\n\n```json\n(.*?)```", section, re.DOTALL)[0]
    answer, said = call("GET", address).json(), json.loads(shown)
    other = said.pop("other_figures")
    assert said["saponification_value"].items() <= answer["saponification_value"].items()
    assert said["caution"] == answer["caution"]
    assert said["id"] == answer["id"]
    assert other == answer["other_figures"][: len(other)]
    for path in re.findall(r"`(/v1/[a-z0-9/?=&-]+)`", section):
        assert call("GET", path).status == 200, path
    for query in re.findall(r"`((?:search|kind|group|suitable|subject|source|evidence)=[^`]+)`", section):
        takes = {"kind": "fats", "group": "liquids", "suitable": "vessel-materials", "subject": "practices"}
        path = takes.get(query.partition("=")[0], "fats")
        assert call("GET", f"/v1/{path}?{quote(query, safe='=')}").json()["total"] > 0, query
