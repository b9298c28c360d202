"""What a plan tells beside its batches: costs, materials, cautions, heat, late orders, and where a slip stands."""

import re
from typing import Any

import pytest

from service.chemistry import food_heat
from tests.calculations.asking import ask, cautions, fault, message_of, refusal
from tests.calculations.test_batch_sheet import ALKALI, OIL
from tests.calculations.test_production_plan import ARTICLE, NAME, STOCK, TANK, order_of, plan, told
from tests.calculations.test_steps import redone

SHREDS: dict[str, Any] = {"material": "shreds", "kind": "other", "use_level": "10 %", "sku": "B"}
SCENT: dict[str, Any] = {"material": "scent", "kind": "fragrance", "use_level": "3 %"}


def article(*additions: dict[str, Any], **more: Any) -> dict[str, Any]:
    return ARTICLE | {"recipe": ARTICLE["recipe"] | {"additions": list(additions)} | more}


def priced(**amounts: str) -> list[dict[str, Any]]:
    return [
        {"material": name.replace("_", " "), "price": {"amount": amount, "currency": "EUR"}}
        for name, amount in amounts.items()
    ]


def line(answer: dict[str, Any], material: str) -> dict[str, Any]:
    (found,) = (one for one in answer["materials"] if one["material"] == material)
    assert isinstance(found, dict)
    return found


def test_what_is_stirred_in_after_another_soap_costs_too() -> None:
    """By hand: two batches with 30 g of scent each at 100.00 a kilogram."""
    recipes = {"A": article(SHREDS, SCENT), "B": ARTICLE}
    first, second = told(("A", 20, None), recipes=recipes, materials=priced(scent="100.00"))["cost"]["by_sku"]
    assert (first["cost"]["amount"], second["cost"]["amount"]) == ("6.00", "0.00")


def test_bars_from_the_shelf_cost_nothing_in_another_soap() -> None:
    """By hand: a kilogram of oil at 4.20 in ten bars; the two bars of B that go in were there."""
    recipes = {"A": article(SHREDS), "B": ARTICLE}
    answer = told(
        ("A", 20, None), recipes=recipes, on_hand=[{"sku": "B", "quantity": 2}], materials=priced(own_oil="4.20")
    )
    (only,) = answer["cost"]["by_sku"]
    assert only["by_bar"]["amount"] == only["by_bar_with_parts"]["amount"] == "0.42"
    assert answer["cost"]["total"]["amount"] == "8.40"


def test_materials_without_a_price_are_told_and_counted_for_nothing() -> None:
    answer = told(("A", 10, None), recipes={"A": article(SCENT)}, stocks=[STOCK], materials=priced(own_oil="4.20"))
    assert answer["cost"]["without_price"] == ["NaOH-stock", "distilled-water", "scent"]
    assert "for NaOH-stock, scent: the cost counts nothing" in message_of(answer, "price-missing")
    assert answer["cost"]["total"]["amount"] == "4.20"


def test_what_lacks_by_whole_packages_is_bought_in_as_many() -> None:
    """By hand: 3 kg of oil, 1 kg there: two packages of a kilogram, and three of 700 g."""
    for package, count in (("1 kg", 2), ("700 g", 3)):
        shelf = [{"material": "own oil", "mass": "1 kg", "package_mass": package}]
        oil = line(told(("A", 30, None), materials=shelf), "own oil")
        assert oil["packages"]["value"] == count
        assert oil["purchase"]["value"] >= oil["short"]["value"] == pytest.approx(2000)


def test_what_is_there_to_the_gram_is_not_bought() -> None:
    answer = told(("A", 30, None), materials=[{"material": "own oil", "mass": "3 kg", "package_mass": "1 kg"}])
    assert (line(answer, "own oil")["short"]["value"], line(answer, "own oil")["packages"]["value"]) == (0, 0)
    assert "own oil" not in {one["material"] for one in answer["shortages"]}
    assert "own oil" not in answer["purchase_lines"]


def test_a_material_that_is_counted_by_volume_is_told_so() -> None:
    """By hand: 2 kg of oil of 0.92 kg/L are 2.174 L."""
    shelf = [{"material": "own oil", "unit": "L", "density": "0.92 kg/L"}]
    oil = line(told(("A", 20, None), materials=shelf), "own oil")
    assert (oil["quantity"], oil["short_quantity"], oil["unit_code"]) == ("2.173913", "2.173914", "LTR")


def test_a_gram_that_lacks_is_on_the_list_of_what_is_bought() -> None:
    answer = told(("A", 10, None), materials=[{"material": "own oil", "mass": "999 g"}])
    assert "own oil,own oil,0.001,KGM,A\r\n" in answer["purchase_lines"]


