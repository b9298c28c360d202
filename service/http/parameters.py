"""Query parameters: what each takes, for reading an address and for the contract alike.

Parameter           what one takes
read                the parameters of an address that takes some
stray_parameters    those of an address that takes none
"""

from collections.abc import Sequence
from typing import Any, Final, NamedTuple
from urllib.parse import unquote_plus

from service.calculations.shared.faults import Fault, FaultCode, meant, near, nearest, quoted

TAKES_PARAMETERS: Final = "takes_parameters"
"""Key in the `opt` of the handler of a page that takes parameters, and so checks them itself."""

_MOST_PARAMETERS: Final = 100
_SHOWN_CHOICES: Final = 12
_LONGEST_NAME: Final = 60
_LONGEST_NUMBER: Final = 6
"""Digits of a whole number; no parameter takes as many."""


class Parameter(NamedTuple):
    """A query parameter: a word of some, true or false, a whole number, or a text."""

    name: str
    description: str
    example: Any
    choices: tuple[str, ...] = ()
    truth: bool = False
    """Whether it is true or false, which are then its choices."""
    whole: tuple[int, int] | None = None
    """Least and most, where it is a whole number."""
    length: tuple[int, int] | None = None
    """Least and most characters, where it is a text."""
    default: Any = None
    pattern: str = ""
    """The form of a text, told in the contract; what does not have it is refused by who reads the text."""
    required: bool = False

    def schema(self) -> dict[str, Any]:
        """What it takes, as the contract says it."""
        schema: dict[str, Any] = {"type": "string"}
        if self.truth:
            schema = {"type": "boolean"}
        elif self.choices:
            schema["enum"] = list(self.choices)
        elif self.whole:
            schema = {"type": "integer", "minimum": self.whole[0], "maximum": self.whole[1]}
        elif self.length:
            schema |= {"minLength": self.length[0], "maxLength": self.length[1]}
            if self.pattern:
                schema["pattern"] = self.pattern
        return schema if self.default is None else {**schema, "default": self.default}

    def component(self) -> dict[str, Any]:
        """All that the contract says of it."""
        return {
            "name": self.name,
            "in": "query",
            "description": self.description,
            **({"required": True} if self.required else {}),
            "schema": self.schema(),
            "example": self.example,
        }

    def fault(self, value: str) -> Fault | None:
        """What is wrong with a value."""
        found = self._wrong(value)
        return None if found is None else _fault("invalid-parameter", self.name, *found)

    def _wrong(self, value: str) -> tuple[str, str] | None:
        """What is wrong with a value, and how to mend it."""
        name = self.name
        if self.length:
            least, most = self.length
            if least <= len(value) <= most:
                return None
            detail = f"{name} has {len(value)} characters, and {least} to {most} are taken"
            return detail, "shorten it" if value else "leave it out"
        if self.whole:
            low, high = self.whole
            if _is_whole(value) and low <= int(value) <= high:
                return None
            detail = f"{quoted(value)} is not a whole number from {low} to {high}"
            return detail if value else f"{name} has no value", f"write {name}={self.example}, or leave it out"
        choices = ("true", "false") if self.truth else self.choices
        if value in choices:
            return None
        shown = " or ".join(f"{name}={word}" for word in choices[:_SHOWN_CHOICES])
        more = ", or another that the contract lists" if len(choices) > _SHOWN_CHOICES else ""
        detail = f"{quoted(value)} is not known for {name}{near(value, choices)}"
        return detail if value else f"{name} has no value", f"write {shown}{more}"


def read(query: bytes, known: Sequence[Parameter], beside: str = "") -> tuple[dict[str, str], list[Fault]]:
    """Read the query of an address.

    Args:
        query: as it was sent.
        known: the parameters there are.
        beside: where else that may belong which is no parameter, as the end of a sentence.

    Returns:
        The values of the known parameters as they are written, without those that cannot be used, and every fault.
    """
    by_name = {parameter.name: parameter for parameter in known}
    found: dict[str, str] = {}
    faults: list[Fault] = []
    pairs = _pairs(query)
    for name, value in pairs[:_MOST_PARAMETERS]:
        if name not in by_name:
            faults.append(_unknown(name, tuple(by_name), beside))
        elif name in found:
            faults.append(_fault("repeated-parameter", name, f"{name} is given more than once", "give it once"))
        else:
            found[name] = value
    if len(pairs) > _MOST_PARAMETERS:
        detail = f"the query has {len(pairs)} parameters, and only the first {_MOST_PARAMETERS} were looked at"
        mend = f"give each of {_listed(tuple(by_name))} once at most"
        faults.append(_fault("too-many", pairs[_MOST_PARAMETERS][0], detail, mend))
    for parameter in known:
        if parameter.name in found and (fault := parameter.fault(found[parameter.name])):
            faults.append(fault)
            del found[parameter.name]
    return found, faults


def stray_parameters(query: bytes, elsewhere: Sequence[str]) -> list[Fault]:
    """A fault for every parameter of an address that takes none.

    Args:
        query: as it was sent.
        elsewhere: names of the parameters that calculations take.
    """
    pairs = _pairs(query)
    faults = [
        _fault(
            "unknown-parameter",
            name,
            f"{_shown(name)} is given, and this page takes no parameters",
            "leave it out" if name not in elsewhere else f"leave it out; {name} goes to the calculations, below /v1/",
        )
        for name, _ in pairs[:_MOST_PARAMETERS]
    ]
    if len(pairs) > _MOST_PARAMETERS:
        detail = f"the query has {len(pairs)} parameters, and this page takes none"
        faults.append(_fault("too-many", pairs[_MOST_PARAMETERS][0], detail, "leave them out"))
    return faults


def _unknown(name: str, known: tuple[str, ...], beside: str) -> Fault:
    close = nearest(name, known)
    return _fault(
        "unknown-parameter",
        name,
        f"there is no parameter {_shown(name)}{meant(close)}",
        f"write {close[0]}" if len(close) == 1 else f"use {_listed(known)}{beside}",
    )


def _listed(names: tuple[str, ...]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}"


def _shown(name: str) -> str:
    return quoted(name) if name else "without a name"


def _is_whole(value: str) -> bool:
    """Whether a text is a whole number, written in plain digits without a leading 0."""
    digits = value.isascii() and value.isdigit() and len(value) <= _LONGEST_NUMBER
    return digits and (value == "0" or value[0] != "0")


def _pairs(query: bytes) -> list[tuple[str, str]]:
    """Names and values, as they are written; what is no UTF-8 becomes a mark that no known name holds."""
    parts = [part for part in query.decode("ascii", "replace").split("&") if part]
    cut = [part.partition("=") for part in parts]
    return [(unquote_plus(name), unquote_plus(value)) for name, _, value in cut]


def _fault(code: FaultCode, name: str, detail: str, mend: str) -> Fault:
    return Fault(code, detail, mend, parameter=name[:_LONGEST_NAME])
