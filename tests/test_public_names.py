"""The public names of the layers: listed, described, and the only ones that other modules use."""

import ast
import inspect
import re
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Any, Final

import pytest

from tests.public_names import LAYERS, LISTING, ROOT, functions, listing, modules, public

MODULES: Final = [module for layer in LAYERS for module in modules(layer)]
CHEMISTRY: Final = [
    pytest.param(module, function, id=f"{module.__name__.rpartition('.')[2]}.{name}")
    for module in modules("chemistry")
    for name, function in functions(module)
]
NUMBERS: Final = ("float", "float | None")
"""Annotations of arguments that measure something."""


def entries(docstring: str) -> dict[str, str]:
    """What the Args section of a docstring says of each argument."""
    section = re.search(r"^Args:\n((?:[ ]{4,}.*\n|\n)*)", docstring + "\n", re.MULTILINE)
    if section is None:
        return {}
    parts = re.split(r"^ {4}(\w+): ", section.group(1), flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def lacks(function: Any) -> list[str]:
    """What the docstring of a function of the chemistry does not say."""
    docstring = inspect.getdoc(function) or ""
    told = entries(docstring)
    missing = [] if docstring else ["what it gives"]
    for name, argument in inspect.signature(function).parameters.items():
        if name in {"self", "cls"}:
            continue
        if name not in told:
            missing.append(f"argument {name}")
        elif inspect.formatannotation(argument.annotation) in NUMBERS and not re.search(r"\[[^\]]+\]", told[name]):
            missing.append(f"unit of {name}")
    body = ast.parse(inspect.cleandoc("\n" + inspect.getsource(function)))
    if any(isinstance(node, ast.Raise) for node in ast.walk(body)) and "Raises:" not in docstring:
        missing.append("what it raises")
    return missing


def test_the_public_names_are_the_listed_ones() -> None:
    assert listing() == LISTING.read_text(encoding="utf-8"), "python -m tests.public_names writes the listing anew"


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_every_public_function_and_class_says_what_it_is(module: ModuleType) -> None:
    assert module.__doc__
    for name, thing in public(module).items():
        if inspect.isclass(thing) or isinstance(thing, FunctionType):
            said = inspect.getdoc(thing)
            assert said, name
            assert not said.startswith(f"{name}("), f"{name} has only the text that a NamedTuple writes itself"
    for name, function in functions(module):
        assert function.__doc__, name


@pytest.mark.parametrize(("module", "function"), CHEMISTRY)
def test_a_function_of_the_chemistry_tells_its_arguments_units_and_errors(
    module: ModuleType, function: FunctionType
) -> None:
    assert lacks(function) == [], module.__name__


@pytest.mark.parametrize(("module", "function"), CHEMISTRY)
def test_a_function_of_the_chemistry_has_its_source(module: ModuleType, function: FunctionType) -> None:
    """Its own, or its class's, or one of the module for all of it; a balance or a geometry says what it is."""
    if "." in function.__qualname__ or module.__name__.endswith(".ranges"):
        return  # a method serves the functions of its module; a range has no source
    said = f"{module.__doc__}{function.__doc__}"
    assert re.search(r"References:|mass balance", said)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_no_module_uses_what_another_keeps_to_itself(module: ModuleType) -> None:
    tree = ast.parse(Path(inspect.getsourcefile(module) or "").read_text(encoding="utf-8"))
    taken = [
        f"{node.module}.{alias.name}"
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("service")
        for alias in node.names
        if re.match(r"_(?!_)", alias.name)
    ]
    imported = {
        alias.asname or alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("service")
        for alias in node.names
        if (ROOT / (node.module or "").replace(".", "/") / f"{alias.name}.py").exists()
    }
    taken += [
        f"{node.value.id}.{node.attr}"
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and node.value.id in imported
        and re.match(r"_(?!_)", node.attr)
    ]
    assert taken == []


def _undescribed(mass: float, t: float) -> float:
    """Something of a mass.

    Args:
        mass: of it.
    """
    if not mass:
        raise ValueError(t)
    return mass


def test_a_docstring_that_leaves_something_out_is_found() -> None:
    assert lacks(_undescribed) == ["unit of mass", "argument t", "what it raises"]
