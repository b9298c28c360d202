"""Single values: the same numbers as the calculations', in four formats, and what cells and caches need."""

import csv
import io
import re
from typing import Any, Final
from urllib.parse import urlencode
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.values.value_registry import values
from service.http.app import create_app
from tests.asgi import Caller, Reply
from tests.calculations.asking import ask

VALUES: Final = values()
EXAMPLES: Final = {
    name: {one.name: one.example for one in value.inputs if one.name not in value.beside}
    for name, value in VALUES.items()
}
NUMBER: Final = re.compile(r"-?[0-9]+(\.[0-9]+)?")
CALL: Final = Caller(create_app())


def get(name: str, *, method: str = "GET", headers: Any = (), **parameters: str) -> Reply:
    return CALL(method, f"/v1/values/{name}?{urlencode(parameters)}", headers=headers)


def number(name: str, **parameters: str) -> float:
    reply = get(name, **parameters)
    assert reply.status == 200, reply.body
    return float(reply.body)


def faults(name: str, **parameters: str) -> dict[str, str]:
    """Code of each fault by its parameter."""
    reply = get(name, **parameters)
    assert reply.status in {400, 422}, reply.body
    return {one["parameter"]: one["code"] for one in reply.json()["errors"]}


# Numbers


@pytest.mark.parametrize("name", VALUES)
def test_a_value_is_that_of_its_calculation(name: str) -> None:
    value = VALUES[name]
    parameters = EXAMPLES[name]
    answer = ask(value.calculation, value.request(parameters))
    reply = get(name, **parameters, format="json").json()
    told = [one for one in _figures(answer) if one.get("unit") == reply["unit"] and one["value"] == reply["value"]]
    assert told
    assert reply["cautions"] == answer["cautions"]


def _figures(node: Any) -> list[dict[str, Any]]:
    if isinstance(node, dict):
        return [node] if "value" in node and "unit" in node else [x for one in node.values() for x in _figures(one)]
    return [x for one in node for x in _figures(one)] if isinstance(node, list) else []


def test_values_by_hand_and_by_handbooks() -> None:
    """By hand with the molar masses of IUPAC (2021), and by handbooks from memory, as each line says."""
    naoh, koh = 39.997, 56.1056
    # 1:1 by weight of pure alkali is 50 %; 1 kg of water holds 1000 / 39.997 mol
    assert number("strength", **{"from": "1:1", "to": "molality"}) == pytest.approx(1000 / naoh, rel=1e-4)
    assert number("strength", **{"from": "50 %", "to": "water_ratio"}) == pytest.approx(1.0)
    # twice the hydroxide, and liquid of twice the hydroxide less the water of the stock
    assert number("stock-draw", alkali_mass="7 oz", strength="50 %", unit="oz") == pytest.approx(14.0)
    split = {"alkali_mass": "7 oz", "strength": "50 %", "unit": "oz"}
    assert number("added-liquid", **split, total_liquid="14 oz") == pytest.approx(7)
    # palmitic acid, one carboxyl in 256.43 g: no ester, and no superfat
    acid = number("alkali-mass", fats="palmitic-acid:256.43 g", superfat="0 %")
    assert acid == pytest.approx(naoh, rel=0.02)
    assert number("alkali-mass", fats="palmitic-acid:256.43 g", superfat="0 %", alkali="KOH") == pytest.approx(
        acid * koh / naoh, rel=1e-6
    )
    # 50 % NaOH at 20 °C: 1.5253 kg/L (International Critical Tables, in Perry's handbook, from memory)
    assert number("density", strength="50 %") == pytest.approx(1.5253, rel=3e-3)
    # NaOH begins to crystallise near 12 °C at 50 %, and boils near 145 °C (makers' handbooks, from memory)
    assert number("first-solid-temperature", strength="50 %") == pytest.approx(12, abs=2.5)
    assert number("boiling-point", strength="50 %") == pytest.approx(145, abs=4)


