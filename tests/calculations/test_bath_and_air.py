"""Of a vessel in a bath the top stands in the air: what it loses there belongs to the whole, at each end of it."""

import json
from typing import Any, Final

import pytest

from service.calculations.keeping.cooling_losses import FAN, WALL
from service.calculations.keeping.cooling_reading import Asked, read_cooling
from service.calculations.keeping.stock_cooling import StockCoolingRequest
from service.calculations.shared.decoding import decoder
from service.calculations.shared.notes import Notes
from service.chemistry.bath import Stock, bath_losses
from service.chemistry.standing_loss import EVAPORATION, STILL
from tests.calculations.asking import ask
from tests.calculations.caution_cases_of_cooling import K, bath, cooling

ENDS: Final = ("low", "value", "high")


def _lost(around: dict[str, Any], *, lid: bool, t: str = "80 °C") -> dict[str, float]:
    found: dict[str, float] = ask(K, cooling(t, vessel={"lid": lid}, around=around))["heat_loss_at_start"]
    return found


@pytest.mark.parametrize("medium", ["water-bath", "ice-bath"])
@pytest.mark.parametrize("t", ["50 °C", "80 °C"])
def test_an_open_top_loses_more_than_a_closed_one_and_most_at_the_upper_end(medium: str, t: str) -> None:
    """The vapour that a skin may hold back and a draught double goes up only."""
    opened, closed = (_lost(bath(medium), lid=lid, t=t) for lid in (False, True))
    vapour = {end: opened[end] - closed[end] for end in ENDS}
    assert vapour["low"] == pytest.approx(0.0, abs=1e-9)  # at least nothing
    assert 0.0 < vapour["value"] < vapour["high"]
    assert vapour["high"] / vapour["value"] == pytest.approx(EVAPORATION[2] / EVAPORATION[0])


@pytest.mark.parametrize("t", [40.0, 60.0, 80.0])
def test_the_top_of_a_vessel_in_a_bath_loses_no_more_than_still_air_may_take(t: float) -> None:
    """Beside convection there is radiation, which is known better: the limits of the whole lie within those."""
    plastic = {"material": "polypropylene"}  # whose radiation is known to a twentieth
    given = decoder(StockCoolingRequest)(json.dumps(cooling(f"{t} °C", vessel=plastic, around=bath())).encode())
    asked = Asked(given.solution, given.vessel, given.surroundings, given.target_temperature, given.readings)
    read = read_cooling(asked, Notes())
    lost = read.lost
    assert lost is not None
    assert lost.bathed is not None
    contents, at = read.run.contents, read.run.around.temperature
    ((whole, _, most),) = lost.loss([t], [at])
    ((wetted, _, wetted_most),) = bath_losses(lost.bathed, Stock(contents.alkali, contents.w), [t], [at])
    top, top_most = whole - wetted, most - wetted_most
    assert 0.0 < top < top_most < STILL[2] / STILL[0] * top


def test_a_fan_of_which_nobody_says_how_fast_has_the_speeds_that_are_told() -> None:
    fan = {"medium": "moving-air", "temperature": "20 °C"}
    answer = ask(K, cooling(around=fan))
    (told,) = [one["value"] for one in answer["assumed"] if one["pointer"] == "/surroundings/air_speed"]
    assert told == f"{FAN[0]:g} m/s, {FAN[1]:g} to {FAN[2]:g} m/s"
    (told,) = [
        one["value"] for one in ask(K, cooling(around=bath()))["assumed"] if one["pointer"] == "/vessel/wall_thickness"
    ]
    assert told == f"{1e3 * WALL[0]:g} mm, {1e3 * WALL[1]:g} to {1e3 * WALL[2]:g} mm"
