"""Ratios of rounds, and the tables they make."""

from collections.abc import Mapping, Sequence
from statistics import median

from tests.benchmarks.goals import goal
from tests.benchmarks.inside import Inside
from tests.benchmarks.load import Load

Rounds = Mapping[str, Sequence[Load]]
"""For each server the load of every round."""


def ratios(these: Sequence[Load], those: Sequence[Load], which: str) -> list[float]:
    """One server against another in some respect, round by round."""
    return [getattr(a, which) / getattr(b, which) for a, b in zip(these, those, strict=True)]


def spread(values: Sequence[float]) -> str:
    """The median, with the least and the greatest."""
    return f"{median(values):.2f} ({min(values):.2f} to {max(values):.2f})"


def _against(ours: Sequence[Load], others: Sequence[Load] | None) -> list[str]:
    """Rate, processor time and latency against those of another server."""
    if others is None:
        return ["not measured"] * 3
    p50, p99 = (median(ratios(ours, others, which)) for which in ("p50", "p99"))
    return [
        spread(ratios(ours, others, "rate")),
        spread(ratios(others, ours, "work")),
        f"{p50:.2f}, {p99:.2f}",
    ]


def table(measured: Mapping[str, Rounds], own: Mapping[str, Inside]) -> str:
    """The tables, to be printed."""
    lines: list[str] = []
    if measured:
        lines += [
            "| calculation | of the floor: rate | by processor time | p50, p99 "
            "| times the peer: rate | by processor time | p50, p99 | goal |",
            "|---|---|---|---|---|---|---|---|",
        ]
    for name, rounds in measured.items():
        floor, peer = _against(rounds["ours"], rounds["floor"]), _against(rounds["ours"], rounds.get("peer"))
        lines.append(f"| {' | '.join((f'`{name}`', *floor, *peer, goal(name)))} |")
    if measured:
        lines.append("")
    lines += [
        "| calculation, microseconds in process | decode | calculate | encode | in all |",
        "|---|---|---|---|---|",
    ]
    lines += [
        f"| `{name}` | {one.decode:.1f} | {one.calculate:.1f} | {one.encode:.1f} | {one.whole:.1f} |"
        for name, one in own.items()
    ]
    return "\n".join(lines)
