"""The production plan: batches, days, tanks and materials by hand, and against an exhaustive search."""

import itertools
import json
import math
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.plan_days import Job, Moulds, days_of
from service.calculations.orders.plan_demand import Article, Demand, Part, cycle_of, levels, needed
from tests.calculations.asking import ask, assumed, cautions, fault, refusal
from tests.calculations.test_batch_sheet import ALKALI, OIL

NAME = "production-plan"
TANK: dict[str, Any] = {"material": "hdpe", "volume": "5 L", "lid": False}
STOCK: dict[str, Any] = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": "50 %"}}
REMIXED: dict[str, Any] = STOCK | {"vessel": TANK, "remixing": {"peak_limit": "70 °C", "purity": "99 %"}}
ARTICLE: dict[str, Any] = {
    "recipe": {"fats": [OIL], "superfat": "5 %", "total_liquid": {"water_ratio": "2:1"}},
    "batch": {"fat_mass": "1 kg"},
    "bars": 10,
    "bar_mass": "138 g",
}
DRAW = 2 * ALKALI
"""Of a batch, from the 50 % stock [g]."""


def plan(*orders: tuple[str, int, str | None], **more: Any) -> dict[str, Any]:
    lines = [{"sku": sku, "quantity": count} | ({"due": due} if due else {}) for sku, count, due in orders]
    recipes = {sku: ARTICLE for sku, *_ in orders}
    return {"orders": lines, "recipes": recipes} | more


def told(*orders: tuple[str, int, str | None], **more: Any) -> dict[str, Any]:
    return ask(NAME, plan(*orders, **more))


def order_of(answer: dict[str, Any]) -> list[tuple[str, int]]:
    return [(one["sku"], int(one["work_day"]["value"])) for one in answer["batches"]]


def test_orders_share_batches_and_what_is_over_is_told() -> None:
    """By hand: 12 and 13 bars are 25, three batches of ten, five over."""
    answer = told(("A", 12, "2031-03-10"), ("A", 13, "2031-03-20"))
    assert [one["due"] for one in answer["batches"]] == ["2031-03-10", "2031-03-10", "2031-03-20"]
    assert answer["surplus"] == [{"sku": "A", "quantity": {"value": 5.0, "unit": "1"}}]


def test_bars_on_the_shelf_serve_first() -> None:
    answer = told(("A", 12, None), ("A", 13, None), on_hand=[{"sku": "A", "quantity": 6}])
    assert len(answer["batches"]) == 2
    assert answer["surplus"][0]["quantity"]["value"] == 1
    assert told(("A", 12, None), on_hand=[{"sku": "A", "quantity": 60}])["batches"] == []


def test_what_is_due_first_is_made_first_and_one_article_after_the_other() -> None:
    answer = told(
        ("B", 10, "2031-03-20"),
        ("A", 20, "2031-03-20"),
        ("C", 10, "2031-03-10"),
        ("B", 10, None),
        ("A", 5, "2031-03-10"),
    )
    assert [one["sku"] for one in answer["batches"]] == ["A", "C", "B", "A", "A", "B"]


def test_a_day_holds_what_fits_and_moulds_are_waited_for() -> None:
    """By hand: one set of moulds that stays filled for two days; B has others, and fills the day between."""
    recipes = {"A": ARTICLE | {"mould_set": "slab"}, "B": ARTICLE}
    capacity = {"batches_per_day": 1, "mould_sets": [{"name": "slab", "count": 1, "days_filled": 2}]}
    answer = told(("A", 20, "2031-03-10"), ("B", 10, "2031-03-20"), recipes=recipes, capacity=capacity)
    assert order_of(answer) == [("A", 1), ("B", 2), ("A", 3)]


