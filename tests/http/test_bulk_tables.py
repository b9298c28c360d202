"""Many items as a table: the same answers as in JSON, headers that name members and units, and faults by column."""

import csv
import io
import json
import re
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct

from service.calculations.registry import calculations
from service.calculations.shared.csv_cells import had_back
from service.http.app import create_app
from service.http.bulk_columns import Member
from service.http.bulk_examples import table_of
from service.http.bulk_flat import PROBLEM
from service.http.bulk_items import MOST_ITEMS
from service.http.bulk_paths import MOST_COLUMNS, taken_apart, written
from service.http.bulk_table import FIXED, KEPT
from tests.asgi import Caller, Reply
from tests.contract.realistic import REALISTIC

CALL: Final = Caller(create_app())
CSV: Final = ("content-type", "text/csv")
HEADER: Final = "alkalis.0.alkali,alkalis.0.mass [g],stocks.0.alkali,stocks.0.strength.mass_fraction [%]"


def sent(table: str | bytes, query: str = "", name: str = "liquid-split") -> Reply:
    return CALL("POST", f"/v1/bulk/{name}?{query}", table if isinstance(table, bytes) else table.encode(), [CSV])


def in_json(table: str | bytes, query: str = "", name: str = "liquid-split") -> list[Any]:
    reply = sent(table, f"format=json&{query}", name)
    assert reply.status == 200, reply.body
    found: list[Any] = reply.json()["results"]
    return found


def rows(reply: Reply, delimiter: str = ",") -> list[dict[str, str]]:
    assert reply.status == 200, reply.body
    assert reply.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    text = reply.body.decode()
    assert text.endswith("\r\n")
    return list(csv.DictReader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))


def flat(node: Any, path: tuple[Any, ...] = ()) -> dict[str, Any]:
    """What JSON says, by the headers of a table: worked out here once more, and in another way."""
    if isinstance(node, dict) and {"value", "unit"} <= node.keys() <= {"value", "low", "high", "unit"}:
        unit = f" [{node['unit']}]"
        ends = {f"{written((*path, end))}{unit}": node[end] for end in ("low", "high") if end in node}
        return {written(path) + unit: node["value"]} | ends
    inner: Any = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else None
    if inner is None:
        return {written(path): node}
    return {header: value for step, one in inner for header, value in flat(one, (*path, step)).items()}


def is_told(row: dict[str, str], one: dict[str, Any], *, comma: bool = False) -> None:
    """Whether a row tells all that a result in JSON tells, and nothing else."""
    due = {"index": one["index"], "status": one["status"]}
    due |= {"reference": one["reference"]} if "reference" in one else {}
    if "result" in one:
        due |= flat({name: value for name, value in one["result"].items() if name != "reference"})
    else:
        due |= flat(one["problem"], ("problem",))
    assert {header for header, cell in row.items() if cell} == {header for header, value in due.items() if value != ""}
    for header, value in due.items():
        cell = row[header]
        if isinstance(value, bool):
            assert cell == str(value).lower()
        elif isinstance(value, str):
            assert had_back(cell) == value
        else:
            assert ("." in cell) <= (not comma)
            assert float(cell.replace(",", ".") if comma else cell) == value


def says_blank(node: Any) -> bool:
    """Whether a text within a request is empty or blank."""
    if isinstance(node, dict | list):
        return any(map(says_blank, node.values() if isinstance(node, dict) else node))
    return isinstance(node, str) and not node.strip()


# The same as JSON


@pytest.mark.parametrize("name", calculations())
@pytest.mark.parametrize("query", ["", "units=us&digits=4", "explain=true&decimal=comma"])
def test_examples_as_a_table_are_answered_as_in_json(name: str, query: str) -> None:
    comma = "comma" in query
    items = [{"reference": f"no. {n}"} | one.request for n, one in enumerate(calculations()[name].examples)]
    due = CALL("POST", f"/v1/bulk/{name}?{query}", {"items": items}).json()["results"]
    assert {one["status"] for one in due} == {200}
    table = table_of(items, "comma" if comma else "point")
    assert in_json(table, query, name) == due
    answered = rows(sent(table, query, name), ";" if comma else ",")
    for row, one in zip(answered, due, strict=True):
        is_told(row, one, comma=comma)


