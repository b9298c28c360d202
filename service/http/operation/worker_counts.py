"""Counts that several worker processes share, so that whichever of them is asked can tell those of all.

Every worker counts in a file of its own, mapped into its memory: adding to a cell is all that a request costs, nothing
has to be written out, and what was counted outlives a worker that is killed. A worker locks its file as long as it
lives; the system takes the lock off even where the worker cannot. A worker that comes later goes on in the file of one
that has gone. So counts never fall, and there are no more files than workers at once.

A file begins with the names of its cells, since a worker of a newer version may count more than an older one beside it.
"""

import mmap
import os
import shutil
import tempfile
from collections import defaultdict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final, NamedTuple, TypeAlias

import msgspec

FOLDER: Final = "_LYESTOCK_COUNTS"
"""Environment variable by which a supervisor tells its workers the folder; not a setting."""
MEMORY: Final = Path("/dev/shm")  # noqa: S108 - a private folder is made in it
"""Where files are kept in memory, on Linux; also where all else may only be read."""

_MARK: Final = b"lyestock counts 1\n"
_CELL: Final = 8
"""Bytes of a cell, which holds a number of double precision; aligned, so that it is read and written as a whole."""

Cells: TypeAlias = "memoryview[float]"
"""Numbers that are added to."""


class Told(NamedTuple):
    """What one worker has counted."""

    number: int
    """That of its file, from 0; a worker that takes a file over has the number too."""
    alive: bool
    values: dict[str, float]
    """By the names of its cells."""


@contextmanager
def counts_folder() -> Iterator[Path]:
    """A private folder for the counts of the workers that are started meanwhile; it goes when the context ends.

    Raises:
        OSError: there is no place to write to.
    """
    try:
        folder = Path(tempfile.mkdtemp(prefix="lyestock-", dir=MEMORY if MEMORY.is_dir() else None))
    except OSError:
        folder = Path(tempfile.mkdtemp(prefix="lyestock-"))
    os.environ[FOLDER] = str(folder)
    try:
        yield folder
    finally:
        os.environ.pop(FOLDER, None)
        shutil.rmtree(folder, ignore_errors=True)


def private_cells(size: int) -> Cells:
    """Cells of this process alone, all zero."""
    return memoryview(bytearray(_CELL * size)).cast("d")


class SharedCells:
    """The cells of this worker, and a look at those of all.

    Attributes:
        cells: numbers that this worker adds to.
        number: that of its file.
    """

    def __init__(self, folder: Path, names: Sequence[str]) -> None:
        """Take a file that no living worker has, or make one.

        Args:
            folder: where the files of all workers are.
            names: of the cells, in their order.

        Raises:
            OSError: the file cannot be made or mapped.
        """
        self._folder = folder
        self._head = _head(names)
        taken = self._take() or self._make(_CELL * len(names))
        self.number, self._descriptor = taken
        self._map = mmap.mmap(self._descriptor, len(self._head) + _CELL * len(names))
        self.cells: Cells = memoryview(self._map)[len(self._head) :].cast("d")

    def told(self) -> Iterator[Told]:
        """What every worker has counted that ever was, in the order of their numbers."""
        for number, path in sorted(_files(self._folder)):
            if number == self.number:
                yield Told(number, True, _values(self._map))
                continue
            with suppress(OSError, ValueError):
                yield _read(number, path)

    def close(self) -> None:
        """Leave the file to a worker that comes later."""
        self.cells.release()
        self._map.close()
        os.close(self._descriptor)

    def _take(self) -> tuple[int, int] | None:
        """A file with the same cells that no living worker has."""
        for number, path in sorted(_files(self._folder)):
            descriptor = os.open(path, os.O_RDWR | os.O_CLOEXEC)
            if os.pread(descriptor, len(self._head), 0) == self._head and _lock(descriptor):
                return number, descriptor
            os.close(descriptor)
        return None

    def _make(self, size: int) -> tuple[int, int]:
        """A new file, whole and locked before others see it."""
        descriptor, new = tempfile.mkstemp(dir=self._folder)
        try:
            _lock(descriptor)
            # Its place is taken now: where a disk is full, a cell could not be written later, and that ends a process.
            whole = self._head + bytes(size)
            if os.write(descriptor, whole) != len(whole):
                raise OSError("there is no room for the counts of a worker")
            number = 0
            while True:
                try:
                    os.link(new, self._folder / f"{number}.counts")
                except FileExistsError:
                    number += 1
                else:
                    return number, descriptor
        except BaseException:
            os.close(descriptor)
            raise
        finally:
            os.unlink(new)


def summed(told: Sequence[Told]) -> defaultdict[str, float]:
    """The sum of what workers have counted, by the names of cells; 0 for what is unknown to all."""
    sums: defaultdict[str, float] = defaultdict(float)
    for one in told:
        for name, value in one.values.items():
            sums[name] += value
    return sums


def _head(names: Sequence[str]) -> bytes:
    """What a file begins with: a mark, the length of the names, the names, and blanks up to a whole cell."""
    listed = msgspec.json.encode(list(names))
    listed += b" " * (-(len(_MARK) + _CELL + len(listed)) % _CELL)
    return _MARK + len(listed).to_bytes(_CELL, "little") + listed


def _values(mapped: mmap.mmap) -> dict[str, float]:
    """The cells of a file by their names.

    Raises:
        ValueError: it is no file of counts.
    """
    begin = len(_MARK) + _CELL
    if mapped[: len(_MARK)] != _MARK:
        raise ValueError("not a file of counts")
    end = begin + int.from_bytes(mapped[len(_MARK) : begin], "little")
    names = msgspec.json.decode(mapped[begin:end], type=list[str])
    with memoryview(mapped) as whole, whole[end : end + _CELL * len(names)] as part, part.cast("d") as cells:
        return dict(zip(names, cells.tolist(), strict=True))


def _read(number: int, path: Path) -> Told:
    """What another worker has counted, or one that has gone."""
    with path.open("rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as mapped:
        return Told(number, not _lock(file.fileno(), shared=True), _values(mapped))


def _files(folder: Path) -> Iterator[tuple[int, Path]]:
    for path in folder.glob("*.counts"):
        if path.stem.isdigit():
            yield int(path.stem), path


def _lock(descriptor: int, *, shared: bool = False) -> bool:
    """Lock a file as long as it is open; whether that could be done, nobody else having it."""
    import fcntl  # noqa: PLC0415 - Windows has none, and no supervisor that starts workers

    try:
        fcntl.flock(descriptor, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True
