"""Identifiers of the catalogue: which there are of each kind, and what is said of one that is unknown.

A member of a request that holds an identifier names its shelf in `Meta(extra={SHELF: ...})`. The calculations look
identifiers up; and where a request cannot be read, the slow way does, so that an unknown fat is told beside a wrong
unit and not only once that is mended. Both say it in the same words.
"""

from collections.abc import Mapping
from typing import Final, Literal, cast, get_args

from service.calculations.shared.faults import Faulty, Named, meant, nearest, nearest_entries, quoted
from service.reference import reference_data

ShelfName = Literal["fats", "liquids", "acids", "vessel materials", "fatty acids"]

SHELF: Final = "shelf"
"""Key in the extra of a member's Meta under which it names its shelf."""

FORM: Final = "form"
"""Key in the extra of a member's Meta under which a text with a pattern says how it is written, as a mending."""

_NOUNS: Final[dict[ShelfName, str]] = {
    "fats": "fat",
    "liquids": "liquid",
    "acids": "acid",
    "vessel materials": "material",
    "fatty acids": "fatty acid",
}


def shelf(name: str) -> Mapping[str, object]:
    """The entries of a kind by their identifiers."""
    data = reference_data()
    shelves: dict[ShelfName, Mapping[str, object]] = {
        "fats": data.fats,
        "liquids": data.liquids,
        "acids": data.acids,
        "vessel materials": data.vessel_materials,
        "fatty acids": data.fatty_acids,
    }
    if name not in get_args(ShelfName):
        raise KeyError(name)
    return shelves[cast("ShelfName", name)]


def unknown(name: ShelfName, word: str) -> Faulty:
    """What is wrong with an identifier that is not on its shelf."""
    known = shelf(name)
    close = nearest(word, known) if name == "fatty acids" else nearest_entries(word, cast("Mapping[str, Named]", known))
    detail = f"{quoted(word)} is no {_NOUNS[name]} of the catalogue{meant(close)}"
    return Faulty("unknown-identifier", detail, _mend(name, close, known))


def _mend(name: ShelfName, close: list[str], known: Mapping[str, object]) -> str:
    if len(close) == 1:
        return f"write {close[0]!r}" + (
            ", or give name and saponification_value of a certificate" if name == "fats" else ""
        )
    if close:
        return "write the one that is meant"
    if name == "fatty acids":
        return "write carbon atoms and double bonds, as in 'C18:1'"
    if name == "fats":
        return (
            "use an identifier of the catalogue (/v1/fats lists them), or give name and saponification_value of a "
            "certificate"
        )
    if name == "liquids":
        return "use an identifier of the catalogue (/v1/liquids lists them)"
    return f"use one of {', '.join(known)}"
