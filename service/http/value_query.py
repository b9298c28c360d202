"""The query parameters of a single value: what it is reckoned from, and how the number is to be given."""

import re
from functools import cache
from typing import Final, Literal, NamedTuple, cast

from service.calculations.shared.faults import Fault
from service.calculations.shared.given import Fraction, Mass, Ratio
from service.calculations.shared.reading import LONGEST_TEXT, Given
from service.calculations.shared.rendering import MOST_DIGITS
from service.calculations.values.value import FORMS, MOST_FATS_TOLD, FatList, Input, StrengthForm, Value
from service.http.catalogue_table import DecimalSign
from service.http.negotiation import JSON
from service.http.parameters import Parameter, read
from service.http.quantity_schemas import text_pattern

TEXT, CSV, XML = "text/plain", "text/csv", "application/xml"
MEDIA: Final = {"text": TEXT, "json": JSON, "csv": CSV, "xml": XML}
"""Media types by the words of the parameter `format`; the first is preferred."""
End = Literal["value", "low", "high"]
ENDS: Final[tuple[End, ...]] = ("value", "low", "high")

SHARED: Final = (
    Parameter(
        "end",
        "Which number is answered alone, as text and in CSV: the value, or an end of its 95 % interval, which is the "
        "value where it has none.",
        "high",
        choices=ENDS,
        default="value",
    ),
    Parameter(
        "digits",
        "Significant digits of the numbers; without it, all there are. Ends of an interval are rounded outwards.",
        4,
        whole=(1, MOST_DIGITS),
    ),
    Parameter(
        "decimal",
        "Decimal sign of the number as text and in CSV, whose columns a comma separates by semicolons.",
        "comma",
        choices=("point", "comma"),
        default="point",
    ),
    Parameter("format", "Format of the answer; wins over the header Accept.", "text", choices=tuple(MEDIA)),
    Parameter(
        "errors",
        "With `inline` a refusal is answered with status 200 and a short text that is no number, since a cell of a "
        "spreadsheet shows nothing of a status.",
        "inline",
        choices=("inline", "status"),
        default="status",
    ),
)
_IDENTIFIER: Final = "[a-z0-9]{1,20}(?:-[a-z0-9]{1,20}){0,5}"
_PLAIN: Final = r"[0-9]{1,3}(?:\.[0-9]{1,20})?"
_PART: Final = r"0?\.[0-9]{1,20}|0|1"
"""Plain numbers of a ratio or a degree, and of a part of 1; in texts all are written so."""
LONGEST_LIST: Final = 1800
"""Characters of a list of fats: a spreadsheet's function takes an address of 2048."""


class Wishes(NamedTuple):
    """How the number is to be given."""

    unit: str | None
    end: End
    digits: int | None
    decimal: DecimalSign
    format: str | None


@cache
def parameters(value: Value) -> tuple[Parameter, ...]:
    """The parameters of a value, those it is reckoned from first.

    Args:
        value: the value.
    """
    spellings = dict.fromkeys(word for kind in value.kinds for word in kind.units)
    unit = Parameter(
        "unit",
        "Unit of the number, in any spelling that is read for it. Default the metric one.",
        value.kinds[0].us.symbol,
        choices=tuple(spellings),
    )
    return (*[_parameter(one) for one in value.inputs], unit, *SHARED)


def _parameter(one: Input) -> Parameter:
    if isinstance(one.takes, tuple):
        return Parameter(one.name, one.description, one.example, choices=one.takes, required=one.required)
    longest = LONGEST_LIST if one.takes is FatList else LONGEST_TEXT
    return Parameter(
        one.name,
        one.description,
        one.example,
        length=(1, longest),
        pattern=f"^{_pattern(one.takes)}$",
        required=one.required,
    )


def _pattern(takes: type[Given] | type[FatList] | type[StrengthForm]) -> str:
    """The form of what a parameter takes, for the contract."""
    if issubclass(takes, FatList):
        fat = f"{_IDENTIFIER}:{text_pattern(Mass)}"
        return f"{fat}(?:;{fat}){{0,{MOST_FATS_TOLD - 1}}}"
    if issubclass(takes, StrengthForm):
        forms = [f"{name}:(?:{_of_form(name)})" for name in FORMS]
        return f"(?:{'|'.join([_quantity(Fraction), text_pattern(Ratio), *forms])})"
    return f"(?:{_quantity(takes)})"


def _of_form(name: str) -> str:
    """The quantity of a form of a strength."""
    kind = FORMS[name]
    return _PLAIN if kind is None else _quantity(kind)


def _quantity(given: type[Given]) -> str:
    text = text_pattern(given)
    if not given.plain_number:
        return text
    return f"{text}|{_PLAIN}" if issubclass(given, Ratio) else f"{text}|{_PART}"


def read_wishes(query: bytes, value: Value) -> tuple[Wishes, dict[str, str], list[Fault]]:
    """Read the query of an address.

    Args:
        query: as it was sent.
        value: the one that is asked for.

    Returns:
        How the number is to be given, the parameters it is reckoned from, and every fault found.
    """
    found, faults = read(query, parameters(value))
    names = {one.name for one in value.inputs}
    wishes = Wishes(
        found.get("unit"),
        cast("End", found.get("end", "value")),
        int(found["digits"]) if "digits" in found else None,
        cast("DecimalSign", found.get("decimal", "point")),
        found.get("format"),
    )
    return wishes, {name: said for name, said in found.items() if name in names}, faults


_INLINE: Final = re.compile(rb"(?:^|&)errors=inline(?:&|$)")


def wants_inline(query: bytes) -> bool:
    """Whether refusals are wanted as text, seen even where the rest of a query cannot be read."""
    return _INLINE.search(query) is not None
