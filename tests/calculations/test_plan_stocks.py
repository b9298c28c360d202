"""The stocks of a plan: what is drawn of which, how tanks are filled anew, and that nothing is lost on the way."""

import math
from typing import Any

import pytest

from tests.calculations.asking import ask, assumed, fault
from tests.calculations.test_batch_sheet import ALKALI
from tests.calculations.test_production_plan import ARTICLE, DRAW, NAME, REMIXED, STOCK, TANK, plan, told

WEAK: dict[str, Any] = STOCK | {"strength": {"mass_fraction": "40 %"}}
STRONGER: dict[str, Any] = REMIXED | WEAK | {"remixing": REMIXED["remixing"] | {"strength": {"mass_fraction": "50 %"}}}
"""A tank of 40 % that is filled anew to 50 %."""
BOTH: dict[str, Any] = ARTICLE | {
    "recipe": ARTICLE["recipe"]
    | {"alkalis": [{"alkali": "NaOH", "mole_share": "60 %"}, {"alkali": "KOH", "mole_share": "40 %"}]}
}
POTASH: dict[str, Any] = {"alkali": "KOH", "mass": "3 kg", "strength": {"mass_fraction": "45 %"}}


def draws(answer: dict[str, Any]) -> list[float]:
    return [one["mass"]["value"] for batch in answer["batches"] for one in batch["stock_draws"]]


def figure(answer: dict[str, Any], *members: str) -> list[float]:
    return [answer[member]["value"] for member in members]


def test_a_batch_takes_the_same_alkali_of_a_tank_that_became_stronger() -> None:
    """By hand: 128.68 g of NaOH are 321.7 g of 40 %, thrice of 1 kg, and 257.4 g of 50 % from then on."""
    answer = told(("A", 60, None), stocks=[STRONGER])
    assert draws(answer) == pytest.approx([ALKALI / 0.4] * 3 + [ALKALI / 0.5] * 3)
    (mixing,) = answer["mixings"]
    held, left, solid, strength = figure(mixing, "mass", "stock_before", "mass_as_supplied", "strength")
    assert mixing["before_batch"]["value"] == 4
    assert strength == pytest.approx(0.5)
    assert left == pytest.approx(1000 - 3 * ALKALI / 0.4)
    assert 0.99 * solid + 0.4 * left == pytest.approx(0.5 * held)  # what is left is still the old one


def test_what_is_left_of_a_filling_has_the_strength_of_the_filling() -> None:
    answer = told(("A", 600, None), stocks=[STRONGER])
    assert len(answer["mixings"]) > 1
    for place, mixing in enumerate(answer["mixings"]):
        held, left, solid = figure(mixing, "mass", "stock_before", "mass_as_supplied")
        assert 0.99 * solid + (0.5 if place else 0.4) * left == pytest.approx(0.5 * held)


@pytest.mark.parametrize("stock", [REMIXED, STRONGER])
def test_no_mass_is_lost_between_the_shelf_the_tanks_and_the_moulds(stock: dict[str, Any]) -> None:
    answer = told(("A", 250, None), stocks=[stock])
    assert answer["mixings"]
    taken = math.fsum(one["required"]["value"] for one in answer["materials"])
    poured = math.fsum(one["batter_mass"]["value"] for one in answer["batches"])
    left = answer["batches"][-1]["stock_draws"][0]["stock_left"]["value"]
    assert 1000 + taken == pytest.approx(poured + left, rel=1e-9)


