"""`python -m tests.proof.report` checks that the committed pages are current; with `--write` it writes them."""

import argparse
import sys
from pathlib import Path
from typing import Final

from tests.proof.report.page import pages

FOLDER: Final = Path(__file__).parents[1] / "validation"


def stale() -> list[str]:
    """Names of files that are missing, not as they would be written, or no longer of the report."""
    due = pages()
    there = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.glob("*")} if FOLDER.is_dir() else {}
    return sorted(name for name in due.keys() | there.keys() if due.get(name) != there.get(name))


def write() -> None:
    """Writes every page, and removes what is no longer one."""
    FOLDER.mkdir(exist_ok=True)
    due = pages()
    for path in FOLDER.glob("*"):
        if path.name not in due:
            path.unlink()
    for name, text in due.items():
        (FOLDER / name).write_text(text, encoding="utf-8")


def main(arguments: list[str]) -> int:
    """Exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests.proof.report", description=__doc__)
    parser.add_argument("--write", action="store_true", help="write the pages anew")
    if parser.parse_args(arguments).write:
        write()
        return 0
    names = stale()
    if names:
        print(f"not current: {', '.join(names)}; run: python -m tests.proof.report --write", file=sys.stderr)
    return 1 if names else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
