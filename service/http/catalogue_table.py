"""Entries of the catalogue as a table: CSV after RFC 4180.

A column is a member's path, its steps joined by dots, an item of a list by its number: `saponification_value.low`,
`fatty_acids.shares.C18:1.high`, `other_figures.0.source`. The unit stands in the header,
`saponification_value.low [mg/g]`; only figures that may be of any property have a column for it.
"""

import csv
import io
import math
from collections.abc import Iterable, Sequence
from typing import Any, Final, Literal, NamedTuple

from msgspec import UNSET, Struct

from service.calculations.catalogue.catalogue_figures import OtherFigure
from service.calculations.shared.csv_cells import harmless

DecimalSign = Literal["point", "comma"]

_NUMBERS: Final = frozenset({"value", "low", "high"})


class Column(NamedTuple):
    """A column: its header, and the way to its value in an entry."""

    header: str
    path: tuple[str | int, ...]


def columns(entries: Iterable[Struct]) -> tuple[Column, ...]:
    """The columns that hold all that some entries say; a member that none of them has gets none."""
    return tuple(_columns(list(entries), (), ""))


def table(
    entries: Iterable[Struct], of: Sequence[Column], decimal: DecimalSign, more: Sequence[tuple[str, str]]
) -> bytes:
    """Entries as CSV in UTF-8, a row each below a header.

    Args:
        entries: what is told.
        of: the columns.
        decimal: with a comma for the decimal point the columns are separated by semicolons.
        more: header and text of columns that are the same in every row.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=";" if decimal == "comma" else ",", lineterminator="\r\n")
    writer.writerow([*(column.header for column in of), *(header for header, _ in more)])
    for entry in entries:
        cells = [_cell(_value(entry, column.path), decimal) for column in of]
        writer.writerow([*cells, *(_cell(text, decimal) for _, text in more)])
    return out.getvalue().encode()


def _columns(values: list[Any], path: tuple[str | int, ...], unit: str) -> list[Column]:
    values = [value for value in values if value is not UNSET]
    if not values:
        return []
    first: Any = values[0]
    found: list[Column] = []
    if isinstance(first, Struct):
        names = list(first.__struct_fields__)
        unit_above = "" if isinstance(first, OtherFigure) else getattr(first, "unit", "")
        if unit_above:
            names.remove("unit")
        for name in names:
            shown = f" [{unit_above}]" if unit_above and name in _NUMBERS else ""
            found += _columns([getattr(value, name) for value in values], (*path, name), shown)
    elif isinstance(first, dict):
        for key in _keys(values):
            found += _columns([value[key] for value in values if key in value], (*path, key), "")
    elif isinstance(first, tuple):
        for place in range(max(map(len, values))):
            found += _columns([value[place] for value in values if place < len(value)], (*path, place), "")
    else:
        found.append(Column(".".join(map(str, path)) + unit, path))
    return found


def _keys(values: list[dict[str, Any]]) -> list[str]:
    """All keys in a settled order: of fatty acids that is by carbon atoms and double bonds."""
    return sorted({key for value in values for key in value}, key=lambda key: (len(key.partition(":")[0]), key))


def _value(node: Any, path: Sequence[str | int]) -> Any:
    for step in path:
        if isinstance(node, Struct):
            node = getattr(node, str(step))
        elif isinstance(node, dict):
            node = node.get(step, UNSET)
        elif isinstance(node, tuple) and isinstance(step, int):
            node = node[step] if step < len(node) else UNSET
        if node is UNSET:
            return UNSET
    return node


def _cell(value: Any, decimal: DecimalSign) -> str:
    if value is UNSET:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float) and math.isfinite(value):
        return repr(value).replace(".", ",") if decimal == "comma" else repr(value)
    if isinstance(value, int):
        return str(value)
    text = str(value)
    return harmless(text)