@given(data=st.data())
def test_whatever_fits_is_answered_as_in_json(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(REALISTIC)))
    items = data.draw(st.lists(REALISTIC[name], min_size=1, max_size=3))
    due = CALL("POST", f"/v1/bulk/{name}", {"items": items}).json()["results"]
    answered = rows(CALL("POST", f"/v1/bulk/{name}?format=csv", json.dumps({"items": items}).encode(), [JSON]))
    for row, one in zip(answered, due, strict=True):
        is_told(row, one)
    # an empty cell leaves its member out, so a table has no word for a text of nothing but blanks
    if all(one["status"] == 200 for one in due) and not says_blank(items):
        assert in_json(table_of(items), "", name) == due


JSON: Final = ("content-type", "application/json")


@given(references=st.lists(st.text(max_size=30).filter(lambda one: one.strip() == one != ""), min_size=1, max_size=4))
def test_any_mark_comes_back_through_a_table(references: list[str]) -> None:
    try:
        "".join(references).encode()
    except UnicodeEncodeError:
        return  # half of a surrogate pair has no place in UTF-8
    items = [{"alkali": "NaOH", "strength": {"mass_fraction": 0.3}, "reference": one} for one in references]
    table = table_of(items)
    assert [one["reference"] for one in in_json(table, name="concentration")] == references
    assert [had_back(row["reference"]) for row in rows(sent(table, name="concentration"))] == references


@given(st.lists(st.text(min_size=1) | st.integers(0, 99), min_size=1, max_size=4), st.none() | st.just("g/100g"))
def test_a_path_is_read_as_it_was_written(steps: list[str | int], unit: str | None) -> None:
    header = written(steps) + (f" [{unit}]" if unit else "")
    if header.strip() == header and all(str(step).strip() == step for step in steps[-1:] if isinstance(step, str)):
        assert taken_apart(header) == ([str(step) for step in steps], unit)


def test_names_of_ones_own_may_hold_dots_and_brackets() -> None:
    plan = calculations()["production-plan"].examples[0].request
    (old, *_) = plan["recipes"]
    new = "a.b [g]\\c"
    changed = json.loads(json.dumps(plan).replace(json.dumps(old), json.dumps(new)))
    assert table_of([changed]).partition("\r\n")[0].count(r"recipes.a\.b \[g]\\c.") > 3
    (told,) = in_json(table_of([changed]), name="production-plan")
    assert told["status"] == 200
    assert new in json.dumps(told["result"]).encode().decode("unicode_escape")


# Cells


def test_quantities_have_their_unit_in_the_header_whatever_it_is() -> None:
    def draw(header: str, *cells: str) -> float:
        table = f"{HEADER.replace('alkalis.0.mass [g]', header)}\nNaOH,{','.join(cells)},NaOH,50\n"
        (told,) = in_json(table)
        value: float = told["result"]["stock_draws"][0]["mass"]["value"]
        return value

    assert draw("alkalis.0.mass [g]", "100") == pytest.approx(200)
    assert draw("alkalis.0.mass [kg]", "0.1") == pytest.approx(200)
    assert draw("alkalis.0.mass[ONZ]", "1e1") == pytest.approx(566.99046250)
    assert draw(" alkalis.0.mass  [ g ] ", " 100 ") == pytest.approx(200)
    assert draw("alkalis.0.mass [g]", "100 gram") == pytest.approx(200)
    assert draw("alkalis.0.mass.value [g]", "100") == pytest.approx(200)
    assert draw("alkalis.0.mass,alkalis.0.mass.unit", "0.1", "kg") == pytest.approx(200)
    assert draw("alkalis.0.mass.low [g],alkalis.0.mass.high [g]", "90", "110") == pytest.approx(200)
    assert draw("alkalis.0.mass [g],alkalis.0.mass.uncertainty [g]", "100", "1") == pytest.approx(200)


