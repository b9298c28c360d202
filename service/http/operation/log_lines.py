"""The log: one line of JSON for each request and for whatever else is told, on standard output.

Whoever serves only puts a line into a queue. A thread encodes and writes them some tens of milliseconds later, many at
a time: so a reader of the log who is slow, a disk that is full or an output that has gone never keeps a request waiting
and never makes it fail. Lines that cannot be kept or written are counted, and lost.
"""

import os
import sys
import threading
import time
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from typing import Final, Literal

import msgspec
from msgspec import UNSET, Struct, UnsetType, field

from service.http.operation.hidden_keys import BEGINNING, without_keys

MOST_WAITING: Final = 20_000
"""Lines that may wait to be written, some 8 MB; more are lost."""
GATHERED: Final = 0.05
"""Seconds in which lines of requests are gathered."""
LONGEST: Final = 4096
"""Bytes written at once, and of the longest line: Linux takes so much into a pipe undivided, where several processes
write into it."""
PATIENCE: Final = 1.0
"""Seconds that the end of the process may take to write what waits."""
_PAUSE: Final = 0.01
"""Seconds after which an output that would not wait is tried again."""
AT_ONCE: Final = 50
"""Lines encoded in one go, so that requests are not kept from the processor."""
_METHODS: Final = frozenset({"GET", "HEAD", "POST", "OPTIONS", "PUT", "PATCH", "DELETE", "TRACE", "CONNECT"})

Level = Literal["debug", "info", "warning", "error", "critical"]


class Line(Struct, omit_defaults=True, kw_only=True, gc=False):
    """A line of the log; members that do not apply are left out."""

    time: datetime
    level: Level
    message: str
    """`request`, or what else is told."""
    logger: str
    process: int
    method: str | UnsetType = UNSET
    route: str | UnsetType = UNSET
    """Template of the path; `other` where there is nothing at it."""
    status: int | UnsetType = UNSET
    """0 where the caller left before the answer."""
    milliseconds: float | UnsetType = UNSET
    bytes: int | UnsetType = UNSET
    """Length of the answer's body as it was sent."""
    problem: str | UnsetType = UNSET
    """Kind of problem that was answered."""
    request_id: str | UnsetType = UNSET
    trace_id: str | UnsetType = UNSET
    traceback: str | UnsetType = UNSET


class Served(Struct, gc=False):
    """A request that was served, as it waits for being written: of what costs least to make."""

    method: str
    route: str
    status: int
    seconds: float
    size: int
    request_id: bytes
    trace_id: str | None
    problem: str | None
    at: float = field(default_factory=time.time)
    """When it ended [s since 1970]."""


