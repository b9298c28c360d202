"""What a batch consists of, as its parts are poured and once it has reacted: balances, by hand and in general."""

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.batch_content import ADDITION, Content, batter
from service.calculations.orders.batch_made import as_weighed, make
from service.calculations.orders.recipe import Recipe, RecipeFat
from service.calculations.orders.recipe_reading import read_recipe
from service.calculations.shared.given import Fraction, PlainMass, Share
from service.calculations.shared.messages import Solution, Strength
from service.calculations.shared.notes import Notes
from service.chemistry.density import density
from tests.calculations.asking import Answer, ask, assumed
from tests.calculations.test_batch_sheet import ALKALI, NAME, SHEET, STOCK, recipe

CLAY: dict[str, Any] = {"material": "clay", "kind": "other", "use_level": "10 %"}
EVERYTHING: dict[str, Any] = recipe(
    total_liquid={"water_ratio": "3:1"},
    liquids=[{"liquid": "goat-milk", "use_level": "10 %"}, {"liquid": "distilled-water", "rest": True}],
    acids=[{"acid": "vinegar-5-percent", "use_level": "4 %"}, {"acid": "citric-acid-anhydrous", "use_level": "1 %"}],
    additions=[CLAY | {"water_share": "25 %"}, CLAY | {"material": "oats", "goes_into": "fats", "use_level": "2 %"}],
)


def told(**more: Any) -> Answer:
    return ask(NAME, SHEET | {"moisture_when_sold": "5 %"} | more)


def grams(answer: Answer, member: str) -> float:
    found = answer[member]["value"]
    assert isinstance(found, float)
    return found


def shown(answer: Answer) -> dict[str, float]:
    return {one["material"]: one["mass"]["value"] for one in answer["weigh_list"]}


def test_the_water_of_everything_that_is_weighed_adds_up_by_hand() -> None:
    """Water in goat milk 87.03 % (USDA SR 26, NDB 01106), in vinegar of 5 % the rest; of neutralisation a mole for a
    mole of acid: 18.015 g/mol. Milk holds lactic acid (90.08 g/mol), 0.14 to 0.18 %, besides."""
    answer = told(**EVERYTHING)
    weighed = shown(answer)
    neutralised = 2 / 60.052 + 10 / 192.123 * 3 + 0.0016 * 100 / 90.078
    due = (
        weighed["NaOH-stock"] / 2
        + weighed["distilled-water"]
        + 0.8703 * 100
        + 0.95 * 40
        + 0.25 * 100
        + 18.015 * neutralised
    )
    assert grams(answer, "water_share") * grams(answer, "batter_mass") == pytest.approx(due, rel=1e-5)
    dry = grams(answer, "batter_mass") - due
    assert grams(answer, "cured_mass") == pytest.approx(dry / 0.95, rel=1e-5)


@pytest.mark.parametrize("stocks", [[STOCK], []])
@pytest.mark.parametrize("change", [{}, EVERYTHING])
def test_all_that_is_poured_is_on_the_list(stocks: list[Any], change: dict[str, Any]) -> None:
    answer = told(**change, stocks=stocks)
    assert grams(answer, "batter_mass") == pytest.approx(sum(shown(answer).values()))


@given(fats=st.floats(0.1, 50.0), milk=st.floats(0.0, 0.2))
def test_a_batch_of_any_size_has_the_same_shares(fats: float, milk: float) -> None:
    liquids = [{"liquid": "goat-milk", "use_level": milk}, {"liquid": "distilled-water", "rest": True}]
    change = EVERYTHING | recipe(**(EVERYTHING["recipe"] | {"liquids": liquids}))
    small = told(**change)
    large = told(**change, scale_to={"fat_mass": f"{fats!r} kg"}, stocks=[STOCK | {"mass": "100 kg"}])
    for member in ("water_share", "superfat", "batter_density"):
        assert grams(large, member) == pytest.approx(grams(small, member), rel=1e-9)
    for member in ("batter_mass", "glycerol_mass", "cured_mass", "batter_volume"):
        assert grams(large, member) == pytest.approx(fats * grams(small, member), rel=1e-9)


def volume(**more: Any) -> float:
    """What a batch takes up before stirring leaves 3 % of air in it [mL]."""
    return 0.97 * grams(told(wanted_temperature="32 °C", **more), "batter_volume")


@pytest.mark.parametrize(
    ("liquid", "per_litre"),
    [("goat-milk", 1.031), ("honey", 1.433), ("light-cream", 1.014), ("distilled-vinegar", 1.006)],
)
def test_a_liquid_makes_the_batter_larger_by_what_it_takes_up(liquid: str, per_litre: float) -> None:
    """USDA SR 26, household weights: 244 g of milk, 339 g of honey, 238 g of vinegar a US cup, 30 g of cream a US fluid
    ounce. With heat they are lighter by half a per cent, and mixing with caustic takes away a few per cent."""
    water = {"liquid": "distilled-water", "use_level": "20 %"}
    without = volume(**recipe(total_liquid=None, liquids=[water]))
    more = volume(**recipe(total_liquid=None, liquids=[water, {"liquid": liquid, "use_level": "10 %"}])) - without
    assert more == pytest.approx(100 / per_litre, rel=0.05)


def test_an_addition_takes_up_what_its_density_says() -> None:
    without = volume()
    for per_litre in (0.9, 1.7, 2.6):
        given_density = recipe(additions=[CLAY | {"density": f"{per_litre} kg/L"}])
        assert volume(**given_density) - without == pytest.approx(100 / per_litre, rel=1e-6)
    assert volume(**recipe(additions=[CLAY])) - without == pytest.approx(100 / 1.7, rel=1e-6)


