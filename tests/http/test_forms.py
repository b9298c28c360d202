"""Other forms of answers than JSON: pictures of mixings and coolings, and pages for the wall."""

import json
import re
import xml.etree.ElementTree as ET
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from service.http.answer_pictures import mixing_picture
from service.http.app import create_app
from service.http.drawing import draw
from service.http.endpoint import LARGEST_DRAWN, kept_form
from service.http.forms import FORMS
from service.http.wall_pages import batch_sheet_page, production_plan_page
from tests.asgi import Caller

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
SVG = "{http://www.w3.org/2000/svg}"
JSON_TYPE = {"content-type": "application/json"}


@pytest.fixture(scope="module")
def call() -> Caller:
    """A caller of the whole service."""
    return Caller(create_app())


def _example(name: str, example: str) -> bytes:
    return (EXAMPLES / name / f"{example}.request.json").read_bytes()


CASES = [
    (name, file.name.removesuffix(".request.json"))
    for name in FORMS
    for file in sorted((EXAMPLES / name).glob("*.request.json"))
]


def _ask(call: Caller, name: str, body: bytes, query: str = "", **headers: str) -> Any:
    return call("POST", f"/v1/{name}{query}", body, [*(JSON_TYPE | headers).items()])


@pytest.mark.parametrize(("name", "example"), CASES)
def test_format_and_accept_bring_the_same_form(call: Caller, name: str, example: str) -> None:
    form = FORMS[name]
    by_word = _ask(call, name, _example(name, example), f"?format={form.word}")
    by_accept = _ask(call, name, _example(name, example), accept=f"{form.media}, application/json;q=0.5")
    assert by_word.status == by_accept.status == 200
    assert by_word.body == by_accept.body
    assert by_word.headers["content-type"].startswith(form.media)
    assert by_word.headers["vary"] == "Accept"
    assert by_word.headers["content-security-policy"].startswith("default-src 'none'")
    assert "data-version" in by_word.headers


@pytest.mark.parametrize("name", FORMS)
def test_json_stays_what_is_answered_where_nothing_else_is_wanted(call: Caller, name: str) -> None:
    example = next(example for other, example in CASES if other == name)
    for headers in ({}, {"accept": "*/*"}, {"accept": "application/json"}):
        reply = _ask(call, name, _example(name, example), **headers)
        assert reply.headers["content-type"] == "application/json"
        assert reply.headers["vary"] == "Accept"
    wins = _ask(call, name, _example(name, example), "?format=json", accept=FORMS[name].media)
    assert wins.headers["content-type"] == "application/json"


@pytest.mark.parametrize("name", FORMS)
def test_a_refusal_is_a_problem_document_in_every_form(call: Caller, name: str) -> None:
    reply = _ask(call, name, b"{}", f"?format={FORMS[name].word}")
    assert reply.status == 400
    assert reply.headers["content-type"] == "application/problem+json"


def test_another_calculation_knows_no_other_form(call: Caller) -> None:
    reply = _ask(call, "liquid-split", b"{}", "?format=svg")
    assert reply.status == 400
    assert "format=json" in next(one["mend"] for one in reply.json()["errors"] if one.get("parameter") == "format")
    assert _ask(call, "liquid-split", b"{}", accept="image/svg+xml").status == 406


def test_steps_stand_on_a_page_where_they_are_asked_for(call: Caller) -> None:
    body = _example("batch-sheet", "fill-the-moulds")
    read, told = _page(call, "batch-sheet", body, "&explain=true")
    assert len(told["steps"]) > 5
    assert all(one["name"] in read.text and one["expression"] in read.text for one in told["steps"])
    plain, _ = _page(call, "batch-sheet", body)
    assert "How it was reckoned" not in plain.text


def test_without_the_extra_a_picture_is_refused_with_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(FORMS, "stock-mixing", FORMS["stock-mixing"]._replace(can=lambda: False))
    reply = _ask(Caller(create_app()), "stock-mixing", _example("stock-mixing", "potash-flakes"), "?format=svg")
    assert reply.status == 406
    assert "extra for pictures is not installed" in reply.json()["detail"]


