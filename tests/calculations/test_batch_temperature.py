"""How warm a batch gets: by hand, at both ends, the other way round, and what is said of it."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.batch.batch_temperature import calculate
from service.calculations.batch.blend_notes import caution_blend
from service.calculations.batch.blend_reading import read_liquids
from service.calculations.batch.blend_runs import Runs
from service.calculations.batch.blend_steps import explain_blend
from service.chemistry.food_heat import FAT
from tests.calculations.asking import ask, assumed, cautions, fault, message_of, refusal
from tests.calculations.figures import NAOH

TESTED = (calculate, caution_blend, read_liquids, Runs, explain_blend)
"""What these tests are of: mutants of its modules meet them first."""
NAME = "batch-temperature"
FATS: list[dict[str, Any]] = [{"fat": "olive-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"}]
STOCK: dict[str, Any] = {
    "alkali": "NaOH",
    "mass": "270 g",
    "strength": {"mass_fraction": "50 %"},
    "temperature": "22 °C",
}
MILK: dict[str, Any] = {"liquid": "goat-milk", "mass": "130 g", "temperature": "5 °C"}
FROZEN: dict[str, Any] = MILK | {"temperature": "-18 °C", "frozen": True}
BATCH: dict[str, Any] = {"fats": FATS, "fats_temperature": "40 °C", "stock": STOCK}


def told(**more: Any) -> dict[str, Any]:
    return ask(NAME, BATCH | more)


def without(*names: str, **more: Any) -> dict[str, Any]:
    return {name: value for name, value in (BATCH | more).items() if name not in names}


def test_fats_and_stock_meet_where_their_heats_say() -> None:
    """By hand: 1 kg of fat with 2.033 kJ/(kg K) (Choi & Okos at 38 °C), 270 g of lye with 3.25 (Laliberté 2009)."""
    t = told()["temperature"]
    assert t["value"] == pytest.approx((2.033 * 40 + 0.27 * 3.25 * 22) / (2.033 + 0.27 * 3.25), abs=0.05)
    assert t["low"] < t["value"] < t["high"]
    assert t["high"] - t["low"] < 1.5
    assert told()["dilution_rise"]["value"] == 0


def test_a_liquid_spreads_the_ends_by_its_heat_of_dilution() -> None:
    """135 g NaOH thinned from 50 to 35 %: 20.57 - 7.8 kJ/mol (Olsson 1997), over 3.4 kJ/K of batch."""
    answer = told(liquids=[MILK])
    assert answer["dilution_heat"]["value"] == pytest.approx(135 / NAOH * (20.57 - 7.8), rel=0.03)
    rise = answer["dilution_rise"]["value"]
    assert rise == pytest.approx(answer["dilution_heat"]["value"] / 3.4, rel=0.05)
    assert rise > 10
    t = answer["temperature"]
    assert t["high"] - t["low"] > rise
    assert rise < t["value"] - t["low"] < rise + 1.5
    assert 0 < t["high"] - t["value"] < 1.5
    assert answer["diluted_strength"]["value"] == pytest.approx(135 / (270 + 130 * 0.8703), rel=1e-9)
    assert answer["mass"]["value"] == pytest.approx(1400)


@pytest.mark.parametrize(("alkali", "w"), [("NaOH", 0.5), ("NaOH", 0.33), ("KOH", 0.45)])
@pytest.mark.parametrize("liquid", [MILK | {"liquid": "distilled-water"}, MILK, FROZEN])
def test_the_value_closes_the_balance_with_all_of_the_heat_of_dilution(
    alkali: str, w: float, liquid: dict[str, Any]
) -> None:
    """Caustic and water mix in every proportion: what goes in has the enthalpy of fats, thinned stock and the rest."""
    from service.calculations.batch.blend_reading import content_of  # noqa: PLC0415 - this test alone needs it
    from service.chemistry.enthalpy import at_strength  # noqa: PLC0415
    from service.chemistry.food_heat import heat_of  # noqa: PLC0415
    from service.chemistry.water import ice_enthalpy  # noqa: PLC0415

    stock = STOCK | {"alkali": alkali, "strength": {"mass_fraction": w}}
    answer = told(stock=stock, liquids=[liquid])
    t = answer["temperature"]["value"]
    held = content_of(liquid["liquid"])
    start = -18.0 if liquid is FROZEN else 5.0
    water, dry = 0.13 * held.water, heat_of(held.dry)
    before = water * (ice_enthalpy(start) if liquid is FROZEN else at_strength(alkali, 0.0).enthalpy(start))
    before += FAT.enthalpy(40.0) + 0.27 * at_strength(alkali, w).enthalpy(22.0) + 0.13 * dry.enthalpy(start)
    thinned = at_strength(alkali, 0.27 * w / (0.27 + water))
    after = FAT.enthalpy(t) + 0.13 * dry.enthalpy(t) + (0.27 + water) * thinned.enthalpy(t)
    thinning = 0.27 * at_strength(alkali, w).at_25 - (0.27 + water) * thinned.at_25
    acids = 1000 * answer["dilution_heat"]["value"] - thinning
    assert 0 <= round(acids, 6) < 200
    assert after - acids == pytest.approx(before, abs=1e-3)  # J, of some 100 kJ


def test_the_lower_end_knows_nothing_of_the_liquid_but_its_own_heat() -> None:
    """By hand, at 5 °C: 130 g of milk with 3.87 kJ/(kg K)."""
    capacity = 2.033 + 0.27 * 3.25 + 0.13 * 3.87
    mean = (2.033 * 40 + 0.27 * 3.25 * 22 + 0.13 * 3.87 * 5) / capacity
    low = told(liquids=[MILK])["temperature"]["low"]
    assert mean - 1.0 < low < mean


def test_frozen_milk_cools_by_the_heat_of_its_ice_and_widens_the_upper_end_alone() -> None:
    """113 g of ice with 333.4 kJ/kg, and from -18 to 0 °C 2.06 kJ/(kg K) in place of 4.2 over 5 K (IAPWS R10-06)."""
    cold, frozen = told(liquids=[MILK]), told(liquids=[FROZEN])
    fall = cold["temperature"]["value"] - frozen["temperature"]["value"]
    assert fall * 3.4 == pytest.approx(0.1131 * (333.4 + 18 * 2.06 + 5 * 4.2), rel=0.05)
    below, above = (
        one["temperature"]["value"] - one["temperature"]["low"] - (cold_t["value"] - cold_t["low"])
        for one, cold_t in ((frozen, cold["temperature"]), (frozen, cold["temperature"]))
    )
    assert below == above < 0.5
    up = frozen["temperature"]["high"] - frozen["temperature"]["value"]
    assert up - (cold["temperature"]["high"] - cold["temperature"]["value"]) == pytest.approx(
        0.1 * 0.1131 * 333.4 / 3.4, rel=0.25
    )


def test_ice_of_water_leaves_nothing_open_of_what_is_frozen() -> None:
    ice = {"liquid": "distilled-water", "mass": "60 g", "temperature": "0 °C", "frozen": True}
    assert "thawing-heat-rough" not in cautions(told(liquids=[ice]))
    assert "thawing-heat-rough" in cautions(told(liquids=[FROZEN]))


def test_fats_each_at_its_temperature_come_to_their_mean() -> None:
    each = [FATS[0] | {"temperature": "30 °C"}, FATS[1] | {"temperature": "60 °C"}]
    apart = ask(NAME, {"fats": each, "stock": STOCK})["temperature"]["value"]
    heat = 0.7 * FAT.enthalpy(30.0) + 0.3 * FAT.enthalpy(60.0)
    together = told(fats_temperature=f"{FAT.temperature(heat)!r} °C")["temperature"]["value"]
    assert apart == pytest.approx(together, abs=1e-9)


def test_the_needed_temperature_of_the_fats_gives_what_was_wanted() -> None:
    for liquids in ([], [MILK], [FROZEN], [MILK, {"liquid": "lemon-juice", "mass": "20 g", "temperature": "10 °C"}]):
        asked = without("fats_temperature", liquids=liquids, wanted_temperature="33 °C")
        needed = ask(NAME, asked)["fats_temperature_needed"]
        assert needed["low"] <= needed["value"] <= needed["high"]
        back = told(liquids=liquids, fats_temperature=f"{needed['value']!r} °C")["temperature"]["value"]
        assert back == pytest.approx(33.0, abs=0.01)


def test_the_ends_of_the_needed_temperature_are_those_of_all_and_none_of_the_heat_of_dilution() -> None:
    answer = ask(NAME, without("fats_temperature", liquids=[MILK], wanted_temperature="33 °C"))
    needed = answer["fats_temperature_needed"]
    cool = told(liquids=[MILK], fats_temperature=f"{needed['low']!r} °C")["temperature"]
    warm = told(liquids=[MILK], fats_temperature=f"{needed['high']!r} °C")["temperature"]
    assert cool["high"] == pytest.approx(33.0, abs=0.4)
    assert warm["low"] == pytest.approx(33.0, abs=0.4)
    assert "temperature" not in answer
    assert "dilution_rise" not in answer


def test_both_ways_are_told_where_both_are_asked() -> None:
    answer = told(wanted_temperature="33 °C")
    assert answer["temperature"]["value"] > 33
    assert answer["fats_temperature_needed"]["value"] < 40


@given(st.floats(20.0, 70.0), st.floats(10.0, 35.0), st.floats(1.0, 30.0), st.floats(0.02, 0.3))
def test_what_is_warmer_makes_it_warmer_and_the_interval_holds_the_value(
    fats: float, stock: float, liquid: float, mass: float
) -> None:
    def batch(more: float) -> dict[str, float]:
        lines = [MILK | {"mass": f"{mass!r} kg", "temperature": f"{liquid!r} °C"}]
        warm = STOCK | {"temperature": f"{stock!r} °C"}
        found: dict[str, float] = told(stock=warm, liquids=lines, fats_temperature=f"{fats + more!r} °C")["temperature"]
        return found

    cool, warm = batch(0.0), batch(1.0)
    assert cool["low"] <= cool["value"] <= cool["high"]
    assert cool["value"] < warm["value"] < cool["value"] + 1


def test_the_interval_without_liquids_covers_what_random_thermometers_scales_and_heat_capacities_give() -> None:
    """95 % of them (JCGM 101:2008, Monte Carlo): heat capacity of fat 5 % normal at 95 %, lye's as its model states."""
    import numpy as np  # noqa: PLC0415 - this test alone needs it

    from service.chemistry.enthalpy import at_strength  # noqa: PLC0415

    fats = [
        {"fat": "olive-oil", "mass": {"low": 0.69, "high": 0.71, "unit": "kg"}},
        {"fat": "coconut-oil", "mass": "300 g"},
    ]
    warm = {"value": 60, "uncertainty": 0.5, "unit": "°C"}
    strength = {"mass_fraction": {"low": 0.48, "high": 0.52, "unit": "1"}}
    answer = told(fats=fats, fats_temperature=warm, stock=STOCK | {"strength": strength})["temperature"]
    random = np.random.default_rng(20261125)
    n = 100_000
    mass = random.uniform(0.99, 1.01, n)
    start = random.normal(60, 0.5, n)
    fat_errs, lye_errs = (random.normal(0, spread / 1.959964, n) for spread in (0.05, 0.03))
    lye = [at_strength("NaOH", w).heat_capacity(30.0) for w in (0.48, 0.52)]
    w = random.uniform(0.48, 0.52, n)
    c_lye = 0.27 * (lye[0] + (lye[1] - lye[0]) * (w - 0.48) / 0.04) * (1 + lye_errs)
    mean = (FAT.enthalpy(60.0) - FAT.enthalpy(50.0)) / 10
    c_fat = mass * mean * (1 + fat_errs)
    came = (c_fat * start + c_lye * 22) / (c_fat + c_lye)
    assert np.median(came) == pytest.approx(answer["value"], abs=0.1)
    covered = float(np.mean((came >= answer["low"]) & (came <= answer["high"])))
    assert 0.935 <= covered <= 0.97