def test_what_is_assumed_of_an_addition_is_what_is_reckoned_with() -> None:
    answer = told(**recipe(additions=[CLAY]))
    value, within = map(float, re.findall(r"([\d.]+) kg/L", assumed(answer)["/recipe/additions/0/density"]))
    assert (1000 * value, 1000 * within) == pytest.approx(ADDITION)
    known = told(**recipe(additions=[CLAY | {"density": f"{value} kg/L"}]))
    assert known["batter_density"]["value"] == pytest.approx(answer["batter_density"]["value"], rel=1e-12)
    assert known["batter_density"]["low"] > answer["batter_density"]["low"]


@pytest.mark.parametrize("t", [-20.0, 0.0, 20.0, 60.0, 100.0, 130.0])
def test_stock_and_its_water_take_up_what_the_whole_solution_does(t: float) -> None:
    """50 % stock and as much water as it holds hydroxide are a solution of a third; its volume is known of itself."""
    stock = Solution(alkali="NaOH", mass=PlainMass(5.0), strength=Strength(mass_fraction=Fraction(0.5)))
    oil = Recipe(fats=[RecipeFat(fat="olive-oil", share=Share(1.0))])
    weighed = as_weighed(make(read_recipe(oil, [stock], Notes()), 1.0, Notes()).weighings)
    (drawn,) = weighed.drawn
    more = weighed._replace(fats=[], drawn=[drawn], dissolving_water=drawn.alkali_mass)
    within = min(max(t, 0.0), 100.0)
    assert batter(more, t).density == pytest.approx(0.97 * density("NaOH", 1 / 3, within), rel=1e-9)
    alone = weighed._replace(fats=[])
    assert batter(alone, t).density == pytest.approx(0.97 * density("NaOH", 0.5, within), rel=1e-9)
    content = Content(weighed)
    assert content.dry_mass + content.water == pytest.approx(weighed.mass, rel=1e-12)
    assert content.mass_at(0.0) == pytest.approx(content.dry_mass, rel=1e-12)


def test_the_record_has_the_temperatures_of_the_sheet_where_they_are_known() -> None:
    answer = told(fats_temperature="40 °C")
    planned = {one["operation"]: one.get("planned_temperature") for one in answer["record"]["operations"]}
    temperatures = answer["temperatures"]
    assert planned["melt and weigh the fats"] == temperatures["fats"]
    assert planned["stir the stock, and weigh the draw"] == temperatures["stock"]
    assert planned["pour the caustic into the fats, and stir to trace"] == temperatures["batch"]
    assert planned["unmould and cut"] is None
    unknown = told(stocks=[])
    assert "temperatures" not in unknown
    assert all("planned_temperature" not in one for one in unknown["record"]["operations"])


def test_the_record_has_an_operation_for_each_step_of_the_list_and_what_follows() -> None:
    plain = [one["operation"] for one in told()["record"]["operations"]]
    more = [one["operation"] for one in told(**recipe(additions=[CLAY]))["record"]["operations"]]
    assert plain[-2:] == more[-2:] == ["pour into the moulds", "unmould and cut"]
    assert [one for one in more if one not in plain] == ["stir in what goes in at trace"]
    assert more.index("stir in what goes in at trace") == len(more) - 3
    steps = {one["step"] for one in told()["weigh_list"]}
    assert len(plain) == len(steps) + 3


def test_the_record_has_the_names_and_the_numbers_of_the_batch() -> None:
    record = told(reference="B-7", **recipe(name="plain"), scale_to={"batter_mass": "2 kg", "bar_mass": "150 g"})[
        "record"
    ]
    assert (record["product"], record["batch_number"]) == ("plain", "B-7")
    assert record["planned_bars"]["value"] == 13
    assert record["planned_batter_mass"]["value"] == pytest.approx(2000)
    bare = told()["record"]
    assert (bare["product"], bare["batch_number"]) == ("", "")
    assert "planned_bars" not in bare


@pytest.mark.parametrize("count", [1, 2, 3, 7, 10, 49, 144])
def test_bars_and_what_is_left_over_make_the_batter(count: int) -> None:
    """As many as fit, to the last bit of a batter that is just as many bars."""
    for rest in (0.0, 0.01, 0.5, 0.99):
        answer = told(scale_to={"batter_mass": f"{0.123 * (count + rest)!r} kg", "bar_mass": "123 g"})
        bars = answer["bars"]
        assert bars["count"]["value"] == count
        assert bars["left_over"]["value"] == pytest.approx(123 * rest, abs=1e-6)
        assert bars["cured_mass"]["value"] / 123 == pytest.approx(
            grams(answer, "cured_mass") / grams(answer, "batter_mass")
        )
        undried = told(moisture_when_sold=None, scale_to={"batter_mass": "1 kg", "bar_mass": "123 g"})
        assert "cured_mass" not in undried["bars"]
        assert "cured_mass" not in undried


def test_a_batter_as_small_as_one_per_cent_of_a_bar_gives_none() -> None:
    bars = told(scale_to={"batter_mass": "1.2 g", "bar_mass": "120 g"})["bars"]
    assert (bars["count"]["value"], bars["left_over"]["value"]) == (0, pytest.approx(1.2))


def test_the_volume_of_the_moulds_goes_with_the_density_and_its_ends() -> None:
    answer = told()
    mass, dense, volumes = answer["batter_mass"]["value"], answer["batter_density"], answer["batter_volume"]
    assert volumes["value"] == pytest.approx(mass / dense["value"])
    assert volumes["low"] == pytest.approx(mass / dense["high"])
    assert volumes["high"] == pytest.approx(mass / dense["low"])
    assert pytest.approx(shown(answer)["NaOH-stock"]) == 2 * ALKALI
