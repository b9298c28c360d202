"""The items of a body, as JSON or a line each: where one ends and the next begins, and no more.

What an item says is read by its calculation, as in a single call, so that faults are the same and stay its own. What
makes it uncertain where an item ends is a fault of the whole request.
"""

import re
from collections.abc import Iterator
from typing import Any, Final, Protocol

import msgspec

from service.calculations.shared.decoding import BYTE_ORDER_MARK
from service.calculations.shared.faults import MOST_FAULTS, Fault, Refusal, meant, nearest, quoted
from service.calculations.shared.not_json import not_json
from service.calculations.shared.reading import json_name
from service.calculations.shared.repeats import pointer
from service.http.operation.settings import DEFAULTS

MOST_ITEMS: Final = DEFAULTS.most_items
_MANY_COMMAS: Final = 500_000
"""A body with more is counted item by item before it is taken apart: it may hold millions."""
_MOST_COMMAS: Final = 3_000_000
"""A body with more is not taken apart at all: of 32 MiB that is one in eleven bytes, and no sound item has so many."""
_LONGEST: Final = 4 << 20
"""Bytes of an item that is passed over in counting."""
_LARGE: Final = 1 << 20
"""Bytes of a body above which what is wrong around the items is told shortly: it may hold millions of members."""
_SLICE: Final = 1 << 14
"""Lines looked at between two pauses."""


class Item(Protocol):
    """An item as it came in a form that is not JSON."""

    body: bytes
    """The same as JSON."""
    faults: list[Fault]
    """What is wrong with it already; without any, it is calculated."""

    def place(self, fault: Fault) -> Fault:
        """A fault, with where in that form it is."""


class Items(Protocol):
    """The items of a body."""

    def look(self) -> Iterator[None]:
        """Look through the whole body, with pauses.

        Raises:
            Refusal: with the faults of the whole.
        """

    def each(self) -> Iterator[bytes | Item]:
        """Every item in its order."""


def too_many(found: str, at: Fault, most: int) -> Refusal:
    """The refusal of a body that holds more than is taken.

    Args:
        found: how many there are.
        at: a fault that says where.
        most: items that are taken.
    """
    detail = f"{found}, and {most} are taken at once"
    return Refusal(400, [msgspec.structs.replace(at, detail=detail)])


class _Envelope(msgspec.Struct, forbid_unknown_fields=True):
    items: msgspec.Raw


_OUTER: Final = msgspec.json.Decoder(_Envelope).decode
_INNER: Final = msgspec.json.Decoder(list[msgspec.Raw]).decode
_MEMBERS: Final = msgspec.json.Decoder(dict[str, msgspec.Raw]).decode
_HEAD: Final = re.compile(rb'\s*\{\s*"(?:[^"\\]|\\.)*"\s*:\s*')
_MANY: Final = Fault("too-many", "", "send them in several requests", "/items")
_WRAP: Final = 'write {"items": [...]} with a request in each place'


class JsonItems:
    """The items of `{"items": [...]}`."""

    def __init__(self, body: bytes, most: int = MOST_ITEMS) -> None:
        self._most = most
        self._body = body.removeprefix(BYTE_ORDER_MARK)
        self._items: list[msgspec.Raw] = []

    def look(self) -> Iterator[None]:
        """Take the list apart."""
        yield
        body = self._body
        try:
            commas = body.count(b",")
            if commas > _MOST_COMMAS:
                raise too_many(f"there are {commas} commas", _MANY, _MOST_COMMAS)
            items = _OUTER(body).items
            self._only(items)
            yield
            if commas > _MANY_COMMAS and holds_more(items, self._most):
                raise too_many(f"there are more than {self._most} items", _MANY, self._most)
            self._items = _INNER(items)
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError, ValueError) as error:
            raise Refusal(400, _outer_faults(body, error)) from None
        if len(self._items) > self._most:
            raise too_many(f"there are {len(self._items)} items", _MANY, self._most)
        if not self._items:
            raise Refusal(400, [Fault("too-few", "there are no items", "give at least one", "/items")])
        self._body = b""

    def each(self) -> Iterator[bytes]:
        """Every item in its order."""
        return map(bytes, self._items)

    def _only(self, items: msgspec.Raw) -> None:
        """Decoders keep the last of equal members in silence: so nothing else may stand around the list."""
        end = self._body.rstrip()[:-1].rstrip()
        size = len(bytes(items).strip())
        if not _HEAD.fullmatch(self._body, 0, len(end) - size):
            detail = "'items' is given twice, and nothing tells which one is meant"
            raise Refusal(400, [Fault("repeated-member", detail, "give it once", "/items")])


