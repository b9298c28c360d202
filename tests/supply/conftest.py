"""What deploy/supply/build makes, built once for all tests of the supply."""

import subprocess
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.supply.needed import ROOT, tools


class Built(NamedTuple):
    """A folder that deploy/supply/build filled."""

    folder: Path

    @property
    def wheel(self) -> Path:
        """The wheel."""
        return next(self.folder.glob("*.whl"))

    @property
    def sdist(self) -> Path:
        """The source distribution."""
        return next(self.folder.glob("*.tar.gz"))

    @property
    def parts(self) -> Path:
        """The list of parts."""
        return next(self.folder.glob("*.cdx.json"))

    @property
    def environment(self) -> Path:
        """Where the wheel is installed with every locked package."""
        return self.folder / "environment"


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The wheel, its environment and the rest."""
    tools()
    folder = tmp_path_factory.mktemp("built")
    done = subprocess.run(
        [ROOT / "deploy/supply/build", folder], capture_output=True, text=True, check=False, timeout=300
    )
    assert done.returncode == 0, done.stderr
    return Built(folder)


@pytest.fixture(scope="session")
def core(built: Built, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An environment that holds the wheel and the locked packages without those of pictures."""
    folder = tmp_path_factory.mktemp("core") / "environment"
    python = tools()
    subprocess.run([python, "-m", "venv", "--without-pip", folder], check=True, timeout=60)
    pip = [
        python,
        "-m",
        "pip",
        "--python",
        str(folder / "bin/python"),
        "install",
        "--quiet",
        "--no-deps",
        "--no-compile",
    ]
    lock = str(ROOT / "deploy/local/requirements-core.txt")
    for words in (["--require-hashes", "--requirement", lock], ["--no-index", str(built.wheel)]):
        done = subprocess.run([*pip, *words], capture_output=True, text=True, check=False, timeout=200)
        assert done.returncode == 0, done.stderr
    return folder
