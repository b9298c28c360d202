"""The sheet Many of the workbook: a table of invented recipes, which a macro sends to the service as a whole."""

from collections.abc import Sequence
from typing import Final

from deploy.callers.spreadsheet.flat_ods import Cell, Sheet, cells_of

MANY_HEADER: Final = 7
"""Row of the names of members, as in the macro."""
Table = Sequence[tuple[str, Sequence[str | float]]]

MANY: Final[Table] = (
    ("reference", ("plain", "hard", "mild", "coconut alone", "a slip")),
    ("fats.0.fat", ("olive-oil", "lard", "olive-oil", "coconut-oil", "olive oyl")),
    ("fats.0.mass [g]", (700.0, 850.5, 1200.0, 1000.0, 500.0)),
    ("fats.1.fat", ("coconut-oil", "coconut-oil", "", "", "")),
    ("fats.1.mass [g]", (300.0, 149.5, "", "", "")),
    ("superfat [%]", (5.0, 4.5, 7.0, 20.0, 5.0)),
)
"""A table of invented recipes by its columns; one has a slip, to show how that is told."""
MANY_WANTED: Final = (
    "status",
    "alkalis.0.mass [g]",
    "superfat [1]",
    "superfat.low [1]",
    "problem.errors.0.detail",
    "problem.errors.0.mend",
    "cautions.0.message",
)
"""Columns of the answer that are filled."""
WIDTH: Final = {
    "status": 1.8,
    "alkalis.0.mass [g]": 4.0,
    "problem.errors.0.detail": 7.0,
    "problem.errors.0.mend": 9.0,
    "cautions.0.message": 12.0,
}
"""In centimetres, where it is not the usual one."""


def many_sheet(table: Table = MANY, wanted: Sequence[str] = MANY_WANTED) -> Sheet:
    """The sheet whose table a macro sends as a whole.

    Args:
        table: columns by their names.
        wanted: columns of the answer; none for all of it.
    """
    cells = {
        "A1": Cell("Many recipes at once", "title"),
        "A2": Cell(
            "An invented example. The macro SendTable sends rows 7 and below, and fills the green columns: "
            "Tools > Macros > Run Macro > Standard > Bulk.",
            "note",
        ),
        "A4": Cell("Calculation"),
        "B4": Cell("saponification", "input"),
        "A5": Cell("State"),
        "B5": Cell("Not asked yet."),
    }
    names = [name for name, _ in table]
    cells |= cells_of(MANY_HEADER, names, "input")
    for place, (_, column) in enumerate(table):
        letter = chr(ord("A") + place)
        cells |= {f"{letter}{MANY_HEADER + 1 + row}": Cell(content, "input") for row, content in enumerate(column)}
    for place, name in enumerate(wanted, start=len(table) + 1):
        letter = chr(ord("A") + place)
        cells[f"{letter}{MANY_HEADER}"] = Cell(name, "heading")
        cells |= {f"{letter}{MANY_HEADER + 1 + row}": Cell("", "answered") for row in range(len(table[0][1]))}
    return Sheet("Many", cells, (3.2, 3.2, 3.0, 3.0, 3.0, 2.6, 0.8, *[WIDTH.get(name, 3.6) for name in wanted]))