def _texts(svg: bytes) -> list[str]:
    root = ET.fromstring(svg)  # noqa: S314 - our own
    return ["".join(one.itertext()).strip() for one in root.iter(f"{SVG}text")]


@pytest.mark.parametrize(("example", "unit"), [("one-to-one-with-water", "°C"), ("with-ice-and-heel", "°F")])
def test_a_mixing_is_drawn_with_axes_units_peak_boiling_and_limit(call: Caller, example: str, unit: str) -> None:
    query = "?units=us&digits=4" if unit == "°F" else "?digits=4"
    body = _example("stock-mixing", example)
    told = _ask(call, "stock-mixing", body, query).json()
    reply = _ask(call, "stock-mixing", body, f"{query}&format=svg")
    texts = _texts(reply.body)
    peak, limit = told["peak_temperature"], told["vessel_limit"]
    assert f"temperature, {unit}" in texts
    assert "solid that is in, % of all" in texts
    assert "boiling point of the liquid then" in texts
    assert f"vessel's limit, {limit['value']:.3g} {unit}" in texts
    assert f"peak, {peak['value']:.3g} {unit} ({peak['low']:.3g} to {peak['high']:.3g})" in texts
    assert any(text.startswith("Danger: ") for text in texts)
    root = ET.fromstring(reply.body)  # noqa: S314 - our own
    assert root.attrib["role"] == "img"
    assert f"{peak['value']:.3g} {unit}" in (root.findtext(f"{SVG}desc") or "")


def test_a_cooling_is_drawn_with_the_time_it_takes_and_its_bath(call: Caller) -> None:
    body = _example("stock-cooling", "jug-in-a-tub")
    time = _ask(call, "stock-cooling", body, "?digits=4").json()["time"]
    texts = _texts(_ask(call, "stock-cooling", body, "?digits=4&format=svg").body)
    assert f"cool enough after {time['value']:.3g} h ({time['low']:.3g} to {time['high']:.3g})" in texts
    assert "temperature of the bath" in texts
    assert "vessel's limit, 60 °C" in texts
    assert "Beyond this picture: boils at 146 °C." in texts


def test_lines_differ_by_their_dashes_and_not_by_colour_alone(call: Caller) -> None:
    reply = _ask(call, "stock-mixing", _example("stock-mixing", "one-to-one-with-water"), "?format=svg")
    strokes = re.findall(rb"stroke-dasharray: ([0-9.,]+);[^\"]* stroke: (#[0-9a-f]{6})", reply.body)
    colours = {colour for _, colour in strokes}
    assert len({dashes for dashes, _ in strokes}) >= 2
    assert len(colours) >= 2


@pytest.mark.parametrize("name", ["stock-mixing", "stock-cooling"])
def test_a_picture_is_the_same_each_time_and_asks_no_other_host(call: Caller, name: str) -> None:
    example = next(example for other, example in CASES if other == name)
    first = _ask(call, name, _example(name, example), "?format=svg").body
    kept_form.cache_clear()
    assert _ask(call, name, _example(name, example), "?format=svg").body == first
    assert b"<!DOCTYPE" not in first
    assert b"<script" not in first
    assert re.findall(rb"(?:href|src)=\"(?!#)([^\"]*)", first) == []


def test_a_form_of_a_large_request_is_not_kept_with_it(call: Caller) -> None:
    """Sixty-four requests of 32 MiB would be held for ever."""
    body = _example("stock-mixing", next(example for name, example in CASES if name == "stock-mixing"))
    before = kept_form.cache_info().currsize
    large = _ask(call, "stock-mixing", body + b" " * LARGEST_DRAWN, "?format=svg").body
    assert kept_form.cache_info().currsize == before
    kept_form.cache_clear()
    assert _ask(call, "stock-mixing", body, "?format=svg").body == large
    assert kept_form.cache_info().currsize == 1


