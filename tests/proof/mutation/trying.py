"""Mutants are tried in forks of a process that has pytest and the service imported, so that each costs little."""

import ast
import contextlib
import importlib
import importlib.abc
import importlib.util
import os
import resource
import signal
import sys
import time
import warnings
from collections.abc import Collection, Iterator, Sequence
from enum import StrEnum
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType
from typing import NamedTuple

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.proof.mutation.mutants import Mutant
from tests.proof.mutation.related import QUIET


class Fate(StrEnum):
    """What becomes of a mutant."""

    KILLED = "killed"
    SURVIVED = "survived"
    ENDLESS = "endless"
    """It took longer than it may; that counts as killed, since the test would never pass."""


MEMORY = 3 << 30
"""Bytes of address space that a mutant may take."""
FIRST = 30
"""Tests that a mutant meets first: most fall there, and the files of the others need not be collected."""
IDLE = 10.0
"""How many times as long as its processor time a mutant may take by the clock: others use the machine too."""
FATES = {
    pytest.ExitCode.OK: Fate.SURVIVED,
    pytest.ExitCode.NO_TESTS_COLLECTED: Fate.SURVIVED,
    pytest.ExitCode.TESTS_FAILED: Fate.KILLED,
    pytest.ExitCode.INTERRUPTED: Fate.KILLED,  # a file of tests could not import it
}
"""What the ends of pytest say of a mutant. Any other end is a fault of the driver, and says nothing."""
FAULT = 70
"""End of a fork in which the driver itself failed (EX_SOFTWARE of sysexits.h)."""
PROFILE = "mutation"


def prepare(package: str, root: Path) -> None:
    """Import a package of the service with all below it, and whatever tests import from elsewhere."""
    settings.register_profile(
        PROFILE,
        derandomize=True,
        deadline=None,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),  # a busy machine makes no mutant
    )
    os.environ["HYPOTHESIS_PROFILE"] = PROFILE  # a failing example need not be made small
    for path in sorted((root / package).rglob("*.py")):
        dotted = ".".join(path.relative_to(root).with_suffix("").parts)
        if not dotted.endswith("__main__"):
            importlib.import_module(dotted.removesuffix(".__init__"))
    for name in sorted({name for path in (root / "tests").rglob("*.py") for name in imported(path)}):
        if name.partition(".")[0] not in {package, "tests"}:
            with contextlib.suppress(ImportError), warnings.catch_warnings():
                warnings.simplefilter("ignore")
                importlib.import_module(name)


def imported(path: Path) -> Iterator[str]:
    """The modules that a file names in its imports."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (one.name for one in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module
            yield from (f"{node.module}.{one.name}" for one in node.names)


def dependents(module: str, package: str, root: Path) -> set[str]:
    """A module of the package and all loaded ones that import it, by however many steps."""
    imports = {
        ".".join(path.relative_to(root).with_suffix("").parts).removesuffix(".__init__"): set(imported(path))
        for path in (root / package).rglob("*.py")
    }
    found = {module}
    while more := {name for name, names in imports.items() if names & found} - found:
        found |= more
    return found


class Installed(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """What imports a mutant wherever its module is asked for."""

    def __init__(self, module: str, path: Path, mutant: Mutant) -> None:
        self.module = module
        self.path = path
        self.mutant = mutant

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        """Answer for the one module."""
        return (
            importlib.util.spec_from_file_location(fullname, self.path, loader=self)
            if fullname == self.module
            else None
        )

    def create_module(self, spec: ModuleSpec) -> None:
        """Leave the making to the importer."""

    def exec_module(self, module: ModuleType) -> None:
        """Run the mutant."""
        exec(compile(self.mutant.tree(), str(self.path), "exec"), module.__dict__)  # noqa: S102 - our own source


class Chosen:
    """A plugin of pytest that runs some tests only, in the order in which they are given."""

    def __init__(self, tests: Sequence[str]) -> None:
        self.order = {test: number for number, test in enumerate(tests)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep those chosen, in their order; where a figure within a name has changed, by their function."""
        gone = sorted(self.order.keys() - {item.nodeid for item in items}, key=self.order.__getitem__, reverse=True)
        moved = {test.partition("[")[0]: self.order[test] for test in gone}
        places = {item.nodeid: self.order.get(item.nodeid, moved.get(item.nodeid.partition("[")[0])) for item in items}
        kept = [(place, item) for item in items if (place := places[item.nodeid]) is not None]
        items[:] = [item for _, item in sorted(kept, key=lambda one: one[0])]


class Bench(NamedTuple):
    """Where the mutants of a module are tried.

    Attributes:
        module: dotted name of the module.
        path: file of the module.
        forget: modules to be imported anew, as `dependents` says.
        root: folder below which the tests are.
    """

    module: str
    path: Path
    forget: Collection[str]
    root: Path


def attempt(bench: Bench, mutant: Mutant, tests: Sequence[str], seconds: float) -> Fate:
    """Fork, install a mutant, and see whether one of the tests fails.

    Args:
        bench: where.
        mutant: the mutant.
        tests: identifiers of the tests, those first that are likely to fail.
        seconds: processor time after which a mutant is taken to go on for ever.

    Raises:
        RuntimeError: the tests could not be run, which says nothing of the mutant.
    """
    for portion in (tests[:FIRST], tests[FIRST:]):
        fate = _attempt(bench, mutant, portion, seconds) if portion else Fate.SURVIVED
        if fate is not Fate.SURVIVED:
            return fate
    return Fate.SURVIVED


def _attempt(bench: Bench, mutant: Mutant, tests: Sequence[str], seconds: float) -> Fate:
    child = os.fork()
    if child == 0:
        status = FAULT
        try:
            os.setpgid(0, 0)
            limit = int(seconds) + 1
            resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
            resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 1))
            status = _meet(bench, mutant, tests)
        finally:
            os._exit(status)
    end = time.monotonic() + IDLE * seconds
    pause = 0.002
    while time.monotonic() < end:
        finished, state = os.waitpid(child, os.WNOHANG)
        if finished:
            code = os.waitstatus_to_exitcode(state)
            if code in {-signal.SIGXCPU, -signal.SIGKILL}:
                return Fate.ENDLESS
            if code not in FATES:
                raise RuntimeError(f"the tests of {bench.module} ended with {code}: {mutant.name}")
            return FATES[pytest.ExitCode(code)]
        time.sleep(pause)
        pause = min(0.05, 1.5 * pause)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return Fate.ENDLESS


def _meet(bench: Bench, mutant: Mutant, tests: Sequence[str]) -> int:
    """Run the tests with a mutant in place of its module, within a process of their own."""
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    os.chdir(bench.root)
    for name in bench.forget:
        sys.modules.pop(name, None)
        package, _, own = name.rpartition(".")
        if hasattr(sys.modules.get(package), own):
            delattr(sys.modules[package], own)  # `from package import module` would take it from there
    sys.meta_path.insert(0, Installed(bench.module, bench.path, mutant))
    files = list(dict.fromkeys(test.partition("::")[0] for test in tests))
    words = ["--exitfirst", "--tb=no", *QUIET, f"--rootdir={bench.root}"]
    return int(pytest.main([*words, *files], plugins=[Chosen(tests)]))