def test_fractions_and_ratios_need_no_unit() -> None:
    header = HEADER.replace(" [%]", "") + ",total_liquid.water_ratio\n"
    for strength, ratio in (("0.5", "2"), ("50 %", "2:1"), ("50 pct", " 2 : 1 ")):
        (told,) = in_json(f"{header}NaOH,100,NaOH,{strength},{ratio}\n")
        assert told["result"]["added_liquid_mass"]["value"] == pytest.approx(100)
    (told,) = in_json(f"{header}NaOH,100,NaOH,50,2\n")
    assert told["problem"]["errors"][0]["code"] == "percent-missing"


def test_decimals_have_a_comma_where_the_address_says_so() -> None:
    good, bad = "NaOH;102,5;NaOH;50,0;5,5 %", "NaOH;102.5;NaOH;50;5\nNaOH;1.024,5;NaOH;50;"
    table = f"{HEADER.replace(',', ';')};superfat\n{good}\n{bad}\n"
    told = in_json(table, "decimal=comma")
    assert told[0]["result"]["stock_draws"][0]["mass"]["value"] == pytest.approx(205)
    assert told[0]["result"]["superfat"]["value"] == pytest.approx(0.055)
    for one in told[1:]:
        assert one["problem"]["errors"][0]["code"] == "unreadable-quantity"
    answered = rows(sent(table, "decimal=comma"), ";")
    assert answered[0]["stock_draws.0.mass [g]"] in {"205,0", "204,99999999999997"}
    (told,) = in_json(f'{HEADER}\nNaOH,"102,5",NaOH,50\n')
    assert told["problem"]["errors"][0]["code"] == "decimal-comma"


def test_an_empty_cell_is_a_member_left_out_and_a_gap_in_a_list_closes() -> None:
    header = "reference,fats.2.mass [g],fats.2.fat,fats.0.fat,fats.0.mass [g],superfat [%]\n"
    first, last, none = in_json(
        f"{header},700,olive-oil,coconut-oil,300,\nx,700,olive-oil,,  ,5\n,,,,,\n", name="saponification"
    )
    assert [one["fat"] for one in first["result"]["contributions"]] == ["coconut-oil", "olive-oil"]
    assert "reference" not in first
    assert "/superfat" in [one["pointer"] for one in first["result"]["assumed"]]
    assert [one["fat"] for one in last["result"]["contributions"]] == ["olive-oil"]
    assert none["problem"]["errors"][0]["code"] == "missing-member"


@pytest.mark.parametrize("word", ["true", "TRUE", "True", " true "])
def test_truth_is_read_as_spreadsheets_write_it(word: str) -> None:
    table = f"{HEADER},total_liquid.water_ratio,liquids.0.liquid,liquids.0.rest\nNaOH,100,NaOH,50,2,goat-milk,{word}\n"
    assert in_json(table)[0]["status"] == 200


def test_a_member_may_be_a_word_or_an_object_but_not_both() -> None:
    example = next(
        one.request for one in calculations()["stock-adjustment"].examples if isinstance(one.request.get("with"), dict)
    )
    row = table_of([example]).split("\r\n")
    table = f"with,{row[0]}\r\n,{row[1]}\r\nwater,{row[1]}\r\n"
    good, bad = in_json(table, name="stock-adjustment")
    assert good["status"] == 200
    assert (bad["problem"]["errors"][0]["code"], bad["problem"]["errors"][0]["column"]) == ("choose-one", "with")


def test_marks_lines_and_quotes_are_read_as_rfc_4180_says() -> None:
    for end in ("\n", "\r\n", "\r"):
        table = f'\ufeff{HEADER},reference{end}NaOH,100,NaOH,50,"a, ""b""{end}c"{end}{end}NaOH,"100",NaOH,50,d'
        assert [one["reference"] for one in in_json(table)] == [f'a, "b"{end}c', "d"]


# Faults of cells


