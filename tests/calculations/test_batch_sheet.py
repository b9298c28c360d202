"""The batch sheet: scaled by hand, weighed as a scale can, with what is left, what dries off and what is refused."""

import json
from typing import Any

import pytest
from chemicals.elements import molecular_weight, simple_formula_parser
from hypothesis import given
from hypothesis import strategies as st

from tests.calculations.asking import Answer, ask, assumed, cautions, fault, message_of, refusal
from tests.calculations.figures import NAOH

NAME = "batch-sheet"
KOH = 39.0983 + 15.999 + 1.008
OIL: dict[str, Any] = {"name": "own oil", "saponification_value": "190 mg/g", "share": 1}
STOCK: dict[str, Any] = {"alkali": "NaOH", "mass": "5 kg", "strength": {"mass_fraction": "50 %"}}
RECIPE: dict[str, Any] = {"fats": [OIL], "superfat": "5 %", "total_liquid": {"water_ratio": "2:1"}}
SHEET: dict[str, Any] = {"recipe": RECIPE, "stocks": [STOCK], "scale_to": {"fat_mass": "1 kg"}}
ALKALI = 190 / KOH * 0.95 * NAOH
"""NaOH for a kilogram of the oil, superfat taken off [g]."""


def told(**more: Any) -> dict[str, Any]:
    return ask(NAME, SHEET | more)


def recipe(**more: Any) -> dict[str, Any]:
    return {"recipe": RECIPE | more}


def weights(answer: dict[str, Any]) -> dict[str, float]:
    return {line["material"]: line["mass"]["value"] for line in answer["weigh_list"]}


def test_a_batch_of_a_kilogram_is_the_one_worked_by_hand() -> None:
    """1000 g of oil at 190 mg KOH/g, 5 % superfat, 50 % stock, water 2:1: 128.68 g NaOH, 257.4 g stock, 128.7 g water,
    1386 g of batter with 18.6 % of water (computed by hand from IUPAC/CIAAW 2021 atomic weights)."""
    answer = told()
    assert weights(answer) == pytest.approx({"own oil": 1000, "NaOH-stock": 2 * ALKALI, "distilled-water": ALKALI})
    assert pytest.approx(128.68, abs=0.005) == ALKALI
    assert answer["batter_mass"]["value"] == pytest.approx(1386.0, abs=0.05)
    assert answer["water_share"]["value"] == pytest.approx(0.186, abs=0.0005)
    assert answer["superfat"]["value"] == pytest.approx(0.05)
    # a third of a mole of glycerol for each mole of hydroxide: 98.8 g of it
    assert answer["glycerol_mass"]["value"] == pytest.approx(98.8, abs=0.05)
    assert answer["stocks_left"] == [
        {"alkali": "NaOH", "mass": {"value": pytest.approx(5000 - 2 * ALKALI), "unit": "g"}}
    ]


def test_a_bar_dries_to_what_its_dry_mass_makes() -> None:
    """By hand: 1386.0 g of batter hold 257.4 g of water; with 10 % of water the rest, 1128.7 g, makes 1254.1 g."""
    answer = told(moisture_when_sold="10 %", scale_to={"batter_mass": "1386.04 g", "bar_mass": "138.604 g"})
    assert answer["cured_mass"]["value"] == pytest.approx(1128.68 / 0.9, abs=0.05)
    assert answer["bars"]["count"]["value"] == 10
    assert answer["bars"]["cured_mass"]["value"] == pytest.approx(112.868 / 0.9, abs=0.005)


def test_a_bar_wetter_than_its_batter_is_refused() -> None:
    found = fault(NAME, SHEET | {"moisture_when_sold": "25 %"}, 422)
    assert (found.pointer, found.code) == ("/moisture_when_sold", "contradiction")
    assert "holds 18.6 %" in found.detail


