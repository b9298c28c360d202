"""The query parameters that every calculation takes: how its answer is to be given."""

from functools import cache
from typing import Final, NamedTuple, cast

from service.calculations.shared.faults import Fault
from service.calculations.shared.rendering import MOST_DIGITS, UnitSystem
from service.http.parameters import Parameter, read

EXAMPLE_DIGITS: Final = 6
"""Digits of the answers in the contract: the last digits of a machine's own arithmetic do not belong there."""

_FORMAT: Final = "Format of the answer; wins over the header Accept."

PARAMETERS: Final = (
    Parameter(
        "units",
        "Units of the answer: g, mL, °C, kg/L, kJ; or oz, fl_oz, °F, lb/gal, kWh.",
        "metric",
        choices=("metric", "us"),
        default="metric",
    ),
    Parameter(
        "digits",
        "Significant digits of every figure; without it, all there are. Ends of an interval are rounded outwards, "
        "margins and temperatures that something may have at most down, ice that is needed and heat to remove up. "
        "Counts and steps keep their digits.",
        EXAMPLE_DIGITS,
        whole=(1, MOST_DIGITS),
    ),
    Parameter(
        "explain",
        "Answer also the steps of the calculation, to be followed with a pocket calculator; a picture has none.",
        False,
        truth=True,
        default=False,
    ),
    Parameter("format", _FORMAT, "json", choices=("json",)),
)
NAMES: Final = tuple(parameter.name for parameter in PARAMETERS)


class Wishes(NamedTuple):
    """How the answer is to be given."""

    units: UnitSystem = "metric"
    digits: int | None = None
    explain: bool = False
    format: str | None = None


DEFAULT: Final = Wishes()


@cache
def parameters(other_form: str | None) -> tuple[Parameter, ...]:
    """The parameters of a calculation.

    Args:
        other_form: word of the form that its answers have beside JSON, where there is one.
    """
    if other_form is None:
        return PARAMETERS
    choice = Parameter("format", _FORMAT, "json", choices=("json", other_form))
    return (*PARAMETERS[:-1], choice)


def read_wishes(query: bytes, other_form: str | None = None) -> tuple[Wishes, list[Fault]]:
    """Read the query of an address.

    Args:
        query: as it was sent.
        other_form: as for `parameters`.

    Returns:
        What is wished, and every fault found.
    """
    if not query:
        return DEFAULT, []
    found, faults = read(query, parameters(other_form), beside="; what is calculated goes into the body")
    return (
        Wishes(
            units=cast("UnitSystem", found.get("units", DEFAULT.units)),
            digits=int(found["digits"]) if "digits" in found else None,
            explain=found.get("explain") == "true",
            format=found.get("format"),
        ),
        faults,
    )
