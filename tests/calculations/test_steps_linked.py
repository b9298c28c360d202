"""What a step takes from the steps before it is told by them, under a name of its own: nothing falls from the sky."""

from itertools import pairwise
from typing import Any, Final

import pytest

from tests.calculations.asking import Answer, ask
from tests.calculations.caution_cases_of_cooling import K, bath, cooling, readings
from tests.calculations.caution_cases_of_warming import W, warming
from tests.calculations.test_steps import redone, steps

AIR: Final = {"medium": "moving-air", "temperature": "20 °C"}

Links = dict[tuple[str, str], tuple[str, float]]
"""For an input of a step: the step whose result it is, and how many of its units go into one of that."""


def held(answer: Answer, links: Links) -> None:
    """Hold an answer's steps to these links."""
    told = steps(answer)
    for (name, taken), (source, factor) in links.items():
        result = told[source]["result"]["value"]
        assert told[name]["inputs"][taken]["value"] == pytest.approx(factor * result, rel=1e-9), (name, taken)


COOLED: Final[Links] = {
    ("heat given off", "heat_capacity"): ("mean heat capacity of the stock", 1.0),
    ("free convection", "rayleigh"): ("Rayleigh number of the air at the wall", 1.0),
    ("heat lost at the start", "radiation"): ("radiation", 1.0),
    ("heat lost at the start", "evaporation"): ("heat of evaporation", 1.0),
    ("heat of evaporation", "density"): ("vapour over the stock, beyond that of the room", 1.0),
}
STILL: Final[Links] = {
    ("heat lost at the start", "convection"): ("free convection", 1.0),
    ("heat of evaporation", "convection"): ("free convection", 1.0),
}
BLOWN: Final[Links] = {
    ("forced convection", "reynolds"): ("Reynolds number of the air", 1.0),
    ("convection", "forced"): ("forced convection", 1.0),
    ("convection", "free"): ("free convection", 1.0),
    ("heat lost at the start", "convection"): ("convection", 1.0),
    ("heat of evaporation", "convection"): ("convection", 1.0),
}
BATHED: Final[Links] = {("heat lost at the start", "through"): ("coefficient from stock to bath", 1.0)}
ICED: Final[Links] = {("ice that melts", "heat"): ("heat given off", 1.0)}


@pytest.mark.parametrize(
    ("around", "links"),
    [
        (None, STILL),
        (AIR, BLOWN),
        (bath(), STILL | BATHED),
        (bath(bath_mass="20 kg"), STILL | BATHED),
        (bath("ice-bath"), STILL | BATHED | ICED),
    ],
)
def test_the_steps_of_a_cooling_lead_from_one_to_the_next(around: dict[str, Any] | None, links: Links) -> None:
    answer = ask(K, cooling(around=around, vessel={"lid": False}), explain=True)
    held(answer, COOLED | links)
    told = steps(answer)
    assert told["heat given off"]["result"]["value"] == pytest.approx(answer["heat_given_off"]["value"])
    legs = [one for name, one in told.items() if name.startswith("from ")]
    assert sum(one["inputs"]["heat"]["value"] for one in legs) == pytest.approx(
        1e3 * answer["heat_given_off"]["value"], rel=1e-9
    )
    assert legs[0]["inputs"]["loss_start"]["value"] == pytest.approx(answer["heat_loss_at_start"]["value"])
    for one, after in pairwise(legs):
        assert one["inputs"]["loss_end"] == after["inputs"]["loss_start"]
    assert sum(one["result"]["value"] for one in legs) == pytest.approx(3600 * answer["time"]["value"], rel=1e-9)
    if "ice_melted" in answer:
        assert told["ice that melts"]["result"]["value"] == pytest.approx(answer["ice_melted"]["value"])


def test_the_steps_of_a_cooling_in_a_bath_that_warms_tell_newtons_law_for_both() -> None:
    answer = ask(K, cooling(around=bath(bath_mass="20 kg")), explain=True)
    told, path = steps(answer), answer["path"]
    warmed = told["temperature of the bath at the end"]
    assert warmed["inputs"]["start"]["value"] == pytest.approx(15.0)
    assert warmed["result"]["value"] == pytest.approx(path[-1]["bath_temperature"]["value"])
    newton = told["heat-loss coefficient"]
    assert newton["inputs"]["above"]["value"] == pytest.approx(80.0 - 15.0)
    assert newton["inputs"]["below"]["value"] == pytest.approx(35.0 - warmed["result"]["value"])
    assert newton["inputs"]["time"]["value"] == pytest.approx(3600 * answer["time"]["value"])