def test_a_thermometer_in_one_pot_errs_once_and_in_two_pots_twice() -> None:
    read = {"value": 40, "uncertainty": 1, "unit": "°C"}
    one = told(fats_temperature=read)["temperature"]
    each = ask(NAME, {"fats": [line | {"temperature": read} for line in FATS], "stock": STOCK})["temperature"]
    exact = told()["temperature"]
    widths = [found["high"] - found["low"] for found in (exact, each, one)]
    assert widths == sorted(widths)
    assert widths[0] < widths[1] < widths[2]


def test_spreads_of_strength_volume_liquid_and_its_temperature_widen_the_interval() -> None:
    liquid = {"liquid": "carrot-juice", "mass": "130 g", "temperature": "10 °C"}
    plain = told(liquids=[liquid])["temperature"]
    strong = {"mass_fraction": {"low": 0.46, "high": 0.54, "unit": "1"}}
    strong = {"mass_fraction": {"value": 0.5, "uncertainty": 0.02, "unit": "1"}}
    for more in (
        {"stock": STOCK | {"strength": strong}},
        {"liquids": [liquid | {"mass": {"low": 110, "high": 150, "unit": "g"}}]},
        {"liquids": [liquid | {"temperature": {"low": 0, "high": 20, "unit": "°C"}}]},
    ):
        wide = ask(NAME, BATCH | {"liquids": [liquid]} | more)["temperature"]
        assert wide["high"] - wide["low"] > 1.01 * (plain["high"] - plain["low"])
        assert wide["value"] == pytest.approx(plain["value"], abs=1e-9)


