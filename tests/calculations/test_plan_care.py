"""What a plan says of stocks and solids that go into one soap, and how many batches it holds."""

import re

import pytest

from service.calculations.orders.production_plan import CALCULATION
from tests.calculations.asking import ask, cautions, fault
from tests.calculations.test_plan_stocks import BOTH, POTASH
from tests.calculations.test_production_plan import NAME, STOCK, plan, told
from tests.calculations.test_steps import redone


def test_a_solid_beside_a_stock_is_dissolved_with_care() -> None:
    alkalis = [{"alkali": "NaOH", "mole_share": "60 %"}, {"alkali": "KOH", "mole_share": "40 %", "purity": "90 %"}]
    recipes = {"A": BOTH | {"recipe": BOTH["recipe"] | {"alkalis": alkalis}}}
    assert "solid-into-water" in cautions(told(("A", 10, None), recipes=recipes, stocks=[STOCK]))


def test_each_draw_of_two_stocks_is_explained_by_its_own_alkali() -> None:
    answer = ask(NAME, plan(("A", 10, None), recipes={"A": BOTH}, stocks=[STOCK, POTASH]), explain=True)
    draws = [one for one in answer["steps"] if one["name"].startswith("draw of batch")]
    drawn = [one["mass"]["value"] for one in answer["batches"][0]["stock_draws"]]
    assert len(set(drawn)) == 2
    assert [redone(one) for one in draws] == pytest.approx(drawn)


def test_the_batches_that_a_plan_holds_are_those_of_its_description() -> None:
    found = fault(NAME, plan(("A", 1_000_000, None)), 422)
    (most,) = re.findall(r"([\d ]+) batches", CALCULATION.description)
    assert f"more than {most.replace(' ', '')} batches" in found.detail