@pytest.mark.parametrize(
    ("column", "cell", "code"),
    [
        ("alkalis.0.mass [g]", "100 oz", "two-units"),
        ("alkalis.0.mass [g]", "6 fl oz", "two-units"),
        ("alkalis.0.mass [g]", "heavy", "unreadable-quantity"),
        ("alkalis.0.mass [g]", "-5", "out-of-range"),
        ("alkalis.0.mass [g]", "1e999", "out-of-range"),
        ("alkalis.0.mass [g]", "nan", "unreadable-quantity"),
        ("alkalis.0.mass [g]", "'5", "unreadable-quantity"),
        ("stocks.0.strength.mass_fraction [%]", "0.5:1", "unreadable-quantity"),
        ("stocks.0.strength.mass_fraction [%]", "101", "out-of-range"),
        ("alkalis.0.alkali", "LiOH", "not-one-of"),
        ("alkalis.0.alkali", "", "missing-member"),
    ],
)
def test_a_cell_that_cannot_be_read_is_told_by_line_and_column(column: str, cell: str, code: str) -> None:
    cells = dict(zip(HEADER.split(","), ["NaOH", "100", "NaOH", "50"], strict=True))
    good = ",".join(cells.values())
    bad = ",".join((cells | {column: cell}).values())
    first, second, third = in_json(f"{HEADER}\n{good}\n{bad}\n{good}\n")
    assert [first["status"], second["status"], third["status"]] == [200, 400, 200]
    (fault,) = second["problem"]["errors"]
    assert (fault["code"], fault["column"], fault["line"]) == (code, column, 3)
    assert fault["pointer"].startswith("/" + column.partition(" ")[0].replace(".", "/"))


def test_every_fault_of_a_row_is_told_with_its_own_place() -> None:
    header = "fats.1.fat,fats.1.mass [g],fats.3.fat,fats.3.mass [kg],superfat [%],alkalis.0.purity [%]\n"
    (told,) = in_json(f"{header}olive,x,coconut-oil,-1,5,98\n", name="saponification")
    found = {(one["pointer"], one["column"], one["code"]) for one in told["problem"]["errors"]}
    assert found == {
        ("/fats/1/fat", "fats.1.fat", "unknown-identifier"),
        ("/fats/1/mass", "fats.1.mass [g]", "unreadable-quantity"),
        ("/fats/3/mass/value", "fats.3.mass [kg]", "out-of-range"),
        ("/alkalis/0/alkali", "alkalis.0.alkali", "missing-member"),
    }
    (told,) = in_json(f"{header},,coconut-oil,-1,,\n", name="saponification")
    (fault,) = told["problem"]["errors"]
    assert (fault["pointer"], fault["column"]) == ("/fats/3/mass/value", "fats.3.mass [kg]")


def test_what_chemistry_objects_is_told_by_column_too() -> None:
    (told,) = in_json(f"{HEADER}\nKOH,100,NaOH,50\n")
    assert told["status"] == 422
    (fault,) = told["problem"]["errors"]
    assert (fault["code"], fault["column"], fault["line"]) == ("contradiction", "stocks.0.alkali", 2)


# Faults of the whole


@pytest.mark.parametrize(
    ("header", "code"),
    [
        ("alkalis.0.mass", "bare-number"),
        ("alkalis.0.mass [fl_oz]", "volume-for-mass"),
        ("alkalis.0.mass [pounce]", "unknown-unit"),
        ("alkalis.0.mass [°C]", "wrong-kind-of-unit"),
        ("alkalis.0.mass []", "unknown-unit"),
        ("alkalis.0.mas [g]", "unknown-member"),
        ("alkalis.0.mass.mean [g]", "unknown-member"),
        ("alkalis.0.mass.low.x [g]", "unknown-member"),
        ("alkalis.0.mass.unit", "missing-member"),
        ("alkalis.0.mass.unit [g]", "unknown-unit"),
        ("alkalis.2.mass [g]", "too-many"),
        ("alkalis.00.mass [g]", "wrong-type"),
        ("alkalis.-1.mass [g]", "wrong-type"),
        ("alkalis", "wrong-type"),
        ("alkalis.0", "wrong-type"),
        ("alkalis.0.alkali.x", "unknown-member"),
        ("fats.0.fatty_acids", "wrong-type"),
        ("reference [g]", "unknown-unit"),
        ("result", "unknown-member"),
        ("", "malformed-csv"),
    ],
)
def test_a_column_that_is_none_is_a_fault_of_the_whole(header: str, code: str) -> None:
    reply = sent(f'"{header}",superfat\n1,5 %\n')
    reply.detail(400)
    (fault,) = reply.json()["errors"]
    assert (fault["code"], fault["column"], fault["line"]) == (code, header, 1)


