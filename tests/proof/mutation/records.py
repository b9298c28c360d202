"""What was found: the results as they are kept, why mutants may survive, and the page that shows both."""

import json
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Final

import msgspec

from tests.proof.mutation.mutants import Name

HERE: Final = Path(__file__).parent
RESULTS: Final = HERE / "results.json"
EXPLAINED: Final = HERE / "explained.toml"
PAGE: Final = HERE / "README.md"
FLOOR: Final = 0.9
"""Least share of the mutants tried in a module that tests have to kill."""


class Result(msgspec.Struct, frozen=True, kw_only=True):
    """What came of the mutants of a module.

    Attributes:
        source: digest of the module's code at that time.
        possible: mutants that there are.
        most: most of them that were to be tried; none where all were.
        tried: mutants tried.
        killed: those for which a test failed.
        endless: those that ran for ever; a test would not have passed.
        survivors: those that no test noticed.
    """

    source: str
    possible: int
    most: int | None
    tried: int
    killed: int
    endless: int
    survivors: tuple[Name, ...]

    @property
    def score(self) -> float:
        """Share of the mutants tried that tests noticed."""
        return (self.killed + self.endless) / self.tried if self.tried else 1.0


Results = dict[str, Result]
Explained = dict[str, dict[Name, str]]


def results(path: Path = RESULTS) -> Results:
    """The results kept, by module."""
    return msgspec.json.decode(path.read_bytes(), type=Results) if path.exists() else {}


def keep(found: Results, path: Path = RESULTS) -> None:
    """Keep results, sorted by module."""
    plain = msgspec.to_builtins({name: found[name] for name in sorted(found)})
    path.write_text(json.dumps(plain, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


def explained(path: Path = EXPLAINED) -> Explained:
    """Why mutants may survive, by module and mutant.

    Raises:
        ValueError: where one is explained twice, or without a reason.
    """
    found: Explained = {}
    for entry in tomllib.loads(path.read_text(encoding="utf-8")).get("mutant", []):
        names = found.setdefault(entry["module"], {})
        for mutation in entry["mutations"]:
            name = Name(entry["function"], entry["line"], mutation)
            if name in names or not entry["why"].strip():
                raise ValueError(f"explain once, and with a reason: {entry['module']}, {name}")
            names[name] = " ".join(entry["why"].split())
    return found


def stale(why: Explained, possible: Mapping[str, Iterable[Name]]) -> list[tuple[str, Name]]:
    """Explanations of what is no mutant of its module, or of no module."""
    return [
        (module, name)
        for module, names in sorted(why.items())
        for name in names
        if name not in set(possible.get(module, ()))
    ]


def unexplained(found: Results, why: Explained) -> list[tuple[str, Name]]:
    """Survivors that nobody has explained."""
    return [
        (module, name)
        for module, result in sorted(found.items())
        for name in result.survivors
        if name not in why.get(module, {})
    ]


def page(found: Results, why: Explained, present: Mapping[str, str]) -> str:
    """The page, in Markdown.

    Args:
        found: the results.
        why: reasons of survivors.
        present: digests of all modules that can be tried, as they are now.
    """
    tried = sum(one.tried for one in found.values())
    killed = sum(one.killed + one.endless for one in found.values())
    rows: list[Sequence[object]] = []
    for module, one in sorted(found.items()):
        reasons = sum(name in why.get(module, {}) for name in one.survivors)
        since = "" if one.source == present.get(module) else "changed since"
        rows.append(
            (module, one.possible, one.tried, one.killed, one.endless, reasons, f"{100 * one.score:.1f} %", since),
        )
    survivors = [
        (_code(module), _code(name.function), _code(name.line), _cell(name.mutation), _cell(reason))
        for module, one in sorted(found.items())
        for name in one.survivors
        for reason in [why.get(module, {}).get(name, "**not explained**")]
    ]
    heads = ("module", "mutants", "tried", "killed", "endless", "survive, explained", "noticed", "")
    below = [module for module, one in sorted(found.items()) if one.score < FLOOR]
    share = 100 * killed / tried if tried else 100
    return "\n".join(
        [
            HEAD,
            f"{len(found)} of {len(present)} modules, {tried} mutants tried, {killed} noticed by tests: {share:.1f} %.",
            f"Below the floor of {100 * FLOOR:.0f} %: {', '.join(map(_code, below))}."
            if below
            else "None is below the floor.",
            "",
            *_table(heads, rows),
            "",
            "## Mutants that survive, and why",
            "",
            *(_table(("module", "function", "line", "mutation", "why"), survivors) if survivors else ["None."]),
            "",
        ]
    )


HEAD: Final = """# Mutants of the calculations, and the tests that notice them

`python -m tests.proof.mutation --write` made this page of `results.json` and `explained.toml`, which lie beside it.
A mutant is a copy of a module with one small fault put in. It is killed when a test fails because of it, endless when
it never comes to an end, and it survives when all tests pass: then a test is missing, or the fault makes no difference
that anyone could notice, or it moves a limit that was judged, and that no source decides; the table says which.
Of each module a sample is tried, which is always the same; where it showed that a test was missing, that was written,
so that the share says nothing of the mutants that were not drawn. The tests are those that reach the function in which
the fault lies, 150 at most: for a formula those of `tests/chemistry`, `tests/reference_cases` and `tests/reference`,
for a calculation those of `tests/calculations` too. What only tests of a higher layer would notice survives here.
"""


def _table(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> list[str]:
    lines = [heads, ["---"] * len(heads), *rows]
    return ["| " + " | ".join(map(str, line)) + " |" for line in lines]


def _code(text: str) -> str:
    return f"`{_cell(text)}`" if text else ""


def _cell(text: str) -> str:
    return text.replace("|", "\\|")
