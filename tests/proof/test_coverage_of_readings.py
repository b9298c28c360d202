"""A quick part of `python -m tests.proof.coverage.readings`, always with the same draws, and the page it wrote."""

import math
from typing import Final

import numpy as np
import pytest

from tests.proof.coverage.drawing import Maker
from tests.proof.coverage.readings import GROUPS, MEMBERS, PAGE, Curve, curve_of, known, page, read_kept, tried
from tests.proof.coverage.summary import LEAST, MOST

CURVES, DRAWS = 4, 60
SIGMAS: Final = 4.0
"""Standard deviations of so many draws that are let pass: one of many thousand runs by chance."""


@pytest.mark.parametrize("group", GROUPS, ids=str)
def test_intervals_by_readings_hold_as_often_as_they_say(group: tuple[int, int]) -> None:
    random = np.random.default_rng(1954)
    make = Maker(random)
    with known():
        found = [tried(curve_of(make, *group), random, DRAWS) for _ in range(CURVES)]
    room = SIGMAS * math.sqrt(0.95 * 0.05 / (CURVES * DRAWS))
    for name in MEMBERS:
        assert np.mean([one.within[name] for one in found]) >= 0.95 - room, name


@pytest.mark.parametrize(
    ("count", "end", "target", "half_width"),
    [(3, 50.0, 45.0, 1.0), (4, 40.0, 36.0, 1.0), (13, 35.0, 32.0, 1.0), (25, 25.0, 22.0, 0.5)],
)
def test_a_target_near_to_the_last_reading_is_held_by_many_readings_too(
    count: int, end: float, target: float, half_width: float
) -> None:
    temperatures = tuple(20.0 + 60.0 * ((end - 20.0) / 60.0) ** (i / (count - 1)) for i in range(count))
    curve = Curve(20.0, temperatures, target, half_width, "limits", 18.0, told_start=False)
    found = tried(curve, np.random.default_rng(count), 200)
    assert found.within["time"] >= 0.95 - SIGMAS * math.sqrt(0.95 * 0.05 / 200)
    assert found.within["heat_loss_at_start"] >= 0.95 - SIGMAS * math.sqrt(0.95 * 0.05 / 200)


def test_the_page_is_made_from_the_results_that_are_kept() -> None:
    kept = read_kept()
    assert PAGE.read_text(encoding="utf-8") == page(kept), "run: python -m tests.proof.coverage.readings --write"
    for groups in (kept.told, kept.bare):
        assert len(groups) == len(GROUPS)
        assert {len(group) for group in groups} == {kept.curves}
        for (fewest, most), group in zip(GROUPS, groups, strict=True):
            assert all(fewest <= one.readings <= most and set(one.within) == set(MEMBERS) for one in group)
            assert all(abs(one.within["time"] + one.below + one.above - 1.0) < 0.01 for one in group)


def _means(title: str) -> list[float]:
    """What the page tells of the time, group by group."""
    _, _, after = PAGE.read_text(encoding="utf-8").partition(f"## Time, {title}\n")
    rows = [line.split("|") for line in after.partition("\n## ")[0].splitlines() if line.startswith("| ")]
    return [float(row[2].strip(" %")) / 100 for row in rows[1:]]


def test_the_page_tells_means_that_hold() -> None:
    told, left = _means("as told"), _means("what the readings leave")
    assert len(told) == len(left) == len(GROUPS)
    assert min(told) >= LEAST
    assert min(left) >= LEAST
    # Of three to eight readings the scatter makes intervals wider than the thermometer does.
    assert all(one <= MOST for one, (fewest, most) in zip(left, GROUPS, strict=True) if most == 2 or fewest > 8)