def test_an_end_of_the_interval_is_answered_alone() -> None:
    told = get("boiling-point", strength="50 %", format="json").json()
    low, high = (number("boiling-point", strength="50 %", end=end) for end in ("low", "high"))
    assert (low, high) == pytest.approx((told["low"], told["high"]), rel=1e-12)
    assert number("stock-draw", alkali_mass="7 oz", strength="50 %", end="low", unit="oz") == pytest.approx(14.0)


def test_units_digits_and_the_decimal_sign_are_as_wished() -> None:
    assert number("boiling-point", strength="50 %", unit="°F") == pytest.approx(
        number("boiling-point", strength="50 %") * 1.8 + 32
    )
    assert get("density", strength="50 %", digits="3").body == b"1.52"
    assert get("density", strength="50 %", digits="3", decimal="comma").body == b"1,52"
    table = get("density", strength="50 %", digits="3", decimal="comma", format="csv").body.decode()
    assert table.splitlines()[0] == "value [kg/L];low [kg/L];high [kg/L]"


# Formats


@pytest.mark.parametrize("name", VALUES)
def test_all_formats_tell_the_same_number(name: str) -> None:
    parameters = EXAMPLES[name]
    text = get(name, **parameters)
    assert text.headers["content-type"] == "text/plain; charset=utf-8"
    assert NUMBER.fullmatch(text.body.decode())
    told = get(name, **parameters, format="json").json()
    assert float(text.body) == pytest.approx(told["value"], rel=1e-14)
    (row,) = csv.DictReader(io.StringIO(get(name, **parameters, format="csv").body.decode()))
    assert float(row[f"value [{told['unit']}]"]) == pytest.approx(told["value"], rel=1e-14)
    markup = get(name, **parameters, format="xml")
    assert markup.body.isascii()
    root = ET.fromstring(markup.body)  # noqa: S314 - our own answer
    assert float(root.findtext("value") or "") == told["value"]
    assert [one.get("code") for one in root.findall("caution")] == [one["code"] for one in told["cautions"]]


@pytest.mark.parametrize(
    ("accept", "media"),
    [
        ("*/*", "text/plain"),
        ("application/json", "application/json"),
        ("text/csv, text/plain;q=0.1", "text/csv"),
        ("application/xml", "application/xml"),
    ],
)
def test_the_header_accept_chooses_the_format(accept: str, media: str) -> None:
    reply = get("density", strength="50 %", headers=[("accept", accept)])
    assert reply.headers["content-type"].startswith(media)
    assert reply.headers["vary"] == "Accept"


def test_a_format_that_there_is_not_is_refused() -> None:
    assert get("density", strength="50 %", headers=[("accept", "image/png")]).status == 406


def test_small_and_large_numbers_have_no_exponent() -> None:
    assert number("stock-draw", alkali_mass="0.00001 g", strength="50 %") == pytest.approx(2e-5)
    assert NUMBER.fullmatch(get("stock-draw", alkali_mass="0.00001 g", strength="50 %").body.decode())
    assert NUMBER.fullmatch(get("stock-draw", alkali_mass="900 t", strength="1 %", unit="mg").body.decode())


# Caches, and callers that look before they ask


def test_a_cell_is_answered_to_options_head_and_get() -> None:
    options = CALL("OPTIONS", "/v1/values/density")
    assert (options.status, options.headers["allow"]) == (204, "GET, HEAD, OPTIONS")
    head, full = get("density", method="HEAD", strength="50 %"), get("density", strength="50 %")
    assert (head.status, head.body) == (200, b"")
    assert {**head.headers, "x-request-id": ""} == {**full.headers, "x-request-id": ""}
    assert get("density", method="POST", strength="50 %").status == 405


def test_any_cache_may_keep_a_value_and_ask_whether_it_is_the_same() -> None:
    first = get("density", strength="50 %")
    tag = first.headers["etag"]
    assert first.headers["cache-control"].startswith("public")
    again = get("density", strength="50 %", headers=[("if-none-match", tag)])
    assert (again.status, again.body, again.headers["etag"]) == (304, b"", tag)
    others = [
        get("density", strength="49 %"),
        get("density", strength="50 %", format="json"),
        get("density", strength="50 %", headers=[("accept", "application/xml")]),
    ]
    assert len({tag, *(one.headers["etag"] for one in others)}) == 4


