"""A folder as a caller has it: both clients made from the committed contract, and the examples beside them."""

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from tests.running import Served, serve

ROOT: Final = Path(__file__).resolve().parents[2]
CLIENTS: Final = ROOT / "deploy" / "callers" / "clients"
NODE_MODULES: Final = ROOT / ".node-test" / "node_modules"
SECONDS: Final = 300
"""That any program may take; the slowest needs ten on a quiet machine."""


def run(folder: Path, *command: str) -> subprocess.CompletedProcess[str]:
    """Run a program in a folder, with its words, in reach of this environment's programs."""
    scripts = str(Path(sys.executable).parent)
    return subprocess.run(
        command,
        cwd=folder,
        env={"PATH": f"{scripts}:/usr/local/bin:/usr/bin:/bin", "HOME": str(folder), "REDOCLY_TELEMETRY": "off"}
        | {"REDOCLY_SUPPRESS_UPDATE_NOTICE": "true", "NPM_FOLDER": str(NODE_MODULES.parent)},
        capture_output=True,
        text=True,
        timeout=SECONDS,
        check=False,
    )


@pytest.fixture(scope="session")
def node() -> Path:
    """The programs of npm that callers use."""
    if shutil.which("node") is None or not NODE_MODULES.is_dir():
        pytest.skip("node and npm are not installed here, so what runs in them is not tried")
    return NODE_MODULES / ".bin"


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder, with what could be made."""
    folder = tmp_path_factory.mktemp("caller")
    for file in CLIENTS.iterdir():
        if file.is_file():
            shutil.copy(file, folder)
    if NODE_MODULES.is_dir():
        (folder / "node_modules").symlink_to(NODE_MODULES)
    done = run(folder, str(CLIENTS / "generate"), ".")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "arning" not in done.stdout + done.stderr
    return folder


@pytest.fixture(scope="session")
def compiled(made: Path, node: Path) -> Path:
    """The folder, with the TypeScript example compiled by its strictest rules."""
    done = run(made, str(node / "tsc"))
    assert done.returncode == 0, done.stdout
    return made


@pytest.fixture(scope="session")
def served() -> Iterator[Served]:
    """The service behind its real server."""
    with serve() as found:
        yield found
