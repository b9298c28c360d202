"""How lines are written: nothing that is logged and no output makes anyone wait or fail."""

import errno
import json
import logging
import os
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from service.http.operation import log_records
from service.http.operation.hidden_keys import without_keys
from service.http.operation.log_lines import LONGEST, Lines, Served
from service.http.operation.log_records import LineHandler

SERVED = Served("GET", "/", 200, 0.001, 10, b"mark", None, None, 1_800_000_000.0)


@pytest.fixture
def log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator["Log"]:
    with (tmp_path / "log").open("wb") as file:
        lines = Lines()
        lines.open(file.fileno())
        monkeypatch.setattr(log_records, "LINES", lines)
        yield Log(lines, tmp_path / "log")
        assert lines.flush()


class Log:
    """Lines that go into a file, and a logger whose records become such lines."""

    def __init__(self, lines: Lines, path: Path) -> None:
        self.lines = lines
        self._path = path
        self.logger = logging.Logger("tested")
        self.logger.addHandler(LineHandler())

    def written(self) -> list[dict[str, Any]]:
        assert self.lines.flush()
        return [json.loads(line) for line in self._path.read_bytes().splitlines()]


class Untellable:
    def __str__(self) -> str:
        raise RuntimeError("cannot be told")


@pytest.mark.parametrize(
    ("message", "words"),
    [("%s", (Untellable(),)), ("%d", ("no number",)), ("%s %s", ("one",)), ("%(no)s", ({"a": 1},))],
    ids=str,
)
def test_record_that_cannot_be_told_is_told_as_such(log: Log, message: str, words: tuple[object, ...]) -> None:
    log.logger.error(message, *words)
    assert [(line["level"], line["message"]) for line in log.written()] == [("error", "a record cannot be told")]


def test_record_is_one_line_whatever_it_holds(log: Log) -> None:
    log.logger.warning("one\ntwo\r\n\x00\x1b[31m \ud800 \u2028 ÄÖ %s", "100 %")
    (line,) = log.written()
    assert line["message"] == "one\ntwo\r\n\x00\x1b[31m \\ud800 \u2028 ÄÖ 100 %"
    assert line["level"] == "warning"


@pytest.mark.parametrize("depth", [3, 40, 900])
@pytest.mark.parametrize("letter", ["x", "ü", '"', "\x00"])
def test_line_is_cut_to_what_goes_into_a_pipe_undivided_and_keeps_the_fault(log: Log, depth: int, letter: str) -> None:
    def fail(left: int) -> None:
        if left:
            fail(left - 1)
            return
        raise ValueError(letter * 10 * depth + "the fault itself")

    try:
        fail(depth)
    except ValueError:
        log.logger.exception("it fails %s", letter * depth * 20)
    (line,) = log.written()
    assert line["traceback"].rstrip().endswith("the fault itself")
    assert len(json.dumps(line, ensure_ascii=False).encode()) < 2 * LONGEST
    assert max(len(text) for text in log._path.read_bytes().splitlines(keepends=True)) <= LONGEST


def test_line_that_cannot_be_cut_is_lost(log: Log) -> None:
    log.logger.error("x", extra={"route": "r" * LONGEST})
    log.logger.error("y")
    assert [line["message"] for line in log.written()] == ["y"]
    assert log.lines.lost == 1


def test_every_exception_of_a_chain_is_in_the_traceback(log: Log) -> None:
    try:
        try:
            raise KeyError("first")
        except KeyError as error:
            raise ValueError("then ?key=sesame") from error
    except ValueError:
        log.logger.exception("both")
    traceback = log.written()[0]["traceback"]
    assert "KeyError: 'first'" in traceback
    assert "ValueError: then ?key=***" in traceback


def test_levels_and_what_is_said_about_a_request(log: Log) -> None:
    for level in (5, 10, 20, 25, 30, 40, 50):
        log.logger.log(level, "x", extra={"request_id": "mark", "trace_id": None, "route": "/v1/x?key=sesame"})
    written = log.written()
    assert [line["level"] for line in written] == ["debug", "debug", "info", "info", "warning", "error", "critical"]
    assert {(line["request_id"], line["route"], "trace_id" in line) for line in written} == {
        ("mark", "/v1/x?key=***", False)
    }


