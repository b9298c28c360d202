"""The query parameters of many items at once: those of a single call, and the formats of a table."""

from typing import Final, NamedTuple, cast

from service.calculations.shared.faults import Fault
from service.calculations.shared.rendering import UnitSystem
from service.http import calculation_query
from service.http.catalogue_table import DecimalSign
from service.http.negotiation import JSON
from service.http.parameters import Parameter, read

NDJSON, CSV = "application/x-ndjson", "text/csv"
MEDIA: Final = {"json": JSON, "ndjson": NDJSON, "csv": CSV}
"""Media types by the words of the parameter `format`."""

OWN: Final = (
    Parameter(
        "format",
        "Format of the answer; wins over the header Accept. Where neither says it, it is that of the request.",
        "csv",
        choices=tuple(MEDIA),
    ),
    Parameter(
        "decimal",
        "Decimal sign of the numbers in CSV, in the request as in the answer; with a comma the columns are separated "
        "by semicolons.",
        "comma",
        choices=("point", "comma"),
        default="point",
    ),
)
"""Parameters that single calls do not have, or have otherwise."""
PARAMETERS: Final = (*(one for one in calculation_query.PARAMETERS if one.name != "format"), *OWN)


class Wishes(NamedTuple):
    """How the answers are to be given."""

    units: UnitSystem
    digits: int | None
    explain: bool
    format: str | None
    decimal: DecimalSign

    @property
    def delimiter(self) -> str:
        """What separates the columns of a table."""
        return ";" if self.decimal == "comma" else ","


def read_wishes(query: bytes) -> tuple[Wishes, list[Fault]]:
    """Read the query of an address.

    Args:
        query: as it was sent.

    Returns:
        What is wished, and every fault found.
    """
    found, faults = read(query, PARAMETERS, beside="; what is calculated goes into the body")
    wishes = Wishes(
        cast("UnitSystem", found.get("units", "metric")),
        int(found["digits"]) if "digits" in found else None,
        found.get("explain") == "true",
        found.get("format"),
        cast("DecimalSign", found.get("decimal", "point")),
    )
    return wishes, faults
