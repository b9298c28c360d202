"""Cooling a stock: results by hand, what is refused, and what holds for all of them."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.calculations.shared.faults import Refusal
from tests.calculations.asking import ask, cautions, fault, message_of, refusal
from tests.calculations.caution_cases_of_cooling import K, bath, cooling, readings
from tests.calculations.quantities import celsius
from tests.calculations.test_steps import redone

MEDIA = ("still-air", "moving-air", "water-bath", "ice-bath")


def _value(answer: dict[str, Any], name: str) -> float:
    return float(answer[name]["value"])


def _asked(request: dict[str, Any]) -> tuple[set[str], dict[str, Any]]:
    """Codes of the faults, and the answer."""
    try:
        return set(), ask(K, request)
    except Refusal as refused:
        return {one.code for one in refused.faults}, {}


def _around(medium: str) -> dict[str, Any]:
    return bath(medium) if "bath" in medium else {"medium": medium, "temperature": "20 °C"}


def test_a_pot_on_the_bench_by_hand() -> None:
    """5 kg of 3.25 kJ/(kg K) and 0.5 kJ/K of steel; 0.11 m2 at 8 W/(m2 K): 0.9 W/K, ln 4 times 5.2 h."""
    answer = ask(K, cooling())
    assert _value(answer, "heat_given_off") == pytest.approx(45 * (5 * 3.25 + 0.49), rel=0.01)
    u = _value(answer, "heat_loss_coefficient")
    area = math.pi * 0.18 * (0.1324 + 1.5 * 0.045)
    assert 6.0 < u / area < 9.0  # 5.5 W/(m2 K) of convection, and a third of 6 of radiation from bare steel
    assert _value(answer, "time") * 3600 * u == pytest.approx(_value(answer, "heat_given_off") / 45e-3 * math.log(4))


def test_a_fan_a_tub_and_ice_are_ever_quicker() -> None:
    times = [_value(ask(K, cooling(around=_around(medium))), "time") for medium in MEDIA]
    assert times == sorted(times, reverse=True)
    assert times[1] < times[0] / 1.4
    assert times[3] < times[0] / 8


def test_air_of_a_known_speed_leaves_less_uncertain() -> None:
    fan = {"medium": "moving-air", "temperature": "20 °C"}
    unsure, sure = (ask(K, cooling(around=one))["time"] for one in (fan, fan | {"air_speed": "2 m/s"}))
    assert sure["value"] == unsure["value"]
    assert unsure["low"] < sure["low"]
    assert sure["high"] < unsure["high"]


def test_a_bath_of_its_own_warms_by_what_the_stock_gives_off() -> None:
    answer = ask(K, cooling(around=bath(bath_mass="20 kg")))
    warmed = answer["path"][-1]["bath_temperature"]["value"] - 15
    assert warmed == pytest.approx(_value(answer, "heat_given_off") / (20 * 4.187), rel=2e-3)
    assert _value(answer, "time") > _value(ask(K, cooling(around=bath())), "time")
    much = ask(K, cooling(around=bath(bath_mass="20000 kg")))
    assert _value(much, "time") == pytest.approx(_value(ask(K, cooling(around=bath())), "time"), rel=1e-2)


def test_the_ice_that_melts_is_the_heat_over_its_heat_of_fusion() -> None:
    answer = ask(K, cooling(around=bath("ice-bath")))
    # 333.43 kJ/kg: IAPWS-95 less ice Ih at 0 °C
    assert _value(answer, "ice_melted") == pytest.approx(_value(answer, "heat_given_off") / 0.33343, rel=1e-3)


def test_a_bath_that_may_get_too_warm_leaves_no_ends() -> None:
    answer = ask(K, cooling(to="43.9 °C", around=bath(bath_mass="5 kg")))
    assert answer["surely_reached"] is False
    assert "high" not in answer["time"]
    assert "target-not-sure" in cautions(answer)


def test_ones_own_newton_curve_comes_back() -> None:
    """60 K above 20 °C fall to 30 K in 1 h, so to 15 K in one more; the capacity changes by 1 % on the way."""
    said = readings("80 °C", celsius(20 + 60 / math.sqrt(2)), "50 °C")
    answer = ask(K, cooling(t="80 °C", readings=said))
    assert _value(answer, "time") == pytest.approx(2.0, rel=0.01)
    capacity = 5 * 3.24e3 + 490
    assert _value(answer, "heat_loss_coefficient") == pytest.approx(capacity * math.log(2) / 3600, rel=0.01)


def test_the_present_is_the_last_reading_or_what_is_said() -> None:
    said = readings("80 °C", "50 °C", apart=60)
    from_now = ask(K, cooling(t=None, readings=said))
    from_the_start = ask(K, cooling(t="80 °C", readings=said))
    assert from_now["path"][0]["temperature"]["value"] == 50
    assert _value(from_the_start, "time") - _value(from_now, "time") == pytest.approx(1.0, rel=0.01)


def test_a_stock_of_which_nobody_says_how_hot_it_is_is_refused() -> None:
    found = fault(K, cooling(t=None), 422)
    assert (found.pointer, found.code) == ("/solution/temperature", "temperature-needed")


def test_what_else_is_wrong_is_told_beside_a_temperature_that_is_not_there() -> None:
    told = refusal(K, cooling(None, to="10 °C", around=bath()))
    assert [one.pointer for one in told.faults] == ["/solution/temperature", "/target_temperature"]


@pytest.mark.parametrize(
    ("material", "harm", "not_of_it"),
    [
        ("hdpe", "may soften or warp", "crack"),
        ("stainless-steel", "can crack steel under stress", "soften"),
        ("glass-borosilicate", "etches it", "soften"),
        ("nickel", "attacks it", "crack"),
        ("copper", "attacks it", "soften"),
    ],
)
def test_what_a_vessel_beyond_its_limit_comes_to_is_that_of_its_material(
    material: str, harm: str, not_of_it: str
) -> None:
    answer = ask(K, cooling("90 °C", vessel={"material": material, "maximum_temperature": "60 °C"}))
    told = message_of(answer, "vessel-limit-exceeded")
    assert harm in told
    assert not_of_it not in told


def test_a_stock_as_hot_as_it_may_boil_at_is_cooled_and_hotter_is_refused() -> None:
    """50 % NaOH boils at 146.4 °C, known to 5.1 K: a stock said to have 150 °C is no contradiction."""
    answer = ask(K, cooling("150 °C"))
    assert answer["path"][0]["temperature"]["value"] == 150
    assert message_of(answer, "boiling-margin-small").startswith("At 150 °C (302 °F), where it starts, it may")
    assert fault(K, cooling("152 °C"), 422).pointer == "/solution/temperature"


def test_the_zero_of_the_clock_does_not_count() -> None:
    late = [{"time": "9 h", "temperature": "80 °C"}, {"time": "10 h", "temperature": "50 °C"}]
    early = readings("80 °C", "50 °C", apart=60)
    assert ask(K, cooling(readings=late)) == ask(K, cooling(readings=early))


def test_a_better_thermometer_and_more_cooling_tell_more() -> None:
    def width(*said: object) -> float:
        found = ask(K, cooling(to="49 °C", vessel={"mass": "1 kg"}, readings=readings(*said)))["time"]
        return float((found["high"] - found["low"]) / found["value"])

    good = [{"value": t, "uncertainty": 0.1, "unit": "°C"} for t in (80, 50)]
    assert width(*good) < width("80 °C", "50 °C") < width("80 °C", "70 °C")


def test_readings_need_no_shape_of_the_vessel() -> None:
    said = readings("80 °C", "50 °C")
    bare = cooling(readings=said) | {"vessel": {"material": "stainless-steel", "mass": "1 kg", "lid": True}}
    assert _value(ask(K, bare), "time") == _value(ask(K, cooling(readings=said)), "time")


@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        ({"to": "80 °C"}, "/target_temperature", "contradiction"),
        ({"to": "85 °C"}, "/target_temperature", "contradiction"),
        ({"to": "20 °C"}, "/target_temperature", "contradiction"),
        ({"to": "10 °C"}, "/target_temperature", "contradiction"),
        ({"to": "8 °C", "around": bath("ice-bath")}, "/target_temperature", "beyond-data"),
        ({"to": "40 °C", "around": bath(bath_mass="4 kg")}, "/target_temperature", "contradiction"),
        ({"t": "155 °C"}, "/solution/temperature", "impossible-temperature"),
        ({"w": "53 %"}, "/solution/strength", "beyond-solubility"),
        (
            {"around": {"medium": "still-air", "temperature": "70 °C"}, "t": "90 °C", "to": "80 °C"},
            "/surroundings/temperature",
            "out-of-range",
        ),
        ({"around": {"medium": "water-bath", "temperature": "-1 °C"}}, "/surroundings/temperature", "out-of-range"),
        (
            {"around": {"medium": "ice-bath", "temperature": "5 °C"}},
            "/surroundings/temperature",
            "impossible-temperature",
        ),
        (
            {"around": {"medium": "ice-bath", "temperature": "-15 °C"}},
            "/surroundings/temperature",
            "impossible-temperature",
        ),
        ({"around": bath(air_speed="2 m/s")}, "/surroundings/air_speed", "contradiction"),
        ({"around": bath("ice-bath", bath_mass="5 kg")}, "/surroundings/bath_mass", "contradiction"),
        ({"vessel": {"height": "10 cm"}}, "/vessel", "does-not-add-up"),
        ({"vessel": {"material": "cheese"}}, "/vessel/material", "unknown-identifier"),
        ({"readings": readings("80 °C", "20 °C")}, "/readings/1/temperature", "contradiction"),
        ({"readings": readings("80 °C", "15 °C")}, "/readings/1/temperature", "contradiction"),
        ({"readings": readings("60 °C", "70 °C")}, "/readings/1/temperature", "contradiction"),
        ({"readings": readings("155 °C", "70 °C")}, "/readings/0/temperature", "impossible-temperature"),
        ({"readings": readings("80 °C", "60 °C", apart=0)}, "/readings/1/time", "contradiction"),
        ({"readings": readings("80 °C", "80 °C")}, "/readings", "readings-too-close"),
        ({"readings": readings("80 °C", "79.5 °C")}, "/readings", "readings-too-close"),
        (
            {"around": {"medium": "moving-air", "air_speed": "1 m/s"}, "readings": readings("80 °C", "60 °C")},
            "/surroundings/air_speed",
            "contradiction",
        ),
        (
            {"around": bath(bath_mass="20 kg"), "readings": readings("80 °C", "60 °C")},
            "/surroundings/bath_mass",
            "contradiction",
        ),
        (
            {
                "around": {"medium": "moving-air", "air_speed": "30 m/s"},
                "vessel": {"diameter": "40 m", "height": "9 m"},
            },
            "/vessel",
            "beyond-data",
        ),
    ],
)
def test_what_cannot_be_is_refused(change: dict[str, Any], pointer: str, code: str) -> None:
    found = fault(K, cooling(**change), 422)
    assert (found.pointer, found.code) == (pointer, code)


def test_one_reading_tells_nothing_and_is_refused() -> None:
    found = refusal(K, cooling(readings=readings("80 °C")))
    assert (found.status, found.faults[0].code) == (400, "too-few")


def test_ice_is_refused() -> None:
    request = cooling(w=0, t="50 °C")
    request["solution"]["state"] = "ice"
    assert fault(K, request, 422).pointer == "/solution/state"


@pytest.mark.parametrize("mass", [1e-9, 1e-3, 1.0, 1e5, 1e8])
@pytest.mark.parametrize("medium", MEDIA)
@pytest.mark.parametrize("w", ["0 %", "52 %"])
def test_extremes_are_answered_or_refused(mass: float, medium: str, w: str) -> None:
    request = cooling(w=w, t="99 °C", to="30 °C", around=_around(medium)) | {"vessel": {"material": "hdpe"}}
    request["solution"]["mass"] = {"value": mass, "unit": "kg"}
    refused, answer = _asked(request)
    if mass in {1e-3, 1.0, 1e5} or medium != "moving-air":
        assert refused == set()
        assert 0 < _value(answer, "time") < math.inf
    else:
        assert refused <= {"beyond-data"}


@pytest.mark.parametrize("medium", MEDIA)
@pytest.mark.parametrize("apart", [1.1e-3, 1e-2])
def test_the_nearest_that_is_reckoned_is_finite(medium: str, apart: float) -> None:
    around = _around(medium)
    cold = 0.0 if medium == "ice-bath" else float(around["temperature"].split()[0])
    for t, to in ((60.0, 60.0 - apart), (60.0, max(cold, 15.0) + apart)):
        answer = ask(K, cooling(t=celsius(t), to=celsius(to), around=around))
        assert 0 < _value(answer, "time") < math.inf


def test_a_strength_that_is_hardly_known_is_answered() -> None:
    request = cooling()
    request["solution"]["strength"]["uncertainty"] = "30 %"
    time = ask(K, request)["time"]
    assert 0 < time["low"] < time["value"] < time["high"]


hot = st.floats(45.0, 110.0)
medium = st.sampled_from(MEDIA)


@settings(max_examples=60)
@given(t=hot, to=st.floats(25.0, 44.0), more=st.floats(0.01, 10.0), medium=medium)
def test_a_target_nearer_to_the_start_takes_no_longer(t: float, to: float, more: float, medium: str) -> None:
    far, near = (_value(ask(K, cooling(celsius(t), celsius(one), around=_around(medium))), "time")
                 for one in (to, min(to + more, t - 0.01)))  # fmt: skip
    assert near <= far * (1 + 1e-3)


@settings(max_examples=60)
@given(t=st.floats(45.0, 100.0), medium=medium, w=st.floats(0.02, 0.51))
def test_the_way_falls_to_the_target_and_never_passes_the_surroundings(t: float, medium: str, w: float) -> None:
    answer = ask(K, cooling(celsius(t), "40 °C", w, around=_around(medium)))
    path = [point["temperature"]["value"] for point in answer["path"]]
    assert path == sorted(path, reverse=True)
    assert path[-1] == 40
    assert 20 <= len(path) <= 50
    assert min(path) > _value(answer, "resting_temperature")


@settings(max_examples=40)
@given(t=hot, medium=medium)
def test_a_lid_never_makes_it_cool_faster(t: float, medium: str) -> None:
    shut, wide = (
        ask(K, cooling(celsius(t), "40 °C", around=_around(medium), vessel={"lid": lid}))["time"]
        for lid in (True, False)
    )
    assert all(wide[end] <= shut[end] for end in ("value", "low", "high"))


@settings(max_examples=40)
@given(mass=st.floats(0.5, 5.0), more=st.floats(1.01, 1.5), medium=medium)
def test_less_stock_in_the_same_shape_cools_faster(mass: float, more: float, medium: str) -> None:
    def time(mass: float, across: float) -> float:
        request = cooling(around=_around(medium), vessel={"diameter": _metres(across), "height": _metres(across * 1.5)})
        request["solution"]["mass"] = {"value": mass, "unit": "kg"}
        return _value(ask(K, request), "time")

    across = (mass / 1000) ** (1 / 3)
    assert time(mass, across) < time(mass * more, across * more ** (1 / 3))


def _metres(length: float) -> dict[str, Any]:
    return {"value": length, "unit": "m"}


@settings(max_examples=40)
@given(across=st.floats(0.19, 0.4), more=st.floats(1.05, 1.5))
def test_a_wider_vessel_with_more_surface_cools_faster(across: float, more: float) -> None:
    """Wide and low: the same stock has more surface the wider it lies."""
    times = [
        _value(ask(K, cooling(vessel={"diameter": _metres(one), "height": "25 cm", "lid": False})), "time")
        for one in (across, across * more)
    ]
    assert times[1] < times[0]


def test_it_is_reckoned_in_few_legs_as_in_many(monkeypatch: pytest.MonkeyPatch) -> None:
    from service.calculations.keeping import cooling_runs  # noqa: PLC0415 - changed here

    requests = [cooling(around=_around(one), vessel={"lid": False}) for one in MEDIA]
    few = [_value(ask(K, one), "time") for one in requests]
    monkeypatch.setattr(cooling_runs, "LEGS", 400)
    assert few == pytest.approx([_value(ask(K, one), "time") for one in requests], rel=1e-3)


@pytest.mark.parametrize("lid", [True, False])
@pytest.mark.parametrize("around", [*map(_around, MEDIA), bath(bath_mass="20 kg")], ids=[*MEDIA, "warming-bath"])
def test_every_step_is_redone_by_hand(around: dict[str, Any], lid: bool) -> None:
    answer = ask(K, cooling(around=around, vessel={"lid": lid}), explain=True)
    for step in answer["steps"]:
        assert redone(step) == pytest.approx(step["result"]["value"], rel=1e-9), step["name"]
    last = {step["name"]: step["result"]["value"] for step in answer["steps"]}
    assert last["time"] == pytest.approx(_value(answer, "time") * 3600)
    assert last["heat lost at the start"] == pytest.approx(_value(answer, "heat_loss_at_start"))
    assert last["heat-loss coefficient"] == pytest.approx(_value(answer, "heat_loss_coefficient"))


def test_steps_of_many_readings_are_redone_by_hand() -> None:
    many = readings(*(celsius(20 + 60 * 0.99**i) for i in range(100)), apart=1)
    answer = ask(K, cooling(readings=many), explain=True)
    (step,) = (step for step in answer["steps"] if step["name"] == "heat-loss coefficient")
    assert redone(step) == pytest.approx(_value(answer, "heat_loss_coefficient"))


def _time(request: dict[str, Any], start: float, end: float) -> float:
    solution = request["solution"] | {"temperature": celsius(start)}
    answer = ask(K, request | {"solution": solution, "target_temperature": celsius(end)})
    return _value(answer, "time")


@pytest.mark.parametrize("around", [*map(_around, MEDIA), _around("moving-air") | {"air_speed": "0.2 m/s"}])
@pytest.mark.parametrize(("w", "lid"), [("50 %", True), ("50 %", False), ("10 %", True), ("10 %", False)])
@pytest.mark.parametrize(("hot", "last", "end"), [(95.0, 85.0, 35.0), (95.0, 60.0, 35.0), (60.0, 50.0, 25.0)])
def test_hot_readings_promise_no_more_than_the_vessel_keeps(
    around: dict[str, Any], w: str, *, lid: bool, hot: float, last: float, end: float
) -> None:
    """A coefficient read while it is hot falls: by convection, radiation and vapour of the vessel's correlations."""
    vessel = {"lid": lid, "mass": "1 g", "wall_thickness": "2 mm"}
    true = cooling(w=w, vessel=vessel, around=around)
    read = [
        {"time": f"{_time(true, hot, t) if t < hot else 0.0} h", "temperature": celsius(t) | {"uncertainty": 0.05}}
        for t in (hot, 0.5 * (hot + last), last)
    ]
    bare = {name: one for name, one in around.items() if name != "air_speed"}
    told = ask(K, cooling(None, celsius(end), w, vessel=vessel, around=bare, readings=read))["time"]
    assert told["low"] < _time(true, last, end) < told["high"]
    assert told["high"] < 4 * told["low"]


