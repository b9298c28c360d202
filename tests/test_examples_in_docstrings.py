"""The worked examples in docstrings give what they say, every one of them."""

import doctest
import importlib
import inspect
from pathlib import Path
from typing import Final

import pytest

ROOT: Final = Path(__file__).parents[1]
MODULES: Final = sorted(
    ".".join(file.relative_to(ROOT).with_suffix("").parts)
    for file in (ROOT / "service").rglob("*.py")
    if ">>> " in file.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", MODULES)
def test_worked_examples_give_what_they_say(name: str) -> None:
    module = importlib.import_module(name)
    found = doctest.DocTestFinder().find(module)
    told = inspect.getsource(module).count(">>> ")
    assert sum(len(one.examples) for one in found) == told, "an example is not seen"
    runner = doctest.DocTestRunner(verbose=False)
    for one in found:
        runner.run(one)
    assert runner.tries == told
    assert runner.failures == 0


def test_modules_with_examples_are_found() -> None:
    assert "service.chemistry.vapour_pressure" in MODULES
