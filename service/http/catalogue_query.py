"""The query parameters of the catalogue: what each takes, for reading and for the contract alike."""

import re
from collections.abc import Sequence
from typing import Any, Final, NamedTuple, cast
from urllib.parse import unquote_plus

from service.calculations.catalogue_collections import Catalogue, Collection, Selection
from service.calculations.catalogue_figures import EVIDENCE, Style
from service.calculations.faults import Fault, FaultCode, near
from service.calculations.rendering import MOST_DIGITS, UnitSystem
from service.http.catalogue_table import Decimal

FORMATS: Final = ("json", "csv")
MOST_ENTRIES: Final = 500
USUAL_ENTRIES: Final = 100
FARTHEST: Final = 100_000
LONGEST_SEARCH: Final = 100
LONGEST_REFERENCE: Final = 200

_MOST_PARAMETERS: Final = 100
_SHOWN_CHOICES: Final = 12
_WHOLE: Final = re.compile(r"0|[1-9][0-9]{0,5}")


class Parameter(NamedTuple):
    """A query parameter: a word of some, a whole number, or a text."""

    name: str
    description: str
    example: Any
    choices: tuple[str, ...] = ()
    whole: tuple[int, int] | None = None
    """Least and most, where it is a whole number."""
    length: tuple[int, int] | None = None
    """Least and most characters, where it is a text."""
    default: Any = None

    def schema(self) -> dict[str, Any]:
        """What it takes, as the contract says it."""
        schema: dict[str, Any] = {"type": "string"}
        if self.choices:
            schema["enum"] = list(self.choices)
        if self.whole:
            schema = {"type": "integer", "minimum": self.whole[0], "maximum": self.whole[1]}
        if self.length:
            schema |= {"minLength": self.length[0], "maxLength": self.length[1]}
        return schema if self.default is None else {**schema, "default": self.default}

    def fault(self, value: str) -> Fault | None:
        """What is wrong with a value."""
        name, said = self.name, repr(value[:40])
        if self.choices and value not in self.choices:
            shown = " or ".join(f"{name}={choice}" for choice in self.choices[:_SHOWN_CHOICES])
            more = ", or another that the contract lists" if len(self.choices) > _SHOWN_CHOICES else ""
            return _fault(
                "invalid-parameter",
                name,
                f"{said} is not known for {name}{near(value, self.choices)}",
                f"write {shown}{more}",
            )
        if self.whole:
            low, high = self.whole
            if not _WHOLE.fullmatch(value) or not low <= int(value) <= high:
                detail = f"{said} is not a whole number from {low} to {high}"
                return _fault("invalid-parameter", name, detail, f"write {name}={self.example}, or leave it out")
        if self.length:
            least, most = self.length
            if not least <= len(value) <= most:
                detail = f"{name} has {len(value)} characters, and {least} to {most} are taken"
                return _fault("invalid-parameter", name, detail, "shorten it" if value else "leave it out")
        return None


class Wishes(NamedTuple):
    """What is asked of the catalogue."""

    style: Style
    format: str | None
    decimal: Decimal
    reference: str | None
    selection: Selection
    limit: int
    offset: int


def parameters(collection: Collection, catalogue: Catalogue, *, of_list: bool) -> tuple[Parameter, ...]:
    """The parameters of a list, or of its entries."""
    style = (
        Parameter(
            "units",
            "Units of the figures: °C and kg/L, or °F and lb/gal. Others are the same in both.",
            "us",
            choices=("metric", "us"),
            default="metric",
        ),
        Parameter(
            "digits",
            "Significant digits of every number; as the sources print them where it is not given.",
            6,
            whole=(1, MOST_DIGITS),
        ),
        Parameter("format", "Format of the answer; wins over the header Accept.", "csv", choices=FORMATS),
        Parameter(
            "decimal",
            "Decimal sign of the numbers in CSV. With a comma the columns are separated by semicolons. JSON always "
            "has points.",
            "comma",
            choices=("point", "comma"),
            default="point",
        ),
        Parameter(
            "reference",
            "The caller's own mark, given back untouched: in JSON as a member, in CSV as a last column.",
            "sheet 7, cell B2",
            length=(0, LONGEST_REFERENCE),
        ),
    )
    return (*_finding(collection, catalogue), *style) if of_list else style


