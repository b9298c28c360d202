"""Steps of splits and of superfats: redone by hand they lead to what is answered."""

from typing import Any

import pytest

from service.calculations.batch.split_notes import explain_split
from service.calculations.batch.superfat_check import calculate
from service.calculations.batch.superfat_notes import explain_mending
from tests.calculations.asking import Answer, ask
from tests.calculations.figures import NORMAL_95
from tests.calculations.test_steps import redone, steps
from tests.calculations.test_superfat_parts import MET, OIL, drawn

TESTED = (calculate, explain_mending, explain_split)
"""What these tests are of: mutants of its modules meet them first."""
SOLID: dict[str, Any] = {"alkali": "NaOH", "mass_as_supplied": "120 g", "purity": 1}


def result(answer: Answer, name: str) -> float:
    """The result of a step, which its expression leads to."""
    step = steps(answer)[name]
    told = float(step["result"]["value"])
    assert redone(step) == pytest.approx(told, rel=1e-9)
    return told


def test_the_half_width_of_a_draw_is_led_to_by_that_of_the_alkali_alone() -> None:
    """2 g of 100 g of alkali are 4 g of a stock of 50 %."""
    vague = {"alkali": "NaOH", "mass": {"value": 100, "uncertainty": 2, "unit": "g"}}
    stock = {"alkali": "NaOH", "strength": {"mass_fraction": 0.5}}
    answer = ask("liquid-split", {"alkalis": [vague], "stocks": [stock]}, explain=True)
    mass = answer["stock_draws"][0]["mass"]
    assert result(answer, "half-width of the NaOH draw") == pytest.approx(mass["high"] - mass["value"])
    assert mass["high"] - mass["value"] == pytest.approx(4 * NORMAL_95, rel=1e-6)


@pytest.mark.parametrize("weighed", [{"stock_draws": [drawn(0.9 * MET)]}, {"solids": [SOLID]}], ids=list)
def test_the_steps_of_a_superfat_that_is_too_high_lead_to_the_alkali_that_lowers_it(weighed: dict[str, Any]) -> None:
    answer = ask("superfat-check", {"fats": [OIL], "wanted_superfat": "5 %", **weighed}, explain=True)
    stock = "stock_draws" in weighed
    (more,) = answer["stock_to_add" if stock else "solid_to_add"]
    mass = more["mass" if stock else "mass_as_supplied"]["value"]
    assert result(answer, "superfat") == pytest.approx(answer["superfat"]["value"], abs=1e-12)
    assert result(answer, "stock to add" if stock else "solid to add") == pytest.approx(mass)
    assert "fat to add" not in steps(answer)
    assert mass * (0.5 if stock else 1.0) == pytest.approx(MET - (0.9 * MET if stock else 120))


def test_the_steps_of_a_superfat_that_is_too_low_lead_to_the_fat_that_raises_it() -> None:
    answer = ask("superfat-check", {"fats": [OIL], "stock_draws": [drawn(1.04 * MET)]}, explain=True)
    assert result(answer, "fat to add") == pytest.approx(answer["fat_to_add"]["value"])
    assert answer["fat_to_add"]["value"] == pytest.approx(40)
    assert "stock to add" not in steps(answer)


def test_steps_are_told_where_they_are_asked_for_alone() -> None:
    assert not ask("superfat-check", {"fats": [OIL], "stock_draws": [drawn(MET)]}).get("steps")
