"""The mutants: what is made of a source, which of them a test notices, and that the page tells what was found."""

import ast
import os
import subprocess
import sys
from pathlib import Path
from textwrap import dedent
from typing import Final

import msgspec
import pytest

from tests.proof.mutation import records, related
from tests.proof.mutation.__main__ import chosen, modules, present
from tests.proof.mutation.mutants import Name, digest, mutants, sample, sound, unseen, users

ROOT: Final = Path(__file__).parents[2]
SOURCE: Final = dedent('''\
    """A module."""
    import math

    LEAST: float = 2.0
    CLOSE = 1e-9

    def half(x: float, twice: bool = False) -> float:
        """Half of it."""
        if x < LEAST and not twice:
            raise ValueError("too small")
        x += min(0, 1)
        return x / 2

    class Box:
        def open(self) -> bool:
            return all([self is None, self == 1])
    ''')


def said(source: str) -> list[str]:
    return [one.name.mutation for one in mutants(source)]


def test_a_module_has_a_mutant_for_every_small_fault() -> None:
    assert said(SOURCE) == [
        "`2.0` → `2.2`",
        "`1e-09` → `1e-06`",
        "`False` → `True`",
        "`x < LEAST and (not twice)` → `x < LEAST or not twice`",
        "`x < LEAST` → `x <= LEAST`",
        "`x < LEAST` → `x >= LEAST`",
        "`not twice` → `twice`",
        "without `raise ValueError('too small')`",
        "`x += min(0, 1)` → `x -= min(0, 1)`",
        "without `x += min(0, 1)`",
        "`min(0, 1)` → `max(0, 1)`",
        "`0` → `1`",
        "`0` → `-1`",
        "`1` → `2`",
        "`1` → `0`",
        "`return x / 2` → `return None`",
        "`x / 2` → `x * 2`",
        "`2` → `3`",
        "`2` → `1`",
        "`return all([self is None, self == 1])` → `return None`",
        "`all([self is None, self == 1])` → `any([self is None, self == 1])`",
        "`self is None` → `self is not None`",
        "`self == 1` → `self != 1`",
        "`1` → `2`",
        "`1` → `0`",
    ]


def test_a_mutant_is_known_by_its_function_and_its_line() -> None:
    assert {one.name.function for one in mutants(SOURCE)} == {"", "half", "Box.open"}
    assert {one.name.line for one in mutants(SOURCE) if one.name.function == "half"} == {
        "def half(x: float, twice: bool = False) -> float:",
        "if x < LEAST and not twice:",
        'raise ValueError("too small")',
        "x += min(0, 1)",
        "return x / 2",
    }
    moved = SOURCE.replace("import math", "import math\nimport re")
    assert [one.name for one in mutants(moved)] == [one.name for one in mutants(SOURCE)]


def test_mutants_that_read_alike_are_counted() -> None:
    assert said("x = 1 if 1 else 1") == [
        "`1 if 1 else 1` → `1 if 1 else 1`",
        *(f"`1` → `{other}`{count}" for count in ("", " (2)", " (3)") for other in (2, 0)),
    ]


def test_each_mutant_differs_from_the_sound_module_in_one_place() -> None:
    plain = ast.unparse(ast.parse(SOURCE)).splitlines()
    assert ast.unparse(sound(SOURCE).tree()).splitlines() == plain
    for one in mutants(SOURCE):
        mutated = ast.unparse(one.tree()).splitlines()
        assert sum(a != b for a, b in zip(mutated, plain, strict=True)) == 1, one.name


def test_a_constant_is_used_by_functions_and_by_what_other_constants_are_made_of_it() -> None:
    source = """\
A = 1
B = (A, 2)

def f(): return A

class C:
    def g(self): return B

def h(): return 5
"""
    found = {one.name.mutation: users(one) for one in mutants(source) if not one.name.function}
    assert found == {"`1` → `2`": ["f", "C.g"], "`1` → `0`": ["f", "C.g"], "`2` → `3`": ["C.g"], "`2` → `1`": ["C.g"]}


