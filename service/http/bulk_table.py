"""The results of many items as a table: CSV after RFC 4180, a row for each item.

Columns are `index`, `reference` and `status`, then the members of the answers by their paths (`bulk_paths.py`), in the
order they are declared in, then those of the problems below `problem`. Which columns there are is known only when all
items are calculated. So they are calculated before the first row is sent, and their rows are kept as far as KEPT goes;
those beyond are calculated once more when their turn comes, which gives the same.
"""

import csv
from collections.abc import Iterator
from itertools import islice
from typing import Any, Final

import msgspec

from service.calculations.shared.faults import Fault, Refusal
from service.http.bulk_flat import Flattener
from service.http.bulk_items import Items
from service.http.bulk_pace import Mark, Piece
from service.http.bulk_paths import MOST_COLUMNS
from service.http.bulk_query import Wishes
from service.http.bulk_results import Desk, Result, is_long

KEPT: Final = 32 << 20
"""Bytes of rows that are kept, as many as a body may have."""
FIXED: Final = ("index", "reference", "status")
"""The first columns, which every table has."""
_PACK: Final = msgspec.msgpack.Encoder().encode
_UNPACK: Final = msgspec.msgpack.Decoder(dict[int, str]).decode


class _Line:
    """Takes a line of csv and gives it back."""

    def write(self, text: str) -> str:
        return text


def as_table(items: Items, desk: Desk, wishes: Wishes) -> Iterator[Piece]:
    """The answer as a table; the first pieces are empty, while the columns are found.

    Args:
        items: looked through already.
        desk: calculates them.
        wishes: how the answers are to be given.

    Raises:
        Refusal: before the first row, where the table would be wider than a sheet.
    """
    flat = Flattener(wishes)
    kept: list[bytes] = []
    size = 0
    for item in items.each():
        if is_long(item):
            yield Mark.LONG
        made = _PACK(_cells(flat, desk.result(item)))
        if flat.width > MOST_COLUMNS - len(FIXED):
            raise _too_wide()
        if size < KEPT:
            kept.append(made)
        size += len(made)
        yield b""
    succeeded, failed = desk.succeeded, desk.failed

    headers, order = flat.columns()
    writer: Any = csv.writer(_Line(), delimiter=wishes.delimiter, lineterminator="\r\n")
    yield writer.writerow([*FIXED, *headers]).encode()
    width = len(FIXED) + len(headers)
    place = {column: len(FIXED) + at for at, column in enumerate(order)}
    place |= {-1 - at: at for at in range(len(FIXED))}
    index = 0
    for row in _all_rows(kept, items, desk, flat):
        if isinstance(row, Mark):
            yield row
            continue
        cells = [""] * width
        for column, text in _UNPACK(row).items():
            cells[place[column]] = text
        cells[0] = str(index)
        yield writer.writerow(cells).encode()
        index += 1
    desk.succeeded, desk.failed = succeeded, failed


def _all_rows(kept: list[bytes], items: Items, desk: Desk, flat: Flattener) -> Iterator[Piece]:
    """The rows that were kept, which are let go one by one, and the others anew."""
    count = len(kept)
    kept.reverse()
    while kept:
        yield kept.pop()
    for item in islice(items.each(), count, None):
        if is_long(item):
            yield Mark.LONG
        yield _PACK(_cells(flat, desk.result(item)))


def _cells(flat: Flattener, result: Result) -> dict[int, str]:
    """The cells of a row by their columns; those of the first columns have numbers below 0."""
    cells = flat.answer(result.answer) if result.answer is not None else flat.problem(result.document)
    if result.reference is not None:
        cells[-2] = flat.text(result.reference)
    cells[-3] = str(result.status)
    return cells


def _too_wide() -> Refusal:
    detail = f"the table would have more than {MOST_COLUMNS} columns, and no sheet has as many"
    return Refusal(422, [Fault("too-many", detail, "ask for format=json or format=ndjson", parameter="format")])
