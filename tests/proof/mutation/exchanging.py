"""Mutants within a function are tried by exchanging its code where it lies, so that tests are collected once for all.

What runs where a module is imported (constants, defaults, bodies of classes) cannot be exchanged so, and what an
import or the collection has computed already is not computed again: a mutant of a function that runs there and
survives here is left to `trying.attempt`.
"""

import contextlib
import functools
import gc
import inspect
import json
import os
import resource
from collections.abc import Generator, Iterator, Sequence
from types import CodeType, FunctionType
from typing import Any, Final, NamedTuple, TextIO

import pytest

from tests.proof.mutation.mutants import Mutant, Name, sound
from tests.proof.mutation.related import QUIET
from tests.proof.mutation.trying import PATIENCE, Bench, Fate, Place, forked, noting, place, silent

SLOWEST: Final = 600.0
"""Seconds of processor time that all tests of a module may take without a mutant."""


class Exchange(NamedTuple):
    """Code that is exchanged, and the tests that it has to meet."""

    name: Name
    before: CodeType
    after: CodeType
    tests: Sequence[str]


def exchanged(bench: Bench, source: str, asked: Sequence[tuple[Mutant, Sequence[str]]]) -> dict[Name, Fate]:
    """What became of those mutants of a module that lie within a function; what is not sure is left out.

    Args:
        bench: where.
        source: the module as it is.
        asked: mutants, and the identifiers of the tests that each has to meet.
    """
    exchanges = [
        Exchange(one.name, *found, tests)
        for one, tests in asked
        if tests and (found := _of_function(bench, source, one))
    ]
    if not exchanges:
        return {}
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reading)
            silent()
            os.chdir(bench.root)
            files = sorted({test.partition("::")[0] for one in exchanges for test in one.tests})
            with os.fdopen(writing, "w", encoding="utf-8") as told:
                words = ["--tb=no", *QUIET, f"--rootdir={bench.root}"]
                pytest.main([*words, *files], plugins=[_Exchanging(bench, exchanges, told)])
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, encoding="utf-8") as told:
        fates = {exchanges[number].name: Fate(fate) for number, fate in map(json.loads, told)}
    os.waitpid(child, 0)
    return fates


def _of_function(bench: Bench, source: str, mutant: Mutant) -> tuple[CodeType, CodeType] | None:
    """The code of the one function in which a mutant differs, before and after; None where more does."""
    before, after = (_Codes(compile(one.tree(), str(bench.path), "exec")) for one in (sound(source), mutant))
    if before.bodies != after.bodies or len(before.functions) != len(after.functions):
        return None
    apart = [pair for pair in zip(before.functions, after.functions, strict=True) if pair[0] != pair[1]]
    return apart[0] if len(apart) == 1 else None


class _Codes:
    """The code of a module: its functions and methods, and what runs where it is imported."""

    def __init__(self, module: CodeType) -> None:
        self.functions: list[CodeType] = []
        self.bodies: list[tuple[bytes, tuple[str, ...], list[str]]] = []
        self._look(module)

    def _look(self, body: CodeType) -> None:
        constants = [repr(one) for one in body.co_consts if not isinstance(one, CodeType)]
        self.bodies.append((body.co_code, body.co_names, constants))
        for one in body.co_consts:
            if isinstance(one, CodeType):
                if one.co_flags & inspect.CO_OPTIMIZED:
                    self.functions.append(one)
                else:  # the body of a class
                    self._look(one)


def _functions(path: str) -> dict[Place, list[FunctionType]]:
    """The functions of a file that are alive, by the place of their code."""
    found: dict[Place, list[FunctionType]] = {}
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename == path:
            found.setdefault(place(one.__code__), []).append(one)
    return found


def _forget_results() -> None:
    """Empty the caches of functions of the service and of its tests."""
    for one in gc.get_objects():
        if isinstance(one, functools._lru_cache_wrapper) and one.__module__.partition(".")[0] in {"service", "tests"}:
            one.cache_clear()


class _Exchanging:
    """A plugin of pytest that forks for each mutant, once the tests are collected, and runs the tests there."""

    def __init__(self, bench: Bench, exchanges: Sequence[Exchange], told: TextIO) -> None:
        self.bench = bench
        self.exchanges = exchanges
        self.told = told
        self.ran = set(bench.ran or ())

    @pytest.hookimpl(wrapper=True)
    def pytest_collection(self) -> Generator[None, Any, Any]:
        """Note what the collection has run already."""
        with noting(self.ran):
            return (yield)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Tell the fate of each mutant; nothing, where the tests fail without any."""
        items = {item.nodeid: item for item in session.items}
        alive = _functions(str(self.bench.path))
        all_of_them = list(dict.fromkeys(test for one in self.exchanges for test in one.tests))
        begun = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        if (
            forked(lambda: _run(session, [items[test] for test in all_of_them if test in items]), SLOWEST)
            is Fate.SURVIVED
        ):
            took = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - begun
            seconds = PATIENCE[0] + PATIENCE[1] * took
            for number, fate in self._fates(session, items, alive, seconds):
                ran = self.bench.ran is None or place(self.exchanges[number].before) in self.ran
                if fate is Fate.SURVIVED and ran:
                    continue
                print(json.dumps([number, fate]), file=self.told, flush=True)
        return True

    def _fates(
        self,
        session: pytest.Session,
        items: dict[str, pytest.Item],
        alive: dict[Place, list[FunctionType]],
        seconds: float,
    ) -> Iterator[tuple[int, Fate]]:
        for number, one in enumerate(self.exchanges):
            functions = alive.get(place(one.before), [])
            chosen = [items[test] for test in one.tests if test in items]
            if not functions or not chosen:
                continue

            def job(
                one: Exchange = one, functions: list[FunctionType] = functions, chosen: list[pytest.Item] = chosen
            ) -> int:
                for function in functions:
                    function.__code__ = one.after
                return _run(session, chosen)

            with contextlib.suppress(RuntimeError):  # says nothing of the mutant, which is tried the other way
                yield number, forked(job, seconds)


def _run(session: pytest.Session, items: Sequence[pytest.Item]) -> int:
    """Run tests until one fails."""
    _forget_results()
    for item, after in zip(items, [*items[1:], None], strict=True):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        if session.testsfailed:
            return int(pytest.ExitCode.TESTS_FAILED)
    return int(pytest.ExitCode.OK)