def test_a_sample_is_the_same_every_time_and_hardly_moves() -> None:
    drawn = [one.name for one in sample(mutants(SOURCE), 10)]
    assert len(drawn) == 10
    assert drawn == [one.name for one in sample(mutants(SOURCE), 10)]
    later = [one.name for one in sample(mutants(SOURCE + "\nOTHER = 1\n"), 10)]
    assert len(set(drawn) & set(later)) >= 8
    assert len(sample(mutants(SOURCE), None)) == len(sample(mutants(SOURCE), 1000)) == len(mutants(SOURCE))


def test_others_than_the_sample_are_drawn_until_none_is_left() -> None:
    all_of_them = mutants(SOURCE)
    drawn, others = sample(all_of_them, 10), unseen(all_of_them, 10, 8)
    assert {one.name for one in drawn}.isdisjoint(one.name for one in others)
    assert [one.name for one in others] == [one.name for one in unseen(all_of_them, 10, 8)]
    assert len(others) == 8
    assert len(unseen(all_of_them, 10, 1000)) == len({one.name for one in all_of_them}) - 10
    assert unseen(all_of_them, len(all_of_them), 5) == []


SMALL: Final = """\
LIMIT = 10
NAMED = 7
LEAST = 2

def kept(x: int) -> bool:
    return x < LIMIT

def counted(most: int) -> int:
    n = 0
    while n < most:
        n += 1
    return n

def least(x: int) -> int:
    return max(x, LEAST)

def once() -> int:
    return 3

THREE = once()
"""
BESIDE: Final = "from small.core import kept\n\ndef both(a: int, b: int) -> bool:\n    return kept(a) and kept(b)\n"
TESTS: Final = """\
import pytest
from small import core
from small.beside import both
from small.core import kept

def test_kept() -> None:
    assert kept(3)
    assert not kept(30)

def test_both() -> None:
    assert both(1, 2)

def test_counted() -> None:
    assert core.counted(3) == 3

def test_least() -> None:
    assert core.least(-5) == 2

@pytest.mark.parametrize("figure", [core.NAMED])
def test_named(figure: int) -> None:
    assert figure == 7
"""
TRIED: Final = (
    "without `n += 1`",
    "`x < LIMIT` → `x >= LIMIT`",
    "`x < LIMIT` → `x <= LIMIT`",
    "`return n` → `return None`",
    "`3` → `4`",
    "`2` → `3`",
    "`10` → `11`",
    "`7` → `8`",
)
TRIAL: Final = """\
import sys
from pathlib import Path
from tests.proof.mutation import related, trying
from tests.proof.mutation.exchanging import exchanged
from tests.proof.mutation.mutants import mutants, sound

root = Path(sys.argv[1])
sys.path.insert(0, str(root))
ran = trying.prepare("small", root)
reached = related.reached(("checks",), root, "small")
path = root / "small" / "core.py"
bench = trying.Bench("small.core", path, trying.dependents("small.core", "small", root), root, ran)
try:
    trying.attempt(bench, sound(path.read_text()), ["checks/test_gone.py::test_of_nothing"], 60.0)
except RuntimeError:
    print("no such test - fault")
print("sound", "-", trying.attempt(bench, sound(path.read_text()), list(reached), 60.0))
for one in mutants(path.read_text()):
    if one.name.mutation not in sys.argv[2:]:
        continue
    tests = related.related(reached, "small.core", one.name.function, root)
    seconds = 3.0 if one.name.mutation == sys.argv[2] else 60.0
    print(one.name.mutation, len(tests), trying.attempt(bench, one, tests, seconds), sep=" - ")
asked = [one for one in mutants(path.read_text()) if one.name.mutation in sys.argv[3:]]
asked = [(one, related.related(reached, "small.core", one.name.function, root)) for one in asked]
for name, fate in exchanged(bench, path.read_text(), asked).items():
    print("exchanged " + name.mutation, len(dict((one.name, tests) for one, tests in asked)[name]), fate, sep=" - ")
"""