class Lines:
    """Where lines of one process go.

    Attributes:
        lost: lines that could not be written.
    """

    def __init__(self, most: int = MOST_WAITING) -> None:
        """Nothing is kept before `open`.

        Args:
            most: lines that may wait.
        """
        self._most = most
        self._waiting: deque[Served | Line] = deque()
        self._is_open = self._awake = self._busy = self._broken = False
        self._output: int | None = None
        self._filled, self._hurry = threading.Event(), threading.Event()
        self._losing = threading.Lock()
        self._on_loss: Callable[[int], None] | None = None
        self._encoder = msgspec.json.Encoder()
        self.lost = 0

    def open(self, output: int | None) -> None:
        """Begin to write; does nothing where that has begun.

        Args:
            output: descriptor of a file, which is not closed; None where there is none, so that every line is lost.
        """
        if self._is_open:
            return
        self._is_open = True
        self._output = output
        threading.Thread(target=self._work, name="log", daemon=True).start()

    def count_losses(self, count: Callable[[int], None]) -> None:
        """Have lost lines counted, those that were lost before among them.

        Args:
            count: is called with how many were lost, in whatever thread.
        """
        with self._losing:
            self._on_loss = count
            if self.lost:
                with suppress(Exception):
                    count(self.lost)

    def add(self, line: Served | Line, *, hurry: bool = False) -> None:
        """Have a line written soon; never waits, and never fails.

        Args:
            line: what is told.
            hurry: gather no others before it is written.
        """
        if not self._is_open:
            return
        if len(self._waiting) >= self._most:
            self._lose(1)
            return
        self._waiting.append(line)
        if not self._awake:
            self._awake = True
            self._filled.set()
        if hurry:
            self._hurry.set()

    def flush(self, seconds: float = PATIENCE) -> bool:
        """Wait until all is written that waits.

        Args:
            seconds: how long at most.

        Returns:
            Whether nothing waits any more.
        """
        end = time.monotonic() + seconds
        while self._is_open and (self._waiting or self._busy):
            if time.monotonic() > end:
                return False
            self._hurry.set()
            self._filled.set()
            time.sleep(0.001)
        return True

    def _work(self) -> None:
        while True:
            self._filled.wait()
            self._hurry.wait(GATHERED)
            self._busy = True
            self._hurry.clear()
            self._filled.clear()
            self._awake = False  # whatever is added from now on is met below, or wakes this thread again
            while self._waiting:
                batch = [self._waiting.popleft() for _ in range(min(AT_ONCE, len(self._waiting)))]
                self._write(self._encoded(batch))
            self._busy = False

    def _encoded(self, batch: list[Served | Line]) -> bytes:
        """Lines as they are written, without those that cannot be."""
        try:
            return self._encoder.encode_lines(
                [line_of_request(line) if isinstance(line, Served) else fitting(line) for line in batch]
            )
        except Exception:
            if len(batch) > 1:
                return b"".join(self._encoded([line]) for line in batch)
            self._lose(1)
            return b""

    def _write(self, text: bytes) -> None:
        """Write whole lines, as many at once as go into a pipe undivided."""
        while text:
            cut = len(text) if len(text) <= LONGEST else text.rindex(b"\n", 0, LONGEST) + 1
            piece, text = text[:cut], text[cut:]
            if self._broken:
                piece = b"\n" + piece  # ends the line of which a part could be written
            left = self._written(piece)
            if len(left) == len(piece):
                self._lose(piece.count(b"\n", 1))
            else:
                self._lose(left.count(b"\n"))
                self._broken = bool(left) and piece[-len(left) - 1 : -len(left)] != b"\n"

    def _written(self, piece: bytes) -> bytes:
        """Write, and return what could not be written."""
        while piece and self._output is not None:
            try:
                piece = piece[os.write(self._output, piece) :]
            except BlockingIOError:  # the output was set to return at once, by another process maybe
                time.sleep(_PAUSE)
            except OSError:
                break
        return piece

    def _lose(self, lines: int) -> None:
        if not lines:
            return
        with self._losing:
            self.lost += lines
            if self._on_loss is not None:
                with suppress(Exception):
                    self._on_loss(lines)


def line_of_request(served: Served) -> Line:
    """The line of a request."""
    method, status = served.method, served.status
    request_id = served.request_id.decode("ascii", "backslashreplace")
    return Line(
        time=datetime.fromtimestamp(served.at, UTC),
        level="info" if status < 500 else "error",
        message="request",
        logger="lyestock.request",
        process=_PROCESS,
        method=method if method in _METHODS else "other",
        route=served.route,
        status=status,
        milliseconds=round(1e6 * served.seconds) / 1000,
        bytes=served.size,
        problem=served.problem or UNSET,
        request_id=without_keys(request_id) if BEGINNING in request_id else request_id,
        trace_id=served.trace_id or UNSET,
    )


_PROCESS: Final = os.getpid()  # workers are started, not forked, so that each imports this itself


def own_output() -> int | None:
    """A descriptor of standard output that nobody else closes; None where there is no standard output."""
    try:
        return os.dup(sys.stdout.fileno())
    except (AttributeError, OSError, ValueError):
        return None


def fitting(line: Line) -> Line:
    """A line of which traceback and message are cut until it is no longer than a line may be.

    What is nearest to the fault stands at the end of a traceback, so that is kept.
    """
    for _ in range(8):  # each letter may take up to six bytes, so that what is cut is approached
        over = len(msgspec.json.encode(line)) + 1 - LONGEST
        if over <= 0:
            return line
        if line.traceback is not UNSET and len(line.traceback) > 200:
            kept = max(150, len(line.traceback) - max(over, 50) - 50)
            line.traceback = "(cut) ..." + line.traceback[-kept:]
        else:
            line.message = line.message[: max(100, len(line.message) - max(over, 50))] + "... (cut)"
    raise ValueError("a line cannot be cut")


LINES: Final = Lines()
"""Those of this process; opened where its log is set up."""
