"""Writes the workbook `lyestock.fods`: a batch and a mixing, each line of which asks the service for one number.

Run from the project's folder, after a change here:

    python -m deploy.callers.spreadsheet.make_workbook            # writes it anew
    python -m deploy.callers.spreadsheet.make_workbook --check    # exit code 1 where it is not what this writes

What is in the cells is an invented example.
"""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Final, NamedTuple

from deploy.callers.spreadsheet.flat_ods import Cell, Sheet, Style, cells_of, flat_ods
from deploy.callers.spreadsheet.many_sheet import many_sheet

HERE: Final = Path(__file__).parent
WORKBOOK: Final = HERE / "lyestock.fods"
ADDRESS: Final = "http://localhost:8765"
"""Of the service, as the workbook is committed."""
NO_ANSWER: Final = "No answer: is the service there, at the address in B4? And may this sheet update its links?"
LINE: Final = "0.5pt solid #b9b9b9"

STYLES: Final = {
    "plain": Style({"style:vertical-align": "top"}, {"fo:font-size": "10pt"}),
    "title": Style(text={"fo:font-size": "16pt", "fo:font-weight": "bold"}),
    "note": Style(text={"fo:font-size": "9pt", "fo:color": "#555555", "fo:font-style": "italic"}),
    "heading": Style(
        {"fo:background-color": "#dfe6ea", "fo:border-bottom": LINE}, {"fo:font-weight": "bold", "fo:font-size": "10pt"}
    ),
    "input": Style({"fo:background-color": "#fff6cc", "fo:border": LINE}, {"fo:font-size": "10pt"}),
    "unit": Style(
        {"style:vertical-align": "top", "fo:padding-left": "0.1cm"}, {"fo:font-size": "10pt", "fo:color": "#555555"}
    ),
    "says": Style(
        {"fo:wrap-option": "wrap", "style:vertical-align": "top", "fo:padding-left": "0.15cm"},
        {"fo:font-size": "9pt"},
        wrong='OR(LEFT(C;6)="Error:";LEFT(C;3)="No ")',
    ),
    "answered": Style({"fo:background-color": "#e9f3e9"}, {"fo:font-size": "10pt"}),
    "small": Style({"style:vertical-align": "top"}, {"fo:font-size": "7pt", "fo:color": "#888888"}),
    **{
        f"figure-{decimals}": Style(
            {"fo:background-color": "#e9f3e9", "style:vertical-align": "top"},
            {"fo:font-size": "10pt", "fo:font-weight": "bold"},
            decimals,
        )
        for decimals in range(5)
    },
    **{
        f"end-{decimals}": Style({"style:vertical-align": "top"}, {"fo:font-size": "10pt"}, decimals)
        for decimals in range(5)
    },
    "wrong": Style(
        {"fo:wrap-option": "wrap", "style:vertical-align": "top"},
        {"fo:color": "#b00020", "fo:font-weight": "bold", "fo:font-size": "9pt"},
    ),
}
WIDTHS: Final = (6.2, 2.8, 1.6, 2.3, 2.3, 16.0, 3.2, -3.0, -3.0)
FATS: Final[tuple[tuple[str, str | float], ...]] = (("olive-oil", 700.0), ("coconut-oil", 300.0), *[("", "")] * 6)
FIRST_FAT: Final = 8
LAST_FAT: Final = FIRST_FAT + len(FATS) - 1


class Asked(NamedTuple):
    """An input of one cell, with its unit in the next."""

    name: str
    label: str
    content: str | float
    unit: str
    note: str = ""
    one_of: tuple[str, ...] = ()


INPUTS: Final = (
    Asked("superfat", "Superfat", 5.0, "%", "fat that is to stay free"),
    Asked("alkali", "Hydroxide", "NaOH", "", "", ("NaOH", "KOH")),
    Asked("strength", "Strength of the stock", 50.0, "%", "1:1 by weight from solid of 98.5 % is 49.25 %"),
    Asked("water_ratio", "Liquid to hydroxide", 2.0, "", "by weight, all of the water counted"),
    Asked("stock_draw", "Stock as it was drawn", 290.0, "g", "what the scale really showed"),
    Asked("solid_mass", "Solid for the next stock", 10.0, "kg"),
    Asked("purity", "Its purity", 98.5, "%"),
    Asked("water_mass", "Water", 4.0, "kg"),
    Asked("water_temperature", "Its temperature", 15.0, "°C"),
    Asked("ice_mass", "Ice", 6.0, "kg"),
    Asked("peak_limit", "Must stay below", 60.0, "°C", "what vessel and nerves stand"),
)
FIRST_INPUT: Final = LAST_FAT + 3
ROW: Final = {one.name: FIRST_INPUT + place for place, one in enumerate(INPUTS)}


