"""Plots as SVG, written by hand so that the same figures have the same bytes on every machine.

`draw` is the one function: panels below each other, each with curves (a curve may have a band about it) and points
(with or without ends). Every curve has a dash pattern and every set of points a shape of its own beside its colour, so
that a plot can be read in grey; a set keeps both in every panel. Colours are those of M. Okabe and K. Ito, Color
Universal Design (2008).
"""

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple
from xml.sax.saxutils import escape

from tests.proof.report.axis import Axis, axis

WIDTH: Final = 760.0
LEFT, RIGHT, TOP, BELOW = 72.0, 18.0, 26.0, 44.0
"""Room about the area of a panel."""
LETTER: Final = 6.3
"""Width of a letter of the legend, about."""
LINE: Final = 17.0
"""Height of a line of the legend."""
COLOURS: Final = ("#000000", "#0072B2", "#D55E00", "#00735C", "#8A5A00", "#A14B7E", "#3B6E9C", "#595959")
DASHES: Final = ("", "7 3", "2 3", "9 3 2 3", "12 4", "4 2", "9 3 2 3 2 3", "1 2")
SHAPES: Final = ("circle", "square", "triangle", "diamond", "cross", "plus", "down", "bar", "left", "right")


class Curve(NamedTuple):
    """A line through points, with gaps where a height is None; `low` and `high` make a band about it."""

    label: str
    x: Sequence[float]
    y: Sequence[float | None]
    low: Sequence[float | None] | None = None
    high: Sequence[float | None] | None = None


class Points(NamedTuple):
    """Marks of one kind, each with its ends where these are given."""

    label: str
    x: Sequence[float]
    y: Sequence[float]
    ends: Sequence[tuple[float, float]] | None = None
    of: str = ""
    """Whose they are; those of one have one shape and colour in all panels. Where it is empty, the label tells."""

    @property
    def whose(self) -> str:
        """What the shape and the colour go by."""
        return self.of or self.label


class Panel(NamedTuple):
    """One pair of axes."""

    x_label: str
    y_label: str
    curves: Sequence[Curve] = ()
    points: Sequence[Points] = ()
    heading: str = ""
    x_names: Sequence[str] = ()
    """Where x counts things from 0: their names."""
    log_x: bool = False
    log_y: bool = False
    height: float = 300.0
    """Of the area within the axes."""


def draw(title: str, says: str, panels: Sequence[Panel]) -> str:
    """A plot as SVG.

    Args:
        title: its heading.
        says: what somebody has to know who does not see it.
        panels: from top to bottom.
    """
    parts, y = [], 34.0
    every = dict.fromkeys(points.whose for panel in panels for points in panel.points)
    places = {whose: place for place, whose in enumerate(every)}
    for panel in panels:
        drawn, used = _panel(panel, y, places)
        parts += drawn
        y += used
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:.0f} {y:.0f}" width="{WIDTH:.0f}" '
        f'height="{y:.0f}" role="img" font-family="sans-serif" font-size="11">'
    )
    words = f"<title>{escape(title)}</title>\n<desc>{escape(says)}</desc>"
    ground = f'<rect width="{WIDTH:.0f}" height="{y:.0f}" fill="#FFFFFF"/>'
    heading = f'<text x="{LEFT:.0f}" y="20" font-size="14" font-weight="bold">{escape(title)}</text>'
    return "\n".join([head, words, ground, heading, *parts, "</svg>", ""])


def number(value: float) -> str:
    """A coordinate to a tenth; what the last bit of a machine decides is moved off the half."""
    return f"{value + 1e-6:.1f}"


def _panel(panel: Panel, top: float, places: Mapping[str, int]) -> tuple[list[str], float]:
    """What is drawn of a panel, and the height it takes; `places` tells the shapes and colours of points."""
    across, up = _axes(panel, top + TOP)
    named = max((len(name) for name in panel.x_names), default=0)
    below = BELOW + (2.9 * named if panel.x_names else 0.0)
    parts = [*_frame(panel, across, up, below)]
    for index, curve in enumerate(panel.curves):
        parts += _band(curve, across, up, COLOURS[index % len(COLOURS)])
    for index, curve in enumerate(panel.curves):
        parts += _line(curve, across, up, _stroke(index))
    for points in panel.points:
        parts += _marks(points, across, up, places[points.whose])
    legend, rows = _legend(panel, up.start + below, places)
    return parts + legend, TOP + panel.height + below + rows * LINE + 8.0


def _axes(panel: Panel, top: float) -> tuple[Axis, Axis]:
    x = [one for curve in panel.curves for one in curve.x] + [one for points in panel.points for one in points.x]
    y: list[float] = []
    for curve in panel.curves:
        for row in (curve.y, curve.low or (), curve.high or ()):
            y += [one for one in row if one is not None]
    for points in panel.points:
        y += [*points.y, *(end for pair in points.ends or () for end in pair)]
    across = axis(min(x), max(x), LEFT, WIDTH - RIGHT, logarithmic=panel.log_x, names=len(panel.x_names))
    return across, axis(min(y), max(y), top + panel.height, top, logarithmic=panel.log_y)


