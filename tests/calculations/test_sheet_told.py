"""What a batch sheet tells beside its weights: temperatures, cautions, steps, cost, and what is left of the stock."""

from typing import Any

import pytest

from service.calculations.batch.split import Source
from service.calculations.orders.sheet_notes import caution_sheet
from service.calculations.orders.stock_at_hand import at_hand
from service.calculations.shared.given import Fraction, Volume
from service.calculations.shared.messages import Solution, Strength
from service.calculations.shared.notes import Notes
from service.calculations.shared.standing_cautions import HANDLING
from service.chemistry.uncertainty import EXACT
from tests.calculations.asking import Answer, ask, assumed, cautions, fault, message_of, refusal
from tests.calculations.test_batch_sheet import ALKALI, NAME, OIL, SHEET, STOCK, recipe, told
from tests.calculations.test_steps import redone

MILK: dict[str, Any] = {"liquid": "goat-milk", "use_level": "10 %", "temperature": "4 °C"}
WATER: dict[str, Any] = {"liquid": "distilled-water", "rest": True, "temperature": "30 °C"}
POTASH: dict[str, Any] = {"alkali": "KOH", "mass": "3 kg", "strength": {"mass_fraction": "45 %"}}
BOTH: dict[str, Any] = recipe(
    alkalis=[{"alkali": "NaOH", "mole_share": "60 %"}, {"alkali": "KOH", "mole_share": "40 %", "purity": "90 %"}]
)
TESTED = (caution_sheet, at_hand)
"""What these tests are of: mutants of its modules meet them first."""
OF_FATS = {"aqueous-alkali-hardly-saponifies", "figure-from-memory", "figure-limits-assumed", "fat-note"}


def codes(answer: Answer) -> set[str]:
    return {one["code"] for one in answer["cautions"]}


def test_liquids_are_mixed_in_at_their_own_temperatures() -> None:
    """As batch-temperature answers it; a liquid of which there is none is passed over."""
    none = MILK | {"liquid": "tap-water", "use_level": 0, "temperature": "90 °C"}
    answer = told(**recipe(liquids=[none, MILK, WATER]), fats_temperature="40 °C")
    weighed = {one["material"]: one["mass"]["value"] for one in answer["weigh_list"]}
    fats = [{"name": "own oil", "saponification_value": OIL["saponification_value"], "mass": "1 kg"}]
    liquids = [
        {"liquid": one["liquid"], "mass": f"{weighed[one['liquid']]!r} g", "temperature": one["temperature"]}
        for one in (MILK, WATER)
    ]
    stock = STOCK | {"mass": f"{2 * ALKALI!r} g"}
    alone = ask("batch-temperature", {"fats": fats, "fats_temperature": "40 °C", "stock": stock, "liquids": liquids})
    assert answer["temperatures"]["batch"] == pytest.approx(alone["temperature"])


def test_a_temperature_that_cannot_be_had_is_refused_where_it_is_given() -> None:
    assert fault(NAME, SHEET | {"wanted_temperature": "95 °C"}, 422).pointer == "/wanted_temperature"
    two = SHEET | BOTH | {"stocks": [STOCK, POTASH]}
    for member in ("fats_temperature", "wanted_temperature"):
        found = fault(NAME, two | {member: "40 °C"}, 422)
        assert (found.pointer, found.code) == (f"/{member}", "contradiction")


def test_a_batch_of_fats_that_are_frozen_in_is_told_without_its_temperature() -> None:
    """A liquid of -18 °C in such a mass needs fats hotter than any: nothing was asked, so nothing is refused."""
    ice = {"liquid": "distilled-water", "rest": True, "frozen": True, "temperature": "-18 °C"}
    answer = told(**recipe(total_liquid={"water_ratio": "5:1"}, liquids=[ice]))
    assert "temperatures" not in answer
    assert "This batch does not come to 32 °C" in message_of(answer, "temperatures-left-out")


def test_a_batch_that_is_known_too_badly_is_refused() -> None:
    """An alkali known to no better than half, without a scale that has steps."""
    unknown = {"low": 0.05, "high": 0.5, "unit": "1"}
    wet = recipe(total_liquid={"water_ratio": "4:1"})
    found = fault(NAME, SHEET | wet | {"stocks": [STOCK | {"strength": {"mass_fraction": unknown}}]}, 422)
    assert (found.pointer, found.code) == ("/recipe", "contradiction")


def test_solid_beside_a_stock_is_put_into_water_too() -> None:
    answer = told(**BOTH)
    assert "solid-into-water" in codes(answer)
    assert "solid-into-water" not in codes(told())


