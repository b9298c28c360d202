"""Stock to draw and liquid to add: mass balances by hand, beside what the service answers."""

from typing import Any

import pytest

from service.calculations.batch.liquid_split import calculate
from service.calculations.batch.split import Split
from service.calculations.batch.split_notes import caution_split
from service.reference import reference_data
from tests.calculations.asking import ask, assumed, cautions, fault
from tests.calculations.figures import NAOH, NORMAL_95
from tests.calculations.splitting import BEADS_ONE_TO_ONE, HALF, KOH_STOCK, TWO_TO_ONE, added, split

TESTED = (calculate, Split, caution_split)
"""What these tests are of: mutants of its modules meet them first."""


def test_a_draw_of_half_strength_stock_weighs_twice_the_alkali() -> None:
    """128.676 g / 0.50 = 257.35 g, half of it water."""
    (draw,) = split("128.676 g")["stock_draws"]
    assert draw["alkali"] == "NaOH"
    assert draw["mass"]["value"] == pytest.approx(257.352)
    assert draw["alkali_mass"]["value"] == pytest.approx(128.676)
    assert draw["water_mass"]["value"] == pytest.approx(128.676)


def test_the_volume_of_a_draw_is_that_at_its_temperature() -> None:
    """200 g at 1.5253 kg/L (Perry, after International Critical Tables 3, from memory) are 131.1 mL at 20 °C."""
    assert split()["stock_draws"][0]["volume"]["value"] == pytest.approx(200 / 1.5253, rel=0.003)
    warm = split(stock=dict(HALF, temperature="60 °C"))["stock_draws"][0]["volume"]["value"]
    assert warm == pytest.approx(200 / 1.4967, rel=0.003)


def test_one_to_one_from_98_per_cent_beads_is_drawn_as_49_per_cent() -> None:
    """100 g / 0.49 = 204.08 g, of which 104.08 g are not hydroxide."""
    (draw,) = split(stock=BEADS_ONE_TO_ONE)["stock_draws"]
    assert draw["mass"]["value"] == pytest.approx(204.0816, abs=1e-3)
    assert draw["water_mass"]["value"] == pytest.approx(104.0816, abs=1e-3)


def test_the_spread_of_the_strength_is_in_the_draw() -> None:
    """50 % +- 0.5 %: 200 g +- 1.96 x 1 %."""
    stock = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %", "uncertainty": "0.5 %"}}
    mass = split(stock=stock)["stock_draws"][0]["mass"]
    assert mass["high"] - mass["value"] == pytest.approx(200 * 0.01 * NORMAL_95, rel=1e-5)
    assert "low" not in split()["stock_draws"][0]["mass"]


def test_each_alkali_is_drawn_from_the_stock_of_its_kind() -> None:
    """100 g NaOH / 0.50 and 70 g KOH / 0.45; their 100 + 85.56 g of water leave 154.44 g to 2:1."""
    answer = ask(
        "liquid-split",
        {
            "alkalis": [{"alkali": "KOH", "mass": "70 g"}, {"alkali": "NaOH", "mass": "100 g"}],
            "stocks": [HALF, KOH_STOCK],
            "total_liquid": TWO_TO_ONE,
        },
    )
    draws = {one["alkali"]: one["mass"]["value"] for one in answer["stock_draws"]}
    assert draws == {"KOH": pytest.approx(155.5556, abs=1e-3), "NaOH": pytest.approx(200)}
    assert added(answer) == {"distilled-water": pytest.approx(340 - 100 - 85.5556, abs=1e-3)}
    assert answer["weigh_dry"] == []


