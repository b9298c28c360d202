"""Crystals of a stock whose strength is open: how often the heat that melts them lies in its interval.

The usual study draws strong stocks, whose hydrates are known so badly that the strength hardly counts. Here are others:
of weak stock with ice the share that is ice goes with the strength.
"""

from typing import Any

import numpy as np
import pytest

from tests.calculations.asking import Answer
from tests.calculations.caution_cases_of_warming import W
from tests.proof.coverage.engine import Study, asked, tried

DRAWS = 300
ICE = {"low": 0.05, "high": 0.07, "unit": "1"}


def frozen(strength: Answer, t: float) -> Answer:
    """20 kg of soda that has set, in a bucket."""
    return {
        "solution": {
            "alkali": "NaOH",
            "mass": {"value": 20, "unit": "kg"},
            "strength": strength,
            "temperature": {"value": t, "unit": "°C"},
        },
        "vessel": {
            "material": "hdpe",
            "mass": {"value": 2, "unit": "kg"},
            "diameter": {"value": 30, "unit": "cm"},
            "height": {"value": 40, "unit": "cm"},
            "lid": True,
        },
        "heater_power": {"value": 1, "unit": "kW"},
        "ambient": {"value": 20, "unit": "°C"},
        "target_temperature": {"value": 30, "unit": "°C"},
        "crystallised": True,
    }


@pytest.mark.parametrize(
    ("strength", "t"),
    [
        ({"mass_fraction": ICE}, -10.0),
        ({"mass_fraction": 0.10, "uncertainty": 0.005}, -20.0),
        ({"mass_fraction": {"low": 0.32, "high": 0.34, "unit": "1"}}, 0.0),
        ({"mass_fraction": {"low": 0.38, "high": 0.42, "unit": "1"}}, 5.0),
    ],
)
def test_the_heat_that_melts_crystals_is_held_whatever_the_strength_may_be(strength: Answer, t: float) -> None:
    found = tried(Study(W, lambda _: {}), frozen(strength, t), np.random.default_rng(27), DRAWS)
    assert found.lost < DRAWS / 10
    assert found.coverage["/thawing_heat"] > 0.9


def test_the_ends_are_those_of_the_weaker_and_the_stronger_stock() -> None:
    """Of ice the data leave 3 %, which hardly shows beside the strength."""
    told = asked(W, frozen({"mass_fraction": ICE}, -10.0))["/thawing_heat"]
    weak, strong = (asked(W, frozen({"mass_fraction": w}, -10.0))["/thawing_heat"].value for w in (0.0505, 0.0695))
    ends: list[Any] = [told.low, told.high]
    assert ends[0] < strong < told.value < weak < ends[1]
    assert ends == pytest.approx([strong, weak], rel=0.02)