def test_a_stock_by_volume_is_weighed_by_its_density() -> None:
    volume = {name: value for name, value in STOCK.items() if name != "mass"} | {"volume": "180 mL"}
    assert told(stock=volume)["mass"]["value"] == pytest.approx(1000 + 180 * 1.5253, rel=3e-3)


def test_the_reaction_adds_what_the_lesser_of_alkali_and_fats_gives() -> None:
    """52 kJ for each mole; 135 g of NaOH are 3.375 mol, and the fats take 3.77 (190 and 257 mg/g)."""
    rise = told()["reaction_rise"]
    assert rise["value"] == pytest.approx(135 / NAOH * 52 / 2.91, rel=0.01)
    assert rise["low"] == pytest.approx(rise["value"] / 2)
    assert rise["high"] == pytest.approx(rise["value"] * 2)
    much = told(stock=STOCK | {"mass": "1 kg"})
    assert "free-alkali-left" in cautions(much)
    assert much["reaction_rise"]["value"] < 500 / NAOH * 52 / 4.5
    wax = told(fats=[{"fat": "beeswax", "mass": "1 kg"}], fats_temperature="70 °C")
    assert wax["reaction_rise"]["value"] == 0


def test_a_batch_that_its_own_reaction_can_boil_is_a_danger() -> None:
    """By hand: 135 g of NaOH with 52 kJ/mol over 2.91 kJ/K are 60 K, so that 40 °C come to water's boiling point."""
    for t in (20, 30, 36, 44, 52, 60, 80, 100):
        for request in (
            BATCH | {"fats_temperature": f"{t} °C"},
            without("fats_temperature", wanted_temperature=f"{min(t, 70)} °C"),
        ):
            answer = ask(NAME, request)
            start = answer["temperature"]["value"] if "temperature" in answer else min(t, 70)
            boils = start + 135 / NAOH * 52 / 2.91 > 100
            found = cautions(answer).get("batch-may-boil-over")
            assert (found is not None) == boils, t
            if found:
                assert found["severity"] == "danger"
                assert f"From {round(start)} °C" in found["message"]


