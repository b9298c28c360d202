"""The page of the benchmark, results/README.md, made from what is kept."""

from typing import Final

from tests.benchmarks import start
from tests.benchmarks.compared import Benchmark, Kind, Within
from tests.benchmarks.results import about, kept
from tests.benchmarks.shares import PARTS

FLOOR: Final = 0.60
PEER: Final = 3.5
OF_SERVERS: Final = ("liquid-split", "concentration")
"""Calculations whose budgets are ratios to other servers."""
RECKONED: Final = {"saponification": 150.0, "stock-mixing": 1000.0}
"""Microseconds that reckoning a request may take."""
ITEM: Final = 30.0
FLAT: Final = 0.10
BESIDE: Final = 3.0
_HEAD: Final = """\
# Speed, as measured

Every figure comes from `benchmark.json` and `start.json` beside this page, which `python -m tests.benchmarks --write`
and `python -m tests.benchmarks.start` measure and write; the page is made from them (`tests/benchmarks/page.py`), and a
test holds that it is. How it is measured, and what is compared with what:
[DEVELOPERS.md](../../../DEVELOPERS.md#speed).
How time and memory grow: [growth.md](growth.md). What many callers take: [capacity.md](capacity.md).

Ratios are medians of interleaved rounds, with the least and the greatest. They hold on other machines; microseconds and
requests per second do not, and with other work on the machine ratios by processor time hold better than those by rate.
"""


def _met(well: bool) -> str:
    return "met" if well else "**missed**"


def _row(what: str, budget: str, measured: str, well: bool) -> str:
    return f"| {what} | {budget} | {measured} | {_met(well)} |"


def _within(it: Benchmark, name: str) -> Within | None:
    return next((one for one in it.within if one.name == name), None)


def _of_servers(kind: Kind) -> list[str]:
    asked = "asked again" if kind.again else "new"
    rows = [
        _row(
            f"`{kind.name}`, {asked}: of the floor's requests per second",
            f"at least {FLOOR:.2f}",
            f"{kind.floor.rate.text()}; by processor time {kind.floor.work.text()}",
            kind.floor.rate.median >= FLOOR,
        )
    ]
    if kind.peer is not None:
        rows.append(
            _row(
                f"`{kind.name}`, {asked}: times the peer's requests per second",
                f"at least {PEER}",
                f"{kind.peer.rate.text()}; by processor time {kind.peer.work.text()}",
                kind.peer.rate.median >= PEER,
            )
        )
    return rows


def budgets(it: Benchmark, started: start.Start) -> list[str]:
    """The table of budgets."""
    rows = ["## Budgets", "", "| what | budget | measured | |", "|---|---|---|---|"]
    for kind in it.kinds:
        if kind.name in OF_SERVERS:
            rows += _of_servers(kind)
    for name, most in RECKONED.items():
        one = _within(it, name)
        if one is not None:
            measured = f"{one.calculate:.0f} µs; {one.whole:.0f} µs with decoding and encoding"
            rows.append(_row(f"`{name}`, new: reckoning", f"below {most:.0f} µs", measured, one.calculate < most))
    plain = [one for one in it.items if one.taken == one.answered == "application/json"]
    last = plain[-1]
    costs = [one.bulk for one in plain]
    grown = max(costs) / min(costs) - 1
    rows += [
        _row(
            f"an item of {last.items} splits at once",
            f"below {ITEM:.0f} µs",
            f"{last.bulk:.1f} µs, {last.bulk / last.alone:.2f} times the calculation alone ({last.alone:.1f} µs)",
            last.bulk < ITEM,
        ),
        _row(
            f"the same from {plain[0].items} to {last.items} items",
            f"flat within {FLAT:.0%}",
            f"{', '.join(f'{one:.1f}' for one in costs)} µs: {grown:.0%}",
            grown <= FLAT,
        ),
        _row(
            "median latency of single splits beside them",
            f"at most {BESIDE:.0f} times that without",
            it.beside.text(),
            it.beside.median <= BESIDE,
        ),
        _row("start to first answer", "below 1.5 s", started.answer_s.text(2, " s"), started.answer_s.median < 1.5),
        _row(
            "resident memory of a worker, started",
            "below 90 MB",
            f"{started.resident_mib.text(1, ' MiB')}; {it.resident_mib:.0f} MiB after the load of this run",
            started.resident_mib.median < 90,
        ),
        "",
    ]
    return rows