@pytest.mark.parametrize(
    ("superfat", "told_of"),
    [("24.9 %", set()), ("25 %", {"superfat-high"}), ("0.1 %", {"free-alkali-possible"}), (0, {"free-alkali-left"})],
)
def test_a_superfat_is_told_from_where_it_is_hardly_meant(superfat: object, told_of: set[str]) -> None:
    """With limits as far from their middle on both sides, without a superfat alkali is as likely left as fat is."""
    answer = told(**recipe(superfat=superfat, fats=[{"fat": "olive-oil", "share": 1}]))
    assert codes(answer) & {"superfat-high", "free-alkali-possible", "free-alkali-left"} == told_of
    if superfat == 0:
        assert answer["free_alkali_probability"]["value"] == pytest.approx(0.5)


def test_a_sheet_says_all_that_saponification_and_the_split_say_of_its_parts() -> None:
    fats = [{"fat": "olive-oil", "share": 0.9}, {"fat": "beeswax", "share": 0.1}]
    acids = [{"acid": "citric-acid-anhydrous", "use_level": "1 %"}]
    answer = told(**recipe(fats=fats, acids=acids, superfat="12 %", liquids=[MILK, WATER]))
    weighed = {one["material"]: one["mass"] for one in answer["weigh_list"]}
    by_mass = [{"fat": one["fat"], "mass": f"{one['share']} kg"} for one in fats]
    alone = ask("saponification", {"fats": by_mass, "superfat": "12 %"})
    liquids = [{"liquid": name, "mass": weighed[name]} for name in ("goat-milk", "distilled-water")]
    split = ask(
        "liquid-split",
        {
            "alkalis": [{"alkali": "NaOH", "mass": {"value": weighed["NaOH-stock"]["value"] / 2, "unit": "g"}}],
            "stocks": [{"alkali": "NaOH", "strength": STOCK["strength"]}],
            "liquids": liquids,
        },
    )
    of_fats = {
        one["message"] for one in alone["cautions"] if one["code"] in OF_FATS and "If the wax" not in one["message"]
    }
    assert of_fats
    assert of_fats <= {one["message"] for one in answer["cautions"]}
    assert {one.message for one in HANDLING} <= {one["message"] for one in answer["cautions"]}
    assert codes(split) <= codes(answer)
    assert {"aqueous-alkali-hardly-saponifies", "liquid-brings-fat", "acid-heats-caustic"} <= codes(answer)
    assert any("If the wax takes no alkali" in one["message"] for one in answer["cautions"])
    assert any("hardly or slowly" in one["message"] for one in answer["cautions"])


def explained(**more: Any) -> dict[str, dict[str, Any]]:
    answer = ask(NAME, SHEET | {"moisture_when_sold": "10 %"} | more, explain=True)
    return {one["name"]: one for one in answer["steps"]}


SIZES: list[tuple[dict[str, Any], str | None]] = [
    ({"fat_mass": "1 kg"}, None),
    ({"batter_mass": "2 kg"}, "fats for the batter"),
    ({"bars": 10, "bar_mass": "130 g"}, "fats for the batter"),
    ({"mould_volume": "3 L"}, "fats for the moulds"),
    ({"stock_draw": "430 g"}, "fats for the draw"),
]


@pytest.mark.parametrize(("to", "name"), SIZES)
def test_the_steps_tell_where_the_mass_of_fats_comes_from(to: dict[str, Any], name: str | None) -> None:
    steps = explained(scale_to=to)
    assert {one for one in steps if one.startswith("fats for")} == ({name} if name else set())
    fats = told(scale_to=to)["fat_mass"]["value"]
    if name:
        assert redone(steps[name]) == pytest.approx(steps[name]["result"]["value"])
        assert steps[name]["result"]["value"] == pytest.approx(fats)
    asked = steps["fats for the draw"]["inputs"]["draw"]["value"] if "stock_draw" in to else 430
    assert asked == pytest.approx(430)


def test_the_steps_tell_the_water_and_what_dries_off() -> None:
    """By hand: 257.36 g of water in 1386.04 g of batter, and 1128.68 g of the rest at 10 % of water. An acid gives a
    mole of water, 18.015 g, for each mole of it that alkali takes: 3 of 192.12 g of citric acid."""
    steps = explained()
    assert steps["water of the batch"]["result"]["value"] == pytest.approx(2 * ALKALI)
    assert steps["water of the batch"]["inputs"]["poured"]["value"] == pytest.approx(2 * ALKALI)
    sold = steps["mass when sold"]
    assert sold["result"]["value"] == pytest.approx((1000 + ALKALI) / 0.9)
    assert redone(sold) == pytest.approx(sold["result"]["value"])
    acid = explained(**recipe(acids=[{"acid": "citric-acid-anhydrous", "use_level": "1 %"}]))["water of the batch"]
    assert acid["inputs"]["neutralised"]["value"] == pytest.approx(3 * 10 / 192.12 * 18.015, rel=1e-3)
    assert redone(acid) == pytest.approx(acid["result"]["value"])