def test_an_alkali_without_a_stock_is_weighed_dry_and_dissolved_in_its_own_mass_of_water() -> None:
    """50 g KOH of 90 % are 55.56 g; dissolved in 50 g, which count: 300 - 100 - 50 g are to be added."""
    answer = ask(
        "liquid-split",
        {
            "alkalis": [{"alkali": "NaOH", "mass": "100 g"}, {"alkali": "KOH", "mass": "50 g", "purity": "90 %"}],
            "stocks": [HALF],
            "total_liquid": TWO_TO_ONE,
        },
    )
    (dry,) = answer["weigh_dry"]
    assert dry["alkali"] == "KOH"
    assert dry["mass"]["value"] == pytest.approx(50)
    assert dry["mass_as_supplied"]["value"] == pytest.approx(55.5556, abs=1e-3)
    assert dry["water_mass"]["value"] == pytest.approx(50)
    assert answer["added_liquid_mass"]["value"] == pytest.approx(150)


def test_dry_koh_of_unsaid_purity_is_not_told_as_a_weight() -> None:
    answer = ask("liquid-split", {"alkalis": [{"alkali": "KOH", "mass": "50 g"}], "stocks": []})
    assert "mass_as_supplied" not in answer["weigh_dry"][0]
    assert "purity-missing" in cautions(answer)


@pytest.mark.parametrize("mass", ["101 g", "105 g", "109 g", "110 g"])
def test_the_least_purity_can_be_sent_on_as_saponification_answers_it(mass: str) -> None:
    """Mass over mass_as_supplied is then a half, or less by a rounding."""
    shares = [
        {"alkali": "NaOH", "mole_share": 0.3, "purity": "50 %"},
        {"alkali": "KOH", "mole_share": 0.7, "purity": "85 %"},
    ]
    recipe = {"fats": [{"fat": "castor-oil", "mass": mass}], "superfat": 0, "alkalis": shares}
    alkalis = ask("saponification", recipe)["alkalis"]
    dry = ask("liquid-split", {"alkalis": alkalis})["weigh_dry"]
    assert [one["mass"]["value"] for one in dry] == [one["mass"]["value"] for one in alkalis]


def test_two_to_one_from_half_strength_takes_as_much_other_liquid_as_alkali() -> None:
    """Common practice, no source; 2 x 100 g less the 100 g of the stock."""
    answer = split(total_liquid=TWO_TO_ONE)
    assert added(answer) == {"distilled-water": pytest.approx(100)}
    assert answer["water_ratio"]["value"] == pytest.approx(2)
    assert answer["actual_water_ratio"]["value"] == pytest.approx(2)


@pytest.mark.parametrize(
    ("total", "liquid"),
    [
        ({"water_ratio": "2.5:1"}, 250.0),
        ({"water_ratio": 1.3}, 130.0),
        ({"mass": "257 g"}, 257.0),
        ({"liquid_to_fat_ratio": "30 %", "fat_mass": "700 g"}, 210.0),
        ({"final_strength": {"mass_fraction": "40 %"}}, 150.0),
        ({"final_strength": {"water_ratio": "1.8:1"}}, 180.0),
        ({"final_strength": {"molality": "12.501 mol/kg"}}, 100000 / (12.501 * NAOH)),
    ],
    ids=["ratio", "plain-ratio", "mass", "by-fat", "strength", "strength-as-ratio", "molality"],
)
def test_all_ways_to_say_the_total_liquid_count_the_water_of_the_stock(total: object, liquid: float) -> None:
    answer = split(total_liquid=total)
    assert answer["added_liquid_mass"]["value"] == pytest.approx(liquid - 100, rel=1e-6)
    assert answer["water_ratio"]["value"] == pytest.approx(liquid / 100, rel=1e-6)


def test_nothing_is_added_where_no_total_is_asked_for() -> None:
    answer = split()
    assert answer["additions"] == []
    assert answer["water_ratio"]["value"] == pytest.approx(1)


def test_shares_fixed_masses_and_the_rest_fill_the_added_liquid() -> None:
    """3:1 on 100 g: 200 g to add; a quarter of that, 30 g, and the 120 g that are left."""
    answer = split(
        total_liquid={"water_ratio": 3},
        liquids=[
            {"liquid": "goat-milk", "share": "25 %"},
            {"liquid": "cider-vinegar", "mass": "30 g"},
            {"liquid": "distilled-water", "rest": True},
        ],
    )
    assert added(answer) == {
        "goat-milk": pytest.approx(50),
        "cider-vinegar": pytest.approx(30),
        "distilled-water": pytest.approx(120),
    }
    assert answer["added_liquid_mass"]["value"] == pytest.approx(200)