def test_a_batch_that_is_usually_warm_or_hardly_reacts_does_not_boil_over() -> None:
    assert "batch-may-boil-over" not in cautions(told(fats_temperature="38 °C", liquids=[MILK]))
    wax = told(fats=[{"fat": "beeswax", "mass": "1 kg"}], fats_temperature="90 °C")
    assert "batch-may-boil-over" not in cautions(wax)


def test_fats_that_are_not_liquid_are_told_with_where_they_melt() -> None:
    fats = [
        {"fat": "shea-butter", "mass": "100 g"},
        {"fat": "palm-stearin", "mass": "100 g"},
        {"fat": "palm-olein", "mass": "100 g"},
        {"fat": "coconut-oil", "mass": "300 g"},
        {"fat": "beef-tallow", "mass": "200 g"},
        {"name": "own oil", "mass": "200 g", "saponification_value": "190 mg/g"},
    ]
    answer = told(fats=[*fats, fats[0]], fats_temperature="28 °C", stock=STOCK | {"temperature": "18 °C"})
    found = {one["fat"]: one for one in answer["solid_fats"]}
    assert 20 < answer["temperature"]["value"] < 28
    assert [one["fat"] for one in answer["solid_fats"]] == ["palm-stearin", "shea-butter", "coconut-oil"]
    assert found["shea-butter"]["mass"]["value"] == pytest.approx(200)
    assert (found["shea-butter"]["melts_from"]["value"], found["shea-butter"]["melts_to"]["value"]) == (35, 40)
    assert (found["shea-butter"]["state"], found["coconut-oil"]["state"]) == ("solid", "partly-solid")
    assert "melts_to" not in found["palm-stearin"]
    assert answer["melting_unknown"] == ["beef-tallow", "own oil"]
    cold = told(fats=fats[:4], fats_temperature="22 °C")["solid_fats"]
    assert {one["fat"]: one["state"] for one in cold}["palm-olein"] == "may-be-solid"
    assert "melts_from" not in {one["fat"]: one for one in cold}["palm-olein"]
    hot = told(fats=[{"fat": "palm-stearin", "mass": "1 kg"}], fats_temperature="70 °C")["solid_fats"]
    assert [one["state"] for one in hot] == ["may-be-solid"]


