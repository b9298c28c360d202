"""The macros that send a table as a whole, run in a headless LibreOffice Calc against a running service."""

import json
import re
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import pytest

from deploy.callers.spreadsheet.flat_ods import flat_ods
from deploy.callers.spreadsheet.make_workbook import ADDRESS, HERE, STYLES, recipe_sheet, workbook
from deploy.callers.spreadsheet.many_sheet import MANY, MANY_HEADER, MANY_WANTED, many_sheet
from tests.callers_office.conftest import Calc, Shown
from tests.running import Served

pytestmark = pytest.mark.office
NAOH, KOH = 39.997, 56.1056
"""g/mol, by the abridged standard atomic weights, IUPAC/CIAAW 2021."""
OLIVE, COCONUT, LARD = (184 + 196) / 2, (248 + 265) / 2, (195 + 203) / 2
"""mg of KOH per g: Codex CXS 33-1981, CXS 210-1999; Merck Index (lard)."""
DUE: Final = [
    grams * (1 - superfat) * NAOH / KOH / 1000
    for grams, superfat in (
        (700 * OLIVE + 300 * COCONUT, 0.05),
        (850.5 * LARD + 149.5 * COCONUT, 0.045),
        (1200 * OLIVE, 0.07),
        (1000 * COCONUT, 0.20),
    )
]
"""Grams of NaOH that the table's sound rows need, by hand."""
ROWS: Final = len(MANY[0][1])


def placed(folder: Path, served: Served, text: str | None = None) -> Path:
    """A workbook in a folder of its own, with the address of the running service; the committed one without a text."""
    path = folder / "lyestock.fods"
    path.write_text((text or workbook()).replace(ADDRESS, served.address), encoding="utf-8")
    return path


def column(place: int) -> str:
    return chr(ord("A") + place)


FIRST: Final = len(MANY) + 1
"""Place of the first column of the answers."""
WANTED: Final = {name: column(FIRST + place) for place, name in enumerate(MANY_WANTED)}
READ: Final = ["Many.B5", *[f"Many.{c}{MANY_HEADER + 1 + row}" for c in WANTED.values() for row in range(ROWS)]]


def answered(cells: dict[str, Shown], name: str) -> list[Shown]:
    return [cells[f"Many.{WANTED[name]}{MANY_HEADER + 1 + row}"] for row in range(ROWS)]


def check(cells: dict[str, Shown]) -> None:
    """What the table of the committed workbook must have become."""
    assert cells["Many.B5"].text == "4 answered, 1 refused."
    assert [one.value for one in answered(cells, "status")] == [200, 200, 200, 200, 422]
    masses = answered(cells, "alkalis.0.mass [g]")
    assert [one.value for one in masses[:4]] == pytest.approx(DUE, rel=1e-4)
    assert masses[4] == Shown("", 0.0, 0)
    assert [one.value for one in answered(cells, "superfat [1]")[:4]] == pytest.approx([0.05, 0.045, 0.07, 0.2])
    assert [one.text for one in answered(cells, "problem.errors.0.detail")[:4]] == [""] * 4
    assert "olive oyl" in answered(cells, "problem.errors.0.detail")[4].text
    assert "/v1/fats" in answered(cells, "problem.errors.0.mend")[4].text
    assert all(one.text for one in answered(cells, "cautions.0.message")[:4])


@pytest.mark.parametrize("locale", ["en-US", "de-DE"])
def test_a_table_is_answered_row_by_row(calc: Calc, served: Served, tmp_path: Path, locale: str) -> None:
    served.asked.clear()
    typed = {f"Many.C{MANY_HEADER + 2}": "850,5" if locale == "de-DE" else "850.5"}
    path = placed(tmp_path, served)
    check(dict(calc(path, READ, typed=typed, macro="Bulk.SendTable", locale=locale).cells))
    posts = {name: count for (method, name), count in served.asked.items() if method == "POST"}
    assert posts == {"/v1/bulk/saponification?format=csv": 1}


def test_all_columns_are_written_where_none_is_named(calc: Calc, served: Served, tmp_path: Path) -> None:
    """A table of two hundred rows, whose answers have more columns than the sheet has letters."""
    many = [(name, list(cells[:4]) * 50) for name, cells in MANY]
    text = workbook(many_sheet(many, ()))
    last = MANY_HEADER + 200
    names = [f"Many.{column(FIRST + place)}{MANY_HEADER}" for place in range(4)]
    beyond = [f"Many.{letters}{MANY_HEADER}" for letters in ("AA", "BB")]
    cells = calc(
        placed(tmp_path, served, text), ["Many.B5", *names, *beyond, f"Many.K{last}"], macro="Bulk.SendTable"
    ).cells
    assert cells["Many.B5"].text == "200 answered, 0 refused."
    told = [cells[one].text for one in names]
    assert told == ["index", "reference", "status", "alkalis.0.alkali"]
    assert all(cells[one].text for one in beyond)


