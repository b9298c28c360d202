"""What came of the items: each one's answer or problem, and how they are written as JSON and as lines."""

from collections.abc import Callable, Iterator
from typing import Any, Final, NamedTuple

import msgspec
from msgspec import UNSET, UnsetType

from service.calculations.registry import Calculation
from service.calculations.shared.faults import Fault, Refusal
from service.calculations.shared.messages import Answer, Reference
from service.calculations.shared.rendering import renderer
from service.http.beside import LONG
from service.http.bulk_items import Item, Items
from service.http.bulk_pace import Mark, Piece
from service.http.bulk_query import Wishes
from service.http.endpoint import failed
from service.http.problems import BODY_TOO_LARGE, Trouble, path_of, refused
from service.http.wire import Scope


class _Marked(msgspec.Struct):
    """Of an item that is refused, its mark."""

    reference: Reference | UnsetType | None = UNSET


_MARK: Final = msgspec.json.Decoder(_Marked).decode
_WRITE: Final = msgspec.json.Encoder().encode


class Result(NamedTuple):
    """What came of an item."""

    status: int
    reference: str | None
    answer: Answer | None
    document: bytes
    """Its answer or its problem as JSON."""


class Desk:
    """Calculates the items of one request, one by one.

    Attributes:
        succeeded: items answered so far.
        failed: items refused so far.
    """

    def __init__(self, calculation: Calculation[Any, Any], wishes: Wishes, scope: Scope, largest: int) -> None:
        """Make it.

        Args:
            calculation: what is asked of each item.
            wishes: how the answers are to be given.
            scope: the request.
            largest: bytes that an item may have.
        """
        self._largest = largest
        self._calculation = calculation
        self._explain = wishes.explain
        self._write: Callable[[object], bytes] = renderer(wishes.units, wishes.digits)
        self._scope = scope
        self._instance = path_of(scope)
        self.succeeded = 0
        self.failed = 0

    def result(self, item: bytes | Item) -> Result:
        """What comes of an item; whatever happens to it stays with it.

        Args:
            item: as JSON, or as it came.
        """
        body = _body(item)
        try:
            if len(body) > self._largest:
                raise _too_large(len(body), self._largest)
            if not isinstance(item, bytes) and item.faults:
                raise _with_all(item, body, self._calculation)
            answer = self._calculation.run(body, explain=self._explain)
            document = self._write(answer)
        except Refusal as refusal:
            told = refusal if isinstance(item, bytes) or item.faults else _placed(item, refusal)
            return self._refused(body, refused(told))
        except Trouble as trouble:
            return self._refused(body, trouble)
        except Exception:  # whatever it is, it is one item's, and the log gets the rest
            return self._refused(body, failed(self._scope))
        self.succeeded += 1
        reference = answer.reference
        return Result(200, None if reference is UNSET else reference, answer, document)

    def _refused(self, body: bytes, trouble: Trouble) -> Result:
        self.failed += 1
        return Result(trouble.kind.status, _mark(body), None, trouble.document(self._instance))


def is_long(item: bytes | Item) -> bool:
    """Whether what comes of an item may take so long that others should not wait for it."""
    return len(_body(item)) > LONG


def _body(item: bytes | Item) -> bytes:
    return item if isinstance(item, bytes) else item.body


def _too_large(size: int, most: int) -> Trouble:
    detail = f"The item has {size} bytes, and at most {most} ({most >> 20} MiB) are taken for one."
    return Trouble(BODY_TOO_LARGE, detail)


def _mark(body: bytes) -> str | None:
    """The mark of an item that is refused, where it can be read and is told once."""
    if body.count(b'"reference"') > 1:
        return None
    try:
        reference = _MARK(body).reference
    except (msgspec.MsgspecError, ValueError, RecursionError):
        return None
    return None if reference is UNSET else reference


def _with_all(item: Item, body: bytes, calculation: Calculation[Any, Any]) -> Refusal:
    """The refusal of an item with cells that cannot be read, which tells what else is wrong with it."""
    known = [str(fault.pointer) for fault in item.faults]
    try:
        calculation.run(body)
    except Refusal as refusal:
        if refusal.status == 400:
            # What lacks a member that cannot be read lacks nothing else.
            more = [one for one in map(item.place, refusal.faults) if not _is_part(one, known)]
            return Refusal(400, (*item.faults, *more))
    return Refusal(400, item.faults)


def _is_part(fault: Fault, known: list[str]) -> bool:
    """Whether a fault is that of something known, or of what holds it."""
    return any(one == fault.pointer or one.startswith(f"{fault.pointer}/") for one in known)


def _placed(item: Item, refusal: Refusal) -> Refusal:
    untold = refusal.count - len(refusal.faults)
    return Refusal(refusal.status, [item.place(fault) for fault in refusal.faults], untold)


def _entry(index: int, result: Result) -> bytes:
    """An item's result as JSON, put together of what is JSON already."""
    marked = b"" if result.reference is None else b'"reference":%b,' % _WRITE(result.reference)
    name = b"problem" if result.answer is None else b"result"
    return b'{"index":%d,%b"status":%d,"%b":%b}' % (index, marked, result.status, name, result.document)


def as_json(items: Items, desk: Desk, _: Wishes) -> Iterator[Piece]:
    """The answer as one JSON document, a piece for each item.

    Args:
        items: looked through already.
        desk: calculates them.
    """
    yield b'{"results":['
    comma = b""
    for index, item in enumerate(items.each()):
        if is_long(item):
            yield Mark.LONG
        yield comma + _entry(index, desk.result(item))
        comma = b","
    yield b'],"succeeded":%d,"failed":%d}' % (desk.succeeded, desk.failed)


def as_lines(items: Items, desk: Desk, _: Wishes) -> Iterator[Piece]:
    """The answer as a line for each item.

    Args:
        items: looked through already.
        desk: calculates them.
    """
    for index, item in enumerate(items.each()):
        if is_long(item):
            yield Mark.LONG
        yield _entry(index, desk.result(item)) + b"\n"