def test_the_steps_of_readings_lead_from_one_to_the_next() -> None:
    said = readings("80 °C", "70 °C", "62 °C", "55 °C")
    told = steps(ask(K, cooling(readings=said), explain=True))
    ways = [told[f"way to reading {number}"] for number in (2, 3, 4)]
    assert ways[0]["inputs"]["before"]["value"] == 0
    for before, after in pairwise(ways):
        assert after["inputs"]["before"]["value"] == pytest.approx(before["result"]["value"])
        assert after["inputs"]["above"] == before["inputs"]["below"]
    assert ways[0]["inputs"]["above"]["value"] == pytest.approx(60)
    fitted = told["heat-loss coefficient"]["inputs"]
    assert [fitted[f"y{i}"]["value"] for i in range(4)] == pytest.approx(
        [0.0, *(one["result"]["value"] for one in ways)]
    )
    assert fitted["y0"]["value"] == fitted["t0"]["value"] == 0


def test_a_leg_over_which_the_loss_hardly_changes_is_redone_with_six_digits() -> None:
    """The logarithmic mean of two figures that are alike to six digits is 0/0 on paper: their mean is told instead."""
    near = {"value": 79.998, "unit": "°C"}
    for one in ask(K, cooling(to=near), explain=True, digits=7)["steps"]:
        if one["name"].startswith("from "):
            assert redone(one) == pytest.approx(one["result"]["value"], rel=1e-4)
    strong = warming(to={"value": 16.002, "unit": "°C"}, ambient="16 °C")
    for one in ask(W, strong, explain=True, digits=7)["steps"]:
        if one["name"].startswith("from "):
            assert redone(one) == pytest.approx(one["result"]["value"], rel=1e-4)


WARMED: Final[Links] = {
    ("heat taken up", "heat_capacity"): ("mean heat capacity of the stock", 1.0),
    ("heat lost on the way", "power"): ("power that reaches the stock", 1.0),
    ("heat lost on the way", "heat"): ("heat taken up", 1.0),
}


@pytest.mark.parametrize(
    "request_",
    [
        warming(efficiency="80 %"),
        warming(efficiency="80 %", ambient="5 °C", vessel={"lid": False}),
        warming(t="4 °C", heater_power="2 kW", crystallised=True),
        warming("10 %", "-20 °C", heater_power="2 kW"),
    ],
)
def test_the_steps_of_a_warming_lead_from_one_to_the_next(request_: dict[str, Any]) -> None:
    answer = ask(W, request_, explain=True)
    held(answer, WARMED)
    told, time = steps(answer), 3600 * answer["time"]["value"]
    for name, member in (
        ("heat taken up", "heat_taken_up"),
        ("heat lost on the way", "heat_lost"),
        ("energy drawn", "energy"),
        ("power to hold", "power_to_hold"),
    ):
        assert told[name]["result"]["value"] == pytest.approx(answer[member]["value"], rel=1e-9), name
    assert told["energy drawn"]["inputs"]["time"]["value"] == pytest.approx(time, rel=1e-9)
    legs = [one for name, one in told.items() if name.startswith("from ")]
    heat = sum(one["inputs"]["heat"]["value"] for one in legs)
    assert heat == pytest.approx(1e3 * answer["heat_taken_up"]["value"], rel=1e-9)
    assert sum(one["result"]["value"] for one in legs) == pytest.approx(time, rel=1e-9)
    for one, after in pairwise(legs):
        assert one["inputs"]["net_end"] == after["inputs"]["net_start"]
    held_by = answer["power_to_hold"]["value"] * told["power to hold"]["inputs"]["efficiency"]["value"]
    given = told["power that reaches the stock"]["result"]["value"]
    assert legs[-1]["inputs"]["net_end"]["value"] == pytest.approx(given - held_by, rel=1e-9)


@pytest.mark.parametrize(("w", "alkali"), [("50 %", "NaOH"), ("38.8 %", "NaOH"), ("0 %", "NaOH"), ("45 %", "KOH")])
def test_the_first_solid_lies_between_the_two_points_beside_it(w: str, alkali: str) -> None:
    answer = ask(W, warming(w, alkali=alkali), explain=True)
    step = steps(answer)["first solid"]
    told = {name: one["value"] for name, one in step["inputs"].items()}
    assert told["w0"] <= told["w"] <= told["w1"]
    assert told["w0"] < told["w1"]
    assert min(told["t0"], told["t1"]) <= step["result"]["value"] <= max(told["t0"], told["t1"])
    assert step["result"]["value"] == pytest.approx(answer["first_solid_temperature"]["value"])
