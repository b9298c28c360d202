"""Figures and tables as Markdown, written so that the last bit of a machine decides nothing."""

from collections.abc import Iterable, Sequence

from tests.proof.report.records import Point

OFF_THE_HALF = 1 + 1e-10
"""A figure that stands half way between two digits is moved off it."""
LAST_BITS = 1e-9
"""What is as small beside a figure is how a machine rounds."""


def figure(value: float, digits: int = 6) -> str:
    """A figure to so many digits; a trace of one that rounding left is 0."""
    return f"{value * OFF_THE_HALF:.{digits}g}"


def deviation(point: Point) -> str:
    """Ours less the published figure, to two digits; 0 where only rounding is left."""
    if point.is_fine:
        return "0" if point.is_within else f"{point.deviation:+.0e}"
    last = LAST_BITS * max(abs(point.ours), abs(point.published))
    return "0" if abs(point.deviation) <= last else f"{point.deviation * OFF_THE_HALF:+.2g}"


def share(point: Point) -> str:
    """How much of its tolerance a deviation uses, in words where only rounding would tell."""
    if point.is_fine:
        return "within" if point.is_within else "beyond"
    return percent(abs(point.ratio))


def percent(ratio: float) -> str:
    """A whole percentage."""
    return f"{100 * ratio * OFF_THE_HALF:.0f} %"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """A table in Markdown."""
    lines = [_row(head), "|" + "---|" * len(head)]
    return lines + [_row(row) for row in rows]


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"