def causes(it: Benchmark) -> list[str]:
    """What a new request's time goes to, and what is short of a budget for that."""
    lines = [
        "## What a new request's time goes to",
        "",
        "Processor time of the server for each request (server and HTTP: the whole under load without the time in",
        "process), the parts in process by looking at it some hundred times a second. Encoding includes making the",
        "answer's figures.",
        "",
        "| calculation | all, µs | server and HTTP | decode | calculation | cautions | intervals | encode |",
        "|---|---|---|---|---|---|---|---|",
    ]
    short: list[str] = []
    for kind in it.kinds:
        one = _within(it, kind.name)
        if kind.again or one is None:
            continue
        whole = kind.work_us.median
        outside = max(0.0, whole - one.whole)
        inside = whole - outside
        parts = [
            outside,
            *(one.shares[part] * inside for part in PARTS),
        ]
        shown = " | ".join(f"{taken:.0f} ({taken / whole:.0%})" for taken in parts)
        lines.append(f"| `{kind.name}` | {whole:.0f} | {shown} |")
        if kind.name in OF_SERVERS and kind.floor.rate.median < FLOOR:
            left = max(0.0, kind.floor_us.median / FLOOR - outside)
            short.append(
                f"- `{kind.name}`, new, reaches {kind.floor.rate.median:.2f} of the floor and not {FLOOR:.2f}: at "
                f"{kind.floor_us.median:.0f} µs for a request of the floor, that leaves {left:.0f} µs for all that "
                f"is done in process, which takes {inside:.0f} µs; the calculation alone, without cautions and "
                f"intervals, {parts[2]:.0f} µs."
            )
        if kind.name in OF_SERVERS and kind.peer is not None and kind.peer.rate.median < PEER:
            short.append(
                f"- `{kind.name}`, new, is {kind.peer.rate.median:.2f} times as fast as the peer and not {PEER}: the "
                f"peer runs the same calculation, {sum(parts[2:5]):.0f} µs of {kind.work_us.median:.0f} µs here, "
                "which no framework can lessen."
            )
    plain = [one for one in it.items if one.taken == one.answered == "application/json"]
    last = plain[-1]
    if last.bulk >= ITEM:
        short.append(
            f"- An item of many takes {last.bulk:.1f} µs and not {ITEM:.0f}: {last.alone:.1f} µs "
            f"({last.alone / last.bulk:.0%}) are decoding, reckoning and encoding, and "
            f"{last.bulk - last.alone:.1f} µs all that is around it."
        )
    lines.append("")
    if short:
        lines += ["What is missed, and why:", "", *short, ""]
    return lines


def tables(it: Benchmark) -> list[str]:
    """Everything that was measured."""
    lines = [
        "## Under load",
        "",
        f"One worker on one core; load by {it.load} from another, 16 connections; {it.rounds} rounds of "
        f"{it.seconds:g} s.",
        "",
        "| calculation | requests | per second | processor, µs | p50, ms | p99, ms | of the floor | times the peer |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for one in it.kinds:
        peer = "not measured" if one.peer is None else one.peer.rate.text()
        lines.append(
            f"| `{one.name}` | {'again' if one.again else 'new'} | {one.rate.text(0)} | {one.work_us.text(0)} "
            f"| {one.p50_ms.text()} | {one.p99_ms.text()} | {one.floor.rate.text()} | {peer} |"
        )
    lines += ["", "| read with GET | per second | processor, µs |", "|---|---|---|"]
    lines += [f"| {one.what} | {one.rate.text(0)} | {one.work_us.text(0)} |" for one in it.gets]
    lines += [
        "",
        "## In process",
        "",
        "| calculation, microseconds | decode | calculate | encode | in all |",
        "|---|---|---|---|---|",
        *(
            f"| `{one.name}` | {one.decode:.1f} | {one.calculate:.1f} | {one.encode:.1f} | {one.whole:.1f} |"
            for one in it.within
        ),
        "",
        "## Many at once",
        "",
        "| body | answer | items | µs an item | of the calculation alone |",
        "|---|---|---|---|---|",
        *(
            f"| {one.taken} | {one.answered} | {one.items} | {one.bulk:.1f} | {one.bulk / one.alone:.2f} |"
            for one in it.items
        ),
        "",
    ]
    return lines


def files() -> dict[str, str]:
    """The page; none where not all was measured yet."""
    started, it = kept("start", start.Start), kept("benchmark", Benchmark)
    if started is None or it is None:
        return {}
    lines = [_HEAD, about(it.machine), "", *budgets(it, started), *causes(it), *tables(it), *start.part(started)]
    starts = about(started.machine)
    return {"README.md": "\n".join([*lines, f"Starts: {starts[0].lower()}{starts[1:]}", ""])}
