"""Recipes as they are written and read: what the contract allows, by share and by mass, and how a label names them."""

import json
from pathlib import Path
from typing import Any

import pytest

from service.calculations.orders.batch_sheet import BatchSheetRequest
from service.calculations.orders.recipe import RecipeFat
from service.calculations.orders.recipe_reading import fat_line
from service.calculations.shared.given import PlainMass, Share
from service.calculations.shared.messages import FatLine
from service.http.schemas import schemas
from tests.calculations.asking import Answer, ask, assumed, fault, refusal
from tests.calculations.test_batch_sheet import ALKALI, NAME, OIL, SHEET, recipe

CONTRACT = Path(__file__).parents[2] / "openapi" / "openapi.json"
PARTS = ("BatchSheetRequest", "Recipe", "RecipeAcid", "RecipeAddition", "RecipeFat", "RecipeLiquid", "ScaleTo")
FAT: dict[str, Any] = {"name": "own oil", "saponification_value": "190 mg/g", "mass": "800 g"}
CLAY: dict[str, Any] = {"material": "clay", "kind": "other"}


def told(**more: Any) -> Answer:
    return ask(NAME, SHEET | recipe(**more))


def weighed(**more: Any) -> dict[str, float]:
    return {one["material"]: one["mass"]["value"] for one in told(**more)["weigh_list"]}


def named(law: str, **more: Any) -> dict[str, float]:
    answer = ask(NAME, SHEET | recipe(**more) | {"label_law": law, "moisture_when_sold": "10 %"})
    return {one["inci_name"]: one["share"]["value"] for one in answer["label"]}


@pytest.mark.parametrize("part", PARTS)
def test_what_a_recipe_may_hold_is_what_the_contract_says(part: str) -> None:
    """The contract as it is published; what else it says of a part, such as whole examples, is made elsewhere."""
    _, made = schemas([BatchSheetRequest])
    published = json.loads(CONTRACT.read_text("utf-8"))["components"]["schemas"]
    members = json.loads(json.dumps(made[part]["properties"]))
    assert members == published[part]["properties"]


def test_a_fat_has_the_amount_that_it_was_given() -> None:
    assert RecipeFat(fat="lard", share=Share(0.4)).amount == 0.4
    assert RecipeFat(fat="lard", mass=PlainMass(2.5)).amount == 2.5
    line = fat_line(FatLine, RecipeFat(fat="lard", share=Share(0.4)), 0.7)
    assert (line.fat, line.mass.value) == ("lard", 0.7)


def test_a_fat_of_which_there_is_none_is_not_weighed() -> None:
    fats = [OIL, {"fat": "lard", "share": 0}]
    assert weighed(fats=fats) == pytest.approx(weighed(fats=[OIL]))


@pytest.mark.parametrize(
    ("shares", "missed"), [((0.5, 0.4), "90 %: 10 % are missing"), ((0.7, 0.5), "120 %: 20 % are")]
)
def test_shares_that_miss_the_whole_are_told_with_their_sum(shares: tuple[float, ...], missed: str) -> None:
    fats = [OIL | {"name": f"oil {at}", "share": share} for at, share in enumerate(shares)]
    found = fault(NAME, SHEET | recipe(fats=fats), 422)
    assert (found.pointer, found.code) == ("/recipe/fats", "does-not-add-up")
    assert f"add up to {missed}" in found.detail


def test_masses_of_a_recipe_are_scaled_with_its_fats() -> None:
    """By hand: of 800 g of fats as it is written 1 kg is made, so that all else is 1.25 times as much."""
    found = weighed(
        fats=[FAT],
        total_liquid={"mass": "240 g"},
        liquids=[{"liquid": "goat-milk", "mass": "40 g"}, {"liquid": "distilled-water", "rest": True}],
        acids=[{"acid": "citric-acid-anhydrous", "mass": "8 g"}],
        additions=[CLAY | {"mass": "16 g"}],
    )
    assert found["own oil"] == pytest.approx(1000)
    assert found["clay"] == pytest.approx(20)
    assert found["citric-acid-anhydrous"] == pytest.approx(10)
    assert found["goat-milk"] == pytest.approx(50)
    assert found["NaOH-stock"] / 2 + found["goat-milk"] + found["distilled-water"] == pytest.approx(300)


@pytest.mark.parametrize(
    ("more", "pointer"),
    [
        ({"additions": [CLAY | {"mass": "20 kg"}]}, "/recipe/additions/0/mass"),
        ({"acids": [{"acid": "citric-acid-anhydrous", "mass": "20 kg"}]}, "/recipe/acids/0/mass"),
        ({"liquids": [{"liquid": "goat-milk", "mass": "20 kg"}]}, "/recipe/liquids/0/mass"),
        ({"total_liquid": {"mass": "20 kg"}}, "/recipe/total_liquid/mass"),
    ],
)
def test_a_mass_of_twenty_five_times_the_fats_is_taken_for_a_slip_of_a_unit(more: dict[str, Any], pointer: str) -> None:
    found = {one.pointer: one for one in refusal(NAME, SHEET | recipe(**{"fats": [FAT], **more})).faults}
    assert found[pointer].code == "out-of-range"
    assert "this is 25 times the mass of all the fats" in found[pointer].detail


