"""The validation report: every figure is within its tolerance or listed with its cause, and the pages are current."""

import re

import pytest

from service.chemistry.freezing import KNOTS
from tests.proof.opinions.every import opinions
from tests.proof.report import recalled_page
from tests.proof.report.__main__ import main, stale
from tests.proof.report.every import models
from tests.proof.report.exceptions import EXCEPTIONS
from tests.proof.report.opinion_page import PAGE, file_of
from tests.proof.report.page import anchor, pages
from tests.proof.report.plot import SHAPES
from tests.proof.report.records import Evidence, Model, Point, Source
from tests.proof.report.unchecked import IN_MODELS, UNCHECKED, groups
from tests.proof.report.writing import deviation, figure, share
from tests.proof.sources import everything, partly_recalled, recalled

LISTED = {(one.model, one.source, what) for one in EXCEPTIONS for what in one.points}


@pytest.mark.parametrize("model", models(), ids=lambda model: model.key)
def test_a_figure_beyond_its_tolerance_is_listed_and_a_listed_one_is_beyond(model: Model) -> None:
    beyond = {(model.key, point.source.label, point.what) for point in model.points if not point.is_within}
    assert beyond == {one for one in LISTED if one[0] == model.key}


def test_every_exception_is_of_a_figure_that_is_there() -> None:
    there = {(model.key, point.source.label, point.what) for model in models() for point in model.points}
    assert there >= LISTED
    assert len(LISTED) == sum(len(one.points) for one in EXCEPTIONS)
    assert all(one.cause for one in EXCEPTIONS)


@pytest.mark.parametrize("model", models(), ids=lambda model: model.key)
def test_every_figure_has_its_own_name_and_a_tolerance_and_names_its_source(model: Model) -> None:
    assert len({(point.source.label, point.what) for point in model.points}) == len(model.points)
    for point in model.points:
        assert point.tolerance > 0
        assert point.source.body
        assert point.source.title
        assert point.source.year
        assert point.source.tolerance


def test_one_label_is_one_source_within_a_model() -> None:
    for model in models():
        sources = {point.source for point in model.points}
        assert len({source.label for source in sources}) == len(sources), model.key


def test_what_a_model_was_fitted_to_is_flagged_and_is_no_proof_of_the_formula() -> None:
    sources = {point.source for model in models() for point in model.points}
    assert not [source.label for source in sources if source.is_same_formula and source.is_made_of]
    fitted = [source for source in sources if re.search(r"the model was fitted to it|was fitted to the", source.note)]
    assert all(source.is_made_of for source in fitted)
    assert {"Zábranský, free acids", "IAPWS-IF97, heat (program)"} <= {source.label for source in fitted}
    assert not [source.label for source in sources if source.label == "Zábranský, triolein" and source.is_made_of]
    points = [point for model in models() for point in model.points]
    text = pages()["README.md"]
    assert f"{sum(point.source.is_same_formula for point in points)} of them evaluate" in text
    assert f"{sum(point.source.is_made_of for point in points)} more are what a model was fitted" in text
    assert f"{sum(point.source.is_independent for point in points)} are left" in text


def test_weak_spots_begin_with_models_of_which_nothing_independent_was_seen() -> None:
    lines = pages()["README.md"].partition("## Known weak spots")[2].partition("### Listed")[0].splitlines()
    titles = [line[3:].partition("]")[0] for line in lines if line.startswith("| [")]
    assert len(titles) == len(models())
    proven = {
        model.title: any(
            point.source.is_independent and point.source.evidence is Evidence.SEEN for point in model.points
        )
        for model in models()
    }
    order = [proven[title] for title in titles]
    assert order == sorted(order)
    assert not order[0]
    assert order[-1]


def test_every_quantity_of_the_data_is_in_a_model_or_told_to_be_unchecked() -> None:
    """But for the parts of one table that are both: how fats expand is a constant of a model, and from memory."""
    named = [place for one in UNCHECKED for place in one.figures]
    assert len(set(named)) == len(named)
    assert not set(named) & set(IN_MODELS)
    constants = {f"{one.place.partition(':')[0]} {one.name}" for one in everything()}
    of_data = {place for place in named if place not in constants}
    assert of_data | set(IN_MODELS) == groups()
    keys = {model.key for model in models()}
    assert {key for found in IN_MODELS.values() for key in found} <= keys
    text = pages()["README.md"]
    assert all(f"`{place}`" in text for place in named)


def test_a_row_of_the_handbook_that_the_ice_line_goes_through_is_no_check() -> None:
    (model,) = [one for one in models() if one.key == "first-solid"]
    rows = [point for point in model.points if point.source.label.startswith("CRC")]
    through = {f"{alkali} {100 * w:.4g} %" for alkali, knots in KNOTS.items() for w in knots}
    assert rows
    assert {point.what for point in rows} <= through
    assert not any(point.source.is_independent for point in rows)
    (line,) = [
        line for line in pages()["README.md"].splitlines() if "| CRC 2021, depressions | " in line and "none" in line
    ]
    assert f"| {len(rows)} | none |" in line


def test_the_committed_pages_are_current() -> None:
    assert stale() == [], "run: python -m tests.proof.report --write"


