"""A quick part of `python -m tests.proof.coverage`, always with the same draws: no mean falls out of its bounds."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import numpy as np
import pytest

from tests.proof.coverage.drawing import SURE, draw
from tests.proof.coverage.engine import Study, asked, campaign
from tests.proof.coverage.studies import STUDIES
from tests.proof.coverage.summary import LEAST, MOST, summary
from tests.proof.coverage.world import World, drawn

SEED, REQUESTS, DRAWS = 1995, 6, 50
HEAVY: Final = {"production-plan": 4, "stock-adjustment": 4, "stock-mixing/ice": 4, "batch-sheet": 3}
"""Requests of what takes longest."""
STRAY: Final = 0.01
"""What so few draws leave of a mean, whose members share them; the whole run, whose page is written, has a tenth."""
PAGE: Final = Path(__file__).parent / "coverage" / "README.md"
CONTRACT: Final = Path(__file__).parents[2] / "openapi" / "openapi.json"
SAID: Final = re.compile(r"interval|bounds|`high`|lower end|0 to 0|at their worst")
BY_CHANCE: Final = {("stock-warming", "steady_temperature")}
"""Members of which so few requests have one that their mean strays by chance."""


@pytest.mark.parametrize("study", STUDIES, ids=lambda one: one.calculation)
def test_intervals_hold_as_often_as_they_say(study: Study) -> None:
    kept = summary(study.calculation, campaign(study, SEED, HEAVY.get(study.calculation, REQUESTS), DRAWS))
    assert kept
    shares = [one.mean for one in kept for _ in range(one.requests)]
    assert float(np.mean(shares)) >= LEAST - STRAY
    without_cause = [one.mean for one in kept if not one.cause for _ in range(one.requests)]
    assert float(np.mean(without_cause)) <= MOST + STRAY


def outside() -> Iterator[tuple[str, str]]:
    """Calculation and member of every mean on the page that is none of a nominal 95 %."""
    calculation = ""
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        calculation = line[3:] if line.startswith("## ") else calculation
        cells = [cell.strip(" `") for cell in line.split("|")]
        if len(cells) > 4 and cells[3].endswith("%") and not LEAST <= float(cells[3][:-1]) / 100 <= MOST:
            yield calculation, cells[1]


def described(calculation: str, member: str) -> str:
    """What the contract says of a member of an answer."""
    contract: dict[str, Any] = json.loads(CONTRACT.read_text(encoding="utf-8"))
    answer = contract["paths"][f"/v1/{calculation}"]["post"]["responses"]["200"]
    schema: dict[str, Any] = answer["content"]["application/json"]["schema"]
    for part in ["", *member.split("/")]:
        if part == "*":
            schema = schema["items"]
        elif part:
            schema = schema["properties"][part]
        if "$ref" in schema and part != member.rsplit("/", maxsplit=1)[-1]:
            schema = contract["components"]["schemas"][schema["$ref"].rpartition("/")[2]]
    return str(schema["description"])


def test_the_contract_tells_which_intervals_are_no_95_percent() -> None:
    found = set(outside()) - BY_CHANCE
    assert len(found) > 10
    assert [one for one in sorted(found) if not SAID.search(described(*one))] == []


def test_every_calculation_that_tells_intervals_is_studied() -> None:
    from service.calculations.registry import calculations  # noqa: PLC0415 - what is studied imports less

    assert {one.calculation for one in STUDIES} == calculations().keys()


def test_a_draw_says_one_value_for_sure() -> None:
    said = {"mass": {"low": 1, "high": 2, "unit": "kg"}, "strength": {"mass_fraction": 0.5, "uncertainty": 0.01}}
    found = draw(said, np.random.default_rng(1))
    assert 1 <= found["mass"]["value"] <= 2
    assert found["mass"]["uncertainty"] <= 2 * SURE
    assert found["strength"].keys() == {"mass_fraction"}


def test_a_world_is_left_as_it_was_found() -> None:
    request = {"fats": [{"fat": "olive-oil", "mass": "1 kg"}]}
    before = asked("saponification", request)["/saponification_value"]
    with drawn(World(np.random.default_rng(1))):
        inside = asked("saponification", request)["/saponification_value"]
    after = asked("saponification", request)["/saponification_value"]
    assert inside.low == pytest.approx(inside.high)
    assert before.value != inside.value
    assert (after.value, after.low, after.high) == (before.value, before.low, before.high)
