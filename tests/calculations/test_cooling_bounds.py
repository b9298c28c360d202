"""The ends of a cooling hold whatever lies between its limits: draws of all that is uncertain stay within them."""

import math
import random
from collections.abc import Sequence
from itertools import pairwise

import pytest

from service.calculations.keeping.cooling_runs import Around, Run
from service.calculations.keeping.vessel_contents import Contents
from service.chemistry.cooling import cooling_times, geometric_way
from service.chemistry.enthalpy import at_strength
from service.chemistry.standing_loss import Range
from tests.calculations.asking import ask
from tests.calculations.caution_cases_of_cooling import cooling, readings

VESSEL: Range = (2e3, 1.5e3, 2.6e3)
DRAWS = 300


def _loss(way: Sequence[float], baths: Sequence[float]) -> list[Range]:
    free = [(t - bath) ** (5 / 4) for t, bath in zip(way, baths, strict=True)]
    return [(1.0 * one, 0.7 * one, 1.6 * one) for one in free]


def _straight(way: Sequence[float], baths: Sequence[float]) -> list[Range]:
    return [(t - bath, 0.5 * (t - bath), t * 9) for t, bath in zip(way, baths, strict=True)]


def _drawn(run: Run, rng: random.Random) -> tuple[float, float]:
    """Time [s] and heat [J] of one draw, in two hundred small legs."""
    c = run.contents
    factor, vessel = rng.uniform(0.7, 1.6), rng.uniform(*VESSEL[1:])
    scale = 1.0 + rng.uniform(-run.capacity_spread, run.capacity_spread)
    liquid, bath = at_strength(c.alkali, c.w), run.around.temperature
    nodes = geometric_way(c.temperature, run.target, run.rest, 200)
    heats, losses = [], [factor * (nodes[0] - bath) ** (5 / 4)]
    for before, after in pairwise(nodes):
        heat = c.mass * scale * (liquid.enthalpy(before) - liquid.enthalpy(after)) + vessel * (before - after)
        bath += heat / run.around.capacity
        heats.append(heat)
        losses.append(factor * (after - bath) ** (5 / 4))
    return cooling_times(heats, losses)[-1], math.fsum(heats)


@pytest.mark.parametrize("capacity", [math.inf, 6e4, 3.2e4])
def test_draws_of_all_that_is_uncertain_stay_within_the_ends(capacity: float) -> None:
    contents = Contents("NaOH", 0.5, 0.004, 5.0, 80.0, crystallised=False)
    run = Run(contents, 45.0, Around("water-bath", 15.0, capacity), VESSEL, _loss)
    rng = random.Random(7)  # noqa: S311 - draws, not secrets
    draws = [_drawn(run, rng) for _ in range(DRAWS)]
    value, low, high = run.times
    assert low <= min(time for time, _ in draws) < value < max(time for time, _ in draws) <= high
    _, least, most = run.heat
    assert least <= min(heat for _, heat in draws) <= max(heat for _, heat in draws) <= most


def test_the_coefficient_of_each_end_takes_the_time_of_that_end() -> None:
    contents = Contents("NaOH", 0.5, 0.004, 5.0, 80.0, crystallised=False)
    run = Run(contents, 45.0, Around("still-air", 15.0, math.inf), VESSEL, _straight)
    value, low, _ = run.coefficient()
    assert value == pytest.approx(1.0, rel=1e-3)  # the heat capacity changes by 1 % on the way
    assert low == pytest.approx(0.5, rel=1e-3)


@pytest.mark.parametrize("medium", ["ice-bath", "water-bath", "still-air"])
@pytest.mark.parametrize("last", ["52.05 °C", "52.5 °C"])
def test_a_stock_that_may_be_cool_already_gives_off_nothing_or_more(medium: str, last: str) -> None:
    """Readings that scatter leave open how warm it is: by their lower end less than the 52 °C that are wanted."""
    around = {"medium": medium} | ({} if medium == "ice-bath" else {"temperature": "15 °C"})
    said = cooling(None, "52 °C", readings=readings("80 °C", "71 °C", "59 °C", last), around=around)
    answer = ask("stock-cooling", said)
    assert answer["heat_given_off"]["low"] == 0.0 < answer["heat_given_off"]["value"]
    if medium == "ice-bath":
        melted = answer["ice_melted"]
        assert melted["low"] == 0.0
        assert melted["high"] == pytest.approx(answer["heat_given_off"]["high"] / 333.4 * 1000.0, rel=2e-3)
