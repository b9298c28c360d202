"""Stock to draw and liquid to add: mass balances by hand, beside what the service answers."""

from typing import Any

import pytest

from service.reference import reference_data
from tests.calculations.asking import Answer, ask, assumed, cautions, fault, refusal
from tests.calculations.figures import ACETIC_ACID, KOH, KOH_PER_NAOH, LACTIC_ACID, NAOH, NORMAL_95

HALF = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}
WEAK = {"alkali": "NaOH", "strength": {"mass_fraction": "30 %"}}
BEADS_ONE_TO_ONE = {
    "alkali": "NaOH",
    "strength": {"as_mixed": {"mass_as_supplied": "10 kg", "water_mass": "10 kg", "purity": "98 %"}},
}
KOH_STOCK = {"alkali": "KOH", "strength": {"mass_fraction": "45 %"}}
TWO_TO_ONE = {"water_ratio": "2:1"}
OWN = {"name": "own oil", "mass": "1000 g", "saponification_value": "190 mg/g"}
NEED = 190 / KOH
"""mol of hydroxide that OWN takes."""


def split(mass: str = "100 g", stock: dict[str, Any] = HALF, **more: Any) -> Answer:
    return ask("liquid-split", {"alkalis": [{"alkali": "NaOH", "mass": mass}], "stocks": [stock], **more})


def added(answer: Answer) -> dict[str, float]:
    return {one["liquid"]: one["mass"]["value"] for one in answer["additions"]}


# The draw


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


def test_taking_49_per_cent_for_50_costs_1_9_points_of_superfat() -> None:
    """257.35 g of it hold 126.10 g: 1 - 0.95 x 0.49/0.50 = 6.9 % instead of 5 %."""
    assert pytest.approx(0.069) == 1 - 0.95 * 0.49 / 0.50
    drawn = 0.95 * 1000 * 0.190 / KOH_PER_NAOH / 0.50
    answer = split(f"{drawn * 0.49} g", stock=BEADS_ONE_TO_ONE, fats=[OWN])
    assert answer["stock_draws"][0]["mass"]["value"] == pytest.approx(drawn)
    assert answer["superfat"]["value"] == pytest.approx(0.069, abs=1e-6)


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


# Ratios and totals


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


def test_one_to_one_is_the_least_water() -> None:
    assert split(total_liquid={"water_ratio": "1:1"})["water_ratio"]["value"] == pytest.approx(1)
    strong = {"alkali": "NaOH", "strength": {"mass_fraction": "52 %"}}
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [strong],
        "total_liquid": {"water_ratio": 0.95},
    }
    found = fault("liquid-split", request, 422)
    assert found.code == "too-little-water"
    assert "1:1" in found.mend


def test_a_stock_too_weak_says_the_lowest_ratio_it_can_reach() -> None:
    """30 %: 70/30 = 2.333 parts of water come with one of alkali."""
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [WEAK],
        "total_liquid": TWO_TO_ONE,
    }
    found = fault("liquid-split", request, 422)
    assert found.code == "stock-too-weak"
    assert found.pointer == "/total_liquid"
    assert "2.333:1" in found.mend
    assert split(stock=WEAK, total_liquid={"water_ratio": 2.334})["added_liquid_mass"]["value"] == pytest.approx(
        233.4 - 700 / 3, abs=1e-6
    )


# Liquids


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


@pytest.mark.parametrize(
    "liquids",
    [
        [("goat-milk", "share", 0.5), ("carrot-juice", "share", 0.4)],
        [("goat-milk", "share", 0.6), ("carrot-juice", "share", 0.6)],
        [("goat-milk", "share", 0.6), ("carrot-juice", "share", 0.6), ("distilled-water", "rest", True)],
        [("goat-milk", "mass", "20 g")],
        [("goat-milk", "mass", "20 g"), ("carrot-juice", "share", 0.5)],
        [("goat-milk", "mass", "150 g"), ("distilled-water", "rest", True)],
        [("goat-milk", "rest", True), ("carrot-juice", "rest", True)],
    ],
    ids=["too-little", "too-much", "too-much-and-rest", "mass-short", "mixed-short", "mass-beyond", "two-rests"],
)
def test_liquids_that_do_not_add_up_are_refused(liquids: list[tuple[str, str, object]]) -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [HALF],
        "total_liquid": TWO_TO_ONE,
        "liquids": [{"liquid": liquid, form: amount} for liquid, form, amount in liquids],
    }
    found = fault("liquid-split", request, 422)
    assert found.code == "does-not-add-up"
    assert found.pointer == "/liquids"


