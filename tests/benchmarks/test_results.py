"""The committed pages are those that the scripts make from the committed figures."""

from pathlib import Path

import pytest

from tests.benchmarks import start
from tests.benchmarks.compared import Benchmark
from tests.benchmarks.page import budgets, causes
from tests.benchmarks.results import FOLDER, Spread, keep, kept, pages, spread
from tests.benchmarks.shares import part_of, shares


def test_every_page_is_made_from_what_was_measured() -> None:
    made = pages()
    lying = {one.name: one.read_text(encoding="utf-8") for one in FOLDER.iterdir() if one.suffix != ".json"}
    assert sorted(lying) == sorted(made)
    for name, told in made.items():
        assert lying[name] == told, "python -m tests.benchmarks.results writes it anew"


def test_a_figure_changed_by_hand_shows(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    before = pages()["README.md"]
    measured, other = kept("start", start.Start), kept("benchmark", Benchmark)
    assert measured is not None
    assert other is not None
    monkeypatch.setattr("tests.benchmarks.results.FOLDER", tmp_path / "a" / "b" / "c")
    (tmp_path / "a" / "b").mkdir(parents=True)
    measured.answer_s.median += 1.0
    keep("benchmark", other)
    keep("start", measured)
    assert pages()["README.md"] != before


def test_what_is_missed_is_told_with_its_cause() -> None:
    measured, started = kept("benchmark", Benchmark), kept("start", start.Start)
    assert measured is not None
    assert started is not None
    (split,) = (one for one in measured.kinds if one.name == "liquid-split" and not one.again)
    assert split.peer is not None
    split.floor.rate.median, split.peer.rate.median, started.answer_s.median = 0.59, 3.49, 1.51
    told = "\n".join(budgets(measured, started) + causes(measured))
    assert told.count("`liquid-split`, new") == 4
    assert "reaches 0.59 of the floor and not 0.60" in told
    assert "is 3.49 times as fast as the peer and not 3.5" in told
    split.floor.rate.median, split.peer.rate.median = 0.60, 3.5
    assert "`liquid-split`, new, " not in "\n".join(causes(measured))
    assert [line[-12:] for line in budgets(measured, started) if "start to first" in line] == ["**missed** |"]


def test_the_parts_of_the_time_are_those_of_the_service() -> None:
    assert part_of("service.chemistry.density", "of") == "calculation"
    assert part_of("service.chemistry.uncertainty", "combined") == "intervals"
    assert part_of("service.calculations.batch.split_notes", "told") == "cautions"
    assert part_of("service.calculations.shared.reading", "read") == "decode"
    assert part_of("service.calculations.shared.rendering", "write") == "encode"
    assert part_of("service.http.endpoint", "serve") is None
    found = shares("concentration", 0.1)
    assert sum(found.values()) == pytest.approx(1.0, abs=0.01)


def test_a_spread_tells_the_middle_and_the_ends() -> None:
    assert spread([3.0, 1.0, 2.0]) == Spread(2.0, 1.0, 3.0, 3)
    assert spread([12345.678]).text(0, " /s") == "12 350 /s (12 350 to 12 350)"