def test_a_material_is_on_the_shelf_once() -> None:
    found = fault(NAME, plan(("A", 10, None), materials=[{"material": "own oil"}] * 2), 422)
    assert (found.pointer, found.code) == ("/materials/1/material", "contradiction")


def test_materials_that_nothing_takes_are_named_as_far_as_three() -> None:
    shelf = [{"material": f"dye {name}"} for name in ("red", "blue", "black")]
    three = message_of(told(("A", 10, None), materials=shelf), "materials-not-taken")
    assert "shelf: dye red; dye blue; dye black. What" in three
    shelf.append({"material": "dye white"})
    four = message_of(told(("A", 10, None), materials=shelf), "materials-not-taken")
    assert "shelf: dye red; dye blue; dye black and 1 more. What" in four


def test_a_name_close_to_one_that_does_not_lack_is_no_slip_of_it() -> None:
    shelf = [{"material": "own oill"}]
    assert cautions(told(("A", 10, None), materials=shelf))["materials-not-taken"]["severity"] == "caution"
    shelf.append({"material": "own oil", "mass": "1 kg"})
    found = cautions(told(("A", 10, None), materials=shelf))["materials-not-taken"]
    assert found["severity"] == "note"
    assert "own oill. What" in found["message"]


LONG = "".join(chr(ord("a") + number % 26) for number in range(110))


def repeated(text: str) -> int:
    """How many letters of the long name a text repeats."""
    return max(count for count in range(len(LONG) + 1) if LONG[:count] in text)


def test_a_long_name_is_repeated_to_its_fortieth_letter_in_a_caution_and_to_its_sixtieth_in_a_fault() -> None:
    """As everywhere in the service: forty letters in what is read at the bench, sixty where a slip is looked for."""
    shelf = [{"material": LONG}]
    assert repeated(message_of(told(("A", 10, None), materials=shelf), "materials-not-taken")) == 40
    assert repeated(fault(NAME, plan(("A", 10, None), materials=shelf * 2), 422).detail) == 60
    strong = SCENT | {"material": LONG, "highest_share": "1 %"}
    answer = told(("A", 10, None), recipes={"A": article(strong)})
    assert repeated(message_of(answer, "use-limit-exceeded")) == 40
    sheet = {"recipe": ARTICLE["recipe"], "scale_to": ARTICLE["batch"], "prices": priced(own_oil="1")}
    sheet["prices"][0]["material"] = LONG
    assert repeated(fault("batch-sheet", sheet, 422).detail) == 60


def test_articles_with_too_much_of_something_are_counted() -> None:
    strong = article(SCENT | {"highest_share": "1 %"})
    for count, more in (
        (1, "scent in A:"),
        (2, "scent in A and in 1 more articles:"),
        (3, "A and in 2 more articles:"),
    ):
        skus = "ABC"[:count]
        answer = told(*((sku, 10, None) for sku in skus), recipes=dict.fromkeys(skus, strong))
        assert more in message_of(answer, "use-limit-exceeded")


def test_articles_that_may_leave_alkali_free_are_named_as_far_as_four() -> None:
    bare = ARTICLE | {"recipe": ARTICLE["recipe"] | {"superfat": 0}}
    for skus, named in (("ABCD", "in: A, B, C, D. Such"), ("ABCDE", "in: A, B, C, D and 1 more. Such")):
        answer = told(*((sku, 10, None) for sku in skus), recipes=dict.fromkeys(skus, bare))
        assert named in message_of(answer, "free-alkali-possible")


def test_every_plan_says_that_a_batch_has_its_sheet() -> None:
    assert "sheet-for-each-batch" in cautions(told(("A", 10, None)))


def test_a_solid_is_dissolved_with_care_and_a_stock_is_not_dissolved() -> None:
    assert "dissolving-heats" not in cautions(told(("A", 10, None), stocks=[STOCK]))


def test_each_draw_is_a_step_with_its_batch() -> None:
    answer = ask(NAME, plan(("A", 30, None), stocks=[STOCK]), explain=True)
    draws = [one for one in answer["steps"] if one["name"].startswith("draw of batch")]
    assert [one["name"].split()[3] for one in draws] == [f"{batch['number']['value']:g}" for batch in answer["batches"]]
    for step, batch in zip(draws, answer["batches"], strict=True):
        assert redone(step) == pytest.approx(batch["stock_draws"][0]["mass"]["value"])
        assert step["inputs"]["alkali"]["value"] == pytest.approx(ALKALI)


LARD: dict[str, Any] = {"fats": [{"fat": "lard", "share": 1}], "superfat": "5 %"}


def heated(fats: dict[str, Any], count: int = 10, **more: Any) -> dict[str, Any]:
    heating = {"power": "1 kW", "fats_temperature": "60 °C"} | more
    return told(("A", count, None), recipes={"A": ARTICLE | {"recipe": fats}}, heating=heating)


