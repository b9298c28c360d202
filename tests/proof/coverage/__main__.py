"""Tries every calculation that tells intervals: `python -m tests.proof.coverage [CALCULATION ...] [--write]`."""

import argparse
from pathlib import Path
from typing import Final

import msgspec

from tests.proof.coverage.page import page, row
from tests.proof.coverage.studies import STUDIES
from tests.proof.coverage.summary import Result, result

PAGE: Final = Path(__file__).parent / "README.md"
RESULTS: Final = Path(__file__).parent / "results.json"


def read() -> dict[str, Result]:
    """The results that were kept, by calculation."""
    return msgspec.json.decode(RESULTS.read_bytes(), type=dict[str, Result]) if RESULTS.exists() else {}


def write(results: dict[str, Result]) -> None:
    """Keep results, and write the page from them."""
    ordered = dict(sorted(results.items()))
    RESULTS.write_bytes(msgspec.json.format(msgspec.json.encode(ordered), indent=1) + b"\n")
    PAGE.write_text(page(ordered), encoding="utf-8")


def main() -> None:
    """Print the table, and write the page where that is asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("only", nargs="*", metavar="CALCULATION", help="default: all of them; others are kept")
    parser.add_argument("--requests", type=int, default=40, help="random requests for each calculation")
    parser.add_argument("--draws", type=int, default=400, help="draws for each request")
    parser.add_argument("--seed", type=int, default=1995)
    parser.add_argument("--write", action="store_true", help=f"write {PAGE.name} and {RESULTS.name}")
    given = parser.parse_args()
    for study in STUDIES:
        name = study.calculation
        if given.only and name not in given.only:
            continue
        found = result(study, given.seed, given.requests, given.draws)
        for one in found.members:
            print(row(one, name, given.draws), flush=True)
        if given.write:  # after each, so that one that is stopped loses little
            known = {one.calculation for one in STUDIES}
            write({at: one for at, one in read().items() if at in known} | {name: found})


if __name__ == "__main__":
    main()
