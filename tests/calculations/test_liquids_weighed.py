"""All the liquid that a recipe asks for is weighed, wherever it goes."""

from typing import Literal

import pytest

from service.calculations.orders.batch_made import make
from service.calculations.orders.recipe import Recipe, RecipeFat, RecipeLiquid, RecipeTotalLiquid
from service.calculations.orders.recipe_reading import read_recipe
from service.calculations.shared.given import Fraction, LiquidRatio, PlainMass, Share
from service.calculations.shared.messages import Solution, Strength
from service.calculations.shared.notes import Notes

STOCK = Solution(alkali="NaOH", mass=PlainMass(5.0), strength=Strength(mass_fraction=Fraction(0.5)))


@pytest.mark.parametrize("stocks", [[STOCK], []])
@pytest.mark.parametrize("into", ["fats", "stock"])
def test_three_parts_of_water_are_weighed_to_one_of_alkali(
    stocks: list[Solution], into: Literal["fats", "stock"]
) -> None:
    recipe = Recipe(
        fats=[RecipeFat(fat="olive-oil", share=Share(1.0))],
        total_liquid=RecipeTotalLiquid(water_ratio=LiquidRatio(3.0)),
        liquids=[RecipeLiquid(liquid="distilled-water", rest=True, add_to=into)],
    )
    weighings = make(read_recipe(recipe, stocks, Notes()), 1.0, Notes()).weighings
    caustic = sum(one.mass for one in weighings if one.material == "NaOH-stock") / 2
    solid = sum(one.mass for one in weighings if one.material == "NaOH")
    water = sum(one.mass for one in weighings if one.material == "distilled-water")
    assert (caustic + water) / (caustic + solid) == pytest.approx(3.0, rel=1e-9)
