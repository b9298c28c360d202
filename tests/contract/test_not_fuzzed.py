"""What no fuzzer finds is tested by hand; the list of it in DEVELOPERS.md names tests that there are."""

import ast
import re
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
NAMED: Final = re.findall(r"`(tests/[\w/]+\.py)::(\w+)`", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))


def test_list_of_what_is_tested_by_hand_names_tests_that_there_are() -> None:
    assert len(NAMED) >= 9
    for file, name in NAMED:
        tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
        functions = {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}
        assert name in functions, f"{file} has no {name}"