def test_the_command_says_that_the_pages_are_current(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 0
    assert not capsys.readouterr().err


def test_every_figure_from_memory_is_listed() -> None:
    whole, partly = pages()[recalled_page.PAGE].split("\n## In part from memory\n")
    for text, found in ((whole, recalled()), (partly, partly_recalled())):
        rows = [line for line in text.splitlines() if line.startswith("| ") and not line.startswith("| file ")]
        assert len(rows) == len(found) > 0
        assert all(f"| {one.name} | {one.value:g} | {one.unit} |" in text for one in found)
        assert all(f"\n### {recalled_page.heading_of(one)}\n" in text for one in found)
        assert all(" ".join(one.note.split()).rstrip(".").replace("|", "\\|") in text for one in found)


def test_a_heading_names_a_work_or_a_constant_and_is_no_piece_of_a_sentence() -> None:
    text = pages()[recalled_page.PAGE]
    for half in text.split("\n## In part from memory\n"):
        headings = [line[4:] for line in half.splitlines() if line.startswith("### ")]
        assert len(headings) == len(set(headings)) > 0
    for heading in re.findall(r"^### (.+)$", text, re.MULTILINE):
        assert heading.endswith((".csv", ".py", ")"))
        assert "from memory" not in heading
    assert "| as the sentence says |" not in text


def test_every_link_of_the_page_has_its_heading() -> None:
    text = pages()["README.md"]
    for model in models():
        assert f"\n### {model.title}\n" in text
        assert f"(#{anchor(model.title)})" in text
        assert f"({model.key}.svg)" in text


def test_every_second_opinion_has_its_plot_and_its_line() -> None:
    found = pages()
    for one in opinions():
        assert f": {one.name}]({PAGE}#{one.name})" in found["README.md"]
        assert f'<a id="{one.name}">' in found[PAGE]
        assert f"({file_of(one)})" in found[PAGE]
        assert file_of(one) in found


def test_what_lies_outside_of_our_intervals_is_counted_on_the_page() -> None:
    text = pages()["README.md"]
    outside = [sum(point.share > 1.0 + 1e-9 for point in one.points) for one in opinions()]
    for one, number in zip(opinions(), outside, strict=True):
        (row,) = [line for line in text.splitlines() if f"({PAGE}#{one.name})" in line]
        assert f" | {number} / {len(one.points)} | " in row
        assert f"| {100 * max(point.share for point in one.points):.0f} % |" in row
    assert f"{sum(outside)} of {sum(len(one.points) for one in opinions())} points" in text


SOURCE = Source("label", "body", "title", "1900", "", Evidence.SEEN, "half a digit")


def test_what_only_rounding_decides_is_not_written() -> None:
    fine = Point(SOURCE, "fine", 0.0, 1.0 + 3e-16, 1.0, 1e-12, "1")
    assert (deviation(fine), share(fine), fine.ratio) == ("0", "within", 0.0)
    assert share(fine._replace(ours=1.0 + 2e-12)) == "beyond"
    assert figure(0.125, 2) == figure(0.125 * (1 - 1e-15), 2)


def test_a_point_is_as_far_off_as_its_tolerance_says() -> None:
    point = Point(SOURCE, "coarse", 0.0, 1.2, 1.0, 0.1, "1")
    assert not point.is_within
    assert (deviation(point), share(point)) == ("+0.2", "200 %")
    assert point._replace(ours=1.1).is_within
    assert deviation(point._replace(ours=1.0 + 1e-12)) == deviation(point._replace(ours=1.0)) == "0"
    assert deviation(point._replace(ours=0.9998)) == "-0.0002"


def test_no_figure_is_counted_twice_in_what_the_report_says_of_each_model() -> None:
    assert not [p for model in models() for p in model.points if p.source.is_same_formula and p.source.is_made_of]


def test_works_that_were_not_seen_are_listed_of_the_second_opinions_too() -> None:
    text = pages()["README.md"].partition("### Works that were not seen")[2].partition("\n## ")[0]
    for one in opinions():
        recalled_works = [one.their_source, *(check.source for check in one.checks)]
        for work in (work for work in recalled_works if "from memory" in work):
            assert f"| {work} | {one.quantity}: {one.name} |" in text
    for work in ("Gerlach", "IAPWS SR1-86", "CODATA", "NBS Tables", "McAdams", "Robinson", "Perry"):
        assert work in text


def test_the_plot_of_a_second_opinion_draws_every_disagreement() -> None:
    """A mark for each point, and one in the legend for each curve; the values above are drawn of three curves."""
    found = pages()
    for one in opinions():
        drawn = found[file_of(one)].partition("deviation / half width")[2].count('stroke-width="1.3"')
        assert drawn == len(one.points) + len({point.curve for point in one.points}), one.name


def test_no_plot_has_more_sets_of_points_than_there_are_shapes() -> None:
    for model in models():
        labels = {points.whose for panel in model.panels for points in panel.points}
        assert len(labels | {point.source.label for point in model.points}) <= len(SHAPES), model.key
    assert all(len({point.curve for point in one.points}) <= len(SHAPES) for one in opinions())