@pytest.mark.parametrize(("first", "second", "whole"), [(0.5, 0.4, "90"), (0.6, 0.6, "120")])
def test_shares_that_do_not_make_the_whole_are_told_by_their_sum(first: float, second: float, whole: str) -> None:
    liquids = [{"liquid": "goat-milk", "share": first}, {"liquid": "carrot-juice", "share": second}]
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [HALF],
        "total_liquid": TWO_TO_ONE,
        "liquids": liquids,
    }
    assert whole in fault("liquid-split", request, 422).detail


def test_a_share_without_a_total_is_refused() -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [HALF],
        "liquids": [{"liquid": "goat-milk", "rest": True}],
    }
    assert fault("liquid-split", request, 422).code == "does-not-add-up"


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


def test_plain_water_may_go_either_way_and_warms_the_stock() -> None:
    for place, severity in (("fats", "note"), ("stock", "caution")):
        answer = split(total_liquid=TWO_TO_ONE, liquids=[{"liquid": "distilled-water", "rest": True, "add_to": place}])
        assert answer["additions"][0]["add_to"] == place
        assert cautions(answer)["water-warms-stock"]["severity"] == severity
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


# What liquids do to the superfat and the alkali


def test_goat_milk_for_half_the_liquid_raises_five_per_cent_superfat_by_0_65_points() -> None:
    """128.68 g bring 4.14 % fat of 220 mg/g (FSS India 2011: 205 to 235) and 0.16 % acid counted as lactic.

    5.327 g take 0.02089 mol; the acid takes 0.00229 mol of the 3.2172 mol of hydroxide.
    """
    need = NEED + 128.676 * 0.0414 * 0.220 / KOH
    alkali = 0.95 * NEED - 128.676 * 0.0016 / LACTIC_ACID
    assert 1 - alkali / need == pytest.approx(0.0565, abs=1e-4)
    answer = split("128.676 g", total_liquid=TWO_TO_ONE, liquids=[{"liquid": "goat-milk", "rest": True}], fats=[OWN])
    assert answer["superfat"]["value"] == pytest.approx(1 - alkali / need, abs=1e-5)
    (milk,) = answer["additions"]
    assert milk["fat_mass"]["value"] == pytest.approx(5.327, abs=1e-3)
    assert milk["water_mass"]["value"] == pytest.approx(111.987, abs=1e-2)


def test_a_superfat_alone_tells_the_same_as_the_fats() -> None:
    liquids = [{"liquid": "goat-milk", "rest": True}]
    mass = f"{0.95 * 190 / KOH_PER_NAOH} g"
    by_fats = split(mass, total_liquid=TWO_TO_ONE, liquids=liquids, fats=[OWN])["superfat"]["value"]
    by_superfat = split(mass, total_liquid=TWO_TO_ONE, liquids=liquids, superfat="5 %")["superfat"]["value"]
    assert by_superfat == pytest.approx(by_fats, abs=1e-9)
    assert "superfat" not in split(mass, total_liquid=TWO_TO_ONE, liquids=liquids)


def test_acids_of_the_recipe_are_not_counted_as_alkali_for_the_fats() -> None:
    """10 g citric acid take 6.245 g of 134.92 g; the rest leaves 5 % superfat."""
    mass = 0.95 * 190 / KOH_PER_NAOH + 10 * 3 * NAOH / 192.124
    acids = [{"acid": "citric-acid-anhydrous", "mass": "10 g"}]
    answer = split(f"{mass} g", fats=[OWN], acids=acids)
    assert answer["superfat"]["value"] == pytest.approx(0.05, abs=1e-5)


def test_vinegar_takes_alkali_that_is_told_and_not_added() -> None:
    """100 g of 5.09 % acetic acid take 5.09 / 60.05 x 39.997 = 3.390 g NaOH."""
    taken = 100 * 0.0509 / ACETIC_ACID * NAOH
    answer = split("128.676 g", liquids=[{"liquid": "cider-vinegar", "mass": "100 g"}], fats=[OWN])
    assert answer["acid_demand"]["value"] == pytest.approx(taken, rel=1e-4)
    assert answer["additions"][0]["acid_demand"]["value"] == pytest.approx(taken, rel=1e-4)
    assert answer["stock_draws"][0]["alkali_mass"]["value"] == pytest.approx(128.676)
    assert answer["superfat"]["value"] == pytest.approx(1 - (128.676 - taken) / (190 / KOH_PER_NAOH), abs=1e-5)
    assert cautions(answer)["acid-takes-alkali"]["severity"] == "caution"


