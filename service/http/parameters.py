"""The query parameters that every calculation takes."""

import re
from collections.abc import Iterator
from typing import Final, NamedTuple, cast
from urllib.parse import unquote_plus

from service.calculations.faults import Fault, FaultCode, near
from service.calculations.rendering import MOST_DIGITS, UnitSystem

UNIT_SYSTEMS: Final = ("metric", "us")
FORMATS: Final = ("json",)
TRUTHS: Final = ("true", "false")
PARAMETERS: Final = ("units", "digits", "explain", "format")

_MOST_PARAMETERS: Final = 100
_DIGITS: Final = re.compile(r"[1-9][0-9]?")


class Wishes(NamedTuple):
    """How the answer is to be given."""

    units: UnitSystem = "metric"
    digits: int | None = None
    explain: bool = False
    format: str | None = None


DEFAULT: Final = Wishes()


def read_query(query: bytes) -> tuple[Wishes, list[Fault]]:
    """Read the query of an address.

    Returns:
        What is wished, and every fault found.
    """
    if not query:
        return DEFAULT, []
    faults: list[Fault] = []
    found: dict[str, str] = {}
    for name, value in _pairs(query):
        if name not in PARAMETERS:
            known = ", ".join(PARAMETERS)
            detail = f"there is no parameter {name[:40]!r}{near(name, PARAMETERS)}"
            faults.append(_fault("unknown-parameter", name, detail, f"known here: {known}"))
        elif name in found:
            faults.append(_fault("repeated-parameter", name, f"{name} is given more than once", "give it once"))
        else:
            found[name] = value
    units = _one_of("units", UNIT_SYSTEMS, found, faults)
    wanted = _one_of("format", FORMATS, found, faults)
    explain = _one_of("explain", TRUTHS, found, faults)
    digits = _digits(found, faults)
    return Wishes(cast("UnitSystem", units or "metric"), digits, explain == "true", wanted), faults


def _pairs(query: bytes) -> Iterator[tuple[str, str]]:
    parts = [part for part in query.decode("ascii", "replace").split("&") if part]
    for part in parts[:_MOST_PARAMETERS]:
        name, _, value = part.partition("=")
        yield unquote_plus(name), unquote_plus(value)


def _one_of(name: str, known: tuple[str, ...], found: dict[str, str], faults: list[Fault]) -> str | None:
    value = found.get(name)
    if value is None or value in known:
        return value
    detail = f"{value[:40]!r} is not known for {name}{near(value, known)}"
    faults.append(_fault("invalid-parameter", name, detail, f"write {' or '.join(f'{name}={word}' for word in known)}"))
    return None


def _digits(found: dict[str, str], faults: list[Fault]) -> int | None:
    value = found.get("digits")
    if value is None:
        return None
    if _DIGITS.fullmatch(value) and int(value) <= MOST_DIGITS:
        return int(value)
    detail = f"{value[:40]!r} is not a whole number from 1 to {MOST_DIGITS}"
    faults.append(_fault("invalid-parameter", "digits", detail, "write digits=6, or leave it out"))
    return None


def _fault(code: FaultCode, name: str, detail: str, mend: str) -> Fault:
    return Fault(code, detail, mend, parameter=name[:60])
