"""Reads the catalogue's files: tables (CSV) and records with text (TOML), each entry typed by a struct.

In a table every line is a row; lines that begin with # and empty lines are skipped, an empty cell means "not
given". In a TOML file every table is an entry and its name the identifier.
"""

import csv
import math
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, Generic, NamedTuple, TypeVar, get_args, get_type_hints

import msgspec

from service.reference.errors import ReferenceDataError

T = TypeVar("T", bound=msgspec.Struct)

_IDENTIFIER: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_PLACE_IN_ENTRY: Final = re.compile(r" - at `\$\.?([^`]*)`$")
_TABLE_NAME: Final = re.compile(r'\s*\[\s*"?([^"\].]+)"?\s*\]')
_TOML_LINE: Final = re.compile(r"at line (\d+)")


class Place(NamedTuple):
    """Where an entry stands, so that a fault can be found."""

    file: str
    row: int

    def fault(self, reason: str) -> ReferenceDataError:
        """The error to raise about this entry."""
        return ReferenceDataError(self.file, self.row, reason)


class Entry(NamedTuple, Generic[T]):
    """An entry of a file and its place."""

    place: Place
    value: T


def read_table(folder: Path, file: str, shape: type[T]) -> list[Entry[T]]:
    """Read a CSV file whose columns are the fields of `shape`.

    Args:
        folder: folder of the file.
        file: its name.
        shape: struct of one row; fields with a default may be left empty.

    Raises:
        ReferenceDataError: the file cannot be read, its columns are not the fields, or a cell does not fit.
    """
    rows = _rows(file, _text(folder, file))
    header = next(rows, None)
    if header is None:
        raise ReferenceDataError(file, None, "no header")
    columns = header[1]
    fields = shape.__struct_fields__
    for column in columns:
        if column not in fields:
            raise header[0].fault(f"unknown column {column!r}; the columns are {', '.join(fields)}")
    for field in fields:
        if columns.count(field) != 1:
            raise header[0].fault(f"column {field!r} must stand there once")
    entries = []
    for place, cells in rows:
        if len(cells) != len(columns):
            raise place.fault(f"{len(cells)} cells under {len(columns)} columns")
        given = {column: cell for column, cell in zip(columns, cells, strict=True) if cell}
        entries.append(Entry(place, _convert(given, shape, place)))
    return entries


def read_records(folder: Path, file: str, shape: type[T]) -> dict[str, Entry[T]]:
    """Read a TOML file whose tables have the fields of `shape`, by the tables' names.

    Args:
        folder: folder of the file.
        file: its name.
        shape: struct of one table.

    Raises:
        ReferenceDataError: the file cannot be read, or a table does not fit.
    """
    text = _text(folder, file)
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = _TOML_LINE.search(str(error))
        raise ReferenceDataError(file, int(found[1]) if found else None, str(error)) from None
    rows: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        if opening := _TABLE_NAME.match(line):
            rows.setdefault(opening[1].strip(), number)
    entries = {}
    for name, table in tables.items():
        place = Place(file, rows.get(name, 1))
        if not isinstance(table, dict):
            raise place.fault(f"{name!r} stands outside of any table")
        entries[name] = Entry(place, _convert(table, shape, place))
    return entries


def identified(entries: list[Entry[T]], name: str) -> dict[str, Entry[T]]:
    """Entries by their identifier.

    Args:
        entries: what a table holds.
        name: field that identifies an entry.

    Raises:
        ReferenceDataError: an identifier comes twice or is not in kebab-case.
    """
    found: dict[str, Entry[T]] = {}
    for entry in entries:
        key = getattr(entry.value, name)
        if key in found:
            raise entry.place.fault(f"{name} {key!r} stands in row {found[key].place.row} already")
        if name == "id":
            check_identifier(key, entry.place)
        found[key] = entry
    return found


def check_identifier(key: str, place: Place) -> None:
    """Refuse an identifier that is not in kebab-case.

    Raises:
        ReferenceDataError: it is not.
    """
    if not _IDENTIFIER.fullmatch(key):
        raise place.fault(f"identifier {key!r} must be lower-case words and digits joined by hyphens")


def _text(folder: Path, file: str) -> str:
    try:
        # spreadsheets put a byte-order mark before UTF-8
        return (folder / file).read_text(encoding="utf-8-sig")
    except OSError as error:
        raise ReferenceDataError(file, None, f"cannot be read: {error.strerror}") from None
    except UnicodeDecodeError as error:
        raise ReferenceDataError(file, None, f"is not UTF-8: {error.reason}") from None


def _rows(file: str, text: str) -> Iterator[tuple[Place, list[str]]]:
    number = 0

    def lines() -> Iterator[str]:
        nonlocal number
        for number, line in enumerate(text.splitlines(keepends=True), start=1):  # noqa: B007 - `number` is the row that is told
            if line.strip() and not line.startswith("#"):
                yield line

    reader = csv.reader(lines(), strict=True)
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise ReferenceDataError(file, number, f"not a row of a CSV file: {error}") from None
        yield Place(file, number), [cell.strip() for cell in cells]


def _convert(given: dict[str, Any], shape: type[T], place: Place) -> T:
    try:
        value = msgspec.convert(given, shape, strict=False)
    except msgspec.ValidationError as error:
        raise place.fault(_explained(str(error), given, shape)) from None
    for name in shape.__struct_fields__:
        number = getattr(value, name)
        if number.__class__ is float and not math.isfinite(number):
            raise place.fault(f"{name}: {number} is not a usable number")
    return value


def _explained(message: str, given: dict[str, Any], shape: type) -> str:
    found = _PLACE_IN_ENTRY.search(message)
    if not found:
        return message
    name = found[1]
    words = get_args(get_type_hints(shape).get(name))
    if name in given and words and all(isinstance(word, str) for word in words):
        return f"{name}: {given[name]!r} is none of {', '.join(words)}"
    text = message[: found.start()]
    return f"{name}: {text}; it holds {given[name]!r}" if name in given else f"{name}: {text}"