@pytest.mark.parametrize(
    ("headers", "codes"),
    [
        (["superfat", "superfat"], ["repeated-member"]),
        (["superfat [%]", "superfat [1]"], ["repeated-member"]),
        (["superfat [%]", "superfat.value [%]"], ["repeated-member"]),
        (["reference", " reference "], ["repeated-member"]),
        (["alkalis.0.mass.low [g]", "alkalis.0.mass.high [kg]"], ["two-units", "two-units"]),
        (["alkalis.0.mass [g]", "alkalis.0.mass.unit"], ["two-units"]),
        (["alkalis.0.mass", "alkalis.0.mass.low [g]"], ["bare-number"]),
        (["refrence", "alkali", "superfat"], ["unknown-member", "unknown-member"]),
    ],
)
def test_columns_that_contradict_each_other_are_faults_of_the_whole(headers: list[str], codes: list[str]) -> None:
    reply = sent(f"{','.join(headers)}\n{','.join('1' for _ in headers)}\n")
    reply.detail(400)
    assert reply.codes == codes


@pytest.mark.parametrize(
    ("body", "code", "line"),
    [
        (b"", "too-few", 1),
        (b"\r\n\r\n", "too-few", 1),
        (b"superfat", "too-few", 1),
        (b"superfat\n\n", "too-few", 1),
        (b"superfat,reference\n5 %,a\n5 %\n", "malformed-csv", 3),
        (b"superfat,reference\n5 %,a,b\n", "malformed-csv", 2),
        (b'superfat,reference\n5 %,a\n5 %,"b\nc\n', "malformed-csv", 3),
        (b'superfat,reference\n5 %,"a"b\n', "malformed-csv", 2),
        (b"superfat;reference\n5 %;a\n", "malformed-csv", 1),
        (b"superfat\treference\n5 %\ta\n", "malformed-csv", 1),
        (b"superfat,reference\n5 %,a\n5 %,\xe4\n", "malformed-csv", 3),
        ("superfat,reference\n5 %,a\n".encode("utf-16"), "malformed-csv", 1),
        (b"reference\n" + b"a\n" * (MOST_ITEMS + 1), "too-many", MOST_ITEMS + 2),
        (b"reference" + b"," * MOST_COLUMNS + b",\n", "too-many", 1),
        (b"reference\n" + b"a" * 200_000, "malformed-csv", 2),
    ],
    ids=lambda value: str(value)[:30],
)
def test_what_is_no_table_is_a_fault_of_the_whole(body: bytes, code: str, line: int) -> None:
    reply = sent(body)
    reply.detail(400)
    (fault,) = reply.json()["errors"]
    assert (fault["code"], fault["line"]) == (code, line)


def test_every_ragged_row_is_told_up_to_a_hundred() -> None:
    reply = sent("superfat,reference\n" + "5 %\n" * 250)
    assert reply.detail(400) == "The request has 250 faults: the first 100 are in errors."
    assert [one["line"] for one in reply.json()["errors"]] == list(range(2, 102))


def test_the_other_separator_is_named() -> None:
    assert "decimal=comma into the address" in sent("superfat;reference\n1;2\n").json()["errors"][0]["mend"]
    reply = sent("superfat,reference\n1,2\n", "decimal=comma")
    assert "leave decimal=comma out" in reply.json()["errors"][0]["mend"]


def test_another_code_than_utf_8_is_refused_as_it_is_declared() -> None:
    reply = CALL("POST", "/v1/bulk/liquid-split", b"a\n1\n", [("content-type", "text/csv; charset=windows-1252")])
    assert reply.status == 415


# The table that is answered