@pytest.mark.parametrize(
    "to",
    [
        {"fat_mass": "2 kg"},
        {"batter_mass": f"{2 * (1000 + 3 * ALKALI)!r} g"},
        {"bars": 20, "bar_mass": f"{(1000 + 3 * ALKALI) / 10!r} g"},
        {"stock_draw": f"{4 * ALKALI!r} g"},
        {"stock_draw": f"{4 * ALKALI!r} g", "alkali": "NaOH"},
    ],
)
def test_every_way_to_say_a_size_comes_to_the_same_batch(to: dict[str, Any]) -> None:
    assert weights(told(scale_to=to)) == pytest.approx(
        {"own oil": 2000, "NaOH-stock": 4 * ALKALI, "distilled-water": 2 * ALKALI}
    )


def test_moulds_are_filled_to_their_volume_by_a_density_that_is_computed() -> None:
    """At 32 °C without air: oil 0.910 (Codex, 0.68 g/L for each kelvin), stock and water as NaOH of 33.3 %, 1.355 kg/L
    (between 1.363 at 20 °C and 1.350 at 40 °C, handbook tables, from memory)."""
    answer = told(scale_to={"mould_volume": "3 L"})
    assert answer["batter_volume"]["value"] == pytest.approx(3000)
    parts = 1000 / 0.9098 + 3 * ALKALI / 1.355
    assert answer["batter_density"]["value"] == pytest.approx(0.97 * (1000 + 3 * ALKALI) / parts, rel=2e-3)
    assert answer["batter_density"]["low"] < answer["batter_density"]["value"] < answer["batter_density"]["high"]


def test_fats_written_by_mass_are_those_written_by_share() -> None:
    by_share = [{"fat": "olive-oil", "share": "75 %"}, {"fat": "coconut-oil", "share": "25 %"}]
    by_mass = [{"fat": "olive-oil", "mass": "600 g"}, {"fat": "coconut-oil", "mass": "200 g"}]
    additions = [{"material": "clay", "kind": "other", "use_level": "2 %"}]
    masses = [{"material": "clay", "kind": "other", "mass": "16 g"}]
    first = told(**recipe(fats=by_share, additions=additions))
    assert weights(told(**recipe(fats=by_mass, additions=masses))) == pytest.approx(weights(first))


def test_a_scale_shows_whole_steps_and_the_total_of_the_fats_holds() -> None:
    """By hand, by largest remainders: 333.33, 333.33 and 333.33 g of fats in steps of 10 g are 340, 330 and 330 g."""
    fats = [{"fat": name, "share": 1 / 3} for name in ("olive-oil", "coconut-oil", "lard")]
    answer = told(**recipe(fats=fats), scale_division="10 g")
    shown = [line["mass"]["value"] for line in answer["weigh_list"] if line["step"] == "fats"]
    assert sorted(shown) == pytest.approx([330, 330, 340])
    assert answer["fat_mass"]["value"] == pytest.approx(1000)


def test_the_superfat_is_that_of_the_masses_on_the_scale() -> None:
    """257.36 g of stock are 260 g in steps of 20 g: 130 g of NaOH for 135.45 g leave 4.02 %."""
    answer = told(scale_division="20 g")
    assert weights(answer)["NaOH-stock"] == pytest.approx(260)
    assert answer["superfat"]["value"] == pytest.approx(1 - 130 / (ALKALI / 0.95))
    assert answer["superfat"]["low"] < answer["superfat"]["value"]


def test_a_draw_that_is_at_hand_stays_as_it_is() -> None:
    answer = told(scale_to={"stock_draw": "430 g"}, scale_division="20 g", stocks=[STOCK | {"mass": "430 g"}])
    assert weights(answer)["NaOH-stock"] == pytest.approx(430)
    assert answer["stocks_left"][0]["mass"]["value"] == pytest.approx(0)


def test_what_a_scale_does_not_show_keeps_its_mass_and_is_told() -> None:
    scent = {"material": "scent", "kind": "fragrance", "use_level": "0.3 %"}
    answer = told(**recipe(additions=[scent]), scale_division="10 g")
    assert weights(answer)["scent"] == pytest.approx(3)
    assert "scent, 3 g (0.106 oz)" in message_of(answer, "finer-scale-needed")