@pytest.mark.parametrize(
    "text",
    [
        "GET /v1/value/x?key={} HTTP/1.1",
        "https://there.example/?units=us&key={}&digits=3",
        "b'key={}'",
        "b'units=us&KEY={}'",
        "/v1/x?a=b;key={}#part",
        "/v1/x%3Fkey%3D{}",
        "/v1/x%253Fkey%253D{}",
        "authorization: Bearer {}",
        "Authorization: bearer   {}",
        "[(b'host', b'x'), (b'authorization', b'Bearer {}'), (b'accept', b'*/*')]",
        "{{'authorization': 'Bearer {}'}}",
        '{{"Authorization": "Basic {}"}}',
        "a 'Bearer {}' is not known",
    ],
)
def test_keys_are_hidden_in_texts(text: str) -> None:
    secret = "sesame.Of-the_House~42"  # noqa: S105 - nobody's
    hidden = without_keys(text.format(secret))
    assert hidden == text.format("***") or ("uthorization" in text and "***" in hidden)
    assert "ouse" not in hidden
    assert without_keys(hidden) == hidden


def test_keys_that_are_made_here_are_hidden_wherever_they_stand() -> None:
    key = "lyestock-" + "aB3_-" * 8
    assert without_keys(f"/v1/{key} and '{key}', {key}.") == "/v1/lyestock-*** and 'lyestock-***', lyestock-***."


def test_key_that_is_sent_as_a_request_id_is_hidden(log: Log) -> None:
    log.lines.add(Served("GET", "/", 200, 0.1, 1, b"lyestock-" + b"aB3_-" * 8, None, None, 1.0))
    assert log.written()[0]["request_id"] == "lyestock-***"


@pytest.mark.parametrize("text", ["", "turn the key", "keys=1", "the bearer", "KeyError: 'x'", "a key: none"])
def test_texts_without_keys_stay_as_they_are(text: str) -> None:
    assert without_keys(text) == text


# Outputs


def test_lines_that_wait_are_bounded_and_those_beyond_are_counted() -> None:
    reader, writer = os.pipe()
    os.set_blocking(writer, False)
    before = 0
    with suppress(BlockingIOError):
        while True:
            before += os.write(writer, b" " * 512)
    os.set_blocking(writer, True)
    lines = Lines(most=100)
    lines.open(writer)
    counted: list[int] = []
    began = time.perf_counter()
    for _ in range(5000):
        lines.add(SERVED)
    assert time.perf_counter() - began < 2, "nobody waits for a reader who does not read"
    lines.count_losses(counted.append)
    lines.add(SERVED)
    assert not lines.flush(0.2)
    assert lines.lost == sum(counted) >= 5001 - 100 - 50
    kept = 5001 - lines.lost
    while before:
        before -= len(os.read(reader, before))
    read = b""
    while read.count(b"\n") < kept:
        read += os.read(reader, 1 << 16)
    assert {json.loads(line)["route"] for line in read.splitlines()} == {"/"}
    assert lines.flush()
    assert lines.lost + read.count(b"\n") == 5001
    os.close(reader)
    os.close(writer)


def test_line_broken_by_a_full_disk_is_ended_and_those_after_it_are_whole(
    log: Log, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.write
    room = [700]

    def write(output: int, text: bytes) -> int:
        if not room[0]:
            raise OSError(errno.ENOSPC, "No space left on device")
        count = real(output, text[: room[0]])
        room[0] -= count
        return count

    monkeypatch.setattr(os, "write", write)
    for _ in range(10):
        log.lines.add(SERVED)
    assert log.lines.flush()
    lost = log.lines.lost
    assert 0 < lost < 10
    room[0] = 1 << 20
    for _ in range(5):
        log.lines.add(SERVED)
    assert log.lines.flush()
    text = log._path.read_bytes().splitlines()
    whole = [line for line in text if line.endswith(b"}")]
    assert len(whole) == 15 - lost
    assert len(text) == len(whole) + 1
    for line in whole:
        json.loads(line)


def test_output_that_returns_at_once_is_waited_for() -> None:
    reader, writer = os.pipe()
    os.set_blocking(writer, False)
    lines = Lines()
    lines.open(writer)
    for _ in range(1000):
        lines.add(SERVED)
    read = b""
    while read.count(b"\n") < 1000:
        read += os.read(reader, 1 << 16)
    assert lines.flush()
    assert lines.lost == 0
    os.close(reader)
    os.close(writer)


def test_nothing_is_kept_where_no_log_was_opened() -> None:
    lines = Lines()
    for _ in range(10):
        lines.add(SERVED)
    assert lines.flush(0)
    assert lines.lost == 0


def test_counting_that_fails_is_passed_over() -> None:
    lines = Lines()
    lines.open(None)
    lines.add(SERVED)
    assert lines.flush()

    def count(_: int) -> None:
        raise ZeroDivisionError

    lines.count_losses(count)
    lines.add(SERVED)
    assert lines.flush()
    assert lines.lost == 2
