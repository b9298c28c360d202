"""`python -m tests.benchmarks`: how fast the service is, against a bare floor and against a peer.

Prepares an environment of its own on the first run (it holds the peer's packages), starts the servers on one core,
loads them in turn from another, and prints tables of ratios. Absolute figures depend on the machine; ratios of
interleaved rounds much less. `--write` measures all that has a budget, and keeps it.
"""

import argparse
import os
import subprocess
import sys
from contextlib import ExitStack
from importlib.util import find_spec
from typing import Final

from tests.benchmarks.bodies import MILK
from tests.benchmarks.environments import PEER_LOCK, ROOT, prepared

PREPARED: Final = "BENCHMARK_PREPARED"


def main() -> int:
    """Measure, and print the tables."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="CALCULATION", help="calculations to measure (default: all)")
    parser.add_argument("--rounds", type=int, default=5, help="interleaved rounds (default %(default)s)")
    parser.add_argument("--seconds", type=float, default=2, help="seconds of load in a round (default %(default)s)")
    parser.add_argument(
        "--again", type=int, metavar="N", help="ask only N different requests again and again (default: all new)"
    )
    parser.add_argument("--milk", action="store_true", help="split batches with milk and a superfat, not with water")
    parser.add_argument("--smoke", action="store_true", help="one short round, only to see that everything runs")
    parser.add_argument("--own-load", action="store_true", help="load by the benchmark's own generator, not by wrk")
    parser.add_argument("--no-peer", action="store_true", help="leave the peer out, and need no environment for it")
    parser.add_argument("--inside", action="store_true", help="only the microseconds in process, no server")
    parser.add_argument("--every", action="store_true", help="every calculation in process, by realistic requests")
    parser.add_argument(
        "--write",
        action="store_true",
        help="measure all that has a budget, and write results/benchmark.json and its page; with --every, every.json",
    )
    said = parser.parse_args()
    others = ("names", "again", "milk", "smoke", "own_load", "inside")
    if said.write and (told := [one.replace("_", "-") for one in others if getattr(said, one)]):
        parser.error(f"--write measures all that has a budget, always in the same way: not with {', '.join(told)}")
    if said.every:
        return _every(write=said.write)
    if said.milk:
        os.environ[MILK] = "yes"
    if not said.no_peer and not said.inside and find_spec("fastapi") is None:
        python = None if os.environ.get(PREPARED) else prepared("benchmark-environment", PEER_LOCK)
        if python is not None:
            words = [str(python), "-m", "tests.benchmarks", *sys.argv[1:]]
            return subprocess.run(words, cwd=ROOT, env={**os.environ, PREPARED: "yes"}, check=False).returncode
        print("The peer is left out: FastAPI could not be installed.", flush=True)
        said.no_peer = True
    return _measure(parser, said)


def _every(*, write: bool) -> int:
    from service.calculations.registry import calculations  # noqa: PLC0415 - only this way of measuring needs them
    from tests.benchmarks.every import Cost, Every, cost, realistic, table  # noqa: PLC0415
    from tests.benchmarks.results import Watch, keep  # noqa: PLC0415

    bodies = {name: realistic(name) for name in calculations()}
    watch = Watch()
    costs = {name: cost(name, found) for name, found in bodies.items()}
    print(table(costs))
    if write:
        rounded = {
            name: Cost(round(it.median, 1), round(it.p95, 1), round(it.most, 1), it.requests)
            for name, it in costs.items()
        }
        keep("every", Every(watch.machine(), rounded))
    return 0


def _measure(parser: argparse.ArgumentParser, said: argparse.Namespace) -> int:
    from tests.benchmarks.bodies import NAMES, RING  # noqa: PLC0415 - the environment is ready only now
    from tests.benchmarks.compared import Rounds, everything  # noqa: PLC0415
    from tests.benchmarks.inside import inside  # noqa: PLC0415
    from tests.benchmarks.load import Load, generator  # noqa: PLC0415
    from tests.benchmarks.report import table  # noqa: PLC0415
    from tests.benchmarks.results import keep  # noqa: PLC0415
    from tests.benchmarks.servers import server  # noqa: PLC0415

    names = tuple(said.names) or NAMES
    if not set(names) <= set(NAMES):
        parser.error(f"there are: {', '.join(NAMES)}")
    size = said.again or RING
    rounds, seconds = (1, 0.3) if said.smoke else (said.rounds, said.seconds)
    servers = () if said.inside else ("floor", "ours") if said.no_peer else ("floor", "peer", "ours")

    serving, loading = _cores()
    if said.write:
        found, failures = everything(names, rounds, seconds, serving, peer=not said.no_peer)
        keep("benchmark", found)
        return _told(failures)
    own = {name: inside(name, 1 if said.smoke else 9, size) for name in names}
    measured: dict[str, dict[str, list[Load]]] = {}
    failures = 0
    if servers:
        made_by = generator(own=said.own_load or said.smoke)
        print(f"Load by {made_by}; {rounds} rounds of {seconds:g} s.", flush=True)
        with ExitStack() as stack:
            running = {one: stack.enter_context(server(one, serving)) for one in servers}
            turns = Rounds(running, own=said.own_load)
            turns.agree(names)
            measured = turns.measure(names, rounds, seconds, size)
            failures = turns.failures
            print()
            for one, it in running.items():
                print(f"{one}: started in {it.started:.2f} s; resident {it.resident():.0f} MiB after the load.")
    where = "" if serving is None else f"; server on core {serving}, load on core {loading}"
    print("Every request is new." if said.again is None else f"The same {size} requests are asked again and again.")
    print(f"Python {sys.version.split()[0]}, {os.cpu_count()} cores{where}.\n")
    print(table(measured, own))
    return _told(failures)


def _told(failures: int) -> int:
    if failures:
        print(f"\n{failures} requests failed.", file=sys.stderr)
    return 1 if failures else 0


def _cores() -> tuple[int | None, int | None]:
    """A core for the server and one for the load; this process moves to the latter."""
    if not hasattr(os, "sched_getaffinity"):
        return None, None
    cores = sorted(os.sched_getaffinity(0))
    if len(cores) < 2:
        return None, None
    os.sched_setaffinity(0, {cores[1]})
    return cores[0], cores[1]


if __name__ == "__main__":
    sys.exit(main())
