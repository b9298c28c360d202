"""The command line."""

import errno
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from service import __version__
from service.calculations.registry import calculations
from service.command import main

REQUEST = '{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "reference": "Ä"}'


@pytest.fixture
def request_file(tmp_path: Path) -> str:
    file = tmp_path / "request.json"
    file.write_text(REQUEST, encoding="utf-8")
    return str(file)


def usage(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """What is said about a wrong use, which exits with 2."""
    with pytest.raises(SystemExit) as exit_:
        main(arguments)
    assert exit_.value.code == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "Traceback" not in said.err
    return said.err


def test_answer_is_printed_as_json(request_file: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calculate", "concentration", request_file, "--units", "us", "--digits", "3", "--explain"]) == 0
    said = capsys.readouterr()
    answer = json.loads(said.out)
    assert answer["density"]["unit"] == "lb/gal"
    assert answer["water_ratio"]["value"] == 1.0
    assert answer["reference"] == "Ä"
    assert answer["steps"]
    assert said.out.count("\n") > 10
    assert said.err == ""


def test_request_is_read_from_standard_input() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "service", "calculate", "concentration", "-"],
        input=REQUEST.encode(),
        capture_output=True,
        check=True,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
        cwd=Path(__file__).parents[1],
    )
    assert json.loads(done.stdout.decode("utf-8"))["reference"] == "Ä"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("words", [["calculate", "concentration", "-"], ["contract"]])
def test_a_full_disk_is_told_in_one_line(words: list[str]) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "service", *words],
            input=REQUEST.encode(),
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
            cwd=Path(__file__).parents[1],
        )
    assert done.returncode == 1
    assert done.stderr.decode().splitlines() == [f"The answer cannot be written: {os.strerror(errno.ENOSPC)}."]


@pytest.mark.parametrize("body", [b"{}", b"\xff\xfe", b"", b"[1"])
def test_refused_request_is_told_as_problem_document(
    tmp_path: Path, body: bytes, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "bad.json"
    file.write_bytes(body)
    assert main(["calculate", "concentration", str(file)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    problem = json.loads(said.err)
    assert (problem["type"], problem["status"]) == ("/problems/invalid-request", 400)
    assert problem["errors"]


def test_unknown_calculation_is_answered_with_the_known_ones(
    request_file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    said = usage(["calculate", "concentraton", request_file], capsys)
    assert "did you mean 'concentration'" in said
    assert all(name in said for name in calculations())


def test_missing_file_and_folder_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "No such file" in usage(["calculate", "concentration", str(tmp_path / "none.json")], capsys)
    assert "directory" in usage(["calculate", "concentration", str(tmp_path)], capsys).lower()
    assert "cannot use" in usage(["contract", "--check", str(tmp_path / "none.json")], capsys)


@pytest.mark.parametrize("wrong", [["--digits", "0"], ["--digits", "x"], ["--units", "imperial"]])
def test_wrong_wishes_are_told(request_file: str, wrong: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert wrong[0] in usage(["calculate", "concentration", request_file, *wrong], capsys)


@pytest.mark.parametrize("port", ["-1", "65536", "x", "٣"])
def test_wrong_port_is_told(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "--port" in usage([f"--port={port}"], capsys)


def test_version_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as exit_:
        main(["--version"])
    assert exit_.value.code == 0
    assert capsys.readouterr().out == f"lyestock {__version__}\n"


def test_contract_is_written_and_compared(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "contract.json"
    assert main(["contract", "--write", str(file)]) == 0
    assert main(["contract", "--check", str(file)]) == 0
    assert main(["contract"]) == 0
    assert capsys.readouterr().out.encode() == file.read_bytes()
    file.write_bytes(file.read_bytes().replace(b"Lyestock", b"Limestock", 1))
    assert main(["contract", "--check", str(file)]) == 1
    assert "--write" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("file", "spoilt", "reason"),
    [
        (
            "fat_figures.csv",
            "olive-oil,saponification_value,300,196,mg/g,no,codex-cxs-33,memory,",
            "low 300 is above",
        ),
        ("practices.toml", "[cure", "Expected ']'"),
        ("kell_1975.csv", "one,two,three,four,five,six,seven", "the columns do not fit the header"),
    ],
)
@pytest.mark.parametrize("words", [["--port", "0"], ["calculate", "concentration", "-"], ["contract"]], ids=str)
def test_faulty_data_file_stops_the_start_with_one_clear_line(
    tmp_path: Path, file: str, spoilt: str, reason: str, words: list[str]
) -> None:
    copy = shutil.copytree(
        Path(__file__).parents[1] / "service", tmp_path / "service", ignore=shutil.ignore_patterns("__pycache__")
    )
    data = copy / "reference" / "data" / file
    text = data.read_text(encoding="utf-8")
    data.write_text(f"{text.rstrip()}\n{spoilt}\n", encoding="utf-8")
    row = len(data.read_text(encoding="utf-8").splitlines())
    done = subprocess.run(
        [sys.executable, "-m", "service", *words],
        cwd=tmp_path,
        input=REQUEST,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.count("\n") == 1
    assert done.stderr.startswith(f"The reference data cannot be used. {file}, row {row}: ")
    assert reason in done.stderr


def test_service_serves_and_ends_cleanly(tmp_path: Path) -> None:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[1])}
    command = [sys.executable, "-m", "service", "--port", str(port)]
    with subprocess.Popen(command, cwd=tmp_path, env=environment, stderr=subprocess.PIPE, text=True) as process:
        try:
            ready = _wait_for(f"http://127.0.0.1:{port}/health/ready", process)
        finally:
            process.send_signal(signal.SIGINT)
            _, log = process.communicate(timeout=15)
    assert json.loads(ready)["status"] == "ready"
    assert "Traceback" not in log
    assert process.returncode == 0


def _wait_for(address: str, process: subprocess.Popen[str]) -> bytes:
    for _ in range(200):
        try:
            with urllib.request.urlopen(address, timeout=5) as reply:  # noqa: S310 - an address of this test
                assert reply.headers.get("server") is None
                body: bytes = reply.read()
                return body
        except OSError:
            assert process.poll() is None, "the service ended"
            time.sleep(0.05)
    raise TimeoutError(address)
