"""The layers: imports point down only, and the science needs nothing of the web."""

import ast
import re
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import Final

import pytest

SERVICE: Final = Path(__file__).parents[1] / "service"
ORDER: Final = ("reference", "chemistry", "calculations", "http", "")
"""From the bottom up; a layer may import itself and those before it. The last is the package's own folder."""
WEB: Final = {
    "h11",
    "httptools",
    "litestar",
    "prometheus_client",
    "starlette",
    "swagger_ui_bundle",
    "uvicorn",
    "uvloop",
}
HEAVY: Final = {"hypothesis", "matplotlib", "numpy", "pandas", "PIL", "schemathesis", "scipy"}
"""What is installed beside the service, for its pictures and its tests, and takes long to load."""
MODULES: Final = sorted(SERVICE.rglob("*.py"))
DOTTED: Final = re.compile(r"service(?:\.\w+)+\.?")


def layer_of(dotted: str) -> str:
    """Layer of a module by its dotted name below `service`."""
    first, _, _ = dotted.partition(".")
    return first if first in ORDER else ""


def own_layer(path: Path) -> str:
    """Layer of a file of the service."""
    return layer_of(".".join(path.relative_to(SERVICE).with_suffix("").parts))


def names_in(source: str) -> set[str]:
    """Every module that a source names, wherever it does: in imports at the top or inside of functions, as an
    attribute of the package, or as a text that could be handed to importlib."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are absolute"
            found.add(node.module or "")
            found.update(f"{node.module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "service":
            found.add(f"service.{node.attr}")
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and DOTTED.fullmatch(node.value):
            found.add(node.value)
    return found


def faults(own: str, source: str) -> list[str]:
    """What a source of a layer names that lies above it."""
    wrong = []
    for name in sorted(names_in(source)):
        package, _, below = name.partition(".")
        above = package == "service" and below and layer_of(below) and ORDER.index(layer_of(below)) > ORDER.index(own)
        if above or (package in WEB and own not in {"http", ""}):
            wrong.append(name)
    return wrong


def test_there_are_modules_in_every_layer() -> None:
    assert {own_layer(path) for path in MODULES} == set(ORDER)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SERVICE)))
def test_imports_point_down(path: Path) -> None:
    assert faults(own_layer(path), path.read_text(encoding="utf-8")) == []


UPWARD: Final = [(below, above) for i, below in enumerate(ORDER) for above in ORDER[i + 1 :] if above]
WAYS: Final = (
    "import service.{}.some",
    "from service.{} import some",
    "from service.{}.some import thing",
    "from service import {}",
    "def later():\n    import service.{}.some",
    "class Late:\n    def it(self):\n        from service.{} import some",
    "import importlib\nimportlib.import_module('service.{}')",
    "module = __import__('service.{}.some')",
    "import_module(f'service.{}.{{name}}')",
    "import service\nservice.{}.some()",
)


@pytest.mark.parametrize(("below", "above"), UPWARD)
@pytest.mark.parametrize("way", WAYS)
def test_an_import_that_points_up_is_found(below: str, above: str, way: str) -> None:
    assert faults(below, way.format(above))
    assert faults(above, way.format(below)) == []


@pytest.mark.parametrize("web", sorted(WEB))
@pytest.mark.parametrize("own", ["reference", "chemistry", "calculations"])
def test_a_web_package_below_the_transport_is_found(own: str, web: str) -> None:
    assert faults(own, f"def later():\n    from {web}.some import thing") == [f"{web}.some", f"{web}.some.thing"]
    assert faults("http", f"import {web}") == []


def loaded_by(modules: list[str]) -> set[str]:
    """The top packages that a fresh interpreter holds once these modules are imported."""
    say = f"import sys, {', '.join(modules)}; print(*{{name.partition('.')[0] for name in sys.modules}})"
    done = subprocess.run([sys.executable, "-c", say], cwd=SERVICE.parent, capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def modules_of(layer: str) -> list[str]:
    """The dotted names of a layer's modules."""
    parts = (path.relative_to(SERVICE.parent).with_suffix("").parts for path in MODULES if own_layer(path) == layer)
    return [".".join(part).removesuffix(".__init__") for part in parts]


@pytest.mark.parametrize(
    ("layer", "unneeded"),
    [
        ("reference", {*WEB, *HEAVY, "pint"}),
        ("chemistry", {*WEB, *HEAVY, "pint"}),
        ("calculations", {*WEB, *HEAVY}),
    ],
)
def test_a_whole_layer_loads_nothing_of_those_above(layer: str, unneeded: set[str]) -> None:
    loaded = loaded_by(modules_of(layer))
    assert loaded & unneeded == set()
    assert "service" in loaded


def test_the_transport_loads_the_web_so_that_the_check_could_fail() -> None:
    assert loaded_by(["service.http.app"]) & WEB


def test_a_start_loads_nothing_heavy_and_makes_no_contract() -> None:
    """The contract is made when it is first read; pictures are drawn by packages that are loaded for the first one."""
    say = (
        "import sys, service.http.operation.workers; service.http.app.create_app();"
        "print(*{name.partition('.')[0] for name in sys.modules}, *[one for one in sys.modules if 'contract' in one])"
    )
    done = subprocess.run([sys.executable, "-c", say], cwd=SERVICE.parent, capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert loaded & HEAVY == set()
    assert {"service", "pint", "uvicorn"} <= loaded
    assert "service.http.contract" not in loaded


def test_everything_heavy_is_installed_so_that_the_check_could_fail() -> None:
    assert {name for name in HEAVY if find_spec(name) is None} == set()


@pytest.mark.parametrize("flags", [("-W", "error"), ("-X", "dev")])
def test_the_service_loads_without_a_warning(flags: tuple[str, str]) -> None:
    say = "from service.http.app import create_app; create_app()"
    done = subprocess.run(
        [sys.executable, *flags, "-c", say], cwd=SERVICE.parent, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")


FOREIGN: Final = re.compile(r"""(?<![\w.])(?:/(?:work|home|root|tmp|Users)/|[A-Z]:\\\\|\.\./)""")


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SERVICE)))
def test_text_names_no_folder_of_a_machine(path: Path) -> None:
    assert FOREIGN.findall(path.read_text(encoding="utf-8")) == []


def test_pattern_of_foreign_folders_finds_one() -> None:
    assert FOREIGN.findall("see /home/me/x and ../y")


def test_what_counts_as_rounding_is_said_once() -> None:
    """Whoever needs another value has another thing in mind, and another name."""
    said = [
        path
        for path in SERVICE.rglob("*.py")
        for line in path.read_text("utf-8").splitlines()
        if re.match(r"ROUNDING\b.*=", line)
    ]
    assert [path.name for path in said] == ["ranges.py"]