def _finding(collection: Collection, catalogue: Catalogue) -> tuple[Parameter, ...]:
    """The parameters that choose entries."""
    searched = ", ".join(("id", *collection.searched))
    found = [
        Parameter(
            "search",
            "Words that must all occur in an entry, in capitals or not, perhaps within longer words. "
            f"Looked at: {searched}.",
            collection.example,
            length=(1, LONGEST_SEARCH),
        )
    ]
    if collection.filtered:
        choices = catalogue.choices(collection)
        described = f"Only entries whose `{collection.filtered}` is this."
        found.append(Parameter(collection.filtered, described, choices[0], choices=choices))
    if collection.cites:
        sources = catalogue.sources
        words = "\n".join(f"- `{word}`: {meaning}" for word, meaning in EVIDENCE.items())
        found += [
            Parameter("source", "Only entries that cite this source themselves or in a figure.", sources[0], sources),
            Parameter(
                "evidence",
                f"Only entries that have a figure of this evidence.\n\n{words}",
                "seen-reprint",
                tuple(EVIDENCE),
            ),
        ]
    return (
        *found,
        Parameter("limit", "Entries answered at most.", USUAL_ENTRIES, whole=(1, MOST_ENTRIES), default=USUAL_ENTRIES),
        Parameter("offset", "Entries passed over before the first.", 0, whole=(0, FARTHEST), default=0),
    )


def read(query: bytes, known: Sequence[Parameter], filtered: str | None) -> tuple[Wishes, dict[str, str], list[Fault]]:
    """Read the query of an address.

    Args:
        query: as it was sent.
        known: the parameters there are.
        filtered: the one that filters by a member.

    Returns:
        What is wished, the parameters as they were given, and every fault found.
    """
    by_name = {parameter.name: parameter for parameter in known}
    found: dict[str, str] = {}
    faults: list[Fault] = []
    parts = [part for part in query.decode("ascii", "replace").split("&") if part]
    if len(parts) > _MOST_PARAMETERS:
        detail = f"the query has {len(parts)} parameters, and the first {_MOST_PARAMETERS} were looked at"
        faults.append(_fault("too-many", parts[_MOST_PARAMETERS].partition("=")[0], detail, "give each once at most"))
    for part in parts[:_MOST_PARAMETERS]:
        name, value = (unquote_plus(one) for one in part.partition("=")[::2])
        if name not in by_name:
            detail = f"there is no parameter {name[:40]!r}{near(name, by_name)}"
            faults.append(_fault("unknown-parameter", name, detail, f"known here: {', '.join(by_name)}"))
        elif name in found:
            faults.append(_fault("repeated-parameter", name, f"{name} is given more than once", "give it once"))
        else:
            found[name] = value
            if fault := by_name[name].fault(value):
                faults.append(fault)
    return _wishes({} if faults else found, filtered), found, faults


def _wishes(found: dict[str, str], filtered: str | None) -> Wishes:
    units = cast("UnitSystem", found.get("units", "metric"))
    return Wishes(
        style=Style(units, int(found.get("digits", MOST_DIGITS))),
        format=found.get("format"),
        decimal=cast("Decimal", found.get("decimal", "point")),
        reference=found.get("reference"),
        selection=Selection(
            found.get("search"),
            found.get(filtered) if filtered else None,
            found.get("source"),
            found.get("evidence"),
        ),
        limit=int(found.get("limit", USUAL_ENTRIES)),
        offset=int(found.get("offset", 0)),
    )


def _fault(code: FaultCode, name: str, detail: str, mend: str) -> Fault:
    return Fault(code, detail, mend, parameter=name[:60])
