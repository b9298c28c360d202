"""Warming a stock: results by hand, what is refused, and what holds for all of them."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.calculations.shared.faults import Refusal
from tests.calculations.asking import ask, cautions, fault, message_of
from tests.calculations.caution_cases_of_warming import W, warming


def _value(answer: dict[str, Any], name: str) -> float:
    return float(answer[name]["value"])


def _asked(request: dict[str, Any]) -> tuple[list[str], dict[str, Any]]:
    """Codes of the faults, and the answer."""
    try:
        return [], ask(W, request)
    except Refusal as refused:
        return [one.code for one in refused.faults], {}


def test_the_energy_is_power_times_time_and_what_was_taken_up_and_lost() -> None:
    answer = ask(W, warming(efficiency="80 %"))
    energy = _value(answer, "energy")
    assert energy == pytest.approx(0.4 * 3600 * _value(answer, "time"))
    assert _value(answer, "heat_taken_up") + _value(answer, "heat_lost") == pytest.approx(0.8 * energy)


def test_the_heat_taken_up_is_that_of_stock_and_vessel_by_hand() -> None:
    # 50 kg of 3.25 kJ/(kg K) (Olsson et al. 1997, at 25 °C) and 3 kg of HDPE of 1.8 to 2.3 kJ/(kg K), by 14 K
    taken = _value(ask(W, warming()), "heat_taken_up")
    assert 14 * (50 * 3.24 + 3 * 1.8) < taken < 14 * (50 * 3.27 + 3 * 2.3)


def test_a_strong_heater_takes_hardly_more_than_heat_over_power() -> None:
    answer = ask(W, warming(heater_power="100 kW"))
    assert _value(answer, "time") * 3600 * 100 == pytest.approx(_value(answer, "heat_taken_up"), rel=0.01)


def test_kilowatt_hours_by_hand() -> None:
    answer = ask(W, warming(), units="us")
    assert answer["energy"]["unit"] == "kWh"
    assert _value(answer, "energy") == pytest.approx(0.4 * _value(answer, "time"))


def test_holding_takes_the_loss_at_the_target() -> None:
    answer = ask(W, warming(hold_time="12 h"))
    hold = answer["hold"]
    assert hold["duty"]["value"] == pytest.approx(_value(answer, "power_to_hold") / 400)
    assert hold["energy"]["value"] == pytest.approx(_value(answer, "power_to_hold") * 12 * 3.6)


def test_a_weak_heater_is_refused_with_where_it_ends_and_what_is_needed() -> None:
    found = fault(W, warming(heater_power="10 W", to="50 °C"), 422)
    assert (found.pointer, found.code) == ("/heater_power", "heater-too-weak")
    assert "no warmer than" in found.detail
    assert "W" in found.mend


def test_at_the_steady_temperature_the_loss_takes_all_of_the_heater() -> None:
    """What is needed to hold the steady temperature of a heater is that heater."""
    request = warming(heater_power="60 W", to="22 °C")
    steady = _value(ask(W, request), "steady_temperature")
    assert 22 < steady < 60
    held = ask(W, warming(heater_power="1 kW", to={"value": steady, "unit": "°C"}))
    assert _value(held, "power_to_hold") == pytest.approx(60, rel=1e-6)


def test_a_heater_that_is_only_just_enough_has_no_upper_end_and_a_caution() -> None:
    steady = ask(W, warming(heater_power="60 W", to="22 °C"))["steady_temperature"]
    between = (steady["low"] + steady["value"]) / 2
    answer = ask(W, warming(heater_power="60 W", to={"value": between, "unit": "°C"}))
    assert answer["surely_reached"] is False
    assert "high" not in answer["time"]
    assert "high" not in answer["energy"]
    assert cautions(answer)["target-not-sure"]["severity"] == "caution"


def test_a_strong_heater_is_surely_enough_and_has_both_ends() -> None:
    answer = ask(W, warming())
    assert answer["surely_reached"] is True
    assert answer["time"]["low"] < answer["time"]["value"] < answer["time"]["high"]
    assert "target-not-sure" not in cautions(answer)


def test_a_stock_that_has_set_takes_several_times_the_heat() -> None:
    """50 kg wholly crystallised at 4 °C: 218 kJ/kg by the heats of fusion, and 26 K of 3.25 kJ/(kg K)."""
    cold = ask(W, warming(t="4 °C", heater_power="2 kW", crystallised=True))
    liquid = ask(W, warming(t="4 °C", heater_power="2 kW", crystallised=False))
    assert _value(liquid, "thawing_heat") == 0
    assert cold["thawing_heat"]["low"] > 0
    more = _value(cold, "heat_taken_up") - _value(liquid, "heat_taken_up")
    assert more == pytest.approx(_value(cold, "thawing_heat"))
    assert 2 < _value(cold, "time") / _value(liquid, "time") < 5


def test_a_cold_stock_of_which_nothing_is_said_may_still_be_liquid() -> None:
    """A quiet stock may be cooled below its first solid, 9.8 to 14.3 °C, and stay liquid for a time."""
    unsure = ask(W, warming(t="8 °C", heater_power="2 kW"))
    sure = ask(W, warming(t="8 °C", heater_power="2 kW", crystallised=True))
    assert unsure["thawing_heat"]["low"] == 0
    assert unsure["thawing_heat"]["value"] == sure["thawing_heat"]["value"] > 0
    assert unsure["time"]["low"] < sure["time"]["low"]


def test_potash_that_has_set_is_not_given_a_heat_nobody_knows() -> None:
    answer = ask(W, warming("49 %", "-10 °C", alkali="KOH"))
    assert _value(answer, "thawing_heat") == 0
    assert "thawing-heat-left-out" in cautions(answer)


def test_ice_in_a_weak_stock_melts_at_its_heat() -> None:
    # 10 % NaOH at -20 °C: (1 - 0.10 / 0.160) of it is ice; 334 kJ/kg less the way of both from 0 to -20 °C
    answer = ask(W, warming("10 %", "-20 °C", heater_power="2 kW"))
    assert 0.3 * 50 * 280 < _value(answer, "thawing_heat") < 0.4 * 50 * 340
    assert answer["path"][0]["solid_share"]["value"] == pytest.approx(0.376, abs=0.01)


def _untold(**change: Any) -> dict[str, Any]:
    """A stock of which nobody says how cold it is."""
    request = warming(**change)
    del request["solution"]["temperature"]
    return request


def test_a_stock_that_nobody_measured_is_as_cold_as_its_room() -> None:
    cold = ask(W, _untold(ambient="4 °C", heater_power="2 kW"))
    assert cold["path"][0]["temperature"]["value"] == 4
    assert cold["time"] == ask(W, warming(t="4 °C", ambient="4 °C", heater_power="2 kW"))["time"]
    assert "crystals-in-solution" in cautions(cold)
    assert ask(W, _untold())["path"][0]["temperature"]["value"] == 20


@pytest.mark.parametrize(
    ("change", "code", "mend"),
    [
        ({"ambient": "-35 °C"}, "beyond-data", "as the temperature of the solution"),
        ({"ambient": "-5 °C", "w": "0 %"}, "impossible-temperature", "as the temperature of the solution"),
        ({"ambient": "90 °C"}, "out-of-range", "check the unit"),
    ],
)
def test_a_room_that_its_stock_cannot_be_as_cold_as_is_refused(change: dict[str, Any], code: str, mend: str) -> None:
    found = fault(W, _untold(**change), 422)
    assert (found.pointer, found.code) == ("/ambient", code)
    assert mend in found.mend


@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        ({"to": "16 °C"}, "/target_temperature", "contradiction"),
        ({"to": "10 °C"}, "/target_temperature", "contradiction"),
        ({"to": "19 °C", "ambient": "25 °C"}, "/target_temperature", "contradiction"),
        ({"to": "61 °C"}, "/target_temperature", "too-hot-for-vessel"),
        ({"to": "150 °C"}, "/target_temperature", "impossible-temperature"),
        ({"t": "-30 °C"}, "/solution/temperature", "beyond-data"),
        ({"w": "0 %", "t": "-5 °C"}, "/solution/temperature", "impossible-temperature"),
        ({"t": "20 °C", "crystallised": True}, "/crystallised", "contradiction"),
        ({"ambient": "-60 °C"}, "/ambient", "out-of-range"),
        ({"vessel": {"volume": "20 L"}}, "/vessel", "does-not-add-up"),
    ],
)
def test_what_cannot_be_is_refused(change: dict[str, Any], pointer: str, code: str) -> None:
    found = fault(W, warming(**change), 422)
    assert (found.pointer, found.code) == (pointer, code)


def test_ice_is_refused() -> None:
    request = warming("0 %", "5 °C")
    request["solution"]["state"] = "ice"
    assert fault(W, request, 422).pointer == "/solution/state"


@pytest.mark.parametrize("mass", ["1 mg", "1 g", "100 t"])
@pytest.mark.parametrize("power", ["1 mW", "1 kW", "1000000 kW"])
def test_extremes_are_answered_or_refused(mass: str, power: str) -> None:
    request = warming(vessel={"volume": "100000 m3"}, heater_power={"value": 1, "unit": "W"})
    request["solution"]["mass"] = mass
    del request["vessel"]["volume"]
    number, unit = power.split()
    request["heater_power"] = f"{float(number) / (1000 if unit == 'mW' else 1)} {'W' if unit == 'mW' else unit}"
    refused, answer = _asked(request)
    assert refused in ([], ["heater-too-weak"])
    if not refused:
        assert math.isfinite(_value(answer, "time"))


@settings(max_examples=60)
@given(to=st.floats(21.0, 58.0), more=st.floats(0.1, 1.5))
def test_warmer_takes_longer(to: float, more: float) -> None:
    times = [
        _value(ask(W, warming(heater_power="2 kW", to={"value": t, "unit": "°C"})), "time") for t in (to, to + more)
    ]
    assert times[0] < times[1]


@settings(max_examples=60)
@given(power=st.floats(500.0, 5000.0), more=st.floats(1.0, 1000.0), t=st.floats(-10.0, 20.0))
def test_a_stronger_heater_takes_less_time_and_never_more_energy(power: float, more: float, t: float) -> None:
    said = {"value": t, "unit": "°C"}
    weak, strong = (ask(W, warming(t=said, heater_power={"value": one, "unit": "W"})) for one in (power, power + more))
    assert _value(strong, "time") < _value(weak, "time")
    if t < 20.0:  # where the room warms it on the way, less time is less of that help
        return
    assert _value(strong, "energy") <= _value(weak, "energy") * (1 + 1e-9)


def test_a_stock_set_through_and_through_takes_up_less_than_one_still_liquid_while_it_stays_set() -> None:
    """38.8 % is NaOH·3.5H2O, solid to 15.4 °C: 2.0 kJ/(kg K) against 3.4 of the liquid, which the upper end may be."""
    answer = ask(W, warming("38.8 %", "4 °C", "8 °C", ambient="2 °C"))
    taken = answer["heat_taken_up"]
    vessel = 3 * 2.05
    assert taken["value"] == pytest.approx(4 * (50 * 2.0 + vessel), rel=0.05)
    assert taken["low"] <= taken["value"] < taken["high"]
    assert taken["high"] > 4 * (50 * 3.3)
    assert answer["time"]["low"] <= answer["time"]["value"] < answer["time"]["high"]
    assert _value(answer, "thawing_heat") == 0


def test_below_the_freezing_line_only_a_part_thaws_and_a_caution_says_what_takes_all() -> None:
    part, whole = (ask(W, warming("50 %", "4 °C", to, ambient="2 °C", crystallised=True)) for to in ("9 °C", "30 °C"))
    assert 0 < _value(part, "thawing_heat") < 0.6 * _value(whole, "thawing_heat")
    assert _value(part, "thawing_heat") < _value(part, "heat_taken_up")
    told = message_of(part, "crystals-in-solution")
    assert "The target leaves some" in told
    assert "14.3 °C" in told
    assert "The target" not in message_of(whole, "crystals-in-solution")


def test_a_wall_as_thick_as_no_vessels_is_refused() -> None:
    assert fault(W, warming(vessel={"wall_thickness": "3 m"}), 422).code == "out-of-range"
