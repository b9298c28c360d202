"""The query parameters of the catalogue: which entries are wanted, and how they are to be given."""

from collections.abc import Sequence
from typing import Final, NamedTuple, cast

from service.calculations.catalogue.catalogue_collections import Catalogue, Collection, Selection
from service.calculations.catalogue.catalogue_figures import EVIDENCE, Style
from service.calculations.shared.faults import Fault
from service.calculations.shared.messages import LONGEST_REFERENCE
from service.calculations.shared.rendering import MOST_DIGITS, UnitSystem
from service.http.catalogue_table import DecimalSign
from service.http.negotiation import JSON
from service.http.parameters import Parameter, read

CSV: Final = "text/csv"
MEDIA: Final = {"json": JSON, "csv": CSV}
"""Media types by the words of the parameter `format`."""
MOST_ENTRIES: Final = 500
USUAL_ENTRIES: Final = 100
FARTHEST: Final = 100_000
LONGEST_SEARCH: Final = 100


class Wishes(NamedTuple):
    """What is asked of the catalogue."""

    style: Style
    format: str | None
    decimal: DecimalSign
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
        Parameter("format", "Format of the answer; wins over the header Accept.", "csv", choices=tuple(MEDIA)),
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


def read_wishes(
    query: bytes, known: Sequence[Parameter], filtered: str | None
) -> tuple[Wishes, dict[str, str], list[Fault]]:
    """Read the query of an address.

    Args:
        query: as it was sent.
        known: the parameters there are.
        filtered: the one that filters by a member.

    Returns:
        What is wished, the parameters as they were given, and every fault found.
    """
    found, faults = read(query, known)
    wishes = Wishes(
        style=Style(cast("UnitSystem", found.get("units", "metric")), int(found.get("digits", MOST_DIGITS))),
        format=found.get("format"),
        decimal=cast("DecimalSign", found.get("decimal", "point")),
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
    return wishes, found, faults
