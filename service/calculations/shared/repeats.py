"""Members that a JSON object holds twice: which one was meant, nobody can tell, so they are refused.

JSON decoders keep the last one in silence. A quick sieve tells nearly every sound body apart; only what it holds back
is read again by a decoder that shows every member.
"""

import json
from collections import Counter
from typing import Any, Final

import msgspec

from service.calculations.shared.faults import MOST_FAULTS, Fault, quoted

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
    return shows_more(body, _decode(body))


def shows_more(body: bytes, said: object) -> bool:
    """Whether a body shows more members than what it decodes to, or may hide some."""
    return body.count(b":") != _encode(said).count(b":") or b"\\u003" in body


class _Object(dict[str, Any]):
    """An object that stands in a body with a member twice."""

    twice: tuple[str, ...] = ()


def repeated_members(body: bytes) -> list[Fault]:
    """A fault for each member that stands twice in an object of a body that is sound JSON.

    Raises:
        ValueError, RecursionError: the body is not JSON, or nested too deeply.
    """
    any_twice = False

    def read(members: list[tuple[str, Any]]) -> dict[str, Any]:
        found = dict(members)
        if len(found) == len(members):
            return found
        nonlocal any_twice
        any_twice = True
        named = _Object(found)
        named.twice = tuple(name for name, times in Counter(name for name, _ in members).items() if times > 1)
        return named

    # Numbers are of no interest here, and reading long ones takes time.
    said = json.loads(body, object_pairs_hook=read, parse_int=len, parse_float=len)
    return _look(said) if any_twice else []


_Path = tuple["_Path", str | int] | None


def _look(root: Any) -> list[Fault]:
    """The faults in the order of the body, a hundred at most; without recursion, since a body may nest deeply.

    Args:
        root: an object or a list.
    """
    faults: list[Fault] = []
    left: list[tuple[Any, _Path]] = [(root, None)]
    while left and len(faults) < MOST_FAULTS:
        said, path = left.pop()
        if isinstance(said, dict):
            if isinstance(said, _Object):
                faults.extend(
                    Fault(
                        "repeated-member",
                        f"{quoted(name)} is given twice, and nothing tells which one is meant",
                        "give it once",
                        pointer(_written(path), name[:60]),
                    )
                    for name in said.twice[:MOST_FAULTS]
                )
            inner: list[tuple[str | int, Any]] = list(said.items())
        else:
            inner = list(enumerate(said))
        left.extend((value, (path, step)) for step, value in reversed(inner) if isinstance(value, dict | list))
    return faults[:MOST_FAULTS]


def _written(path: _Path) -> str:
    """The pointer of a path, written only where a fault lies."""
    steps: list[str | int] = []
    while path is not None:
        path, step = path
        steps.append(step)
    at = ""
    for step in reversed(steps):
        at = pointer(at, step if isinstance(step, int) else step[:60])
    return at