def test_the_heat_that_melts_lies_between_none_and_all_of_it_and_the_value_in_the_middle() -> None:
    """With its own recipe's oil nothing is known to set; lard sets at 5 °C, with up to 150 kJ/kg, that of cocoa butter
    (from memory, as the service has it), of which the heater gives 80 % to it."""
    for count, mass in ((10, 1.0), (30, 3.0)):
        energy = heated(LARD, count, ambient="5 °C")["heating_energy"]
        liquid = heated(ARTICLE["recipe"], count, ambient="5 °C")["heating_energy"]
        factor = 1 if energy["unit"] == "kJ" else 3600
        assert energy["low"] == pytest.approx(liquid["value"])
        assert (energy["high"] - energy["low"]) * factor == pytest.approx(mass * 150 / 0.8)
        assert energy["value"] == pytest.approx((energy["low"] + energy["high"]) / 2)


def test_a_heater_that_half_as_much_comes_through_takes_twice_as_long() -> None:
    usual, half = heated(LARD), heated(LARD, efficiency="40 %")
    for member in ("heating_time", "heating_energy"):
        assert half[member]["value"] == pytest.approx(2 * usual[member]["value"])


def test_fats_are_warmed_where_their_heat_is_known_and_upwards() -> None:
    """To 150 °C, where the published equations end (Choi and Okos 1986)."""
    hottest = food_heat.HOTTEST
    assert hottest == 150
    assert heated(LARD, fats_temperature=f"{hottest} °C")["heating_energy"]["value"] > 0
    request = plan(("A", 10, None))
    for heating, pointer, code in (
        ({"fats_temperature": "150.1 °C"}, "/heating/fats_temperature", "beyond-data"),
        ({"fats_temperature": "20 °C", "ambient": "-41 °C"}, "/heating/ambient", "beyond-data"),
        ({"fats_temperature": "19 °C"}, "/heating/fats_temperature", "contradiction"),
    ):
        found = fault(NAME, request | {"heating": {"power": "1 kW"} | heating}, 422)
        assert (found.pointer, found.code) == (pointer, code)


def test_a_soap_that_need_not_dry_goes_into_another_on_its_day() -> None:
    answer = told(("A", 20, "2031-03-10"), recipes={"A": article(SHREDS), "B": ARTICLE})
    assert order_of(answer) == [("B", 1), ("A", 1), ("A", 1)]


def test_an_order_that_the_shelf_serves_to_the_last_bar_is_not_late() -> None:
    answer = told(
        ("A", 10, "2031-03-03"),
        ("A", 10, "2031-03-31"),
        recipes={"A": ARTICLE | {"ready_after_days": 28}},
        on_hand=[{"sku": "A", "quantity": 10}],
        first_day="2031-03-03",
    )
    assert [one["day"] for one in answer["batches"]] == ["2031-03-03"]
    assert answer["late_orders"] == []


def test_parts_are_counted_alike_however_a_recipe_is_written() -> None:
    """By hand: of two batches a tenth of a kilogram of fats each, 200 g of bars of 138 g: two, of ten."""
    fats = [OIL | {"mass": "500 g"}]
    fats[0].pop("share")
    by_mass = SHREDS | {"mass": "50 g"}
    by_mass.pop("use_level")
    for one in (article(SHREDS), article(SHREDS, fats=fats), article(by_mass, fats=fats)):
        answer = told(("A", 20, None), recipes={"A": one, "B": ARTICLE})
        assert answer["surplus"] == [{"sku": "B", "quantity": {"value": 8.0, "unit": "1"}}]


def test_a_part_of_which_no_bar_was_weighed_is_refused() -> None:
    light = {key: value for key, value in ARTICLE.items() if key != "bar_mass"}
    found = fault(NAME, plan(("A", 10, None)) | {"recipes": {"A": article(SHREDS), "B": light}}, 422)
    assert (found.pointer, found.code) == ("/recipes/B/bar_mass", "contradiction")


def test_a_tank_of_which_nothing_says_how_it_is_mixed_is_not_filled_anew() -> None:
    found = fault(NAME, plan(("A", 10, None), stocks=[STOCK | {"vessel": TANK, "mass": "200 g"}]), 422)
    assert (found.pointer, found.code) == ("/stocks/0", "stock-runs-out")


def test_orders_without_a_recipe_are_all_told_where_they_stand() -> None:
    orders = [{"sku": f"Z{number}", "quantity": 1} for number in range(30)]
    faults = refusal(NAME, plan(("A", 1, None)) | {"orders": orders}).faults
    pointers = [str(one.pointer) for one in faults]
    assert pointers == [f"/orders/{number}/sku" for number in range(len(pointers))]
    assert all(re.search(r"no recipe for 'Z\d+'", one.detail) for one in faults)