def test_an_order_that_cannot_be_ready_is_told_and_not_dropped() -> None:
    recipes = {"A": ARTICLE | {"ready_after_days": 28}}
    dated = {"first_day": "2031-03-03", "capacity": {"batches_per_day": 1}, "recipes": recipes}
    answer = told(("A", 10, "2031-03-31"), ("A", 10, "2031-03-31"), **dated)
    assert [one["day"] for one in answer["batches"]] == ["2031-03-03", "2031-03-04"]
    assert [one["late"] for one in answer["batches"]] == [False, True]
    assert answer["late_orders"] == [
        {"order": {"value": 1.0, "unit": "1"}, "sku": "A", "due": "2031-03-31", "ready": "2031-04-01"}
    ]


def test_without_a_first_day_nothing_is_called_in_time() -> None:
    answer = told(("A", 10, "2031-03-31"), ("B", 10, None))
    assert not any("late" in one for one in answer["batches"])
    assert "late_orders" not in answer
    assert assumed(answer)["/first_day"] == "not given"
    assert told(("A", 10, None))["late_orders"] == []


def test_a_plan_tells_what_its_caustic_needs_once() -> None:
    """NaOH of 50 % begins to crystallise near 12 °C; a batch without a stock dissolves solid."""
    cold = told(("A", 30, None), ("B", 30, None), stocks=[STOCK | {"mass": "5 kg", "temperature": "5 °C"}])
    codes = [one["code"] for one in cold["cautions"]]
    for code in ("crystals-in-solution", "stock-by-weight-only", "store-closed", "metals-attacked"):
        assert codes.count(code) == 1
    assert "solid-into-water" not in codes
    assert "solid-into-water" in cautions(told(("A", 30, None)))
    hot = cautions(told(("A", 10, None), stocks=[STOCK | {"temperature": "95 °C"}]))["stock-hot"]
    assert hot["severity"] == "danger"


@pytest.mark.parametrize(("level", "told_of"), [("1 %", False), ("4 %", True)])
def test_an_addition_beyond_its_limit_is_told_with_its_article(level: str, *, told_of: bool) -> None:
    scent = {"material": "scent", "kind": "fragrance", "use_level": level, "highest_share": "2 %"}
    recipes = {"A": ARTICLE | {"recipe": ARTICLE["recipe"] | {"additions": [scent]}}}
    found = cautions(told(("A", 10, None), recipes=recipes)).get("use-limit-exceeded")
    assert (found is not None) == told_of
    assert found is None or "scent in A" in found["message"]


def test_each_draw_leaves_what_it_leaves_and_reserve_and_dead_volume_stay() -> None:
    """By hand: 257.36 g a batch; of 1 kg, 100 g of reserve and 0.1 L of 1.5229 kg/L below the outlet, two batches."""
    second = STOCK | {"mass": "2 kg"}
    first = STOCK | {"vessel": TANK | {"dead_volume": "0.1 L"}, "reserve": "100 g"}
    answer = told(("A", 40, None), stocks=[first, second])
    draws = [one["stock_draws"][0] for one in answer["batches"]]
    assert [int(one["stock"]["value"]) for one in draws] == [0, 0, 1, 1]
    assert [one["stock_left"]["value"] for one in draws] == pytest.approx(
        [1000 - DRAW, 1000 - 2 * DRAW, 2000 - DRAW, 2000 - 2 * DRAW]
    )


def test_a_recipe_is_made_with_the_tank_that_is_strong_enough_for_it() -> None:
    """With 1.2 parts of liquid to one of alkali a stock of 40 %, 1.5:1, is too weak, and one of 50 % is not."""
    weak = STOCK | {"strength": {"mass_fraction": "40 %"}}
    dry = ARTICLE | {"recipe": ARTICLE["recipe"] | {"total_liquid": {"water_ratio": 1.2}}}
    both = plan(("DRY", 10, None), ("WET", 10, None)) | {"recipes": {"DRY": dry, "WET": ARTICLE}}
    batches = ask(NAME, both | {"stocks": [weak, STOCK]})["batches"]
    assert [(one["sku"], one["stock_draws"][0]["stock"]["value"]) for one in batches] == [("DRY", 1), ("WET", 0)]
    found = fault(NAME, both | {"stocks": [weak]}, 422)
    assert (found.pointer, found.code) == ("/recipes/DRY/recipe/total_liquid", "stock-too-weak")
    empty = fault(NAME, both | {"stocks": [weak, STOCK | {"mass": "0 kg"}]}, 422)
    assert (empty.pointer, empty.code) == ("/stocks/1", "stock-runs-out")


