"""The page of the validation report: what is known, what is weak, and each model in turn."""

from collections.abc import Sequence

from tests.proof.report import judged, opinion_page, recalled_page, unchecked
from tests.proof.report.every import models
from tests.proof.report.exceptions import EXCEPTIONS
from tests.proof.report.model_page import named, plot, section
from tests.proof.report.records import Evidence, Model, Point
from tests.proof.report.writing import percent, table

HEAD = """# Validation report

How far the models of Lyestock agree with published figures. Made by `python -m tests.proof.report --write` from the
data that the tests hold; CI fails when these pages are not current, when a figure is farther off than its source allows
and is not listed below with its cause, and when one is listed that no longer is.

A tolerance is what the source says of itself (half a unit of the last printed digit, the limits of a standard), and
where it says nothing the 95 % interval that the service tells with its answer, or what the model claims of itself; two
programs of one formula may differ by rounding. Nothing was measured for these pages: all is read, recalled or
evaluated, and where sources rest on one another the model says so.

No tolerance was chosen for a figure, but an interval is a judgement, and some were widened until they held a source
that had lain outside. That these sources lie within proves nothing any more:
"""


def pages() -> dict[str, str]:
    """Names of the files of the report, and their text."""
    found = {
        "README.md": _readme(models()),
        opinion_page.PAGE: opinion_page.page(),
        recalled_page.PAGE: recalled_page.page(),
    }
    return found | {f"{model.key}.svg": plot(model) for model in models()} | opinion_page.plots()


def _readme(every: Sequence[Model]) -> str:
    lines = [
        HEAD,
        *judged.lines(),
        *_evidence(every),
        *_weak(every),
        *unchecked.lines(every),
        *_exceptions(every),
        *_not_seen(every),
        *recalled_page.overview(),
        *_contents(every),
        *opinion_page.overview(),
    ]
    lines += ["## Models", ""]
    for model in every:
        lines += section(model)
    return "\n".join(lines).rstrip() + "\n"


def _all(every: Sequence[Model]) -> list[Point]:
    return [point for model in every for point in model.points]


def _evidence(every: Sequence[Model]) -> list[str]:
    points = _all(every)
    within = sum(point.is_within for point in points)
    same = sum(point.source.is_same_formula for point in points)
    made_of = sum(point.source.is_made_of for point in points)
    independent = [point for point in points if point.source.is_independent]
    seen = sum(point.source.evidence is Evidence.SEEN for point in independent)
    says = {
        Evidence.SEEN: "read in the work, in a reprint or quotation of it, in another's program of it, or reckoned "
        "from what was read",
        Evidence.MEMORY: "recalled by whoever wrote it down, and not checked against the work",
        Evidence.PRACTICE: "what workshops say; no source",
    }
    rows = []
    for evidence in Evidence:
        some = [point for point in points if point.source.evidence is evidence]
        off = sum(not point.is_within for point in some)
        rows.append((evidence.value, says[evidence], f"{len(some)}", f"{len(some) - off}", f"{off}"))
    return [
        "## What was seen, what is from memory, what is common practice",
        "",
        f"{len(points)} figures, {within} within their tolerance, {len(points) - within} listed exceptions. {same} "
        "of them evaluate the very formula, or the definition, that a model is, by other people's programs or in "
        f"worked examples: they prove the programming, and nothing of the formula. {made_of} more are what a model "
        f"was fitted to or is made of: they prove the fit. {len(independent)} are left that could prove a model wrong, "
        f"{seen} of them seen; of these {judged.proofs_that_are_none(every)} are held to an interval that was made "
        "from them (above).",
        "",
        *table(("evidence", "that is", "figures", "within", "listed"), rows),
        "",
        "Sources that were seen were mostly not seen in the original: each model's table says how.",
        "",
    ]


