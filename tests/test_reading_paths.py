"""From the application to a formula in five files: the paths that DEVELOPERS.md tells are those the code takes."""

import ast
import importlib
import re
from itertools import pairwise
from pathlib import Path
from typing import Final

import pytest

from service.calculations.registry import calculations

ROOT: Final = Path(__file__).parents[1]
START: Final = ("service/http/app.py", "service/calculations/registry.py")
ROW: Final = re.compile(r"^\| `([a-z/-]+)` \| (`[^|]+`) \| `(\w+)` in `(service/chemistry/\w+\.py)` \|$", re.MULTILINE)
TEXT: Final = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PATHS: Final = ROW.findall(TEXT)
MOST_FILES: Final = 5


def tree(file: str) -> ast.Module:
    return ast.parse((ROOT / file).read_text(encoding="utf-8"))


def imported(file: str) -> set[str]:
    """The modules that a file imports, or imports from."""
    found = set()
    for node in ast.walk(tree(file)):
        if isinstance(node, ast.ImportFrom) and node.module is not None:
            found.add(node.module)
            found.update(f"{node.module}.{alias.name}" for alias in node.names)
    return found


def called(file: str) -> set[str]:
    """The names of what a file calls."""
    calls = [node.func for node in ast.walk(tree(file)) if isinstance(node, ast.Call)]
    return {
        one.id if isinstance(one, ast.Name) else one.attr for one in calls if isinstance(one, ast.Name | ast.Attribute)
    }


def dotted(file: str) -> str:
    return file.removesuffix(".py").replace("/", ".")


def test_every_calculation_has_its_path() -> None:
    assert sorted(name for name, *_ in PATHS) == sorted(calculations())
    assert all(f"`{file}`" in TEXT for file in START)


def test_the_application_leads_to_the_registry() -> None:
    assert dotted(START[1]) in imported(START[0])
    assert "calculations" in called(START[0])
    assert "run" in called("service/http/endpoint.py")
    assert "calculate" in called(START[1])


@pytest.mark.parametrize(("name", "between", "formula", "chemistry"), PATHS, ids=[path[0] for path in PATHS])
def test_the_path_ends_at_the_formula_after_five_files(name: str, between: str, formula: str, chemistry: str) -> None:
    modules = [f"service/calculations/{file}" for file in re.findall(r"`(\w+/\w+\.py)`", between)]
    assert len(START) + len(modules) + 1 <= MOST_FILES
    # The registry finds its calculations by looking; all the other steps are imports.
    assert calculations()[name].calculate.__module__ == dotted(modules[0])
    for file, following in pairwise((*modules, chemistry)):
        assert dotted(following) in imported(file), file
    assert formula in called(modules[-1])
    function = getattr(importlib.import_module(dotted(chemistry)), formula)
    assert function.__module__ == dotted(chemistry)
    written = [one for one in tree(chemistry).body if isinstance(one, ast.FunctionDef) and one.name == formula]
    reckons = any(isinstance(node, ast.BinOp) for node in ast.walk(written[0]))
    assert reckons, "the last file is to hold the formula, not to pass it on"
