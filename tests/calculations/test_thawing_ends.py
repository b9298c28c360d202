"""The heat that melts the crystals of a stock: its ends are those of the strength and of the data."""

import pytest

from service.calculations.keeping.warming_runs import Run
from service.chemistry.freezing import first_solid
from tests.calculations.asking import Answer, ask, cautions
from tests.calculations.caution_cases_of_warming import W

TESTED = (Run,)
"""What these tests are of: mutants of its module meet them first."""
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


def test_what_is_lost_while_crystals_melt_has_ends_about_its_value() -> None:
    """In a cold room, of which a stock takes nothing."""
    lost = ask(W, frozen({"mass_fraction": 0.40}, 5.0) | {"ambient": {"value": 0, "unit": "°C"}})["heat_lost"]
    assert 0.2 * lost["value"] < lost["low"] < lost["value"] < lost["high"] < 2.5 * lost["value"]


@pytest.mark.parametrize(("t", "is_due"), [(5.0, True), (25.0, False)])
def test_the_heat_of_melting_is_called_rough_where_there_is_any(t: float, *, is_due: bool) -> None:
    answer = ask(W, frozen({"mass_fraction": 0.40}, t) | {"crystallised": None})
    assert ("thawing-heat-rough" in cautions(answer)) is is_due
