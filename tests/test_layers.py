"""The layers: imports point down only, and the science needs nothing of the web."""

import ast
import re
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

SERVICE: Final = Path(__file__).parents[1] / "service"
ORDER: Final = ("reference", "chemistry", "calculations", "http", "")
"""From the bottom up; a layer may import itself and those before it. The last is the package's own folder."""
WEB: Final = {"litestar", "prometheus_client", "uvicorn", "swagger_ui_bundle"}
MODULES: Final = sorted(SERVICE.rglob("*.py"))


def layer_of(dotted: str) -> str:
    """Layer of a module by its dotted name below `service`."""
    first, _, _ = dotted.partition(".")
    return first if first in ORDER else ""


def imports_of(path: Path) -> set[str]:
    """Every module that a file imports, wherever in the file."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are absolute"
            found.add(node.module or "")
            found.update(f"{node.module}.{alias.name}" for alias in node.names)
    return found


def test_there_are_modules_in_every_layer() -> None:
    layers = {layer_of(".".join(path.relative_to(SERVICE).with_suffix("").parts)) for path in MODULES}
    assert layers == set(ORDER)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SERVICE)))
def test_imports_point_down(path: Path) -> None:
    own = layer_of(".".join(path.relative_to(SERVICE).with_suffix("").parts))
    for name in imports_of(path):
        package, _, below = name.partition(".")
        if package == "service" and below and layer_of(below):
            assert ORDER.index(layer_of(below)) <= ORDER.index(own), f"{own or 'service'} imports {name}"
        if package in WEB:
            assert own in {"http", ""}, f"{own} imports {name}"


@pytest.mark.parametrize(
    ("module", "unneeded"),
    [("service.chemistry.saponification", {*WEB, "pint", "msgspec"}), ("service.calculations.registry", WEB)],
)
def test_lower_layers_load_nothing_of_those_above(module: str, unneeded: set[str]) -> None:
    say = f"import sys, {module}; print(*{{name.partition('.')[0] for name in sys.modules}})"
    done = subprocess.run([sys.executable, "-c", say], cwd=SERVICE.parent, capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) & unneeded == set()
    assert "service" in done.stdout.split()


FOREIGN: Final = re.compile(r"""(?<![\w.])(?:/(?:work|home|root|tmp|Users)/|[A-Z]:\\\\|\.\./)""")


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SERVICE)))
def test_text_names_no_folder_of_a_machine(path: Path) -> None:
    assert FOREIGN.findall(path.read_text(encoding="utf-8")) == []


def test_pattern_of_foreign_folders_finds_one() -> None:
    assert FOREIGN.findall("see /home/me/x and ../y")
