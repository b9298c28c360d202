"""The heat that melts the crystals of a stock: its ends are those of the strength and of the data."""

import math

import pytest

from service.calculations.keeping.warming_crystals import Crystals
from service.calculations.keeping.warming_runs import Run
from service.chemistry.freezing import first_solid
from service.chemistry.thawing import frozen as at_rest
from tests.calculations.asking import Answer, ask, cautions, message_of
from tests.calculations.caution_cases_of_warming import W

TESTED = (Run, Crystals)
"""What these tests are of: mutants of their modules meet them first."""
ICE = {"low": 0.05, "high": 0.07, "unit": "1"}


def frozen(strength: Answer, t: float) -> Answer:
    """20 kg of soda that has set, in a bucket."""
    return {
        "solution": {
            "alkali": "NaOH",
            "mass": {"value": 20, "unit": "kg"},
            "strength": strength,
            "temperature": {"value": t, "unit": "°C"},
        },
        "vessel": {
            "material": "hdpe",
            "mass": {"value": 2, "unit": "kg"},
            "diameter": {"value": 30, "unit": "cm"},
            "height": {"value": 40, "unit": "cm"},
            "lid": True,
        },
        "heater_power": {"value": 1, "unit": "kW"},
        "ambient": {"value": 20, "unit": "°C"},
        "target_temperature": {"value": 30, "unit": "°C"},
        "crystallised": True,
    }


def melted(strength: Answer, t: float) -> tuple[float, float, float]:
    """The heat, and its ends [kJ]."""
    told = ask(W, frozen(strength, t))["thawing_heat"]
    return told["value"], told["low"], told["high"]


def test_the_ends_are_those_of_the_weaker_and_the_stronger_stock() -> None:
    """Of ice the data leave 3 %, which hardly shows beside the strength."""
    value, *ends = melted({"mass_fraction": ICE}, -10.0)
    weak, strong = (melted({"mass_fraction": w}, -10.0)[0] for w in (0.0505, 0.0695))
    assert ends[0] < strong < value < weak < ends[1]
    assert ends == pytest.approx([strong, weak], rel=0.02)


@pytest.mark.parametrize(("w", "t"), [(0.06, -10.0), (0.33, 0.0), (0.40, 5.0)])
def test_of_a_strength_that_is_known_well_the_data_alone_leave_it_open(w: float, t: float) -> None:
    exact = melted({"mass_fraction": w}, t)
    told = melted({"mass_fraction": {"value": w, "uncertainty": 1e-6, "unit": "1"}}, t)
    assert 0.0 < exact[1] < exact[0] < exact[2]
    assert told == pytest.approx(exact, rel=2e-3)


def test_what_is_warmer_than_its_first_solid_can_be_has_nothing_to_melt() -> None:
    answer = ask(W, frozen({"mass_fraction": 0.30}, 25.0) | {"crystallised": None})
    assert answer.get("thawing_heat", {"value": 0.0}).get("high", 0.0) == 0.0
    assert answer.get("thawing_heat", {"value": 0.0})["value"] == 0.0


def test_a_stock_that_may_be_liquid_may_have_nothing_to_melt_whatever_its_strength() -> None:
    asked = frozen({"mass_fraction": ICE}, -10.0) | {"crystallised": None}
    assert ask(W, asked)["thawing_heat"]["low"] == 0.0


@pytest.mark.parametrize(("w", "t"), [(0.33, 0.0), (0.40, 5.0)])
def test_more_may_have_to_be_melted_where_the_freezing_line_lies_higher(w: float, t: float) -> None:
    """As much as of a stock that is colder by what the line may be off."""
    line = first_solid("NaOH", w)
    colder = melted({"mass_fraction": w}, t - (line.high - line.temperature))
    assert melted({"mass_fraction": w}, t)[2] >= colder[0]


def test_crystals_that_are_seen_above_their_line_tell_where_that_lies() -> None:
    line = first_solid("NaOH", 0.40)
    room = line.high - line.temperature
    seen = melted({"mass_fraction": 0.40}, line.temperature + 0.5 * room)
    assert seen[0] == pytest.approx(melted({"mass_fraction": 0.40}, line.temperature - 0.5 * room)[0], rel=0.02)
    start = ask(W, frozen({"mass_fraction": 0.40}, line.temperature + 0.5 * room))["path"][0]
    assert start["solid_share"]["value"] > 0.0


