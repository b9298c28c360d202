"""The page of what the service rests on from memory, wholly or in part: every such figure, by its source."""

import tomllib
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import groupby
from typing import Final

from tests.proof.data_figures import DATA
from tests.proof.figures import Found
from tests.proof.report.writing import table
from tests.proof.sources import counts, everything, partly_recalled, recalled

PAGE: Final = "from-memory.md"
HEAD: Final = """# Figures from memory

Every figure of the service's data and chemistry, and every physical one of its calculations, that somebody remembered,
and nobody has read since in a text that can be named; and those that rest on such a figure in part, as their notes say.
Where one of these works can be read, its figures come first to be checked. Of the calculations, what only decides
whether a message is written, what limits a request and what sets a search is no such figure and was not looked at. Back
to the [validation report](README.md).
"""
_PARTLY: Final = "## In part from memory"
_OF_PARTS: Final = (
    "Some of it read and some recalled, or reckoned by a relation or chosen about a figure that was recalled: the note "
    "tells which."
)
_SAYS: Final = {
    "seen-primary": "read in the work itself",
    "seen-reprint": "read in a reprint of it",
    "seen-secondary": "read where another quotes it",
    "mixed": f"some read and some recalled, as the [note beside it]({PAGE}#in-part-from-memory) tells",
    "memory": f"recalled, and not checked: [all of them]({PAGE})",
    "computed": "reckoned from others that are here",
    "common-practice": "what workshops say; no source",
    "assumed": "chosen, with the reason beside it",
    "exact": "by definition, or by counting",
    "numerical": "a setting of a computation",
}


def page() -> str:
    """All of them, with their files and units, those of one source together."""
    lines = [HEAD, "## From memory", "", *_sections(recalled()), _PARTLY, "", _OF_PARTS, ""]
    lines += _sections(partly_recalled())
    return "\n".join(lines).rstrip() + "\n"


def _sections(found: Sequence[Found]) -> Iterator[str]:
    """One for each source, under the title of the work, or of the constants that a docstring speaks of."""
    for heading, some in groupby(sorted(found, key=heading_of), key=heading_of):
        figures = list(some)
        notes = dict.fromkeys(one.note for one in figures)
        yield from (f"### {heading}", "")
        yield from ([*_said(figures[0]), ""] if len(notes) == 1 else [])
        head = ("file", "figure", "value", "unit") if len(notes) == 1 else ("file", "figure", "value", "unit", "note")
        rows = [(_file(one), one.name, f"{one.value:g}", one.unit, one.note)[: len(head)] for one in figures]
        yield from (*table(head, rows), "")


def _said(one: Found) -> list[str]:
    """The note, and the work that it cites by a number only."""
    note = one.note.rstrip(".")
    cites = "]_" in note or not note
    said = [f"{note}." if note else "", f"Source: {one.source.rstrip('.')}." if cites and " " in one.source else ""]
    return [" ".join(text for text in said if text)] if any(said) else ["No note."]


def heading_of(one: Found) -> str:
    """Title of the work that stands in the bibliography, or what the code or a file calls it."""
    if one.source in _titles():
        return _titles()[one.source]
    return _file(one) if _file(one).endswith(".csv") else f"{one.name} in {_file(one)}"


@cache
def _titles() -> dict[str, str]:
    works = tomllib.loads((DATA / "sources.toml").read_text("utf-8"))
    return {key: f"{work['title']} ({key})" for key, work in works.items()}


def overview() -> list[str]:
    """How well the service's own figures are known, for the page of the report."""
    found = everything()
    rows = [(word, _SAYS[word], f"{number}") for word, number in counts(found).items()]
    return [
        "## What the service itself rests on",
        "",
        f"{len(found)} figures of its data, its chemistry and, where they are physical, its calculations, each with "
        "its unit and its source "
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
