"""Lines of a shop's documents: exact and whole quantities, codes of units, and CSV."""

import csv
import io
from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Final

from ask_plan import Json, UnansweredError

PIECE: Final = "H87"
SMALL: Final = {
    "KGM": ("GRM", 1000),
    "GRM": ("GRM", 1),
    "TNE": ("KGM", 1000),
    "LBR": ("ONZ", 16),
    "ONZ": ("ONZ", 1),
    "LTR": ("MLT", 1000),
    "MLT": ("MLT", 1),
    "GLL": ("OZA", 128),
    PIECE: (PIECE, 1),
}
"""For each unit (UN/CEFACT Recommendation 20) the smaller one that whole quantities are told in, and how many there are
in it: for systems that take no fractions."""
COLUMNS: Final = (
    "document_key",
    "line_key",
    "what",
    "sku",
    "description",
    "quantity",
    "unit_code",
    "whole_quantity",
    "whole_unit_code",
    "rounding",
    "packages",
    "needed_for",
)
FORMULA: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def line(
    what: str, article: tuple[str, str], quantity: Decimal, unit_code: str, needed_for: Sequence[str] = ()
) -> Json:
    """A line of a document: the exact quantity, and a whole one in a smaller unit.

    What is taken or bought is rounded up, and what comes in rounded down, so that books never show more than there is.

    Args:
        what: "taken", "made" or "bought".
        article: the shop's own number of it, and what it is called.
        quantity: at least 0; what is taken becomes negative.
        unit_code: of UN/CEFACT Recommendation 20.
        needed_for: articles it goes into.
    """
    small, times = SMALL[unit_code]
    up = what != "made"
    whole = int((quantity * times).to_integral_value(ROUND_CEILING if up else ROUND_FLOOR))
    sign = -1 if what == "taken" else 1
    return {
        "what": what,
        "sku": article[0],
        "description": article[1],
        "quantity": _decimals(sign * quantity),
        "unit_code": unit_code,
        "whole_quantity": sign * whole,
        "whole_unit_code": small,
        "rounding": "up" if up else "down",
        "needed_for": list(needed_for),
    }


def _decimals(quantity: Decimal) -> str:
    """A quantity as decimal text; of three to six decimals those that say something."""
    text = f"{quantity:f}"
    whole, _, part = text.partition(".")
    return f"{whole}.{part[:3]}{part[3:].rstrip('0')}" if part else text


def grams(told: Json) -> Decimal:
    """A mass of an answer in metric units, to the microgram.

    Args:
        told: value and unit of it.
    """
    if told["unit"] != "g":
        raise UnansweredError(f"a mass is told in {told['unit']}: ask for the plan in metric units")
    return Decimal(repr(told["value"])).quantize(Decimal("0.000001"))


def count(told: Json) -> int:
    """A number of pieces.

    Args:
        told: value and unit of it.
    """
    whole: int = round(told["value"])
    return whole


def csv_text(document: Json) -> str:
    """A document as CSV (RFC 4180): one header, decimal points, several articles joined by semicolons.

    Args:
        document: one of `documents`.
    """
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\r\n", extrasaction="ignore")
    writer.writeheader()
    for one in document["lines"]:
        texts = {"sku": one["sku"], "description": one["description"], "needed_for": ";".join(one["needed_for"])}
        guarded = {name: _harmless(text) for name, text in texts.items()}
        writer.writerow(one | guarded | {"document_key": document["key"], "line_key": one["key"]})
    return out.getvalue()


def _harmless(text: str) -> str:
    """With an apostrophe before what a spreadsheet would run as a formula, as the service's own CSV has it."""
    return f"'{text}" if text.lstrip("'").startswith(FORMULA) else text
