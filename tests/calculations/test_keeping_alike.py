"""Cooling and warming tell the same of the same vessel, and what is assumed is what the same said aloud would be."""

import itertools
import math
from typing import Any, Final

import pytest

from tests.calculations.asking import Answer, ask, assumed, fault
from tests.calculations.caution_cases_of_cooling import K, bath, cooling, readings
from tests.calculations.caution_cases_of_warming import W, warming
from tests.calculations.figures import NORMAL_95
from tests.calculations.quantities import celsius
from tests.calculations.test_steps import steps

ENDS: Final = ("low", "value", "high")
SAID: Final = (80.0, 66.0, 55.0)
POT: Final = {"material": "stainless-steel", "diameter": "18 cm", "height": "25 cm", "mass": "1 kg"}


def _air(t: float) -> dict[str, Any]:
    return {"medium": "still-air", "temperature": celsius(t)}


def _both(
    vessel: dict[str, Any], hot: float, room: float, w: str = "30 %", mass: str = "5 kg"
) -> list[dict[str, float]]:
    """What a vessel loses at a temperature: what holds it there, and what it loses where it begins to cool."""
    cool = cooling(celsius(hot), celsius(room + 1.0), "20 %", around=_air(room)) | {"vessel": vessel}
    warm = warming("20 %", celsius(room), celsius(hot), heater_power="1 kW", ambient=celsius(room)) | {"vessel": vessel}
    for request in (cool, warm):
        request["solution"]["mass"] = mass
    return [ask(W, warm)["power_to_hold"], ask(K, cool)["heat_loss_at_start"]]


@pytest.mark.parametrize("lid", [True, False])
@pytest.mark.parametrize("room", [0.0, 20.0])
@pytest.mark.parametrize("shape", [POT, {"material": "hdpe", "volume": "6 L", "mass": "300 g"}])
def test_what_holds_a_stock_warm_is_what_it_loses_where_it_begins_to_cool(
    shape: dict[str, Any], room: float, *, lid: bool
) -> None:
    held, lost = _both(shape | {"lid": lid}, 55.0, room)
    for end in ENDS:  # but for the level, which is that of the cold stock and of the hot one
        assert held[end] == pytest.approx(lost[end], rel=2e-2)


def test_a_little_stock_hardly_warmer_than_its_room_is_held_by_next_to_nothing() -> None:
    held, lost = _both({"material": "hdpe", "volume": "8 mL", "mass": "1 g", "lid": True}, 23.0, 20.0, mass="6 g")
    assert held["high"] < 0.5  # W; some 20 cm2, 3 K and 10 W/(m2 K)
    assert held["value"] == pytest.approx(lost["value"], rel=1e-2)


@pytest.mark.parametrize("room", [0.0, 0.5, 15.0])
def test_the_air_beside_an_open_stock_holds_half_of_what_saturates_it(room: float) -> None:
    """Saturation: 611.2 Pa at 0 °C, 633.9 at 0.5, 1705.8 at 15 (IAPWS R7-97, steam tables; from memory)."""
    saturated = {0.0: 611.2, 0.5: 633.9, 15.0: 1705.8}[room]
    told = steps(ask(K, cooling(around=_air(room), vessel={"lid": False}), explain=True))
    moisture = told["vapour over the stock, beyond that of the room"]["inputs"]["moisture"]["value"]
    assert moisture == pytest.approx(saturated / 2, rel=2e-3)


def test_air_as_dry_as_cold_air_takes_more_of_an_open_stock() -> None:
    """A room half a kelvin colder holds less vapour and takes more heat, below freezing as above."""
    lost = [
        ask(W, warming("5 %", "2 °C", "50 °C", ambient=celsius(room), vessel={"lid": False}, heater_power="2 kW"))
        for room in (0.0, 0.5, 1.0, 1.5)
    ]
    shut = [
        ask(W, warming("5 %", "2 °C", "50 °C", ambient=celsius(room), heater_power="2 kW"))
        for room in (0.0, 0.5, 1.0, 1.5)
    ]
    vapour = [
        one["power_to_hold"]["value"] - other["power_to_hold"]["value"] for one, other in zip(lost, shut, strict=True)
    ]
    falls = [before - after for before, after in itertools.pairwise(vapour)]
    assert min(falls) > 0.7 * max(falls) > 0


def test_a_vessel_of_no_told_shape_is_as_wide_as_high() -> None:
    across = (4 * 6e-3 / math.pi) ** (1 / 3)
    metres = {"value": across, "unit": "m"}
    unsaid, said = (
        ask(K, cooling(w="30 %") | {"vessel": {"material": "hdpe", "mass": "300 g", "lid": True} | shape})
        for shape in ({"volume": "6 L"}, {"diameter": metres, "height": metres})
    )
    assert unsaid["time"]["value"] == pytest.approx(said["time"]["value"], rel=1e-9)
    assert unsaid["time"]["low"] < said["time"]["low"]
    assert unsaid["time"]["high"] == pytest.approx(said["time"]["high"])
    assert assumed(unsaid)["/vessel/diameter"] == "a vessel as wide as high"
    assert "/vessel/diameter" not in assumed(said)