_TEXT: Final = rb'"[^"\\]*+(?:\\.[^"\\]*+)*+"'


def _nested(levels: int) -> bytes:
    inner = rb"|" + _nested(levels - 1) if levels else b""
    plain = rb'[^"\[\]{}]*+'
    return rb"[\[{]" + plain + rb"(?:(?:" + _TEXT + inner + rb")" + plain + rb")*+[\]}]"


_ITEM: Final = re.compile(rb"\s*+(?:" + _nested(24) + rb"|" + _TEXT + rb'|[^\s,\[\]{}"]++)\s*+([,\]])', re.DOTALL)
"""An item, and what follows it; no request nests as deeply."""


def holds_more(items: msgspec.Raw, most: int) -> bool:
    """Whether a list of sound JSON holds more items, found without making them.

    Args:
        items: the list, which is not empty.
        most: items there may be.

    Raises:
        Refusal: an item is too large to be passed over.
        RecursionError: one nests too deeply for that.
    """
    body = bytes(items)
    at = body.index(b"[") + 1
    for index in range(most):
        found = _ITEM.match(body, at, at + _LONGEST)
        if found is None:
            if len(body) - at <= _LONGEST:
                raise RecursionError
            detail = f"the item nests deeply, or has more than {_LONGEST >> 20} MiB"
            raise Refusal(400, [Fault("too-many", detail, "send it in a request of its own", f"/items/{index}")])
        if found[1] == b"]":
            return False
        at = found.end()
    return True


def _outer_faults(body: bytes, error: Exception) -> list[Fault]:
    """What is wrong around the items."""
    if isinstance(error, RecursionError):
        mend = "take brackets away: no request needs more than ten levels"
        return [Fault("malformed-json", "the body is nested too deeply", mend, "")]
    if not isinstance(error, msgspec.ValidationError):
        return [not_json(body, str(error))]
    if len(body) > _LARGE:
        return [Fault("wrong-type", "the body is not a list of items under 'items' alone", _WRAP, "")]
    try:
        members: Any = _MEMBERS(body)
    except (msgspec.MsgspecError, ValueError):
        return [Fault("wrong-type", f"an object is due here, not {_name(body)}", _WRAP, "")]
    faults = []
    for name in members:
        if name != "items":
            close = nearest(name, ("items",))
            mend = "write 'items'" if close else "put it into each item, or into the address; here only items stands"
            detail = f"there is no member {quoted(name)} here{meant(close)}"
            faults.append(Fault("unknown-member", detail, mend, pointer("", name[:60])))
    if "items" not in members:
        faults.append(Fault("missing-member", "items is missing", _WRAP, "/items"))
    elif not bytes(members["items"]).startswith(b"["):
        named = _name(members["items"])
        faults.append(Fault("wrong-type", f"a list is due here, not {named}", "write it in brackets: [...]", "/items"))
    return faults[:MOST_FAULTS]


def _name(body: bytes | msgspec.Raw) -> str:
    """What JSON calls a value, told by how it begins."""
    first = bytes(body).lstrip()[:1]
    kinds: dict[bytes, object] = {b"[": [], b"{": {}, b'"': "", b"n": None, b"t": True, b"f": False}
    return json_name(kinds.get(first, 0))


_LINE: Final = re.compile(rb"\s{0,65536}+(\S[^\n]*+)?")
"""The next line that is not blank, or a part of what is blank before it. It always fits, so that no part of the body is
looked at twice: looking for a line behind blank ones anew from each of them takes the square of their number."""


class LineItems:
    """Items of a line each (NDJSON, JSON Lines); blank lines are passed over."""

    def __init__(self, body: bytes, most: int = MOST_ITEMS) -> None:
        self._most = most
        self._body = body.removeprefix(BYTE_ORDER_MARK)
        self._spans: list[tuple[int, int]] = []

    def look(self) -> Iterator[None]:
        """Find the lines, and count them."""
        spans = self._spans
        spans.clear()
        for found in _LINE.finditer(self._body):
            if found[1] is not None:
                spans.append(found.span(1))
                if len(spans) > self._most:
                    line = self._body.count(b"\n", 0, found.start(1)) + 1
                    at = Fault("too-many", "", "send them in several requests", line=line)
                    raise too_many(f"there are more than {self._most} lines", at, self._most)
            if found[1] is None or len(spans) % _SLICE == 0:
                yield
        if not spans:
            detail = "the body is empty" if not self._body else "every line of the body is blank"
            raise Refusal(400, [Fault("too-few", detail, "give an item on each line", line=1)])
        yield

    def each(self) -> Iterator[bytes]:
        """Every line in its order, once they are found."""
        return (self._body[start:end] for start, end in self._spans)