def test_fats_that_had_set_lower_the_lower_end_alone() -> None:
    warm = [FATS[0] | {"temperature": "70 °C"}, FATS[1] | {"temperature": "30 °C"}]
    cold = [FATS[0] | {"temperature": "70 °C"}, FATS[1] | {"temperature": "19 °C"}]
    melted, solid = (ask(NAME, {"fats": fats, "stock": STOCK}) for fats in (warm, cold))
    assert "fats-set" in cautions(solid)
    assert "fats-set" not in cautions(melted)
    t, molten = solid["temperature"], melted["temperature"]
    # 0.3 kg with at most 150 kJ/kg over 2.9 kJ/K are 15 K
    assert t["value"] - t["low"] == pytest.approx(0.3 * 150 / 2.9, rel=0.1)
    assert t["high"] - t["value"] == pytest.approx(molten["high"] - molten["value"], abs=0.3)


SHEA = [{"fat": "olive-oil", "mass": "800 g"}, {"fat": "shea-butter", "mass": "200 g"}]


def told_of_fats(code: str, **more: Any) -> list[str]:
    """Every message of a code, in a batch that holds shea butter, which has melted at 40 °C."""
    answer = ask(NAME, {"fats": SHEA, "stock": STOCK} | more)
    return [one["message"] for one in answer["cautions"] if one["code"] == code]


def test_fats_whose_temperature_is_reckoned_are_not_spoken_of_as_if_it_had_been_stated() -> None:
    wanted, needed = told_of_fats("fats-not-liquid", wanted_temperature="30 °C")
    assert wanted.startswith("At the wanted 30 °C (86 °F) these are not liquid: shea-butter")
    assert needed.startswith("The fats would have to be at 33 °C (92 °F) for the temperature wanted")
    assert "the hardest melts at 40 °C (104 °F)" in needed
    assert told_of_fats("fats-set", wanted_temperature="30 °C") == []
    assert len(needed) <= 320


def test_fats_whose_temperature_is_stated_are_spoken_of_by_what_the_batch_comes_to() -> None:
    (found,) = told_of_fats("fats-not-liquid", fats_temperature="30 °C")
    assert found.startswith("At 28 °C (82 °F) these are not liquid: shea-butter")
    assert "wanted" not in found
    assert "given these had set" in told_of_fats("fats-set", fats_temperature="30 °C")[0]
    both = told_of_fats("fats-not-liquid", fats_temperature="30 °C", wanted_temperature="30 °C")
    assert [one.split()[0] for one in both] == ["At", "The"]
    assert "the wanted" not in both[0]


