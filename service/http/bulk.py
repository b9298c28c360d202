"""Many items at once over HTTP: read whole, calculated in slices, and answered while the caller reads.

Nothing is sent before the whole body is looked through, so that its faults are a problem of their own. From then on
the status is 200, and what is wrong with an item is told in its place.
"""

import asyncio
from collections.abc import AsyncIterator, Iterator
from contextlib import suppress
from typing import Any, Final

from service.calculations.registry import Calculation
from service.calculations.shared.faults import Fault, Refusal
from service.http.bulk_headers import Said, read_headers
from service.http.bulk_items import MOST_ITEMS, Items, JsonItems, LineItems
from service.http.bulk_pace import Pace, Piece
from service.http.bulk_query import CSV, NDJSON, Wishes, read_wishes
from service.http.bulk_results import Desk, as_json, as_lines
from service.http.bulk_rows import RowItems
from service.http.bulk_table import as_table
from service.http.endpoint import ALLOW, failed
from service.http.gzip_coding import Packer, gunzip
from service.http.metrics import Meter
from service.http.negotiation import JSON
from service.http.operation.limits import largest_body
from service.http.operation.settings import DEFAULTS, Settings
from service.http.problems import BODY_TOO_LARGE, METHOD_NOT_ALLOWED, UNAVAILABLE, Trouble, refused
from service.http.wire import (
    App,
    Gone,
    Receive,
    Scope,
    Send,
    answer_and_part,
    answer_empty,
    answer_trouble,
    hold,
    read_body,
)

CHUNK: Final = 1 << 15
"""Bytes that are sent at a time, or a few more."""
CONTENT_TYPE: Final = {JSON: JSON.encode(), NDJSON: NDJSON.encode(), CSV: b"text/csv; charset=utf-8; header=present"}
VARY: Final = (b"vary", b"Accept, Accept-Encoding")
_ASK: Final = "Send the items with POST; /docs shows how."
_FEWER: Final = "Send fewer items at once."


def bulk_endpoint(
    calculation: Calculation[Any, Any], data_version: str, meter: Meter, pace: Pace, settings: Settings = DEFAULTS
) -> App:
    """The ASGI application that serves many items of one calculation.

    Args:
        calculation: the calculation.
        data_version: of the reference data.
        meter: counts the time that calculating takes, and the answers.
        pace: shares the time with the other long works of the application.
        settings: what the operator says.
    """
    versioned = (b"data-version", data_version.encode())

    async def serve(scope: Scope, receive: Receive, send: Send) -> None:
        call = _Call(scope, receive, send, settings=settings, pace=pace, meter=meter)
        try:
            method: str = scope["method"]
            if method == "OPTIONS":
                await answer_empty(send, ALLOW)
                return
            if method != "POST":
                raise Trouble(METHOD_NOT_ALLOWED, f"{method[:20]} is not known here. {_ASK}", headers=ALLOW)
            await call.serve(calculation, versioned)
        except Refusal as refusal:
            await answer_trouble(scope, send, refused(refusal, (versioned,)))
        except Trouble as trouble:
            if trouble.kind in {BODY_TOO_LARGE, UNAVAILABLE} and call.gone is None:  # before the whole body was read
                await answer_and_part(scope, receive, send, trouble)
            else:
                await answer_trouble(scope, send, trouble)
        except Gone:
            return
        except Exception:  # whatever it is, the caller gets a problem document and the log the rest
            failure = failed(scope)
            if call.started:
                raise  # the server breaks the connection off: the caller sees that the end is missing
            await answer_trouble(scope, send, failure)
        finally:
            await call.end()

    return serve