def test_shares_that_make_the_whole_need_no_rest() -> None:
    liquids = [{"liquid": "goat-milk", "share": 0.5}, {"liquid": "coffee-brewed", "share": 0.5}]
    assert added(split(total_liquid=TWO_TO_ONE, liquids=liquids)) == {
        "goat-milk": pytest.approx(50),
        "coffee-brewed": pytest.approx(50),
    }


def test_fixed_masses_alone_need_no_total() -> None:
    answer = split(liquids=[{"liquid": "goat-milk", "mass": "60 g"}])
    assert added(answer) == {"goat-milk": pytest.approx(60)}
    assert answer["water_ratio"]["value"] == pytest.approx(1.6)


def test_counting_by_water_content_adds_more_of_a_liquid_that_is_not_all_water() -> None:
    """Goat milk holds 87.03 % water (USDA SR 26, NDB 01106): 100 g of water are 114.90 g of it."""
    whole = split(total_liquid=TWO_TO_ONE, liquids=[{"liquid": "goat-milk", "rest": True}])
    assert added(whole)["goat-milk"] == pytest.approx(100)
    assert whole["water_ratio"]["value"] == pytest.approx(2)
    assert whole["actual_water_ratio"]["value"] == pytest.approx(1.8703)
    content = split(
        total_liquid=TWO_TO_ONE, liquids=[{"liquid": "goat-milk", "rest": True}], count_liquids_as="water_content"
    )
    assert added(content)["goat-milk"] == pytest.approx(100 / 0.8703)
    assert content["water_ratio"]["value"] == pytest.approx(2)
    assert content["actual_water_ratio"]["value"] == pytest.approx(2)


def test_shares_stay_shares_of_the_mass_where_water_content_counts() -> None:
    """M (0.5 x 0.8703 + 0.5) = 100 g: M = 106.94 g."""
    answer = split(
        total_liquid=TWO_TO_ONE,
        liquids=[{"liquid": "goat-milk", "share": 0.5}, {"liquid": "distilled-water", "rest": True}],
        count_liquids_as="water_content",
    )
    assert answer["added_liquid_mass"]["value"] == pytest.approx(100 / 0.93515)
    assert added(answer)["goat-milk"] == pytest.approx(50 / 0.93515)


def test_milk_goes_to_the_fats_and_the_reason_names_sugars_proteins_and_fat() -> None:
    answer = split(total_liquid=TWO_TO_ONE, liquids=[{"liquid": "goat-milk", "rest": True}])
    (milk,) = answer["additions"]
    assert milk["add_to"] == "fats"
    for word in ("sugars", "brown", "proteins", "fat saponifies"):
        assert word in milk["reason"]
    monoxide = cautions(answer)["carbon-monoxide"]
    assert monoxide["severity"] == "danger"
    assert "closed" in monoxide["message"]


def test_plain_water_may_go_either_way_and_warms_the_stock_it_is_poured_into() -> None:
    for place in ("fats", "stock"):
        answer = split(total_liquid=TWO_TO_ONE, liquids=[{"liquid": "distilled-water", "rest": True, "add_to": place}])
        assert answer["additions"][0]["add_to"] == place
        assert ("water-warms-stock" in cautions(answer)) == (place == "stock")
    assert split(total_liquid=TWO_TO_ONE)["additions"][0]["add_to"] == "fats"


def test_the_catalogue_holds_fifty_liquids() -> None:
    assert len(reference_data().liquids) >= 50


