"""What warms a batch beside its pots: thinning, acids of its liquids, and how far that is told."""

import re

import pytest

from service.calculations.batch.batch_temperature import calculate
from service.calculations.batch.blend_notes import caution_blend
from tests.calculations.asking import cautions, message_of
from tests.calculations.quantities import normal
from tests.calculations.test_blend_parts import MILK, WATER, told, wanted

TESTED = (calculate, caution_blend)
"""What these tests are of: mutants of its modules meet them first."""
LEMON = WATER | {"liquid": "lemon-juice", "mass": "100 g"}


@pytest.mark.parametrize("liquid", [WATER, MILK], ids=["water", "milk"])
def test_the_rise_by_thinning_is_its_heat_over_what_the_batch_takes_for_a_kelvin(liquid: dict[str, str]) -> None:
    """First law of thermodynamics: heat capacities change by few per cent between 25 °C and the batch."""
    answer = told(liquids=[liquid])
    capacity = answer["heat_capacity"]["value"] * answer["mass"]["value"] / 1000
    assert answer["dilution_rise"]["value"] == pytest.approx(answer["dilution_heat"]["value"] / capacity, rel=0.03)
    assert answer["temperature"]["value"] - answer["temperature"]["low"] > answer["dilution_rise"]["value"] > 5


def test_no_rise_is_told_where_the_temperature_is_what_was_wanted() -> None:
    assert "dilution_rise" not in wanted("33 °C", liquids=[MILK])


def test_acid_that_warms_a_batch_by_a_kelvin_is_told_with_the_heat_of_neutralising_it() -> None:
    """56 kJ/mol of hydroxide; 100 g of lemon juice hold 4 to 8 g of citric acid (from memory), of three protons."""
    answer = told(liquids=[LEMON])
    (heat,) = re.findall(r"gives off about ([\d.]+) kJ", message_of(answer, "acid-heats-caustic"))
    assert 4 / 192.12 * 3 * 56 < float(heat) < 8 / 192.12 * 3 * 56
    assert float(heat) < answer["dilution_heat"]["value"]
    assert "acid-heats-caustic" not in cautions(told(liquids=[MILK]))
    assert "acid-heats-caustic" not in cautions(told(liquids=[LEMON | {"mass": "20 g"}]))


def test_milk_that_is_too_warm_is_told_by_what_the_batch_comes_to_and_not_by_its_upper_end() -> None:
    answer = told(fats_temperature=normal(60, 4, "°C"), liquids=[MILK])
    t = answer["temperature"]
    assert t["high"] - t["value"] > 2
    assert f"this one comes to {t['value']:.0f} °C" in message_of(answer, "milk-too-warm")
