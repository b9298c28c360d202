"""Coolings as workshops ask for them: a stock fresh from mixing, on the bench, before a fan, in a tub, or as read."""

import math
from typing import Any

from hypothesis import strategies as st

from service.calculations.shared.given import (
    Length,
    MeasuredTemperature,
    PlainMass,
    Speed,
    Temperature,
    TimeRead,
)
from tests.contract.quantities import maybe, said
from tests.contract.realistic_vessels import stock_of, vessel_for

MATERIALS = ("hdpe", "polypropylene", "stainless-steel", "nickel", "glass-borosilicate")
Request = dict[str, Any]


@st.composite
def stock_coolings(draw: st.DrawFn) -> Request:
    """A stock of 50 to 95 °C that is to get to 25 to 45 °C."""
    mass = draw(st.floats(0.3, 100.0))
    hot = draw(st.floats(50.0, 95.0))
    solution = stock_of(draw, mass)
    vessel = vessel_for(draw, mass, MATERIALS)
    vessel |= maybe(draw, "wall_thickness", said(Length, 1e-3, 5e-3))
    target = draw(st.floats(25.0, 45.0))
    request: Request = {"solution": solution, "vessel": vessel, "target_temperature": draw(said(Temperature, target))}
    medium = draw(st.sampled_from(["still-air", "moving-air", "water-bath", "ice-bath"]))
    surroundings: Request = {"medium": medium}
    cold = 0.0
    if medium != "ice-bath":
        cold = draw(st.floats(5.0, 22.0))
        surroundings["temperature"] = draw(said(Temperature, cold))
    request["surroundings"] = surroundings
    if draw(st.booleans()):
        solution["temperature"] = draw(said(Temperature, hot))
        if medium == "moving-air":
            surroundings |= maybe(draw, "air_speed", said(Speed, 0.5, 4.0))
        elif medium == "water-bath":
            surroundings |= maybe(draw, "bath_mass", said(PlainMass, 8.0 * mass, 20.0 * mass))
        return request
    constant = draw(st.floats(600.0, 20000.0))
    readings = []
    for i in range(draw(st.integers(2, 4))):
        time = i * constant / 6.0
        read = cold + (hot - cold) * math.exp(-time / constant)
        readings.append(
            {
                "time": draw(said(TimeRead, time)),
                "temperature": draw(said(MeasuredTemperature, read, spread=False)),
            }
        )
    if target > hot * 0.6:  # the last reading may be colder than that
        solution["temperature"] = draw(said(Temperature, hot))
    return request | {"readings": readings}