def test_a_heat_of_melting_is_told_to_be_as_open_as_its_interval() -> None:
    for w, t in ((0.50, 8.0), (0.40, 10.0)):
        answer = ask(W, frozen({"mass_fraction": w}, t))
        heat = answer["thawing_heat"]
        ends = " to ".join(f"{round(100 * heat[end] / heat['value'], 1):g} %" for end in ("low", "high"))
        assert f"may be {ends} of what is told" in message_of(answer, "thawing-heat-rough")


def test_of_a_stock_that_stays_set_no_heat_of_melting_is_told() -> None:
    """38.8 % is NaOH·3.5H2O, solid to 15.4 °C."""
    asked = frozen({"mass_fraction": 0.388}, 4.0)
    asked["target_temperature"]["value"], asked["ambient"]["value"] = 8, 2
    answer = ask(W, asked)
    assert answer["thawing_heat"]["value"] == 0
    assert "none melts up to the target" in message_of(answer, "thawing-heat-rough")


def test_near_the_eutectic_the_heat_of_melting_is_open_to_many_times_its_value() -> None:
    answer = ask(W, frozen({"mass_fraction": 0.45}, 5.0))
    assert answer["thawing_heat"]["high"] > 3.0 * answer["thawing_heat"]["value"]
    assert "many times" in message_of(answer, "thawing-heat-rough")


def test_what_is_lost_while_crystals_melt_has_ends_about_its_value() -> None:
    """In a cold room, of which a stock takes nothing."""
    lost = ask(W, frozen({"mass_fraction": 0.40}, 5.0) | {"ambient": {"value": 0, "unit": "°C"}})["heat_lost"]
    assert 0.2 * lost["value"] < lost["low"] < lost["value"] < lost["high"] < 2.5 * lost["value"]


def lost(strength: Answer, t: float) -> tuple[float, float, float]:
    """The heat that 60 kg lose to a room of 15 °C on their way to 35 °C, and its ends [kJ]."""
    asked = frozen(strength, t)
    asked["solution"]["mass"]["value"] = 60
    asked["vessel"] |= {"diameter": {"value": 36, "unit": "cm"}, "height": {"value": 55, "unit": "cm"}}
    asked["heater_power"]["value"] = 0.5
    asked["ambient"]["value"], asked["target_temperature"]["value"] = 15, 35
    told = ask(W, asked)["heat_lost"]
    return told["value"], told["low"], told["high"]


def open_strength(w: float, uncertainty: float) -> Answer:
    return {"mass_fraction": {"value": w, "uncertainty": uncertainty, "unit": "1"}}


@pytest.mark.parametrize(("w", "t"), [(0.48, 5.0), (0.50, 7.0)])
def test_a_strength_that_is_known_worse_leaves_no_less_open_of_what_is_lost(w: float, t: float) -> None:
    """Its other crystals melt above the room as well, which is no bound for those that melt below it."""
    well, *worse = (high - low for _, low, high in (lost(open_strength(w, u), t) for u in (1e-6, 0.01, 0.02)))
    assert well < min(worse)


@pytest.mark.parametrize(("w", "t"), [(0.48, 5.0), (0.50, 2.0)])
def test_of_what_is_lost_a_strength_that_is_known_well_leaves_open_what_the_data_do(w: float, t: float) -> None:
    exact = lost({"mass_fraction": w}, t)
    assert lost(open_strength(w, 1e-6), t) == pytest.approx(exact, rel=2e-2)


def test_what_is_lost_holds_the_value_of_every_strength_between() -> None:
    """Near the eutectic of 45.7 % the least melts, and the most is lost."""
    value, low, high = lost(open_strength(0.48, 0.02), 5.0)
    alike = [lost({"mass_fraction": 0.48 - 0.0392 + 0.0098 * i}, 5.0)[0] for i in range(9)]
    assert low < min(alike) < value < max(alike) < high
    # The ends lie as far beyond as the data leave them: those of three strengths, of which the middle counts most.
    three = [lost({"mass_fraction": w}, 5.0) for w in (0.48, 0.48 - 0.0392, 0.48 + 0.0392)]
    up = math.sqrt(sum(k * (one[2] - one[0]) ** 2 for k, one in zip((4, 1, 1), three, strict=True)) / 6)
    down = math.sqrt(sum(k * (one[0] - one[1]) ** 2 for k, one in zip((4, 1, 1), three, strict=True)) / 6)
    assert high - value == pytest.approx(math.hypot(up, max(alike) - value), rel=0.04)
    assert value - low == pytest.approx(math.hypot(down, value - min(alike)), rel=0.04)


