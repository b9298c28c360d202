"""`python -m tests.benchmarks`: how fast the service is, against a bare floor and against a peer.

Prepares an environment of its own on the first run (it holds the peer's packages), starts the servers on one core,
loads them in turn from another, and prints tables of ratios. Absolute figures depend on the machine; ratios of
interleaved rounds much less.
"""

import argparse
import os
import subprocess
import sys
from contextlib import ExitStack
from importlib.util import find_spec
from itertools import product
from typing import Final

from tests.benchmarks.bodies import MILK
from tests.benchmarks.servers import ROOT

ENVIRONMENT: Final = ROOT / "build" / "benchmark-environment"
LOCK: Final = "tests/benchmarks/requirements.txt"
PREPARED: Final = "BENCHMARK_PREPARED"


def main() -> int:
    """Measure, and print the tables."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="CALCULATION", help="calculations to measure (default: all)")
    parser.add_argument("--rounds", type=int, default=5, help="interleaved rounds (default %(default)s)")
    parser.add_argument("--seconds", type=float, default=3, help="seconds of load in a round (default %(default)s)")
    parser.add_argument(
        "--again", type=int, metavar="N", help="ask only N different requests again and again (default: all new)"
    )
    parser.add_argument("--milk", action="store_true", help="split batches with milk and a superfat, not with water")
    parser.add_argument("--smoke", action="store_true", help="one short round, only to see that everything runs")
    parser.add_argument("--own-load", action="store_true", help="load by the benchmark's own generator, not by wrk")
    parser.add_argument("--no-peer", action="store_true", help="leave the peer out, and need no environment for it")
    parser.add_argument("--inside", action="store_true", help="only the microseconds in process, no server")
    parser.add_argument("--every", action="store_true", help="every calculation in process, by realistic requests")
    said = parser.parse_args()
    if said.every:
        return _every()
    if said.milk:
        os.environ[MILK] = "yes"
    if not said.no_peer and not said.inside and find_spec("fastapi") is None:
        if os.environ.get(PREPARED) is None and _prepare():
            words = [str(ENVIRONMENT / "bin" / "python"), "-m", "tests.benchmarks", *sys.argv[1:]]
            return subprocess.run(words, cwd=ROOT, env={**os.environ, PREPARED: "yes"}, check=False).returncode
        print("The peer is left out: FastAPI could not be installed.", flush=True)
        said.no_peer = True
    return _measure(parser, said)


def _every() -> int:
    from service.calculations.registry import calculations  # noqa: PLC0415 - only this way of measuring needs them
    from tests.benchmarks.every import cost, realistic, table  # noqa: PLC0415

    print(table({name: cost(name, realistic(name)) for name in calculations()}))
    return 0


def _prepare() -> bool:
    """Make the environment of the benchmark, by the same steps as that of the service."""
    ENVIRONMENT.parent.mkdir(exist_ok=True)
    steps = f". deploy/local/environment.sh && prepare {ENVIRONMENT.relative_to(ROOT)} {LOCK}"
    environment = {"PYTHON": sys.executable, **os.environ}
    return subprocess.run(["sh", "-c", steps], cwd=ROOT, env=environment, check=False).returncode == 0


def _measure(parser: argparse.ArgumentParser, said: argparse.Namespace) -> int:
    from tests.benchmarks.bodies import NAMES, RING, ring  # noqa: PLC0415 - the environment is ready only now
    from tests.benchmarks.inside import inside  # noqa: PLC0415
    from tests.benchmarks.load import Load, generator, load  # noqa: PLC0415
    from tests.benchmarks.report import table  # noqa: PLC0415
    from tests.benchmarks.servers import agrees, server  # noqa: PLC0415

    names = tuple(said.names) or NAMES
    if not set(names) <= set(NAMES):
        parser.error(f"there are: {', '.join(NAMES)}")
    size = said.again or RING
    rounds, seconds = (1, 0.3) if said.smoke else (said.rounds, said.seconds)
    servers = () if said.inside else ("floor", "ours") if said.no_peer else ("floor", "peer", "ours")

    serving, loading = _cores()
    own = {name: inside(name, 1 if said.smoke else 9, size) for name in names}
    measured: dict[str, dict[str, list[Load]]] = {name: {one: [] for one in servers} for name in names}
    failures = 0
    if servers:
        print(f"Load by {generator(own=said.own_load or said.smoke)}; {rounds} rounds of {seconds:g} s.", flush=True)
        with ExitStack() as stack:
            running = {one: stack.enter_context(server(one, serving)) for one in servers}
            for name, one in product(names, servers):
                if not agrees(running[one].port, name):
                    print(f"The server {one!r} does not answer {name} as the calculation does.", file=sys.stderr)
                    return 1
            asked = dict.fromkeys(product(names, servers), 0)
            for name, one in product(names, servers):  # warms up
                asked[name, one] += load(running[one], name, ring(name, size), 0.3).requests
            for number, name, one in product(range(rounds), names, servers):
                place = asked[name, one] % size  # every server goes on where it was, else it would be asked again
                bodies = ring(name, size)[place:] + ring(name, size)[:place]
                found = load(running[one], name, bodies, seconds, own=said.own_load)
                asked[name, one] += found.requests
                failures += found.failures
                measured[name][one].append(found)
                latency = f"p50 {found.p50:.2f} ms, p99 {found.p99:.2f} ms"
                shown = f"{found.rate:9.0f}/s, {latency}, {found.work:.0f} µs of processor"
                print(f"round {number + 1}  {name:15} {one:6} {shown}", flush=True)
            print()
            for one, it in running.items():
                print(f"{one}: started in {it.started:.2f} s; resident {it.resident():.0f} MiB after the load.")
    where = "" if serving is None else f"; server on core {serving}, load on core {loading}"
    print("Every request is new." if said.again is None else f"The same {size} requests are asked again and again.")
    print(f"Python {sys.version.split()[0]}, {os.cpu_count()} cores{where}.\n")
    print(table(measured if servers else {}, own))
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
