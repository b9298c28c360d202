"""The query parameters that every calculation takes."""

import re
from typing import Final, NamedTuple, cast
from urllib.parse import unquote_plus

from service.calculations.faults import Fault, FaultCode, meant, near, nearest, quoted
from service.calculations.rendering import MOST_DIGITS, UnitSystem

UNIT_SYSTEMS: Final = ("metric", "us")
FORMATS: Final = ("json",)
TRUTHS: Final = ("true", "false")
PARAMETERS: Final = ("units", "digits", "explain", "format")

_KNOWN: Final = "units, digits, explain and format"
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
    pairs = _pairs(query)
    for name, value in pairs[:_MOST_PARAMETERS]:
        if name not in PARAMETERS:
            faults.append(_unknown(name))
        elif name in found:
            faults.append(_fault("repeated-parameter", name, f"{name} is given more than once", "give it once"))
        else:
            found[name] = value
    if len(pairs) > _MOST_PARAMETERS:
        detail = f"the query has {len(pairs)} parameters, and only the first {_MOST_PARAMETERS} were looked at"
        faults.append(_fault("too-many", pairs[_MOST_PARAMETERS][0], detail, f"give each of {_KNOWN} once at most"))
    units = _one_of("units", UNIT_SYSTEMS, found, faults)
    wanted = _one_of("format", FORMATS, found, faults)
    explain = _one_of("explain", TRUTHS, found, faults)
    digits = _digits(found, faults)
    return Wishes(cast("UnitSystem", units or "metric"), digits, explain == "true", wanted), faults


def stray_parameters(query: bytes) -> list[Fault]:
    """A fault for every parameter of an address that takes none."""
    pairs = _pairs(query)
    faults = [
        _fault(
            "unknown-parameter",
            name,
            f"{_shown(name)} is given, and this page takes no parameters",
            "leave it out" if name not in PARAMETERS else f"leave it out; {name} goes to the calculations, below /v1/",
        )
        for name, _ in pairs[:_MOST_PARAMETERS]
    ]
    if len(pairs) > _MOST_PARAMETERS:
        detail = f"the query has {len(pairs)} parameters, and this page takes none"
        faults.append(_fault("too-many", pairs[_MOST_PARAMETERS][0], detail, "leave them out"))
    return faults


def _unknown(name: str) -> Fault:
    close = nearest(name, PARAMETERS)
    return _fault(
        "unknown-parameter",
        name,
        f"there is no parameter {_shown(name)}{meant(close)}",
        f"write {close[0]}" if len(close) == 1 else f"use {_KNOWN}; what is calculated goes into the body",
    )


def _shown(name: str) -> str:
    return quoted(name) if name else "without a name"


def _pairs(query: bytes) -> list[tuple[str, str]]:
    """Names and values, as they are written; what is no UTF-8 becomes a mark that no known name holds."""
    parts = [part for part in query.decode("ascii", "replace").split("&") if part]
    cut = [part.partition("=") for part in parts]
    return [(unquote_plus(name), unquote_plus(value)) for name, _, value in cut]


def _one_of(name: str, known: tuple[str, ...], found: dict[str, str], faults: list[Fault]) -> str | None:
    value = found.get(name)
    if value is None or value in known:
        return value
    detail = f"{quoted(value)} is not known for {name}{near(value, known)}" if value else f"{name} has no value"
    faults.append(_fault("invalid-parameter", name, detail, f"write {' or '.join(f'{name}={word}' for word in known)}"))
    return None


def _digits(found: dict[str, str], faults: list[Fault]) -> int | None:
    value = found.get("digits")
    if value is None:
        return None
    if _DIGITS.fullmatch(value) and int(value) <= MOST_DIGITS:
        return int(value)
    detail = f"{quoted(value)} is not a whole number from 1 to {MOST_DIGITS}" if value else "digits has no value"
    faults.append(_fault("invalid-parameter", "digits", detail, "write digits=6, or leave it out"))
    return None


def _fault(code: FaultCode, name: str, detail: str, mend: str) -> Fault:
    return Fault(code, detail, mend, parameter=name[:60])
