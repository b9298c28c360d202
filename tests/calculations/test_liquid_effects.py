"""What liquids do to superfat and alkali, and how one answer leads to the next request."""

import pytest

from service.calculations.batch.liquid_split import calculate
from service.calculations.batch.split import Split
from service.calculations.batch.split_notes import caution_split
from tests.calculations.asking import ask, cautions, fault, message_of
from tests.calculations.figures import ACETIC_ACID, KOH, KOH_PER_NAOH, LACTIC_ACID, NAOH
from tests.calculations.splitting import BEADS_ONE_TO_ONE, HALF, KOH_STOCK, NEED, OWN, TWO_TO_ONE, split

TESTED = (calculate, Split, caution_split)
"""What these tests are of: mutants of its modules meet them first."""


def test_taking_49_per_cent_for_50_costs_1_9_points_of_superfat() -> None:
    """257.35 g of it hold 126.10 g: 1 - 0.95 x 0.49/0.50 = 6.9 % instead of 5 %."""
    superfat = 1 - 0.95 * 0.49 / 0.50
    drawn = 0.95 * 1000 * 0.190 / KOH_PER_NAOH / 0.50
    answer = split(f"{drawn * 0.49} g", stock=BEADS_ONE_TO_ONE, fats=[OWN])
    assert answer["stock_draws"][0]["mass"]["value"] == pytest.approx(drawn)
    assert answer["superfat"]["value"] == pytest.approx(superfat, abs=1e-6)


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
    assert "100" in message_of(answer, "superfat-contradicts")


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


def test_a_fat_known_from_memory_says_so_where_it_tells_the_superfat() -> None:
    answer = split("128 g", fats=[{"fat": "neem-oil", "mass": "1 kg"}])
    assert "figure-from-memory" in cautions(answer)


def test_the_acid_of_a_liquid_that_is_known_as_limits_carries_them() -> None:
    """Orange juice, 0.48 to 1.43 % counted as citric acid: 100 g take 0.3 to 0.9 g NaOH."""
    demand = split(liquids=[{"liquid": "orange-juice", "mass": "100 g"}])["acid_demand"]
    assert demand["low"] < demand["value"] < demand["high"]


def test_the_limits_of_a_purity_that_is_weighed_dry_are_in_weight_and_superfat() -> None:
    """90 to 100 %: 95 % of a rectangle of +- 5.26 %, so the superfat is 5 +- 4.75 points."""
    alkali = {"alkali": "NaOH", "mass": "128.676 g", "purity": {"low": 0.9, "high": 1.0, "unit": "1"}}
    answer = ask("liquid-split", {"alkalis": [alkali], "stocks": [], "fats": [OWN]})
    assert answer["superfat"]["high"] - answer["superfat"]["low"] == pytest.approx(0.095, abs=1e-3)
    assert "low" in answer["weigh_dry"][0]["mass_as_supplied"]


def test_fat_of_a_liquid_that_the_superfat_does_not_count_is_not_said_to_be_counted() -> None:
    """Pomegranate juice holds 0.29 % fat of no known saponification value."""
    answer = split(liquids=[{"liquid": "pomegranate-juice", "mass": "100 g"}], superfat="5 %")
    counted = answer["superfat"]["value"] > 0.05 + 1e-9
    assert counted == ("superfat counts it" in cautions(answer).get("liquid-brings-fat", {}).get("message", ""))


@pytest.mark.parametrize("liquid", ["pomegranate-juice", "kombucha", "apple-sauce", "acid-whey", "tomato-puree-canned"])
def test_a_sour_liquid_whose_acid_is_not_known_says_so(liquid: str) -> None:
    """Their acidity is not tabulated; none at all is not what they have."""
    answer = split(liquids=[{"liquid": liquid, "mass": "100 g"}])
    assert answer["acid_demand"]["value"] == 0
    assert "not known" in message_of(answer, "acid-unknown")


def test_beer_is_kept_out_of_closed_caustic_too() -> None:
    """Its 3.55 % of carbohydrate are dextrins and maltose, which reduce."""
    assert "carbon-monoxide" in cautions(split(liquids=[{"liquid": "beer", "mass": "50 g"}]))


