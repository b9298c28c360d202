"""What a request costs in process, for every calculation there is, over requests as workshops send them.

The requests are those of the fuzzing's realistic strategies, so that no calculation is measured by its best case.
"""

import time
from collections.abc import Sequence
from statistics import median, quantiles
from typing import Any, Final, NamedTuple

import msgspec

from service.calculations.registry import calculations
from service.calculations.shared.faults import Refusal
from service.calculations.shared.rendering import renderer
from tests.benchmarks.results import Machine

REQUESTS: Final = 200
REPEATS: Final = 3
"""Times each request is asked, with all others in between; the least counts, since a disturbance only ever adds."""


class Cost(NamedTuple):
    """Microseconds of processor time a request, without server and network."""

    median: float
    p95: float
    most: float
    requests: int


class Every(msgspec.Struct, forbid_unknown_fields=True):
    """All calculations in one run."""

    machine: Machine
    costs: dict[str, Cost]


def part(it: Every) -> list[str]:
    """What the page says of them."""
    return [
        "## Every calculation, by realistic requests",
        "",
        f"`python -m tests.benchmarks --every --write`: {REQUESTS} requests to each, those of them that compute,",
        "made as for the fuzzing; decoding and encoding are counted. They are other requests than those above, and",
        f"each is asked {REPEATS} times with all others in between and its least time counts, so that some of what it",
        "has in common with others is known by then: not to be compared with the tables above, whose requests are new.",
        "",
        table(it.costs),
        "",
    ]


def realistic(name: str, count: int = REQUESTS) -> list[bytes]:
    """Requests to one calculation that it computes; the same on every run."""
    from hypothesis import HealthCheck, Phase, given, settings  # noqa: PLC0415 - pages are made without them

    from tests.contract.realistic import REALISTIC  # noqa: PLC0415

    bodies: list[bytes] = []

    @settings(
        max_examples=count,
        phases=(Phase.generate,),
        database=None,
        deadline=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    @given(REALISTIC[name])
    def collect(request: dict[str, Any]) -> None:
        body = msgspec.json.encode(request)
        try:
            calculations()[name].run(body)
        except Refusal:
            return
        bodies.append(body)

    collect()
    return bodies


def cost(name: str, bodies: Sequence[bytes], repeats: int = REPEATS) -> Cost:
    """Measure one calculation: decoding, calculating and encoding together, in processor time."""
    run, encode, clock = calculations()[name].run, renderer(), time.process_time
    found = [float("inf")] * len(bodies)
    for _ in range(repeats):
        for index, body in enumerate(bodies):
            began = clock()
            encode(run(body))
            found[index] = min(found[index], 1e6 * (clock() - began))
    return Cost(median(found), quantiles(found, n=20)[-1], max(found), len(found))


def table(costs: dict[str, Cost]) -> str:
    """The table."""
    lines = ["| calculation, microseconds in process | median | 95th of 100 | most |", "|---|---|---|---|"]
    lines += [f"| `{name}` | {one.median:.0f} | {one.p95:.0f} | {one.most:.0f} |" for name, one in costs.items()]
    return "\n".join(lines)
