"""A quick part of `python -m tests.proof.coverage`, always with the same draws, and what its page says."""

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final

import numpy as np
import pytest

from tests.proof.coverage.__main__ import PAGE, read
from tests.proof.coverage.drawing import SURE, draw
from tests.proof.coverage.engine import Study, asked, campaign
from tests.proof.coverage.page import page
from tests.proof.coverage.studies import STUDIES
from tests.proof.coverage.summary import FEW, LEAST, MOST, TIMES, Kept, Result, pooled, scatter, shares, too_low
from tests.proof.coverage.usual import WITHIN, Middle, usual
from tests.proof.coverage.world import World, drawn

SEED, REQUESTS, DRAWS = 1995, 6, 50
HEAVY: Final = {"production-plan": 4, "stock-adjustment": 4, "stock-mixing/ice": 4, "batch-sheet": 3}
"""Requests of what takes longest."""
UNCHECKED: Final = 0.92
"""Share of its draws by which a request is held at least whose cause nothing can check; a choice."""
SIGMAS: Final = 4.0
"""Standard deviations of a count of draws that a mean may stray by; of some 130 members none does by chance."""
CONTRACT: Final = Path(__file__).parents[2] / "openapi" / "openapi.json"
EXAMPLES: Final = CONTRACT.with_name("examples")
NOT_DRAWN: Final = {
    ("batch-sheet", "/record/operations/*/planned_temperature"): "a second time what `temperatures` tells",
}
"""Members with an interval that are on no page, and why."""
SAID: Final = re.compile(r"wider than 95 %|\bguard\b|\bbounds?\b")
"""An interval alone may be one of 95 %."""


@cache
def results() -> dict[str, Result]:
    return read()


def every() -> Iterator[tuple[str, Kept, int]]:
    """Calculation, member and draws of a request, for each member on the page."""
    for name, result in results().items():
        for one in result.members:
            yield name, one, result.draws


@pytest.mark.parametrize("study", STUDIES, ids=lambda one: one.calculation)
def test_intervals_hold_as_often_as_they_say_and_as_the_page_has_it(study: Study) -> None:
    requests = HEAVY.get(study.calculation, REQUESTS)
    tried = shares(campaign(study, SEED, requests, DRAWS))
    assert tried
    kept = {one.member: one for one in results()[study.calculation].members}
    assert tried.keys() <= kept.keys()
    for member, held in tried.items():
        mean, draws = float(np.mean([share for share, _, _ in held])), len(held) * DRAWS
        assert mean >= LEAST - SIGMAS * scatter(LEAST, draws), member
        whole = kept[member]
        by_requests = whole.spread * (1 / len(held) + 1 / whole.requests) ** 0.5
        assert abs(mean - whole.mean) <= SIGMAS * (scatter(LEAST, draws) + by_requests), member


def test_the_page_has_what_was_kept_of_every_calculation() -> None:
    assert results().keys() == {one.calculation for one in STUDIES}
    assert PAGE.read_text(encoding="utf-8") == page(results())


def test_every_mean_outside_has_a_cause_without_which_it_is_inside() -> None:
    for name, one, draws in every():
        if one.outside:
            checked = one.fresh if one.over(name) is None else one.checked
            assert one.over(name) is not None or one.requests < FEW, (name, one.member)
            assert checked is not None, (name, one.member)
            room = SIGMAS * scatter(LEAST, one.requests * draws)
            assert LEAST - room <= checked <= MOST, (name, one.member, checked)


def test_every_request_that_is_held_far_less_often_has_a_cause_without_which_it_is_held() -> None:
    for name, one, draws in every():
        if too_low(one.least, draws):
            assert one.again is not None, (name, one.member)
            if too_low(one.again, TIMES * draws):
                why = one.low(name, draws)
                assert why is not None, (name, one.member, one.again)
                if why.check == "unchecked":
                    assert one.again > UNCHECKED, (name, one.member, one.again)
                    continue
                assert one.again_checked is not None, (name, one.member)
                assert not too_low(one.again_checked, TIMES * draws), (name, one.member, one.again_checked)


def outside() -> set[tuple[str, str]]:
    """Calculation and member of every mean on the page that is a bound and no nominal 95 %."""
    return {(name, one.member[1:]) for name, one, _ in every() if one.mean > MOST and one.over(name) is not None}


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
    found = outside()
    assert len(found) > 10
    assert [one for one in sorted(found) if not SAID.search(described(*one))] == []


def test_every_calculation_that_tells_intervals_is_studied() -> None:
    from service.calculations.registry import calculations  # noqa: PLC0415 - what is studied imports less

    assert {one.calculation for one in STUDIES} == calculations().keys()


def intervals(held: Any, at: str = "") -> Iterator[str]:
    """The pointer of every figure with ends, of an answer as it is sent."""
    if isinstance(held, list):
        for one in held:
            yield from intervals(one, f"{at}/*")
    elif isinstance(held, dict):
        if {"low", "high"} & held.keys():
            yield at
        for name, one in held.items():
            yield from intervals(one, f"{at}/{name}")


def test_every_interval_of_a_shipped_answer_is_on_the_page_or_has_a_reason() -> None:
    told = {
        (name, pooled(at))
        for name in results()
        for file in (EXAMPLES / name).glob("*.answer.json")
        for at in intervals(json.loads(file.read_text(encoding="utf-8")))
    }
    assert {name for name, _ in told} == results().keys()
    kept = {(name, one.member) for name, one, _ in every()}
    assert told - kept == NOT_DRAWN.keys()


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


def test_the_usual_rule_is_that_of_the_guide() -> None:
    # JCGM 100:2008, 4.3.7 and G.2.2: 95 % of a rectangle, and 1.96 standard deviations of a normal.
    study = next(one for one in STUDIES if one.calculation == "soap-assay")
    request = {
        "alkali": "NaOH",
        "sample_mass": {"value": 10, "unit": "g"},
        "acid_molarity": {"value": 0.1, "unit": "mol/L"},
        "acid_volume": {"low": 9, "high": 11, "unit": "mL"},
        "method": "free-caustic",
    }
    answer = asked_whole(request)
    low, high = usual(study, request, answer)["/free_alkali"]
    assert (high - low) / (high + low) == pytest.approx(0.95 * 0.1, rel=0.01)


def asked_whole(request: dict[str, Any]) -> Any:
    from tests.proof.coverage.engine import answered  # noqa: PLC0415

    return answered("soap-assay", request)


def test_one_draw_at_a_time_is_at_its_end() -> None:
    first = Middle(1, -1.0)
    assert first.uniform(1.0, 3.0) == 2.0
    assert first.normal(5.0, 2.0) == pytest.approx(5.0 - 2.0 * WITHIN["normal"])
    assert first.triangular(-1.0, 0.0, 1.0) == 0.0
    assert first.kinds == ["uniform", "normal", "triangular"]


def test_a_draw_reaches_calculations_that_were_not_asked_before() -> None:
    """In a process of its own, where nothing has loaded them."""
    asked = "from tests.proof.coverage import world; print(*(one.__name__ for one, _ in world._places(world._FAT)))"
    done = subprocess.run(
        [sys.executable, "-c", asked], cwd=CONTRACT.parents[1], capture_output=True, text=True, check=True
    )
    assert "service.calculations.batch.superfat_check" in done.stdout.split()
