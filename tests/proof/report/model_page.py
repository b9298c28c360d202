"""The part of the page that speaks of one model, and its plot."""

from tests.proof.report.exceptions import EXCEPTIONS
from tests.proof.report.plot import draw
from tests.proof.report.records import Model, Point, Source
from tests.proof.report.sampling import deviations
from tests.proof.report.writing import deviation, figure, percent, share, table


def plot(model: Model) -> str:
    """Its panels, and below them the deviations of all its points."""
    off = sum(not point.is_within for point in model.points)
    says = f"{len(model.points)} published figures beside ours; {off} lie farther off than their tolerance."
    last = deviations(model.points, model.x_label, log_x=model.log_x)
    return draw(model.title, says, [*model.panels, last])


def section(model: Model) -> list[str]:
    """What is said of it, with its sources and points."""
    lines = [
        f"### {model.title}",
        "",
        f"- **Model:** {model.where}.",
        f"- **Holds:** {model.holds}.",
        f"- **Told with it:** {model.told}.",
        f"- **Open:** {model.gaps}",
        "",
        f"![{model.title}]({model.key}.svg)",
        "",
        *_sources(model),
        "",
    ]
    listed = [one for one in EXCEPTIONS if one.model == model.key]
    for one in listed:
        lines += [f"Beyond its tolerance ({one.source}; {named(one.points)}): {one.cause}", ""]
    lines += [
        "<details>",
        f"<summary>All {len(model.points)} points</summary>",
        "",
        *_points(model),
        "",
        "</details>",
        "",
    ]
    return lines


def named(points: tuple[str, ...]) -> str:
    """Points by name, or how many where that would be long."""
    return ", ".join(points) if len(points) < 9 else f"{len(points)} points, {points[0]} to {points[-1]}"


def _sources(model: Model) -> list[str]:
    by_source: dict[Source, list[Point]] = {}
    for point in model.points:
        by_source.setdefault(point.source, []).append(point)
    rows = []
    for source, points in by_source.items():
        work = f"{source.body}: {source.title} ({source.year})"
        where = "; ".join(part for part in (source.where, source.note) if part)
        most = max(abs(point.ratio) for point in points)
        rows.append(
            (
                source.label,
                f"{work}; {where}" if where else work,
                source.evidence.value,
                source.tolerance,
                f"{len(points)}",
                percent(most),
            )
        )
    return table(("source", "work and place", "evidence", "held to", "points", "largest deviation of that"), rows)


def _points(model: Model) -> list[str]:
    rows = []
    for point in model.points:
        marked = "" if point.is_within else " **listed**"
        rows.append(
            (
                point.what,
                f"{figure(point.ours)} {point.unit}" if point.unit != "1" else figure(point.ours),
                figure(point.published),
                deviation(point),
                figure(point.tolerance, 2),
                share(point) + marked,
                point.source.label,
            )
        )
    return table(("", "ours", "published", "deviation", "tolerance", "of it", "source"), rows)
