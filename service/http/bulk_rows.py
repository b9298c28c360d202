"""The items of a table: CSV after RFC 4180 in UTF-8, a header and a row for each item.

It is read twice, line by line, so that it is never whole in memory as text: once to see that every row is one, and
once to calculate.
"""

import csv
import io
from collections.abc import Iterator
from typing import Final

import msgspec
from msgspec import UNSET

from service.calculations.shared.faults import MOST_FAULTS, Fault, Refusal, quoted
from service.calculations.shared.not_json import encoding
from service.http.bulk_columns import Columns, Member
from service.http.bulk_items import MOST_ITEMS, too_many
from service.http.bulk_paths import LONGEST_HEADER, MOST_COLUMNS
from service.http.bulk_quantities import Quantity
from service.http.bulk_query import Wishes

_SLICE: Final = 16
"""Rows looked at between two pauses."""
_WRITE: Final = msgspec.json.Encoder().encode


class RowItem:
    """A row as an item.

    Attributes:
        body: its request as JSON.
        faults: of cells that cannot be read.
    """

    __slots__ = ("_cells", "_columns", "_known", "_line", "body", "faults")

    def __init__(self, columns: Columns, cells: list[str], line: int) -> None:
        self._columns = columns
        self._cells = cells
        self._line = line
        self._known: dict[Member, list[Member | Quantity]] = {}
        found: list[Fault] = []
        self.body = _WRITE(columns.request(cells, found))
        self.faults = [self.place(fault) for fault in found]

    def place(self, fault: Fault) -> Fault:
        """A fault with its column and its line.

        Args:
            fault: told by its pointer.
        """
        if fault.column is not UNSET or fault.pointer is UNSET:
            return msgspec.structs.replace(fault, line=self._line)
        if not fault.pointer:
            return msgspec.structs.replace(fault, line=self._line)
        pointer, column = self._columns.place(fault.pointer, self._cells, self._known)
        return msgspec.structs.replace(fault, pointer=pointer, column=column, line=self._line)


class _TooMany(Exception):  # noqa: N818 - says what a table has
    """A table has more of something than any sheet; reading on would keep others waiting."""

    def __init__(self, detail: str, mend: str) -> None:
        super().__init__(detail)
        self.detail = detail
        self.mend = mend


_TOO_WIDE: Final = (
    f"a row has more than {MOST_COLUMNS} cells, and no sheet has as many",
    "give an item on each row, and a column for each member",
)
_TOO_BLANK: Final = (f"there are more than {MOST_ITEMS} blank lines", "take them away")


class RowItems:
    """The items of a table."""

    def __init__(self, body: bytes, request: type, wishes: Wishes, most: int = MOST_ITEMS) -> None:
        self._most = most
        self._body = body
        self._request = request
        self._decimal = wishes.decimal
        self._delimiter = wishes.delimiter
        self._columns: Columns | None = None

    def look(self) -> Iterator[None]:
        """Find the columns, and look whether every row has them.

        Raises:
            Refusal: with every fault of the whole.
        """
        yield
        count, width = 0, 0
        faults: list[Fault] = []
        ragged = line = 0
        try:
            for line, cells in self._rows():
                if self._columns is None:
                    self._columns = self._header(cells)
                    width = len(cells)
                    continue
                count += 1
                if len(cells) != width:
                    ragged += 1
                    if len(faults) < MOST_FAULTS:
                        faults.append(_ragged(line, len(cells), width))
                if count > self._most:
                    at = Fault("too-many", "", "send them in several requests", line=line)
                    raise too_many(f"there are more than {self._most} rows", at, self._most)
                if count % _SLICE == 0:
                    yield
        except UnicodeDecodeError:
            raise Refusal(400, [_not_utf8(self._body)]) from None
        except csv.Error as error:
            detail = f"the table cannot be read here or a little further on: {error}"
            mend = (
                'put cells that hold quotes, separators or line ends into quotes, and double quotes within: "6"" tall"'
            )
            raise Refusal(400, [Fault("malformed-csv", detail, mend, line=line + 1)]) from None
        except _TooMany as error:
            raise Refusal(400, [Fault("too-many", error.detail, error.mend, line=line + 1)]) from None
        if faults:
            raise Refusal(400, faults, ragged - len(faults))
        if self._columns is None:
            mend = "give a header that names the members, and a row for each item"
            raise Refusal(400, [Fault("too-few", "the body is empty", mend, line=1)])
        if not count:
            raise Refusal(400, [Fault("too-few", "there is no row below the header", "give one at least", line=line)])
        yield

    def each(self) -> Iterator[RowItem]:
        """Every row in its order."""
        rows = self._rows()
        next(rows, None)
        columns = self._columns
        if columns is not None:
            for line, cells in rows:
                yield RowItem(columns, cells, line)

    def _rows(self) -> Iterator[tuple[int, list[str]]]:
        """Every row that is not blank, with the number of its first line.

        Raises:
            _TooMany: cells or blank lines.
        """
        text = io.TextIOWrapper(io.BytesIO(self._body), "utf-8-sig", newline="")
        marks = 0

        def lines() -> Iterator[str]:
            nonlocal marks
            for one in text:
                marks += one.count(self._delimiter)
                if marks > MOST_COLUMNS:
                    raise _TooMany(*_TOO_WIDE)
                yield one

        reader = csv.reader(lines(), delimiter=self._delimiter, strict=True)
        line, blanks = 1, 0
        for cells in reader:
            marks = 0
            if cells:
                yield line, cells
            else:
                blanks += 1
                if blanks > MOST_ITEMS:
                    raise _TooMany(*_TOO_BLANK)
            line = reader.line_num + 1

    def _header(self, cells: list[str]) -> Columns:
        if len(cells) == 1:
            for mark, name, mend in _OTHER_MARKS[self._delimiter]:
                if mark in cells[0]:
                    detail = f"the header is one column, {quoted(cells[0])}, and holds {name}"
                    raise Refusal(400, [Fault("malformed-csv", detail, mend, column=cells[0][:LONGEST_HEADER], line=1)])
        return Columns(cells, self._request, self._decimal)


_TAB: Final = ("\t", "tabs")
_OTHER_MARKS: Final = {
    ",": (
        (";", "semicolons", "put decimal=comma into the address, or separate the columns by commas"),
        (*_TAB, "separate the columns by commas"),
    ),
    ";": (
        (",", "commas", "leave decimal=comma out of the address, or separate the columns by semicolons"),
        (*_TAB, "separate the columns by semicolons"),
    ),
}
"""What else may have been meant to separate columns."""


def _ragged(line: int, cells: int, width: int) -> Fault:
    some = "1 cell" if cells == 1 else f"{cells} cells"
    return Fault(
        "malformed-csv",
        f"the row has {some}, and the header names {width} columns",
        "leave cells empty that say nothing, and put those that hold a separator into quotes",
        line=line,
    )


def _not_utf8(body: bytes) -> Fault:
    other = encoding(body)
    if other is not None:
        return Fault("malformed-csv", f"the body is in {other}, not in UTF-8", "save the table as CSV in UTF-8", line=1)
    try:
        body.decode()
        line = 1
    except UnicodeDecodeError as error:
        line = body.count(b"\n", 0, error.start) + 1
    return Fault(
        "malformed-csv",
        "the body is not UTF-8 on this line",
        "save the table as CSV in UTF-8, not in the Windows or Latin code",
        line=line,
    )
