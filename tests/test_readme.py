"""The README's worked day: every request in it is made, and answered as it says."""

import csv
import io
import json
import re
from pathlib import Path
from typing import Any

import pytest

from service.http.app import create_app
from tests.asgi import Caller
from tests.calculations.asking import ask

README = Path(__file__).parents[1] / "README.md"
WORKED = re.compile(
    r"curl -s 'localhost:8765/v1/([a-z/-]+)\?digits=4'[^{]*'(\{.*?\})'\n```\n\n```json\n(.*?)```", re.DOTALL
)
CASES = WORKED.findall(README.read_text(encoding="utf-8"))


def holds(answer: Any, said: Any) -> bool:
    """Whether an answer holds what the README shows of it."""
    if isinstance(said, dict):
        return all(name in answer and holds(answer[name], value) for name, value in said.items())
    if isinstance(said, list):
        return len(answer) >= len(said) and all(holds(a, s) for a, s in zip(answer, said, strict=False))
    return bool(answer == said)


def test_the_worked_day_asks_for_what_a_day_and_its_stock_need() -> None:
    assert [name for name, _, _ in CASES] == [
        "saponification",
        "liquid-split",
        "concentration",
        "stock-mixing",
        "stock-mixing/ice",
        "stock-cooling",
        "batch-temperature",
        "batch-sheet",
        "production-plan",
        "stock-assay/evaporation",
        "stock-adjustment",
    ]


@pytest.mark.parametrize(("name", "request_text", "answer_text"), CASES, ids=[case[0] for case in CASES])
def test_the_worked_day_is_answered_as_the_readme_says(name: str, request_text: str, answer_text: str) -> None:
    answer = ask(name, json.loads(request_text), digits=4)
    said = json.loads(answer_text)
    assert said
    assert holds(answer, said), json.dumps(answer, ensure_ascii=False)


def test_the_week_in_a_sheet_is_answered_as_the_readme_says() -> None:
    text = README.read_text(encoding="utf-8")
    (sheet,) = re.findall(r"```csv\n(.*?)```", text, re.DOTALL)
    shown = re.search(r"(\| index \|.*?)\n\n", text, re.DOTALL)
    assert shown is not None
    header, _, *lines = [[cell.strip() for cell in line.strip("|").split("|")] for line in shown[1].splitlines()]
    body = sheet.encode()
    reply = Caller(create_app())("POST", "/v1/bulk/liquid-split?digits=4", body, [("content-type", "text/csv")])
    rows = list(csv.DictReader(io.StringIO(reply.body.decode(), newline="")))
    for row, line in zip(rows, lines, strict=True):
        assert [row[name].removeprefix("'").removesuffix(".0") for name in header] == [
            cell.removeprefix("'") for cell in line
        ]
