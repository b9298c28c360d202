"""Lines of materials as CSV, for a shop's own system: RFC 4180, one header, decimal points.

Texts that a spreadsheet would take for a formula get an apostrophe before them; quantities and codes never.
"""

import csv
import io
from collections.abc import Iterable
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, Decimal
from typing import Final, NamedTuple

from service.calculations.shared.csv_cells import harmless

COLUMNS: Final = ("sku", "description", "quantity", "unit_code", "needed_for")
NOISE: Final = Decimal("1e-9")
MILLIONTH: Final = Decimal("0.000001")

MASS_UNITS: Final[dict[str, tuple[str, float]]] = {
    "kg": ("KGM", 1.0),
    "g": ("GRM", 1e-3),
    "t": ("TNE", 1e3),
    "lb": ("LBR", 0.45359237),
    "oz": ("ONZ", 28.349523125e-3),
}
"""Code of UN/CEFACT Recommendation 20, revision 17, which is from memory, and kilograms [kg] of each unit of mass
(exact, by definition)."""
VOLUME_UNITS: Final[dict[str, tuple[str, float]]] = {
    "L": ("LTR", 1e-3),
    "mL": ("MLT", 1e-6),
    "gal": ("GLL", 3.785411784e-3),
}
"""The same of volumes, in cubic metres."""

UNIT_OF_CODE: Final = {code: unit for unit, (code, _) in (MASS_UNITS | VOLUME_UNITS).items()}
"""The unit that each code stands for, for people."""


class Line(NamedTuple):
    """A line of materials."""

    sku: str
    description: str
    quantity: str
    unit_code: str
    needed_for: str


def quantity_text(number: float, *, up: bool = False) -> str:
    """A quantity as a decimal text of three decimals at least and six at most, rounded halves to even.

    Args:
        number: in the unit it is told in, at least 0.
        up: whether it is rounded up, as what must be bought is.
    """
    exact = Decimal(repr(number)).quantize(NOISE, ROUND_HALF_EVEN)  # no last bit decides where a half goes
    text = f"{exact.quantize(MILLIONTH, ROUND_CEILING if up else ROUND_HALF_EVEN):f}"
    return text[:-3] + text[-3:].rstrip("0")


def csv_text(lines: Iterable[Line]) -> str:
    """Lines as CSV with a header.

    Args:
        lines: in their order.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for line in lines:
        guarded = line._replace(
            sku=harmless(line.sku), description=harmless(line.description), needed_for=harmless(line.needed_for)
        )
        writer.writerow(guarded)
    return out.getvalue()
