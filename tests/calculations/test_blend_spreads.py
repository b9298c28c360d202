"""What liquids and a stock by volume bring to a batch: fat that takes alkali, and spreads of heat and temperature."""

from math import sqrt
from typing import Any

import pytest

from service.calculations.batch.blend_runs import Runs
from tests.calculations.asking import Answer
from tests.calculations.figures import KOH, NORMAL_95
from tests.calculations.quantities import normal
from tests.calculations.test_blend_parts import MILK, OLIVE, STOCK, WATER, told

TESTED = (Runs,)
"""What these tests are of: mutants of its module meet them first."""
MUCH = STOCK | {"mass": "600 g"}
"""Stock with more alkali than the fats can take."""


def saponified(answer: Answer) -> float:
    """Hydroxide that the rise by saponifying stands for, of 52 kJ/mol [mol]."""
    heat = answer["reaction_rise"]["value"] * answer["heat_capacity"]["value"] * answer["mass"]["value"] / 1000
    return float(heat / 52)


def test_the_fat_of_milk_takes_alkali_beside_the_fats() -> None:
    """130 g of goat milk hold 4.14 % fat of 220 mg/g (FSS India 2011: 205 to 235)."""
    alone, with_milk = told(stock=MUCH), told(stock=MUCH, liquids=[MILK])
    assert saponified(with_milk) - saponified(alone) == pytest.approx(130 * 0.0414 * 0.220 / KOH, rel=1e-3)


def test_a_liquid_that_was_weighed_badly_leaves_its_share_of_the_heat_of_dilution_open() -> None:
    """JCGM 100:2008, 5.1.2: beside what the data leave, 1.96 times what a standard uncertainty of it changes."""
    exact, vague = (told(liquids=[WATER | {"mass": mass}])["dilution_heat"] for mass in ("130 g", normal(130, 9, "g")))
    less, more = (told(liquids=[WATER | {"mass": mass}])["dilution_heat"]["value"] for mass in ("129 g", "131 g"))
    assert vague["value"] == pytest.approx(exact["value"])
    brought = sqrt((vague["high"] - vague["value"]) ** 2 - (exact["high"] - exact["value"]) ** 2)
    assert brought == pytest.approx(NORMAL_95 * 9 * (more - less) / 2, rel=0.02)


def test_a_hot_stock_by_volume_brings_as_much_heat_as_its_density_makes_of_its_strength() -> None:
    """Without any liquid a stronger stock is most of all a heavier one, which warms cold fats further."""

    def warmed(w: Any) -> dict[str, float]:
        poured = {name: one for name, one in STOCK.items() if name != "mass"}
        poured |= {"volume": "400 mL", "strength": {"mass_fraction": w}, "temperature": "85 °C"}
        found: dict[str, float] = told(fats=[OLIVE], fats_temperature="20 °C", stock=poured)["temperature"]
        return found

    exact, vague = warmed(0.4), warmed(normal(0.4, 0.03, "1"))
    change = (warmed(0.401)["value"] - warmed(0.399)["value"]) / 0.002
    brought = sqrt((vague["high"] - vague["value"]) ** 2 - (exact["high"] - exact["value"]) ** 2)
    assert brought == pytest.approx(NORMAL_95 * 0.03 * abs(change), rel=0.03)
