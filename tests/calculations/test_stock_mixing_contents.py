"""What goes into a mixing: several parts of water, ice and stock; purity and moisture and their ends; its limits."""

from statistics import NormalDist, fmean
from typing import Any

import pytest

from tests.calculations.asking import Answer, ask, cautions, refusal

SOLID: dict[str, Any] = {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": 1, "temperature": "25 °C"}


def mixed(solid: dict[str, Any] | None = None, /, **contents: object) -> Answer:
    return ask("stock-mixing", {"solid": SOLID if solid is None else SOLID | solid, **contents})


def heel(strength: object, **more: object) -> dict[str, Any]:
    return {"alkali": "NaOH", "strength": {"mass_fraction": strength}, **more}


def results(answer: Answer) -> Answer:
    return {name: value for name, value in answer.items() if name not in {"assumed", "cautions"}}


def test_water_in_the_vessel_and_water_added_mix_to_their_mean() -> None:
    """1 kg of 10 °C and 3 kg of 50 °C are 4 kg of 40 °C, the heat capacity of water being nearly the same."""
    two = mixed(
        water={"mass": "1 kg", "temperature": "10 °C"}, existing_stock=heel(0, mass="3 kg", temperature="50 °C")
    )
    one = mixed(water={"mass": "4 kg", "temperature": "40 °C"})
    assert two["path"][0]["temperature"]["value"] == pytest.approx(40, abs=0.05)
    assert two["peak_temperature"]["value"] == pytest.approx(one["peak_temperature"]["value"], abs=0.05)


def test_ice_of_two_kinds_counts_by_what_of_it_is_frozen() -> None:
    """1 kg half melted and 1.5 kg of -20 °C: 2 kg are frozen, at 0.25 * 0 and 0.75 * -20 = -15 °C in the mean."""
    ice = {"mass": "1 kg", "temperature": "0 °C", "melted_share": "50 %"}
    frozen = heel(0, mass="1.5 kg", temperature="-20 °C", state="ice")
    two = mixed(ice=ice, existing_stock=frozen, water={"mass": "2 kg"})
    one = mixed(ice={"mass": "2.5 kg", "temperature": "-15 °C", "melted_share": "20 %"}, water={"mass": "2 kg"})
    assert two["peak_temperature"]["value"] == pytest.approx(one["peak_temperature"]["value"], abs=0.1)


@pytest.mark.parametrize("melted", ["22 %", "60.09808419324356 %"])
def test_rounding_does_not_take_the_coldest_ice_beyond_the_data(melted: str) -> None:
    ice = {"mass": "1621.30022083 g", "temperature": "-30 °C", "melted_share": melted}
    assert mixed(ice=ice, water={"mass": "5 kg"})["mass"]["value"] == pytest.approx(7621.30022083)


def test_ice_that_has_all_melted_is_water_of_nought_degrees() -> None:
    melted = mixed(ice={"mass": "1 kg", "melted_share": 1})
    water = mixed(water={"mass": "1 kg", "temperature": "0 °C"})
    assert melted["peak_temperature"]["value"] == pytest.approx(water["peak_temperature"]["value"], abs=1e-9)


def test_ice_by_volume_has_the_density_of_ice() -> None:
    """916.7 kg/m3 at 0 °C (IAPWS R10-06, from memory); it is not that of water."""
    by_volume = mixed(existing_stock=heel(0, volume="2 L", temperature="0 °C", state="ice"))
    assert by_volume["mass"]["value"] == pytest.approx(1000 + 2 * 916.7)


def test_frozen_water_in_the_vessel_is_ice_of_nought_degrees() -> None:
    frozen = mixed(existing_stock=heel(0, mass="1 kg", state="ice"))
    assert results(frozen) == results(mixed(ice={"mass": "1 kg"}))


@pytest.mark.parametrize(
    ("contents", "pointer", "code"),
    [
        (
            {"existing_stock": heel(0, mass="1 kg", temperature="1 °C", state="ice")},
            "temperature",
            "impossible-temperature",
        ),
        ({"existing_stock": heel(0, mass="1 kg", temperature="-31 °C", state="ice")}, "temperature", "beyond-data"),
        ({"existing_stock": heel(0, mass="1 kg", temperature="-1 °C")}, "temperature", "impossible-temperature"),
        ({"existing_stock": heel(0, mass="1 kg", temperature="101 °C")}, "temperature", "impossible-temperature"),
        ({"existing_stock": heel(0.3, mass="1 kg", temperature="-29 °C")}, "temperature", "beyond-data"),
    ],
)
def test_what_is_in_the_vessel_is_checked_like_what_is_added(contents: dict[str, Any], pointer: str, code: str) -> None:
    refused = refusal("stock-mixing", {"solid": SOLID, "water": {"mass": "1 kg"}, **contents})
    assert [(one.pointer, one.code) for one in refused.faults] == [(f"/existing_stock/{pointer}", code)]


@pytest.mark.parametrize(("t", "taken"), [("-40 °C", True), ("-41 °C", False), ("100 °C", True), ("101 °C", False)])
def test_a_solid_is_taken_from_minus_40_to_100_degrees(t: str, taken: bool) -> None:
    request = {"solid": SOLID | {"temperature": t}, "water": {"mass": "3 kg"}}
    if taken:
        assert ask("stock-mixing", request)
        return
    refused = refusal("stock-mixing", request)
    assert [(one.pointer, one.code) for one in refused.faults] == [("/solid/temperature", "beyond-data")]


def test_a_solid_from_a_room_outside_the_data_points_at_the_room() -> None:
    cold = {"alkali": "NaOH", "mass_as_supplied": "1 kg"}
    refused = refusal(
        "stock-mixing", {"solid": cold, "water": {"mass": "3 kg", "temperature": "20 °C"}, "ambient": "-50 °C"}
    )
    assert [one.pointer for one in refused.faults] == ["/ambient"]


def test_a_solid_warmer_by_ten_kelvin_brings_its_heat() -> None:
    """59.5 J/(mol K) of NaOH, 1.4876 kJ/(kg K) (CRC Handbook), into 4 kg of about 3.67 kJ/(kg K)."""
    cool, warm = (mixed({"temperature": t}, water={"mass": "3 kg"}) for t in ("20 °C", "30 °C"))
    rise = warm["peak_temperature"]["value"] - cool["peak_temperature"]["value"]
    assert rise == pytest.approx(10 * 59.5 / 39.997 / (4 * 3.67), rel=0.02)


def test_the_upper_end_is_that_of_the_purest_solid_and_the_lower_of_the_least_pure() -> None:
    """Limits of 92 and 98 %: 95 % of the rectangle's half-width of 3 points is 2.85."""
    limits = mixed({"purity": {"low": 0.92, "high": 0.98, "unit": "1"}}, water={"mass": "1.5 kg"}, duration="1 s")
    purest, least = (
        mixed({"purity": purity, "moisture": 0}, water={"mass": "1.5 kg"}, duration="1 s")
        for purity in (0.9785, 0.9215)
    )
    assert limits["peak_temperature"]["high"] == pytest.approx(purest["peak_temperature"]["high"], abs=1e-6)
    # The lower end takes off the heat that goes into a vessel of the middle's, so it is near that of the least pure.
    assert limits["peak_temperature"]["low"] == pytest.approx(least["peak_temperature"]["low"], abs=0.3)


def test_the_interval_of_a_purity_ends_at_pure() -> None:
    """99 % of a standard uncertainty of 1 point would reach beyond the whole: the upper end is that of 100 %."""
    wide = mixed({"purity": {"value": 0.99, "uncertainty": 0.01, "unit": "1"}}, water={"mass": "1.5 kg"})
    pure = mixed(water={"mass": "1.5 kg"})
    assert wide["peak_temperature"]["high"] == pytest.approx(pure["peak_temperature"]["high"], abs=1e-6)


def test_dry_flakes_by_their_carbonate_set_the_upper_end() -> None:
    """Up to 3.5 % of carbonate (USP-NF 2018): flakes of 90 % may hold only 6.5 % of water."""
    flakes = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "90 %", "temperature": "25 °C"}
    water = {"water": {"mass": "1.5 kg"}}
    assumed = ask("stock-mixing", {"solid": flakes} | water)["peak_temperature"]
    driest = ask("stock-mixing", {"solid": flakes | {"moisture": "6.5 %"}} | water)["peak_temperature"]
    assert assumed["high"] == pytest.approx(driest["high"], abs=1e-6)


