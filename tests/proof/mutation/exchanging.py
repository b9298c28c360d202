"""Mutants within a function are tried by exchanging its code where it lies, so that tests are collected once for all.

So are constants that only functions of their own module use. What else runs where a module is imported (other
constants, defaults, bodies of classes) cannot be exchanged so, and what an import or the collection has computed
already is not computed again: a mutant of a function that runs there and survives here is left to `trying.attempt`.
"""

import ast
import contextlib
import functools
import gc
import inspect
import json
import os
import re
import resource
import sys
from collections.abc import Collection, Generator, Iterator, Sequence
from types import CodeType, FunctionType
from typing import Any, Final, NamedTuple, TextIO

import pytest

from tests.proof.mutation.mutants import Mutant, Name, sound
from tests.proof.mutation.related import QUIET
from tests.proof.mutation.trying import FAULT, PATIENCE, Bench, Fate, Place, forked, imported, noting, place, silent

SLOWEST: Final = 600.0
"""Seconds of processor time that all tests of a module may take without a mutant."""


Alive = dict[Place, list[FunctionType]]
"""The functions of a file that are alive, by the place of their code."""


class OfFunction(NamedTuple):
    """Code that takes the place of other code."""

    before: CodeType
    after: CodeType

    def install(self, alive: Alive) -> bool:
        """Exchange it; tell whether there is a function that has it."""
        functions = alive.get(place(self.before), [])
        for one in functions:
            one.__code__ = self.after
        return bool(functions)

    def has_run(self, ran: Collection[Place]) -> bool:
        """Whether something may rest on what it has told before."""
        return place(self.before) in ran


class OfConstant(NamedTuple):
    """A constant of a module with another value."""

    module: str
    constant: str
    value: CodeType
    users: Collection[Place]
    """The functions that use it."""

    def install(self, _: Alive) -> bool:
        """Put the value in."""
        names = sys.modules[self.module].__dict__
        names[self.constant] = eval(self.value, names)  # noqa: S307 - our own source
        return True

    def has_run(self, ran: Collection[Place]) -> bool:
        """Whether something may rest on what it was before."""
        return any(one in ran for one in self.users)


class Exchange(NamedTuple):
    """What is exchanged, and the tests that it has to meet."""

    name: Name
    fault: OfFunction | OfConstant
    tests: Sequence[str]


