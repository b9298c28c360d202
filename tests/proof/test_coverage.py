"""A quick part of `python -m tests.proof.coverage`, always with the same draws: no mean falls out of its bounds."""

from typing import Final

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


@pytest.mark.parametrize("study", STUDIES, ids=lambda one: one.calculation)
def test_intervals_hold_as_often_as_they_say(study: Study) -> None:
    kept = summary(study.calculation, campaign(study, SEED, HEAVY.get(study.calculation, REQUESTS), DRAWS))
    assert kept
    shares = [one.mean for one in kept for _ in range(one.requests)]
    assert float(np.mean(shares)) >= LEAST - STRAY
    without_cause = [one.mean for one in kept if not one.cause for _ in range(one.requests)]
    assert float(np.mean(without_cause)) <= MOST + STRAY


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
