"""Warmings as workshops ask for them: a stock colder than it should be, a vessel that holds it, a heater that can."""

from typing import Any

from hypothesis import strategies as st

from service.calculations.shared.given import Duration, Efficiency, Power, Temperature, Volume
from tests.contract.quantities import maybe, said
from tests.contract.realistic_vessels import stock_of, vessel_for

MATERIALS = ("hdpe", "polypropylene", "stainless-steel", "carbon-steel", "nickel")
Request = dict[str, Any]


@st.composite
def stock_warmings(draw: st.DrawFn) -> Request:
    """A stock of the cold store, or one that has set, with 10 to 60 W of heater for each kilogram."""
    mass = draw(st.floats(5.0, 500.0))
    cold = draw(st.floats(0.5, 22.0))
    solution = stock_of(draw, mass)
    solution |= {"temperature": draw(said(Temperature, cold))}
    vessel = vessel_for(draw, mass, MATERIALS)
    vessel |= maybe(draw, "dead_volume", said(Volume, mass * 1e-6, mass * 1e-4))
    request: Request = {
        "solution": solution,
        "vessel": vessel,
        "heater_power": draw(said(Power, mass * 10.0, mass * 60.0)),
        "target_temperature": draw(said(Temperature, 28.0, 45.0)),
    }
    request |= maybe(draw, "ambient", said(Temperature, 0.0, 25.0))
    request |= maybe(draw, "efficiency", said(Efficiency, 0.7, 1.0))
    return request | maybe(draw, "hold_time", said(Duration, 3600.0, 86400.0))