def test_a_tank_is_filled_anew_in_time_by_the_sheet_of_its_mixing() -> None:
    answer = told(("A", 80, None), stocks=[REMIXED], capacity={"batches_per_day": 2}, first_day="2031-03-03")
    (mixing,) = answer["mixings"]
    assert mixing["before_batch"]["value"] == 4  # 1000 - 3 * 257.4 g leave too little
    assert mixing["needed_on"]["value"] == 3  # the third draw is on day 2: mixed then, cool on the next
    assert (mixing["mix_on"]["value"], mixing["mix_day"]) == (2, "2031-03-04")
    assert [one["work_day"]["value"] for one in answer["batches"]] == [1, 1, 2, 3, 4, 4, 5, 5]
    left = 1000 - 3 * DRAW
    assert mixing["stock_before"]["value"] == pytest.approx(left)
    request = {
        "solid": {"alkali": "NaOH", "purity": "99 %"},
        "strength": {"mass_fraction": "50 %"},
        "peak_limit": "70 °C",
        "vessel": TANK,
        "existing_stock": STOCK | {"mass": f"{left!r} g"},
    }
    alone = ask("stock-mixing/ice", request)
    for member in ("mass_as_supplied", "ice_mass", "water_mass", "mass", "peak_temperature"):
        assert mixing[member]["value"] == pytest.approx(alone[member]["value"], rel=1e-9)
    materials = {one["material"]: one for one in answer["materials"]}
    assert materials["NaOH"]["required"]["value"] == pytest.approx(alone["mass_as_supplied"]["value"])
    assert materials["NaOH"]["needed_for"] == ["stock"]
    assert answer["batches"][3]["stock_draws"][0]["stock_left"]["value"] == pytest.approx(alone["mass"]["value"] - DRAW)


def test_an_order_larger_than_a_filling_takes_several_mixings() -> None:
    answer = told(("A", 600, None), stocks=[REMIXED])
    assert len(answer["batches"]) == 60
    assert len(answer["mixings"]) == 3
    drawn = math.fsum(one["stock_draws"][0]["mass"]["value"] for one in answer["batches"])
    mixed = math.fsum(one["mass"]["value"] - one["stock_before"]["value"] for one in answer["mixings"])
    assert 1000 + mixed - drawn == pytest.approx(answer["batches"][-1]["stock_draws"][0]["stock_left"]["value"])


def test_materials_are_the_sum_over_batches_and_packages_are_whole() -> None:
    """By hand: three batches of 1 kg; 2.4 kg there; 0.6 kg lack, one bag of 1 kg, 2.2 lb."""
    shelf = [{"material": "own oil", "sku": "RM-1", "mass": "2.4 kg", "package_mass": "1 kg", "unit": "lb"}]
    answer = told(("A", 30, None), stocks=[STOCK], materials=shelf)
    oil = next(one for one in answer["materials"] if one["material"] == "own oil")
    assert (oil["required"]["value"], oil["short"]["value"]) == pytest.approx((3000, 600))
    assert (oil["packages"]["value"], oil["purchase"]["value"]) == (1, 1000)
    assert (oil["quantity"], oil["purchase_quantity"], oil["unit_code"]) == ("6.613868", "2.204623", "LBR")
    assert "RM-1,own oil,6.613868,LBR,A\r\n" in answer["material_lines"]
    assert "RM-1,own oil,2.204623,LBR,A\r\n" in answer["purchase_lines"]


