"""Plots of the validation report: what is drawn stands where the axes say, and the same bytes come each time."""

from xml.etree import ElementTree

import pytest

from tests.proof.report.axis import axis
from tests.proof.report.plot import Curve, Panel, Points, draw

SVG = "{http://www.w3.org/2000/svg}"
PANEL = Panel(
    "x",
    "y",
    [
        Curve("ours", [0.0, 1.0, 2.0], [1.0, 2.0, None], [0.5, 1.5, None], [1.5, 2.5, None]),
        Curve("other", [0, 2], [1, 3]),
    ],
    [Points("published <1>", [0.5, 1.5], [1.4, 2.2], [(1.3, 1.5), (2.0, 2.4)])],
)


def test_a_plot_is_well_formed_and_says_what_it_shows() -> None:
    root = ElementTree.fromstring(draw("title & more", "a line that rises", [PANEL, PANEL]))  # noqa: S314 - our own
    assert root.findtext(f"{SVG}title") == "title & more"
    assert root.findtext(f"{SVG}desc") == "a line that rises"
    assert len(root.findall(f"{SVG}circle")) == 2 * (2 + 1)  # two marks and one of the legend, in each panel


def test_the_last_bit_of_a_figure_changes_no_byte() -> None:
    shifted = PANEL._replace(
        points=[Points("published <1>", [0.5, 1.5 + 2e-16], [1.4, 2.2 - 4e-16], PANEL.points[0].ends)]
    )
    assert draw("t", "s", [shifted]) == draw("t", "s", [PANEL])


def test_an_axis_puts_its_ends_within_and_its_ticks_on_round_figures() -> None:
    one = axis(3.0, 97.0, 0.0, 100.0)
    assert 0 < one(3.0) < one(97.0) < 100
    assert [text for _, text in one.ticks()] == ["0", "20", "40", "60", "80", "100"]
    decades = axis(0.01, 1e4, 0.0, 100.0, logarithmic=True)
    assert [text for _, text in decades.ticks()] == ["0.01", "0.1", "1", "10", "100", "1000", "10000"]
    assert decades(10.0) == pytest.approx(50.0)


def test_figures_that_are_all_alike_still_have_an_axis() -> None:
    assert axis(2.0, 2.0, 0.0, 100.0)(2.0) == pytest.approx(50.0)


def marks(panel: Panel, *before: Panel) -> list[str]:
    """Shape and colour of the entries for points in the legend of a panel that is drawn after others."""
    root = ElementTree.fromstring(draw("t", "s", [*before, panel]))  # noqa: S314 - our own
    found = [one for one in root.iter() if one.get("stroke-width") == "1.3"][-len(panel.points) :]
    return [f"{one.get('stroke')} {one.tag} {one.get('d', '').partition('m')[2]}" for one in found]


def test_points_of_one_source_look_alike_in_every_panel_and_those_of_two_do_not() -> None:
    one, other = (Points(name, [0.0, 1.0], [0.0, 1.0]) for name in ("one", "other"))
    both, turned = Panel("x", "y", [], [one, other]), Panel("x", "y", [], [other, one])
    assert len(set(marks(both))) == 2
    assert marks(turned, both) == marks(both)[::-1]
    named = Panel("x", "y", [], [Points("theirs, other", [0.0, 1.0], [0.0, 1.0], of="other")])
    assert marks(named, both) == marks(both)[1:]