def test_compensate_adds_what_the_acid_takes() -> None:
    taken = 100 * 0.0509 / ACETIC_ACID * NAOH
    answer = split("128.676 g", liquids=[{"liquid": "cider-vinegar", "mass": "100 g"}], fats=[OWN], compensate=True)
    assert answer["stock_draws"][0]["alkali_mass"]["value"] == pytest.approx(128.676 + taken, rel=1e-6)
    assert answer["superfat"]["value"] == pytest.approx(0.05, abs=1e-5)
    assert cautions(answer)["acid-takes-alkali"]["severity"] == "note"


def test_compensation_follows_the_liquid_that_it_makes_grow() -> None:
    """At 2:1 the vinegar is as much as the alkali a: a = 100 + k a, k = 0.0509 x 39.997 / 60.05; a = 103.51 g."""
    k = 0.0509 / ACETIC_ACID * NAOH
    answer = split(total_liquid=TWO_TO_ONE, liquids=[{"liquid": "cider-vinegar", "rest": True}], compensate=True)
    assert answer["stock_draws"][0]["alkali_mass"]["value"] == pytest.approx(100 / (1 - k), rel=1e-5)
    assert answer["water_ratio"]["value"] == pytest.approx(2)


def test_compensation_keeps_the_proportion_of_both_alkalis() -> None:
    answer = ask(
        "liquid-split",
        {
            "alkalis": [{"alkali": "NaOH", "mass": "80 g"}, {"alkali": "KOH", "mass": "40 g"}],
            "stocks": [HALF, KOH_STOCK],
            "liquids": [{"liquid": "lemon-juice", "mass": "50 g"}],
            "compensate": True,
        },
    )
    drawn = {one["alkali"]: one["alkali_mass"]["value"] for one in answer["stock_draws"]}
    assert drawn["NaOH"] / drawn["KOH"] == pytest.approx(2, rel=1e-12)
    more = (drawn["NaOH"] - 80) / NAOH + (drawn["KOH"] - 40) / KOH
    assert more == pytest.approx(50 * 0.0461 * 3 / 192.124, rel=1e-4)


def test_fats_that_the_alkali_does_not_belong_to_are_told() -> None:
    answer = split("140 g", fats=[OWN], superfat="5 %")
    said = cautions(answer)["superfat-contradicts"]
    assert said["severity"] == "danger"
    less = split("120 g", fats=[OWN], superfat="5 %")
    assert cautions(less)["superfat-contradicts"]["severity"] == "caution"
    assert "superfat-contradicts" not in cautions(split("128.676 g", fats=[OWN], superfat="5 %"))


def test_an_excess_of_alkali_is_told_as_a_part_of_what_the_fats_take() -> None:
    """257.352 g are twice the 128.676 g that fit: 100 % more."""
    answer = split("257.352 g", fats=[OWN], superfat="5 %")
    assert "100" in cautions(answer)["superfat-contradicts"]["message"]


# Requests one after another


def test_the_alkalis_of_a_saponification_go_into_the_split_untouched() -> None:
    """The interval of the alkali (185.25 to 194.75 mg/g) becomes that of the draw, twice as heavy."""
    fat = {"name": "own oil", "mass": "1000 g", "saponification_value": {"low": 185, "high": 195, "unit": "mg/g"}}
    saponified = ask("saponification", {"fats": [fat], "superfat": "5 %"})
    answer = ask("liquid-split", {"alkalis": saponified["alkalis"], "stocks": [HALF], "total_liquid": TWO_TO_ONE})
    mass = answer["stock_draws"][0]["mass"]
    assert mass["value"] == pytest.approx(257.352, abs=1e-3)
    assert mass["low"] == pytest.approx(2 * 0.95 * 185.25 / KOH_PER_NAOH, rel=1e-6)
    assert mass["high"] == pytest.approx(2 * 0.95 * 194.75 / KOH_PER_NAOH, rel=1e-6)