def test_a_solid_holds_at_most_the_water_of_its_monohydrate() -> None:
    """18.015 / 56.105 of the hydroxide: of 70 % KOH at most 22.5 points are bound water, the rest is inert."""
    flakes = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "70 %"}
    refused = refusal("stock-mixing", {"solid": flakes | {"moisture": "22.6 %"}, "water": {"mass": "2 kg"}})
    assert [one.pointer for one in refused.faults] == ["/solid/moisture"]
    assert ask("stock-mixing", {"solid": flakes | {"moisture": "22.4 %"}, "water": {"mass": "2 kg"}})
    told = ask("stock-mixing", {"solid": flakes, "water": {"mass": "2 kg"}})["assumed"]
    assert next(one["value"] for one in told if one["pointer"] == "/solid/moisture") in {"22.476 %", "22.477 %"}


@pytest.mark.parametrize(("strength", "limit"), [(0.40, 80), (0.404, 80), (0.41, 70), (0.43, 70), (0.52, 70)])
def test_a_limit_stated_for_a_strength_is_not_taken_for_a_stronger_stock(strength: float, limit: float) -> None:
    """Stainless steel: 80 °C for 40 %, 70 °C for 50 % (Parr, Corrosion of stainless steel by hot caustic).

    On the line between the two 42 % stands 78 °C, so that 80 °C would be too much for it. Above 50 %, where the charts
    end, their last limit is taken.
    """
    answer = mixed(
        water={"mass": {"value": (1 - strength) / strength, "unit": "kg"}}, vessel={"material": "stainless-steel"}
    )
    assert answer["vessel_limit"]["value"] == limit