def _not_seen(every: Sequence[Model]) -> list[str]:
    counts: dict[tuple[str, str, str, str], int] = {}
    for model in every:
        for point in model.points:
            source = point.source
            if source.evidence is not Evidence.SEEN:
                work = f"{source.body}: {source.title} ({source.year})"
                row = (
                    source.evidence.value,
                    f"{work}; {source.where}" if source.where else work,
                    source.note,
                    model.title,
                )
                counts[row] = counts.get(row, 0) + 1
    rows = [(*row, f"{count}") for row, count in sorted(counts.items(), key=lambda item: -item[1])]
    return [
        "### Works that were not seen",
        "",
        "Where one of these can be read, its figures come first to be checked. First those that the models are held "
        "to:",
        "",
        *table(("evidence", "work and place", "note", "model", "figures"), rows),
        "",
        *opinion_page.not_seen(),
    ]


def _weak(every: Sequence[Model]) -> list[str]:
    def largest(model: Model) -> Point:
        apart = [point for point in model.points if point.source.is_independent]
        fitted = [point for point in model.points if not point.source.is_same_formula]
        return max(apart or fitted or model.points, key=lambda point: round(abs(point.ratio), 6))

    rows = []
    counts = {model.key: sum(_is_proof(point) for point in model.points) for model in every}
    # What nothing seen could prove wrong is weakest, however well it agrees with what it was made from.
    for model in sorted(every, key=lambda model: (counts[model.key] > 0, -round(abs(largest(model).ratio), 6))):
        worst = largest(model)
        off = sum(not point.is_within for point in model.points)
        rows.append(
            (
                f"[{model.title}](#{anchor(model.title)})",
                f"{percent(abs(worst.ratio))}: {worst.what} ({worst.source.label})",
                f"{counts[model.key] or 'none'}",
                f"{off}" if off else "",
                model.gaps,
            )
        )
    head = (
        "model",
        "largest deviation of what is independent, of its tolerance",
        "independent and seen",
        "listed",
        "where nothing independent was at hand",
    )
    return [
        "## Known weak spots",
        "",
        "First those of which no figure is both independent of the model and seen, then by the largest deviation. That "
        "is of the figures which could prove the model wrong; what it was fitted to or is made of may lie farther off, "
        "and counts only where there is nothing else. Each model's tables show all, and what lies beyond its tolerance "
        "follows below.",
        "",
        *table(head, rows),
        "",
    ]


def _exceptions(every: Sequence[Model]) -> list[str]:
    titles = {model.key: model for model in every}
    rows = []
    for one in EXCEPTIONS:
        of_model = [p for p in titles[one.model].points if p.source.label == one.source and p.what in one.points]
        most = max(abs(point.ratio) for point in of_model)
        rows.append((titles[one.model].title, one.source, named(one.points), percent(most), one.cause))
    count = sum(len(one.points) for one in EXCEPTIONS)
    return [
        "### Listed exceptions",
        "",
        f"{count} figures of {len(EXCEPTIONS)} causes lie farther off than their tolerance.",
        "",
        *table(("model", "source", "points", "largest deviation, of its tolerance", "cause"), rows),
        "",
    ]


def _is_proof(point: Point) -> bool:
    """Whether it was seen, and could prove the model wrong."""
    return point.source.is_independent and point.source.evidence is Evidence.SEEN


def _contents(every: Sequence[Model]) -> list[str]:
    rows = [
        (
            f"[{model.title}](#{anchor(model.title)})",
            model.holds,
            f"{len(model.points)}",
            f"{sum(point.source.is_same_formula for point in model.points) or ''}",
            f"{sum(point.source.is_made_of for point in model.points) or ''}",
            f"{sum(_is_proof(point) for point in model.points) or ''}",
            f"{sum(point.source.is_independent and not _is_proof(point) for point in model.points) or ''}",
        )
        for model in every
    ]
    head = (
        "model",
        "holds",
        "figures",
        "of the same formula",
        "fitted to, or made of",
        "independent and seen",
        "independent, not seen",
    )
    said = "Each figure is of one of the four kinds. What was not seen of the first two is counted above, too."
    return ["### Models at a glance", "", said, "", *table(head, rows), ""]


def anchor(title: str) -> str:
    """Of a heading, as forges make it."""
    return "".join(letter for letter in title.lower().replace(" ", "-") if letter.isalnum() or letter == "-")