def test_the_work_goes_in_its_order() -> None:
    everything = recipe(
        liquids=[
            {"liquid": "distilled-water", "use_level": "5 %", "add_to": "stock"},
            {"liquid": "goat-milk", "rest": True},
        ],
        acids=[{"acid": "citric-acid-anhydrous", "use_level": "1 %"}],
        additions=[
            {"material": "scent", "kind": "fragrance", "use_level": "3 %"},
            {"material": "clay", "kind": "other", "use_level": "1 %", "goes_into": "fats"},
        ],
    )
    lines = told(**everything)["weigh_list"]
    assert [(one["step"], one["material"], one["goes_into"]) for one in lines] == [
        ("fats", "own oil", "fats"),
        ("fats", "clay", "fats"),
        ("stock", "NaOH-stock", "stock"),
        ("liquids-into-fats", "goat-milk", "fats"),
        ("liquids-into-fats", "citric-acid-anhydrous", "fats"),
        ("liquids-into-stock", "distilled-water", "stock"),
        ("trace", "scent", "batter"),
    ]


def solids(**recipe_members: object) -> tuple[dict[str, float], Answer]:
    """What is weighed for a batch without a stock before anything cools, in its order, and the answer."""
    answer = ask(NAME, {"recipe": RECIPE | recipe_members, "scale_to": {"fat_mass": "1 kg"}})
    found = [one for one in answer["weigh_list"] if one["step"] == "solid-alkali"]
    return {one["material"]: one["mass"]["value"] for one in found}, answer


def test_without_a_stock_the_solid_is_dissolved_in_all_the_plain_water() -> None:
    weighed, answer = solids()
    assert list(weighed) == ["distilled-water", "NaOH"]
    assert weighed == pytest.approx({"distilled-water": 2 * ALKALI, "NaOH": ALKALI})
    assert assumed(answer)["/recipe/liquids"] == "distilled-water for all of it, to dissolve the alkali in"
    assert "in 2 times its mass of water" in message_of(answer, "dissolving-heats")
    assert "temperatures" not in answer
    assert "temperatures-left-out" in cautions(answer)


def test_tap_water_of_the_recipe_dissolves_the_solid_too() -> None:
    weighed, answer = solids(liquids=[{"liquid": "tap-water", "rest": True}])
    assert list(weighed) == ["distilled-water", "tap-water", "NaOH"]
    assert weighed == pytest.approx({"distilled-water": ALKALI, "tap-water": ALKALI, "NaOH": ALKALI})
    assert assumed(answer)["/recipe/liquids/0/add_to"] == "stock"


@pytest.mark.parametrize(
    "liquids", [[{"liquid": "goat-milk", "rest": True}], [{"liquid": "tap-water", "rest": True, "add_to": "fats"}]]
)
def test_beside_what_goes_into_the_fats_the_solid_has_its_own_mass_of_water(liquids: list[dict[str, object]]) -> None:
    weighed, answer = solids(liquids=liquids)
    assert weighed == pytest.approx({"distilled-water": ALKALI, "NaOH": ALKALI})
    assert "in its own mass of water" in message_of(answer, "dissolving-heats")


@pytest.mark.parametrize(
    "fats", [[{"fat": "beeswax", "share": 1}], [{"fat": "beeswax", "share": 0.5}, OIL | {"share": 0.5}]]
)
def test_of_wax_that_may_take_nothing_one_probability_is_told(fats: list[dict[str, object]]) -> None:
    answer = ask(NAME, {"recipe": RECIPE | {"fats": fats}, "scale_to": {"fat_mass": "1 kg"}})
    assert answer["free_alkali_probability"]["value"] > 0.99
    told = cautions(answer)
    assert told["aqueous-alkali-hardly-saponifies"]["severity"] == "danger"
    assert not {"free-alkali-left", "free-alkali-possible"} & told.keys()