def test_a_strength_beyond_all_limits_of_a_material_has_none() -> None:
    """PVC: 66 °C to 30 % (the catalogue)."""
    thirty, forty = (
        mixed(water={"mass": {"value": (1 - w) / w, "unit": "kg"}}, vessel={"material": "pvc"}) for w in (0.3, 0.4)
    )
    assert thirty["vessel_limit"]["value"] == 66
    assert "vessel_limit" not in forty
    assert "vessel_margin" not in forty


@pytest.mark.parametrize(("water", "sets"), [("1 kg", True), ("1.22 kg", True), ("4 kg", False)])
def test_a_stock_that_sets_in_a_cool_store_is_told_from_where(water: str, sets: bool) -> None:
    """50 % NaOH sets from about 14 °C (Dow Chemical), 45 % near 5 °C (Pickering 1893); of 20 % it is ice."""
    answer = mixed(water={"mass": water})
    assert ("crystals-in-solution" in cautions(answer)) is sets


def test_volumes_are_those_of_the_finished_stock_cold_and_hot() -> None:
    """50 % NaOH: 1.5253 kg/L at 20 °C, 1.469 at 100 °C (International Critical Tables, in Perry, from memory)."""
    answer = mixed(water={"mass": "1 kg", "temperature": "5 °C"})
    assert answer["volume"]["value"] == pytest.approx(2000 / 1.5253, rel=3e-3)
    end = answer["path"][-1]["temperature"]["value"]
    assert answer["hot_volume"]["value"] == pytest.approx(2000 / (1.469 - (end - 100) * 0.0007), rel=3e-3)


def test_strength_at_the_end_is_hydroxide_in_all_of_the_liquid() -> None:
    answer = mixed(
        {"purity": 0.98, "moisture": 0.01},
        water={"mass": "1 kg"},
        ice={"mass": "0.5 kg"},
        existing_stock=heel(0.5, mass="2 kg"),
    )
    assert answer["strength"]["mass_fraction"]["value"] == pytest.approx((0.98 + 1) / 4.5)
    assert answer["path"][-1]["strength"]["mass_fraction"]["value"] == pytest.approx((0.98 + 1) / 4.5)


def test_strength_adds_what_purity_and_stock_leave_open() -> None:
    """Two rectangles of 0.01 and 0.04 kg over 4 kg: (0.05 kg - x)**2 / (8 * 0.01 * 0.04) lies beyond x on one side."""
    purity = {"low": 0.97, "high": 0.99, "unit": "1"}
    answer = mixed(
        {"purity": purity},
        water={"mass": "1 kg"},
        existing_stock=heel({"low": 0.28, "high": 0.32, "unit": "1"}, mass="2 kg"),
    )
    strength = answer["strength"]["mass_fraction"]
    half = (0.05 - (0.025 * 8 * 0.01 * 0.04) ** 0.5) / 4
    assert strength["high"] - strength["value"] == pytest.approx(half, rel=0.015)


def test_the_heat_released_is_uncertain_by_the_error_budget_of_the_heats() -> None:
    """NaOH of 50 %: hypot(0.2 + 0.5 * 50/50, 0.2) kJ/mol of the 25.0 mol in 1 kg, as the budget is stated."""
    heat = mixed(water={"mass": "1 kg"})["heat_released"]
    assert heat["high"] - heat["value"] == pytest.approx(1000 / 39.997 * (0.7**2 + 0.2**2) ** 0.5, rel=1e-3)


