"""Crystals of a stock whose strength is open: how often the heat that melts them lies in its interval.

The usual study draws strong stocks, whose hydrates are known so badly that the strength hardly counts. Here are others:
of weak stock with ice the share that is ice goes with the strength.
"""

import numpy as np
import pytest

from tests.calculations.asking import Answer
from tests.calculations.caution_cases_of_warming import W
from tests.calculations.test_thawing_ends import ICE, frozen
from tests.proof.coverage.engine import Study, tried

DRAWS = 300


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
