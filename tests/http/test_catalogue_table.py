"""The catalogue as CSV: the same figures as in JSON, and no formula."""

import csv
import io
import re
from typing import Any

import pytest
from msgspec import Struct

from service.calculations.catalogue.catalogue_collections import COLLECTIONS, Collection
from service.http.catalogue_table import columns, table
from tests.asgi import Caller

HEADER = re.compile(r"(?P<path>[^\[]+?)(?: \[(?P<unit>[^\]]+)\])?")
collections = pytest.mark.parametrize("collection", COLLECTIONS, ids=lambda one: one.path)


def rows(text: bytes, delimiter: str = ",") -> list[dict[str, str]]:
    reader = csv.reader(io.StringIO(text.decode("utf-8"), newline=""), delimiter=delimiter, strict=True)
    header, *cells = list(reader)
    assert len(set(header)) == len(header)
    assert all(len(row) == len(header) for row in cells)
    return [dict(zip(header, row, strict=True)) for row in cells]


def leaves(node: Any, path: str = "") -> dict[str, Any]:
    """Every value of a JSON document by its path."""
    if isinstance(node, dict):
        parts = node.items()
    elif isinstance(node, list):
        parts = {str(place): one for place, one in enumerate(node)}.items()
    else:
        return {path: node}
    return {
        below: value for key, one in parts for below, value in leaves(one, f"{path}.{key}" if path else key).items()
    }


def told(row: dict[str, str], *, comma: bool) -> dict[str, Any]:
    """Every value that a row tells, by its path; a unit of the header stands where JSON has it."""
    found: dict[str, Any] = {}
    for header, cell in row.items():
        match = HEADER.fullmatch(header)
        assert match is not None
        if not cell:
            continue
        path, unit = match["path"], match["unit"]
        found[path] = cell.removeprefix("'")
        number = cell.replace(",", ".") if comma else cell
        if path.rpartition(".")[2] in {"value", "low", "high"}:
            found[path] = float(number)
        if unit is not None:
            found[path.rpartition(".")[0] + ".unit"] = unit
    return found


@collections
@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("decimal", ["point", "comma"])
def test_table_tells_what_json_tells(call: Caller, collection: Collection, units: str, decimal: str) -> None:
    address = f"/v1/{collection.path}?limit=500&units={units}&decimal={decimal}"
    text = call("GET", address + "&format=csv").body
    listed = rows(text, ";" if decimal == "comma" else ",")
    items = call("GET", address).json()["items"]
    assert len(listed) == len(items)
    for row, item in zip(listed, items, strict=True):
        expected = {
            path: {True: "true", False: "false"}[value] if isinstance(value, bool) else value
            for path, value in leaves(item).items()
        }
        expected = {path: str(value) if isinstance(value, int) else value for path, value in expected.items()}
        assert told(row, comma=decimal == "comma") == expected


@collections
def test_columns_are_the_same_whatever_is_chosen(call: Caller, collection: Collection) -> None:
    path = f"/v1/{collection.path}"
    header = call("GET", f"{path}?format=csv&limit=500").body.partition(b"\r\n")[0]
    one = call("GET", f"{path}/{collection.example}?format=csv").body.split(b"\r\n")
    assert one[0] == header
    assert one[2:] == [b""]
    assert call("GET", f"{path}?format=csv&limit=1&offset=1").body.startswith(header + b"\r\n")
    assert call("GET", f"{path}?format=csv&search=zzzz").body == header + b"\r\n"


def test_table_is_csv_in_utf_8(call: Caller) -> None:
    reply = call("GET", "/v1/fats?format=csv&limit=500")
    assert reply.headers["content-type"] == "text/csv; header=present; charset=utf-8"
    text = reply.body.decode("utf-8")
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert "melting.low [°C]" in text


def test_olive_oil_stands_in_the_table_as_in_the_standard(call: Caller) -> None:
    """Codex Alimentarius CXS 33-1981: saponification value 184 to 196 mg KOH/g."""
    row = rows(call("GET", "/v1/fats/olive-oil?format=csv").body)[0]
    assert (row["saponification_value.low [mg/g]"], row["saponification_value.high [mg/g]"]) == ("184.0", "196.0")
    german = rows(call("GET", "/v1/fats/olive-oil?format=csv&decimal=comma").body, ";")[0]
    assert german["saponification_value.low [mg/g]"] == "184,0"
    assert german["fatty_acids.shares.C18:1.low [1]"] == "0,55"


def test_us_units_stand_in_the_header(call: Caller) -> None:
    assert "density.low [lb/gal]" in rows(call("GET", "/v1/liquids?format=csv&units=us&limit=1").body)[0]


@pytest.mark.parametrize("decimal", ["point", "comma"])
@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@A1", "\tx", "\rx", "\nx", "＝1+1", "＠A1", "=HYPERLINK(\"x\";'y')"]
)
def test_text_that_looks_like_a_formula_is_none(call: Caller, text: str, decimal: str) -> None:
    written = text.encode().hex(" ").upper().replace(" ", "%")
    reply = call("GET", f"/v1/acids?format=csv&decimal={decimal}&reference=%{written}")
    for row in rows(reply.body, ";" if decimal == "comma" else ","):
        assert row["reference"] == f"'{text}"
        assert list(row)[-1] == "reference"


class Odd(Struct):
    name: str
    value: float
    count: int
    sure: bool


@pytest.mark.parametrize(
    ("text", "cell"), [("a,b", '"a,b"'), ('a"b', '"a""b"'), ("a\nb", '"a\nb"'), ("a=b", "a=b"), ("-5", "'-5")]
)
def test_cells_are_quoted_where_they_must_be_and_numbers_never_escaped(text: str, cell: str) -> None:
    entry = Odd(text, -1.5e-7, -3, sure=False)
    assert (
        table([entry], columns([entry]), "point", []).decode()
        == f"name,value,count,sure\r\n{cell},-1.5e-07,-3,false\r\n"
    )
    assert table([entry], columns([entry]), "comma", []).decode().endswith(";-1,5e-07;-3;false\r\n")
