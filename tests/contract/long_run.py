"""A long run of the fuzzing by one command, against the service as it stands.

    python -m tests.contract.long_run --seed 1 --requests 50000

Prints the seed, counts by operation, phase and status, all that was excused or passed over, and every failure.
Exit code: 0 where nothing failed, every operation succeeded and every link was followed; else 1.
"""

import argparse
import sys
from functools import partial
from secrets import randbelow
from typing import Final

from tests.contract.campaign import PHASES, campaign

EACH: Final = 150
"""Requests made up for each calculation in a round; memory grows with it, a few gigabytes at 400."""


def main(words: list[str] | None = None) -> int:
    """Run the fuzzing, print what came of it, and give the exit code."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.contract.long_run", description="Fuzz the contract at length."
    )
    parser.add_argument("--seed", type=int, help="where the chance begins; a new one where it is left out")
    parser.add_argument("--requests", type=int, default=50_000, help="least number of requests (default: %(default)s)")
    parser.add_argument("--each", type=int, default=EACH, help="requests for each calculation in a round")
    said = parser.parse_args(words)
    seed: int = randbelow(2**31) if said.seed is None else said.seed
    print(f"seed {seed}", flush=True)
    outcome = campaign(seed=seed, each=said.each, requests=said.requests, say=partial(print, flush=True))
    print(*outcome.tally.lines(), sep="\n")
    for phase in PHASES:
        print(f"phase {phase}: {'no check failed' if phase in outcome.phases else 'FAILED or did not run'}")
    for label in outcome.never_computed:
        print(f"NEVER COMPUTED: {label}")
    for link in outcome.links_not_followed:
        print(f"LINK NOT FOLLOWED: {link}")
    for failure in outcome.failures:
        print(f"FAILED: {failure}")
    verdict = "good" if outcome.is_good else f"{len(outcome.failures)} failures"
    print(f"seed {seed}: {outcome.tally.requests} requests in {outcome.seconds:.0f} s: {verdict}")
    return 0 if outcome.is_good else 1


if __name__ == "__main__":
    sys.exit(main())
