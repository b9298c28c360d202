"""Sizes of batches: what a batch is to come to, and what of it is refused."""

from typing import Any

import pytest

from service.calculations.orders.batch_made import make
from service.calculations.orders.recipe import Recipe, RecipeFat, ScaleTo
from service.calculations.orders.recipe_reading import read_recipe
from service.calculations.orders.scaling import fat_mass
from service.calculations.shared.given import Share, Volume
from service.calculations.shared.notes import Notes
from tests.calculations.asking import ask, fault
from tests.calculations.test_batch_sheet import NAME, SHEET, STOCK, recipe

KOH_STOCK: dict[str, Any] = {"alkali": "KOH", "mass": "5 kg", "strength": {"mass_fraction": "45 %"}}
BOTH: dict[str, Any] = recipe(
    alkalis=[{"alkali": "NaOH", "mole_share": 0.5}, {"alkali": "KOH", "mole_share": 0.5}],
    total_liquid={"water_ratio": "3:1"},
) | {"stocks": [STOCK, KOH_STOCK]}


def told(to: dict[str, Any], **more: Any) -> dict[str, float]:
    answer = ask(NAME, SHEET | more | {"scale_to": to})
    shown = {line["material"]: line["mass"]["value"] for line in answer["weigh_list"]}
    return shown | {"batter": answer["batter_mass"]["value"], "volume": answer["batter_volume"]["value"]}


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_of_two_stocks_the_draw_that_is_named_is_what_is_weighed(alkali: str) -> None:
    assert told({"stock_draw": "150 g", "alkali": alkali}, **BOTH)[f"{alkali}-stock"] == pytest.approx(150)


def test_of_two_stocks_a_draw_without_a_name_is_refused() -> None:
    found = fault(NAME, SHEET | BOTH | {"scale_to": {"stock_draw": "150 g"}}, 422)
    assert (found.pointer, found.code) == ("/scale_to/alkali", "contradiction")
    assert "NaOH or KOH" in found.mend


def test_a_draw_of_an_alkali_that_is_weighed_as_a_solid_is_refused() -> None:
    alkalis = [{"alkali": "NaOH", "mole_share": 0.5}, {"alkali": "KOH", "mole_share": 0.5, "purity": "90 %"}]
    request = SHEET | recipe(alkalis=alkalis) | {"scale_to": {"stock_draw": "150 g", "alkali": "KOH"}}
    found = fault(NAME, request, 422)
    assert (found.pointer, found.code) == ("/scale_to/alkali", "contradiction")
    assert found.mend.startswith("give NaOH")
    assert told({"stock_draw": "150 g"}, **recipe(alkalis=alkalis))["NaOH-stock"] == pytest.approx(150)


@pytest.mark.parametrize("size", [0.2, 1.0, 4.0])
def test_a_batch_comes_to_what_was_wanted_of_it(size: float) -> None:
    scented = recipe(additions=[{"material": "scent", "kind": "fragrance", "use_level": "3 %"}])
    assert told({"fat_mass": f"{size} kg"}, **scented)["own oil"] == pytest.approx(1000 * size)
    assert told({"batter_mass": f"{size} kg"}, **scented)["batter"] == pytest.approx(1000 * size)
    assert told({"batter_mass": f"{size} kg", "bar_mass": "100 g"}, **scented)["batter"] == pytest.approx(1000 * size)
    assert told({"mould_volume": f"{size} L"}, **scented)["volume"] == pytest.approx(1000 * size)
    assert told({"stock_draw": f"{size} kg"}, **scented)["NaOH-stock"] == pytest.approx(1000 * size)
    bars = told({"bars": round(size * 10), "bar_mass": "120 g"}, **scented)
    assert bars["batter"] == pytest.approx(1200 * size)


@pytest.mark.parametrize(
    "to",
    [
        {"bars": 1_000_000, "bar_mass": "1000 t"},
        {"batter_mass": "0.000001 g"},
    ],
)
def test_a_batch_of_no_mass_that_is_weighed_is_refused_as_a_slip(to: dict[str, Any]) -> None:
    found = fault(NAME, SHEET | {"scale_to": to}, 422)
    assert (found.pointer, found.code) == ("/scale_to", "out-of-range")
    assert "of fats" in found.detail


def test_moulds_are_filled_by_the_density_of_the_batter_that_goes_into_them() -> None:
    recipe = read_recipe(Recipe(fats=[RecipeFat(fat="lard", share=Share(1.0))]), (), Notes())
    for volume in (0.003, 0.03):
        found = fat_mass(recipe, ScaleTo(mould_volume=Volume(volume)), Notes(), lambda _: 1250.0)
        assert make(recipe, found, Notes()).mass == pytest.approx(volume * 1250.0)