def test_fats_that_would_have_to_be_hot_are_told_apart_from_fats_that_are() -> None:
    (needed,) = told_of_fats("fats-hot", wanted_temperature="74 °C")
    assert needed.startswith("The fats would have to be at 9")
    assert "Let them cool" not in needed
    (stated,) = told_of_fats("fats-hot", fats_temperature="95 °C")
    assert stated.startswith("Fats of 95 °C")
    assert told_of_fats("fats-hot", wanted_temperature="60 °C") == []


def test_what_boils_is_capped_and_a_danger() -> None:
    hot = told(fats_temperature="150 °C", stock=STOCK | {"temperature": "130 °C"}, liquids=[MILK])
    assert cautions(hot)["boils"]["severity"] == "danger"
    assert cautions(hot)["fats-hot"]["severity"] == "danger"
    assert cautions(hot)["stock-hot"]["severity"] == "danger"
    assert hot["temperature"]["value"] < 130
    assert "boils" not in cautions(told(liquids=[MILK]))


def test_milk_has_its_limit_and_water_has_none() -> None:
    warm = told(fats_temperature="60 °C", liquids=[MILK])
    assert "comes to" in message_of(warm, "milk-too-warm")
    reaching = told(fats_temperature="32 °C", liquids=[MILK])
    assert reaching["temperature"]["value"] < 38 < reaching["temperature"]["high"]
    assert "can come to" in message_of(reaching, "milk-too-warm")
    water = MILK | {"liquid": "distilled-water"}
    assert "milk-too-warm" not in cautions(told(fats_temperature="60 °C", liquids=[water]))
    coconut = MILK | {"liquid": "coconut-milk-canned"}
    assert "milk-too-warm" in cautions(told(fats_temperature="60 °C", liquids=[coconut]))


def test_milk_that_is_frozen_already_is_not_told_to_be_frozen() -> None:
    thawed, frozen, both = (
        message_of(told(fats_temperature="60 °C", liquids=one), "milk-too-warm")
        for one in ([MILK], [FROZEN], [FROZEN, MILK])
    )
    assert "Freeze it" in thawed
    assert "Freeze it" not in frozen
    assert "Freeze it" in both
    assert thawed.startswith("With goat milk a batch")


def test_milk_is_warned_of_where_the_fats_are_what_is_asked_too() -> None:
    asked = without("fats_temperature", liquids=[MILK], wanted_temperature="37.8 °C")
    assert "can come to" in message_of(ask(NAME, asked), "milk-too-warm")
    cool = ask(NAME, asked | {"wanted_temperature": "29 °C"})
    assert "milk-too-warm" not in cautions(cool)
    assert "carbon-monoxide" in cautions(cool)
    assert "carbon-monoxide" not in cautions(told())


def test_the_heat_of_thinning_is_warned_of_where_the_fats_are_what_is_asked_too() -> None:
    asked = ask(NAME, without("fats_temperature", liquids=[MILK], wanted_temperature="33 °C"))
    assert "never pour a liquid into the stock" in message_of(asked, "water-warms-stock")
    assert "water-warms-stock" not in cautions(ask(NAME, without("fats_temperature", wanted_temperature="33 °C")))


def test_a_batch_wanted_so_cold_that_it_may_freeze_is_answered() -> None:
    cold = [FROZEN | {"mass": "30 g"}]
    stock = STOCK | {"temperature": "-5 °C"}
    asked = without("fats_temperature", liquids=cold, stock=stock, wanted_temperature="1 °C")
    assert 0 < ask(NAME, asked)["fats_temperature_needed"]["value"] < 15


def test_thinning_that_takes_up_heat_turns_the_ends_round() -> None:
    """Between 20 and 5 % KOH hardly any heat is given off, and NaOH takes some up below 13 % (Silvester & Pitzer)."""
    weak = STOCK | {"strength": {"mass_fraction": "10 %"}, "mass": "900 g"}
    water = {"liquid": "distilled-water", "mass": "2 kg", "temperature": "22 °C"}
    answer = told(stock=weak, liquids=[water])
    assert answer["dilution_heat"]["value"] < 0
    assert answer["dilution_rise"]["value"] < 0
    assert answer["temperature"]["low"] < answer["temperature"]["value"] < answer["temperature"]["high"]