def test_what_is_bought_is_never_rounded_below_what_lacks() -> None:
    """By hand: 0.01 % of 1 kg is 0.1 g; a third of a gram of a dye in kilograms ends in threes, and is bought up."""
    dye = {"material": "dye", "kind": "colour", "use_level": {"value": 1 / 30, "unit": "%"}}
    recipes = {"A": ARTICLE | {"recipe": ARTICLE["recipe"] | {"additions": [dye]}}}
    answer = told(("A", 10, None), recipes=recipes)
    line = next(one for one in answer["materials"] if one["material"] == "dye")
    assert (line["quantity"], line["purchase_quantity"]) == ("0.000333", "0.000334")


def test_a_batch_waits_for_stock_that_is_mixed_after_the_last_draw_and_must_cool() -> None:
    """A jug that gives two batches: it is never mixed while it is drawn from, nor drawn from while it is hot."""
    jug = REMIXED | {"vessel": TANK | {"volume": "0.5 L"}, "mass": "0 kg"}
    answer = told(("A", 60, None), stocks=[jug], capacity={"batches_per_day": 3}, first_day="2031-03-03")
    days = [one["work_day"]["value"] for one in answer["batches"]]
    drawn_on: list[float] = []
    for mixing in answer["mixings"]:
        number = int(mixing["before_batch"]["value"])
        assert mixing["mix_on"]["value"] >= max([1, *days[: number - 1]])
        assert mixing["mix_on"]["value"] + 1 <= days[number - 1] == mixing["needed_on"]["value"]
        drawn_on.append(days[number - 1])
    assert len(drawn_on) == 3
    assert days == [2, 2, 3, 4, 5, 5]  # all that follows a batch that waits is moved by as many days


def test_what_takes_longest_to_be_ready_is_poured_first() -> None:
    """By hand: A is due a day later than Q, and must be poured 26 days earlier."""
    recipes = {"A": ARTICLE | {"ready_after_days": 28}, "Q": ARTICLE | {"ready_after_days": 1}}
    answer = told(
        ("A", 10, "2031-03-31"),
        ("Q", 10, "2031-03-30"),
        recipes=recipes,
        first_day="2031-03-03",
        capacity={"batches_per_day": 1},
    )
    assert [one["sku"] for one in answer["batches"]] == ["A", "Q"]
    assert answer["late_orders"] == []


def test_bars_that_go_into_another_soap_are_not_there_for_an_order() -> None:
    """By hand: of 40 bars on the shelf 8 go into C, and 8 of the 40 ordered wait for a batch that dries 21 days."""
    shreds = {"material": "shreds", "kind": "other", "use_level": "110.4 %", "sku": "P"}
    recipes = {
        "C": ARTICLE | {"recipe": ARTICLE["recipe"] | {"additions": [shreds]}, "ready_after_days": 1},
        "P": ARTICLE | {"ready_after_days": 21},
    }
    answer = told(
        ("C", 10, "2031-03-10"),
        ("P", 40, "2031-03-20"),
        recipes=recipes,
        on_hand=[{"sku": "P", "quantity": 40}],
        first_day="2031-03-03",
    )
    assert [one["order"]["value"] for one in answer["late_orders"]] == [1]


def test_a_cell_that_a_spreadsheet_would_run_is_made_harmless() -> None:
    shelf = [{"material": "own oil", "sku": "=1+1", "description": 'a "quoted", name'}]
    answer = told(("A", 10, None), materials=shelf)
    assert '\'=1+1,"a ""quoted"", name",1.000,KGM,A\r\n' in answer["material_lines"]