@pytest.fixture(scope="module")
def trial(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[int, str]]:
    """What became of the mutants of a small module: how many tests each met, and its fate."""
    root = tmp_path_factory.mktemp("trial")
    for name, text in {
        "small/core.py": SMALL,
        "small/beside.py": BESIDE,
        "checks/test_core.py": TESTS,
        "pytest.ini": "[pytest]\npythonpath = .\naddopts = --import-mode=importlib\n",
    }.items():
        path = root / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-c", TRIAL, str(root), *TRIED],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    lines = [line.rsplit(" - ", 2) for line in done.stdout.splitlines()]
    return {words[0]: (int(words[1]) if len(words) > 2 else 0, words[-1]) for words in lines}


def test_a_function_within_another_meets_the_tests_of_that_one() -> None:
    here = str(Path(__file__).relative_to(ROOT))
    found = {f"{here}::one": ["m:outer"], f"{here}::other": ["m:beside"]}
    assert related.related(found, "m", "outer.inner.innermost") == [f"{here}::one"]
    assert len(related.related(found, "m", "unwatched.inner")) == 2


def test_cases_of_one_test_do_not_fill_the_places_of_its_file() -> None:
    here = str(Path(__file__).relative_to(ROOT))
    found = {f"{here}::large[{number}]": ["m:f"] for number in range(1000)} | {f"{here}::small": ["m:f", "m:g"]}
    assert f"{here}::small" in related.related(found, "m", "f")


def test_one_large_file_does_not_fill_the_places_of_all(tmp_path: Path) -> None:
    for name in ("large", "small"):
        (tmp_path / f"{name}.py").write_text("import m\n", encoding="utf-8")
    found = {f"large.py::{number}": ["m:f"] for number in range(1000)} | {"small.py::one": ["m:f", "m:g"]}
    assert "small.py::one" in related.related(found, "m", "f", tmp_path)


def test_the_sound_module_harms_no_test(trial: dict[str, tuple[int, str]]) -> None:
    assert trial["sound"] == (0, "survived")


def test_tests_that_cannot_be_run_kill_nothing(trial: dict[str, tuple[int, str]]) -> None:
    assert trial["no such test"] == (0, "fault")


def test_a_mutant_that_a_test_notices_is_killed(trial: dict[str, tuple[int, str]]) -> None:
    assert trial["`x < LIMIT` → `x >= LIMIT`"] == (2, "killed")
    assert trial["`return n` → `return None`"] == (1, "killed")


def test_a_mutant_that_no_test_notices_survives(trial: dict[str, tuple[int, str]]) -> None:
    assert trial["`x < LIMIT` → `x <= LIMIT`"] == (2, "survived")


def test_a_mutant_of_the_module_itself_meets_all_its_tests(trial: dict[str, tuple[int, str]]) -> None:
    assert trial["`10` → `11`"] == (5, "survived")


def test_a_figure_that_is_in_the_name_of_a_test_is_tested(trial: dict[str, tuple[int, str]]) -> None:
    assert trial["`7` → `8`"] == (5, "killed")


def test_a_mutant_within_a_function_fares_alike_where_its_code_is_exchanged(trial: dict[str, tuple[int, str]]) -> None:
    within = {name: fate for name, fate in trial.items() if name.startswith("exchanged ")}
    assert len(within) == 5
    assert within == {f"exchanged {name}": trial[name] for name in TRIED if f"exchanged {name}" in within}


def test_a_constant_of_others_and_what_an_import_has_computed_are_not_told_by_exchanging(
    trial: dict[str, tuple[int, str]],
) -> None:
    assert trial["`3` → `4`"] == (5, "survived")
    for name in ("`3` → `4`", "`7` → `8`"):
        assert f"exchanged {name}" not in trial


def test_a_mutant_that_never_ends_is_ended(trial: dict[str, tuple[int, str]]) -> None:
    assert trial["without `n += 1`"] == (1, "endless")


FOUND: Final = {
    "service.chemistry.small": records.Result(
        source="0", possible=9, most=4, tried=4, killed=2, endless=1, survivors=(Name("f", "a | b", "`1` → `2`"),)
    )
}
REASON: Final = {"service.chemistry.small": {FOUND["service.chemistry.small"].survivors[0]: "It is rounding."}}


