"""The page of second opinions: each correlation or table of somebody else beside ours, with the disagreement drawn."""

from collections.abc import Sequence
from typing import Final

from tests.proof.opinions.every import opinions
from tests.proof.opinions.records import Opinion, Point
from tests.proof.report.plot import Curve, Panel, Points, draw
from tests.proof.report.writing import percent, table

PAGE: Final = "second-opinions.md"
MOST_VALUES: Final = 3
"""Curves of the values that are drawn of many; disagreements are all drawn."""
FROM_MEMORY: Final = "from memory"
"""How a source says that it was not seen."""
HEAD: Final = """# Second opinions

Another correlation or table beside each of ours, over the whole range that both have. The upper panel of a plot has
our curve with the interval that the service tells, and their points; the lower one by how much ours is above theirs, in
half widths of that interval: between the lines the interval holds theirs. Intervals were judged by how far sources
differ, so that these are among what they were made from. Points that lie outside are counted, and stand under a cause
each, or the tests fail. Back to the [validation report](README.md).
"""


def plots() -> dict[str, str]:
    """Names of files, and what is in them."""
    return {file_of(one): _plot(one) for one in opinions()}


def page() -> str:
    """All of them."""
    lines = [HEAD]
    for one in opinions():
        lines += _section(one)
    return "\n".join(lines).rstrip() + "\n"


def overview() -> list[str]:
    """A line for each, for the page of the report."""
    rows = [
        (
            f"[{one.quantity}: {one.name}]({PAGE}#{one.name})",
            one.their_source,
            one.shared,
            f"{len(one.beyond())} / {len(one.points)}",
            percent(one.largest().share),
            one.explanation,
        )
        for one in sorted(opinions(), key=lambda one: -round(one.largest().share, 6))
    ]
    head = ("quantity", "theirs", "shared with ours", "outside / all", "largest, of our half width", "disagreement")
    every = [point for one in opinions() for point in one.points]
    outside = sum(not point.covered for point in every)
    return [
        "## Second opinions",
        "",
        f"{len(opinions())} comparisons over whole ranges with other correlations and tables, those that disagree most "
        f"first. [Each with its plot]({PAGE}). {outside} of {len(every)} points, {100 * outside / len(every):.1f} %, "
        "lie outside of our intervals, most of which are to hold 95 %; each section says where, and why ours was not "
        "widened. The points are no sample: some grids are fine, and many sources are not independent.",
        "",
        *table(head, rows),
        "",
    ]


def not_seen() -> list[str]:
    """Works from memory that the second opinions, or the checks of their programmes, rest on."""
    rows = []
    for one in opinions():
        name = f"{one.quantity}: {one.name}"
        works = [(one.their_source, "compared with", len(one.points))] if FROM_MEMORY in one.their_source else []
        checked = [check.source for check in one.checks if FROM_MEMORY in check.source]
        works += [(work, "our programme of theirs is checked by it", checked.count(work)) for work in set(checked)]
        rows += [(work, name, use, f"{count}") for work, use, count in sorted(works)]
    return [
        "And those of the [second opinions](#second-opinions):",
        "",
        *table(("work and place, and what of it is from memory", "second opinion", "use", "figures"), rows),
        "",
    ]


def file_of(one: Opinion) -> str:
    """The file of its plot."""
    return f"opinion-{one.name}.svg"


def _section(one: Opinion) -> list[str]:
    lines = [
        f'<a id="{one.name}"></a>',
        "",
        f"## {one.quantity[0].upper()}{one.quantity[1:]}: {one.name}",
        "",
        f"- **Ours:** {one.our_source}",
        f"- **Theirs:** {one.their_source}",
        f"- **Shared:** {one.shared}",
        f"- **Outside:** {len(one.beyond())} of {len(one.points)} points; the largest disagreement takes "
        f"{percent(one.largest().share)} of our half width",
        f"- **Disagreement:** {one.explanation}",
    ]
    lines += [f"- **Excepted** ({_region(one, number)}): {part.cause}" for number, part in enumerate(one.excepted)]
    lines += [
        f"- **Checked:** {check.what}: {check.ours:.6g} of our programme of theirs, {check.figure:.6g} "
        f"{check.ground.value} ({check.source})"
        for check in one.checks
    ]
    return [*lines, "", f"![{one.quantity}]({file_of(one)})", ""]


