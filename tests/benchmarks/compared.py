"""Servers in turn under the same load, and what is kept of it: the figures of results/benchmark.json."""

from collections.abc import Mapping, Sequence
from contextlib import ExitStack
from itertools import product
from typing import Final

import msgspec

from tests.benchmarks.bodies import RING, Walk, ring
from tests.benchmarks.bulk import FORMATS, LEAST, NAME, Beside, beside, costs
from tests.benchmarks.inside import inside
from tests.benchmarks.load import Load, further, generator
from tests.benchmarks.report import ratios
from tests.benchmarks.results import Machine, Spread, Watch, spread
from tests.benchmarks.servers import Server, agrees, server
from tests.benchmarks.shares import shares

AGAIN: Final = 50
"""Different requests that are asked again and again."""
SERVERS: Final = ("floor", "peer", "ours")
VALUE: Final = "/v1/values/density?alkali=NaOH&strength={strength:.6f}%25&temperature=20%C2%B0C"
LISTED: Final = b"/v1/fats/olive-oil"
BULK: Final = (100, 1000, 10_000)
IN_FORMATS: Final = 1000
"""Items that are sent at once in other formats than JSON."""


class Against(msgspec.Struct, forbid_unknown_fields=True):
    """The service beside another server, round by round."""

    rate: Spread
    """Requests per second of ours for one of the other's."""
    work: Spread
    """The same by processor time for each request."""
    p50: Spread
    """Median latency of ours for one of the other's."""


class Kind(msgspec.Struct, forbid_unknown_fields=True):
    """A calculation under load."""

    name: str
    again: bool
    """Whether a few requests are asked again and again, so that their answers are kept."""
    rate: Spread
    """Requests per second on one core."""
    work_us: Spread
    """Processor time of the server for each request."""
    floor_us: Spread
    p50_ms: Spread
    p99_ms: Spread
    floor: Against
    peer: Against | None
    outside_us: Spread | None = None
    """Of new requests: processor time of one whose answer is kept, in the same rounds."""
    inside_us: Spread | None = None
    """Of new requests: what they take beyond that, round by round."""


class Got(msgspec.Struct, forbid_unknown_fields=True):
    """An address that is read with GET, under load."""

    what: str
    rate: Spread
    work_us: Spread


class Within(msgspec.Struct, forbid_unknown_fields=True):
    """A new request in process, in microseconds of processor time."""

    name: str
    decode: float
    calculate: float
    encode: float
    whole: float
    shares: dict[str, float]
    """The parts' shares of the whole, by looking at it again and again."""


class Item(msgspec.Struct, forbid_unknown_fields=True):
    """An item of many, in microseconds of processor time."""

    taken: str
    answered: str
    items: int
    bulk: float
    alone: float


class Benchmark(msgspec.Struct, forbid_unknown_fields=True):
    """All that one run measured."""

    machine: Machine
    load: str
    """What made the load."""
    rounds: int
    seconds: float
    kinds: list[Kind]
    gets: list[Got]
    within: list[Within]
    items: list[Item]
    beside: Spread
    """Median latency of single splits while ten thousand are answered, for one without."""


Measured = dict[str, dict[str, list[Load]]]


class Rounds:
    """Servers that run side by side, and are loaded one after the other."""

    def __init__(self, running: Mapping[str, Server], *, own: bool = False) -> None:
        """Take servers over.

        Args:
            running: the servers by their names.
            own: load by the benchmark's own generator in any case.
        """
        self.running = running
        self.failures = 0
        self._own = own
        self._walks: dict[tuple[str, str, int], Walk] = {}

    def agree(self, names: Sequence[str]) -> None:
        """See that every server answers as the calculation does.

        Raises:
            RuntimeError: one does not.
        """
        for name, one in product(names, self.running):
            if not agrees(self.running[one].port, name):
                raise RuntimeError(f"the server {one!r} does not answer {name} as the calculation does")

    def measure(
        self, names: Sequence[str], rounds: int, seconds: float, size: int = RING, *, again: bool = False
    ) -> Measured:
        """Load calculations of all servers in turn.

        Args:
            names: of calculations.
            rounds: how often.
            seconds: how long each time.
            size: different requests there are.
            again: load the service with the same few requests as well, as a server called `again`.
        """
        turns = {one: (one, size) for one in self.running} | ({"again": ("ours", AGAIN)} if again else {})
        found: Measured = {name: {one: [] for one in turns} for name in names}
        for name, (one, different) in product(names, turns.values()):  # warms up
            self._one(name, one, 0.3, different)
        for number, name, turn in product(range(rounds), names, turns):
            one, different = turns[turn]
            told = self._one(name, one, seconds, different)
            self.failures += told.failures
            found[name][turn].append(told)
            latency = f"p50 {told.p50:.2f} ms, p99 {told.p99:.2f} ms"
            shown = f"{told.rate:9.0f}/s, {latency}, {told.work:.0f} µs of processor"
            print(f"round {number + 1}  {name:15} {turn:6} {shown}", flush=True)
        return found

    def walk(self, name: str, one: str, size: int = RING) -> Walk:
        """Where a server is in the requests to a calculation: it goes on there, else it would be asked again."""
        return self._walks.setdefault((name, one, size), Walk(ring(name, size)))

    def _one(self, name: str, one: str, seconds: float, size: int) -> Load:
        return further(self.running[one], name, self.walk(name, one, size), seconds, own=self._own)


