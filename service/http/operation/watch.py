"""A watch over what is being served, so that nobody's slowness holds a place for ever.

A timer for each request would cost more than the request. So those that are running stand in a set, and once in a
while one look goes over all of them.
"""

import asyncio
from time import perf_counter
from typing import Any, Final

_LOOKS: Final = 8
"""Looks in the time that is allowed: a request is cut off an eighth of it late at most."""
_MOST_BETWEEN: Final = 1.0
"""Time between two looks at most [s]."""


class Running:
    """A request that is being served.

    Attributes:
        since: when it last got on, by the clock of `time.perf_counter` [s].
        late: whether it was cut off.
    """

    __slots__ = ("_task", "late", "since")

    def __init__(self, since: float, task: "asyncio.Task[Any] | None") -> None:
        self.since = since
        self.late = False
        self._task = task

    def cut(self, now: float) -> None:
        """Cancel it."""
        self.late = True
        self.since = now
        if self._task is not None:
            self._task.cancel()


class Watch:
    """Cancels the requests that do not get on."""

    def __init__(self, seconds: float) -> None:
        """Watch.

        Args:
            seconds: time in which a request must get on [s].
        """
        self._seconds = seconds
        self._every = min(seconds / _LOOKS, _MOST_BETWEEN)
        self._running: set[Running] = set()
        self._loop: asyncio.AbstractEventLoop | None = None

    def enter(self, now: float) -> Running:
        """Begin to watch the request of the current task.

        Args:
            now: time, by the clock of `time.perf_counter` [s].
        """
        one = Running(now, asyncio.current_task())
        self._running.add(one)
        loop = asyncio.get_running_loop()
        if loop is not self._loop:
            self._loop = loop
            loop.call_later(self._every, self._look)
        return one

    def leave(self, one: Running) -> None:
        """End to watch a request."""
        self._running.discard(one)

    def _look(self) -> None:
        if not self._running:
            self._loop = None  # the next request begins it anew
            return
        now = perf_counter()
        for one in self._running:
            if now - one.since > self._seconds:
                one.cut(now)
        if self._loop is not None:
            self._loop.call_later(self._every, self._look)