def test_a_soap_that_goes_into_another_is_made_first_in_whole_bars() -> None:
    """By hand: two batches take 100 g of shreds each, of bars of 138 g: 0.72 and 1.45 bars, so two; one batch."""
    shreds = {"material": "shreds", "kind": "other", "use_level": "10 %", "sku": "B"}
    recipes = {
        "A": ARTICLE | {"recipe": ARTICLE["recipe"] | {"additions": [shreds]}},
        "B": ARTICLE | {"ready_after_days": 7},
    }
    answer = told(("A", 20, "2031-03-10"), recipes=recipes, capacity={"batches_per_day": 5})
    assert order_of(answer) == [("B", 1), ("A", 8), ("A", 8)]
    assert answer["surplus"] == [{"sku": "B", "quantity": {"value": 8.0, "unit": "1"}}]
    assert "shreds" not in {one["material"] for one in answer["materials"]}


def test_a_bar_with_another_soap_in_it_costs_what_that_costs_too() -> None:
    """By hand: 1 kg of oil at 4.20 makes ten bars, 0.42 each; 100 g of shreds are 0.7246 bars of 138 g in ten: 0.03."""
    shreds = {"material": "shreds", "kind": "other", "use_level": "10 %", "sku": "B"}
    recipes = {"A": ARTICLE | {"recipe": ARTICLE["recipe"] | {"additions": [shreds]}}, "B": ARTICLE}
    shelf = [{"material": "own oil", "price": {"amount": "4.20", "currency": "EUR"}}]
    first, second = told(("A", 20, None), recipes=recipes, materials=shelf)["cost"]["by_sku"]
    assert first["by_bar"]["amount"] == second["by_bar"]["amount"] == "0.42"
    assert first["by_bar_with_parts"]["amount"] == "0.45"
    assert "by_bar_with_parts" not in second


def test_costs_by_article_make_the_total_and_half_cents_go_to_even() -> None:
    """By hand: 2 kg of oil at 4.20 and 257.36 g of NaOH at 3.00 are 8.40 and 0.77 a kilogram; 9.17 over 20 bars."""
    prices = [("own oil", "4.20"), ("NaOH", "3.00")]
    shelf = [{"material": name, "price": {"amount": amount, "currency": "EUR"}} for name, amount in prices]
    answer = told(("A", 20, None), ("B", 10, None), stocks=[STOCK], materials=shelf)
    assert [one["cost"]["amount"] for one in answer["cost"]["by_sku"]] == ["9.17", "4.59"]
    assert answer["cost"]["by_sku"][0]["by_bar"]["amount"] == "0.46"
    assert answer["cost"]["total"] == {"amount": "13.76", "currency": "EUR"}


def test_heating_is_heat_over_power() -> None:
    """By hand: 2 kg of oil by 30 K at about 2.02 kJ/(kg K) (Choi & Okos 1986), 0.8 of 1 kW: 151 s."""
    heating = {"power": "1 kW", "fats_temperature": "50 °C"}
    answer = told(("A", 20, None), heating=heating)
    assert answer["heating_time"]["value"] * 3600 == pytest.approx(2 * 30 * 2.02 / 0.8, rel=0.01)
    assert answer["heating_energy"]["value"] == pytest.approx(answer["heating_time"]["value"] * 3600, rel=1e-9)