class _Read(HTMLParser):
    """What a page holds."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.classes: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.classes += [value or "" for name, value in attrs if name == "class"]

    def handle_data(self, data: str) -> None:
        self.text += data


def _page(call: Caller, name: str, body: bytes, query: str = "") -> tuple[_Read, dict[str, Any]]:
    read = _Read()
    read.feed(_ask(call, name, body, f"?format=html{query}").body.decode())
    told: dict[str, Any] = _ask(call, name, body, query.replace("&", "?", 1)).json()
    return read, told


def test_a_sheet_for_the_wall_has_each_mass_a_box_to_tick_and_dangers_first(call: Caller) -> None:
    read, told = _page(call, "batch-sheet", _example("batch-sheet", "fill-the-moulds"), "&units=us")
    lines = len(told["weigh_list"]) + len(told["record"]["operations"]) + len(told["record"]["controls"])
    assert read.classes.count("box") == lines
    assert read.classes.count("big") == len(told["weigh_list"])
    for line in told["weigh_list"]:
        assert f"{line['mass']['value']:.2f}".rstrip("0").rstrip(".") + " oz" in read.text
    assert read.text.index("Danger") < read.text.index("Weigh, in this order")
    assert all(one["message"] in read.text for one in told["cautions"])
    assert all(one["why"] in read.text for one in told["assumed"])


def test_a_plan_for_the_wall_has_every_batch_mixing_and_purchase(call: Caller) -> None:
    read, told = _page(call, "production-plan", _example("production-plan", "a-week-of-orders"))
    assert read.classes.count("box") == sum(len(told[one]) for one in ("batches", "mixings", "shortages"))
    for line in told["shortages"]:
        assert line["purchase_quantity"] in read.text
    assert "25.000 kg" in read.text
    assert "LATE" not in read.text
    late, told = _page(call, "production-plan", _example("production-plan", "too-late-for-the-fair"))
    assert told["late_orders"]
    assert late.text.count("LATE") == sum(one["late"] for one in told["batches"])
    assert "Late orders" in late.text


@pytest.mark.parametrize("write", [batch_sheet_page, production_plan_page])
def test_what_a_caller_wrote_runs_nowhere(write: Any) -> None:
    name = "batch-sheet" if write is batch_sheet_page else "production-plan"
    example = "fill-the-moulds" if write is batch_sheet_page else "a-week-of-orders"
    evil = "<script>alert('x')</script>&\"'"

    def spoil(value: Any) -> Any:
        if isinstance(value, dict):
            keep = {"unit", "step", "severity", "unit_code"}
            return {key: one if key in keep else spoil(one) for key, one in value.items()}
        if isinstance(value, list):
            return [spoil(one) for one in value]
        return evil if isinstance(value, str) else value

    told = json.loads((EXAMPLES / name / f"{example}.answer.json").read_bytes())
    page = write(spoil(told)).decode()
    assert "<script" not in page
    assert page.count("&lt;script&gt;") > 10


def test_forms_are_made_from_the_answer_as_it_is_told() -> None:
    told = json.loads((EXAMPLES / "stock-mixing" / "potash-flakes.answer.json").read_bytes())
    assert FORMS["stock-mixing"].write(told) == draw(mixing_picture(told))


def test_a_mixing_that_boils_says_so_first(call: Caller) -> None:
    body = (
        b'{"solid": {"alkali": "NaOH", "mass_as_supplied": "10 kg", "temperature": "40 \xc2\xb0C"}, '
        b'"water": {"mass": "10 kg", "temperature": "90 \xc2\xb0C"}}'
    )
    assert _ask(call, "stock-mixing", body).json()["boils"]
    svg = ET.fromstring(_ask(call, "stock-mixing", body, "?format=svg&units=us").body)  # noqa: S314 - our own
    assert (svg.findtext(f"{SVG}desc") or "").startswith("It boils")
    assert "delta_degF" not in "".join(svg.itertext())
