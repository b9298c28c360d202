"""What was measured is kept as JSON, and every page is made from it: so a page cannot say anything else.

`python -m tests.benchmarks.results` makes all pages anew from what is kept, and prints the digest of the code as it is.
"""

import hashlib
import os
import platform
import sys
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from functools import cache
from importlib import import_module
from pathlib import Path
from statistics import median
from typing import Final, TypeVar

import msgspec

from tests.benchmarks.environments import ROOT
from tests.proof.mutation.mutants import digest

FOLDER: Final = Path(__file__).parent / "results"
MAKERS: Final = ("tests.benchmarks.page", "tests.benchmarks.growth_page", "tests.benchmarks.capacity")
"""Modules that make the pages: `files()` gives the text of each by its name, none where something is not measured."""
QUIET: Final = 0.25
"""Cores that other programs may use meanwhile, on average, for what is measured to be judged."""
LEAST_ROUNDS: Final = 3
"""Rounds for what is measured to be judged."""
SAME: Final = "When this page was made, it was the same."
CHANGED: Final = "**When this page was made, it had changed.**"
Measured = TypeVar("Measured", bound=msgspec.Struct)


class Machine(msgspec.Struct, forbid_unknown_fields=True):
    """On what was measured, as far as it tells."""

    processor: str
    cores: int
    python: str
    day: str
    others: float | None
    """Cores that programs other than the measured ones used meanwhile, on average, where the system tells it."""
    code: str | None = None
    """What `code()` gave of the service that was measured; none where that was not kept yet."""


class Spread(msgspec.Struct, forbid_unknown_fields=True):
    """A figure that was measured several times."""

    median: float
    low: float
    high: float
    rounds: int

    def text(self, digits: int = 2, unit: str = "") -> str:
        """The median, with the least and the greatest."""
        shown = [f"{one:,.{digits}f}".replace(",", " ") for one in (self.median, self.low, self.high)]
        return f"{shown[0]}{unit} ({shown[1]} to {shown[2]})"


def spread(values: Sequence[float]) -> Spread:
    """What was measured in several rounds."""
    middle, low, high = (float(f"{one:.4g}") for one in (median(values), min(values), max(values)))
    return Spread(middle, low, high, len(values))


@cache
def code(root: Path = ROOT) -> str:
    """What changes where the service's code does, but for its docstrings and the lines of its comments.

    Args:
        root: the folder that `service/` is in.
    """
    files = {one.relative_to(root).as_posix(): one for one in (root / "service").rglob("*.py")}
    told = [f"{name} {digest(files[name].read_text(encoding='utf-8'))}" for name in sorted(files)]
    return hashlib.sha256("\n".join(told).encode()).hexdigest()[:16]


class Watch:
    """Looks at what else the machine does while something is measured."""

    def __init__(self) -> None:
        """Begin."""
        self._code = code()
        self._begun, self._busy, self._own = time.monotonic(), _busy(), _own()

    def machine(self) -> Machine:
        """This machine, and what else it did; asked for when all processes that were started have ended."""
        others = None
        if self._busy is not None and (busy := _busy()) is not None:
            taken = busy - self._busy - (_own() - self._own)
            others = round(max(0.0, taken) / max(time.monotonic() - self._begun, 0.01), 2)
        told = Path("/proc/cpuinfo")
        lines = told.read_text("utf-8").splitlines() if told.exists() else []
        named = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
        return Machine(
            processor=named[0] if named else platform.machine(),
            cores=os.cpu_count() or 1,
            python=platform.python_version(),
            day=datetime.now(UTC).date().isoformat(),
            others=others,
            code=self._code,
        )


def _busy() -> float | None:
    """Processor time that all programs, and other machines on the same processor, have used [s]."""
    told = Path("/proc/stat")
    if not told.exists():
        return None
    user, nice, system, _, _, _, _, stolen = (int(one) for one in told.read_text("ascii").split()[1:9])
    return (user + nice + system + stolen) / os.sysconf("SC_CLK_TCK")


def _own() -> float:
    """Processor time that this process has used, and those that it started and that have ended [s]."""
    return sum(os.times()[:4])


def judged(one: Machine, *rounds: int) -> bool:
    """Whether figures are fit to be judged.

    Args:
        one: the machine they were measured on.
        rounds: how often each was measured.
    """
    return (one.others is None or one.others <= QUIET) and min(rounds) >= LEAST_ROUNDS


def about(one: Machine) -> str:
    """Sentences about a machine, and about the code that was measured as it was when the page was made."""
    also = "" if one.others is None else f"; other programs used {one.others:.2f} cores meanwhile"
    told = f"Measured {one.day} on {one.cores} cores ({one.processor}), Python {one.python}{also}."
    if one.code is None:
        return f"{told} Which code of the service that was is not kept."
    return f"{told} Code of the service: `{one.code}`. {SAME if one.code == code() else CHANGED}"


def without_age(page: str) -> str:
    """A page as it reads whether or not the code has changed since: all that its figures alone decide."""
    return page.replace(CHANGED, SAME)


def keep(name: str, measured: msgspec.Struct) -> None:
    """Keep what was measured, and make the pages anew."""
    FOLDER.mkdir(exist_ok=True)
    text = msgspec.json.format(msgspec.json.encode(measured), indent=1)
    (FOLDER / f"{name}.json").write_bytes(text + b"\n")
    write_pages()


def kept(name: str, kind: type[Measured]) -> Measured | None:
    """What was measured last, if anything was."""
    file = FOLDER / f"{name}.json"
    return msgspec.json.decode(file.read_bytes(), type=kind) if file.exists() else None


def pages() -> dict[str, str]:
    """Every page and drawing by its name, made from what is kept."""
    made: dict[str, str] = {}
    for name in MAKERS:
        make: Callable[[], dict[str, str]] = import_module(name).files
        made |= make()
    return made


def write_pages() -> None:
    """Make every page anew."""
    for name, told in pages().items():
        (FOLDER / name).write_text(told, encoding="utf-8")
        print(f"written: {(FOLDER / name).relative_to(FOLDER.parents[2])}", flush=True)


if __name__ == "__main__":
    print(f"code of the service: {code()}")
    write_pages()
    sys.exit(0)
