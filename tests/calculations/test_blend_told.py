"""What a batch's temperature is read from and explained by: liquids that freeze, published examples, and its steps."""

import pytest

from service.calculations.batch.batch_temperature import CALCULATION
from service.calculations.batch.blend_reading import content_of
from service.calculations.batch.blend_steps import explain_blend
from tests.calculations.asking import ask, assumed, fault, refusal
from tests.calculations.test_blend_parts import BATCH, FROZEN, MILK, NAME, OLIVE, STOCK, WANTED, told

TESTED = (explain_blend,)
"""What these tests are of: mutants of its modules meet them first."""


@pytest.mark.parametrize("milk", ["goat-milk", "cow-milk-whole", "cow-milk-2-percent", "cow-milk-skim"])
def test_milk_freezes_where_milk_does(milk: str) -> None:
    """-0.53 °C, within 0.02 K (from memory: what milk is tested for added water by)."""
    assert content_of(milk).freezing == pytest.approx(-0.53, abs=0.02)


def test_liquids_that_no_catalogue_has_are_told_all_at_once() -> None:
    lines = [MILK | {"liquid": "moon-milk"}, MILK, MILK | {"liquid": "star-milk"}]
    assert [one.pointer for one in refusal(NAME, BATCH | {"liquids": lines}).faults] == [
        "/liquids/0/liquid",
        "/liquids/2/liquid",
    ]


def test_an_unknown_fat_with_its_own_temperature_is_told_alone() -> None:
    fats = [{"fat": "hair-oil", "mass": "1 kg", "temperature": "40 °C"}, OLIVE | {"temperature": "40 °C"}]
    assert fault(NAME, {"fats": fats, "stock": STOCK}, 422).pointer == "/fats/0/fat"


def test_why_a_liquid_is_taken_to_be_warm_or_cold_is_told() -> None:
    lines = [{"liquid": "goat-milk", "mass": "9 g"}, {"liquid": "goat-milk", "mass": "9 g", "frozen": True}]
    answer = told(liquids=lines)
    why = {one["pointer"]: one["why"] for one in answer["assumed"]}
    assert "room" in why["/liquids/0/temperature"]
    assert "ice" in why["/liquids/1/temperature"]
    assert assumed(told(liquids=[MILK])).keys() == {"/liquids/0/frozen"}


@pytest.mark.parametrize(
    ("example", "member", "published", "within"),
    [("published-heat-of-dilution", "dilution_heat", 42.51 - 28.87, 0.2)],
)
def test_an_example_with_a_published_figure_comes_to_it(
    example: str, member: str, published: float, within: float
) -> None:
    """R. M. Felder and R. W. Rousseau, table B.11 (from memory): heats of solution [kJ/mol]; our interval holds it."""
    (request,) = (one.request for one in CALCULATION.examples if one.name == example)
    told = ask(NAME, request)[member]
    assert told["value"] == pytest.approx(published, abs=within)
    assert told["low"] <= published <= told["high"]


def test_the_coconut_batch_of_1908_has_the_lye_that_its_handbook_has() -> None:
    """W. H. Simmons and H. A. Appleton, The Handbook of Soap Manufacture, London 1908, ch. V."""
    (request,) = (one.request for one in CALCULATION.examples if one.name == "published-coconut-1908")
    assert request["stock"]["strength"]["degrees_twaddell"] == 71.4
    assert ask(NAME, request)["temperature"]["value"] == pytest.approx((75 - 32) / 1.8, abs=0.01)


def test_parts_of_a_batch_are_counted_from_one_in_its_steps() -> None:
    answer = ask(NAME, BATCH | {"liquids": [MILK, FROZEN]}, explain=True)
    names = {one["name"] for one in answer["steps"]}
    assert {"heat of fat 1", "heat of fat 2"} <= names
    assert {name for name in names if name.startswith("heat of what else")} == {
        "heat of what else goat-milk 1 holds",
        "heat of what else goat-milk 2 holds",
    }


def test_the_mean_heat_capacity_of_fat_in_the_steps_is_that_of_its_published_polynomial() -> None:
    """Choi & Okos 1986, fat: 1.9842 + 1.4733e-3 t - 4.8008e-6 t2 kJ/(kg K), in the mean from 25 °C."""
    (step,) = (
        one
        for one in ask(NAME, {**BATCH, WANTED: "33 °C"}, explain=True)["steps"]
        if one["name"] == "temperature of the fats"
    )
    t = step["result"]["value"]
    integral = 1.9842 * (t - 25) + 1.4733e-3 * (t**2 - 25**2) / 2 - 4.8008e-6 * (t**3 - 25**3) / 3
    assert step["inputs"]["c_fats"]["value"] == pytest.approx(integral / (t - 25), rel=1e-6)
    assert step["inputs"]["enthalpy"]["value"] == pytest.approx(integral, rel=1e-6)


def test_a_free_acid_of_80_degrees_is_told_to_what_its_measured_heat_capacity_asks() -> None:
    """Oleic acid: 2.24 kJ/(kg K) from 62 to 80 °C (Zábranský et al., 2.164 at 60 and 2.297 at 80), ours 2.07."""
    stock = {"alkali": "NaOH", "mass": "283 g", "strength": {"mass_fraction": "50 %"}}
    found = {}
    for fat in ("oleic-acid", "olive-oil"):
        request = {"fats": [{"fat": fat, "mass": "1 kg"}], "fats_temperature": "80 °C", "stock": stock}
        found[fat] = ask("batch-temperature", request)["temperature"]
    acid, fat_alike = found["oleic-acid"], found["olive-oil"]
    assert acid["value"] == fat_alike["value"]
    lye = 2.06 * (80 - acid["value"]) / (acid["value"] - 20)  # kJ/K, by the balance of the fat
    measured = (2.24 * 80 + lye * 20) / (2.24 + lye)
    assert fat_alike["high"] < measured < acid["high"]
