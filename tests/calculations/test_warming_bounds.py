"""The ends of a warming hold whatever lies between its limits: draws of all that is uncertain stay within them."""

import random
from itertools import pairwise

import pytest

from service.calculations.keeping.vessel_contents import Contents
from service.calculations.keeping.warming_runs import Heater, Held, Run
from service.chemistry.enthalpy import at_strength
from service.chemistry.standing_loss import Range
from service.chemistry.thawing import frozen
from service.chemistry.warming import Leg, warm

ROOM = 10.0
TARGET = 40.0
VESSEL: Range = (6e3, 5e3, 7e3)
DRAWS = 300


def _loss(t: float) -> Range:
    rise = t - ROOM
    return 4.0 * rise, 3.0 * rise, 6.0 * rise


def _run(t: float, power: float, crystallised: bool | None = None) -> Run:
    contents = Contents("NaOH", 0.5, 0.004, 60.0, t, crystallised)
    return Run(contents, Heater(power, 0.9), TARGET, Held(VESSEL, _loss, ROOM))


def _drawn(run: Run, rng: random.Random, share: float) -> tuple[float, float]:
    """Time [s] and heat [J] of one draw, in a hundred small legs; `share` of the crystals' limits."""
    c = run.contents
    loss, vessel = rng.uniform(3.0, 6.0), rng.uniform(*VESSEL[1:])
    capacity = 1.0 + rng.uniform(-run.capacity_spread, run.capacity_spread)
    liquid = at_strength(c.alkali, c.w)

    def taken(t: float) -> float:
        found = frozen(c.alkali, c.w, t)
        solid = found.low + share * (found.high - found.low) if c.crystallised is not False else 0.0
        return c.mass * (capacity * liquid.enthalpy(t) - solid) + vessel * t

    nodes = [c.temperature + (TARGET - c.temperature) * i / 100 for i in range(101)]
    legs = [Leg(b, max(0.0, taken(b) - taken(a))) for a, b in pairwise(nodes)]
    found = warm(c.temperature, legs, run.heater.given, lambda t: loss * (t - ROOM))
    return found.times[-1], sum(leg.heat for leg in legs)


@pytest.mark.parametrize(("t", "crystallised"), [(16.0, None), (8.0, True), (8.0, False), (3.0, True)])
def test_draws_of_all_that_is_uncertain_stay_within_the_ends(t: float, crystallised: bool | None) -> None:
    run = _run(t, 1500.0, crystallised)
    rng = random.Random(20)  # noqa: S311 - draws, not secrets
    value, low, high = run.times
    draws = [_drawn(run, rng, rng.random()) for _ in range(DRAWS)]
    assert low <= min(time for time, _ in draws) < value < max(time for time, _ in draws) <= high
    _, least, most = run.heat
    assert least <= min(heat for _, heat in draws) <= max(heat for _, heat in draws) <= most


def test_the_way_in_few_legs_is_that_in_many() -> None:
    """At the middle of all limits, the eight legs of the liquid give the time of a hundred."""
    run = _run(16.0, 400.0)
    c = run.contents
    liquid = at_strength(c.alkali, c.w)
    nodes = [c.temperature + (TARGET - c.temperature) * i / 100 for i in range(101)]
    legs = [
        Leg(b, c.mass * (liquid.enthalpy(b) - liquid.enthalpy(a)) + VESSEL[0] * (b - a)) for a, b in pairwise(nodes)
    ]
    assert run.times[0] == pytest.approx(warm(16.0, legs, 360.0, lambda t: _loss(t)[0]).times[-1], rel=1e-4)


def test_a_heater_just_above_the_loss_has_a_time_and_no_end() -> None:
    run = _run(16.0, 140.0)  # 126 W reach it: 120 W are lost at the target, or up to 180 W
    assert run.value.reached
    assert not run.surely_reached
    assert len(set(run.times)) == 1
    steady = run.steady()
    assert steady is not None
    assert steady[0] == pytest.approx(ROOM + 126.0 / 4.0)
    assert steady[1:] == pytest.approx((ROOM + 126.0 / 6.0, ROOM + 126.0 / 3.0))


def test_where_it_would_boil_there_is_no_steady_temperature() -> None:
    run = _run(16.0, 2000.0)
    assert run.steady() is None
    upper = _run(16.0, 600.0).steady()
    assert upper is not None
    assert upper[0] < upper[2] == run.boiling
