"""Curves of our models with the interval that is told, and the panel of deviations that every model has."""

from collections.abc import Callable, Sequence

from service.chemistry.errors import OutOfRange
from tests.proof.report.plot import Curve, Panel, Points
from tests.proof.report.records import Point

MOST_NAMES = 30
"""Things that are counted along an axis and still named."""
Formula = Callable[[float], float]
Limits = Callable[[float], tuple[float, float]]


def spread(low: float, high: float, count: int = 80) -> list[float]:
    """Evenly spread figures, both ends among them."""
    return [low + (high - low) * index / (count - 1) for index in range(count)]


def spread_by_factors(low: float, high: float, count: int = 80) -> list[float]:
    """Figures spread by equal factors, both ends among them."""
    return [low * (high / low) ** (index / (count - 1)) for index in range(count)]


def sampled(
    label: str, x: Sequence[float], formula: Formula, half_width: Formula | None = None, limits: Limits | None = None
) -> Curve:
    """A curve of ours; a gap where the model raises.

    Args:
        label: its name.
        x: where it is evaluated.
        formula: ours.
        half_width: of the interval that is told about it.
        limits: the interval itself, where it is not even about the value.
    """
    y = [_or_gap(formula, one) for one in x]
    if half_width is None and limits is None:
        return Curve(label, x, y)
    low: list[float | None] = []
    high: list[float | None] = []
    for at, value in zip(x, y, strict=True):
        ends: tuple[float | None, float | None] = (None, None)
        if value is not None:
            if limits is not None:
                ends = limits(at)
            elif half_width is not None:
                width = half_width(at)
                ends = (value - width, value + width)
        low.append(ends[0])
        high.append(ends[1])
    return Curve(label, x, y, low, high)


def _or_gap(formula: Formula, x: float) -> float | None:
    try:
        return formula(x)
    except OutOfRange:
        return None


def marked(points: Sequence[Point], label: str | None = None) -> list[Points]:
    """The published figures of points, a set of marks for each source."""
    by_source: dict[str, list[Point]] = {}
    for point in points:
        by_source.setdefault(label or point.source.label, []).append(point)
    return [Points(name, [p.x for p in some], [p.published for p in some]) for name, some in by_source.items()]


def deviations(points: Sequence[Point], x_label: str, *, log_x: bool = False) -> Panel:
    """Deviations of points in tolerances: what lies between the lines is within.

    Args:
        points: of one model.
        x_label: of their x; empty where they are counted.
        log_x: whether equal factors are equally far apart.
    """
    counted = not x_label
    places = {id(point): float(index) if counted else point.x for index, point in enumerate(points)}
    by_source: dict[str, list[Point]] = {}
    for point in points:
        by_source.setdefault(point.source.label, []).append(point)
    ends = [min(places.values()), max(places.values())]
    low, high = ends
    edges = Curve("as far as the tolerance", [low, high, high, low, high], [1.0, 1.0, None, -1.0, -1.0])
    marks = [Points(name, [places[id(p)] for p in some], [p.ratio for p in some]) for name, some in by_source.items()]
    names = [point.what for point in points] if counted and len(points) <= MOST_NAMES else []
    label = x_label if names or not counted else "points, in the order of their table"
    return Panel(label, "deviation / tolerance", [edges], marks, "Ours less published", names, log_x, height=200.0)
