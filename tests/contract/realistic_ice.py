"""Stocks that are to be mixed with ice: by a mass, by bags, or by the vessel they fill."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import PlainMass, Purity, Share, Temperature, Volume
from service.reference import reference_data
from tests.contract.quantities import said
from tests.contract.realistic_strengths import strengths

MATERIALS: Final = sorted(reference_data().vessel_materials)

Request = dict[str, Any]


@st.composite
def ice_mixings(draw: st.DrawFn) -> Request:
    """A solid, a strength, a limit, and one way to say how much."""
    name = draw(st.sampled_from(["NaOH", "KOH"]))
    purity = draw(st.floats(0.97, 1.0) if name == "NaOH" else st.floats(0.88, 0.92))
    w = draw(st.floats(0.1, 0.48 if name == "NaOH" else 0.42))
    amount = draw(st.floats(0.5, 200.0))
    solid: Request = {"alkali": name, "purity": draw(said(Purity, purity))}
    request: Request = {
        "solid": solid,
        "strength": draw(strengths(name, w, w)),
        "peak_limit": draw(said(Temperature, 15.0, 100.0)),
    }
    way = draw(st.sampled_from(["mass", "bags", "solution", "vessel"]))
    if way == "mass":
        solid["mass_as_supplied"] = draw(said(PlainMass, amount * w / purity))
    elif way == "bags":
        count = draw(st.integers(1, 6))
        solid["bags"] = {"count": count, "mass": draw(said(PlainMass, amount * w / purity / count))}
    elif way == "solution":
        request["solution_mass"] = draw(said(PlainMass, amount))
    if way == "vessel" or draw(st.booleans()):
        room = 1.0 if way == "vessel" else 1.5
        volume = draw(said(Volume, amount * room * 1e-3))
        request["vessel"] = {"material": draw(st.sampled_from(MATERIALS)), "volume": volume}
    if draw(st.booleans()):
        left = amount * draw(st.floats(0.02, 0.3))
        strength = draw(strengths(name, 0.6 * w, w))
        request["existing_stock"] = {"alkali": name, "mass": draw(said(PlainMass, left)), "strength": strength}
    if draw(st.booleans()):
        request["water_temperature"] = draw(said(Temperature, 4.0, 30.0))
    if draw(st.booleans()):
        request["ambient"] = draw(said(Temperature, 10.0, 30.0))
    if draw(st.booleans()):
        ice: Request = {"temperature": draw(said(Temperature, -20.0, -0.5))}
        if draw(st.booleans()):
            ice["melted_share"] = draw(said(Share, 0.0, 0.6))
        if draw(st.booleans()):
            ice["bag_mass"] = draw(said(PlainMass, amount * 0.01, amount * 0.2))
        request["ice"] = ice
    return request