REFUSED: list[tuple[dict[str, Any], str, str]] = [
    ({"orders": [{"sku": "Z", "quantity": 1}]}, "/orders/0/sku", "unknown-identifier"),
    ({"on_hand": [{"sku": "Z", "quantity": 1}]}, "/on_hand/0/sku", "unknown-identifier"),
    ({"orders": [{"sku": "A", "quantity": 1, "due": "2031-02-30"}]}, "/orders/0/due", "contradiction"),
    ({"orders": [{"sku": "A", "quantity": 0}]}, "/orders/0/quantity", "out-of-range"),
    ({"on_hand": [{"sku": "A", "quantity": -1}]}, "/on_hand/0/quantity", "out-of-range"),
    ({"materials": [{"material": "lard", "mass": "-1 kg"}]}, "/materials/0/mass", "out-of-range"),
    ({"materials": [{"material": "lard", "unit": "L"}]}, "/materials/0/unit", "unit-does-not-fit"),
    ({"stocks": [STOCK | {"mass": "200 g"}]}, "/stocks/0", "stock-runs-out"),
    ({"stocks": [REMIXED | {"mass": "40 kg"}]}, "/stocks/0/mass", "contradiction"),
    (
        {"capacity": {"mould_sets": [{"name": "m", "count": 5}, {"name": "m", "count": 1}]}},
        "/capacity/mould_sets/1/name",
        "contradiction",
    ),
    (
        {"stocks": [REMIXED | {"vessel": TANK | {"volume": "0.15 L"}, "mass": "0 g"}]},
        "/recipes/A/batch/fat_mass",
        "stock-runs-out",
    ),
    ({"stocks": [STOCK | {"remixing": REMIXED["remixing"]}]}, "/stocks/0/vessel", "contradiction"),
    ({"orders": [{"sku": "A", "quantity": 1_000_000}] * 3}, "/recipes/A", "too-large-a-plan"),
    (
        {"recipes": {"A": ARTICLE | {"mould_set": "x"}}, "capacity": {"mould_sets": [{"name": "y", "count": 1}]}},
        "/recipes/A/mould_set",
        "unknown-identifier",
    ),
    (
        {"recipes": {"A": ARTICLE | {"recipe": {"fats": [OIL | {"share": 0.5}]}}}},
        "/recipes/A/recipe/fats",
        "does-not-add-up",
    ),
]


@pytest.mark.parametrize(("change", "pointer", "code"), REFUSED)
def test_what_cannot_be_planned_is_refused_where_it_stands(change: dict[str, Any], pointer: str, code: str) -> None:
    found = {(one.pointer, one.code) for one in refusal(NAME, plan(("A", 30, None)) | change).faults}
    assert (pointer, code) in found


def test_soaps_that_go_into_each_other_are_refused_with_their_way() -> None:
    def into(sku: str) -> dict[str, Any]:
        shreds = {"material": "shreds", "kind": "other", "use_level": "10 %", "sku": sku}
        return ARTICLE | {"recipe": ARTICLE["recipe"] | {"additions": [shreds]}}

    found = fault(NAME, plan(("A", 1, None)) | {"recipes": {"A": into("B"), "B": into("C"), "C": into("A")}}, 422)
    assert found.code == "cyclic-recipes"
    assert "A goes into C goes into B goes into A" in found.detail


def test_two_currencies_are_refused_where_the_second_stands() -> None:
    shelf = [
        {"material": name, "price": {"amount": "1", "currency": currency}}
        for name, currency in (("own oil", "EUR"), ("NaOH", "USD"))
    ]
    found = fault(NAME, plan(("A", 1, None), materials=shelf), 422)
    assert (found.pointer, found.code) == ("/materials/1/price/currency", "two-currencies")


def test_more_lines_than_a_plan_holds_are_refused() -> None:
    found = fault(NAME, plan(("A", 1, None)) | {"orders": [{"sku": "A", "quantity": 1}] * 10_001}, 400)
    assert (found.pointer, found.code) == ("/orders", "too-many")


def test_a_slip_in_one_order_of_many_is_told_alone() -> None:
    lines = [{"sku": "A", "quantity": 1}] * 500 + [{"sku": "AA", "quantity": 1}]
    found = fault(NAME, plan(("A", 1, None)) | {"orders": lines}, 422)
    assert found.pointer == "/orders/500/sku"


def test_the_same_plan_gets_the_same_bytes() -> None:
    request = json.dumps(plan(("A", 80, "2031-03-20"), ("B", 15, None), stocks=[REMIXED])).encode()
    assert ask(NAME, request) == ask(NAME, request)