class _Call:
    """One request on its way.

    Attributes:
        started: whether the answer has begun.
        gone: done as soon as the caller leaves; None until the whole body has come.
    """

    def __init__(
        self, scope: Scope, receive: Receive, send: Send, *, pace: Pace, meter: Meter, settings: Settings
    ) -> None:
        self._scope = scope
        self._receive = receive
        self._send = send
        self._pace = pace
        self._meter = meter
        self._settings = settings
        self.started = False
        self.gone: asyncio.Future[Any] | None = None

    async def serve(self, calculation: Calculation[Any, Any], versioned: tuple[bytes, bytes]) -> None:
        """Read, calculate and answer.

        Raises:
            Refusal, Trouble: before the answer has begun.
            Gone: the caller left.
        """
        wishes, faults = read_wishes(self._scope["query_string"])
        said = read_headers(self._scope["headers"], wishes, faults)
        items = await self._items(said, calculation, wishes, faults)
        desk = Desk(calculation, wishes, self._scope, largest_body(calculation, self._settings))
        head = [(b"content-type", CONTENT_TYPE[said.answered]), VARY, versioned]
        if said.pack:
            head.append((b"content-encoding", b"gzip"))
        await self._answer(written_as(said.answered, items, desk, wishes), head, Packer() if said.pack else None)
        self._meter.worked(0.0, desk.succeeded)

    async def _items(
        self, said: Said, calculation: Calculation[Any, Any], wishes: Wishes, faults: list[Fault]
    ) -> Items:
        """The items of the body, which is read and looked through.

        Raises:
            Refusal: with the faults of the query and those of the whole body.
        """
        largest = self._settings.largest_bulk_body
        body = await read_body(self._scope, self._receive, said.declared, largest, _FEWER)
        self.gone = asyncio.ensure_future(self._receive())  # nothing more comes but that the caller leaves
        try:
            if said.packed:
                packed = len(body)
                body = await gunzip(body, largest, _FEWER, lambda size: hold(self._scope, packed + size))
            items = items_of(said.media, body, calculation, wishes, self._settings.most_items)
            async for _ in self._pieces(b"" for _ in items.look()):
                pass
        except Refusal as refusal:
            raise Refusal(400, (*faults, *refusal.faults), refusal.count - len(refusal.faults)) from None
        if faults:
            raise Refusal(400, faults)
        return items

    async def _answer(self, work: Iterator[Piece], head: list[tuple[bytes, bytes]], packer: Packer | None) -> None:
        """Send what a work brings forth, as fast as it is made and the caller reads it."""
        ready = bytearray()
        async for piece in self._pieces(work):
            if piece and not self.started:
                self.started = True
                await self._send({"type": "http.response.start", "status": 200, "headers": head})
            ready += piece if packer is None else packer.pack(piece)
            if len(ready) >= CHUNK:
                await self._send({"type": "http.response.body", "body": bytes(ready), "more_body": True})
                ready.clear()
        if packer is not None:
            ready += packer.end()
        await self._send({"type": "http.response.body", "body": bytes(ready), "more_body": False})

    async def _pieces(self, work: Iterator[Piece]) -> AsyncIterator[bytes]:
        """What a work brings forth, as long as the caller is there."""
        async for piece in self._pace.pieces(work, self._meter):
            if self.gone is not None and self.gone.done():
                raise Gone
            yield piece

    async def end(self) -> None:
        """Stop waiting for the caller to leave."""
        if self.gone is not None:
            self.gone.cancel()
            with suppress(asyncio.CancelledError):
                await self.gone


def items_of(
    media: str, body: bytes, calculation: Calculation[Any, Any], wishes: Wishes, most: int = MOST_ITEMS
) -> Items:
    """The items of a body, not looked through yet.

    Args:
        media: what the body is read as.
        body: unpacked.
        calculation: what is asked of each.
        wishes: what the query says.
        most: items there may be.
    """
    if media == JSON:
        return JsonItems(body, most)
    return LineItems(body, most) if media == NDJSON else RowItems(body, calculation.request, wishes, most)


def written_as(media: str, items: Items, desk: Desk, wishes: Wishes) -> Iterator[Piece]:
    """What comes of items, in pieces.

    Args:
        media: media type of the answer.
        items: looked through already.
        desk: calculates them.
        wishes: what the query says.
    """
    return _WRITERS[media](items, desk, wishes)


_WRITERS: Final = {JSON: as_json, NDJSON: as_lines, CSV: as_table}
