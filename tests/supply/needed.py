"""What tests of the supply need: without it they are skipped, unless SUPPLY_TESTS=must."""

import os
from pathlib import Path
from typing import Final

import pytest

ROOT: Final = Path(__file__).resolve().parents[2]
TOOLS: Final = ROOT / ".venv-supply/bin/python"


def tools() -> str:
    """The Python of the environment .venv-supply; where it is missing or old, the test that asks is skipped."""
    installed = ROOT / ".venv-supply/installed.txt"
    lock = ROOT / "deploy/supply/requirements.txt"
    if not TOOLS.exists() or not installed.exists() or installed.read_bytes() != lock.read_bytes():
        told = ".venv-supply is missing or old (deploy/supply/build makes it)"
        if os.environ.get("SUPPLY_TESTS") == "must":
            pytest.fail(told)
        pytest.skip(told)
    return str(TOOLS)
