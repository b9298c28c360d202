"""The page of what the service rests on from memory: every such figure of its data and its chemistry, by its source."""

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from tests.proof.figures import Found
from tests.proof.report.writing import table
from tests.proof.sources import counts, everything, recalled

PAGE: Final = "from-memory.md"
HEAD: Final = """# Figures from memory

Every figure of the service's data and chemistry that somebody remembered, and nobody has read since in a text that can
be named. Where one of these works can be read, its figures come first to be checked. Back to the
[validation report](README.md).
"""
_SAYS: Final = {
    "seen-primary": "read in the work itself",
    "seen-reprint": "read in a reprint of it",
    "seen-secondary": "read where another quotes it",
    "mixed": "some read and some recalled, as the note beside it tells",
    "memory": f"recalled, and not checked: [all of them]({PAGE})",
    "computed": "reckoned from others that are here",
    "common-practice": "what workshops say; no source",
    "assumed": "chosen, with the reason beside it",
    "exact": "by definition, or by counting",
    "numerical": "a setting of a computation",
}


def page() -> str:
    """All of them, with their files and units, those of one source together."""
    lines = [HEAD]
    for source, some in groupby(sorted(recalled(), key=lambda one: one.source), key=lambda one: one.source):
        rows = [(_file(one), one.name, f"{one.value:g}", one.unit) for one in some]
        lines += [f"## {source}", "", *table(("file", "figure", "value", "unit"), rows), ""]
    return "\n".join(lines).rstrip() + "\n"


def overview() -> list[str]:
    """How well the service's own figures are known, for the page of the report."""
    found = everything()
    rows = [(word, _SAYS[word], f"{number}") for word, number in counts(found).items()]
    return [
        "## What the service itself rests on",
        "",
        f"{len(found)} figures of its data and its chemistry, each with its unit and its source "
        "(`python -m tests.proof.sources --all` lists them).",
        "",
        *table(("evidence", "that is", "figures"), rows),
        "",
        *_most(recalled()),
        "",
    ]


def _most(found: Sequence[Found]) -> list[str]:
    """Which files hold those from memory."""
    files = sorted({_file(one) for one in found})
    rows = [(file, f"{sum(_file(one) == file for one in found)}") for file in files]
    return ["Those from memory stand in:", "", *table(("file", "figures"), sorted(rows, key=lambda row: -int(row[1])))]


def _file(one: Found) -> str:
    """Its file, without the line, which moves."""
    return one.place.partition(":")[0]