def test_a_vessel_of_no_told_size_is_just_filled() -> None:
    """50 kg of water fill 50.09 L at 20 °C (0.9982 kg/L, IAPWS)."""
    bare = warming("0 %", "20 °C", "40 °C", heater_power="2 kW") | {"vessel": {"material": "hdpe", "lid": True}}
    full = bare | {"vessel": {"material": "hdpe", "lid": True, "volume": {"value": 50 / 0.9982, "unit": "L"}}}
    unsaid, said = ask(W, bare), ask(W, full)
    assert assumed(unsaid)["/vessel/volume"] == "a vessel just filled"
    assert "/vessel/volume" not in assumed(said)
    assert unsaid["power_to_hold"]["value"] == pytest.approx(said["power_to_hold"]["value"], rel=1e-4)


@pytest.mark.parametrize("name", [K, W])
def test_no_told_lid_is_none_and_no_told_wall_is_as_thin_as_a_leaf(name: str) -> None:
    request = cooling() if name == K else warming()
    request["solution"]["mass"] = "5 kg"

    def figure(**vessel: Any) -> Answer:
        answer = ask(name, request | {"vessel": POT | vessel})
        return {"told": answer["time"], "assumed": assumed(answer)}

    unsaid, open_, shut = figure(), figure(lid=False), figure(lid=True)
    assert unsaid["told"] == open_["told"] != shut["told"]
    assert unsaid["assumed"]["/vessel/lid"] == "no lid"
    assert "/vessel/lid" not in open_["assumed"] | shut["assumed"]
    leaf, thick = figure(lid=True, wall_thickness="0.001 mm"), figure(lid=True, wall_thickness="1 mm")
    assert leaf["told"]["value"] == pytest.approx(shut["told"]["value"], rel=1e-4)
    assert thick["told"]["value"] == pytest.approx(shut["told"]["value"], rel=1e-2)  # a metal conducts
    plastic = [figure(material="hdpe", lid=True, maximum_temperature="99 °C", **wall)
               for wall in ({}, {"wall_thickness": "0.001 mm"}, {"wall_thickness": "30 mm"})]  # fmt: skip
    assert plastic[0]["told"]["value"] == pytest.approx(plastic[1]["told"]["value"], rel=1e-4)
    slower = plastic[2]["told"]["value"] / plastic[0]["told"]["value"]
    assert slower > 1.1 if name == K else slower < 0.999


def test_bare_metal_radiates_a_third_of_what_plastic_does() -> None:
    """Emissivities of 0.3 and 0.9 (from memory), for a wall of the same temperature."""
    metal, plastic = (
        steps(ask(K, cooling(vessel={"material": one}), explain=True))["radiation"]["result"]["value"]
        for one in ("stainless-steel", "hdpe")
    )
    assert metal / plastic == pytest.approx(1 / 3, rel=1e-9)


def test_energy_and_hold_go_with_time_and_power_at_each_end() -> None:
    answer = ask(W, warming(hold_time="12 h"))
    for end in ENDS:
        assert answer["energy"][end] == pytest.approx(0.4 * 3600 * answer["time"][end], rel=1e-9)
        held = answer["power_to_hold"][end]
        assert answer["hold"]["duty"][end] == pytest.approx(held / 400, rel=1e-9)
        assert answer["hold"]["energy"][end] == pytest.approx(held * 12 * 3.6, rel=1e-9)
    assert answer["hold"]["time"]["value"] == 12
    assert answer["path"][0]["time"]["value"] == 0
    assert "hold" not in ask(W, warming())


@pytest.mark.parametrize(("name", "request_"), [(K, cooling(vessel={"material": "hdpe"})), (W, warming())])
def test_a_margin_is_the_distance_to_the_limit_of_the_vessel(name: str, request_: dict[str, Any]) -> None:
    answer = ask(name, request_)
    assert answer["vessel_limit"]["value"] == 60
    assert answer["vessel_margin"]["value"] == pytest.approx(60 - (80 if name == K else 30))
    bare = ask(name, request_ | {"vessel": request_["vessel"] | {"material": "nickel"}})
    assert "vessel_limit" not in bare
    assert "vessel_margin" not in bare


def test_a_fan_of_no_told_speed_has_the_ends_of_those_that_it_may_have() -> None:
    fan = {"medium": "moving-air", "temperature": "20 °C"}
    unsaid = ask(K, cooling(around=fan))["time"]
    weak, usual, strong = (ask(K, cooling(around=fan | {"air_speed": f"{v} m/s"}))["time"] for v in (0.5, 2, 4))
    assert unsaid["high"] == pytest.approx(weak["high"], rel=1e-6)
    assert unsaid["value"] == usual["value"]
    assert unsaid["low"] == pytest.approx(strong["low"], rel=1e-6)


