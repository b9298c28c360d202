"""Paths of members as the headers of a table write them: steps joined by dots, and a unit in brackets.

`stocks.0.strength.mass_fraction [%]` is the member mass_fraction, in per cent, of the strength of the first stock. A
dot, a bracket or a backslash within a name of the caller's own has a backslash before it.
"""

import re
from collections.abc import Iterable
from typing import Final, NamedTuple

from service.calculations.shared.faults import Fault, FaultCode
from service.calculations.shared.repeats import pointer

Steps = tuple[str | int, ...]
"""The way to a member: names, and places in lists."""

ABSENT: Final = object()
"""What a member is that a row leaves out."""
LONGEST_HEADER: Final = 120
"""Characters of a header that a message repeats."""

MOST_COLUMNS: Final = 16_384
"""Columns of a table: no sheet has more."""

_PART: Final = re.compile(r"(?:[^\\.\[]|\\.)*", re.DOTALL)
_SPECIAL: Final = re.compile(r"[\\.\[]")
_ESCAPE: Final = re.compile(r"\\(.)", re.DOTALL)


def written(steps: Iterable[str | int]) -> str:
    """A path as a header writes it.

    Args:
        steps: names of members, and places in lists.
    """
    return ".".join(_SPECIAL.sub(r"\\\g<0>", one) if isinstance(one, str) else str(one) for one in steps)


def taken_apart(header: str) -> tuple[list[str], str | None]:
    """The steps of a header, and its unit, where it has one.

    Args:
        header: the first cell of a column.
    """
    header = header.strip()
    steps = []
    at = 0
    while True:
        part = _PART.match(header, at)
        end = at if part is None else part.end()
        steps.append(_ESCAPE.sub(r"\1", header[at:end]))
        if header[end : end + 1] != ".":
            break
        at = end + 1
    rest = header[end:]
    if not rest:
        return steps, None
    steps[-1] = steps[-1].rstrip()
    return steps, rest.removeprefix("[").removesuffix("]").strip()


def pointer_of(steps: Iterable[str | int]) -> str:
    """A path as a JSON Pointer (RFC 6901).

    Args:
        steps: names of members, and places in lists.
    """
    at = ""
    for step in steps:
        at = pointer(at, step)
    return at


def blank(cell: str) -> bool:
    """Whether a cell says nothing.

    Args:
        cell: its text.
    """
    return not cell or cell.isspace()


class Cell(NamedTuple):
    """Where a column is, and what stands over it."""

    column: int
    header: str

    def fault(self, code: FaultCode, detail: str, mend: str, at: str | None = None) -> Fault:
        """A fault of this column; of its header where no pointer is given, which is in the first line.

        Args:
            code: kind of fault.
            detail: what is wrong.
            mend: how to mend it.
            at: JSON Pointer into the request of a row.
        """
        header = self.header[:LONGEST_HEADER]
        if at is None:
            return Fault(code, detail, mend, column=header, line=1)
        return Fault(code, detail, mend, at, column=header)
