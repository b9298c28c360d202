"""What tests of the deployment need beside Python: without it they are skipped, unless DEPLOYMENT_TESTS=must."""

import os
import shutil
from pathlib import Path
from typing import Final

import pytest

ROOT: Final = Path(__file__).resolve().parents[2]
CHECKERS: Final = ROOT / ".venv-deploy/bin"


def _without(told: str) -> None:
    if os.environ.get("DEPLOYMENT_TESTS") == "must":
        pytest.fail(told)
    pytest.skip(told)


def needs(*tools: str) -> None:
    """Skip the test that asks, saying why, where the machine has not all of these tools."""
    missing = [tool for tool in tools if shutil.which(tool) is None]
    if missing:
        _without(f"not installed: {', '.join(missing)} (.ci/run has the packages)")


def checker(name: str) -> str:
    """The path of a tool of the environment .venv-deploy."""
    if not (CHECKERS / name).exists():
        _without(f".venv-deploy has no {name} (.ci/run makes that environment)")
    return str(CHECKERS / name)
