"""A cooling by one's own readings: what they leave uncertain, what air takes of an open stock, and what is assumed."""

from itertools import pairwise
from typing import Final

import pytest

from service.calculations.keeping.cooling_reading import HOTTEST_ICE
from service.calculations.keeping.cooling_readings import CONVECTION, NEAREST
from service.calculations.keeping.cooling_runs import LEGS
from service.chemistry.water import heat_capacity
from tests.calculations.asking import Answer, ask, assumed, fault
from tests.calculations.caution_cases_of_cooling import K, bath, cooling, readings
from tests.calculations.quantities import celsius
from tests.calculations.test_steps import redone

ENDS: Final = ("low", "value", "high")
SAID: Final = ("44 °C", "40 °C", "37 °C")
HOT: Final = ("90 °C", "80 °C", "72 °C")


def _by_readings(said: tuple[str, ...], *, w: str = "50 %", to: str = "30 °C", lid: bool | None = False) -> Answer:
    vessel = {"lid": lid} if lid is not None else {"lid": None}
    return ask(K, cooling(None, to, w, vessel=vessel, readings=readings(*said)))


@pytest.mark.parametrize("from_last", [True, False])
def test_the_loss_by_readings_is_known_to_either_side_as_far_as_its_coefficient_is(*, from_last: bool) -> None:
    """At the last reading the loss is U (T - T_a): in share as uncertain as U alone, or less as both errors cancel."""
    t = None if from_last else "62 °C"
    answer = ask(K, cooling(t, readings=readings("80 °C", "70 °C", "62 °C")))
    loss, slope = answer["heat_loss_at_start"], answer["heat_loss_coefficient"]
    shares = {end: loss[end] / loss["value"] for end in ENDS}
    known = {end: slope[end] / slope["value"] for end in ENDS}
    assert 0.5 < shares["low"] < 1.0 < shares["high"] < 1.5
    assert shares["low"] < 0.5 * (1.0 + known["low"])
    assert shares["high"] > 0.5 * (1.0 + known["high"])
    assert loss["value"] == pytest.approx(slope["value"] * (62 - 20), rel=1e-6)


def test_strong_stock_that_gives_off_no_vapour_cools_open_as_it_does_closed() -> None:
    """50 % NaOH of 45 °C and less has less vapour (below 0.6 kPa) than half-saturated air of 20 °C (1.2 kPa)."""
    closed, opened = (_by_readings(SAID, lid=lid)["time"] for lid in (True, False))
    assert {end: opened[end] for end in ENDS} == pytest.approx({end: closed[end] for end in ENDS})


def test_weak_stock_that_steams_cools_open_ever_more_slowly() -> None:
    """What vapour takes of a hot stock it does not take of a cool one, so that the time may be longer, not shorter."""
    closed, opened = (_by_readings(HOT, w="10 %", lid=lid)["time"] for lid in (True, False))
    assert opened["value"] == closed["value"]
    assert opened["low"] == pytest.approx(closed["low"])
    assert opened["high"] > 1.1 * closed["high"]


def test_a_fan_leaves_less_to_radiation_and_bounds_are_shares() -> None:
    assert 0.0 < CONVECTION["still-air"] < CONVECTION["moving-air"] < 1.0


@pytest.mark.parametrize(("lid", "told"), [(None, "no lid"), (True, None), (False, None)])
def test_a_lid_of_which_nothing_is_said_beside_readings_is_assumed_to_be_none(
    lid: bool | None, told: str | None
) -> None:
    unsaid = _by_readings(HOT, w="10 %", lid=lid)
    assert assumed(unsaid).get("/vessel/lid") == told
    if lid is None:
        assert unsaid["time"] == _by_readings(HOT, w="10 %", lid=False)["time"]


