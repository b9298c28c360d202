"""The committed workbook, opened, reckoned anew and saved by a headless LibreOffice Calc against a running service."""

import re
import zipfile
from pathlib import Path
from typing import Final
from urllib.parse import unquote
from xml.etree import ElementTree as ET

import pytest

from deploy.callers.spreadsheet.flat_ods import NAMESPACES
from deploy.callers.spreadsheet.make_workbook import (
    ADDRESS,
    CHOSEN,
    FIRST_FAT,
    NO_ANSWER,
    ROW,
    ROW_OF_VALUE,
    WANTED,
    WORKBOOK,
    workbook,
)
from tests.callers_office.conftest import Calc, Shown
from tests.running import Served

pytestmark = pytest.mark.office
NAOH, KOH = 39.997, 56.1056
"""g/mol, by the abridged standard atomic weights, IUPAC/CIAAW 2021."""
LINES: Final = tuple(f"Recipe.{column}{row}" for row in ROW_OF_VALUE.values() for column in "BCDEFGHI")


def placed(folder: Path, address: str) -> Path:
    """The committed workbook in a folder of its own, with the address of a running service."""
    text = WORKBOOK.read_text(encoding="utf-8")
    assert text.count(ADDRESS) == 1, "the address of the service stands in one cell alone"
    path = folder / "lyestock.fods"
    path.write_text(text.replace(ADDRESS, address), encoding="utf-8")
    return path


def at(value: str, column: str = "B") -> str:
    """The cell of a value, or of what stands beside it."""
    return f"Recipe.{column}{ROW_OF_VALUE[value]}"


def saved_cells(path: Path) -> dict[str, str]:
    """Number of each cell of the first sheet of a saved workbook, as text, or its text."""
    office, table = NAMESPACES["office"], NAMESPACES["table"]
    (sheet, *_) = ET.parse(path).iter(f"{{{table}}}table")  # noqa: S314 - written a moment ago
    found, row = {}, 0
    for line in sheet.iter(f"{{{table}}}table-row"):
        row += 1
        column = 0
        for cell in line:
            column += 1
            text = "".join(cell.itertext())
            found[f"Recipe.{chr(ord('A') + column - 1)}{row}"] = cell.get(f"{{{office}}}value", text)
            column += int(cell.get(f"{{{table}}}number-columns-repeated", "1")) - 1
        row += int(line.get(f"{{{table}}}number-rows-repeated", "1")) - 1
    return found


def test_the_committed_workbook_is_what_its_script_writes() -> None:
    assert WORKBOOK.read_bytes() == workbook().encode(), "run python -m deploy.callers.spreadsheet.make_workbook"
    assert workbook() == workbook()


def test_the_workbook_says_that_its_example_is_invented() -> None:
    assert "An invented example." in WORKBOOK.read_text(encoding="utf-8")


def test_cells_hold_what_is_right_and_are_saved(calc: Calc, served: Served, tmp_path: Path) -> None:
    """The batch as committed: 700 g of olive and 300 g of coconut oil, superfat 5 %, 50 % stock, liquid 2:1."""
    saved = tmp_path / "saved"
    saved.mkdir()
    book = placed(tmp_path, served.address)
    cells = calc(book, LINES, save=[saved / "new.fods", saved / "new.xlsx"]).cells
    # Codex CXS 33-1981: 184 to 196 mg KOH per g of olive oil; CXS 210-1999: 248 to 265 of coconut oil; by hand
    whole = (700 * (184 + 196) / 2 + 300 * (248 + 265) / 2) / 1000 * NAOH / KOH
    pure = 0.95 * whole
    assert pure == pytest.approx(142.19, abs=0.005)
    due = {
        "alkali-mass": pure,
        "stock-draw": pure / 0.5,
        "added-liquid": 2 * pure - (pure / 0.5 - pure),
        # 290 g of 50 % stock hold 145 g
        "superfat": 100 * (1 - 145 / whole),
    }
    for value, number in due.items():
        assert cells[at(value)].value == pytest.approx(number, rel=1e-4), value
    # Published: International Critical Tables 3 (1928) 79, in Perry's handbook, from memory; Dow Chemical, caustic
    # soda product page: sets at about 14 °C, boils at about 145 °C. Each must lie between Low and High.
    for value, number in {"density": 1.5253, "first-solid-temperature": 14.0, "boiling-point": 145.0}.items():
        assert cells[at(value, "D")].value <= number <= cells[at(value, "E")].value, value
        assert cells[at(value, "D")].value <= cells[at(value)].value <= cells[at(value, "E")].value, value
    assert [cells[at(one.value, "C")].text for one in WANTED] == ["g", "g", "g", "%", "kg/L", "°C", "°C", "°C", "g"]
    assert cells[at("peak-temperature", "F")].text.startswith("4 dangers, ")

    kept = saved_cells(saved / "new.fods")
    for value in ROW_OF_VALUE:
        assert float(kept[at(value)]) == pytest.approx(cells[at(value)].value, rel=1e-12), value
    with zipfile.ZipFile(saved / "new.xlsx") as book_for_excel:
        sheet = book_for_excel.read("xl/worksheets/sheet1.xml").decode()
    assert sheet.count("_xlfn.WEBSERVICE(") == 2 * len(WANTED)
    assert not re.search(r"COM\.MICROSOFT|<f[^>]*>of:", sheet)


