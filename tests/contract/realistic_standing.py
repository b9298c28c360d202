"""Stocks that have stood, been drawn from, and dried or taken up water."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import Duration, Length, Mass, MassChange, PlainMass, Share, Temperature
from service.calculations.shared.messages import AlkaliName
from tests.contract.quantities import said
from tests.contract.realistic_strengths import strengths

ALKALIS: Final[tuple[AlkaliName, ...]] = ("NaOH", "KOH")

Request = dict[str, Any]


@st.composite
def standing_stocks(draw: st.DrawFn) -> Request:
    """A filling, draws, and what is left."""
    name: AlkaliName = draw(st.sampled_from(ALKALIS))
    mass = draw(st.floats(0.5, 200.0))
    w = draw(st.floats(0.2, 0.46))
    solution = {"alkali": name, "mass": draw(said(PlainMass, mass)), "strength": draw(strengths(name, w, w))}
    request: Request = {"solution": solution}
    drawn = [mass * share for share in draw(st.lists(st.floats(0.01, 0.2), max_size=4))]
    if drawn:
        request["drawn_masses"] = [draw(said(Mass, one)) for one in drawn]
    left = mass - sum(drawn)
    change = left * draw(st.floats(-0.04, 0.1))
    if draw(st.booleans()):
        request["mass_now"] = draw(said(Mass, left + change))
    else:
        request["mass_change"] = draw(said(MassChange, change))
    if draw(st.booleans()):
        request["relative_humidity"] = draw(said(Share, 0.2, 0.9))
    if draw(st.booleans()):
        request["ambient"] = draw(said(Temperature, 10.0, 35.0))
    if draw(st.booleans()):
        request["age"] = draw(said(Duration, 1e5, 1e7))
    if draw(st.booleans()):
        request["open_mixing"] = {
            "diameter": draw(said(Length, 0.1, 0.6)),
            "duration": draw(said(Duration, 300.0, 7200.0)),
            "temperature": draw(said(Temperature, 30.0, 95.0)),
        }
    return request
