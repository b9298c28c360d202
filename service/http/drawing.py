"""Curves drawn as SVG, by matplotlib, which is an optional extra and is imported only when something is drawn.

Every line has a dash pattern and a label of its own beside its colour, so that a picture can be read in grey; colours
are those of M. Okabe and K. Ito, Color Universal Design (2008), which the colour-blind can tell apart. The same picture
has the same bytes.
"""

import io
import math
import textwrap
from collections.abc import Sequence
from importlib.util import find_spec
from threading import Lock
from typing import Any, Final, NamedTuple
from xml.sax.saxutils import escape

BLACK, BLUE, VERMILION, GREEN, GREY = "#000000", "#0072B2", "#D55E00", "#00735C", "#595959"
SOLID, DASHED, DOTTED, DASH_DOTTED = "-", (0, (7, 3)), (0, (1.5, 2)), (0, (8, 3, 1.5, 3))
Dashes = str | tuple[int, tuple[float, ...]]

_SIZE: Final = (7.6, 5.4)
"""Inches."""
_LINE: Final = 104
"""Letters of a line of the notes."""
_STYLE: Final[dict[Any, Any]] = {
    "svg.hashsalt": "lyestock",
    "svg.fonttype": "none",
    "font.family": "sans-serif",
    "font.size": 11.0,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "text.parse_math": False,
}
_ALONE: Final = Lock()
"""Its settings belong to the whole process, so one picture is drawn at a time."""


class Curve(NamedTuple):
    """A line through points; a gap where a height is None."""

    label: str
    x: Sequence[float]
    y: Sequence[float | None]
    colour: str
    dashes: Dashes = SOLID
    width: float = 1.6


class Level(NamedTuple):
    """A line across the picture."""

    label: str
    y: float
    colour: str
    dashes: Dashes


class Mark(NamedTuple):
    """A point with what is not known of it."""

    label: str
    x: float
    y: float
    colour: str
    x_ends: tuple[float, float] | None = None
    y_ends: tuple[float, float] | None = None


class Picture(NamedTuple):
    """What is drawn, and said of it in words."""

    title: str
    says: str
    """What a person who does not see it has to know."""
    x_label: str
    y_label: str
    curves: Sequence[Curve]
    levels: Sequence[Level]
    marks: Sequence[Mark]
    notes: Sequence[str]
    """Lines below the picture."""


def can_draw() -> bool:
    """Whether matplotlib is installed."""
    return find_spec("matplotlib") is not None


def draw(picture: Picture) -> bytes:
    """A picture as SVG in UTF-8. It takes tens of milliseconds, so it belongs beside the loop.

    Args:
        picture: what is drawn.

    Raises:
        ImportError: matplotlib is not installed.
    """
    import matplotlib as mpl  # noqa: PLC0415 - half a second that nobody waits for who wants no picture
    from matplotlib.figure import Figure  # noqa: PLC0415

    with _ALONE, mpl.rc_context(_STYLE):
        figure = Figure(figsize=_SIZE)
        axes = figure.add_subplot()
        axes.set_title(picture.title, loc="left", fontsize=12.5, fontweight="bold")
        axes.set_xlabel(picture.x_label)
        axes.set_ylabel(picture.y_label)
        axes.grid(visible=True, color="#DDDDDD", linewidth=0.6)
        axes.margins(x=0.0)
        for curve in picture.curves:
            heights = [math.nan if y is None else y for y in curve.y]
            axes.plot(
                curve.x, heights, color=curve.colour, linestyle=curve.dashes, linewidth=curve.width, label=curve.label
            )
        for level in picture.levels:
            axes.axhline(level.y, color=level.colour, linestyle=level.dashes, linewidth=1.5, label=level.label)
        for mark in picture.marks:
            axes.errorbar(
                mark.x,
                mark.y,
                xerr=_from(mark.x, mark.x_ends),
                yerr=_from(mark.y, mark.y_ends),
                color=mark.colour,
                marker="o",
                markersize=6,
                linestyle="none",
                capsize=5,
                label=mark.label,
                clip_on=False,
                zorder=5,
            )
        axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=2, frameon=False, handlelength=4.0)
        lines = [line for note in picture.notes for line in textwrap.wrap(note, _LINE, subsequent_indent="   ")]
        rows = math.ceil((len(picture.curves) + len(picture.levels) + len(picture.marks)) / 2)
        axes.text(
            0.0, -0.18 - 0.066 * rows, "\n".join(lines), transform=axes.transAxes, fontsize=9, verticalalignment="top"
        )
        out = io.StringIO()
        figure.savefig(
            out, format="svg", bbox_inches="tight", pad_inches=0.15, metadata={"Date": None, "Creator": None}
        )
    return _described(out.getvalue(), picture)


def _from(value: float, ends: tuple[float, float] | None) -> Any:
    """Distances of the ends from the value, as error bars want them."""
    return None if ends is None else [[max(value - ends[0], 0.0)], [max(ends[1] - value, 0.0)]]


def _described(svg: str, picture: Picture) -> bytes:
    """The same with a title and a description, for those who hear a picture, and without a DTD of another host."""
    start = svg.index("<svg")
    end = svg.index(">", start)
    words = f'<title id="title">{escape(picture.title)}</title><desc id="description">{escape(picture.says)}</desc>'
    named = ' role="img" aria-labelledby="title description"'
    return f'<?xml version="1.0" encoding="utf-8"?>\n{svg[start:end]}{named}>{words}{svg[end + 1 :]}'.encode()
