"""The committed pages are those that the scripts make from the committed figures."""

from pathlib import Path

import msgspec
import pytest

from tests.benchmarks import start
from tests.benchmarks.budgets import budgets
from tests.benchmarks.compared import Benchmark
from tests.benchmarks.goals import goal, megabytes
from tests.benchmarks.page import goals
from tests.benchmarks.results import (
    FOLDER,
    QUIET,
    Machine,
    Spread,
    Watch,
    about,
    code,
    judged,
    keep,
    kept,
    pages,
    spread,
    without_age,
)
from tests.benchmarks.shares import part_of, shares


def test_every_page_is_made_from_what_was_measured() -> None:
    made = pages()
    lying = {one.name: one.read_text(encoding="utf-8") for one in FOLDER.iterdir() if one.suffix != ".json"}
    assert sorted(lying) == sorted(made)
    for name, told in made.items():
        assert without_age(lying[name]) == without_age(told), "python -m tests.benchmarks.results writes it anew"


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


def both() -> tuple[Benchmark, start.Start]:
    measured, started = kept("benchmark", Benchmark), kept("start", start.Start)
    assert measured is not None
    assert started is not None
    return measured, started


@pytest.mark.parametrize("well", [False, True])
def test_whatever_is_missed_is_told_with_its_cause(well: bool) -> None:
    measured, started = both()
    measured.machine.others = started.machine.others = 0.0
    measured.rounds = measured.beside.rounds = started.answer_s.rounds = started.resident_mib.rounds = 5
    figure = 1e-3 if well else 1e9
    for kind in measured.kinds:
        for other in (kind.floor, kind.peer):
            if other is not None:
                other.rate = other.work = Spread(100.0 if well else 0.01, 0.0, 0.0, 5)
    for one in measured.within:
        one.calculate = figure
    for place, item in enumerate(measured.items):
        item.bulk = figure * (1 if well else 1 + place)
    measured.beside.median = started.answer_s.median = started.resident_mib.median = figure
    rows, told = budgets(measured, started), "\n".join(goals(measured, started))
    assert len(rows) >= 9
    assert {one.well for one in rows} == {well}
    assert all(len(one.why) > 40 for one in rows)
    for row in rows:
        assert (f"- {row.what}: {row.why}" in told) is not well


def test_a_ratio_reaches_its_goal_by_rate_and_by_processor_time() -> None:
    measured, started = both()
    (split,) = (one for one in measured.kinds if one.name == "liquid-split" and not one.again)
    for rate, work, well in ((0.6, 0.6, True), (0.59, 0.7, False), (0.7, 0.59, False)):
        split.floor.rate.median, split.floor.work.median = rate, work
        assert budgets(measured, started)[0].well is well
    assert not any("again" in one.what for one in budgets(measured, started))


def test_what_was_measured_too_seldom_or_on_a_busy_machine_is_not_judged() -> None:
    quiet = Machine("one", 2, "3.11", "2026-11-27", QUIET)
    assert judged(quiet, 3, 5)
    assert not judged(quiet, 5, 2)
    quiet.others = 2 * QUIET
    assert not judged(quiet, 5)
    measured, started = both()
    measured.machine.others = started.machine.others = 2 * QUIET
    assert all(one.told().endswith("| not judged |") for one in budgets(measured, started))
    assert not any("missed" in line for line in goals(measured, started))


def test_a_machine_tells_what_others_took_of_it() -> None:
    told = Watch().machine()
    assert told.others is None or 0 <= told.others <= 1.5 * told.cores


def test_a_page_tells_whether_the_code_is_still_the_one_that_was_measured() -> None:
    now = Watch().machine()
    old = msgspec.structs.replace(now, code="0123456789abcdef")
    assert now.code == code()
    assert about(now).endswith(f"Code of the service: `{code()}`. When this page was made, it was the same.")
    assert about(old).endswith("Code of the service: `0123456789abcdef`. **When this page was made, it had changed.**")
    assert without_age(about(old)) != without_age(about(now)), "another digest is another page"
    assert without_age(about(old)) == about(msgspec.structs.replace(old, code=now.code)).replace(
        code(), "0123456789abcdef"
    )
    assert "not kept" in about(msgspec.structs.replace(now, code=None))


def test_the_digest_of_the_code_is_of_every_module_and_of_no_comment(tmp_path: Path) -> None:
    found = []
    for folder, text in (("one", "A = 1\n"), ("two", "# told\nA = 1\n"), ("three", "A = 2\n"), ("four", "A = 1\n")):
        within = tmp_path / folder / "service" / "within"
        within.mkdir(parents=True)
        (within / ("other.py" if folder == "four" else "it.py")).write_text(text, encoding="utf-8")
        found.append(code(tmp_path / folder))
    one, commented, changed, renamed = found
    assert one == commented
    assert len({one, changed, renamed}) == 3


def test_goals_are_in_megabytes_and_told_in_words() -> None:
    assert megabytes(85.8) == pytest.approx(90, abs=0.1)
    assert goal("liquid-split") == "at least 0.60 of the floor, 3.5 times the peer"
    assert goal("saponification") == "reckoned in less than 150 µs"


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
