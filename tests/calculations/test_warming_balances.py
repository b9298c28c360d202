"""A warming balances: what is drawn is what is taken up and lost, at each end, and thawing is a part of it."""

from typing import Any, Final

import pytest

from service.calculations.keeping.vessel_contents import Contents, capacity_spread
from service.calculations.shared.messages import AlkaliName
from service.chemistry.enthalpy import at_strength
from tests.calculations.asking import ask
from tests.calculations.caution_cases_of_warming import W, warming
from tests.calculations.test_steps import redone, steps

ENDS: Final = ("low", "value", "high")
JOULES: Final = {"kJ": 1e3, "MJ": 1e6, "J": 1.0}


@pytest.mark.parametrize(
    ("w", "t", "to"), [("10 %", "-20 °C", "-12 °C"), ("10 %", "-20 °C", "5 °C"), ("50 %", "2 °C", "11 °C")]
)
def test_what_thaws_is_a_part_of_the_heat_that_is_taken_up(w: str, t: str, to: str) -> None:
    """Also where the target lies below the end of thawing, and a part is solid yet."""
    request = warming(w, t, to, heater_power="5 kW", ambient=t, crystallised=True)
    answer = ask(W, request, explain=True)
    step = steps(answer)["heat taken up"]
    assert step["inputs"]["thawing"]["value"] > 0
    assert redone(step) == pytest.approx(step["result"]["value"], rel=1e-9)
    told = answer["heat_taken_up"]
    assert step["result"]["value"] * 1e3 == pytest.approx(told["value"] * JOULES[told["unit"]], rel=1e-9)


def test_a_mighty_heater_takes_heat_over_power_at_each_end() -> None:
    """Of a vessel that loses next to nothing in so short a time."""
    request: dict[str, Any] = warming("30 %", "16 °C", "40 °C", heater_power="50 kW", efficiency="100 %")
    answer = ask(W, request)
    time, heat = answer["time"], answer["heat_taken_up"]
    seconds = {"s": 1.0, "min": 60.0, "h": 3600.0}[time["unit"]]
    for end in ENDS:
        assert time[end] * seconds == pytest.approx(heat[end] * JOULES[heat["unit"]] / 5e4, rel=2e-3)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("w", [0.1, 0.4])
def test_a_strength_not_well_known_adds_to_the_heat_capacity_by_its_square(alkali: AlkaliName, w: float) -> None:
    liquid, t = at_strength(alkali, w), 40.0
    known, open_, more = (
        capacity_spread(Contents(alkali, w, half_width, 5.0, 20.0, crystallised=False), liquid, t)
        for half_width in (0.0, 0.02, 0.04)
    )
    assert known == liquid.capacity_spread
    assert more**2 - known**2 == pytest.approx(4 * (open_**2 - known**2))
    beside = [at_strength(alkali, w + apart).heat_capacity(t) for apart in (-1e-3, 1e-3)]
    slope = (beside[1] - beside[0]) / 2e-3 / liquid.heat_capacity(t)
    assert (open_**2 - known**2) ** 0.5 == pytest.approx(0.02 * abs(slope), rel=2e-2)
