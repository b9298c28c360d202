"""A small picture of each calculation, for the docs page: strokes in the colour of the text, drawn here.

A picture is 96 by 64 units. It tells nothing that the words beside it do not: who hears the page misses nothing.
"""

from typing import Final

_TEXT: Final = (
    "<text x='{x}' y='{y}' font-size='{size}' stroke='none' fill='currentColor' text-anchor='middle'>{text}</text>"
)


def _path(*parts: str) -> str:
    return f"<path d='{' '.join(parts)}'/>"


def _text(text: str, x: float, y: float, size: float = 11) -> str:
    return _TEXT.format(text=text, x=x, y=y, size=size)


def _beaker(x: float, y: float, level: float = 0.6, wide: float = 26, high: float = 30) -> str:
    """An open vessel with its top left corner at a place, and a liquid in it."""
    top = y + high * (1 - level)
    return _path(f"M{x} {y} v{high - 4} q0 4 4 4 h{wide - 8} q4 0 4 -4 v{4 - high}", f"M{x} {top} h{wide}")


def _arrow(x: float, y: float, length: float) -> str:
    return _path(f"M{x} {y} h{length}", "m-4 -4 l4 4 l-4 4")


def _down(x: float, y: float, length: float) -> str:
    return _path(f"M{x} {y} v{length}", "m-4 -4 l4 4 l4 -4")


def _drop(x: float, y: float, high: float = 16) -> str:
    """A drop with its tip at a place."""
    wide = 0.38 * high
    return _path(
        f"M{x} {y} c{wide} {0.5 * high} {1.4 * wide} {high} 0 {high} c{-1.4 * wide} 0 {-wide} {-0.5 * high} 0 {-high}"
    )


def _bar(x: float, y: float) -> str:
    """A bar of soap."""
    return f"<rect x='{x}' y='{y}' width='26' height='15' rx='4'/>" + _path(f"M{x + 7} {y + 7.5} h12")


def _ice(x: float, y: float) -> str:
    return f"<rect x='{x}' y='{y}' width='9' height='9' transform='rotate(12 {x} {y})'/>"


def _thermometer(x: float, y: float) -> str:
    return (
        _path(f"M{x} {y} v26")
        + f"<circle cx='{x}' cy='{y + 31}' r='5'/>"
        + _path(f"M{x + 4} {y + 4} h4 M{x + 4} {y + 11} h4 M{x + 4} {y + 18} h4")
    )


def _axes(x: float, y: float) -> str:
    return _path(f"M{x} {y} v36 h42")


def _burette(x: float, y: float) -> str:
    return _path(f"M{x - 4} {y} v24 l4 6 l4 -6 v-24", f"M{x - 4} {y + 9} h8", f"M{x - 7} {y + 24} h14")


def _flask(x: float, y: float) -> str:
    """A conical flask with its mouth at a place."""
    return _path(f"M{x - 4} {y} v7 l-11 17 h30 l-11 -17 v-7", f"M{x - 10} {y + 16} h20")


def _vapour(x: float, y: float) -> str:
    return "".join(_path(f"M{x + dx} {y} c-5 -4 5 -7 0 -12") for dx in (0, 9, 18))


def _sheet(x: float, y: float) -> str:
    rows = "".join(
        f"<rect x='{x + 6}' y='{y + dy}' width='5' height='5'/>" + _path(f"M{x + 16} {y + dy + 2.5} h16")
        for dy in (8, 19, 30)
    )
    return f"<rect x='{x}' y='{y}' width='38' height='44' rx='2'/>{rows}"


_CURVE_UP: Final = "c10 -28 22 -31 38 -29"
_CURVE_DOWN: Final = "c6 20 18 27 38 28"

PICTOGRAMS: Final = {
    "saponification": _drop(18, 14, 26)
    + _text("+", 38, 34, 16)
    + _text("OH", 52, 33, 11)
    + _arrow(64, 30, 8)
    + "<g transform='translate(-4 0) scale(.9)'>"
    + _bar(84, 25)
    + "</g>",
    "liquid-split": _beaker(6, 8, 0.7, 20, 24)
    + _beaker(6, 40, 0.5, 20, 18)
    + _arrow(32, 22, 16)
    + _arrow(32, 48, 16)
    + _beaker(58, 18, 0.8, 30, 36),
    "concentration": _beaker(12, 14, 0.7, 30, 38)
    + _arrow(50, 34, 10)
    + _text("%", 76, 28, 15)
    + _text("mol/L", 76, 46, 10),
    "stock-mixing": _axes(30, 12) + _path("M32 46", _CURVE_UP) + _path("M30 12 h42") + _text("°C", 16, 22),
    "stock-mixing/ice": _beaker(30, 18, 0.75, 36, 38) + _ice(38, 28) + _ice(52, 32) + _ice(44, 41),
    "stock-cooling": _axes(30, 12) + _path("M32 14", _CURVE_DOWN) + _text("°C", 16, 22) + _text("h", 80, 52),
    "stock-warming": _beaker(30, 10, 0.7, 36, 32) + "".join(_path(f"M{x} 60 c-4 -5 4 -7 0 -12") for x in (38, 48, 58)),
    "stock-dilution": _beaker(6, 10, 0.7, 22, 26)
    + _beaker(68, 10, 0.5, 22, 26)
    + _path("M28 40 q8 0 10 6 M68 40 q-8 0 -10 6")
    + _beaker(34, 34, 0.7, 28, 24),
    "stock-adjustment": _beaker(32, 18, 0.65, 32, 38) + _text("+", 18, 42, 18) + _text("−", 80, 42, 18),
    "stock-assay/titration": _burette(48, 4) + _flask(48, 38),
    "stock-assay/hydrometer": _beaker(34, 10, 0.8, 28, 48)
    + _path("M48 4 v24")
    + "<ellipse cx='48' cy='36' rx='5' ry='9'/>"
    + _path("M44 10 h8 M44 16 h8"),
    "stock-assay/evaporation": _beaker(30, 26, 0.6, 36, 32) + _vapour(39, 22),
    "batch-temperature": _beaker(18, 18, 0.7, 34, 38) + _thermometer(70, 14),
    "batch-sheet": _sheet(29, 10),
    "production-plan": "<rect x='24' y='14' width='48' height='40' rx='3'/>"
    + _path("M24 25 h48 M36 14 v-6 M60 14 v-6 M40 25 v29 M56 25 v29 M24 40 h48"),
    "superfat-check": _path("M48 10 v40 M30 54 h36 M22 18 h52 M22 18 l-8 16 h16 z M74 18 l-8 16 h16 z"),
    "soap-assay": _bar(10, 34) + _burette(66, 6) + _drop(66, 40, 12),
    "paste-dilution": _path("M10 46 q8 -16 17 -6 q10 -10 15 6 z")
    + _drop(58, 18, 20)
    + _arrow(48, 54, 20)
    + _beaker(72, 26, 0.7, 18, 28),
}
"""Inner SVG by the name of the calculation."""


def pictogram(name: str) -> str:
    """The picture of a calculation as SVG; nothing where it has none.

    Args:
        name: of the calculation.
    """
    inner = PICTOGRAMS.get(name)
    if inner is None:
        return ""
    return (
        "<svg viewBox='0 0 96 64' width='96' height='64' fill='none' stroke='currentColor' stroke-width='2' "
        f"stroke-linecap='round' stroke-linejoin='round' aria-hidden='true' focusable='false'>{inner}</svg>"
    )
