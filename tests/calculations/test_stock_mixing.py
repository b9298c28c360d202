"""Stock mixing: what is known from practice and chemistry, what is refused, and what is said beside the numbers."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.calculations.asking import Answer, ask, refusal

WATER_25: dict[str, Any] = {
    "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": "100 %", "temperature": "25 °C"},
    "water": {"mass": "1 kg", "temperature": "25 °C"},
}
FLAKES: dict[str, Any] = {
    "alkali": "KOH",
    "mass_as_supplied": "1 kg",
    "purity": "90 %",
    "moisture": "10 %",
    "temperature": "25 °C",
}


def codes(answer: Answer) -> set[str]:
    return {caution["code"] for caution in answer["cautions"]}


def peak(answer: Answer) -> float:
    return float(answer["peak_temperature"]["value"])


def test_one_to_one_with_water_holds_the_practice_figure_of_113_degrees() -> None:
    """Common practice, no source: 1:1 with room-temperature water is seen to reach about 113 °C (235 °F)."""
    room = ask("stock-mixing", {"solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg"}, "water": {"mass": "1 kg"}})[
        "peak_temperature"
    ]
    assert room["low"] < 113 < room["high"]


def test_one_to_one_with_ice_holds_the_practice_figure_of_49_degrees() -> None:
    """Common practice, no source: 1:1 with ice is seen to reach about 49 °C (120 °F)."""
    iced = ask("stock-mixing", {"solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg"}, "ice": {"mass": "1 kg"}})
    assert iced["peak_temperature"]["low"] < 49 < iced["peak_temperature"]["high"]


def test_the_hottest_point_with_water_lies_near_43_percent_not_at_the_end() -> None:
    answer = ask("stock-mixing", WATER_25)
    hottest = max(answer["path"], key=lambda point: point["temperature"]["value"])
    assert hottest["strength"]["mass_fraction"]["value"] == pytest.approx(0.43, abs=0.015)
    assert peak(answer) >= hottest["temperature"]["value"]
    assert peak(answer) > answer["adiabatic_temperature"]["value"] + 1


def test_bound_water_of_potash_flakes_is_worth_tens_of_kelvin() -> None:
    """Heats of solution of KOH -57.61 and KOH.H2O -14.64 kJ/mol (Parker, NSRDS-NBS 2, 1965): the 0.1 kg of bound
    water in 1 kg flakes takes 0.1/0.018015 * 42.97 = 238.5 kJ off the heat released."""
    water = {"mass": "1.5 kg", "temperature": "25 °C"}
    flakes = ask("stock-mixing", {"solid": FLAKES, "water": water})
    dry = {"alkali": "KOH", "mass_as_supplied": "0.9 kg", "purity": 1, "temperature": "25 °C"}
    free = ask("stock-mixing", {"solid": dry, "water": {"mass": "1.6 kg", "temperature": "25 °C"}})
    difference = free["heat_released"]["value"] - flakes["heat_released"]["value"]
    assert difference == pytest.approx(0.1 / 0.018015 * 42.97, rel=1e-3)
    assert free["adiabatic_temperature"]["value"] - flakes["adiabatic_temperature"]["value"] > 25


def test_moisture_of_potash_that_is_not_given_is_assumed_and_widens_the_upper_end() -> None:
    solid = {key: value for key, value in FLAKES.items() if key != "moisture"}
    water = {"mass": "1 kg", "temperature": "25 °C"}
    assumed = ask("stock-mixing", {"solid": solid, "water": water})
    stated = ask("stock-mixing", {"solid": FLAKES, "water": water})
    assert "moisture-assumed" in codes(assumed)
    assert {"pointer": "/solid/moisture", "value": "10 %"}.items() <= next(
        one for one in assumed["assumed"] if one["pointer"] == "/solid/moisture"
    ).items()
    assert peak(assumed) == pytest.approx(peak(stated))
    assert assumed["peak_temperature"]["high"] > stated["peak_temperature"]["high"] + 3


def test_pure_potash_in_little_water_boils_stays_on_the_boiling_curve_and_loses_water() -> None:
    answer = ask(
        "stock-mixing",
        {"solid": {"alkali": "KOH", "mass_as_supplied": "0.7 kg", "purity": 1}, "water": {"mass": "1 kg"}},
    )
    assert answer["boils"] is True
    assert answer["boiling_margin"]["value"] < 0
    assert answer["water_boiled_off"]["value"] > 0
    assert "boils" in codes(answer)
    for point in answer["path"]:
        assert point["temperature"]["value"] <= point["boiling_point"]["value"] + 1e-9
    assert answer["mass"]["value"] + answer["water_boiled_off"]["value"] == pytest.approx(1700)


def test_boiling_that_leaves_the_data_is_a_danger_and_said_to_be_a_lower_bound() -> None:
    answer = ask(
        "stock-mixing",
        {"solid": {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": 1}, "water": {"mass": "1 kg"}},
    )
    beyond = next(one for one in answer["cautions"] if one["code"] == "beyond-source-range")
    assert beyond["severity"] == "danger"
    assert "lower bounds" in beyond["message"]
    assert "temperature" not in answer["path"][-1]


def test_a_third_of_soda_in_warm_water_comes_close_to_boiling() -> None:
    request = {
        "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg"},
        "water": {"mass": "2 kg", "temperature": "25 °C"},
    }
    answer = ask("stock-mixing", request)
    assert answer["boils"] is False
    assert 0 < answer["boiling_margin"]["value"] < 10
    assert "boiling-margin-small" in codes(answer)


def test_existing_stock_dilutes_the_heat() -> None:
    heel = {"alkali": "NaOH", "mass": "2 kg", "strength": {"mass_fraction": "50 %"}, "temperature": "25 °C"}
    assert peak(ask("stock-mixing", WATER_25 | {"existing_stock": heel})) < peak(ask("stock-mixing", WATER_25)) - 20


def test_existing_stock_by_volume_is_its_density_times_the_volume() -> None:
    by_volume = {"alkali": "NaOH", "volume": "1 L", "strength": {"mass_fraction": "50 %"}, "temperature": "20 °C"}
    answer = ask("stock-mixing", WATER_25 | {"existing_stock": by_volume})
    # 1.5253 kg/L: Perry's Chemical Engineers' Handbook after International Critical Tables vol. 3 (from memory)
    assert answer["mass"]["value"] == pytest.approx(2000 + 1525.3, abs=4)


def test_water_as_existing_stock_of_strength_nought_is_water() -> None:
    water = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": 0}, "temperature": "25 °C"}
    solid = WATER_25["solid"]
    assert peak(ask("stock-mixing", {"solid": solid, "existing_stock": water})) == pytest.approx(
        peak(ask("stock-mixing", WATER_25))
    )


def test_half_melted_ice_counts_as_half_water_at_nought_degrees() -> None:
    solid = WATER_25["solid"]
    melted = ask("stock-mixing", {"solid": solid, "ice": {"mass": "1 kg", "melted_share": "50 %"}})
    mixed = ask(
        "stock-mixing",
        {"solid": solid, "ice": {"mass": "0.5 kg"}, "water": {"mass": "0.5 kg", "temperature": "0 °C"}},
    )
    assert peak(melted) == pytest.approx(peak(mixed))


def test_the_path_starts_with_the_contents_and_ends_with_the_stock() -> None:
    answer = ask("stock-mixing", WATER_25 | {"ice": {"mass": "0.5 kg"}})
    first, last = answer["path"][0], answer["path"][-1]
    assert first["solid_added_share"]["value"] == 0
    assert first["strength"]["mass_fraction"]["value"] == 0
    assert first["temperature"]["value"] == pytest.approx(0, abs=1e-9)
    assert first["ice_mass"]["value"] > 0
    assert last["solid_added_share"]["value"] == 1
    assert last["ice_mass"]["value"] == 0
    assert last["strength"] == {"mass_fraction": {"value": pytest.approx(0.4), "unit": "1"}}
    assert len(answer["path"]) == 50


def test_a_path_over_much_ice_says_where_its_temperatures_are_estimates() -> None:
    answer = ask("stock-mixing", {"solid": WATER_25["solid"], "ice": {"mass": "1 kg"}})
    assert "ice-path-beyond-data" in codes(answer)
    cold = [p for p in answer["path"] if "temperature" in p and p["temperature"]["value"] < 0]
    assert cold
    assert min(p["temperature"]["value"] for p in cold) >= -28.1  # eutectic, Pickering 1893


def test_potash_over_ice_leaves_out_what_no_data_reach_and_says_so() -> None:
    """Freezing points of KOH were read to 7 % (CRC Handbook, 102nd ed.)."""
    answer = ask("stock-mixing", {"solid": FLAKES, "ice": {"mass": "1 kg"}})
    unknown = [p for p in answer["path"] if "temperature" not in p]
    assert unknown
    assert all("ice_mass" not in p for p in unknown)
    assert "ice-path-beyond-data" in codes(answer)
    assert answer["ice_left"]["value"] == 0


def test_a_mixing_that_ends_below_the_data_leaves_out_the_ice_that_remains() -> None:
    request = {"solid": FLAKES | {"mass_as_supplied": "0.3 kg"}, "ice": {"mass": "1 kg", "temperature": "-20 °C"}}
    answer = ask("stock-mixing", request)
    assert "ice-path-beyond-data" in codes(answer)
    assert "ice_left" not in answer
    assert "ice-left" in codes(answer)


@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        ({"ice": {"mass": "1 kg", "temperature": "2 °C"}}, "/ice/temperature", "impossible-temperature"),
        ({"ice": {"mass": "1 kg", "temperature": "-60 °C"}}, "/ice/temperature", "beyond-data"),
        ({"water": {"mass": "1 kg", "temperature": "-5 °C"}}, "/water/temperature", "impossible-temperature"),
        ({"water": {"mass": "1 kg", "temperature": "120 °C"}}, "/water/temperature", "impossible-temperature"),
        ({"water": {"mass": "0.8 kg"}}, "/solid/mass_as_supplied", "beyond-solubility"),
        ({"solid": {"alkali": "KOH", "mass_as_supplied": "1 kg"}}, "/solid/purity", "purity-needed"),
        (
            {"solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": 0.98, "moisture": 0.05}},
            "/solid/moisture",
            "contradiction",
        ),
        (
            {"solid": {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": 0.6, "moisture": 0.4}},
            "/solid/moisture",
            "contradiction",
        ),
        (
            {"existing_stock": {"alkali": "KOH", "mass": "1 kg", "strength": {"mass_fraction": 0.4}}},
            "/existing_stock/alkali",
            "contradiction",
        ),
        (
            {"existing_stock": {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": 0.4}, "state": "ice"}},
            "/existing_stock/state",
            "contradiction",
        ),
        ({"vessel": {"material": "steinless-steel"}}, "/vessel/material", "unknown-identifier"),
    ],
)
def test_what_cannot_be_is_refused_at_its_place(change: dict[str, Any], pointer: str, code: str) -> None:
    refused = refusal("stock-mixing", WATER_25 | change)
    assert refused is not None
    assert refused.status == 422
    assert (pointer, code) in {(fault.pointer, fault.code) for fault in refused.faults}
    assert all(fault.mend for fault in refused.faults)


def test_nothing_to_mix_into_is_refused() -> None:
    refused = refusal("stock-mixing", {"solid": WATER_25["solid"]})
    assert refused is not None
    assert refused.status == 400
    assert "water" in refused.faults[0].detail


def test_a_plastic_tank_is_warned_of_the_peak_and_its_margin_counts_the_upper_end() -> None:
    answer = ask("stock-mixing", WATER_25 | {"vessel": {"material": "hdpe"}})
    assert answer["vessel_limit"]["value"] == 60
    assert answer["vessel_margin"]["value"] == pytest.approx(60 - answer["peak_temperature"]["high"])
    assert "vessel-limit-exceeded" in codes(answer)


def test_the_maker_of_a_vessel_knows_its_limit_better() -> None:
    answer = ask("stock-mixing", WATER_25 | {"vessel": {"material": "hdpe", "maximum_temperature": "150 °C"}})
    assert answer["vessel_margin"]["value"] > 0
    assert "vessel-limit-exceeded" not in codes(answer)


@pytest.mark.parametrize("material", ["aluminium", "galvanised-steel", "pet"])
def test_a_vessel_that_caustic_eats_is_a_danger(material: str) -> None:
    answer = ask("stock-mixing", WATER_25 | {"vessel": {"material": material}})
    assert any(c["code"] == "vessel-unsuitable" and c["severity"] == "danger" for c in answer["cautions"])


def test_a_vessel_too_small_for_the_hot_stock_is_a_danger() -> None:
    answer = ask("stock-mixing", WATER_25 | {"vessel": {"material": "stainless-steel", "volume": "1.4 L"}})
    assert "vessel-too-small" in codes(answer)


def test_time_lets_heat_go_and_only_the_lower_end_knows() -> None:
    vessel = {"material": "stainless-steel", "mass": "1 kg", "diameter": "12 cm", "height": "15 cm", "lid": True}
    quick = ask("stock-mixing", WATER_25 | {"vessel": vessel, "duration": "1 min"})
    slow = ask("stock-mixing", WATER_25 | {"vessel": vessel, "duration": "1 h"})
    assert peak(quick) == peak(slow)
    assert slow["peak_temperature"]["low"] < quick["peak_temperature"]["low"] - 10
    assert slow["peak_temperature"]["low"] >= 20
    assert slow["peak_temperature"]["high"] == quick["peak_temperature"]["high"]


def test_a_hot_room_warms_a_cold_mixing() -> None:
    request = {"solid": WATER_25["solid"], "ice": {"mass": "1 kg"}, "duration": "1 h"}
    cool = ask("stock-mixing", request | {"ambient": "5 °C"})
    hot = ask("stock-mixing", request | {"ambient": "40 °C"})
    assert hot["peak_temperature"]["high"] > cool["peak_temperature"]["high"] + 1


def test_purity_with_limits_widens_peak_and_strength() -> None:
    exact = ask("stock-mixing", WATER_25 | {"solid": WATER_25["solid"] | {"purity": "98 %"}})
    solid = WATER_25["solid"] | {"purity": {"low": 96, "high": 100, "unit": "%"}}
    spread = ask("stock-mixing", WATER_25 | {"solid": solid})
    assert "low" in spread["strength"]["mass_fraction"]
    assert "low" not in exact["strength"]["mass_fraction"]
    width = spread["peak_temperature"]["high"] - peak(spread)
    assert width > exact["peak_temperature"]["high"] - peak(exact)


def test_steps_close_the_heat_balance_by_hand() -> None:
    solid = WATER_25["solid"] | {"purity": "98 %", "moisture": "0.5 %"}
    request = WATER_25 | {"ice": {"mass": "0.2 kg", "temperature": "-10 °C"}, "solid": solid}
    answer = ask("stock-mixing", request, explain=True)
    steps = {step["name"]: step for step in answer["steps"]}
    last = steps["adiabatic temperature"]
    known = {name: figure["value"] for name, figure in last["inputs"].items()}
    brought = sum(step["result"]["value"] for name, step in steps.items() if name.startswith("heat of the "))
    assert known["heat"] == pytest.approx(brought)
    assert known["heat_of_solution"] == steps["heat of solution at 25 °C, adiabatic"]["result"]["value"]
    by_hand = 25 + (known["heat"] - known["hydroxide"] * known["heat_of_solution"]) / (
        known["solution"] * known["heat_capacity"] + known["inert"]
    )
    assert by_hand == pytest.approx(answer["adiabatic_temperature"]["value"])


@settings(max_examples=25, deadline=None)
@given(st.floats(min_value=1e-3, max_value=1e3), st.floats(min_value=0.1, max_value=0.9))
def test_ten_times_as_much_gets_just_as_hot(factor: float, iced: float) -> None:
    def request(size: float) -> dict[str, Any]:
        return {
            "solid": {"alkali": "NaOH", "mass_as_supplied": {"value": size, "unit": "kg"}, "purity": 0.98},
            "water": {"mass": {"value": 1.1 * size * (1 - iced), "unit": "kg"}},
            "ice": {"mass": {"value": 1.1 * size * iced, "unit": "kg"}},
        }

    one, other = ask("stock-mixing", request(1)), ask("stock-mixing", request(factor))
    for end in ("value", "low", "high"):
        assert other["peak_temperature"][end] == pytest.approx(one["peak_temperature"][end], abs=1e-6)
    assert other["heat_released"]["value"] == pytest.approx(factor * one["heat_released"]["value"], rel=1e-9)
    assert other["mass"]["value"] == pytest.approx(factor * one["mass"]["value"], rel=1e-9)


@settings(max_examples=25, deadline=None)
@given(st.floats(min_value=0.05, max_value=0.9), st.floats(min_value=0.01, max_value=0.09), st.floats(1.0, 3.0))
def test_more_ice_at_the_same_total_water_never_raises_the_peak(iced: float, more: float, total: float) -> None:
    def hottest(share: float) -> float:
        return peak(
            ask(
                "stock-mixing",
                {
                    "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg"},
                    "water": {"mass": {"value": total * (1 - share), "unit": "kg"}},
                    "ice": {"mass": {"value": total * share, "unit": "kg"}},
                },
            )
        )

    assert hottest(iced + more) <= hottest(iced) + 1e-9


@pytest.mark.parametrize("water", ["0.8 kg", "0.82 kg", "0.9 kg"])
@pytest.mark.parametrize("purity", ["90 %", {"low": 85, "high": 93, "unit": "%"}])
def test_the_driest_flakes_never_lead_beyond_the_data(water: str, purity: object) -> None:
    """50 % KOH is where the data end: the bounds stop there, and it is said where they do."""
    solid = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": purity}
    answer = ask("stock-mixing", {"solid": solid, "water": {"mass": water}})
    assert answer["peak_temperature"]["low"] <= peak(answer) <= answer["peak_temperature"]["high"]
    if water == "0.8 kg":
        assert "beyond-source-range" in codes(answer)


def test_purer_flakes_are_drier_and_the_upper_end_counts_both() -> None:
    """Flakes of 91 to 95 %: the purest hold at most 5 % of water, and up to 3.5 points less with carbonate."""
    ice = {"mass": "1 kg"}
    limits = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": {"low": 91, "high": 95, "unit": "%"}}
    purest = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "94.9 %", "moisture": "1.6 %"}
    spread = ask("stock-mixing", {"solid": limits, "ice": ice, "water": {"mass": "0.3 kg"}})
    assert spread["peak_temperature"]["high"] > peak(
        ask("stock-mixing", {"solid": purest, "ice": ice, "water": {"mass": "0.3 kg"}})
    )


def test_a_warm_room_may_melt_the_ice_and_warms_nothing_beyond_itself() -> None:
    """With its ice melted and warmed to 40 °C by the room, 1:1 reaches what 1:1 with water of 40 °C reaches."""
    request = {"solid": WATER_25["solid"], "ice": {"mass": "1 kg"}, "ambient": "40 °C", "duration": "10 h"}
    warm = {"solid": WATER_25["solid"], "water": {"mass": "1 kg", "temperature": "40 °C"}}
    high = ask("stock-mixing", request)["peak_temperature"]["high"]
    assert peak(ask("stock-mixing", warm)) <= high < peak(ask("stock-mixing", warm)) + 60


def test_a_stock_hotter_than_it_boils_is_refused() -> None:
    """50 % boils at about 145 °C (Dow Chemical)."""
    hot = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": "50 %"}, "temperature": "190 °C"}
    refused = refusal("stock-mixing", WATER_25 | {"existing_stock": hot})
    assert [(one.pointer, one.code) for one in refused.faults] == [
        ("/existing_stock/temperature", "impossible-temperature")
    ]


def test_the_spread_of_an_existing_stock_is_in_strength_and_peak() -> None:
    def heel(strength: object) -> Answer:
        stock = {"alkali": "NaOH", "mass": "2 kg", "strength": {"mass_fraction": strength}, "temperature": "25 °C"}
        return ask("stock-mixing", WATER_25 | {"existing_stock": stock})

    exact, spread = heel("30 %"), heel({"low": 27, "high": 33, "unit": "%"})
    # 95 % of a rectangle of 3 points, on 2 of 4 kg
    half = 0.95 * 0.03 * 2 / 4
    strength = spread["strength"]["mass_fraction"]
    assert strength["high"] - strength["value"] == pytest.approx(half)
    assert spread["peak_temperature"]["high"] > exact["peak_temperature"]["high"]


@pytest.mark.parametrize("nought", ["0 °C", "-0 °C", "32 °F", "32.0000001 °F"])
def test_a_default_of_nought_degrees_is_told_without_sign_and_what_rounding_leaves(nought: str) -> None:
    request = {"solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg"}, "water": {"mass": "3 kg"}, "ambient": nought}
    told = {one["pointer"]: one["value"] for one in ask("stock-mixing", request)["assumed"]}
    assert told["/solid/temperature"] == told["/water/temperature"] == "0 °C"


def test_defaults_of_a_mixing_are_all_told() -> None:
    request = {
        "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg"},
        "water": {"mass": "1 kg"},
        "ice": {"mass": "1 kg"},
    }
    told = {one["pointer"]: one["value"] for one in ask("stock-mixing", request)["assumed"]}
    assert told == {
        "/ambient": "20 °C",
        "/solid/temperature": "20 °C",
        "/solid/purity": "100 %",
        "/water/temperature": "20 °C",
        "/ice/temperature": "0 °C",
        "/ice/melted_share": "0 %",
        "/duration": "a tenth of the heat released is lost at most",
    }


def test_a_vessel_of_unknown_mass_is_bounded_by_a_twentieth_of_the_heat() -> None:
    lidded = {"material": "hdpe", "diameter": "12 cm", "height": "15 cm", "lid": True}
    weightless = ask("stock-mixing", WATER_25 | {"vessel": lidded | {"mass": "1 mg"}, "duration": "1 s"})
    unknown = ask("stock-mixing", WATER_25 | {"vessel": lidded, "duration": "1 s"})
    heat = 0.05 * unknown["heat_released"]["value"]
    drop = weightless["peak_temperature"]["low"] - unknown["peak_temperature"]["low"]
    assert drop == pytest.approx(heat / (2 * 3.25), rel=0.15)  # 2 kg of about 3.25 kJ/(kg K)


def test_no_hot_volume_is_told_while_ice_is_left() -> None:
    solid = {"alkali": "NaOH", "mass_as_supplied": "0.05 kg"}
    answer = ask("stock-mixing", {"solid": solid, "ice": {"mass": "1 kg"}})
    assert answer["ice_left"]["value"] > 0
    assert "hot_volume" not in answer


def test_a_closed_vessel_is_a_danger_and_a_steel_one_does_not_soften() -> None:
    vessel = {"material": "stainless-steel", "lid": True}
    messages = {one["code"]: one for one in ask("stock-mixing", WATER_25 | {"vessel": vessel})["cautions"]}
    assert messages["vessel-closed"]["severity"] == "danger"
    assert "soften" not in messages["vessel-limit-exceeded"]["message"]
    assert "vessel-closed" not in codes(ask("stock-mixing", WATER_25 | {"vessel": vessel | {"lid": False}}))


def test_without_a_vessel_the_heat_gets_its_word() -> None:
    assert "vessel-not-given" in codes(ask("stock-mixing", WATER_25))
    iced = {"solid": WATER_25["solid"], "ice": {"mass": "1 kg"}}
    assert "vessel-not-given" not in codes(ask("stock-mixing", iced))


def test_the_gravest_cautions_come_first() -> None:
    severities = [one["severity"] for one in ask("stock-mixing", WATER_25)["cautions"]]
    assert severities == sorted(severities, key=["danger", "caution", "note"].index)


@pytest.mark.parametrize("water", ["0.1 kg", "1 kg", "3 kg"])
def test_more_spread_of_an_existing_stock_never_narrows_the_peak(water: str) -> None:
    def heel(strength: object) -> dict[str, float]:
        stock = {"alkali": "NaOH", "mass": "3 kg", "strength": {"mass_fraction": strength}, "temperature": "20 °C"}
        request = WATER_25 | {"water": {"mass": water, "temperature": "20 °C"}, "existing_stock": stock}
        found: dict[str, float] = ask("stock-mixing", request)["peak_temperature"]
        return found

    exact, spread = heel("30 %"), heel({"low": 20, "high": 40, "unit": "%"})
    assert spread["high"] >= exact["high"]
    assert spread["low"] <= exact["low"]


def test_more_water_on_potash_never_takes_boiling_away() -> None:
    flakes = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "90 %"}
    margins = [
        ask("stock-mixing", {"solid": flakes, "water": {"mass": f"{water} kg"}})["boiling_margin"]["value"]
        for water in (0.8, 0.84, 0.9)
    ]
    # The bounding run has 12 points, which is worth up to 0.05 K of the margin.
    assert all(later >= earlier - 0.05 for earlier, later in pairwise(margins))
    assert margins[0] < 0


def test_boiling_is_not_told_as_ice_and_an_unknown_upper_end_is_no_margin() -> None:
    solid = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "95 %"}
    vessel = {"material": "nickel", "maximum_temperature": "142 °C"}
    request = {"solid": solid, "water": {"mass": "1 kg", "temperature": "40 °C"}, "vessel": vessel}
    answer = ask("stock-mixing", request)
    assert answer["vessel_margin"]["value"] < 0
    assert "beyond-source-range" in codes(answer)
    assert not {"ice-left", "ice-path-beyond-data"} & codes(answer)