def test_wax_in_the_fats_is_told_with_the_alkali_that_it_leaves() -> None:
    fats = [{"fat": "beeswax", "mass": "300 g"}, {"fat": "olive-oil", "mass": "600 g"}]
    said = cautions(split("100 g", fats=fats))["aqueous-alkali-hardly-saponifies"]
    assert said["severity"] == "danger"


def test_a_superfat_that_cannot_be_told_is_said_to_be_so() -> None:
    """300 g citric acid take 187 g NaOH, and there are 100 g."""
    acids = [{"acid": "citric-acid-anhydrous", "mass": "300 g"}]
    request = {"alkalis": [{"alkali": "NaOH", "mass": "100 g"}], "stocks": [HALF], "superfat": "5 %", "acids": acids}
    assert fault("liquid-split", request, 422).code == "contradiction"


def test_less_real_water_than_alkali_is_a_danger_where_liquids_are_counted_whole() -> None:
    """52 % stock, honey to a counted 1:1: the honey is 17 % water (USDA SR 19296), so 0.936:1 of it is water."""
    stock = {"alkali": "NaOH", "strength": {"mass_fraction": "52 %"}}
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [stock],
        "total_liquid": {"water_ratio": "1:1"},
        "liquids": [{"liquid": "honey", "rest": True}],
    }
    answer = ask("liquid-split", request)
    assert answer["actual_water_ratio"]["value"] == pytest.approx((48 / 52 * 100 + 0.171 * (100 - 48 / 52 * 100)) / 100)
    assert cautions(answer)["liquid-counted-whole"]["severity"] == "danger"


def test_the_limits_of_a_purity_go_into_the_draw_of_a_stock_as_mixed() -> None:
    """97 to 99 %, 1:1: the strength is 49 +- 0.5 %, and 95 % of that rectangle is in the draw."""
    mixed = {"mass_as_supplied": "1 kg", "water_mass": "1 kg", "purity": {"low": 97, "high": 99, "unit": "%"}}
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "98 g"}],
        "stocks": [{"alkali": "NaOH", "strength": {"as_mixed": mixed}}],
    }
    mass = ask("liquid-split", request)["stock_draws"][0]["mass"]
    assert mass["value"] == pytest.approx(200)
    assert mass["high"] - mass["value"] == pytest.approx(200 * 0.95 * 0.5 / 49, rel=1e-3)


@pytest.mark.parametrize(("jojoba", "severity"), [("20 g", None), ("100 g", "danger")])
def test_wax_that_may_leave_free_alkali_is_told_in_a_split_as_in_the_saponification(
    jojoba: str, severity: str | None
) -> None:
    fats = [{"fat": "olive-oil", "mass": "1000 g"}, {"fat": "jojoba-oil", "mass": jojoba}]
    whole = ask("saponification", {"fats": fats, "superfat": "5 %"})
    alkali = {"alkali": "NaOH", "mass": {"value": whole["alkalis"][0]["mass"]["value"], "unit": "g"}}
    stock = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}
    answer = ask("liquid-split", {"alkalis": [alkali], "stocks": [stock], "fats": fats, "superfat": "5 %"})
    assert answer["superfat"]["low"] == pytest.approx(whole["superfat"]["low"], abs=1e-9)
    probability = f"{whole['free_alkali_probability']['value']:.0%}".replace("%", " %")
    grave = [one for one in answer["cautions"] if "If the wax takes no alkali" in one["message"]]
    assert [one["severity"] for one in grave] == [severity or "caution"]
    assert (probability in grave[0]["message"]) == (severity == "danger")


def test_liquids_with_sugar_are_warned_of_in_one_sentence() -> None:
    liquids = [
        {"liquid": "goat-milk", "share": "50 %"},
        {"liquid": "carrot-juice", "share": "30 %"},
        {"liquid": "distilled-water", "share": "20 %"},
    ]
    told = [
        one for one in split(total_liquid=TWO_TO_ONE, liquids=liquids)["cautions"] if one["code"] == "carbon-monoxide"
    ]
    assert len(told) == 1
    assert "goat milk or carrot juice" in told[0]["message"]
