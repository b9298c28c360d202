"""Members that a JSON object holds twice: which one was meant, nobody can tell, so they are refused.

JSON decoders keep the last one in silence. A quick sieve tells nearly every sound body apart; only what it holds back
is read again by a decoder that shows every member.
"""

import json
from typing import Any, Final

import msgspec

from service.calculations.faults import Fault

_decode: Final = msgspec.json.Decoder().decode
_encode: Final = msgspec.json.Encoder().encode


def pointer(base: str, step: str | int) -> str:
    """A JSON Pointer, one step further (RFC 6901)."""
    return f"{base}/{str(step).replace('~', '~0').replace('/', '~1')}"


def may_repeat(body: bytes) -> bool:
    """Whether a member may stand twice in a body that is sound JSON.

    Every member has a colon, and decoding drops all but the last of equal members: the body then shows more colons
    than what it decodes to. A colon written as an escape would hide that, and is held back as well.
    """
    return body.count(b":") != _encode(_decode(body)).count(b":") or b"\\u003" in body


class _Object(dict[str, Any]):
    """An object that remembers which of its members stood twice."""

    def __init__(self, members: list[tuple[str, Any]]) -> None:
        super().__init__(members)
        seen: set[str] = set()
        self.twice = [name for name, _ in members if name in seen or seen.add(name)]  # type: ignore[func-returns-value]


def repeated_members(body: bytes) -> list[Fault]:
    """A fault for each member that stands twice in an object of a body that is sound JSON."""
    try:
        said = json.loads(body, object_pairs_hook=_Object)
    except (ValueError, RecursionError):
        return []  # what msgspec reads and json does not is judged by its shape alone
    faults: list[Fault] = []
    _look(said, "", faults)
    return faults


def _look(said: Any, at: str, faults: list[Fault]) -> None:
    if isinstance(said, _Object):
        faults.extend(
            Fault("repeated-member", f"{name[:40]!r} is given twice", "give it once", pointer(at, name[:60]))
            for name in dict.fromkeys(said.twice)
        )
        for name, value in said.items():
            _look(value, pointer(at, name[:60]), faults)
    elif isinstance(said, list):
        for index, value in enumerate(said):
            _look(value, pointer(at, index), faults)