def test_defaults_are_told() -> None:
    liquids = [{"liquid": "goat-milk", "mass": "10 g"}, {"liquid": "goat-milk", "mass": "10 g", "frozen": True}]
    stock = {name: value for name, value in STOCK.items() if name != "temperature"}
    found = assumed(told(stock=stock, liquids=liquids))
    assert found == {
        "/stock/temperature": "20 °C",
        "/liquids/0/frozen": "false",
        "/liquids/0/temperature": "20 °C",
        "/liquids/1/temperature": "0 °C",
    }


def test_ice_that_only_the_heat_of_dilution_melts_is_told() -> None:
    frozen = FROZEN | {"mass": "270 g"}
    answer = told(fats_temperature="22 °C", liquids=[frozen])
    assert answer["ice_left"]["value"] > 0
    assert answer["temperature"]["low"] <= 0 < answer["temperature"]["high"]
    assert "ice-left" in cautions(answer)


@pytest.mark.parametrize(
    ("more", "pointer", "code"),
    [
        ({"fats": [FATS[0] | {"temperature": "40 °C"}]}, "/fats/0/temperature", "contradiction"),
        ({"stock": STOCK | {"strength": {"mass_fraction": 0}}}, "/stock/strength", "contradiction"),
        ({"stock": STOCK | {"state": "ice"}}, "/stock/state", "contradiction"),
        ({"stock": STOCK | {"temperature": "160 °C"}}, "/stock/temperature", "impossible-temperature"),
        ({"fats_temperature": "160 °C"}, "/fats_temperature", "beyond-data"),
        ({"liquids": [MILK | {"temperature": "-18 °C"}]}, "/liquids/0/temperature", "impossible-temperature"),
        ({"liquids": [FROZEN | {"temperature": "4 °C"}]}, "/liquids/0/temperature", "impossible-temperature"),
        ({"liquids": [FROZEN | {"temperature": "-29 °C"}]}, "/liquids/0/temperature", "beyond-data"),
        ({"liquids": [MILK | {"temperature": "105 °C"}]}, "/liquids/0/temperature", "impossible-temperature"),
        ({"liquids": [FROZEN | {"liquid": "honey"}]}, "/liquids/0/frozen", "contradiction"),
        ({"liquids": [MILK | {"liquid": "rain"}]}, "/liquids/0/liquid", "unknown-identifier"),
        ({"liquids": [FROZEN | {"mass": "1 kg"}]}, "/liquids", "contradiction"),
        ({"fats_temperature": "-40 °C", "stock": STOCK | {"temperature": "-20 °C"}}, "/fats_temperature", None),
        ({"fats_temperature": "-20 °C", "liquids": [MILK]}, "/fats_temperature", None),
        (
            {"fats_temperature": "-20 °C", "stock": STOCK | {"temperature": "-28 °C"}, "liquids": [MILK]},
            "/stock/temperature",
            None,
        ),
        ({"wanted_temperature": "110 °C"}, "/wanted_temperature", "impossible-temperature"),
        ({"wanted_temperature": "80 °C", "liquids": [FROZEN]}, "/wanted_temperature", "contradiction"),
        ({"wanted_temperature": "5 °C"}, "/wanted_temperature", "contradiction"),
    ],
)
def test_what_cannot_be_is_refused(more: dict[str, Any], pointer: str, code: str | None) -> None:
    found = fault(NAME, BATCH | more, 422)
    assert (found.pointer, found.code) == (pointer, code or "contradiction")


def test_temperatures_that_are_missing_are_asked_for() -> None:
    nothing = fault(NAME, without("fats_temperature"), 422)
    assert (nothing.pointer, nothing.code) == ("/fats_temperature", "temperature-needed")
    some = fault(NAME, without("fats_temperature", fats=[FATS[0] | {"temperature": "40 °C"}, FATS[1]]), 422)
    assert (some.pointer, some.code) == ("/fats/1/temperature", "temperature-needed")