def _region(one: Opinion, number: int) -> str:
    words = []
    for part in one.excepted[number].regions:
        words.append(f"{one.along.name} {_span(part.x)}")
        if one.curves.name != "none":
            words[-1] += f" at {one.curves.name} {_span(part.curve)}"
    held = sum(one.excepted[number].holds(point) for point in one.points)
    return f"{held} point{'' if held == 1 else 's'}: {'; '.join(words)}"


def _span(ends: tuple[float, float]) -> str:
    return f"{ends[0]:g}" if ends[0] == ends[1] else f"{ends[0]:g} to {ends[1]:g}"


def _plot(one: Opinion) -> str:
    every = sorted({point.curve for point in one.points})
    x_label = f"{one.along.name}, {one.along.unit}" if one.along.unit != "-" else one.along.name
    outside = len(one.beyond())
    says = f"{len(one.points)} points; our interval holds {len(one.points) - outside} of them. {one.explanation}"
    return draw(
        f"{one.quantity[0].upper()}{one.quantity[1:]}",
        says,
        [
            _values(one, _chosen(every, MOST_VALUES), x_label),
            Panel(
                "" if one.labels else x_label,
                "deviation / half width",
                [_edges(one)],
                [
                    Points(
                        _label(one, curve),
                        [_place(one, p) for p in some],
                        [p.deviation / p.half_width for p in some],
                        of=_label(one, curve),
                    )
                    for curve in every
                    if (some := _of(one, curve))
                ],
                "Ours less theirs",
                one.labels,
                height=200.0,
            ),
        ],
    )


def _values(one: Opinion, drawn: Sequence[float], x_label: str) -> Panel:
    curves, marks, heights = [], [], []
    for curve in drawn:
        some = _of(one, curve)
        x = [_place(one, point) for point in some]
        low, high = [p.ours - p.half_width for p in some], [p.ours + p.half_width for p in some]
        curves.append(Curve(f"ours, {_label(one, curve)}", x, [p.ours for p in some], low, high))
        label = _label(one, curve)
        marks.append(Points(f"theirs, {label}", x, [p.theirs for p in some], of=label))
        heights += [*low, *high, *(p.theirs for p in some)]
    is_wide = min(heights) > 0 and max(heights) > 50 * min(heights)
    return Panel(
        "" if one.labels else x_label,
        one.unit if one.unit != "-" else "dimensionless",
        curves,
        marks,
        "",
        one.labels,
        log_y=is_wide,
        height=260.0,
    )


def _edges(one: Opinion) -> Curve:
    places = [_place(one, point) for point in one.points]
    low, high = min(places), max(places)
    return Curve("as far as our interval", [low, high, high, low, high], [1.0, 1.0, None, -1.0, -1.0])


def _place(one: Opinion, point: Point) -> float:
    return point.x - 1.0 if one.labels else point.x


def _of(one: Opinion, curve: float) -> list[Point]:
    return sorted((point for point in one.points if point.curve == curve), key=lambda point: point.x)


def _label(one: Opinion, curve: float) -> str:
    if one.curves.name == "none":
        return "everywhere"
    return f"{curve:g} °C" if one.curves.unit == "°C" else f"{one.curves.name.partition(':')[0]} {curve:g}"


def _chosen(every: Sequence[float], most: int) -> list[float]:
    """So many of them, evenly chosen, both ends among them."""
    if len(every) <= most:
        return list(every)
    return [every[round(index * (len(every) - 1) / (most - 1))] for index in range(most)]