def test_the_table_begins_alike_and_holds_the_columns_of_all_rows() -> None:
    with_milk = f"{HEADER},total_liquid.water_ratio,liquids.0.liquid,liquids.0.rest\n"
    answered = rows(sent(f"{with_milk}NaOH,100,NaOH,50,2,,\nNaOH,x,NaOH,50,2,,\nNaOH,100,NaOH,50,3,goat-milk,true\n"))
    header = list(answered[0])
    assert tuple(header[:3]) == FIXED
    assert header[3] == "stock_draws.0.alkali"
    places = [header.index(one) for one in ("added_liquid_mass [g]", "cautions.0.code", "data_version", "problem.type")]
    assert places == sorted(places)
    assert [bool(row["problem.type"]) for row in answered] == [False, True, False]
    assert [row["status"] for row in answered] == ["200", "400", "200"]
    assert all(re.fullmatch(r"[a-z_]+(\.[\w:]+)*( \[[^]]+\])?", one) for one in header)


def test_no_answer_has_a_member_that_is_named_like_a_column_of_the_table() -> None:
    taken = {*FIXED, PROBLEM} - {"reference"}
    for calculation in calculations().values():
        answer: type[Struct] = calculation.answer
        assert taken.isdisjoint(answer.__struct_fields__)


def test_rows_that_are_not_kept_are_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    items = [one.request for one in calculations()["liquid-split"].examples] * 5
    whole = CALL("POST", "/v1/bulk/liquid-split?format=csv", {"items": [*items, {}]})
    for kept in (0, 1, 5000):
        monkeypatch.setattr("service.http.bulk_table.KEPT", kept)
        assert CALL("POST", "/v1/bulk/liquid-split?format=csv", {"items": [*items, {}]}).body == whole.body
    assert KEPT > 1 << 20


def test_a_table_wider_than_a_sheet_is_refused_before_it_begins(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.http.bulk_table.MOST_COLUMNS", 20)
    reply = sent(f"{HEADER}\nNaOH,100,NaOH,50\n")
    reply.detail(422)
    assert (reply.json()["errors"][0]["parameter"], reply.codes) == ("format", ["too-many"])
    assert in_json(f"{HEADER}\nNaOH,100,NaOH,50\n")[0]["status"] == 200


def test_ten_thousand_rows_are_answered_in_order() -> None:
    table = f"reference,{HEADER}\n" + "".join(f"{n},NaOH,{100 + n},NaOH,50\n" for n in range(MOST_ITEMS))
    answered = rows(sent(table))
    assert len(answered) == MOST_ITEMS
    for n, row in enumerate(answered):
        assert (row["index"], row["reference"]) == (str(n), str(n))
        assert float(row["stock_draws.0.mass [g]"]) == pytest.approx(2 * (100 + n))


def test_blank_lines_are_passed_over_and_rows_of_empty_cells_keep_their_place() -> None:
    """Whoever writes answers back beside the rows of a sheet counts on it."""
    found = in_json(f"{HEADER}\r\nNaOH,100,NaOH,50\r\n,,,\r\n\r\nNaOH,200,NaOH,50\r\n")
    assert [one["status"] for one in found] == [200, 400, 200]
    assert found[2]["result"]["stock_draws"][0]["mass"]["value"] == pytest.approx(400.0)


def test_more_blank_lines_than_anybody_leaves_are_refused() -> None:
    reply = sent("reference\n" + "\n" * (MOST_ITEMS + 1) + "a\n")
    assert reply.status == 400
    assert reply.json()["errors"][0]["detail"] == f"there are more than {MOST_ITEMS} blank lines"


def test_a_row_with_many_faults_is_looked_through_once_for_their_places(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    kept = Member.kept

    def counted(self: Member, cells: Any) -> Any:
        asked.append(self.steps)
        return kept(self, cells)

    monkeypatch.setattr(Member, "kept", counted)
    header = ",".join(f"fats.{place}.{one}" for place in range(150) for one in ("fat", "mass [g]"))
    (found,) = in_json(f"{header}\r\n" + ",".join(["nothing", "x"] * 150) + "\r\n", name="saponification")
    assert len(found["problem"]["errors"]) == 100
    assert asked.count(("fats",)) <= 1


def test_columns_of_an_answer_are_no_slips_of_the_pen() -> None:
    faults = sent(f"index,status,{HEADER}\r\n0,200,NaOH,100,NaOH,50\r\n", name="saponification").json()["errors"]
    assert [one["mend"] for one in faults if one.get("column") in {"index", "status"}] == ["take the column away"] * 2
