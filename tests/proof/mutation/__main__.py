"""Try the mutants of modules: `python -m tests.proof.mutation [module ...] [--most 60] [--again] [--write]`."""

import argparse
import resource
import sys
import time
from collections.abc import Collection
from pathlib import Path
from typing import Final

from tests.proof.mutation import records, related, trying
from tests.proof.mutation.exchanging import exchanged
from tests.proof.mutation.mutants import Mutant, digest, mutants, sample, sound, unseen, users
from tests.proof.mutation.trying import Fate

LAYERS: Final = ("service/chemistry", "service/calculations")
UNTRIED: Final = ("__init__", "_examples")
"""Endings of modules that hold nothing to be tried: examples of requests are data, and the contract compares them."""


def modules() -> dict[str, Path]:
    """The modules that can be tried, by their dotted names."""
    return {
        ".".join(path.relative_to(related.ROOT).with_suffix("").parts): path
        for layer in LAYERS
        for path in sorted((related.ROOT / layer).rglob("*.py"))
        if not path.stem.endswith(UNTRIED)
    }


def chosen(words: list[str]) -> list[str]:
    """The modules that are named by the ends of their dotted names; all, where none is named.

    Raises:
        SystemExit: no module, or more than one, ends so.
    """
    known = modules()
    found = []
    for word in words:
        fitting = [name for name in known if f".{name}".endswith(f".{word}")]
        if len(fitting) != 1:
            raise SystemExit(f"{word}: " + (f"say which of {', '.join(fitting)}" if fitting else "no such module"))
        found += fitting
    return found or list(known)


def present() -> dict[str, str]:
    """Digests of the modules as they are, by their dotted names."""
    return {name: digest(path.read_text(encoding="utf-8")) for name, path in modules().items()}


def tried(
    module: str,
    most: int | None,
    before: records.Result | None,
    reached: related.Reached,
    ran: Collection[trying.Place] | None = None,
    known: int = 0,
) -> records.Result:
    """Try the mutants of a module.

    Args:
        module: its dotted name.
        most: mutants to be tried at most; all, where nothing is said.
        before: an earlier result, of which only the survivors are tried again.
        reached: what each test reaches.
        ran: functions that run where the service is imported; None where that is not known.
        known: how many were drawn before, after which those come that are drawn now.

    Raises:
        RuntimeError: the tests fail without any mutant, or cannot be run.
    """
    path = modules()[module]
    source = path.read_text(encoding="utf-8")
    possible = mutants(source)
    drawn = unseen(possible, known, most) if known and most else sample(possible, most)
    bench = trying.Bench(module, path, trying.dependents(module, "service", related.ROOT), related.ROOT, ran)
    asked = [one for one in drawn if before is None or one.name in before.survivors]
    tests = {one.name: _tests(one, module, reached) for one in asked}
    fates = exchanged(bench, source, [(one, tests[one.name]) for one in asked])
    left = [one for one in asked if one.name not in fates]
    seconds = _patience(bench, source, [test for one in left for test in tests[one.name]])
    for one in left:
        near = tests[one.name]
        fates[one.name] = trying.attempt(bench, one, near, seconds) if near else Fate.SURVIVED
    for one in asked:
        _tell(one, fates[one.name], len(tests[one.name]))
    survivors = tuple(one.name for one in asked if fates[one.name] is Fate.SURVIVED)
    endless = sum(fate is Fate.ENDLESS for fate in fates.values()) + (before.endless if before else 0)
    return records.Result(
        source=digest(source),
        possible=len(possible),
        most=most,
        tried=len(drawn),
        killed=len(drawn) - endless - len(survivors),
        endless=endless,
        survivors=survivors,
    )


def _tests(one: Mutant, module: str, reached: related.Reached) -> list[str]:
    """The tests that a mutant has to meet."""
    if one.name.function:
        return related.related(reached, module, one.name.function)
    return related.related(reached, module, "", users=users(one))