def test_of_each_alkali_a_batch_draws_what_its_sheet_does() -> None:
    """The tank of KOH stands first, and the second batch draws from a second tank of NaOH."""
    stocks = [POTASH, STOCK | {"mass": "200 g"}, STOCK]
    answer = told(("A", 20, None), recipes={"A": BOTH}, stocks=stocks)
    sheet = ask("batch-sheet", {"recipe": BOTH["recipe"], "stocks": [STOCK, POTASH], "scale_to": BOTH["batch"]})
    weighed = {one["material"]: one["mass"]["value"] for one in sheet["weigh_list"]}
    tanks = []
    for batch in answer["batches"]:
        for one in batch["stock_draws"]:
            assert one["mass"]["value"] == pytest.approx(weighed[f"{one['alkali']}-stock"])
            tanks.append((one["alkali"], one["stock"]["value"]))
    assert tanks == [("NaOH", 1), ("KOH", 0), ("NaOH", 2), ("KOH", 0)]


def test_of_an_alkali_of_which_there_is_no_share_nothing_is_drawn() -> None:
    alkalis = [{"alkali": "NaOH", "mole_share": 1}, {"alkali": "KOH", "mole_share": 0}]
    recipes = {"A": ARTICLE | {"recipe": ARTICLE["recipe"] | {"alkalis": alkalis}}}
    (batch,) = told(("A", 10, None), recipes=recipes, stocks=[STOCK, POTASH])["batches"]
    assert [one["alkali"] for one in batch["stock_draws"]] == ["NaOH"]


DRY: dict[str, Any] = ARTICLE | {"recipe": {"fats": ARTICLE["recipe"]["fats"], "total_liquid": {"water_ratio": 1.2}}}
"""Too dry for a stock of 40 %; its superfat is assumed."""


def test_a_recipe_that_is_tried_with_several_tanks_tells_its_assumptions_once() -> None:
    heating = {"power": "1 kW", "fats_temperature": "50 °C"}
    answer = told(("DRY", 30, None), recipes={"DRY": DRY}, stocks=[WEAK, STOCK], heating=heating)
    assert [one["stock_draws"][0]["stock"]["value"] for one in answer["batches"]] == [1, 1, 1]
    pointers = [one["pointer"] for one in answer["assumed"]]
    assert pointers.count("/recipes/DRY/recipe/superfat") == 1
    assert len(set(pointers)) == len(pointers)
    assert pointers.count("/stocks/0/temperature") == pointers.count("/stocks/1/temperature") == 1


def test_a_recipe_that_no_tank_makes_is_told_though_another_was_made() -> None:
    request = plan(("WET", 10, "2031-03-10"), ("DRY", 10, None)) | {"recipes": {"DRY": DRY, "WET": ARTICLE}}
    found = fault(NAME, request | {"stocks": [WEAK]}, 422)
    assert (found.pointer, found.code) == ("/recipes/DRY/recipe/total_liquid", "stock-too-weak")


def test_a_tank_too_weak_for_a_recipe_is_not_filled_anew_for_it() -> None:
    """The other one would do and is empty: that is what lacks, and not room in the tank of the weak one."""
    weak = REMIXED | WEAK
    request = plan(("DRY", 10, None)) | {"recipes": {"DRY": DRY}}
    found = fault(NAME, request | {"stocks": [weak, STOCK | {"mass": "0 kg"}]}, 422)
    assert (found.pointer, found.code) == ("/stocks/1", "stock-runs-out")


def test_a_tank_that_is_too_small_for_a_draw_is_told_with_what_it_gives() -> None:
    """What a filling holds, as the sheet of its mixing has it, less the reserve."""
    small = REMIXED | {"vessel": TANK | {"volume": "0.18 L"}, "mass": "0 g", "reserve": "25 g"}
    request = {
        "solid": {"alkali": "NaOH", "purity": "99 %"},
        "strength": STOCK["strength"],
        "peak_limit": "70 °C",
        "vessel": small["vessel"],
    }
    gives = ask("stock-mixing/ice", request)["mass"]["value"] - 25
    assert 0 < gives < DRAW
    found = fault(NAME, plan(("A", 10, None), stocks=[small]), 422)
    assert f"gives {gives:.3g} g" in found.detail