class Wanted(NamedTuple):
    """A line that asks for a value: the parameters it sends, and with how many decimals it is shown."""

    value: str
    label: str
    inputs: tuple[str, ...]
    decimals: int
    fats: bool = False
    after: str = ""
    """Another line whose figure it sends, as the parameter `alkali_mass`."""
    unit: str = ""


WANTED: Final = (
    Wanted("alkali-mass", "Hydroxide, pure", ("superfat", "alkali"), 1, fats=True),
    Wanted("stock-draw", "Stock to draw", ("strength", "alkali"), 1, after="alkali-mass"),
    Wanted("added-liquid", "Liquid beside it", ("strength", "alkali", "water_ratio"), 1, after="alkali-mass"),
    Wanted("superfat", "Superfat of the stock drawn", ("stock_draw", "strength", "alkali"), 2, fats=True, unit="%"),
    Wanted("density", "Density of the stock at 20 °C", ("strength", "alkali"), 4),
    Wanted("first-solid-temperature", "It sets below", ("strength", "alkali"), 1),
    Wanted("boiling-point", "It boils at", ("strength", "alkali"), 1),
    Wanted(
        "peak-temperature",
        "Peak of the next mixing",
        ("solid_mass", "purity", "water_mass", "water_temperature", "ice_mass", "alkali"),
        1,
    ),
    Wanted(
        "ice-mass",
        "Ice that keeps it below the limit",
        ("solid_mass", "purity", "strength", "water_temperature", "peak_limit", "alkali"),
        0,
    ),
)
FIRST_WANTED: Final = FIRST_INPUT + len(INPUTS) + 3
ROW_OF_VALUE: Final = {one.value: FIRST_WANTED + place for place, one in enumerate(WANTED)}
CHOSEN: Final = FIRST_WANTED + len(WANTED) + 2
CAUTIONS: Final = 24
"""Cautions shown of the chosen line."""


def number_of(address: str) -> str:
    """What a cell holds, as text with a decimal point whatever the locale; a text is sent as it stands.

    So a number that the sheet has taken for a text is refused by the service, and never read as another number.

    Args:
        address: of the cell.
    """
    return f'IF(ISNUMBER({address});SUBSTITUTE({address};",";".");{address})'


def quantity_of(row: int) -> str:
    """Number and unit of a row as one text, ready for an address; a text stands for itself.

    Args:
        row: of the sheet.
    """
    return f'ENCODEURL({number_of(f"B{row}")}&IF(C{row}="";"";" "&C{row}))'


def recipe_sheet() -> Sheet:
    """The sheet of single values."""
    cells = {
        "A1": Cell("A batch from stock, and the next stock", "title"),
        "A2": Cell("An invented example. Yellow cells are yours; all others ask the service.", "note"),
        "A4": Cell("Address of the service"),
        "B4": Cell(ADDRESS, "input"),
        "F4": Cell("the only cell that names it", "note"),
        "A5": Cell("Key"),
        "B5": Cell("", "input"),
        "F5": Cell("only where who runs the service asks for one", "note"),
        "G5": Cell('=IF(B5="";"";"&key="&ENCODEURL(B5))', "small"),
    }
    cells |= cells_of(FIRST_FAT - 1, ("Fat", "Mass", "Unit"), "heading")
    cells[f"F{FIRST_FAT - 1}"] = Cell("identifiers: see /v1/fats at the address above", "note")
    for row, (fat, mass) in enumerate(FATS, start=FIRST_FAT):
        cells[f"A{row}"] = Cell(fat, "input")
        cells[f"B{row}"] = Cell(mass, "input")
        cells[f"C{row}"] = Cell("g", "input")
        before = f'G{row - 1}&IF(G{row - 1}="";"";";")&' if row > FIRST_FAT else ""
        unchanged = f"G{row - 1}" if row > FIRST_FAT else '""'
        told = f'{before}A{row}&":"&{number_of(f"B{row}")}&" "&C{row}'
        cells[f"G{row}"] = Cell(f'=IF(A{row}="";{unchanged};{told})', "small")
    cells |= cells_of(FIRST_INPUT - 1, ("Given", "Value", "Unit"), "heading")
    for given in INPUTS:
        row = ROW[given.name]
        cells[f"A{row}"] = Cell(given.label)
        cells[f"B{row}"] = Cell(given.content, "input", given.one_of)
        cells[f"C{row}"] = Cell(given.unit, "input" if given.unit else "unit")
        cells[f"F{row}"] = Cell(given.note, "note")
    titles = ("Wanted", "Value", "Unit", "Low", "High", "What the service says", "Address")
    cells |= cells_of(FIRST_WANTED - 1, titles, "heading")
    for one in WANTED:
        cells |= _wanted(one)
    cells |= _cautions()
    heights = dict.fromkeys(ROW_OF_VALUE.values(), 0.95)
    heights |= dict.fromkeys(range(CHOSEN + 1, CHOSEN + CAUTIONS + 1), 1.3)
    return Sheet("Recipe", cells, WIDTHS, heights)


