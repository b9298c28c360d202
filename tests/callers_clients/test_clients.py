"""Typed clients made from the committed contract: they compile by strict rules, and callers get right numbers.

The batch: 135.2 g of pure NaOH from a stock of 50 % are 135.2 / 0.50 = 270.4 g of stock (by hand).
"""

import re
import sys
from pathlib import Path

import pytest

from tests.callers_clients.conftest import CLIENTS, ROOT, run
from tests.callers_clients.flaky import flaky
from tests.running import Served

CONTRACT = ROOT / "openapi" / "openapi.json"
ANSWERED = "stock 270.4 g"
REFUSED = re.compile(r"/alkalis/0/mass: 135\.2 has no unit; write the unit with it.*'135\.2 g'.*")


def _asked(folder: Path, address: str, language: str) -> list[str]:
    """What an example prints."""
    program = ("python", "example.py") if language == "python" else ("node", "out/example.js")
    done = run(folder, *program, address)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


@pytest.fixture(params=["python", "typescript"])
def caller(request: pytest.FixtureRequest) -> tuple[Path, str]:
    """The folder of a caller, and its language."""
    folder = request.getfixturevalue("made" if request.param == "python" else "compiled")
    return folder, request.param


def test_a_caller_gets_the_stock_of_its_batch_and_its_slip_of_the_pen_by_place(
    caller: tuple[Path, str], served: Served
) -> None:
    stock, cautions, fault = _asked(caller[0], served.address, caller[1])
    assert stock == ANSWERED
    assert int(cautions.removeprefix("cautions ")) > 0
    assert REFUSED.fullmatch(fault)


def test_a_caller_asks_again_after_a_lost_connection_and_when_told_to_come_later(
    caller: tuple[Path, str], served: Served
) -> None:
    before = served.asked.total()
    with flaky(served.address) as door:
        stock, _, fault = _asked(caller[0], door.address, caller[1])
    assert stock == ANSWERED
    assert REFUSED.fullmatch(fault)
    assert door.came >= 4
    assert served.asked.total() == before + 2, "a refusal is an answer, and nothing was asked twice"


def test_a_caller_gives_up_where_it_is_put_off_for_ever(made: Path, served: Served) -> None:
    words = (
        "import httpx, sys; from patient import Patient, TRIES; "
        "print(TRIES, httpx.Client(transport=Patient(first_wait=0.001)).get(sys.argv[1]).status_code)"
    )
    with flaky(served.address, always_later=True) as door:
        done = run(made, "python", "-c", words, door.address)
    assert done.stdout.split() == ["6", "503"], done.stderr
    assert door.came == 6


def test_the_python_client_has_no_fault_of_types(made: Path) -> None:
    done = run(made, sys.executable, "-m", "mypy", "--strict", "lyestock_client", "example.py", "patient.py")
    assert done.returncode == 0, done.stdout


def test_the_python_client_has_a_module_for_every_operation(made: Path) -> None:
    operations = re.findall(r'"operationId": "([a-z_]+)",\n +"tags": \["([a-z]+)"\]', CONTRACT.read_text())
    assert len(operations) == CONTRACT.read_text().count('"tags": [') - 1
    modules = {
        (file.stem, file.parent.name)
        for file in (made / "lyestock_client" / "api").glob("*/*.py")
        if file.stem != "__init__"
    }
    assert modules == set(operations)


def test_a_linter_finds_nothing_in_the_contract(node: Path, tmp_path: Path) -> None:
    done = run(tmp_path, str(node / "redocly"), "lint", "--extends", "recommended-strict", str(CONTRACT))
    assert done.returncode == 0, done.stdout + done.stderr
    assert "arning" not in done.stdout
    assert "valid" in done.stderr


def test_the_linter_would_find_something(node: Path, tmp_path: Path) -> None:
    broken = tmp_path / "broken.json"
    broken.write_text(CONTRACT.read_text().replace('"operationId": "liquid_split"', '"operationId": "liquid split"'))
    done = run(tmp_path, str(node / "redocly"), "lint", "--extends", "recommended-strict", str(broken))
    assert done.returncode == 1
    assert "operation-operationId-url-safe" in done.stdout + done.stderr


def test_the_files_of_the_callers_are_those_that_the_examples_name() -> None:
    assert {file.name for file in CLIENTS.iterdir() if file.is_file()} == {
        "example.py",
        "example.ts",
        "generate",
        "package-lock.json",
        "package.json",
        "patient.py",
        "patient.ts",
        "python.yaml",
        "tsconfig.json",
    }
