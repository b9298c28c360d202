"""Every goal beside what was measured, and the cause of each that is missed.

Causes are told in processor time. A ratio to another server reaches its goal where it does so both by requests per
second and by processor time.
"""

from tests.benchmarks.compared import Benchmark, Item, Kind, Within
from tests.benchmarks.goals import (
    BESIDE,
    FLAT,
    FLOOR,
    ITEM,
    OF_SERVERS,
    PEER,
    RECKONED,
    RESIDENT_MB,
    START_S,
    Row,
    megabytes,
)
from tests.benchmarks.results import judged
from tests.benchmarks.shares import PARTS
from tests.benchmarks.start import Start

RECKONING = ("calculation", "cautions", "intervals")
"""Parts of the time in process that are neither decoding nor encoding."""


TRIED = {
    "liquid-split": "Tried: the chemistry and the split's own modules compiled by mypyc, an eighth less in process.",
    "concentration": "Tried: the chemistry compiled by mypyc, a third less in process.",
}
"""What was tried without reaching the goal (DEVELOPERS.md, "Speed")."""
LARGEST = 3
"""Pieces of a request that are named."""


def within(it: Benchmark, name: str) -> Within | None:
    """What a calculation takes in process, where it was measured."""
    return next((one for one in it.within if one.name == name), None)


def _both(rate: float, work: float, least: float) -> str:
    return "" if min(rate, work) >= least or work < least else " By processor time alone it is reached."


def _pieces(it: Benchmark, kind: Kind, allowed: float) -> str:
    """The largest pieces of a request, what each is of its time, and what was tried."""
    one, too_much = within(it, kind.name), kind.work_us.median - allowed
    if one is None or kind.outside_us is None or kind.inside_us is None or too_much <= 0:
        return ""
    found = {part: one.shares[part] * kind.inside_us.median for part in PARTS}
    found["server, HTTP, log and counts"] = kind.outside_us.median
    largest = sorted(found, key=lambda part: -found[part])[:LARGEST]
    told = ", ".join(f"{part} {found[part]:.0f} µs ({found[part] / kind.work_us.median:.0%})" for part in largest)
    tried = TRIED.get(kind.name, "")
    return f" A request is {too_much:.0f} µs above the goal; its largest pieces: {told}. {tried}".rstrip()


def _of_floor(it: Benchmark, kind: Kind) -> Row:
    rate, work, floor_us = kind.floor.rate.median, kind.floor.work.median, kind.floor_us.median
    allowed = floor_us / FLOOR
    why = f"a request costs the floor {floor_us:.0f} µs and the service {kind.work_us.median:.0f}"
    if kind.outside_us is not None and kind.inside_us is not None:
        outside, inside = kind.outside_us.median, kind.inside_us.median
        left = allowed - outside
        why += f": {outside:.0f} where its answer is kept, and {inside:.0f} more where it is new. "
        why += f"{FLOOR:.2f} of the floor is {allowed:.0f} µs for a request"
        why += (
            f", which leaves {left:.0f} for decoding, reckoning and encoding." if left > 0 else ": no more than that."
        )
        why += _pieces(it, kind, allowed)
    return Row(
        f"`{kind.name}`, new: of the floor's requests per second",
        f"at least {FLOOR:.2f}",
        f"{kind.floor.rate.text()}; by processor time {kind.floor.work.text()}",
        min(rate, work) >= FLOOR,
        judged(it.machine, kind.floor.rate.rounds),
        why + _both(rate, work, FLOOR),
    )


def _of_peer(it: Benchmark, kind: Kind) -> Row | None:
    if kind.peer is None:
        return None
    rate, work, ours = kind.peer.rate.median, kind.peer.work.median, kind.work_us.median
    peers = ours * work
    why = f"a request costs the peer {peers:.0f} µs and the service {ours:.0f}; the goal is {peers / PEER:.0f}."
    one = within(it, kind.name)
    if one is not None and kind.inside_us is not None:
        same = kind.inside_us.median * sum(one.shares[part] for part in RECKONING)
        why += (
            f" The calculation with its cautions and intervals is the same code in both, {same:.0f} µs of it here; "
            f"what is around it takes {ours - same:.0f} µs here and {peers - same:.0f} there."
        )
        why += _pieces(it, kind, peers / PEER)
    return Row(
        f"`{kind.name}`, new: times the peer's requests per second",
        f"at least {PEER:g}",
        f"{kind.peer.rate.text()}; by processor time {kind.peer.work.text()}",
        min(rate, work) >= PEER,
        judged(it.machine, kind.peer.rate.rounds),
        why + _both(rate, work, PEER),
    )