def test_the_steps_end_in_the_superfat_that_is_answered() -> None:
    answer = ask(NAME, SHEET | {"scale_division": "10 g"}, explain=True)
    superfat = next(one for one in answer["steps"] if one["name"] == "superfat")
    assert superfat["result"]["value"] == pytest.approx(answer["superfat"]["value"])


EUR: dict[str, str] = {"amount": "2.00", "currency": "EUR"}


def priced(*materials: str, **more: Any) -> dict[str, Any]:
    return SHEET | {"prices": [{"material": one, "price": EUR} for one in materials]} | more


def test_a_stock_without_a_price_of_its_own_costs_what_its_solid_does() -> None:
    """By hand: 128.68 g of NaOH at 2.00 a kilogram are 0.26, and 257.36 g of stock 0.51."""
    answer = ask(NAME, priced("NaOH"))
    assert answer["cost"]["total"]["amount"] == "0.26"
    assert assumed(answer)["/prices"] == "NaOH for NaOH-stock"
    both = ask(NAME, priced("NaOH", "NaOH-stock"))
    assert both["cost"]["total"]["amount"] == "0.51"
    assert "/prices" not in assumed(both)


def test_a_bar_costs_its_share_and_without_bars_nothing_is_told_of_it() -> None:
    """By hand: 2 kg of oil at 2.00 a kilogram in 20 bars."""
    sheet = priced("own oil", scale_to={"bars": 20, "bar_mass": f"{(1000 + 3 * ALKALI) / 10!r} g"})
    assert ask(NAME, sheet)["cost"]["by_bar"]["amount"] == "0.20"
    assert "by_bar" not in ask(NAME, priced("own oil"))["cost"]


def test_a_material_has_one_price() -> None:
    found = fault(NAME, priced("own oil", "own oil"), 422)
    assert (found.pointer, found.code) == ("/prices/1/material", "contradiction")


def test_of_materials_without_a_price_four_are_named() -> None:
    for count, told_of in ((4, "scent 1, scent 2, scent 3, scent 4: the"), (5, "scent 4 and 1 more: the")):
        scents = [{"material": f"scent {at}", "kind": "fragrance", "use_level": "1 %"} for at in range(1, count + 1)]
        answer = ask(NAME, priced("own oil", "NaOH", **recipe(additions=scents)))
        assert told_of in message_of(answer, "price-missing")
    assert "price-missing" not in cautions(ask(NAME, priced("own oil", "NaOH")))


def test_a_stock_that_is_measured_by_volume_has_the_mass_of_its_density() -> None:
    """NaOH of 50 %: 1.525 kg/L at 20 °C (Perry's Chemical Engineers' Handbook, densities of aqueous solutions, from
    memory)."""
    litre = {key: value for key, value in STOCK.items() if key != "mass"} | {"volume": "1 L", "temperature": "20 °C"}
    left = told(stocks=[litre])["stocks_left"][0]["mass"]["value"]
    assert left == pytest.approx(1525 - 2 * ALKALI, rel=2e-3)
    found = fault(NAME, SHEET | {"stocks": [litre | {"volume": "0.1 L"}]}, 422)
    assert (found.pointer, found.code) == ("/stocks/0/volume", "contradiction")


def test_stocks_of_which_there_is_too_little_or_nothing_can_be_said_are_all_told() -> None:
    """The densities of NaOH begin at 0 °C, so that a volume below says no mass."""
    cold = {key: value for key, value in STOCK.items() if key != "mass"} | {"volume": "1 L", "temperature": "-5 °C"}
    stocks = [cold, POTASH | {"mass": "10 g"}]
    found = {(one.pointer, one.code) for one in refusal(NAME, SHEET | BOTH | {"stocks": stocks}).faults}
    assert found == {("/stocks/0/volume", "beyond-data"), ("/stocks/1/mass", "contradiction")}


def test_a_stock_by_volume_says_no_mass_where_the_alkali_is_weighed_dry() -> None:
    """As `left_of` promises it: what is dry has no strength, and thus no density."""
    stock = Solution(alkali="NaOH", volume=Volume(1e-3), strength=Strength(mass_fraction=Fraction(0.5)))
    dry = Source("NaOH", 0.1, EXACT, None, temperature=20.0, purity=1.0)
    assert at_hand(stock, dry, Notes(), "/stocks/0") is None
