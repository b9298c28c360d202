"""Tries every calculation that tells intervals and prints how often they hold: `python -m tests.proof.coverage`."""

import argparse
import sys

import numpy as np

from tests.proof.coverage.engine import campaign
from tests.proof.coverage.studies import STUDIES


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("only", nargs="*")
    parser.add_argument("--requests", type=int, default=40)
    parser.add_argument("--draws", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1995)
    parser.add_argument("--worst", action="store_true")
    given = parser.parse_args()
    for study in STUDIES:
        if given.only and study.calculation not in given.only:
            continue
        tried = campaign(study, given.seed, given.requests, given.draws)
        lost = sum(one.lost for one in tried) / max(1, len(tried) * given.draws)
        print(f"== {study.calculation}: {len(tried)} requests, lost {lost:.4f}")
        kinds: dict[str, list[tuple[float, float, int]]] = {}
        for index, one in enumerate(tried):
            for at, share in one.coverage.items():
                name = "/".join("*" if part.isdigit() else part for part in at.split("/"))
                kinds.setdefault(name, []).append((share, one.below[at], index))
        for name, shares in kinds.items():
            mean = float(np.mean([share for share, _, _ in shares]))
            least, below, index = min(shares)
            most = max(shares)
            mark = "" if 0.94 <= mean <= 0.97 else "  <<<"
            single = f"least {least:.3f} (below {below:.3f}) most {most[0]:.3f}{mark}"
            print(f"  {name:45s} n {len(shares):4d} mean {mean:.4f} {single}")
            if given.worst and least < 0.93:
                print("      ", tried[index].request)
        sys.stdout.flush()


if __name__ == "__main__":
    main()