# Faults


@pytest.mark.parametrize(
    ("name", "parameters", "due"),
    [
        ("alkali-mass", {"fats": "olive-oil:500"}, {"fats": "bare-number"}),
        ("alkali-mass", {"fats": "olive-oil:6 fl oz"}, {"fats": "volume-for-mass"}),
        ("alkali-mass", {"fats": "olive-oil"}, {"fats": "wrong-type"}),
        ("alkali-mass", {"fats": "olive oil:500 g"}, {"fats": "unknown-identifier"}),
        ("alkali-mass", {"fats": "olive-oil:1 kg;" * 61}, {"fats": "too-many"}),
        ("alkali-mass", {"fats": "olive-oil:500 g", "superfat": "5"}, {"superfat": "percent-missing"}),
        ("alkali-mass", {"fats": "olive-oil:500 g", "alkali": "LiOH"}, {"alkali": "invalid-parameter"}),
        ("alkali-mass", {}, {"fats": "missing-member"}),
        ("density", {"strength": "mollality:25 mol/kg"}, {"strength": "not-one-of"}),
        ("density", {"strength": "60 %"}, {"strength": "beyond-solubility"}),
        ("density", {"strength": "50 %", "unit": "kg"}, {"unit": "invalid-parameter"}),
        ("density", {"strenth": "50 %"}, {"strenth": "unknown-parameter", "strength": "missing-member"}),
        ("added-liquid", {"alkali_mass": "7 oz", "strength": "50 %"}, {"water_ratio": "choose-one"}),
        ("ice-mass", EXAMPLES["ice-mass"] | {"peak_limit": "25 °C"}, {"peak_limit": "contradiction"}),
        ("peak-temperature", {"solid_mass": "1 kg", "ice_temperature": "-5 °C"}, {"water_mass": "choose-one"}),
        (
            "peak-temperature",
            {"solid_mass": "1 kg", "water_mass": "1 kg", "ice_temperature": "-5 °C"},
            {"ice_temperature": "choose-one"},
        ),
        ("strength", {"from": "50 %", "to": "density", "unit": "mol/kg"}, {"unit": "unit-does-not-fit"}),
        ("superfat", EXAMPLES["superfat"] | {"stock_draw": "220"}, {"stock_draw": "bare-number"}),
        ("cooling-time", EXAMPLES["cooling-time"] | {"volume": "1 kg"}, {"volume": "wrong-kind-of-unit"}),
    ],
)
def test_faults_are_told_at_their_parameters(name: str, parameters: dict[str, str], due: dict[str, str]) -> None:
    assert faults(name, **parameters) == due
    inline = get(name, **parameters, errors="inline")
    assert (inline.status, inline.headers["cache-control"]) == (200, "no-store")
    assert inline.headers["content-type"] == "text/plain; charset=utf-8"
    text = inline.body.decode("ascii")
    assert text.startswith("Error: ")
    assert len(text) <= 200
    assert get(name, method="HEAD", **parameters, errors="inline").status == 200


def test_what_one_cell_cannot_say_is_no_number_in_any_format() -> None:
    for wanted in ("text", "json", "csv", "xml"):
        body = get("density", strength="60 %", errors="inline", format=wanted).body
        assert body.startswith(b"Error: strength: 60 % NaOH is too strong")


@given(
    name=st.sampled_from(sorted(VALUES)),
    parameters=st.dictionaries(
        st.sampled_from([*sorted({one.name for value in VALUES.values() for one in value.inputs}), "unit", "digits"]),
        st.text(max_size=12) | st.sampled_from(["50 %", "1:1", "olive-oil:1 kg", "20 °C", "1e999", "-1 g", ":"]),
        max_size=5,
    ),
)
def test_whatever_is_asked_gets_a_number_or_a_fault(name: str, parameters: dict[str, str]) -> None:
    reply = get(name, **parameters)
    assert reply.status in {200, 400, 422}
    assert reply.status != 200 or NUMBER.fullmatch(reply.body.decode())
    inline = get(name, **parameters, errors="inline")
    assert inline.status == 200
    assert inline.body.isascii()
