"""Quantities in the columns of a table: the number under the member's own path, its ends and its unit below it."""

from collections.abc import Sequence
from typing import Any, Final

from service.calculations.shared.faults import Fault, Faulty, near, quoted
from service.calculations.shared.reading import Given
from service.http.bulk_cells import Reader, loose_reader, number_reader
from service.http.bulk_paths import ABSENT, Cell, Steps, blank, pointer_of, written
from service.http.catalogue_table import DecimalSign

NUMBERS: Final = ("value", "low", "high", "uncertainty")
UNIT: Final = "unit"


class Quantity:
    """A member that is a quantity, and the columns that tell it.

    Attributes:
        steps: the way to it.
    """

    def __init__(self, steps: Steps, given: type[Given]) -> None:
        self.steps = steps
        self._given = given
        self._cells: dict[str, Cell] = {}
        self._units: dict[str, str | None] = {}
        self._readers: dict[str, Reader] = {}
        self._unit: str | None = None
        self._alone = False

    def add(self, rest: Sequence[str], unit: str | None, cell: Cell) -> None:
        """Add a column.

        Args:
            rest: what its path says beyond the member: nothing, or the name of an end or of the unit.
            unit: its unit as its header spells it; None where it has none.
            cell: where it is.

        Raises:
            Faulty: there is no such column of a quantity, or it is there already.
        """
        part = rest[0] if rest else "value"
        known = (*NUMBERS, UNIT)
        if len(rest) > 1 or part not in known:
            detail = f"a {self._given.kind.name} has no member {quoted('.'.join(rest))}{near(part, known)}"
            raise Faulty(
                "unknown-member", detail, f"use one of {', '.join(known)}, or none of them for the number alone"
            )
        if part in self._cells:
            raise twice(written(self.steps), self._cells[part].header)
        if unit is not None:
            if part == UNIT:
                raise Faulty("unknown-unit", f"{written(self.steps)}.unit has no unit", "take the brackets away")
            if unit not in self._given.kind.units:
                self._given.read({"value": 1, "unit": unit})  # refuses it, as it would in a cell
        self._cells[part], self._units[part] = cell, unit

    def finish(self, decimal: DecimalSign) -> list[Fault]:
        """Settle its unit, and say what is wrong with its columns together.

        Args:
            decimal: decimal sign of the table.
        """
        kind, plain = self._given.kind, self._given.plain_number
        numbers = [part for part in self._cells if part != UNIT]
        named = {kind.units[unit]: unit for unit in self._units.values() if unit is not None}
        self._alone = plain and numbers == ["value"] and UNIT not in self._cells and not named
        faults = []
        for part in numbers:
            unit = self._units[part]
            if unit is None and UNIT not in self._cells and (named or not plain):
                mend = f"write {self._cells[part].header[:60]} [{next(iter(named.values()), kind.metric.symbol)}]"
                faults.append(self._cells[part].fault("bare-number", f"a {kind.name} needs a unit in its header", mend))
            elif len(named) > 1 or (unit is not None and UNIT in self._cells):
                detail = f"the columns of {written(self.steps)} tell different units, or the same one twice"
                faults.append(self._cells[part].fault("two-units", detail, "give one unit for all of them"))
        if not numbers and self._cells:
            mend = f"add the column {written(self.steps)}"
            faults.append(self._cells[UNIT].fault("missing-member", "a unit stands without a number", mend))
        self._unit = next(iter(named.values()), kind.metric.symbol if plain else None)
        self._readers = {
            part: loose_reader(decimal) if self._alone else number_reader(self._given, self._units[part], decimal)
            for part in numbers
        }
        return faults

    def make(self, cells: Sequence[str], faults: list[Fault]) -> Any:
        """What a row says of it, as JSON would; ABSENT where it says nothing.

        Args:
            cells: of the row.
            faults: gets what cannot be read.
        """
        found: dict[str, Any] = {}
        for part, read in self._readers.items():
            text = cells[self._cells[part].column]
            if not blank(text):
                try:
                    found[part] = read(text)
                except Faulty as fault:
                    inner = "" if part == "value" else f"/{part}"
                    at = pointer_of(self.steps) + inner
                    faults.append(self._cells[part].fault(fault.code, fault.detail, fault.mend, at))
                    found[part] = None
        if not found:
            return ABSENT
        if self._alone or None in found.values():
            return found.get("value")
        return {**found, UNIT: cells[self._cells[UNIT].column].strip() if UNIT in self._cells else self._unit}

    def header(self, part: str) -> str:
        """The header of the column that tells it, or a part of it.

        Args:
            part: name of the part; empty for the whole.
        """
        cell = self._cells.get(part) or next(iter(self._cells.values()))
        return cell.header


def twice(path: str, header: str) -> Faulty:
    """The fault of a second column of a member.

    Args:
        path: of the member.
        header: of the first column.
    """
    return Faulty("repeated-member", f"{path} has two columns, {quoted(header)} being the first", "keep one of them")