def exchanged(bench: Bench, source: str, asked: Sequence[tuple[Mutant, Sequence[str]]]) -> dict[Name, Fate]:
    """What became of those mutants of a module that lie within a function; what is not sure is left out.

    Args:
        bench: where.
        source: the module as it is.
        asked: mutants, and the identifiers of the tests that each has to meet.
    """
    importing = _importing(bench, asked)
    exchanges = [
        Exchange(one.name, found, tests)
        for one, tests in asked
        if tests and (found := _of_function(bench, source, one) or _of_constant(bench, one, importing))
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


def _of_function(bench: Bench, source: str, mutant: Mutant) -> OfFunction | None:
    """The code of the one function in which a mutant differs, before and after; None where more does."""
    before, after = (_Codes(compile(one.tree(), str(bench.path), "exec")) for one in (sound(source), mutant))
    if before.bodies != after.bodies or len(before.functions) != len(after.functions):
        return None
    apart = [pair for pair in zip(before.functions, after.functions, strict=True) if pair[0] != pair[1]]
    return OfFunction(*apart[0]) if len(apart) == 1 else None


def _of_constant(bench: Bench, mutant: Mutant, importing: Sequence[str]) -> OfConstant | None:
    """The constant in which a mutant differs; None where more than functions of its own module may use it.

    Args:
        bench: where.
        mutant: the mutant.
        importing: what stands in the files that import the module.
    """
    before, after = mutant.sound, mutant.tree()
    apart = [
        (one, other) for one, other in zip(before.body, after.body, strict=True) if ast.dump(one) != ast.dump(other)
    ]
    if len(apart) != 1:
        return None
    match apart[0][1]:
        case ast.AnnAssign(target=ast.Name(id=constant), value=ast.expr() as value):
            pass
        case ast.Assign(targets=[ast.Name(id=constant)], value=value):
            pass
        case _:
            return None
    if constant in _used_on_import(before) or any(re.search(rf"\b{constant}\b", text) for text in importing):
        return None
    code = compile(ast.fix_missing_locations(ast.Expression(value)), str(bench.path), "eval")
    functions = _Codes(compile(before, str(bench.path), "exec")).functions
    users = {place(one) for one in functions if constant in _names(one)}
    return OfConstant(bench.module, constant, code, users)


def _names(code: CodeType) -> set[str]:
    """Names of a function and of those within it."""
    return set(code.co_names).union(*(_names(one) for one in code.co_consts if isinstance(one, CodeType)))


def _used_on_import(module: ast.Module) -> set[str]:
    """Names that are used where a module is imported; those of annotations count too."""
    found = set[str]()
    left: list[ast.AST] = list(module.body)
    while left:
        one = left.pop()
        if isinstance(one, ast.Name) and isinstance(one.ctx, ast.Load):
            found.add(one.id)
        if isinstance(one, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            left += [one.args, *getattr(one, "decorator_list", [])]
        else:
            left += ast.iter_child_nodes(one)
    return found


def _importing(bench: Bench, asked: Sequence[tuple[Mutant, Sequence[str]]]) -> list[str]:
    """What stands in the files of the package, and of the tests, that import a module."""
    package = (bench.root / bench.module.partition(".")[0]).rglob("*.py")
    tests = {bench.root / test.partition("::")[0] for _, some in asked for test in some}
    return [path.read_text(encoding="utf-8") for path in {*package, *tests} if bench.module in imported(path)]


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


def _functions(path: str) -> Alive:
    """The functions of a file that are alive, by the place of their code."""
    found: Alive = {}
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename == path:
            found.setdefault(place(one.__code__), []).append(one)
    return found


def _caches() -> list[Any]:
    """The caches of functions of the service and of its tests."""
    return [
        one
        for one in gc.get_objects()
        if isinstance(one, functools._lru_cache_wrapper) and one.__module__.partition(".")[0] in {"service", "tests"}
    ]


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
        alive, caches = _functions(str(self.bench.path)), _caches()
        gc.disable()  # in a fork it would touch, and so copy, all that lies here
        all_of_them = list(dict.fromkeys(test for one in self.exchanges for test in one.tests))
        begun = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        if (
            forked(lambda: _run(session, [items[test] for test in all_of_them if test in items], caches), SLOWEST)
            is Fate.SURVIVED
        ):
            took = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - begun
            seconds = PATIENCE[0] + PATIENCE[1] * took
            for number, fate in self._fates(session, items, (alive, caches), seconds):
                unsure = self.bench.ran is None or self.exchanges[number].fault.has_run(self.ran)
                if fate is Fate.SURVIVED and unsure:
                    continue
                print(json.dumps([number, fate]), file=self.told, flush=True)
        return True

    def _fates(
        self,
        session: pytest.Session,
        items: dict[str, pytest.Item],
        found: tuple[Alive, Sequence[Any]],
        seconds: float,
    ) -> Iterator[tuple[int, Fate]]:
        alive, caches = found
        for number, one in enumerate(self.exchanges):
            chosen = [items[test] for test in one.tests if test in items]

            def job(one: Exchange = one, chosen: list[pytest.Item] = chosen) -> int:
                return _run(session, chosen, caches) if chosen and one.fault.install(alive) else FAULT

            with contextlib.suppress(RuntimeError):  # says nothing of the mutant, which is tried the other way
                yield number, forked(job, seconds)


def _run(session: pytest.Session, items: Sequence[pytest.Item], caches: Sequence[Any]) -> int:
    """Run tests, with nothing kept from before, until one fails."""
    for one in caches:
        one.cache_clear()
    for item, after in zip(items, [*items[1:], None], strict=True):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        if session.testsfailed:
            return int(pytest.ExitCode.TESTS_FAILED)
    return int(pytest.ExitCode.OK)
