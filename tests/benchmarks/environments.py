"""Environments of the benchmark's own, below build/: made once, by the same steps as those of the service."""

import os
import subprocess
import sys
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
BUILD: Final = ROOT / "build"
PEER_LOCK: Final = "tests/benchmarks/requirements.txt"
DEPLOYED_LOCK: Final = "deploy/local/requirements.txt"
WHEEL_LOCK: Final = "deploy/container/requirements-build.txt"


def prepared(name: str, lock: str) -> Path | None:
    """The Python of an environment that holds what a lock file lists; None where it cannot be made."""
    folder = BUILD / name
    BUILD.mkdir(exist_ok=True)
    steps = f". deploy/local/environment.sh && prepare {folder.relative_to(ROOT)} {lock}"
    environment = {"PYTHON": sys.executable, **os.environ}
    done = subprocess.run(["sh", "-c", steps], cwd=ROOT, env=environment, check=False)
    return folder / "bin" / "python" if done.returncode == 0 else None


def wheel() -> Path:
    """The wheel of the service as it is now."""
    python = prepared("wheel-environment", WHEEL_LOCK)
    if python is None:
        raise RuntimeError("the packages that build the wheel could not be installed")
    folder = BUILD / "benchmark-wheel"
    for old in folder.glob("*.whl"):
        old.unlink()
    words = ["-m", "pip", "wheel", "--quiet", "--no-deps", "--no-index", "--no-build-isolation", "--wheel-dir"]
    subprocess.run([python, *words, folder, ROOT], check=True, cwd=BUILD)
    (made,) = folder.glob("*.whl")
    return made


def deployed() -> tuple[Path, Path]:
    """The Python of an environment as the image has it, and the wheel that is installed there, compiled."""
    python = prepared("deployed-environment", DEPLOYED_LOCK)
    if python is None:
        raise RuntimeError("the packages of the service could not be installed")
    made = wheel()
    words = ["-m", "pip", "install", "--quiet", "--no-deps", "--no-index", "--force-reinstall"]
    subprocess.run([python, *words, made], check=True, cwd=BUILD)
    return python, made