def _frame(panel: Panel, across: Axis, up: Axis, below: float) -> list[str]:
    left, right, bottom, top = across.start, across.end, up.start, up.end
    parts = []
    if panel.heading:
        parts.append(
            f'<text x="{number(left)}" y="{number(top - 8)}" font-weight="bold">{escape(panel.heading)}</text>'
        )
    for at, text in up.ticks():
        y = number(up(at))
        parts.append(f'<path d="M{number(left)} {y}H{number(right)}" stroke="#DDDDDD" stroke-width="0.6"/>')
        parts.append(f'<text x="{number(left - 6)}" y="{number(up(at) + 4)}" text-anchor="end">{text}</text>')
    named = [(float(index), name) for index, name in enumerate(panel.x_names)]
    for at, text in named or across.ticks():
        x = number(across(at))
        parts.append(f'<path d="M{x} {number(top)}V{number(bottom)}" stroke="#EEEEEE" stroke-width="0.6"/>')
        if named:
            y = number(bottom + 12)
            parts.append(
                f'<text x="{x}" y="{y}" text-anchor="end" font-size="9" transform="rotate(-40 {x} {y})">'
                f"{escape(text)}</text>"
            )
        else:
            parts.append(f'<text x="{x}" y="{number(bottom + 15)}" text-anchor="middle">{text}</text>')
    middle = number((top + bottom) / 2)
    parts += [
        f'<path d="M{number(left)} {number(top)}V{number(bottom)}H{number(right)}" fill="none" stroke="#000000"/>',
        f'<text x="{number((left + right) / 2)}" y="{number(bottom + below - 12)}" text-anchor="middle">'
        f"{escape(panel.x_label)}</text>",
        f'<text x="14" y="{middle}" text-anchor="middle" transform="rotate(-90 14 {middle})">'
        f"{escape(panel.y_label)}</text>",
    ]
    return parts


def _stroke(index: int) -> str:
    dashes = DASHES[index % len(DASHES)]
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'fill="none" stroke="{COLOURS[index % len(COLOURS)]}" stroke-width="1.5"{dashed}'


def _runs(x: Sequence[float], *rows: Sequence[float | None]) -> list[list[tuple[float, ...]]]:
    """Stretches without a gap."""
    runs: list[list[tuple[float, ...]]] = [[]]
    for at, *heights in zip(x, *rows, strict=True):
        known = [height for height in heights if height is not None]
        if len(known) == len(heights):
            runs[-1].append((at, *known))
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if run]


def _line(curve: Curve, across: Axis, up: Axis, stroke: str) -> list[str]:
    return [f'<path d="M{_path(run, across, up)}" {stroke}/>' for run in _runs(curve.x, curve.y)]


def _path(run: Sequence[tuple[float, ...]], across: Axis, up: Axis, which: int = 1) -> str:
    return "L".join(f"{number(across(point[0]))} {number(up(point[which]))}" for point in run)


def _band(curve: Curve, across: Axis, up: Axis, colour: str) -> list[str]:
    if curve.low is None or curve.high is None:
        return []
    return [
        f'<path d="M{_path(run, across, up, 1)}L{_path(run[::-1], across, up, 2)}Z" fill="{colour}" '
        'fill-opacity="0.16" stroke="none"/>'
        for run in _runs(curve.x, curve.low, curve.high)
    ]


def _marks(points: Points, across: Axis, up: Axis, index: int) -> list[str]:
    colour, parts = _mark_colour(index), []
    for at, (low, high) in zip(points.x, points.ends or (), strict=bool(points.ends)):
        x = across(at)
        parts.append(
            f'<path d="M{number(x)} {number(up(low))}V{number(up(high))}'
            f'M{number(x - 3)} {number(up(low))}h6M{number(x - 3)} {number(up(high))}h6" stroke="{colour}"/>'
        )
    return parts + [_mark(across(x), up(y), index) for x, y in zip(points.x, points.y, strict=True)]


def _mark_colour(index: int) -> str:
    return COLOURS[(index + 1) % len(COLOURS)]


def _mark(x: float, y: float, index: int) -> str:
    colour, shape, r = _mark_colour(index), SHAPES[index % len(SHAPES)], 3.2
    if shape == "circle":
        return (
            f'<circle cx="{number(x)}" cy="{number(y)}" r="{r}" fill="#FFFFFF" stroke="{colour}" stroke-width="1.3"/>'
        )
    start = f"M{number(x)} {number(y)}"
    lines = {
        "square": "m-3-3h6v6h-6z",
        "triangle": "m0-4l4 7h-8z",
        "down": "m0 4l4-7h-8z",
        "diamond": "m0-4.5l4 4.5l-4 4.5l-4-4.5z",
        "cross": "m-3.5-3.5l7 7m0-7l-7 7",
        "plus": "m-4.5 0h9m-4.5-4.5v9",
        "bar": "m-5 0h10",
        "left": "m-4 0l7-4v8z",
        "right": "m4 0l-7-4v8z",
    }
    return f'<path d="{start}{lines[shape]}" fill="#FFFFFF" stroke="{colour}" stroke-width="1.3"/>'


def _legend(panel: Panel, top: float, places: Mapping[str, int]) -> tuple[list[str], int]:
    """Samples and labels, in as many rows as they need."""
    entries: list[tuple[str, int, bool]] = []
    for index, curve in enumerate(panel.curves):
        banded = curve.low is not None
        entries.append((f"{curve.label}, with its band" if banded else curve.label, index, True))
    entries += [(points.label, places[points.whose], False) for points in panel.points]
    parts, x, row = [], LEFT, 0
    for label, index, is_line in entries:
        wide = 40.0 + LETTER * len(label)
        if x > LEFT and x + wide > WIDTH:
            x, row = LEFT, row + 1
        y = top + row * LINE + 6.0
        parts.append(
            f'<path d="M{number(x)} {number(y)}h26" {_stroke(index)}/>' if is_line else _mark(x + 13.0, y, index)
        )
        parts.append(f'<text x="{number(x + 32)}" y="{number(y + 4)}">{escape(label)}</text>')
        x += wide
    return parts, row + 1
