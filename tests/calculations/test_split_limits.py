"""A superfat that is known by the alkali alone, where that alkali is known by its limits."""

import pytest

from service.calculations.batch.liquid_split import calculate
from tests.calculations.asking import ask
from tests.calculations.splitting import HALF, split

TESTED = (calculate,)
"""What these tests are of: mutants of its module meet them first."""


@pytest.mark.parametrize("apart", [1.0, 4.0])
def test_limits_of_the_alkali_are_limits_of_what_the_fats_take(apart: float) -> None:
    """Of a rectangle 95 % of its half-width hold 95 %: 130 g within 4 g tell fats within 2.9 %, met by 95 %."""
    assert set(split(superfat="5 %")["superfat"]) == {"value", "unit"}
    soda = {"alkali": "NaOH", "mass": {"low": 130 - apart, "high": 130 + apart, "unit": "g"}}
    superfat = ask("liquid-split", {"alkalis": [soda], "stocks": [HALF], "superfat": "5 %"})["superfat"]
    share = 0.95 * apart / 130
    assert superfat["value"] == pytest.approx(0.05, abs=1e-9)
    assert superfat["low"] == pytest.approx(1 - 0.95 / (1 - share), abs=1e-6)
    assert superfat["high"] == pytest.approx(1 - 0.95 / (1 + share), abs=1e-6)
