"""Stocks in their vessels, as workshops keep them."""

from typing import Any

from hypothesis import strategies as st

from service.calculations.shared.given import Length, PlainMass, Volume
from tests.contract.quantities import maybe, said
from tests.contract.realistic_strengths import STRONGEST, strengths

Request = dict[str, Any]


def stock_of(draw: st.DrawFn, mass: float) -> Request:
    """About so much [kg] of a stock, without its temperature."""
    name = draw(st.sampled_from(["NaOH", "NaOH", "KOH"]))
    solution: Request = {"alkali": name, "strength": draw(strengths(name, 0.05, STRONGEST[name] - 0.01))}
    if draw(st.booleans()):
        return solution | {"mass": draw(said(PlainMass, mass))}
    return solution | {"volume": draw(said(Volume, mass / 1500))}


def vessel_for(draw: st.DrawFn, mass: float, materials: tuple[str, ...]) -> Request:
    """A vessel of one of these materials that holds so much [kg] of any stock."""
    vessel: Request = {"material": draw(st.sampled_from(materials))}
    vessel |= maybe(draw, "mass", said(PlainMass, mass * 0.02, mass * 0.2))
    vessel |= maybe(draw, "lid", st.booleans())
    shape = draw(st.sampled_from(["", "volume", "cylinder"]))
    if shape == "volume":
        vessel["volume"] = draw(said(Volume, mass / 800, mass / 400))
    elif shape == "cylinder":
        across = (mass / 700) ** (1 / 3)
        vessel |= {"diameter": draw(said(Length, across, across * 1.3)), "height": draw(said(Length, across * 1.5))}
    return vessel
