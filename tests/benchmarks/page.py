"""The page of the benchmark, results/README.md, made from what is kept."""

from typing import Final

from tests.benchmarks import every, start
from tests.benchmarks.budgets import budgets, within
from tests.benchmarks.compared import Benchmark
from tests.benchmarks.results import LEAST_ROUNDS, QUIET, about, kept
from tests.benchmarks.shares import PARTS, TICK

_HEAD: Final = """\
# Speed, as measured

Every figure comes from `benchmark.json` and `start.json` beside this page, which `python -m tests.benchmarks --write`
and `python -m tests.benchmarks.start` measure and write; the page is made from them (`tests/benchmarks/page.py`), and a
test holds that it is. How it is measured, and what is compared with what:
[DEVELOPERS.md](../../../DEVELOPERS.md#speed).
How time and memory grow: [growth.md](growth.md). What many callers take: [capacity.md](capacity.md).

Ratios are medians of interleaved rounds, with the least and the greatest. They depend on the machine less than
microseconds and requests per second, but do depend on it: within this one run the ratios to floor and peer were up to
{apart:.1f} times as high in one round as in another. What was measured in fewer than {least} rounds, or while other
programs used more than {quiet:g} cores, is not judged.
"""


def goals(it: Benchmark, started: start.Start) -> list[str]:
    """The table of goals, and why some are missed."""
    rows = budgets(it, started)
    lines = ["## Budgets", "", "| what | budget | measured | |", "|---|---|---|---|", *(one.told() for one in rows), ""]
    missed = [f"- {one.what}: {one.why}" for one in rows if one.judged and not one.well]
    return [*lines, "What is missed, and why:", "", *missed, ""] if missed else lines


def parts(it: Benchmark) -> list[str]:
    """What a new request's time goes to."""
    lines = [
        "## What a new request's time goes to",
        "",
        "Processor time of the server for each request. What is outside (server, HTTP, log and counts) is what a",
        "request costs whose answer is kept, measured in the same rounds; the rest, also by rounds, is divided as",
        f"looks at the same work in process share it, one in {TICK * 1e3:g} ms of processor time. Encoding includes",
        "making the answer's figures. The last column is the same work in this process, without a server.",
        "",
        "| calculation | all, µs | outside | decode | calculation | cautions | intervals | encode | in process, µs |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    for kind in it.kinds:
        one = within(it, kind.name)
        if kind.outside_us is None or kind.inside_us is None or one is None:
            continue
        whole, inside = kind.work_us.median, kind.inside_us.median
        taken = [kind.outside_us.median, *(one.shares[part] * inside for part in PARTS)]
        shown = " | ".join(f"{each:.0f} ({each / whole:.0%})" for each in taken)
        lines.append(f"| `{kind.name}` | {kind.work_us.text(0)} | {shown} | {one.whole:.0f} |")
    return [*lines, ""]


def tables(it: Benchmark) -> list[str]:
    """Everything that was measured."""
    lines = [
        "## Under load",
        "",
        f"One worker on one core; load by {it.load} from another, 16 connections; rounds: {it.rounds}, each of "
        f"{it.seconds:g} s.",
        "Asked again and again, answers are kept: this is for information, since it compares kept answers with the",
        "floor's new ones, in the same rounds.",
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
        "The parts in turns of 200 requests each, and in all from end to end, one request after another: that holds",
        "making the answer, too, and each part finds less of what it needs in the processor's caches.",
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


def apart(it: Benchmark) -> float:
    """How far the rounds of a ratio of new requests lay apart at most: the greatest to the least."""
    told = [other.rate for one in it.kinds if not one.again for other in (one.floor, one.peer) if other is not None]
    return max((one.high / one.low for one in told if one.low > 0), default=1.0)


def files() -> dict[str, str]:
    """The page; none where not all was measured yet."""
    started, it = kept("start", start.Start), kept("benchmark", Benchmark)
    if started is None or it is None:
        return {}
    head = _HEAD.format(least=LEAST_ROUNDS, quiet=QUIET, apart=apart(it))
    lines = [head, about(it.machine), "", *goals(it, started), *parts(it), *tables(it), *start.part(started)]
    starts = about(started.machine)
    lines += [f"Starts: {starts[0].lower()}{starts[1:]}", ""]
    costs = kept("every", every.Every)
    if costs is not None:
        lines += [*every.part(costs), about(costs.machine), ""]
    return {"README.md": "\n".join(lines)}