def test_the_least_that_melts_is_sought_between_the_ends_of_the_strength() -> None:
    """Of 46 % less melts than of either end, and than of 48 %."""
    value, low, _ = melted(open_strength(0.48, 0.02), 5.0)
    three = [melted({"mass_fraction": w}, 5.0) for w in (0.48, 0.48 - 0.0392, 0.48 + 0.0392)]
    of_data = math.sqrt(sum(k * (one[0] - one[1]) ** 2 for k, one in zip((4, 1, 1), three, strict=True)) / 6)
    least = melted({"mass_fraction": 0.48 - 2 * 0.0098}, 5.0)[0]
    assert least < 0.5 * min(one[0] for one in three)
    assert value - low == pytest.approx(math.hypot(of_data, value - least), rel=1e-3)


def test_the_most_may_be_lost_where_next_to_nothing_melts() -> None:
    """Then as much as of the same stock that is liquid: all of it above the room, by a vessel that loses the most."""
    set_and_liquid = [
        ask(W, frozen({"mass_fraction": 0.46}, 5.0) | {"ambient": {"value": 15, "unit": "°C"}, "crystallised": is_set})
        for is_set in (True, False)
    ]
    most, liquid = (one["heat_lost"]["high"] for one in set_and_liquid)
    assert most == pytest.approx(liquid, rel=0.1)


@pytest.mark.parametrize(("w", "t"), [(0.33, 0.0), (0.40, 5.0)])
def test_less_may_have_to_be_melted_where_the_freezing_line_lies_lower(w: float, t: float) -> None:
    line = first_solid("NaOH", w)
    warmer = at_rest("NaOH", w, t + line.temperature - line.low)
    assert melted({"mass_fraction": w}, t)[1] <= 20e-3 * warmer.low * (1 + 1e-9)


def test_where_the_heat_of_melting_is_not_known_no_strength_beside_it_tells_one() -> None:
    """Of 19 % with heptahydrate it is not; of 18 % with ice it would be."""
    told = ask(W, frozen(open_strength(0.19, 0.005), -27.9))["thawing_heat"]
    assert told["value"] == told.get("high", 0.0) == 0.0


def test_what_a_colder_target_leaves_solid_is_not_melted() -> None:
    """In a cold store, on the way from -5 to 5 °C."""
    room, target = {"value": -10, "unit": "°C"}, {"value": 5, "unit": "°C"}
    asked = frozen({"mass_fraction": 0.40}, -5.0) | {"ambient": room, "target_temperature": target}
    left = melted({"mass_fraction": 0.40}, 5.0)[0]
    assert ask(W, asked)["thawing_heat"]["value"] == pytest.approx(melted({"mass_fraction": 0.40}, -5.0)[0] - left)


def test_the_least_may_be_lost_where_much_melts_in_a_vessel_that_loses_little() -> None:
    """What it takes from the room while it melts is more than what it loses later."""
    asked = frozen({"mass_fraction": 0.44}, 5.0)
    asked["heater_power"]["value"] = 0.6
    asked["ambient"]["value"], asked["target_temperature"]["value"] = 15, 45
    assert ask(W, asked)["heat_lost"]["low"] < 0.0


def test_crystals_that_are_said_to_be_there_are_held_for_sure() -> None:
    line = first_solid("NaOH", 0.40)
    said = cautions(ask(W, frozen({"mass_fraction": 0.40}, line.temperature)))
    assert "it holds crystals" in said["crystals-in-solution"]["message"]


@pytest.mark.parametrize(("t", "is_due"), [(5.0, True), (25.0, False)])
def test_the_heat_of_melting_is_called_rough_where_there_is_any(t: float, *, is_due: bool) -> None:
    answer = ask(W, frozen({"mass_fraction": 0.40}, t) | {"crystallised": None})
    assert ("thawing-heat-rough" in cautions(answer)) is is_due
