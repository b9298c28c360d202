"""Splits that cannot be, and how their refusals help."""

import pytest

from service.calculations.batch.liquid_split import calculate
from service.calculations.batch.split_reading import read_lines
from tests.calculations.asking import fault, refusal
from tests.calculations.splitting import HALF, TWO_TO_ONE, WEAK, split

TESTED = (calculate, read_lines)
"""What these tests are of: mutants of its modules meet them first."""


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
    assert "2.334:1" in found.mend  # rounded up, so that it can be asked for
    assert split(stock=WEAK, total_liquid={"water_ratio": 2.334})["added_liquid_mass"]["value"] == pytest.approx(
        233.4 - 700 / 3, abs=1e-6
    )


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


def test_shares_are_checked_even_where_nothing_is_left_to_add() -> None:
    liquids = [{"liquid": "goat-milk", "share": 0.5}, {"liquid": "carrot-juice", "share": 0.4}]
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [HALF],
        "total_liquid": {"water_ratio": "1:1"},
        "liquids": liquids,
    }
    assert fault("liquid-split", request, 422).code == "does-not-add-up"


def test_a_purity_beside_an_alkali_that_is_drawn_from_stock_is_refused() -> None:
    alkali = {"alkali": "NaOH", "mass": "100 g", "purity": "90 %"}
    found = fault("liquid-split", {"alkalis": [alkali], "stocks": [HALF]}, 422)
    assert (found.pointer, found.code) == ("/alkalis/0/purity", "contradiction")


def test_less_than_one_to_one_is_never_mended_by_a_stronger_stock() -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [HALF],
        "total_liquid": {"water_ratio": 0.9},
    }
    found = fault("liquid-split", request, 422)
    assert found.code == "too-little-water"
    assert "stronger" not in found.mend


@pytest.mark.parametrize("temperature", ["300 °C", "160 °C"])
def test_a_stock_hotter_than_it_boils_is_refused(temperature: str) -> None:
    """50 % boils at about 145 °C (Dow Chemical)."""
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [dict(HALF, temperature=temperature)],
    }
    found = fault("liquid-split", request, 422)
    assert (found.pointer, found.code) == ("/stocks/0/temperature", "impossible-temperature")


def test_a_faulty_strength_is_told_in_the_unit_it_was_given_in() -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [{"alkali": "NaOH", "strength": {"density": "2 kg/L"}}],
    }
    detail = fault("liquid-split", request, 422).detail
    assert "2 kg/L" in detail
    assert "2000" not in detail


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        *((one, "distilled-water") for one in ("water", "Water", " water ", "plain water", "deionized-water", "Aqua")),
        *((one, "distilled-water") for one in ("Demineralised Water", "purified_water", "H2O")),
        *((one, "tap-water") for one in ("spring water", "mineral-water", "tap water")),
    ],
)
@pytest.mark.parametrize("name", ["liquid-split", "batch-temperature", "superfat-check"])
def test_water_by_another_name_is_told_the_one_identifier_that_it_means(name: str, said: str, meant: str) -> None:
    """And not coconut water, which has sugar and salts in it."""
    stock = {"alkali": "NaOH", "mass": "200 g", "strength": {"mass_fraction": "50 %"}}
    fats = [{"fat": "olive-oil", "mass": "1 kg"}]
    requests: dict[str, dict[str, object]] = {
        "liquid-split": {"alkalis": [{"alkali": "NaOH", "mass": "100 g"}], "stocks": [HALF]},
        "batch-temperature": {"fats": fats, "fats_temperature": "35 °C", "stock": stock},
        "superfat-check": {"fats": fats, "stock_draws": [stock]},
    }
    found = fault(name, requests[name] | {"liquids": [{"liquid": said, "mass": "5 g"}]}, 422)
    assert found.detail.endswith(f"is no liquid of the catalogue (did you mean '{meant}'?)")
    assert found.mend == f"write '{meant}'"


def test_ice_is_not_taken_for_water_that_is_liquid() -> None:
    request = {"alkalis": [{"alkali": "NaOH", "mass": "100 g"}], "stocks": [HALF]}
    found = fault("liquid-split", request | {"liquids": [{"liquid": "ice", "mass": "5 g"}]}, 422)
    assert "did you mean" not in found.detail


def test_a_water_of_its_own_name_is_offered_by_that_name() -> None:
    request = {"alkalis": [{"alkali": "NaOH", "mass": "100 g"}], "stocks": [HALF]}
    found = fault("liquid-split", request | {"liquids": [{"liquid": "Coconut Water", "mass": "5 g"}]}, 422)
    assert found.mend == "write 'coconut-water'"


@pytest.mark.parametrize(("said", "meant"), [("goats-milk", "goat-milk"), ("water", "distilled-water")])
def test_the_first_liquid_offered_is_the_one_that_is_meant(said: str, meant: str) -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [HALF],
        "liquids": [{"liquid": said, "mass": "5 g"}],
    }
    assert f"did you mean '{meant}'" in fault("liquid-split", request, 422).detail


def test_a_stock_of_an_alkali_that_the_batch_does_not_need_is_refused() -> None:
    """A slip of one letter would otherwise send the whole alkali to be weighed dry."""
    stock = {"alkali": "KOH", "strength": {"mass_fraction": "45 %"}}
    found = fault("liquid-split", {"alkalis": [{"alkali": "NaOH", "mass": "100 g"}], "stocks": [stock]}, 422)
    assert (found.pointer, found.code) == ("/stocks/0/alkali", "contradiction")