def test_several_slips_are_told_at_once() -> None:
    additions = [CLAY | {"mass": "20 kg"}, CLAY | {"mass": "30 kg"}]
    acids = [{"acid": "citric-acid-anhydrous", "mass": "20 kg"}]
    found = refusal(NAME, SHEET | recipe(fats=[FAT], additions=additions, acids=acids)).faults
    assert sorted(str(one.pointer) for one in found) == [
        "/recipe/acids/0/mass",
        "/recipe/additions/0/mass",
        "/recipe/additions/1/mass",
    ]
    by_share = refusal(NAME, SHEET | recipe(additions=additions, acids=acids)).faults
    assert {one.code for one in by_share} == {"contradiction"}
    assert len(by_share) == 3


def test_what_there_is_none_of_is_neither_weighed_nor_named() -> None:
    more = {
        "additions": [CLAY | {"use_level": 0, "inci_name": "Kaolin"}],
        "acids": [{"acid": "citric-acid-anhydrous", "use_level": 0}],
    }
    assert weighed(**more) == pytest.approx(weighed())
    both = {
        "fats": [{"fat": "olive-oil", "share": 1}, {"name": "none", "saponification_value": "190 mg/g", "share": 0}]
    }
    assert "Kaolin" not in named("eu-as-added", **(both | more))


def test_two_alkalis_share_the_need_by_moles() -> None:
    """By hand: of 3.217 mol of hydroxide three quarters are NaOH, 39.997 g/mol, and a quarter KOH, 56.105 g/mol."""
    alkalis = [{"alkali": "NaOH", "mole_share": 0.75}, {"alkali": "KOH", "mole_share": 0.25, "purity": "90 %"}]
    found = weighed(alkalis=alkalis, total_liquid={"water_ratio": "3:1"})
    moles = ALKALI / 39.997
    assert found["NaOH-stock"] == pytest.approx(2 * 0.75 * moles * 39.997, rel=1e-5)
    assert found["KOH"] == pytest.approx(0.25 * moles * 56.105 / 0.9, rel=1e-4)


def test_solid_potash_is_asked_for_its_purity_and_what_the_alkalis_lack_is_told() -> None:
    alkalis = [{"alkali": "NaOH", "mole_share": 0.75}, {"alkali": "KOH", "mole_share": 0.25}]
    found = fault(NAME, SHEET | recipe(alkalis=alkalis), 422)
    assert (found.pointer, found.code) == ("/recipe/alkalis/1/purity", "purity-needed")
    missing = [{"alkali": "NaOH", "mole_share": 0.5}, {"alkali": "KOH", "mole_share": 0.25, "purity": "90 %"}]
    told_once = fault(NAME, SHEET | recipe(alkalis=missing), 422)
    assert (told_once.pointer, told_once.code) == ("/recipe/alkalis", "does-not-add-up")


MILK: list[dict[str, Any]] = [{"liquid": "goat-milk", "use_level": "10 %"}]
WATER: list[dict[str, Any]] = [{"liquid": "distilled-water", "use_level": "10 %"}]


@pytest.mark.parametrize(
    ("more", "due"),
    [
        ({"liquids": MILK}, {"/recipe/count_liquids_as", "/recipe/compensate"}),
        ({"liquids": MILK, "compensate": False}, {"/recipe/count_liquids_as"}),
        ({"liquids": MILK, "compensate": True}, {"/recipe/count_liquids_as"}),
        ({"liquids": MILK, "count_liquids_as": "whole"}, {"/recipe/compensate"}),
        ({"liquids": WATER}, set()),
        ({}, set()),
    ],
)
def test_how_liquids_count_is_assumed_where_it_matters_and_nothing_is_said(more: dict[str, Any], due: set[str]) -> None:
    found = set(assumed(told(total_liquid=None, **more)))
    assert found & {"/recipe/count_liquids_as", "/recipe/compensate"} == due


def test_milk_that_counts_by_its_water_leaves_less_room_for_water() -> None:
    """By hand: 100 g of goat milk hold 87.03 g of water (USDA SR 26, NDB 01106), so that 12.97 g more are added."""
    more: dict[str, Any] = {"liquids": [*MILK, {"liquid": "distilled-water", "rest": True}]}
    more["total_liquid"] = {"liquid_to_fat_ratio": "40 %"}
    whole, content = weighed(**more), weighed(**more, count_liquids_as="water_content")
    assert weighed(**more, count_liquids_as="whole") == pytest.approx(whole)
    assert content["distilled-water"] - whole["distilled-water"] == pytest.approx(12.97, abs=0.01)
    assert whole["NaOH-stock"] / 2 + 100 + whole["distilled-water"] == pytest.approx(400)