def test_a_saponification_with_two_alkalis_and_purities_is_weighed_dry_as_it_said() -> None:
    alkalis = [
        {"alkali": "NaOH", "mole_share": "60 %", "purity": "98 %"},
        {"alkali": "KOH", "mole_share": "40 %", "purity": "90 %"},
    ]
    saponified = ask("saponification", {"fats": [OWN], "alkalis": alkalis})
    answer = ask("liquid-split", {"alkalis": saponified["alkalis"], "stocks": []})
    for said, dry in zip(saponified["alkalis"], answer["weigh_dry"], strict=True):
        assert dry["mass_as_supplied"]["value"] == pytest.approx(said["mass_as_supplied"]["value"], rel=1e-9)


# Advice


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


# Refusals


def test_two_stocks_of_one_kind_are_refused() -> None:
    request = {"alkalis": [{"alkali": "NaOH", "mass": "100 g"}], "stocks": [HALF, WEAK]}
    found = fault("liquid-split", request, 422)
    assert (found.pointer, found.code) == ("/stocks/1", "contradiction")


@pytest.mark.parametrize(
    "strength",
    [
        {"mass_fraction": "60 %"},
        {"molality": "40 mol/kg"},
        {"density": "1.7 kg/L"},
        {"oxide_fraction": "50 %"},
        {"degrees_baume": 60},
        {"as_mixed": {"mass_as_supplied": "3 kg", "water_mass": "2 kg"}},
    ],
    ids=lambda strength: next(iter(strength)),
)
def test_strengths_beyond_solubility_are_refused(strength: dict[str, object]) -> None:
    """NaOH saturates at 52.2 % and 20 °C (Great Soviet Encyclopedia)."""
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [{"alkali": "NaOH", "strength": strength}],
    }
    found = fault("liquid-split", request, 422)
    assert found.code == "beyond-solubility"
    assert found.pointer is not None
    assert str(found.pointer).startswith("/stocks/0/strength")


def test_faults_of_chemistry_are_told_all_at_once() -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "70 %"}}],
        "total_liquid": TWO_TO_ONE,
        "liquids": [{"liquid": "goats-milk", "share": 0.5}, {"liquid": "goat-milk", "share": 0.5, "add_to": "stock"}],
        "fats": [{"fat": "unobtainium-oil", "mass": "1 kg"}],
    }
    refused = refusal("liquid-split", request)
    assert refused.status == 422
    assert {one.pointer for one in refused.faults} == {
        "/stocks/0/strength",
        "/liquids/0/liquid",
        "/liquids/1/add_to",
        "/fats/0/fat",
    }


def test_pure_hydroxide_heavier_than_what_was_weighed_is_refused() -> None:
    alkali = {"alkali": "NaOH", "mass": "100 g", "mass_as_supplied": "90 g"}
    found = fault("liquid-split", {"alkalis": [alkali], "stocks": []}, 422)
    assert (found.pointer, found.code) == ("/alkalis/0/mass_as_supplied", "contradiction")


def test_a_final_strength_of_two_alkalis_does_not_hang_on_their_order() -> None:
    alkalis = [{"alkali": "NaOH", "mass": "100 g"}, {"alkali": "KOH", "mass": "100 g"}]
    total = {"final_strength": {"molality": "12 mol/kg"}}
    ratios = set()
    for order in (alkalis, alkalis[::-1]):
        answer = ask("liquid-split", {"alkalis": order, "stocks": [HALF, KOH_STOCK], "total_liquid": total})
        ratios.add(round(answer["water_ratio"]["value"], 9))
    assert len(ratios) == 1


def test_shares_are_checked_even_where_nothing_is_left_to_add() -> None:
    liquids = [{"liquid": "goat-milk", "share": 0.5}, {"liquid": "carrot-juice", "share": 0.4}]
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [HALF],
        "total_liquid": {"water_ratio": "1:1"},
        "liquids": liquids,
    }
    assert fault("liquid-split", request, 422).code == "does-not-add-up"


def test_a_fat_known_from_memory_says_so_where_it_tells_the_superfat() -> None:
    answer = split("128 g", fats=[{"fat": "neem-oil", "mass": "1 kg"}])
    assert "figure-from-memory" in cautions(answer)


def test_the_acid_of_a_liquid_that_is_known_as_limits_carries_them() -> None:
    """Orange juice, 0.48 to 1.43 % counted as citric acid: 100 g take 0.3 to 0.9 g NaOH."""
    demand = split(liquids=[{"liquid": "orange-juice", "mass": "100 g"}])["acid_demand"]
    assert demand["low"] < demand["value"] < demand["high"]
