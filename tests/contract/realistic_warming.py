"""Warmings as workshops ask for them: a stock colder than it should be, a vessel that holds it, a heater that can."""

from typing import Any

from hypothesis import strategies as st

from service.calculations.shared.given import Duration, Efficiency, Length, PlainMass, Power, Temperature, Volume
from tests.contract.quantities import said
from tests.contract.realistic_strengths import STRONGEST, strengths

MATERIALS = ("hdpe", "polypropylene", "stainless-steel", "carbon-steel", "nickel")
Request = dict[str, Any]


def _maybe(draw: st.DrawFn, name: str, strategy: st.SearchStrategy[Any]) -> Request:
    return {name: draw(strategy)} if draw(st.booleans()) else {}


@st.composite
def stock_warmings(draw: st.DrawFn) -> Request:
    """A stock of the cold store, or one that has set, with 10 to 60 W of heater for each kilogram."""
    name = draw(st.sampled_from(["NaOH", "NaOH", "KOH"]))
    mass = draw(st.floats(5.0, 500.0))
    cold = draw(st.floats(0.5, 22.0))
    solution: Request = {"alkali": name, "strength": draw(strengths(name, 0.05, STRONGEST[name] - 0.01))}
    if draw(st.booleans()):
        solution["mass"] = draw(said(PlainMass, mass))
    else:
        solution["volume"] = draw(said(Volume, mass / 1500))
    solution |= {"temperature": draw(said(Temperature, cold))}
    vessel: Request = {"material": draw(st.sampled_from(MATERIALS))}
    vessel |= _maybe(draw, "mass", said(PlainMass, mass * 0.02, mass * 0.2))
    vessel |= _maybe(draw, "lid", st.booleans())
    vessel |= _maybe(draw, "dead_volume", said(Volume, mass * 1e-6, mass * 1e-4))
    shape = draw(st.sampled_from(["", "volume", "cylinder"]))
    if shape == "volume":
        vessel["volume"] = draw(said(Volume, mass / 800, mass / 400))
    elif shape == "cylinder":
        across = (mass / 700) ** (1 / 3)
        vessel |= {"diameter": draw(said(Length, across, across * 1.3)), "height": draw(said(Length, across * 1.5))}
    request: Request = {
        "solution": solution,
        "vessel": vessel,
        "heater_power": draw(said(Power, mass * 10.0, mass * 60.0)),
        "target_temperature": draw(said(Temperature, 28.0, 45.0)),
    }
    request |= _maybe(draw, "ambient", said(Temperature, 0.0, 25.0))
    request |= _maybe(draw, "efficiency", said(Efficiency, 0.7, 1.0))
    return request | _maybe(draw, "hold_time", said(Duration, 3600.0, 86400.0))