def test_acid_of_liquids_is_compensated_for_where_that_is_asked() -> None:
    plain = weighed(liquids=MILK, total_liquid=None)
    assert weighed(liquids=MILK, total_liquid=None, compensate=False) == pytest.approx(plain)
    more = weighed(liquids=MILK, total_liquid=None, compensate=True)
    assert more["NaOH-stock"] > plain["NaOH-stock"] * 1.0001


def test_the_whole_need_met_no_name_of_a_fat_is_asked_for_that_is_not_in_the_bar() -> None:
    only_soap = OIL | {"soap_inci_name": "Sodium Ownate"}
    assert "Sodium Ownate" in named("eu-as-present", fats=[only_soap], superfat=0)
    request = SHEET | recipe(fats=[only_soap]) | {"label_law": "eu-as-present", "moisture_when_sold": "10 %"}
    assert fault(NAME, request, 422).pointer == "/recipe/fats/0/inci_name"


@pytest.mark.parametrize(("law", "water"), [("eu-as-added", "Aqua"), ("us-as-added", "Water")])
def test_water_of_every_origin_is_listed_as_one_water(law: str, water: str) -> None:
    """Half of the stock, the water beside it, tap water as a whole, and 95 % of vinegar of 5 %."""
    more: dict[str, Any] = {
        "fats": [{"fat": "olive-oil", "share": 1}],
        "liquids": [{"liquid": "tap-water", "use_level": "5 %"}, {"liquid": "distilled-water", "rest": True}],
        "acids": [{"acid": "vinegar-5-percent", "use_level": "4 %"}],
        "additions": [CLAY | {"use_level": "2 %", "inci_name": "Kaolin"}],
    }
    found, poured = named(law, **more), weighed(**more)
    whole = sum(poured.values())
    due = poured["NaOH-stock"] / 2 + 50 + poured["distilled-water"] + 0.95 * 40
    assert found[water] * whole == pytest.approx(due, rel=1e-6)
    assert found["Sodium Hydroxide"] * whole == pytest.approx(poured["NaOH-stock"] / 2, rel=1e-6)
    assert found["Kaolin"] * whole == pytest.approx(20, rel=1e-6)
    assert sum(found.values()) == pytest.approx(1.0, rel=1e-9)


def test_names_that_are_given_go_before_those_that_are_known() -> None:
    fats = [{"fat": "olive-oil", "share": 1, "inci_name": "My Oil", "soap_inci_name": "My Soap"}]
    more: dict[str, Any] = {
        "fats": fats,
        "liquids": [{"liquid": "goat-milk", "rest": True, "inci_name": "My Milk"}],
        "additions": [{"material": "scent", "kind": "fragrance", "use_level": "3 %", "inci_name": "My Scent"}],
    }
    assert {"My Oil", "My Milk", "My Scent"} <= named("us-as-added", **more).keys()
    assert {"My Soap", "My Oil", "My Milk", "My Scent"} <= named("eu-as-present", **more).keys()
    unnamed = [{"material": "scent", "kind": "fragrance", "use_level": "3 %"}]
    found = named("us-as-present", fats=[{"fat": "olive-oil", "share": 1}], additions=unnamed)
    assert "Fragrance" in found
    assert not any(name.startswith("My") for name in found)
    more["liquids"] = [{"liquid": "goat-milk", "rest": True}]
    assert "Goat Milk" in named("us-as-added", **more)


@pytest.mark.parametrize(
    ("alkali", "salt", "heavier"), [("NaOH", "Sodium", 22.98977 - 1.008), ("KOH", "Potassium", 39.0983 - 1.008)]
)
def test_an_acid_is_listed_as_its_salt(alkali: str, salt: str, heavier: float) -> None:
    """By hand: 10 g of citric acid, 192.123 g/mol, take three metals for three hydrogens."""
    answer = ask(
        NAME,
        {
            "recipe": {
                "fats": [{"fat": "olive-oil", "share": 1}],
                "alkalis": [{"alkali": alkali, "purity": "90 %"}],
                "total_liquid": {"water_ratio": "3:1"},
                "acids": [{"acid": "citric-acid-anhydrous", "use_level": "1 %"}],
            },
            "scale_to": {"fat_mass": "1 kg"},
            "label_law": "eu-as-present",
            "moisture_when_sold": "10 %",
        },
    )
    found = {one["inci_name"]: one["share"]["value"] * answer["cured_mass"]["value"] for one in answer["label"]}
    (name,) = [one for one in found if "Citrate" in one]
    assert salt in name
    assert found[name] == pytest.approx(10 * (1 + 3 * heavier / 192.123), rel=1e-4)