def test_the_heat_released_is_uncertain_by_what_solid_and_stock_really_hold_too() -> None:
    """KOH flakes of 90 %: up to 3.5 points of the rest may be carbonate (USP-NF), and so much less bound water.

    Bound water takes 42.97 kJ/mol off (V. B. Parker, NSRDS-NBS 2, 1965): 2385 kJ for each kg of it.
    """

    def half_width(**more: object) -> float:
        solid = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "90 %", **more}
        heat = ask("stock-mixing", {"solid": solid, "water": {"mass": "2 kg"}})["heat_released"]
        return float(heat["high"] - heat["value"])

    dry, of_data = half_width(), half_width(moisture="10 %")
    reach, data = 0.035 * 42.97 / 0.018015, NormalDist(sigma=of_data / 1.96)
    water = [reach * (2 * step + 1 - 500) / 500 for step in range(500)]  # anywhere within is as likely

    def held(half: float) -> float:
        return fmean(data.cdf(half - one) - data.cdf(-half - one) for one in water)

    assert held(0.98 * dry) < 0.95 < held(1.02 * dry)
    assert half_width(moisture="8 %", purity={"low": 0.89, "high": 0.91, "unit": "1"}) > of_data


def test_a_vessel_must_hold_the_stock_as_large_as_it_is_when_hot() -> None:
    """Above 120 °C the density of KOH is not known; that of 20 °C would make the stock some per cent too small."""
    request = {
        "solid": {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "90 %", "moisture": "9 %"},
        "water": {"mass": "1 kg", "temperature": "45 °C"},
        "vessel": {"material": "nickel", "volume": "1.55 L"},
    }
    answer = ask("stock-mixing", request)
    assert answer["peak_temperature"]["value"] > 120
    assert answer["volume"]["value"] < 0.9 * 1550
    assert cautions(answer)["vessel-too-small"]["severity"] == "danger"


def test_the_adiabatic_temperature_has_the_interval_of_the_data() -> None:
    told = mixed(water={"mass": "2 kg"})["adiabatic_temperature"]
    assert told["low"] < told["value"] < told["high"]
    assert told["high"] - told["value"] == pytest.approx(told["value"] - told["low"])
    assert told["high"] - told["value"] < 4


def test_a_mixing_colder_than_all_data_is_refused_with_what_helps() -> None:
    request = {
        "solid": {"alkali": "KOH", "mass_as_supplied": "0.4 kg", "purity": 0.9, "temperature": "-30 °C"},
        "ice": {"mass": "1 kg", "temperature": "-30 °C"},
        "existing_stock": {
            "alkali": "KOH",
            "mass": "1 kg",
            "strength": {"mass_fraction": 0.3},
            "temperature": "-20 °C",
        },
    }
    refused = refusal("stock-mixing", request)
    assert [(one.pointer, one.code) for one in refused.faults] == [("", "beyond-data")]
    assert "less ice" in refused.faults[0].mend


@pytest.mark.parametrize(
    "strength",
    [
        {"value": 0.01, "uncertainty": 0.01, "unit": "1"},  # the interval reaches below nothing
        {"value": 0.51, "uncertainty": 0.04, "unit": "1"},  # and here beyond what the data hold, and saturation
    ],
)
def test_the_interval_of_an_existing_stock_ends_where_solutions_end(strength: dict[str, Any]) -> None:
    exact = mixed(water={"mass": "2 kg"}, existing_stock=heel(strength["value"], mass="1 kg"))["peak_temperature"]
    wide = mixed(water={"mass": "2 kg"}, existing_stock=heel(strength, mass="1 kg"))["peak_temperature"]
    assert wide["low"] <= exact["low"] <= exact["value"] <= exact["high"] <= wide["high"]


def test_the_interval_of_a_purity_goes_no_lower_than_any_purity() -> None:
    """A purity is at least 50 %, so the lower end of 51 % with 2 points of standard uncertainty is that of 50 %."""
    water = {"water": {"mass": "1 kg"}, "duration": "1 s"}
    wide = mixed({"purity": {"value": 0.51, "uncertainty": 0.02, "unit": "1"}, "moisture": 0}, **water)
    wider = mixed({"purity": {"value": 0.51, "uncertainty": 0.03, "unit": "1"}, "moisture": 0}, **water)
    assert low_end(wide) == low_end(wider)


def low_end(answer: Answer) -> float:
    return float(answer["peak_temperature"]["low"])