@pytest.mark.parametrize("liquid", reference_data().liquids.values(), ids=lambda liquid: liquid.id)
def test_every_liquid_goes_where_it_may_and_says_why(liquid: Any) -> None:
    request: dict[str, Any] = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [HALF],
        "total_liquid": TWO_TO_ONE,
        "liquids": [{"liquid": liquid.id, "rest": True}],
    }
    (one,) = ask("liquid-split", request)["additions"]
    assert one["add_to"] == "fats"
    assert one["reason"]
    assert one["mass"]["value"] == pytest.approx(100)
    assert one["water_mass"]["value"] == pytest.approx(100 * liquid.water.middle)
    assert one["fat_mass"]["value"] == pytest.approx(100 * liquid.fat.middle)
    request["liquids"][0]["add_to"] = "stock"
    if liquid.group == "water":
        assert ask("liquid-split", request)["additions"][0]["add_to"] == "stock"
    else:
        found = fault("liquid-split", request, 422)
        assert (found.pointer, found.code) == ("/liquids/0/add_to", "not-into-stock")


@pytest.mark.parametrize(
    ("ratio", "text"),
    [
        ("1:1", "least water"),
        ("1.2:1", "ash"),
        ("1.3:1", "glycerine rivers"),
        ("1.8:1", "humid"),
        ("2:1", "usual"),
        ("2.4:1", "trace"),
        ("3.5:1", "wetter"),
    ],
)
def test_the_ratio_is_given_its_use_as_common_practice(ratio: str, text: str) -> None:
    """Rules of thumb of the trade: common practice, no source."""
    said = cautions(split(total_liquid={"water_ratio": ratio}))["water-ratio"]
    assert said["severity"] == "note"
    assert said["basis"] == "common practice"
    assert text in said["message"]


def test_a_cold_stock_that_may_hold_crystals_is_told() -> None:
    """A 50 % stock starts to crystallise at about 12 to 14 °C (Dow Chemical: about 14 °C)."""
    assert "crystals-in-solution" in cautions(split(stock=dict(HALF, temperature="12 °C")))
    assert "crystals-in-solution" not in cautions(split(stock=dict(HALF, temperature="20 °C")))


def test_defaults_that_were_used_are_told() -> None:
    told = assumed(split(total_liquid=TWO_TO_ONE))
    assert told["/stocks/0/temperature"] == "20 °C"
    assert "distilled-water" in told["/liquids"]
    given = split(
        stock=dict(HALF, temperature="18 °C"),
        total_liquid=TWO_TO_ONE,
        liquids=[
            {"liquid": "distilled-water", "rest": True},
        ],
    )
    assert not {"/stocks/0/temperature", "/liquids"} & set(assumed(given))


def test_the_way_liquids_are_counted_is_told_where_it_was_not_asked() -> None:
    answer = split(total_liquid=TWO_TO_ONE, liquids=[{"liquid": "goat-milk", "rest": True}])
    assert "whole" in assumed(answer)["/count_liquids_as"]


def test_a_final_strength_of_two_alkalis_does_not_hang_on_their_order() -> None:
    alkalis = [{"alkali": "NaOH", "mass": "100 g"}, {"alkali": "KOH", "mass": "100 g"}]
    total = {"final_strength": {"molality": "12 mol/kg"}}
    ratios = set()
    for order in (alkalis, alkalis[::-1]):
        answer = ask("liquid-split", {"alkalis": order, "stocks": [HALF, KOH_STOCK], "total_liquid": total})
        ratios.add(round(answer["water_ratio"]["value"], 9))
    assert len(ratios) == 1


def test_a_final_strength_counts_all_alkali_of_the_batch() -> None:
    """30 % of hydroxide is 70 parts of liquid to 30 of alkali, however the alkali is divided."""
    alkalis = [{"alkali": "NaOH", "mass": "100 g"}, {"alkali": "KOH", "mass": "50 g"}]
    total = {"final_strength": {"mass_fraction": "30 %"}}
    answer = ask("liquid-split", {"alkalis": alkalis, "stocks": [HALF, KOH_STOCK], "total_liquid": total})
    assert answer["water_ratio"]["value"] == pytest.approx(70 / 30)
