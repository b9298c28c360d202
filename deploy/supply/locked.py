"""Reads lock files: which version of each package is installed where, with the hashes of its files."""

import re
from pathlib import Path
from typing import Final, NamedTuple

from packaging.requirements import Requirement
from packaging.utils import NormalizedName, canonicalize_name

ROOT: Final = Path(__file__).resolve().parents[2]
ALL: Final = ROOT / "deploy/local/requirements.txt"
CORE: Final = ROOT / "deploy/local/requirements-core.txt"
"""What serves everything but pictures."""

_HASH: Final = re.compile(r"--hash=sha256:[0-9a-f]{64}\Z")


class Pin(NamedTuple):
    """One line of a lock file: a package in one version, and where it is meant for (its marker)."""

    asked: Requirement
    hashes: int

    @property
    def name(self) -> NormalizedName:
        """The package's name, as it is compared."""
        return canonicalize_name(self.asked.name)

    @property
    def version(self) -> str:
        """The one version."""
        return next(iter(self.asked.specifier)).version

    def meant_for(self, environment: dict[str, str] | None = None) -> bool:
        """Whether it is installed in an environment (names of PEP 508); in the running one where none is given."""
        return self.asked.marker is None or self.asked.marker.evaluate(environment)


def pins(lock: Path) -> list[Pin]:
    """Every line of a lock file.

    Raises:
        ValueError: a line is not one version with at least one SHA-256 hash.
    """
    found = []
    for line in lock.read_text(encoding="utf-8").replace("\\\n", " ").splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        words = re.split(r"\s+(?=--hash=)", line.strip())
        asked = Requirement(words[0])
        exact = [one.operator for one in asked.specifier] == ["=="] and "*" not in str(asked.specifier)
        if not exact or asked.url or len(words) < 2 or not all(map(_HASH.match, words[1:])):
            raise ValueError(f"{lock.name}: {words[0]!r} is not one version with hashes")
        found.append(Pin(asked, len(words) - 1))
    return found
