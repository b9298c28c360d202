"""Reads the coefficient tables of published correlations: CSV files in `data/`, one per publication.

A table opens with comment lines `# name: text`, of which `source` and `evidence` must be there, followed by
a header and rows. A missing column or a figure that is not a number stops the import with file and row.
"""

import csv
import math
from pathlib import Path
from typing import Final, NamedTuple

from service.reference.errors import ReferenceDataError

DATA: Final = Path(__file__).parent / "data"


class Table(NamedTuple):
    """Rows of one file, with what its comment lines say."""

    file: str
    source: str
    evidence: str
    rows: tuple[dict[str, str], ...]
    lines: tuple[int, ...]
    """Where each row stands in the file, counted from 1."""

    def select(self, column: str = "value", **match: str) -> tuple[float, ...]:
        """Figures of `column`, in file order, from the rows whose other columns equal `match`.

        Raises:
            ReferenceDataError: no row matches, or a figure is not a finite number.
        """
        found = []
        for number, row in zip(self.lines, self.rows, strict=True):
            if all(row.get(name) == wanted for name, wanted in match.items()):
                try:
                    figure = float(row[column])
                except (KeyError, TypeError, ValueError):
                    raise ReferenceDataError(self.file, number, f"no number in column {column!r}") from None
                if not math.isfinite(figure):
                    raise ReferenceDataError(self.file, number, f"{column} must be finite")
                found.append(figure)
        if not found:
            raise ReferenceDataError(self.file, None, f"no row with {match}")
        return tuple(found)


def read(file: str, folder: Path = DATA) -> Table:
    """Read one table.

    Args:
        file: file name.
        folder: folder that holds it.

    Raises:
        ReferenceDataError: the file cannot be read, or has no source or evidence line, no rows, or a row with missing
            or extra columns.
    """
    try:
        lines = (folder / file).read_text(encoding="utf-8").splitlines()
    except OSError as error:
        raise ReferenceDataError(file, None, f"cannot be read: {error.strerror}") from None
    except UnicodeDecodeError as error:
        raise ReferenceDataError(file, None, f"is not UTF-8: {error.reason}") from None
    notes: dict[str, str] = {}
    for line in lines:
        if not line.startswith("#"):
            break
        name, _, text = line[1:].partition(":")
        notes.setdefault(name.strip(), text.strip())
    for needed in ("source", "evidence"):
        if not notes.get(needed):
            raise ReferenceDataError(file, None, f"the opening comments must hold '# {needed}: ...'")
    numbered = [(number, line) for number, line in enumerate(lines, start=1) if line.strip() and line[0] != "#"]
    rows = tuple(csv.DictReader(line for _, line in numbered))
    if not rows:
        raise ReferenceDataError(file, None, "no rows")
    numbers = tuple(number for number, _ in numbered[1:])
    for number, row in zip(numbers, rows, strict=True):
        if None in row or None in row.values():
            raise ReferenceDataError(file, number, "the columns do not fit the header")
    return Table(file, notes["source"], notes["evidence"], rows, numbers)
