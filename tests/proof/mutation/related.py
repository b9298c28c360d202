"""Which tests reach which functions of the service: found by one run of the tests that watches every call.

Kept in `build/`, and found anew for a file of tests that has changed.
"""

import ast
import hashlib
import json
import os
import sys
from collections.abc import Generator, Sequence
from functools import cache
from pathlib import Path
from types import CodeType, FrameType
from typing import Any, Final

import pytest
from hypothesis import settings

ROOT: Final = Path(__file__).parents[3]
FORMULAS: Final = ("tests/chemistry", "tests/reference_cases", "tests/reference")
FOLDERS: Final = {"service.chemistry": FORMULAS, "service.calculations": (*FORMULAS, "tests/calculations")}
"""The tests that a layer's modules have to satisfy. Those of the layers above would find more, and take far longer."""
KEPT: Final = "build/mutation/reached.json"
OF_TIME: Final = {"test_bounds.py"}
"""Files of tests that bound processor time: a busy machine would kill every mutant."""
MOST_TESTS: Final = 150
"""Tests that a mutant meets at most: those of the module itself before others, and of each file those first that do
the least beside, in turn, so that one large file does not fill the places of all."""

FEW: Final = 10
"""Examples of a property test that are watched; the others reach the same functions."""
QUIET: Final = (
    *("-p", "no:cacheprovider"),
    *("-W", "ignore:Module already imported:pytest.PytestAssertRewriteWarning"),
    "--disable-plugin-autoload",
)
"""Words for a pytest that leaves nothing behind, starts fast, and shares its process with what is imported already."""

Reached = dict[str, list[str]]
"""For each test, by its identifier: the functions it reaches, as `service.chemistry.strength:_require_share`."""


def reached(folders: Sequence[str], root: Path = ROOT, package: str = "service") -> Reached:
    """What each test reaches. Only files of tests that have changed since they were watched are watched anew.

    A test that fails while it is watched is left out: it measures time, and says nothing of mutants.
    """
    digests = {
        str(path.relative_to(root)): hashlib.sha256(path.read_bytes()).hexdigest()
        for folder in folders
        for path in sorted((root / folder).rglob("test_*.py"))
        if path.name not in OF_TIME
    }
    place = root / KEPT
    kept: dict[str, Any] = json.loads(place.read_text(encoding="utf-8")) if place.exists() else {}
    new = [file for file, digest in digests.items() if kept.get(file, {}).get("digest") != digest]
    place.parent.mkdir(parents=True, exist_ok=True)
    for file in new:
        sys.stderr.write(f"watching what {file} reaches\n")
        kept[file] = {"digest": digests[file], "reached": _watched(file, root, package)}
        place.write_text(json.dumps(kept), "utf-8")
    return {test: reaches for file in digests for test, reaches in kept[file]["reached"].items()}


def _watched(file: str, root: Path, package: str) -> Reached:
    """What the tests of a file reach, seen in a process of its own."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reading)
            os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
            os.chdir(root)
            settings.register_profile("watching", derandomize=True, deadline=None, database=None, max_examples=FEW)
            os.environ["HYPOTHESIS_PROFILE"] = "watching"
            watcher = Watcher(root / package)
            pytest.main([file, f"--rootdir={root}", *QUIET], plugins=[watcher])
            with os.fdopen(writing, "w", encoding="utf-8") as out:
                json.dump({test: names for test, names in watcher.reached.items() if test not in watcher.failed}, out)
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, encoding="utf-8") as told:
        text = told.read()
    os.waitpid(child, 0)
    return dict(json.loads(text))


def related(found: Reached, module: str, function: str, root: Path = ROOT, users: Sequence[str] = ()) -> list[str]:
    """The tests that a mutant of a function has to meet, those first that are nearest to it.

    Args:
        found: what each test reaches.
        module: dotted name of the module.
        function: the function, as `Class.method`; where no test reaches it, all tests of its module are taken.
        root: folder in which the tests are.
        users: for what lies in no function, the functions that use it.
    """
    near = {file: _imports(root / file, module) for file in {test.partition("::")[0] for test in found}}
    tests: list[str] = []
    while function and not tests:  # a function within another is watched as that
        own = f"{module}:{function}"
        tests = [test for test, reaches in found.items() if own in reaches]
        function = function.rpartition(".")[0]
    if users:
        own_users = {f"{module}:{one}" for one in users}
        tests = [test for test, reaches in found.items() if not own_users.isdisjoint(reaches)]
    if not tests:  # a constant may be compared by a test that calls nothing
        tests = [
            test
            for test, reaches in found.items()
            if near[test.partition("::")[0]] or any(one.startswith(f"{module}:") for one in reaches)
        ]
    cases: dict[str, int] = {}  # of each test one case comes before a second one of any
    files: dict[str, list[tuple[int, int, str]]] = {}
    for test in sorted(tests, key=lambda test: (len(found[test]), test)):
        case = cases[test.partition("[")[0]] = cases.get(test.partition("[")[0], -1) + 1
        files.setdefault(test.partition("::")[0], []).append((case, len(found[test]), test))
    place = {test: number for some in files.values() for number, (*_, test) in enumerate(sorted(some))}
    return sorted(tests, key=lambda test: (not near[test.partition("::")[0]], place[test], test))[:MOST_TESTS]


@cache
def _imports(file: Path, module: str) -> bool:
    """Whether a test's file imports a module itself."""
    package, _, name = module.rpartition(".")
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            if node.module == module or (node.module == package and any(one.name == name for one in node.names)):
                return True
        elif isinstance(node, ast.Import) and any(one.name == module for one in node.names):
            return True
    return False


class Watcher:
    """A plugin of pytest that notes which functions of a package each test reaches."""

    def __init__(self, package: Path) -> None:
        self.package = str(package)
        self.names: dict[CodeType, str | None] = {}
        self.reached: Reached = {}
        self.failed: set[str] = set()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, Any, Any]:
        """Note what one test reaches, with what is set up for it."""
        codes: set[CodeType] = set()

        def note(frame: FrameType, event: str, _: object) -> None:
            codes.add(frame.f_code)

        sys.settrace(note)
        try:
            return (yield)
        finally:
            sys.settrace(None)
            self.reached[item.nodeid] = sorted({name for code in codes if (name := self._name(code))})

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note what fails."""
        if report.failed:
            self.failed.add(report.nodeid)

    def _name(self, code: CodeType) -> str | None:
        if code not in self.names:
            name = None
            if code.co_filename.startswith(self.package) and not code.co_name.startswith("<module"):
                path = Path(code.co_filename).relative_to(Path(self.package).parent).with_suffix("")
                name = f"{'.'.join(path.parts)}:{code.co_qualname.partition('.<')[0]}"
            self.names[code] = name
        return self.names[code]
