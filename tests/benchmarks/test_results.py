"""The committed pages are those that the scripts make from the committed figures."""

from pathlib import Path

import pytest

from tests.benchmarks import start
from tests.benchmarks.results import FOLDER, PAGES, Spread, keep, kept, page_of, spread


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_made_from_what_was_measured(name: str) -> None:
    made = page_of(name)
    assert made is not None
    assert (FOLDER / name).read_text(encoding="utf-8") == made, "python -m tests.benchmarks.results writes it anew"


def test_nothing_else_lies_beside_them() -> None:
    assert {one.name for one in FOLDER.glob("*.md")} == set(PAGES)


def test_a_figure_changed_by_hand_shows(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    before = page_of("README.md")
    measured = kept("start", start.Start)
    assert measured is not None
    monkeypatch.setattr("tests.benchmarks.results.FOLDER", tmp_path / "a" / "b" / "c")
    (tmp_path / "a" / "b").mkdir(parents=True)
    measured.answer_s.median += 1.0
    keep("start", measured)
    assert page_of("README.md") != before


def test_a_spread_tells_the_middle_and_the_ends() -> None:
    assert spread([3.0, 1.0, 2.0]) == Spread(2.0, 1.0, 3.0, 3)
    assert spread([12345.678]).text(0, " /s") == "12 350 /s (12 350 to 12 350)"