@pytest.mark.parametrize("w", ["50 %", "47 %", "45 %"])
def test_a_target_at_which_crystals_form_is_refused_and_the_one_that_is_told_has_none(w: str) -> None:
    request = cooling(w=w, around=bath("ice-bath"))
    first = ask(K, request)["first_solid_temperature"]
    found = fault(K, request | {"target_temperature": celsius(first["value"] - 0.1)}, 422)
    assert (found.pointer, found.code) == ("/target_temperature", "beyond-data")
    assert f"from {first['value']:.1f} °C" in found.detail
    told = float(found.mend.split()[1])
    assert first["high"] <= told < first["high"] + 0.1 + 1e-6
    answer = ask(K, request | {"target_temperature": celsius(told)})
    assert all(one["code"] != "crystals-in-solution" for one in answer["cautions"])


@pytest.mark.parametrize("medium", ["still-air", "water-bath", "ice-bath"])
def test_steps_of_a_way_so_short_that_both_its_ends_lose_alike_are_redone_by_hand(medium: str) -> None:
    around = bath(medium) if "bath" in medium else None
    start = 60.0
    answer = ask(K, cooling(celsius(start), celsius(start - 2 * NEAREST), around=around), explain=True)
    legs = [step for step in answer["steps"] if step["name"].startswith("from ") and "loss_start" in step["inputs"]]
    assert len(legs) == LEGS
    for step in legs:
        assert redone(step) == pytest.approx(step["result"]["value"], rel=1e-6), step["name"]
        for end in ("loss_start", "loss_end"):
            assert step["inputs"][end]["value"] == pytest.approx(answer["heat_loss_at_start"]["value"], rel=1e-3)


@pytest.mark.parametrize(("t", "taken"), [(0.0, True), (HOTTEST_ICE, True), (HOTTEST_ICE + 0.1, False), (-0.1, False)])
def test_a_bath_of_ice_and_water_has_about_nought_degrees(t: float, *, taken: bool) -> None:
    request = cooling(around={"medium": "ice-bath", "temperature": celsius(t)})
    if taken:
        assert ask(K, request)["resting_temperature"]["value"] == t
    else:
        assert fault(K, request, 422).code == "impossible-temperature"


@pytest.mark.parametrize("t", [0.0, 5.0, 15.0, 40.0])
def test_a_bath_that_warms_takes_up_what_so_much_water_of_its_temperature_does(t: float) -> None:
    around = {"medium": "water-bath", "temperature": celsius(t), "bath_mass": "20 kg"}
    answer = ask(K, cooling("90 °C", celsius(t + 30.0), around=around))
    warmed = answer["path"][-1]["bath_temperature"]["value"] - t
    given = answer["heat_given_off"]["value"] * {"kJ": 1e3, "MJ": 1e6}[answer["heat_given_off"]["unit"]]
    assert given / warmed == pytest.approx(20.0 * heat_capacity(t), rel=1e-6)


def test_what_the_last_reading_leaves_of_the_heat_is_that_of_stock_and_vessel() -> None:
    """By 1.96 times 0.5 K of 10 kg of steel, 0.46 kJ/(kg K), more than of 1 kg."""
    good = [celsius(t) | {"uncertainty": 0.5} for t in (80.0, 66.0, 55.0)]

    def half(mass: str) -> float:
        both = [
            ask(K, cooling(t, vessel={"mass": mass}, readings=readings(*good)))["heat_given_off"]
            for t in (None, "55 °C")
        ]
        by_last, as_told = (one["high"] - one["value"] for one in both)
        return float((by_last**2 - as_told**2) ** 0.5)

    assert half("10 kg") - half("1 kg") == pytest.approx(1.96 * 0.5 * 9 * 0.46, rel=0.05)


def test_each_leg_is_named_from_where_the_last_has_ended() -> None:
    names = [one["name"] for one in ask(K, cooling("80 °C", "35 °C"), explain=True)["steps"]]
    legs = [name.removesuffix(" °C").split()[1::2] for name in names if name.startswith("from ")]
    assert legs[0][0] == "80"
    assert legs[-1][1] == "35"
    for before, after in pairwise(legs):
        assert before[1] == after[0]
        assert float(after[0]) > float(after[1])