def test_a_mixing_gets_as_hot_as_is_published(calc: Calc, served: Served, tmp_path: Path) -> None:
    """10 mol of pure NaOH into 30 mol of water of 25 °C."""
    typed = {
        f"Recipe.B{ROW['solid_mass']}": "0.39997",
        f"Recipe.B{ROW['purity']}": "100",
        f"Recipe.B{ROW['water_mass']}": "0.54045",
        f"Recipe.B{ROW['water_temperature']}": "25",
        f"Recipe.B{ROW['ice_mass']}": "",
    }
    cells = calc(placed(tmp_path, served.address), LINES, typed=typed).cells
    # V. B. Parker, NSRDS-NBS 2 (1965): 44.51 kJ/mol; less 14.02 to dilute it from 3 H2O (Felder & Rousseau, table
    # B.11, from memory): 304.9 kJ. Solutions of some 40 % take 3.2 to 3.6 kJ/(kg K) there (from memory).
    heat = 10 * (44.51 - 14.02)
    least, most = (20 + heat / (0.94042 * taken) for taken in (3.6, 3.2))
    peak = cells[at("peak-temperature")].value
    assert least < peak < most + 5  # solid of 20 °C, water of 25 °C: the start lies between
    assert cells[at("peak-temperature", "D")].value < peak < cells[at("peak-temperature", "E")].value


def test_each_cell_sends_options_head_and_get(calc: Calc, served: Served, tmp_path: Path) -> None:
    served.asked.clear()
    cells = calc(placed(tmp_path, served.address), LINES).cells
    addresses = {cells[at(value, "G")].text.removeprefix(served.address) for value in ROW_OF_VALUE}
    addresses = {unquote(one) for one in addresses} | {unquote(f"{one}&format=xml") for one in addresses}
    assert len(addresses) == 2 * len(WANTED)
    asked = [(method, unquote(one)) for method, one in served.asked]
    assert sorted(asked) == sorted((method, one) for one in addresses for method in ("OPTIONS", "HEAD", "GET"))
    assert set(served.asked.values()) == {1}


def test_where_commas_are_typed_the_numbers_are_the_same(calc: Calc, served: Served, tmp_path: Path) -> None:
    point = {f"Recipe.B{FIRST_FAT}": "700.5", f"Recipe.B{ROW['purity']}": "97.5"}
    comma = {cell: text.replace(".", ",") for cell, text in point.items()}
    first = calc(placed(tmp_path, served.address), LINES, typed=point, locale="en-US").cells
    then = calc(placed(tmp_path, served.address), LINES, typed=comma, locale="de-DE").cells
    by_hand = 0.95 * (700.5 * 190 + 300 * 256.5) / 1000 * NAOH / KOH  # figures as in the first test
    for cells, shown in ((first, "142.3"), (then, "142,3")):
        assert cells[at("alkali-mass")].value == pytest.approx(by_hand, rel=1e-4), cells[at("alkali-mass", "F")]
        assert cells[at("alkali-mass")].text == shown
    assert [one.value for one in first.values()] == [one.value for one in then.values()]


def test_what_is_wrong_is_told_in_words_and_gives_no_number(calc: Calc, served: Served, tmp_path: Path) -> None:
    typed = {
        f"Recipe.B{FIRST_FAT}": "'1,234",  # a text: nobody knows whether 1234 or 1.234 is meant
        f"Recipe.A{FIRST_FAT + 1}": "coconut",
        f"Recipe.B{ROW['strength']}": "80",
        f"Recipe.C{ROW['solid_mass']}": "fl oz",
    }
    cells = calc(placed(tmp_path, served.address), LINES, typed=typed).cells
    assert cells[at("alkali-mass", "F")].text.startswith("Error: fats: '1,234 g' has a comma")
    assert cells[at("alkali-mass", "F")].text.endswith("(and 1 more)")
    assert cells[at("density", "F")].text.startswith("Error: strength: 80 % NaOH is too strong")
    assert cells[at("peak-temperature", "F")].text.startswith("Error: solid_mass: ")
    assert cells[at("stock-draw", "F")].text == "No number to reckon with in the line it needs."
    for value in ROW_OF_VALUE:
        assert cells[at(value)] == Shown("", 0.0, 0), value


def test_a_service_that_is_not_there_is_told_so(calc: Calc, tmp_path: Path) -> None:
    cells = calc(placed(tmp_path, "http://127.0.0.1:9"), LINES).cells
    assert cells[at("density", "F")].text == NO_ANSWER
    assert cells[at("density")] == Shown("", 0.0, 0)


def test_cautions_of_the_chosen_line_stand_in_the_sheet(calc: Calc, served: Served, tmp_path: Path) -> None:
    read = [f"Recipe.{column}{CHOSEN + 1}" for column in "BF"]
    peak = calc(placed(tmp_path, served.address), read).cells
    assert [one.text[:20] for one in peak.values()] == ["danger", "Solid can cake under"]
    chosen = {f"Recipe.B{CHOSEN}": "It sets below"}
    density = calc(placed(tmp_path, served.address), read, typed=chosen).cells
    assert density[read[0]].text == "danger"
    assert density[read[1]].text.startswith("From 5 % NaOH on a solution burns")
