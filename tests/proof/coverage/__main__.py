"""Tries every calculation that tells intervals: `python -m tests.proof.coverage [CALCULATION ...] [--write]`."""

import argparse
from pathlib import Path
from typing import Final

from tests.proof.coverage.engine import campaign
from tests.proof.coverage.page import page, row
from tests.proof.coverage.studies import STUDIES
from tests.proof.coverage.summary import Kept, summary

PAGE: Final = Path(__file__).parent / "README.md"


def main() -> None:
    """Print the table, and write the page where that is asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("only", nargs="*", metavar="CALCULATION", help="default: all of them")
    parser.add_argument("--requests", type=int, default=40, help="random requests for each calculation")
    parser.add_argument("--draws", type=int, default=400, help="draws for each request")
    parser.add_argument("--seed", type=int, default=1995)
    parser.add_argument("--worst", action="store_true", help="show the request that is held least")
    parser.add_argument("--write", action="store_true", help=f"write {PAGE.name}")
    given = parser.parse_args()
    found: list[Kept] = []
    lost: dict[str, float] = {}
    for study in STUDIES:
        if given.only and study.calculation not in given.only:
            continue
        tried = campaign(study, given.seed, given.requests, given.draws)
        lost[study.calculation] = sum(one.lost for one in tried) / max(1, len(tried) * given.draws)
        for one in summary(study.calculation, tried):
            found.append(one)
            print(row(one), flush=True)
            if given.worst:
                print(f"    {tried[one.where].request}")
    if given.write:
        PAGE.write_text(page(found, lost, (given.seed, given.requests, given.draws)), encoding="utf-8")


if __name__ == "__main__":
    main()
