"""The wheel holds the service and nothing else, is the same bytes every time, and works wherever it is installed."""

import email.parser
import json
import os
import shutil
import socket
import subprocess
import tarfile
import time
import urllib.error
import urllib.request
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.supply.conftest import Built
from tests.supply.needed import ROOT, tools

ASK = urllib.request.build_opener(urllib.request.ProxyHandler({}))
"""Asks this machine directly, whatever proxy is set."""
SPLIT = {
    "alkalis": [{"alkali": "NaOH", "mass": "6 oz"}],
    "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
    "total_liquid": {"water_ratio": "2:1"},
}
MIXING = {
    "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg"},
    "water": {"mass": "1 kg", "temperature": "15 °C"},
}
PATIENCE = 60.0


def source_files() -> set[str]:
    """The files of the service, as paths from the top."""
    files = (one for one in (ROOT / "service").rglob("*") if one.is_file() and "__pycache__" not in one.parts)
    return {str(one.relative_to(ROOT)) for one in files}


def build(copy: Path, out: Path) -> None:
    """Build wheel and source distribution of a copy of the sources."""
    words = ["-m", "build", "--no-isolation", "--outdir", str(out), str(copy)]
    done = subprocess.run([tools(), *words], capture_output=True, text=True, check=False, timeout=120)
    assert done.returncode == 0, done.stderr


def test_wheel_holds_the_service_and_nothing_else(built: Built) -> None:
    with zipfile.ZipFile(built.wheel) as wheel:
        names = set(wheel.namelist())
    own = {name for name in names if ".dist-info/" not in name}
    assert own == source_files()
    assert "service/py.typed" in own
    assert "service/reference/data/sources.toml" in own
    folder = {name.split("/", 1)[1] for name in names - own}
    assert folder == {"METADATA", "WHEEL", "RECORD", "entry_points.txt"}


def test_sdist_holds_what_the_wheel_is_made_of(built: Built) -> None:
    with tarfile.open(built.sdist) as sdist:
        names = {one.name.split("/", 1)[1] for one in sdist if one.isfile()}
    contract = {"openapi/openapi.json", "openapi/CHANGELOG.md"}
    assert source_files() | contract <= names
    rest = {name for name in names - source_files() if not name.startswith("openapi/")}
    assert rest == {".gitignore", "DEVELOPERS.md", "PKG-INFO", "README.md", "pyproject.toml"}


def test_metadata_are_complete(built: Built) -> None:
    with zipfile.ZipFile(built.wheel) as wheel:
        name = next(one for one in wheel.namelist() if one.endswith("/METADATA"))
        told = email.parser.Parser().parsestr(wheel.read(name).decode())
    assert told["Name"] == "lyestock"
    assert told["Version"] == built.wheel.name.split("-")[1]
    assert told["Summary"]
    assert told["Requires-Python"] == ">=3.11"
    assert told["Description-Content-Type"] == "text/markdown"
    assert told.get_payload() == (ROOT / "README.md").read_text(encoding="utf-8")
    assert "Typing :: Typed" in told.get_all("Classifier", [])
    assert "pictures" in told.get_all("Provides-Extra", [])
    assert told.get_all("Project-URL") is None, "the project has no address that could be told"


def test_same_sources_give_the_same_bytes(built: Built, tmp_path: Path) -> None:
    copy, out = tmp_path / "elsewhere", tmp_path / "out"
    copy.mkdir()
    for name in ("service", "openapi"):
        shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("README.md", "DEVELOPERS.md", "pyproject.toml", ".gitignore"):
        shutil.copy(ROOT / name, copy / name)
    # What a work tree gathers, other times and other rights are not to be seen in what is built.
    (copy / "service/__pycache__").mkdir()
    (copy / "service/__pycache__/app.cpython-311.pyc").write_bytes(b"left over")
    (copy / "tests").mkdir()
    (copy / "tests/test_x.py").write_text("")
    for file in copy.rglob("*"):
        if file.is_file():
            file.chmod(0o600)
            os.utime(file, (1_000_000_000, 1_000_000_000))
    build(copy, out)
    assert next(out.glob("*.whl")).read_bytes() == built.wheel.read_bytes()
    assert next(out.glob("*.tar.gz")).read_bytes() == built.sdist.read_bytes()


@pytest.fixture
def nowhere(tmp_path: Path) -> Iterator[Path]:
    """An empty folder that may not be written to, and is still empty afterwards."""
    folder = tmp_path / "nowhere"
    folder.mkdir()
    folder.chmod(0o555)
    yield folder
    assert list(folder.iterdir()) == []


