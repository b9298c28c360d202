"""Answers and problems laid out flat: a column for each member, by its path and its unit.

Paths are told apart once: a tree holds those that were met, so that a member met again costs a look or two.
"""

from math import isfinite
from typing import Any, Final

import msgspec
from msgspec import UNSET, Struct

from service.calculations.shared.cautions import Caution
from service.calculations.shared.csv_cells import harmless
from service.calculations.shared.messages import Answer
from service.calculations.shared.notes import Assumption, Worked
from service.calculations.shared.rendering import answer_units
from service.calculations.shared.told import NotFinite, Told, figure
from service.http.bulk_paths import Steps, written
from service.http.bulk_query import Wishes
from service.http.problems import Problem

PROBLEM: Final = "problem"
"""Path below which the members of a problem are."""
_LAST: Final = 1000
"""What every answer carries stands behind what it answers."""
_COMMON: Final = frozenset(Answer.__struct_fields__)
_DOCUMENT: Final = msgspec.json.Decoder(Problem).decode

_REPEATED: Final = frozenset({Caution, Assumption})
"""What most answers say in the same words, and so is laid out once for each place."""
_MOST_LAID: Final = 100
"""How many of them are kept for a place."""

_Rank = tuple[tuple[int, str], ...]


class _Node:
    """A member that was met: its place among the columns, and those below it."""

    __slots__ = ("columns", "kids", "laid", "rank", "steps")

    def __init__(self, steps: Steps, rank: _Rank) -> None:
        self.steps = steps
        self.rank = rank
        self.kids: dict[str | int, _Node] = {}
        self.columns: dict[str, int] = {}
        self.laid: dict[Struct, dict[int, str]] = {}

    def kid(self, step: str | int, place: int, name: str = "") -> "_Node":
        """What it holds, made when it is met first."""
        found = self.kids.get(step)
        if found is None:
            found = self.kids[step] = _Node((*self.steps, step), (*self.rank, (place, name)))
        return found


class Flattener:
    """Lays answers and problems out flat, and knows the columns they need together.

    Attributes:
        width: how many columns there are so far.
    """

    def __init__(self, wishes: Wishes) -> None:
        self._units = answer_units(wishes.units)
        self._digits = wishes.digits
        self._comma = wishes.decimal == "comma"
        self._answers = _Node((), ((0, ""),))
        self._problems = _Node((PROBLEM,), ((1, ""),))
        self._headers: list[tuple[_Rank, str]] = []

    @property
    def width(self) -> int:
        """How many columns there are so far."""
        return len(self._headers)

    def columns(self) -> tuple[list[str], list[int]]:
        """The headers in the order of the table, and the number of each column."""
        order = sorted(range(len(self._headers)), key=self._headers.__getitem__)
        return [self._headers[column][1] for column in order], order

    def answer(self, answer: Answer) -> dict[int, str]:
        """The cells of an answer by the numbers of their columns.

        Args:
            answer: of an item.
        """
        cells: dict[int, str] = {}
        for place, name in enumerate(answer.__struct_fields__):
            if name != "reference":
                common = _LAST if name in _COMMON else 0
                self._lay(getattr(answer, name), self._answers.kid(name, place + common), cells)
        return cells

    def problem(self, document: bytes) -> dict[int, str]:
        """The cells of a problem by the numbers of their columns.

        Args:
            document: the problem as JSON.
        """
        cells: dict[int, str] = {}
        self._lay(_DOCUMENT(document), self._problems, cells)
        return cells

    def text(self, text: str) -> str:
        """A text as a cell.

        Args:
            text: whatever a caller wrote.
        """
        return harmless(text)

    def _lay(self, value: Any, node: _Node, cells: dict[int, str]) -> None:
        kind = type(value)
        if kind is str:
            cells[self._column(node, "")] = harmless(value)
        elif isinstance(value, Told):
            self._figure(value, node, cells)
        elif kind in _REPEATED and (laid := node.laid.get(value)) is not None:
            cells |= laid
        elif isinstance(value, Struct):
            own = cells
            if kind in _REPEATED and len(node.laid) < _MOST_LAID:
                own = node.laid[value] = {}
            self._members(value, node, own)
            if own is not cells:
                cells |= own
        elif kind is list or kind is tuple:
            for place, one in enumerate(value):
                self._lay(one, node.kids.get(place) or node.kid(place, place), cells)
        elif kind is dict:
            for name, one in value.items():
                # of fatty acids that is by carbon atoms and double bonds
                self._lay(one, node.kid(name, len(name.partition(":")[0]), name), cells)
        elif isinstance(value, Worked):
            cells[self._column(node, f" [{value.unit}]")] = self._number(value.value)
        elif value is not UNSET and value is not None:
            cells[self._column(node, "")] = self._plain(value)

    def _figure(self, told: Told, node: _Node, cells: dict[int, str]) -> None:
        shown = figure(told, self._units[type(told)], self._digits)
        unit = f" [{shown.unit}]"
        cells[self._column(node, unit)] = self._number(shown.value)
        if shown.low is not UNSET and shown.high is not UNSET:
            cells[self._column(node.kid("low", 0), unit)] = self._number(shown.low)
            cells[self._column(node.kid("high", 1), unit)] = self._number(shown.high)

    def _members(self, value: Struct, node: _Node, cells: dict[int, str]) -> None:
        kids = node.kids
        for place, name in enumerate(value.__struct_fields__):
            one = getattr(value, name)
            if one is not UNSET:
                self._lay(one, kids.get(name) or node.kid(name, place), cells)

    def _column(self, node: _Node, unit: str) -> int:
        column = node.columns.get(unit)
        if column is None:
            column = node.columns[unit] = len(self._headers)
            self._headers.append((node.rank, written(node.steps) + unit))
        return column

    def _plain(self, value: Any) -> str:
        if isinstance(value, bool):
            return "true" if value else "false"
        return self._number(value)

    def _number(self, number: float) -> str:
        if not isfinite(number):
            raise NotFinite(repr(number))
        text = repr(number)
        return text.replace(".", ",") if self._comma else text