@pytest.mark.parametrize(("t", "capacity"), [(0.0, 4219.4), (15.0, 4188.5), (60.0, 4185.1)])
def test_a_bath_takes_up_the_heat_that_water_of_its_temperature_does(t: float, capacity: float) -> None:
    """J/(kg K), IAPWS R7-97 (steam tables; from memory)."""
    request = cooling(
        "95 °C", celsius(t + 30.0), around={"medium": "water-bath", "temperature": celsius(t), "bath_mass": "20 kg"}
    )
    told = steps(ask(K, request, explain=True))["temperature of the bath at the end"]["inputs"]["bath"]
    assert told["value"] == pytest.approx(20 * capacity, rel=6e-4)


def test_readings_of_an_unknown_thermometer_are_those_of_one_good_to_a_kelvin() -> None:
    said = readings(*map(celsius, SAID))
    unsaid = ask(K, cooling(None, readings=said))
    limits = [
        one | {"temperature": {"low": t - 1, "high": t + 1, "unit": "°C"}}
        for one, t in zip(said, (80, 66, 55), strict=True)
    ]
    told = ask(K, cooling(None, readings=limits))
    assert assumed(unsaid)["/readings"] == "temperatures good to 1 K"
    assert "/readings" not in assumed(told)
    for member in ("time", "heat_loss_coefficient", "heat_given_off", "heat_loss_at_start"):
        for end in ENDS:
            assert unsaid[member][end] == pytest.approx(told[member][end], rel=1e-9)
            assert unsaid[member]["low"] < unsaid[member]["value"] < unsaid[member]["high"]


def test_a_start_that_was_read_brings_its_own_part_of_the_heat() -> None:
    """5 kg of 3.24 kJ/(kg K) and 0.49 kJ/K of steel, by 1.96 times 0.5 K, beside what the capacity leaves."""
    good = [celsius(t, uncertainty=0.5) for t in (80.0, 66.0, 55.0)]
    by_last = ask(K, cooling(None, readings=readings(*good)))["heat_given_off"]
    as_told = ask(K, cooling("55 °C", readings=readings(*good)))["heat_given_off"]
    assert by_last["value"] == pytest.approx(as_told["value"], rel=1e-9)
    own, whole = as_told["high"] - as_told["value"], by_last["high"] - by_last["value"]
    assert math.sqrt(whole**2 - own**2) == pytest.approx(NORMAL_95 * 0.5 * (5 * 3.24 + 0.49), rel=0.02)


def test_what_is_wrong_with_readings_is_told_in_their_own_figures() -> None:
    near = fault(K, cooling(readings=readings("80 °C", "79.46 °C")), 422)
    assert "from 80 °C (176 °F) to 79.5 °C (175 °F)" in near.detail
    warmer = fault(K, cooling(readings=readings("60 °C", "70.5 °C")), 422)
    assert "was 10.5 K warmer" in warmer.detail
    assert ask(K, cooling(readings=readings("80 °C", "70 °C", "70.5 °C", "60 °C", "50 °C")))


@pytest.mark.parametrize(("w", "half"), [(0.4, 0.01), (0.2, 0.01)])
def test_a_strength_that_is_not_sure_widens_the_heat_as_it_moves_the_heat_capacity(w: float, half: float) -> None:
    def taken(strength: Any) -> dict[str, float]:
        request = warming("50 %", "25 °C", vessel={"mass": "1 mg"})
        request["solution"]["strength"] = {"mass_fraction": strength}
        told: dict[str, float] = ask(W, request)["heat_taken_up"]
        return told

    sure, unsure = taken(w), taken({"value": w, "uncertainty": half, "unit": "1"})
    moved = NORMAL_95 * half * abs(taken(w + 0.005)["value"] - taken(w - 0.005)["value"]) / 0.01
    own = sure["high"] - sure["value"]
    assert moved > 0.2 * own
    assert unsure["high"] - unsure["value"] == pytest.approx(math.hypot(own, moved), rel=0.05)
    assert unsure["value"] - unsure["low"] == pytest.approx(math.hypot(own, moved), rel=0.05)


def test_a_bath_of_ice_has_no_temperature_of_its_own_on_the_way_and_one_that_warms_has() -> None:
    iced, warmed = ask(K, cooling(around=bath("ice-bath"))), ask(K, cooling(around=bath(bath_mass="20 kg")))
    assert all("bath_temperature" not in one for one in iced["path"])
    told = [one["bath_temperature"]["value"] for one in warmed["path"]]
    assert told[0] == 15
    assert told == sorted(told)
    assert "ice_melted" in iced
    assert "ice_melted" not in warmed
    assert iced["path"][0]["time"]["value"] == warmed["path"][0]["time"]["value"] == 0
