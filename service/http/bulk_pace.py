"""Long work in short slices, so that whoever calls meanwhile is served as if nothing went on.

A request needs a few turns of the event loop, and in each of them waits for the slice that is running. So slices are
short, and of all the long works at most one has a slice in a turn.
"""

import asyncio
from collections.abc import AsyncIterator, Iterator
from time import perf_counter
from typing import Final

from service.http.metrics import Meter

SLICE: Final = 0.00015
"""Seconds of a slice [s]: a few items; one that takes longer is not interrupted."""


class Pace:
    """Lets the long works of an application take turns."""

    def __init__(self) -> None:
        self._turn = asyncio.Lock()  # first come, first served

    async def pieces(self, work: Iterator[bytes], meter: Meter) -> AsyncIterator[bytes]:
        """What a work brings forth, a slice's yield at a time, which may be nothing.

        Args:
            work: what it does between two of its pieces is never interrupted.
            meter: counts the time it takes.
        """
        more = True
        while more:
            made: list[bytes] = []
            async with self._turn:
                began = now = perf_counter()
                while now < began + SLICE:
                    piece = next(work, None)
                    if piece is None:
                        more = False
                        break
                    made.append(piece)
                    now = perf_counter()
                meter.worked(perf_counter() - began, 0)
                await asyncio.sleep(0)
            yield b"".join(made)
