"""Ratios of rounds, and the tables they make."""

from collections.abc import Mapping, Sequence
from statistics import median
from typing import Final

from tests.benchmarks.inside import Inside
from tests.benchmarks.load import Load

Rounds = Mapping[str, Sequence[Load]]
"""For each server the load of every round."""

GOALS: Final = {
    "liquid-split": "at least 0.60 of the floor, 3.5 times the peer",
    "concentration": "at least 0.60 of the floor, 3.5 times the peer",
    "saponification": "below 150 µs",
    "stock-mixing": "below 1000 µs",
}


def ratios(ours: Sequence[Load], others: Sequence[Load], which: str = "rate") -> list[float]:
    """Ours against another server, round by round."""
    return [getattr(a, which) / getattr(b, which) for a, b in zip(ours, others, strict=True)]


def spread(values: Sequence[float]) -> str:
    """The median, with the least and the greatest."""
    return f"{median(values):.2f} ({min(values):.2f} to {max(values):.2f})"


def table(measured: Mapping[str, Rounds], own: Mapping[str, Inside]) -> str:
    """The tables, ready to be put into DEVELOPERS.md."""
    lines: list[str] = []
    if measured:
        lines += [
            "| calculation | requests/s | of the floor | times the peer | p50, p99 × floor | p50, p99 × peer | goal |",
            "|---|---|---|---|---|---|---|",
        ]
    for name, rounds in measured.items():
        ours, floor, peer = rounds["ours"], rounds["floor"], rounds.get("peer")
        cells = [
            f"`{name}`",
            f"{median(one.rate for one in ours):.0f}",
            spread(ratios(ours, floor)),
            "not measured" if peer is None else spread(ratios(ours, peer)),
            _latency(ours, floor),
            "not measured" if peer is None else _latency(ours, peer),
            GOALS[name],
        ]
        lines.append(f"| {' | '.join(cells)} |")
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


def _latency(ours: Sequence[Load], others: Sequence[Load]) -> str:
    p50, p99 = (median(ratios(ours, others, which)) for which in ("p50", "p99"))
    return f"{p50:.2f}, {p99:.2f}"
