"""What a kept stock is promised beside its times: its dangers, its crystals at every end, and one refusal at a time."""

from typing import Any, Final

import pytest

from service.calculations.keeping.stock_cooling import CALCULATION as COOLING
from service.calculations.keeping.warming_reading import COLDEST_ROOM
from service.calculations.keeping.warming_runs import LEGS, MELTING_LEGS
from service.chemistry.thawing import COLDEST
from tests.calculations.asking import ask, cautions, fault
from tests.calculations.caution_cases_of_cooling import K, cooling
from tests.calculations.caution_cases_of_warming import W, warming

CLASSES: Final = [("0.4 %", None), ("1 %", "caution"), ("3 %", "danger"), ("50 %", "danger")]
"""Regulation (EC) 1272/2008, Annex VI, index 011-002-00-6: NaOH irritates from 0.5 %, and burns from 2 %."""


@pytest.mark.parametrize(("w", "severity"), CLASSES)
@pytest.mark.parametrize("name", [K, W])
def test_what_is_cooled_or_warmed_is_told_to_burn_as_its_strength_does(name: str, w: str, severity: str | None) -> None:
    request = cooling(w=w) if name == COOLING.name else warming(w)
    found = cautions(ask(name, request)).get("alkali-burns")
    assert (None if found is None else found["severity"]) == severity


@pytest.mark.parametrize(("w", "t", "to"), [("50 %", "2 °C", "30 °C"), ("50 %", "5 °C", "20 °C")])
def test_what_has_surely_set_takes_heat_to_melt_at_each_end(w: str, t: str, to: str) -> None:
    """A line that lies lower by a few kelvins leaves a little less to melt where the stock is colder by more."""
    sure = ask(W, warming(w, t, to, ambient=t, heater_power="2 kW", crystallised=True))
    heat = sure["thawing_heat"]
    assert 0.3 * heat["value"] < heat["low"] < heat["value"] < heat["high"]
    unsaid = ask(W, warming(w, t, to, ambient=t, heater_power="2 kW"))["thawing_heat"]
    assert unsaid["low"] == 0.0
    assert unsaid["value"] == heat["value"]


@pytest.mark.parametrize("t", [-20.0, -27.0])
def test_a_volume_of_a_stock_too_cold_for_a_density_is_refused_for_that_alone(t: float) -> None:
    assert t > max(COLDEST, COLDEST_ROOM)
    request: dict[str, Any] = warming("20 %", {"value": t, "unit": "°C"}, ambient="0 °C")
    del request["solution"]["mass"]
    request["solution"]["volume"] = "20 L"
    found = fault(W, request, 422)
    assert (found.pointer, found.code) == ("/solution/volume", "beyond-data")
    assert "give the mass instead" in found.mend


def test_a_way_up_through_its_crystals_is_told_in_as_many_points_as_it_is_reckoned_in() -> None:
    path = ask(W, warming("50 %", "2 °C", "30 °C", ambient="2 °C", crystallised=True))["path"]
    told = [one["temperature"]["value"] for one in path]
    assert told == sorted(told)
    assert len(told) > LEGS + MELTING_LEGS
