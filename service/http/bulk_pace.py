"""Long work in short slices, so that whoever calls meanwhile is served as if nothing went on.

A request needs a few turns of the event loop, and in each of them waits for the slice that is running. So slices are
short, and of all the long works at most one has a slice in a turn. What cannot be cut is done beside the loop.
"""

import asyncio
from collections.abc import AsyncIterator, Iterator
from enum import Enum
from time import perf_counter
from typing import Final

from service.http.beside import beside, timed
from service.http.metrics import Meter

SLICE: Final = 0.00015
"""Seconds after which a slice ends [s], as soon as its item does: many an item takes longer, and is a slice itself."""


class Mark(Enum):
    """What a work brings forth beside bytes."""

    LONG = "the next piece takes long"
    END = "there is no more"


Piece = bytes | Mark


class Pace:
    """Lets the long works of an application take turns."""

    def __init__(self) -> None:
        self._turn = asyncio.Lock()  # first come, first served

    async def pieces(self, work: Iterator[Piece], meter: Meter) -> AsyncIterator[bytes]:
        """What a work brings forth, a slice's yield at a time, which may be nothing.

        Args:
            work: what it does between two of its pieces is never interrupted.
            meter: counts the time it takes.
        """
        piece: Piece = b""
        while piece is not Mark.END:
            made: list[bytes] = []
            if piece is Mark.LONG:
                piece, seconds = await beside(timed, _next, work)
                meter.worked(seconds, 0)
                if isinstance(piece, bytes):
                    made.append(piece)
            else:
                async with self._turn:
                    began = now = perf_counter()
                    while now < began + SLICE:
                        piece = _next(work)
                        if isinstance(piece, Mark):
                            break
                        made.append(piece)
                        now = perf_counter()
                    meter.worked(perf_counter() - began, 0)
                    await asyncio.sleep(0)
            yield b"".join(made)


def _next(work: Iterator[Piece]) -> Piece:
    return next(work, Mark.END)