@given(
    counts=st.lists(st.integers(1, 60), min_size=1, max_size=4),
    level=st.integers(1, 10),
    division=st.sampled_from([None, "1 g", "7 g"]),
)
def test_materials_are_those_of_the_sheets_of_all_batches(counts: list[int], level: int, division: str | None) -> None:
    """Each batch asked for by itself, and added up."""
    scent = {"material": "scent", "kind": "fragrance", "use_level": f"{level} %"}
    recipes = {
        f"S{at}": ARTICLE
        | {"recipe": ARTICLE["recipe"] | {"additions": [scent]}, "batch": {"fat_mass": f"{at + 1} kg"}}
        for at in range(len(counts))
    }
    more = {} if division is None else {"scale_division": division}
    orders = [(f"S{at}", count, None) for at, count in enumerate(counts)]
    answer = told(*orders, recipes=recipes, **more)
    due: dict[str, float] = {}
    for batch in answer["batches"]:
        one = recipes[batch["sku"]]
        sheet = ask("batch-sheet", {"recipe": one["recipe"], "scale_to": one["batch"]} | more)
        for line in sheet["weigh_list"]:
            due[line["material"]] = due.get(line["material"], 0.0) + line["mass"]["value"]
    assert {one["material"]: one["required"]["value"] for one in answer["materials"]} == pytest.approx(due, rel=1e-9)


@given(
    bars=st.integers(1, 12),
    orders=st.lists(st.tuples(st.integers(1, 30), st.integers(1, 28)), min_size=1, max_size=6),
    shelf=st.integers(0, 20),
)
def test_no_plan_wastes_fewer_bars_or_is_earlier_by_an_exhaustive_search(
    bars: int, orders: list[tuple[int, int]], shelf: int
) -> None:
    """Every number of batches up to what is ordered is tried: the fewest that serve all orders leave least over."""
    demands = [Demand(count, date(2031, 3, day)) for count, day in orders]
    found = needed({"A": Article(bars)}, {"A": demands}, {"A": shelf}, 10_000)["A"]
    total = sum(count for count, _ in orders)
    fewest = next(count for count in itertools.count() if count * bars + shelf >= total)
    assert len(found.dues) == fewest
    assert found.surplus == fewest * bars + min(shelf, total) - total
    assert found.dues == sorted(found.dues, key=lambda one: one or date.max)
    for place, due in enumerate(found.dues):  # with one batch fewer by then, something that is due would lack
        wanted = sum(count for count, day in orders if due is not None and date(2031, 3, day) <= due)
        assert place * bars + shelf < wanted


@given(
    jobs=st.lists(st.sampled_from([None, "a", "b"]), min_size=1, max_size=30),
    per_day=st.integers(1, 4),
    sets=st.integers(1, 3),
    filled=st.integers(1, 3),
)
def test_no_day_holds_more_than_fits(jobs: list[str | None], per_day: int, sets: int, filled: int) -> None:
    moulds = {"a": Moulds(sets, filled), "b": Moulds(1, 1)}
    days = days_of([Job("x", one, (), 0) for one in jobs], per_day, moulds)
    for day in range(1, max(days) + 1):
        assert days.count(day) <= per_day
        for name, kind in moulds.items():
            busy = sum(
                1
                for one, began in zip(jobs, days, strict=True)
                if one == name and began <= day < began + kind.days_filled
            )
            assert busy <= kind.sets


def test_parts_lie_deeper_than_what_they_go_into() -> None:
    articles = {"a": Article(1, (Part("b", 1), Part("c", 1))), "b": Article(1, (Part("c", 1),)), "c": Article(1)}
    assert levels(articles) == {"a": 0, "b": 1, "c": 2}
    assert cycle_of(articles) is None
    assert cycle_of(articles | {"c": Article(1, (Part("a", 1),))}) is not None


def test_a_recipe_that_may_leave_alkali_free_is_named() -> None:
    recipes = {"A": ARTICLE | {"recipe": ARTICLE["recipe"] | {"superfat": 0}}, "B": ARTICLE}
    found = cautions(told(("A", 10, None), ("B", 10, None), recipes=recipes))["free-alkali-possible"]
    assert "take in: A. " in found["message"]
