"""Every figure of the reference data's files, with unit, source and evidence.

Units stand in a comment line of each file: `# units: low [kg/m3]; value [kPa] where property=pressure`, and the first
that fits counts. Source and evidence stand in the row, in the opening comments, or for a column without either in
`# origins: molar_mass iupac-weights-2021 computed`.
"""

import csv
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, NamedTuple

from tests.proof.figures import SERVICE, Found

DATA: Final = SERVICE / "reference" / "data"
_UNIT: Final = re.compile(r"(?P<columns>[\w., -]+?) \[(?P<unit>[^\]]+)\](?: where (?P<where>.+))?")
_NUMBER: Final = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
_NAMES: Final = {"power", "index"}
"""Columns whose numbers say which coefficient a row holds."""
_NUMBER_OR_NOT: Final = re.compile(r"[-+]?\d+(\.\d*)?([eE][-+]?\d+)?")


class Head(NamedTuple):
    """What the comment lines of a file say."""

    said: dict[str, str]
    sources: frozenset[str]

    def unit(self, column: str, row: dict[str, Any]) -> str:
        """Unit of a column in a row."""
        for entry in self.said.get("units", "").split("; "):
            found = _UNIT.fullmatch(entry.strip())
            if not found or column not in [one.strip() for one in found["columns"].split(",")]:
                continue
            wanted = [one.split("=", 1) for one in (found["where"] or "").split(" and ") if one]
            if all(str(row.get(name, "")) == value for name, value in wanted):
                return found["unit"]
        # a table of several parts may name the unit with the part
        named = re.search(r"\[([^\]]+)\]$", row.get("part", "")) if column == "value" else None
        return named[1] if named else ""

    def origin(self, column: str, row: dict[str, Any]) -> tuple[str, str]:
        """Source and evidence of a column in a row; a key that the bibliography does not hold is no source."""
        for entry in self.said.get("origins", "").split("; "):
            name, _, rest = entry.partition(" ")
            if name == column:
                source, _, evidence = rest.partition(" ")
                return (source if source in self.sources else ""), evidence
        source = row.get("source", self.said.get("source", ""))
        # tables of correlations cite in words; a single word is a key of sources.toml
        return (source if " " in source or source in self.sources else ""), row.get(
            "evidence", self.said.get("evidence", "")
        )


def data_figures(folder: Path = DATA) -> Iterator[Found]:
    """Every figure of every data file."""
    sources = frozenset(tomllib.loads((folder / "sources.toml").read_text("utf-8")))
    for path in sorted(folder.iterdir()):
        lines = path.read_text("utf-8").splitlines()
        said: dict[str, str] = {}
        for line in lines:
            if line.startswith("#"):
                name, _, text = line[1:].partition(":")
                said.setdefault(name.strip(), text.strip())
        head = Head(said, sources)
        if path.suffix == ".csv":
            yield from _table(path, lines, head)
        elif path.name != "sources.toml":
            yield from _records(path, lines, head)


def _table(path: Path, lines: list[str], head: Head) -> Iterator[Found]:
    numbered = [(number, line) for number, line in enumerate(lines, start=1) if line.strip() and line[0] != "#"]
    elsewhere = _rows_of(path.with_name(head.said["rows"])) if "rows" in head.said else {}
    for (number, _), row in zip(numbered[1:], csv.DictReader(line for _, line in numbered), strict=True):
        first = next(iter(row.values()))
        own = row | {name: elsewhere[first][name] for name in ("source", "evidence", "note") if first in elsewhere}
        for column, cell in row.items():
            # codes such as C18:1 or 3.5-hydrate are names
            if column not in _NAMES and _NUMBER_OR_NOT.fullmatch(cell.strip()):
                unit = head.unit(column, row) or (row.get("unit", "") if column in {"low", "high"} else "")
                source, evidence = head.origin(column, own)
                name = " ".join(text for text in _key(row, column))
                note = own.get("note") or head.said.get("note", "")
                yield Found(f"{path.name}:{number}", name, float(cell), unit, source, evidence, note)


def _key(row: dict[str, str], column: str) -> Iterator[str]:
    """What a row is called: its first cells, up to the first that is a figure or a sentence."""
    for name, cell in list(row.items())[:3]:
        if name == column or name in {"low", "high", "name", "value"}:
            break
        yield cell
    yield column


def _rows_of(path: Path) -> dict[str, dict[str, str]]:
    lines = [line for line in path.read_text("utf-8").splitlines() if line.strip() and line[0] != "#"]
    return {next(iter(row.values())): row for row in csv.DictReader(lines)}


def _records(path: Path, lines: list[str], head: Head) -> Iterator[Found]:
    for name, table in tomllib.loads("\n".join(lines)).items():
        opening = re.compile(rf"\[+{re.escape(name)}\]")
        line = next(number for number, text in enumerate(lines, start=1) if opening.match(text))
        yield from _entries(f"{path.name}:{line}", (name,), table, head)


def _entries(place: str, path: tuple[str, ...], table: dict[str, Any], head: Head) -> Iterator[Found]:
    for key, value in table.items():
        if isinstance(value, dict):
            yield from _entries(place, (*path, key), value, head)
        elif isinstance(value, list):
            for one in value:
                if isinstance(one, dict):
                    yield from _entries(place, (*path, key), one, head)
        else:
            below = path[1:]
            column = ".".join((*below, key))
            source, evidence = head.origin(column, table)
            unit = head.unit(column, table) or head.unit(".".join(below), table)
            name = ".".join((*path, key))
            if isinstance(value, int | float):
                yield Found(place, name, float(value), unit, source, evidence, table.get("note", ""))
            elif key == "statement":
                for number in _NUMBER.finditer(value):
                    yield Found(
                        place, name, float(number[0]), _unit_after(value[number.end() :]), source, evidence, value
                    )


def _unit_after(text: str) -> str:
    """Unit of a number of a sentence, by what follows it: `29 to 35 °C` are degrees, `1:1` and `in 1886` have none."""
    found = re.match(r"(?: (?:to|and) [\d.]+)* ?(%|°[CF]|degrees Baumé|ounces|parts|[a-z]+/[a-zA-Z]+)", text)
    return found[1] if found else "1"