def test_more_readings_of_a_loss_that_falls_are_not_refused_where_two_are_taken() -> None:
    """Weak stock, open: from 95 to 60 °C its coefficient falls by half, which no thermometer's scatter explains."""
    hot = {"value": 95, "uncertainty": 0.05, "unit": "°C"}
    two = [{"time": "0 min", "temperature": hot}, {"time": "70 min", "temperature": hot | {"value": 60}}]
    three = [two[0], {"time": "21 min", "temperature": hot | {"value": 77.5}}, two[1]]
    by_two, by_three = (
        ask(K, cooling(None, w="10 %", readings=said))["heat_loss_coefficient"] for said in (two, three)
    )
    assert by_three["value"] == pytest.approx(by_two["value"], rel=0.1)
    first, second = math.log(75 / 57.5) / 21, math.log(57.5 / 40) / 49  # of each leg, but for the capacity
    assert by_three["low"] <= by_three["value"] * second / (math.log(75 / 40) / 70)
    assert by_three["high"] >= by_three["value"] * first / (math.log(75 / 40) / 70) * 0.97
    assert by_three["low"] > 0.3 * by_three["value"]


def test_a_wall_as_thick_as_no_vessels_is_refused() -> None:
    assert fault(K, cooling(vessel={"wall_thickness": "3 m"}), 422).code == "out-of-range"


@pytest.mark.parametrize("medium", ["still-air", "moving-air"])
def test_the_water_that_an_open_stock_loses_is_the_heat_that_a_lid_would_have_kept(medium: str) -> None:
    """At the start: loss with and without a lid differ by the vapour's heat, 2.4 MJ/kg; here all of the way."""
    hot, cool = 60.0, 58.0
    asked = [
        cooling(celsius(hot), celsius(cool), "5 %", vessel={"lid": on}, around=_around(medium)) for on in (False, True)
    ]
    opened, closed = (ask(K, one) for one in asked)
    kept = _value(opened, "heat_loss_at_start") - _value(closed, "heat_loss_at_start")
    share = kept / _value(opened, "heat_loss_at_start")
    lost = share * _value(opened, "heat_given_off") / 2.4e3  # kg
    told = message_of(opened, "uncovered-while-cooling")
    assert lost > 0.001 * 5
    assert float(told.split("(about ")[1].split(" g")[0]) == pytest.approx(lost * 1e3, rel=0.06)
    strong = ask(K, cooling("45 °C", vessel={"lid": False}))
    assert "about" not in message_of(strong, "uncovered-while-cooling")