def _patience(bench: trying.Bench, source: str, tests: list[str]) -> float:
    """Processor time that a mutant has, by that of all the tests without one [s].

    Raises:
        RuntimeError: the tests fail without any mutant, or cannot be run.
    """
    begun = _processor_time()
    if tests and trying.attempt(bench, sound(source), list(dict.fromkeys(tests)), 600.0) is not Fate.SURVIVED:
        raise RuntimeError(f"the tests of {bench.module} fail without a mutant, or take more than ten minutes")
    return trying.PATIENCE[0] + trying.PATIENCE[1] * (_processor_time() - begun)


def _processor_time() -> float:
    """Seconds that processes which this one has waited for have worked."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _tell(one: Mutant, fate: Fate, tests: int) -> None:
    if fate is not Fate.KILLED:
        sys.stdout.write(f"  {fate} of {tests} tests: {one.name.function}: {one.name.line}\n    {one.name.mutation}\n")
        sys.stdout.flush()


def _try_unseen(names: list[str], most: int) -> int:
    """Try mutants that were not drawn before, and tell how many of them tests notice; always 0."""
    found = records.results()
    ran = trying.prepare("service", related.ROOT)
    count, noticed = 0, 0
    for name in names:
        old = found.get(name)
        known = 0 if old is None else old.tried
        reached = related.reached(related.FOLDERS[".".join(name.split(".")[:2])])
        result = tried(name, most, None, reached, ran, known)
        count, noticed = count + result.tried, noticed + result.killed + result.endless
        sys.stdout.write(f"{name}: {result.tried} others tried, {len(result.survivors)} survive\n")
        sys.stdout.flush()
    if count:
        sys.stdout.write(f"{count} others tried, {noticed} noticed by tests: {100 * noticed / count:.1f} %\n")
    return 0


def main(arguments: list[str] | None = None) -> int:
    """Try mutants, and tell whether the floor holds."""
    parser = argparse.ArgumentParser(prog="python -m tests.proof.mutation", description=__doc__)
    parser.add_argument("module", nargs="*", help="end of a module's dotted name, such as chemistry.strength")
    parser.add_argument("--most", type=int, help="mutants of each module that are tried at most")
    again = parser.add_mutually_exclusive_group()
    again.add_argument("--again", action="store_true", help="try modules too that have not changed since")
    again.add_argument("--survivors", action="store_true", help="of those, try what has survived")
    again.add_argument("--unseen", action="store_true", help="try others than those that were drawn, and keep nothing")
    parser.add_argument("--write", action="store_true", help="keep the results, and write the page")
    parser.add_argument("--page", action="store_true", help="only write the page, of the results that are kept")
    given = parser.parse_args(arguments)
    if given.unseen:
        return _try_unseen(chosen(given.module), given.most or 5)
    found = records.results()
    names, now = chosen(given.module), present()
    ran: set[trying.Place] | None = None
    for name in names if not given.page else ():
        old = found.get(name)
        same = old is not None and old.source == now[name] and old.most == given.most
        if same and not (given.again or (given.survivors and old and old.survivors)):
            continue
        layer = ".".join(name.split(".")[:2])
        if ran is None:  # before any test is watched: what runs where a module is imported belongs to no test
            ran = trying.prepare("service", related.ROOT)
        reached = related.reached(related.FOLDERS[layer])
        begun = time.monotonic()
        result = tried(name, given.most, old if same and given.survivors else None, reached, ran)
        found[name] = result
        sys.stdout.write(
            f"{name}: {result.tried} of {result.possible} tried, {result.killed} killed, {result.endless} endless, "
            f"{len(result.survivors)} survive ({time.monotonic() - begun:.0f} s)\n"
        )
        if given.write:
            records.keep(found)
    why = records.explained()
    if given.write or given.page:
        records.PAGE.write_text(records.page(found, why, now), encoding="utf-8")
    possible = {
        name: [one.name for one in mutants(modules()[name].read_text("utf-8"))] for name in why if name in modules()
    }
    tellings = [
        *(f"explained, but no mutant any more: {module}, {name}" for module, name in records.stale(why, possible)),
        *(f"survives unexplained: {module}, {name}" for module, name in records.unexplained(found, why)),
        *(f"below the floor: {module}, {one.score:.3f}" for module, one in found.items() if one.score < records.FLOOR),
    ]
    sys.stdout.writelines(f"{line}\n" for line in tellings)
    return 1 if tellings else 0


if __name__ == "__main__":
    sys.exit(main())