def test_digits_leave_what_the_scale_is_to_show() -> None:
    sheet = SHEET | {"scale_to": {"fat_mass": "1234.5 g"}, "scale_division": "0.5 g"}
    shown = [one["mass"]["value"] for one in ask(NAME, sheet)["weigh_list"]]
    answer = ask(NAME, sheet, digits=2)
    assert shown[0] == 1234.5
    assert [one["mass"]["value"] for one in answer["weigh_list"]] == shown
    assert [one["planned_mass"]["value"] for one in answer["record"]["materials"]] == shown
    assert answer["fat_mass"]["value"] == 1200.0


def test_temperatures_are_those_of_batch_temperature() -> None:
    answer = told(fats_temperature="40 °C")
    stock = STOCK | {"mass": f"{2 * ALKALI!r} g"}
    water = {"liquid": "distilled-water", "mass": f"{ALKALI!r} g"}
    fats = [OIL | {"mass": "1 kg"}]
    fats[0].pop("share")
    alone = ask("batch-temperature", {"fats": fats, "fats_temperature": "40 °C", "stock": stock, "liquids": [water]})
    assert answer["temperatures"]["batch"] == pytest.approx(alone["temperature"])
    assert answer["temperatures"]["reaction_rise"] == pytest.approx(alone["reaction_rise"])


def test_an_addition_is_held_against_its_limit_in_the_bar_that_is_sold() -> None:
    """By hand: 30 g of 1416 g; of 1255.6 g with 10 % of water 2.37 %; of the dry bar, 1158.7 g, 2.59 %."""
    scent = {"material": "scent", "kind": "fragrance", "use_level": "3 %", "highest_share": "2.5 %"}
    sold = told(**recipe(additions=[scent]), moisture_when_sold="10 %")
    assert sold["use_limits"][0]["share"]["value"] == pytest.approx(0.9 * 30 / 1158.68, rel=1e-4)
    assert sold["use_limits"][0]["within_limit"] is True
    dry = told(**recipe(additions=[scent]))
    assert dry["use_limits"][0]["share"]["value"] == pytest.approx(30 / 1158.68, rel=1e-4)
    assert dry["use_limits"][0]["within_limit"] is False
    assert cautions(dry)["use-limit-exceeded"]["severity"] == "danger"


def test_the_record_repeats_the_list_and_leaves_the_rest_to_be_filled_in() -> None:
    answer = told(reference="batch 7", **recipe(name="plain"))
    record = answer["record"]
    assert (record["product"], record["batch_number"]) == ("plain", "batch 7")
    assert [one["planned_mass"] for one in record["materials"]] == [one["mass"] for one in answer["weigh_list"]]
    assert {one["lot"] for one in record["materials"]} == {""}
    assert all(one["begun_at"] == one["done_by"] == "" for one in record["operations"])


REFUSED: list[tuple[dict[str, Any], str, str]] = [
    (recipe(fats=[OIL | {"share": 0.9}]), "/recipe/fats", "does-not-add-up"),
    (recipe(fats=[OIL | {"share": 0.5}, {"fat": "lard", "mass": "1 kg"}]), "/recipe/fats", "does-not-add-up"),
    (recipe(fats=[{"fat": "olive", "share": 1}]), "/recipe/fats/0/fat", "unknown-identifier"),
    (
        recipe(additions=[{"material": "clay", "kind": "other", "mass": "20 g"}]),
        "/recipe/additions/0/mass",
        "contradiction",
    ),
    (recipe(total_liquid={"mass": "200 g"}), "/recipe/total_liquid/mass", "contradiction"),
    (recipe(total_liquid={"water_ratio": "0.5:1"}), "/recipe/total_liquid", "too-little-water"),
    (recipe(liquids=[{"liquid": "goat-milk", "use_level": "60 %"}]), "/recipe/liquids", "does-not-add-up"),
    (
        recipe(liquids=[{"liquid": "goat-milk", "rest": True, "add_to": "stock"}]),
        "/recipe/liquids/0/add_to",
        "not-into-stock",
    ),
    (recipe(alkalis=[{"alkali": "KOH", "purity": "90 %"}]), "/stocks/0/alkali", "contradiction"),
    ({"stocks": [STOCK | {"mass": "100 g"}]}, "/stocks/0/mass", "contradiction"),
    ({"stocks": [STOCK | {"state": "ice"}]}, "/stocks/0/state", "contradiction"),
    ({"stocks": [STOCK | {"temperature": "190 °C"}]}, "/stocks/0/temperature", "impossible-temperature"),
    ({"stocks": [], "scale_to": {"stock_draw": "1 kg"}}, "/scale_to/stock_draw", "contradiction"),
    ({"scale_to": {"stock_draw": "1 kg", "alkali": "KOH"}}, "/scale_to/alkali", "contradiction"),
    ({"scale_division": "5 kg"}, "/scale_division", "contradiction"),
    ({"stocks": [], "wanted_temperature": "30 °C"}, "/wanted_temperature", "contradiction"),
    ({"wanted_temperature": "95 °C"}, "/wanted_temperature", "contradiction"),
]