def test_a_reference_that_looks_like_a_formula_stays_what_it_is(calc: Calc, served: Served, tmp_path: Path) -> None:
    many = [(name, cells[:2]) for name, cells in MANY]
    wanted = ["status", "reference"]
    for first, second in (("-100", "'=1+1"), ("=1+1", "plain, \"quoted\" and 'so'")):
        # texts of cells, as the file has them; a formula would be another element
        text = flat_ods(
            (recipe_sheet(), many_sheet([("reference", ("AA", "BB")), *many[1:]], wanted)),
            STYLES,
            {"Bulk": (HERE / "bulk_calc.bas").read_text(encoding="utf-8")},
        )
        for mark, meant in (("AA", first), ("BB", second)):
            text = text.replace(f"<text:p>{mark}</text:p>", f"<text:p>{meant}</text:p>")
        read = [f"Many.{column(FIRST + 1)}{MANY_HEADER + 1 + row}" for row in range(2)]
        cells = calc(placed(tmp_path, served, text), read, macro="Bulk.SendTable").cells
        assert [one.text for one in cells.values()] == [first, second]


def test_what_is_wrong_with_the_whole_is_told_in_the_sheet(calc: Calc, served: Served, tmp_path: Path) -> None:
    path = placed(tmp_path, served)
    wrong = {f"Many.C{MANY_HEADER}": "fats.0.weight [g]"}
    cells = calc(path, ["Many.B5"], typed=wrong, macro="Bulk.SendTable").cells
    assert cells["Many.B5"].text.startswith("No answer.")
    empty = {f"Many.A{MANY_HEADER}": ""}
    cells = calc(path, ["Many.B5"], typed=empty, macro="Bulk.SendTable").cells
    assert cells["Many.B5"].text.startswith("No table:")


def vba() -> str:
    """The text for Excel in LibreOffice's mode for VBA, the call itself exchanged for that of Calc."""
    text = (HERE / "bulk_excel.bas").read_text(encoding="utf-8")
    calc_text = (HERE / "bulk_calc.bas").read_text(encoding="utf-8")
    own = text[: text.index("' Posts a text;")]
    post = calc_text[calc_text.index("Function PostText") :].replace(
        "mediaType As String)", "mediaType As String, key As String)"
    )
    objects = "source|writer|sink|broker|content|reader"
    return "Option VBASupport 1\n" + own + re.sub(rf"^(\s+)({objects}) = ", r"\1Set \2 = ", post, flags=re.MULTILINE)


def test_the_text_for_excel_does_the_same_in_the_mode_for_vba(calc: Calc, served: Served, tmp_path: Path) -> None:
    text = flat_ods((recipe_sheet(), many_sheet()), STYLES, {"Bulk": vba()})
    check(dict(calc(placed(tmp_path, served, text), READ, macro="Bulk.SendTable").cells))


@pytest.mark.skipif(shutil.which("node") is None, reason="no JavaScript (node) to run the text for Google Sheets")
def test_the_text_for_google_sheets_does_the_same_with_stand_ins(served: Served) -> None:
    """Google's own objects are not to be had: small ones of our own stand for them, the call is a real one."""
    script = Path(__file__).with_name("google_stand_ins.js")
    grid: Sequence[Sequence[str | float]] = [
        *[[""]] * (MANY_HEADER - 1),
        [*[name for name, _ in MANY], "", *MANY_WANTED],
        *[[cells[row] for _, cells in MANY] for row in range(ROWS)],
    ]
    job = {"address": served.address, "grid": grid, "calculation": "saponification"}
    done = subprocess.run(
        ["node", str(script), str(HERE / "bulk_sheets.gs")],
        input=json.dumps(job),
        capture_output=True,
        check=True,
        text=True,
        timeout=60,
    )
    told = json.loads(done.stdout)
    assert told["state"] == "4 answered, 1 refused."
    place = FIRST + MANY_WANTED.index("alkalis.0.mass [g]")
    masses = [row[place] for row in told["grid"][MANY_HEADER:]]
    assert masses[:4] == pytest.approx(DUE, rel=1e-4)
    assert masses[4] == ""