def _wanted(one: Wanted) -> dict[str, Cell]:
    """A line: its address in G, its number as text in H, and in I the same as XML, with interval and cautions."""
    row = ROW_OF_VALUE[one.value]
    parts = [f'$B$4&"/v1/values/{one.value}?errors=inline"&$G$5']
    if one.fats:
        parts.append(f'"&fats="&ENCODEURL($G${LAST_FAT})')
    if one.unit:
        parts.append(f'"&unit="&ENCODEURL("{one.unit}")')
    if one.after:
        parts.append(f'"&alkali_mass="&ENCODEURL({number_of(f"B{ROW_OF_VALUE[one.after]}")}&" g")')
    parts += [f'IF(B{ROW[name]}="";"";"&{name}="&{quantity_of(ROW[name])})' for name in one.inputs]
    address = "&".join(parts)
    if one.after:
        address = f'IF(ISNUMBER(B{ROW_OF_VALUE[one.after]});{address};"")'
    asked, told = f"H{row}", f"I{row}"
    counts = " & ".join(
        f'FILTERXML({told};"count(//caution[@severity=\'{severity}\'])")&" {words}"'
        for severity, words in (("danger", "dangers, "), ("caution", "cautions, "), ("note", "notes"))
    )
    says = f'IF(ISERROR({asked});"{NO_ANSWER}";IF(LEFT({asked};6)="Error:";{asked};IFERROR({counts};"")))'
    return {
        f"A{row}": Cell(one.label),
        f"B{row}": Cell(f'=IFERROR(IF({asked}="";"";NUMBERVALUE({asked};"."));"")', f"figure-{one.decimals}"),
        f"C{row}": Cell(f'=IFERROR(FILTERXML({told};"//value/@unit");"")', "unit"),
        f"D{row}": Cell(f'=IFERROR(FILTERXML({told};"number(//low)");"")', f"end-{one.decimals}"),
        f"E{row}": Cell(f'=IFERROR(FILTERXML({told};"number(//high)");"")', f"end-{one.decimals}"),
        f"F{row}": Cell(f'=IF(G{row}="";"No number to reckon with in the line it needs.";{says})', "says"),
        f"G{row}": Cell(f"={address}", "small"),
        f"H{row}": Cell(f'=IF(G{row}="";"";WEBSERVICE(G{row}))', "small"),
        f"I{row}": Cell(f'=IF(G{row}="";"";WEBSERVICE(G{row}&"&format=xml"))', "small"),
    }


def _cautions() -> dict[str, Cell]:
    """The cautions of one line, which is chosen by name."""
    labels = tuple(one.label for one in WANTED)
    first, last = FIRST_WANTED, FIRST_WANTED + len(WANTED) - 1
    chosen = f"$I${CHOSEN}"
    cells = {
        f"A{CHOSEN}": Cell("Cautions of this line:", "heading"),
        f"B{CHOSEN}": Cell("Peak of the next mixing", "input", labels),
        f"F{CHOSEN}": Cell("Read them before anyone mixes anything.", "heading"),
        f"I{CHOSEN}": Cell(f"=INDEX(I{first}:I{last};MATCH(B{CHOSEN};A{first}:A{last};0))", "small"),
    }
    for place in range(1, CAUTIONS + 1):
        row, at = CHOSEN + place, f"(//caution)[{place}]"
        cells[f"B{row}"] = Cell(f'=IFERROR(FILTERXML({chosen};"{at}/@severity");"")', "unit")
        cells[f"F{row}"] = Cell(f'=IFERROR(FILTERXML({chosen};"{at}");"")', "says")
    return cells


def workbook(many: Sheet | None = None) -> str:
    """The text of the whole workbook.

    Args:
        many: the sheet with the table; the invented one where it is not given.
    """
    macro = (HERE / "bulk_calc.bas").read_text(encoding="utf-8")
    return flat_ods((recipe_sheet(), many or many_sheet()), STYLES, {"Bulk": macro})


def main(arguments: Sequence[str] | None = None) -> int:
    """Write the workbook, or compare it.

    Args:
        arguments: words of the command line.

    Returns:
        Exit code: 1 where the committed workbook is another than the one that is written here.
    """
    parser = argparse.ArgumentParser(description="Write lyestock.fods.")
    parser.add_argument("--check", action="store_true", help="compare it instead")
    said = parser.parse_args(arguments)
    text = workbook()
    if not said.check:
        WORKBOOK.write_text(text, encoding="utf-8", newline="\n")
        return 0
    if WORKBOOK.read_text(encoding="utf-8") == text:
        return 0
    print(f"{WORKBOOK.name} is not what make_workbook writes: run it without --check.", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