@pytest.mark.parametrize(("change", "pointer", "code"), REFUSED)
def test_what_cannot_be_made_is_refused_where_it_stands(change: dict[str, Any], pointer: str, code: str) -> None:
    found = {(one.pointer, one.code) for one in refusal(NAME, SHEET | change).faults}
    assert (pointer, code) in found


def test_solid_potash_without_its_purity_is_refused() -> None:
    found = fault(NAME, SHEET | recipe(alkalis=[{"alkali": "KOH"}]) | {"stocks": []}, 422)
    assert (found.pointer, found.code) == ("/recipe/alkalis/0/purity", "purity-needed")


def test_a_batch_of_tristearin_weighs_and_dries_as_its_formulas_say() -> None:
    """C57H110O6 + 3 NaOH = 3 C18H35NaO2 + C3H8O3, by the molar masses of the package chemicals; nothing is left."""

    def grams(formula: str) -> float:
        return float(molecular_weight(simple_formula_parser(formula)))

    fat, soda = grams("C57H110O6"), 3 * grams("NaOH")
    value = {"value": 3 * grams("KOH") / fat * 1000, "unit": "mg/g"}
    pure = {"fats": [{"name": "tristearin", "saponification_value": value, "share": 1}], "superfat": 0}
    answer = ask(
        NAME,
        {
            "recipe": pure | {"total_liquid": {"water_ratio": "2:1"}},
            "stocks": [STOCK],
            "scale_to": {"fat_mass": f"{fat!r} g"},
            "fats_temperature": "75 °C",
            "moisture_when_sold": 0,
        },
    )
    # The weights here are abridged to five digits, those there are not.
    assert answer["glycerol_mass"]["value"] == pytest.approx(grams("C3H8O3"), rel=5e-5)
    assert answer["cured_mass"]["value"] == pytest.approx(3 * grams("C18H35NaO2") + grams("C3H8O3"), rel=5e-5)
    assert answer["batter_mass"]["value"] == pytest.approx(fat + 3 * soda, rel=5e-5)


@given(division=st.floats(0.1, 50.0), parts=st.lists(st.integers(1, 30), min_size=1, max_size=8))
def test_totals_hold_on_every_scale(division: float, parts: list[int]) -> None:
    fats = [OIL | {"name": f"oil {at}", "share": part / sum(parts)} for at, part in enumerate(parts)]
    fats[0]["share"] = 1 - sum(one["share"] for one in fats[1:])
    answer = told(**recipe(fats=fats), scale_division=f"{division!r} g", scale_to={"fat_mass": "10 kg"})
    lines = [line for line in answer["weigh_list"] if line["step"] == "fats"]
    for line in lines:
        assert abs(line["mass"]["value"] - line["exact_mass"]["value"]) < division * (1 + 1e-6)
    if "finer-scale-needed" not in cautions(answer):
        assert answer["fat_mass"]["value"] == pytest.approx(10_000, abs=division / 2 * (1 + 1e-6))


def test_the_same_request_gets_the_same_bytes() -> None:
    request = json.dumps(SHEET | {"scale_division": "1 g", "moisture_when_sold": "9 %"})
    assert ask(NAME, request.encode()) == ask(NAME, request.encode())
