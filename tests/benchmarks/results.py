"""What was measured is kept as JSON, and every page is made from it: so a page cannot say anything else.

`python -m tests.benchmarks.results` makes all pages anew from what is kept.
"""

import os
import platform
import sys
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from statistics import median
from typing import Final, TypeVar

import msgspec

FOLDER: Final = Path(__file__).parent / "results"
MAKERS: Final = ("tests.benchmarks.page", "tests.benchmarks.growth_page", "tests.benchmarks.capacity")
"""Modules that make the pages: `files()` gives the text of each by its name, none where something is not measured."""
Measured = TypeVar("Measured", bound=msgspec.Struct)


class Machine(msgspec.Struct, forbid_unknown_fields=True):
    """On what was measured, as far as it tells."""

    processor: str
    cores: int
    python: str
    day: str
    load: float
    """Mean number of processes that wanted a core in the minute before: what else the machine did."""


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


def machine() -> Machine:
    """This machine, now."""
    told = Path("/proc/cpuinfo")
    lines = told.read_text("utf-8").splitlines() if told.exists() else []
    named = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
    return Machine(
        processor=named[0] if named else platform.machine(),
        cores=os.cpu_count() or 1,
        python=platform.python_version(),
        day=datetime.now(UTC).date().isoformat(),
        load=round(os.getloadavg()[0], 2) if hasattr(os, "getloadavg") else 0.0,
    )


def about(one: Machine) -> str:
    """A sentence about a machine."""
    return (
        f"Measured {one.day} on {one.cores} cores ({one.processor}), Python {one.python}; "
        f"{one.load:.1f} processes wanted a core in the minute before."
    )


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
    write_pages()
    sys.exit(0)