def _reckoned(it: Benchmark, name: str, most: float) -> Row | None:
    one = within(it, name)
    if one is None:
        return None
    whole = sum(one.shares[part] for part in RECKONING)
    parts = ", ".join(f"{part} {one.calculate * one.shares[part] / whole:.0f}" for part in RECKONING)
    return Row(
        f"`{name}`, new: reckoning",
        f"below {most:.0f} µs",
        f"{one.calculate:.0f} µs; {one.whole:.0f} µs with decoding and encoding",
        one.calculate < most,
        judged(it.machine, it.rounds),
        f"its {one.calculate:.0f} µs of reckoning in process are {parts} µs.",
    )


def plain(it: Benchmark) -> list[Item]:
    """What items of many take in JSON, by their number."""
    return [one for one in it.items if one.taken == one.answered == "application/json"]


def _many(it: Benchmark) -> list[Row]:
    found = plain(it)
    last, by_cost = found[-1], sorted(found, key=lambda one: one.bulk)
    low, high = by_cost[0], by_cost[-1]
    more = high.bulk - low.bulk
    fit = judged(it.machine, it.rounds)
    shown = ", ".join(f"{one.bulk:.1f}" for one in found)
    return [
        Row(
            f"an item of {last.items} splits at once",
            f"below {ITEM:.0f} µs",
            f"{last.bulk:.1f} µs, {last.bulk / last.alone:.2f} times the calculation alone ({last.alone:.1f} µs)",
            last.bulk < ITEM,
            fit,
            f"of its {last.bulk:.1f} µs {last.alone:.1f} ({last.alone / last.bulk:.0%}) are decoding, reckoning and "
            f"encoding, as they are without any HTTP, and {last.bulk - last.alone:.1f} all that is around it.",
        ),
        Row(
            f"the same from {found[0].items} to {last.items} items",
            f"flat within {FLAT:.0%}",
            f"{shown} µs: {more / low.bulk:.0%}",
            more / low.bulk <= FLAT,
            fit,
            f"an item of {high.items} costs {more:.1f} µs more than one of {low.items}. The calculation alone, without "
            f"any HTTP and measured in turn with them, differs by {high.alone - low.alone:.1f} µs, all that is around "
            f"it by {more - (high.alone - low.alone):.1f}.",
        ),
        Row(
            "median latency of single splits beside them",
            f"at most {BESIDE:.0f} times that without",
            it.beside.text(),
            it.beside.median <= BESIDE,
            judged(it.machine, it.beside.rounds),
            "one core answers both: a single split waits for the slice of the many that is being reckoned, and is "
            f"answered before the next; with that it takes {it.beside.median:.2f} times as long.",
        ),
    ]


def _starts(started: Start) -> list[Row]:
    first = list(started.imports_ms.items())[:3]
    all_ms = sum(started.imports_ms.values())
    held = started.resident_mib.median
    return [
        Row(
            "start to first answer",
            f"below {START_S:g} s",
            started.answer_s.text(2, " s"),
            started.answer_s.median < START_S,
            judged(started.machine, started.answer_s.rounds),
            f"most of it is loading: {all_ms / 1e3:.2f} s with what measuring it adds, of which "
            + ", ".join(f"{name} {taken:.0f} ms" for name, taken in first)
            + ".",
        ),
        Row(
            "resident memory of a worker, started",
            f"below {RESIDENT_MB:.0f} MB",
            f"{megabytes(held):.1f} MB ({held:.1f} MiB)",
            megabytes(held) < RESIDENT_MB,
            judged(started.machine, started.resident_mib.rounds),
            f"{held:.1f} MiB are held as soon as the first answer is there: the modules loaded for it (below) and "
            "the reference data.",
        ),
    ]


def budgets(it: Benchmark, started: Start) -> list[Row]:
    """Every goal whose figure was measured."""
    rows: list[Row | None] = []
    for kind in it.kinds:
        if kind.name in OF_SERVERS and not kind.again:
            rows += [_of_floor(it, kind), _of_peer(it, kind)]
    rows += [_reckoned(it, name, most) for name, most in RECKONED.items()]
    return [one for one in (*rows, *_many(it), *_starts(started)) if one is not None]
