"""The edges of a mixing with ice: what a refusal names is what may be asked for."""

import json
import math
import re
from typing import Any

import pytest

from service.calculations.mixing.ice_amounts import MOST_BAGS
from service.calculations.mixing.ice_reading import StockMixingIceRequest, fills
from service.calculations.shared.decoding import decoder
from service.chemistry.ranges import ROUNDING
from tests.calculations.asking import ask, fault

NAME = "stock-mixing/ice"


def _wanted(w: Any, limit: str = "80 °C", **more: Any) -> dict[str, Any]:
    solid = {"alkali": "NaOH", "purity": "90 %", "moisture": "10 %"} | more.pop("solid", {})
    return {"solid": solid, "strength": {"mass_fraction": w}, "peak_limit": limit} | more


@pytest.mark.parametrize("there", [4.0, 8.0])
def test_the_strongest_that_a_solid_makes_without_water_is_what_it_makes(there: float) -> None:
    """2 kg of 90 % into a stock of 20 %: (1.8 + 0.2 m) kg of hydroxide in (2 + m) kg."""
    strongest = (1.8 + 0.2 * there) / (2.0 + there)
    heel = {
        "alkali": "NaOH",
        "mass": f"{there} kg",
        "strength": {"mass_fraction": "20 %"},
        "temperature": "20 °C",
    }
    more: dict[str, Any] = {"solid": {"mass_as_supplied": "2 kg"}, "existing_stock": heel}
    found = fault(NAME, _wanted(strongest + 0.005, **more), 422)
    assert (found.pointer, found.code) == ("/strength", "contradiction")
    told = re.search(r"makes a ([\d.]+) % stock", found.detail)
    assert told is not None
    assert float(told[1]) == pytest.approx(100 * strongest, abs=0.006)
    below = math.floor(1e4 * strongest) / 1e4
    assert ask(NAME, _wanted(below, **more))["water_mass"]["value"] < 1.0


def test_as_many_bags_as_may_be_said_are_mixed() -> None:
    bags = {"bags": {"count": MOST_BAGS, "mass": "1 g"}}
    answer = ask(NAME, _wanted("45 %", solid=bags))
    assert answer["mass_as_supplied"]["value"] == pytest.approx(MOST_BAGS)
    assert fault(NAME, _wanted("45 %", solid={"bags": {"count": MOST_BAGS + 1, "mass": "1 g"}}), 400)


@pytest.mark.parametrize("mass", ["10 g", "1 kg", "100 kg"])
def test_a_limit_above_boiling_of_a_stock_that_needs_no_ice_is_not_told_however_little_it_is(mass: str) -> None:
    answer = ask(NAME, _wanted("30 %", "149 °C", solution_mass=mass, water_temperature="5 °C"))
    assert answer["ice_mass"]["value"] == 0
    assert all(one["code"] != "limit-above-boiling" for one in answer["cautions"])


@pytest.mark.parametrize(("over", "taken"), [(0.0, True), (ROUNDING, True), (2 * ROUNDING, False), (0.01, False)])
def test_contents_as_hot_as_the_limit_are_taken_and_hotter_ones_are_not(over: float, *, taken: bool) -> None:
    heel = {
        "alkali": "NaOH",
        "mass": "1 kg",
        "strength": {"mass_fraction": "20 %"},
        "temperature": {"value": 60.0 + over, "unit": "°C"},
    }
    request = _wanted("30 %", "60 °C", solution_mass="20 kg", existing_stock=heel)
    if taken:
        assert ask(NAME, request)
    else:
        assert fault(NAME, request, 422).pointer == "/existing_stock/temperature"
    assert fills(decoder(StockMixingIceRequest)(json.dumps(request).encode())) is False
