"""Reads the coefficient tables of published correlations: CSV files in `data/`, one per publication.

A table opens with comment lines `# name: text`, of which `source` and `evidence` must be there, followed by
a header and rows. A missing column or a figure that is not a number stops the import with file and row.
"""

import csv
import math
from pathlib import Path
from typing import Final, NamedTuple

DATA: Final = Path(__file__).parent / "data"


class Table(NamedTuple):
    """Rows of one file, with what its comment lines say."""

    file: str
    source: str
    evidence: str
    rows: tuple[dict[str, str], ...]

    def select(self, column: str = "value", **match: str) -> tuple[float, ...]:
        """Figures of `column`, in file order, from the rows whose other columns equal `match`.

        Raises:
            ValueError: no row matches, or a figure is not a finite number.
        """
        found = []
        for number, row in enumerate(self.rows, start=1):
            if all(row.get(name) == wanted for name, wanted in match.items()):
                try:
                    figure = float(row[column])
                except (KeyError, TypeError, ValueError):
                    raise ValueError(f"{self.file}, row {number}: no number in column {column!r}") from None
                if not math.isfinite(figure):
                    raise ValueError(f"{self.file}, row {number}: {column} must be finite")
                found.append(figure)
        if not found:
            raise ValueError(f"{self.file}: no row with {match}")
        return tuple(found)


def read(file: str, folder: Path = DATA) -> Table:
    """Read one table.

    Args:
        file: file name.
        folder: folder that holds it.

    Raises:
        ValueError: the file has no source or evidence line, no rows, or a row with missing or extra columns.
    """
    lines = (folder / file).read_text(encoding="utf-8").splitlines()
    notes: dict[str, str] = {}
    for line in lines:
        if not line.startswith("#"):
            break
        name, _, text = line[1:].partition(":")
        notes.setdefault(name.strip(), text.strip())
    for needed in ("source", "evidence"):
        if not notes.get(needed):
            raise ValueError(f"{file}: the opening comments must hold '# {needed}: ...'")
    rows = tuple(csv.DictReader(line for line in lines if line.strip() and not line.startswith("#")))
    if not rows:
        raise ValueError(f"{file}: no rows")
    for number, row in enumerate(rows, start=1):
        if None in row or None in row.values():
            raise ValueError(f"{file}, row {number}: the columns do not fit the header")
    return Table(file, notes["source"], notes["evidence"], rows)
