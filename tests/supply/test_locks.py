"""The locks say exactly what deployment installs: versions that fit pyproject.toml, hashes, all that is needed."""

import json
import subprocess
import tomllib
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from deploy.supply.locked import ALL, CORE, Pin, pins
from tests.supply.conftest import Built
from tests.supply.needed import ROOT

PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
LOCKS = [*sorted(ROOT.glob("deploy/**/requirements*.txt")), *sorted(ROOT.glob("tests/**/requirements*.txt"))]
NEEDED = [Requirement(one) for one in PROJECT["project"]["dependencies"]]
PICTURES = [Requirement(one) for one in PROJECT["project"]["optional-dependencies"]["pictures"]]
SYSTEMS = [
    {"sys_platform": system, "python_version": version, "python_full_version": f"{version}.0", "extra": ""}
    for system in ("linux", "darwin", "win32")
    for version in ("3.11", "3.12", "3.13", "3.14")
]

LOOK = """
import importlib, importlib.metadata, json, pathlib, warnings
import service
warnings.simplefilter("ignore")
source = pathlib.Path(service.__path__[0])
modules = [".".join(file.relative_to(source.parent).with_suffix("").parts) for file in source.rglob("*.py")]
tops = importlib.metadata.packages_distributions()
failed = {}
for name in {*modules, *tops} - {"service.__main__"}:
    if all(word.isidentifier() for word in name.split(".")):
        try:
            importlib.import_module(name.removesuffix(".__init__"))
        except Exception as fault:
            failed[name] = repr(fault)
print(json.dumps({
    "failed": failed,
    "modules": sorted(modules),
    "imported": sorted({one for owners in tops.values() for one in owners}),
    "installed": {one.name: [one.version, one.requires or []] for one in importlib.metadata.distributions()},
}))
"""
"""Run in an environment: imports every module of the service, and what every package there brings."""


def found(environment: Path) -> dict[str, Any]:
    """What is installed in an environment, and what cannot be imported there."""
    python = environment / "bin/python"
    done = subprocess.run([python, "-I", "-c", LOOK], cwd=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def active(lock: Path, system: dict[str, str] | None = None) -> dict[str, Pin]:
    """What a lock installs on a system, by name; each name once."""
    chosen = [pin for pin in pins(lock) if pin.meant_for(system)]
    by_name = {str(pin.name): pin for pin in chosen}
    assert len(by_name) == len(chosen), f"{lock.name} names a package twice for {system}"
    return by_name


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: str(lock.relative_to(ROOT)))
def test_every_line_is_one_version_with_hashes(lock: Path) -> None:
    lines = [one for one in lock.read_text(encoding="utf-8").splitlines() if one.strip() and one[0] not in "# "]
    assert len(pins(lock)) == len(lines) > 0
    text = lock.read_text(encoding="utf-8")
    assert "://" not in text, "a lock names no index"
    assert "--index-url" not in text


@pytest.mark.parametrize(
    "line", ["anyio>=4", "anyio==4.1", "anyio==4.* --hash=sha256:" + "0" * 64, "x @ file:///x.whl"]
)
def test_line_without_version_or_hash_is_refused(line: str, tmp_path: Path) -> None:
    lock = tmp_path / "lock.txt"
    lock.write_text(line + "\n", encoding="utf-8")
    with pytest.raises(ValueError, match="is not one version with hashes"):
        pins(lock)


@pytest.mark.parametrize("system", SYSTEMS, ids=lambda one: f"{one['sys_platform']}-{one['python_version']}")
def test_locks_fit_pyproject(system: dict[str, str]) -> None:
    core, every = active(CORE, system), active(ALL, system)
    for lock, asked in ((core, NEEDED), (every, NEEDED + PICTURES)):
        for one in asked:
            if one.marker is None or one.marker.evaluate(system):
                assert one.specifier.contains(lock[canonicalize_name(one.name)].version), one
    for name, pin in core.items():
        assert every[name].version == pin.version, "both locks install the same"
    assert "matplotlib" in every
    assert not {"matplotlib", "numpy", "pillow"} & set(core)


def test_tools_build_with_what_pyproject_asks_for() -> None:
    tools = active(ROOT / "deploy/supply/requirements.txt")
    for one in map(Requirement, PROJECT["build-system"]["requires"]):
        assert one.specifier.contains(tools[canonicalize_name(one.name)].version)


@pytest.mark.parametrize(("kind", "lock"), [("core", CORE), ("pictures", ALL)])
def test_lock_is_complete(kind: str, lock: Path, request: pytest.FixtureRequest) -> None:
    environment: Path = request.getfixturevalue("core")
    if kind == "pictures":
        whole: Built = request.getfixturevalue("built")
        environment = whole.environment
    told = found(environment)
    assert told["failed"] == {}
    sources = (ROOT / "service").rglob("*.py")
    assert told["modules"] == sorted(".".join(one.relative_to(ROOT).with_suffix("").parts) for one in sources)
    installed: dict[str, Any] = {str(canonicalize_name(name)): one for name, one in told["installed"].items()}
    locked = {name: pin.version for name, pin in active(lock).items()}
    assert {name: version for name, (version, _) in installed.items() if name != "lyestock"} == locked
    assert set(told["imported"]) == set(told["installed"]), "every package brings something to import"

    # From the service down, every requirement is met, and nothing is installed that none of them asks for.
    reached: set[tuple[str, str]] = set()
    open_ = [("lyestock", "pictures" if kind == "pictures" else "")]
    while open_:
        name, extra = open_.pop()
        if (name, extra) in reached:
            continue
        reached.add((name, extra))
        for one in map(Requirement, installed[name][1]):
            if one.marker is None or one.marker.evaluate({"extra": extra}):
                wanted = canonicalize_name(one.name)
                assert wanted in installed, f"{name} needs {one}"
                assert one.specifier.contains(installed[wanted][0], prereleases=True), f"{name} needs {one}"
                open_ += [(wanted, other) for other in ("", *one.extras)]
    assert {name for name, _ in reached} == set(installed)
