"""A running service, and a headless LibreOffice Calc that calls it."""

import json
import os
import shutil
import subprocess
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final, NamedTuple

import pytest

from tests.running import Served, serve

DRIVER: Final = Path(__file__).with_name("office_driver.py")
PYTHON: Final = "/usr/bin/python3"
"""The system's own Python: Debian's python3-uno belongs to no other."""
LONGEST: Final = 120.0
"""Seconds after which an office that hangs is ended, should its own alarm fail."""


@pytest.fixture(scope="session")
def served() -> Iterator[Served]:
    """The service on a port that is free."""
    with serve() as running:
        yield running


class Shown(NamedTuple):
    """What a cell holds: its text as it is shown, its number, and its error, 0 where there is none."""

    text: str
    value: float
    error: int


class Worked(NamedTuple):
    """What became of a job: the cells that were read, and what the macro gave back."""

    cells: Mapping[str, Shown]
    returned: Any


Calc = Callable[..., Worked]


@pytest.fixture(scope="session")
def calc() -> Calc:
    """Runs one job in a headless LibreOffice Calc of its own; skips where there is none."""
    missing = _missing()
    if missing:
        told = f"{missing}: apt-get install --no-install-recommends libreoffice-calc python3-uno"
        if os.environ.get("OFFICE_TESTS") == "must":
            pytest.fail(told)
        pytest.skip(told)
    return run_calc


def _missing() -> str:
    if shutil.which("soffice") is None:
        return "LibreOffice (soffice) is not installed"
    try:
        subprocess.run([PYTHON, "-c", "import uno"], check=True, capture_output=True, timeout=30)
    except (OSError, subprocess.SubprocessError):
        return f"{PYTHON} has no module uno"
    return ""


def run_calc(
    workbook: Path,
    read: Sequence[str],
    *,
    typed: Mapping[str, str] | None = None,
    macro: str = "",
    arguments: Sequence[Any] = (),
    locale: str = "",
    save: Sequence[Path] = (),
) -> Worked:
    """Open a workbook, type into it, run a macro of it, read cells, save.

    Args:
        workbook: its file, alone in a folder that is trusted.
        read: cells, such as Recipe.B8.
        typed: texts by cell, as a person would type them.
        macro: module and name of a macro of the workbook.
        arguments: of the macro.
        locale: such as de-DE; without it, that of the system.
        save: files to write, by their suffix .fods, .ods or .xlsx.
    """
    job = {
        "workbook": str(workbook),
        "read": list(read),
        "type": dict(typed or {}),
        "macro": macro,
        "arguments": list(arguments),
        "locale": locale,
        "save": [str(path) for path in save],
    }
    # No proxy of the machine comes between the office and the service on it.
    known = {name: value for name, value in os.environ.items() if not name.lower().endswith("_proxy")}
    done = subprocess.run(
        [PYTHON, str(DRIVER)],
        input=json.dumps(job),
        capture_output=True,
        check=False,
        text=True,
        timeout=LONGEST,
        env=known,
    )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    return Worked({name: Shown(**cell) for name, cell in told["cells"].items()}, told["returned"])
