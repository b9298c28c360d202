"""Long calculations beside the event loop, so that whoever calls meanwhile is served.

One thread makes them, one after the other: on one core several would not be done sooner, and each that runs at once
makes the loop wait for its turn once more.
"""

import asyncio
import gc
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from threading import Lock
from time import perf_counter
from typing import Final, Generic, ParamSpec, TypeVar

LONG: Final = 8192
"""Bytes of the longest request that is calculated on the loop: it takes some milliseconds at most."""
P = ParamSpec("P")
R = TypeVar("R")
_THREAD: Final = ThreadPoolExecutor(1, thread_name_prefix="long")


async def beside(work: Callable[P, R], *args: P.args, **named: P.kwargs) -> R:
    """Do some work beside the loop, once what was asked before is done.

    Where the caller is cut off first, work that has not begun is never done; what has begun goes on to its end.

    Args:
        work: what is to be done; knows nothing of the loop.
        args: what it is called with.
        named: what it is called with by name.
    """
    return await asyncio.get_running_loop().run_in_executor(_THREAD, lambda: _undisturbed(work, *args, **named))


def _undisturbed(work: Callable[P, R], *args: P.args, **named: P.kwargs) -> R:
    """Do some work without a collection of garbage in its midst.

    It would look through all that the work holds, again and again, and keep everybody waiting meanwhile.
    """
    gc.disable()
    try:
        return work(*args, **named)
    finally:
        gc.enable()


def timed(work: Callable[P, R], *args: P.args, **named: P.kwargs) -> tuple[R, float]:
    """Do some work, and take its time.

    Returns:
        What came of it, and how long it took [s].
    """
    began = perf_counter()
    result = work(*args, **named)
    return result, perf_counter() - began


class Later(Generic[R]):
    """Something that takes long to make and is not always wanted: made beside the loop when it is first asked for.

    Whoever asks meanwhile waits for the same making, on whatever loop, and is told of the same failure. One who is cut
    off ends it for nobody else. A failure is not kept: who asks after it has it made anew.
    """

    def __init__(self, make: Callable[[], R]) -> None:
        """Make nothing yet.

        Args:
            make: makes it; knows nothing of the loop.
        """
        self._make = make
        self._making: Future[R] | None = None
        self._begin = Lock()

    async def get(self) -> R:
        """What was made, once."""
        with self._begin:  # loops of several threads may ask
            making = self._making
            if making is None or (making.done() and making.exception() is not None):
                making = self._making = _THREAD.submit(_undisturbed, self._make)
        return making.result() if making.done() else await asyncio.shield(asyncio.wrap_future(making))