def addresses(count: int = RING) -> dict[str, list[bytes]]:
    """Addresses that are read with GET: single values that all differ, one that comes back, and an entry.

    Args:
        count: of different values.
    """
    all_new = [VALUE.format(strength=20 + 30 * index / count).encode() for index in range(count)]
    return {"a value, always another": all_new, "the same value": all_new[:1], "an entry of the catalogue": [LISTED]}


def _against(ours: Sequence[Load], others: Sequence[Load]) -> Against:
    return Against(
        spread(ratios(ours, others, "rate")),
        spread(ratios(others, ours, "work")),
        spread(ratios(ours, others, "p50")),
    )


def _kinds(name: str, measured: Mapping[str, Sequence[Load]]) -> list[Kind]:
    """New requests, and the same asked again beside the floor's new ones."""
    floor, kept = measured["floor"], [one.work for one in measured["again"]]
    found = []
    for ours in (measured["ours"], measured["again"]):
        again = ours is measured["again"]
        found.append(
            Kind(
                name=name,
                again=again,
                rate=spread([one.rate for one in ours]),
                work_us=spread([one.work for one in ours]),
                floor_us=spread([one.work for one in floor]),
                p50_ms=spread([one.p50 for one in ours]),
                p99_ms=spread([one.p99 for one in ours]),
                floor=_against(ours, floor),
                peer=_against(ours, measured["peer"]) if "peer" in measured and not again else None,
                outside_us=None if again else spread(kept),
                inside_us=None if again else spread([a.work - b for a, b in zip(ours, kept, strict=True)]),
            )
        )
    return found


def _got(what: str, loads: Sequence[Load]) -> Got:
    return Got(what, spread([one.rate for one in loads]), spread([one.work for one in loads]))


def _within(name: str, repeats: int, seconds: float) -> Within:
    decode, calculate, encode, whole = (round(one, 1) for one in inside(name, repeats))
    return Within(name, decode, calculate, encode, whole, shares(name, seconds))


def everything(
    names: Sequence[str],
    rounds: int,
    seconds: float,
    core: int | None,
    *,
    peer: bool = True,
    counts: Sequence[int] = BULK,
    least: int = LEAST,
) -> tuple[Benchmark, int]:
    """Measure all that the budgets are about.

    Args:
        names: of calculations.
        rounds: how often each is measured.
        seconds: of load in a round.
        core: that the servers run on.
        peer: whether there is one.
        counts: items that are sent at once.
        least: items that are measured together at least.

    Returns:
        What was measured, and how many requests failed.
    """
    watch = Watch()
    within = [_within(name, 2 * rounds + 1, min(3.0, rounds)) for name in names]
    items = costs(tuple(counts), rounds, FORMATS[:1], least) + costs((IN_FORMATS,), rounds, FORMATS[1:], least)
    with ExitStack() as stack:
        others = [one for one in SERVERS if peer or one != "peer"]
        turns = Rounds({one: stack.enter_context(server(one, core)) for one in others})
        turns.agree(names)
        measured = turns.measure(names, rounds, seconds, again=True)
        ours = turns.running["ours"]
        walks = {what: Walk(found) for what, found in addresses().items()}
        read: dict[str, list[Load]] = {what: [] for what in walks}
        for _, what in product(range(rounds), walks):
            read[what].append(further(ours, "", walks[what], seconds))
        failures = turns.failures + sum(one.failures for loads in read.values() for one in loads)
        told: list[Beside] = [beside(ours, turns.walk(NAME, "ours"), max(counts)) for _ in range(rounds)]
    found = Benchmark(
        machine=watch.machine(),
        load=generator(),
        rounds=rounds,
        seconds=seconds,
        kinds=sorted((kind for name in names for kind in _kinds(name, measured[name])), key=lambda kind: kind.again),
        gets=[_got(what, loads) for what, loads in read.items()],
        within=within,
        items=[Item(one.taken, one.answered, one.items, round(one.bulk, 1), round(one.alone, 1)) for one in items],
        beside=spread([one.during / one.alone for one in told]),
    )
    return found, failures