def words(environment: Path, *more: str) -> list[str]:
    """The installed command."""
    return [str(environment / "bin/lyestock"), *more]


def keys(environment: Path) -> dict[str, str]:
    """Nothing of this process's surroundings but where the system's programs are."""
    home = environment.parent / "home"
    home.mkdir(exist_ok=True)
    return {"PATH": os.environ["PATH"], "HOME": str(home), "MPLCONFIGDIR": str(home), "LYESTOCK_LOG": "off"}


def run(environment: Path, folder: Path, *more: str, given: str = "") -> str:
    """What the installed command prints."""
    done = subprocess.run(
        words(environment, *more),
        cwd=folder,
        env=keys(environment),
        input=given,
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def ask(address: str, body: object = None, accept: str = "*/*") -> tuple[int, bytes]:
    """Status and body of an answer."""
    data = None if body is None else json.dumps(body).encode()
    headers = {"Content-Type": "application/json", "Accept": accept}
    request = urllib.request.Request(address, data, headers)  # noqa: S310 - own address
    try:
        with ASK.open(request, timeout=PATIENCE) as reply:
            return reply.status, reply.read()
    except urllib.error.HTTPError as fault:
        return fault.code, fault.read()


def checked(answer: dict[str, Any]) -> None:
    """By hand: 6 oz of NaOH are 12 oz of stock of 50 %; at 2:1 there are 12 oz of liquid, 6 of them in the stock."""
    told = json.dumps([answer["stock_draws"][0]["mass"]["value"], answer["added_liquid_mass"]["value"]])
    ounce = 28.349523125  # g, exact: international avoirdupois, NIST SP 811, appendix B (from memory)
    assert json.loads(told) == pytest.approx([12 * ounce, 6 * ounce], abs=0.1), told


@pytest.fixture(params=["core", "pictures"])
def installed(request: pytest.FixtureRequest, built: Built) -> Path:
    """The environment without, and the one with what pictures need."""
    without: Path = request.getfixturevalue("core")
    return without if request.param == "core" else built.environment


def test_commands_work_from_an_empty_folder(core: Path, nowhere: Path) -> None:
    version = run(core, nowhere, "--version").split()[1]
    from service import __version__  # noqa: PLC0415 - compared with the one that is installed

    assert version == __version__
    answer: dict[str, Any] = json.loads(run(core, nowhere, "calculate", "liquid-split", "-", given=json.dumps(SPLIT)))
    checked(answer)
    assert run(core, nowhere, "contract") == (ROOT / "openapi/openapi.json").read_text(encoding="utf-8")


def test_service_answers_from_an_empty_folder(installed: Path, built: Built, nowhere: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as probe:
        port = probe.getsockname()[1]
    process = subprocess.Popen(
        words(installed, "--port", str(port)), cwd=nowhere, env=keys(installed), stderr=subprocess.PIPE, text=True
    )
    base = f"http://127.0.0.1:{port}"
    try:
        deadline = time.monotonic() + PATIENCE
        while True:
            try:
                status, _ = ask(base + "/health/ready")
                break
            except OSError:
                assert process.poll() is None, process.stderr and process.stderr.read()
                assert time.monotonic() < deadline
                time.sleep(0.05)
        assert status == 200
        assert ask(base + "/openapi.json") == (200, (ROOT / "openapi/openapi.json").read_bytes())
        status, page = ask(base + "/docs", accept="text/html")
        assert status == 200
        for name in ("swagger-ui.css", "swagger-ui-bundle.js"):
            assert name.encode() in page
            status, asset = ask(f"{base}/docs/{name}")
            assert status == 200
            assert len(asset) > 100_000
        status, fats = ask(base + "/v1/fats")
        assert status == 200
        assert b"olive-oil" in fats
        status, answer = ask(base + "/v1/liquid-split", SPLIT)
        assert status == 200
        checked(json.loads(answer))
        status, answer = ask(base + "/v1/stock-mixing", MIXING, "image/svg+xml")
        if installed.parent == built.folder:
            assert status == 200
            assert b"<svg" in answer
        else:  # matplotlib is not there, which is told as what cannot be had, not as a failure
            assert status == 406
            assert json.loads(answer)["status"] == 406
    finally:
        process.terminate()
        process.communicate(timeout=PATIENCE)