def test_a_mixing_cools_from_the_upper_end_of_its_peak_in_what_it_stands_in() -> None:
    """As stock-cooling answers it; water takes the heat sooner than air."""
    times = []
    for surroundings in (None, {"medium": "water-bath", "temperature": "15 °C"}):
        how = REMIXED["remixing"] | {"cool_to": "30 °C"} | ({"surroundings": surroundings} if surroundings else {})
        answer = told(("A", 10, None), stocks=[REMIXED | {"mass": "0 g", "remixing": how}])
        (mixing,) = answer["mixings"]
        request = {
            "solution": STOCK
            | {
                "mass": f"{mixing['mass']['value']!r} g",
                "temperature": f"{mixing['peak_temperature']['high']!r} °C",
            },
            "vessel": TANK,
            "surroundings": surroundings or {"medium": "still-air"},
            "target_temperature": "30 °C",
        }
        alone = ask("stock-cooling", request)["time"]
        assert mixing["cooling_time"]["value"] == pytest.approx(alone["value"], rel=1e-6)
        assert mixing["cool_to"]["value"] == 30
        assert ("/stocks/0/remixing/surroundings" in assumed(answer)) == (surroundings is None)
        times.append(alone["value"])
    assert times[1] < times[0]


def test_a_mixing_whose_peak_is_what_it_has_to_cool_to_is_cool_at_once() -> None:
    def mixed(**how: str) -> dict[str, Any]:
        stock = REMIXED | {"mass": "0 g", "remixing": REMIXED["remixing"] | how}
        found: dict[str, Any]
        (found,) = told(("A", 10, None), stocks=[stock])["mixings"]
        return found

    peak = mixed()["peak_temperature"]["high"]
    assert mixed(cool_to=f"{peak!r} °C")["cooling_time"]["value"] == 0
    assert mixed(cool_to=f"{peak - 0.01!r} °C")["cooling_time"]["value"] > 0


def test_what_a_mixing_assumes_is_told_where_the_plan_has_it_and_nothing_else() -> None:
    answer = told(("A", 10, None), stocks=[REMIXED | {"mass": "0 g"}])
    pointers = [one["pointer"] for one in answer["assumed"] if "/stocks/0" in one["pointer"]]
    assert "/stocks/0/remixing/ambient" in pointers
    assert "/stocks/0/remixing/cool_to" in pointers
    for absent in ("solution_mass", "surroundings/temperature", "existing_stock/temperature"):
        assert not any(one.endswith(absent) for one in pointers)
    assert "/stocks/0/remixing/purity" not in pointers


@pytest.mark.parametrize(
    ("more", "pointer"),
    [({}, "/stocks/0/strength"), ({"strength": {"mass_fraction": "51 %"}}, "/stocks/0/remixing/strength")],
)
def test_a_stock_stronger_than_its_solid_is_refused_where_its_strength_is_wanted(
    more: dict[str, Any], pointer: str
) -> None:
    how = REMIXED["remixing"] | {"purity": "50.2 %"} | more
    stock = REMIXED | {"mass": "0 g", "strength": {"mass_fraction": "51 %"}, "remixing": how}
    found = fault(NAME, plan(("A", 10, None), stocks=[stock]), 422)
    assert (found.pointer, found.code) == (pointer, "contradiction")
    assert "even without any water this solid makes a 50.2 % stock" in found.detail


def test_batches_that_wait_for_moulds_are_not_called_earlier_by_a_mixing() -> None:
    """By hand: moulds are filled for four days, so that the tank, mixed on the first, has stood for days when it is
    drawn from."""
    recipes = {"A": ARTICLE | {"mould_set": "slab"}}
    capacity = {"mould_sets": [{"name": "slab", "count": 1, "days_filled": 4}]}
    answer = told(("A", 20, None), recipes=recipes, stocks=[REMIXED | {"mass": "300 g"}], capacity=capacity)
    assert len(answer["mixings"]) == 1
    assert [(one["number"]["value"], one["work_day"]["value"]) for one in answer["batches"]] == [(1, 1), (2, 5)]