def test_faults_of_fats_stock_and_liquids_are_told_at_once() -> None:
    request = without("fats_temperature", fats=[{"fat": "hair-oil", "mass": "1 g"}], liquids=[MILK | {"liquid": "x"}])
    pointers = {one.pointer for one in refusal(NAME, request).faults}
    assert pointers == {"/fats/0/fat", "/fats_temperature", "/liquids/0/liquid"}


@pytest.mark.parametrize("mass", ["1 ug", "100000 t"])
def test_the_smallest_and_the_largest_batch_have_the_same_temperature(mass: str) -> None:
    fats = [{"fat": "olive-oil", "mass": mass.replace("ug", "mg") if mass == "1 ug" else mass}]
    stock = STOCK | {"mass": fats[0]["mass"]}
    here = ask(NAME, {"fats": fats, "fats_temperature": "40 °C", "stock": stock})["temperature"]["value"]
    assert here == pytest.approx(told(fats=[{"fat": "olive-oil", "mass": "270 g"}])["temperature"]["value"], abs=1e-9)


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"liquids": [MILK, FROZEN]},
        {"liquids": [FROZEN | {"mass": "270 g"}], "fats_temperature": "22 °C"},
        {"fats_temperature": "150 °C", "stock": STOCK | {"temperature": "130 °C"}, "liquids": [MILK]},
        {"wanted_temperature": "25 °C", "liquids": [MILK]},
    ],
)
def test_the_steps_lead_to_what_is_answered(more: dict[str, Any]) -> None:
    answer = ask(NAME, BATCH | more, explain=True)
    steps = {one["name"]: one["result"]["value"] for one in answer["steps"]}
    assert steps["temperature"] == answer["temperature"]["value"]
    assert steps["lower end of the temperature"] == answer["temperature"]["low"]
    assert steps["upper end of the temperature"] == answer["temperature"]["high"]
    assert steps["heat of dilution"] == pytest.approx(answer["dilution_heat"]["value"], abs=1e-9)
    assert steps["rise by saponifying"] == answer["reaction_rise"]["value"]
    assert steps["strength of the thinned stock"] == answer["diluted_strength"]["value"]
    if "ice_left" in answer:
        left = steps["ice left with none of the heat of dilution"]
        assert left * 1000 == pytest.approx(answer["ice_left"]["value"])
    if "fats_temperature_needed" in answer:
        assert steps["temperature of the fats"] == answer["fats_temperature_needed"]["value"]
        by_balance = steps["enthalpy of the fats that is due"] * 1000
        assert by_balance == pytest.approx(FAT.enthalpy(answer["fats_temperature_needed"]["value"]), abs=1e-6)


def test_a_message_of_many_fats_stays_short_and_says_that_there_are_more() -> None:
    hard = ["beeswax", "kokum-butter", "lard", "mutton-tallow", "palm-kernel-stearin", "shea-butter", "stearic-acid"]
    long = [{"name": f"{letter * 119}", "mass": "10 g", "saponification_value": "190 mg/g"} for letter in "abcde"]
    answer = told(fats=[*({"fat": one, "mass": "100 g"} for one in hard), *long], fats_temperature="20 °C")
    asked = without(
        "fats_temperature", fats=[{"fat": one, "mass": "100 g"} for one in hard], wanted_temperature="20 °C"
    )
    wanted = ask(NAME, asked)["cautions"]
    assert all(len(one["message"]) <= 320 for one in wanted)
    for code in ("fats-not-liquid", "fats-set", "melting-unknown"):
        message = message_of(answer, code)
        assert " more" in message
        assert len(message) <= 320
        assert message.count("°C") == message.count("°F")


def test_a_syrup_that_is_liquid_below_0_degrees_has_its_steps() -> None:
    """Honey does not freeze in a freezer, so that its water counts as a liquid that runs on below 0 °C."""
    honey = {"liquid": "honey", "mass": "30 g", "temperature": "-8 °C"}
    steps = {one["name"]: one for one in ask(NAME, BATCH | {"liquids": [honey]}, explain=True)["steps"]}
    assert steps["heat of water in honey 1"]["result"]["value"] < 0