def test_results_are_kept_as_they_were(tmp_path: Path) -> None:
    records.keep(FOUND, tmp_path / "results.json")
    assert records.results(tmp_path / "results.json") == FOUND
    assert records.results(tmp_path / "none.json") == {}


def test_the_page_tells_scores_survivors_and_reasons() -> None:
    page = records.page(FOUND, REASON, {"service.chemistry.small": "0", "service.chemistry.other": "0"})
    assert "1 of 2 modules, 4 mutants tried, 3 noticed by tests" in page
    assert "| service.chemistry.small | 9 | 4 | 2 | 1 | 1 | 75.0 % |  |" in page
    assert r"| `service.chemistry.small` | `f` | `a \| b` | `1` → `2` | It is rounding. |" in page
    assert "Below the floor of 90 %: `service.chemistry.small`." in page
    assert "**not explained**" not in page
    assert "**not explained**" in records.page(FOUND, {}, {})
    assert "| 75.0 % | changed since |" in records.page(FOUND, {}, {"service.chemistry.small": "1"})


def test_a_survivor_without_a_reason_and_a_reason_without_a_mutant_are_found() -> None:
    (module,) = FOUND
    (name,) = FOUND[module].survivors
    assert records.unexplained(FOUND, {}) == [(module, name)]
    assert records.unexplained(FOUND, REASON) == []
    assert records.stale(REASON, {module: [name]}) == []
    assert records.stale(REASON, {module: [name._replace(line="b | a")]}) == [(module, name)]
    assert records.stale(REASON, {}) == [(module, name)]


@pytest.mark.parametrize(
    "entries",
    ['why = " "\nmutations = ["a"]', 'why = "so"\nmutations = ["a", "a"]'],
    ids=["no reason", "twice"],
)
def test_a_reason_is_given_once(tmp_path: Path, entries: str) -> None:
    path = tmp_path / "explained.toml"
    path.write_text(f'[[mutant]]\nmodule = "m"\nfunction = "f"\nline = "l"\n{entries}\n', encoding="utf-8")
    with pytest.raises(ValueError, match="explain once"):
        records.explained(path)


def test_modules_are_named_by_their_ends() -> None:
    assert chosen(["chemistry.strength"]) == ["service.chemistry.strength"]
    assert chosen([]) == list(modules())
    for word, told in (("saponification", "say which of"), ("nothing", "no such module")):
        with pytest.raises(SystemExit, match=told):
            chosen([word])


def test_the_committed_page_is_that_of_the_results() -> None:
    page = records.page(records.results(), records.explained(), present())
    assert records.PAGE.read_text(encoding="utf-8") == page, "run: python -m tests.proof.mutation --page"


def test_every_module_has_a_committed_result_and_every_survivor_is_explained() -> None:
    found = records.results()
    assert set(found) == set(modules()), "run: python -m tests.proof.mutation --write"
    assert records.unexplained(found, records.explained()) == []
    assert all(one.tried == one.killed + one.endless + len(one.survivors) for one in found.values())


def test_no_module_that_was_tried_is_below_the_floor() -> None:
    assert [name for name, one in records.results().items() if one.score < records.FLOOR] == []


def test_a_digest_is_of_the_code_alone() -> None:
    code = "def f(x: float) -> float:\n    return 2.0 * x\n"
    said = '"""Doubles."""\n\n# by two\ndef f(x: float) -> float:\n    """Twice\n    x."""\n    return 2.0 * x\n'
    assert digest(said) == digest(code)
    assert digest(code.replace("2.0", "2.1")) != digest(code)


def test_no_explanation_is_stale() -> None:
    why = records.explained()
    possible = {
        name: [one.name for one in mutants(modules()[name].read_text("utf-8"))] for name in why if name in modules()
    }
    assert records.stale(why, possible) == []


def test_results_that_cannot_be_read_are_not_taken_for_none(tmp_path: Path) -> None:
    (tmp_path / "results.json").write_text('{"service.chemistry.small": {}}', encoding="utf-8")
    with pytest.raises(msgspec.ValidationError):
        records.results(tmp_path / "results.json")
