"""Solutions that are poured together, and stocks that are brought to another strength."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import PlainMass, Purity, Share, Temperature, Volume
from service.reference import reference_data
from tests.contract.quantities import said
from tests.contract.realistic_strengths import strengths

MATERIALS: Final = sorted(reference_data().vessel_materials)
STRONGEST: Final = {"NaOH": 0.5, "KOH": 0.48}
PURITIES: Final = {"NaOH": (0.97, 1.0), "KOH": (0.88, 0.92)}
NO_STRENGTH: Final[dict[str, Any]] = {"mass_fraction": 0}

Request = dict[str, Any]


@st.composite
def _solution(draw: st.DrawFn, name: str, amount: float, low: float, high: float) -> Request:
    request: Request = {"alkali": name, "strength": draw(strengths(name, low, high))}
    if draw(st.booleans()):
        request["mass"] = draw(said(PlainMass, amount))
    else:
        request["volume"] = draw(said(Volume, amount / 1200))
    if draw(st.booleans()):
        request["temperature"] = draw(said(Temperature, 5.0, 70.0))
    return request


@st.composite
def _vessel(draw: st.DrawFn, amount: float) -> Request:
    vessel: Request = {"material": draw(st.sampled_from(MATERIALS))}
    if draw(st.booleans()):
        vessel["volume"] = draw(said(Volume, amount / 1200, amount / 300))
    if draw(st.booleans()):
        vessel["lid"] = draw(st.booleans())
    return vessel


@st.composite
def stock_dilutions(draw: st.DrawFn) -> Request:
    """Some solutions of one alkali, water often, ice now and then."""
    name = draw(st.sampled_from(["NaOH", "KOH"]))
    amount = draw(st.floats(0.05, 200.0))
    count = draw(st.integers(1, 4))
    lines = [draw(_solution(name, amount * draw(st.floats(0.2, 1.0)), 0.02, STRONGEST[name])) for _ in range(count)]
    if draw(st.booleans()):
        line: Request = {"alkali": name, "strength": NO_STRENGTH, "mass": draw(said(PlainMass, 0.5 * amount))}
        if draw(st.booleans()):
            line["temperature"] = draw(said(Temperature, 1.0, 60.0))
        lines.append(line)
    if not draw(st.integers(0, 3)):
        line = {"alkali": name, "strength": NO_STRENGTH, "state": "ice", "mass": draw(said(PlainMass, 0.1 * amount))}
        if draw(st.booleans()):
            line["temperature"] = draw(said(Temperature, -20.0, -0.5))
        lines.append(line)
    request: Request = {"solutions": draw(st.permutations(lines))}
    if draw(st.booleans()):
        request["vessel"] = draw(_vessel(amount * len(lines)))
    return request


@st.composite
def stock_adjustments(draw: st.DrawFn) -> Request:
    """A stock, a strength it is to have, and what brings it there."""
    name = draw(st.sampled_from(["NaOH", "KOH"]))
    amount = draw(st.floats(0.5, 200.0))
    way = draw(st.sampled_from(["water", "none", "solid", "weaker", "stronger", "ice"]))
    weak, strong = 0.25, STRONGEST[name]
    present = draw(st.floats(weak + 0.05, strong - 0.05))
    rises = way in {"solid", "stronger"} or (way == "none" and draw(st.booleans()))
    target = draw(st.floats(present + 0.005, strong - 0.02) if rises else st.floats(weak, present - 0.005))
    request: Request = {
        "solution": draw(_solution(name, amount, present, present)),
        "target_strength": draw(strengths(name, target, target)),
    }
    if way == "weaker":
        request["with"] = {"alkali": name, "strength": draw(strengths(name, 0.02, 0.2))}
    elif way == "stronger":
        request["with"] = {"alkali": name, "strength": draw(strengths(name, strong, strong))}
    elif way == "ice":
        request["with"] = {"alkali": name, "strength": NO_STRENGTH, "state": "ice"}
        request["target_strength"] = draw(strengths(name, present - 0.02, present - 0.01))
    elif way != "none":
        request["with"] = way
    if way == "solid" or (way == "none" and rises):
        solid: Request = {"purity": draw(said(Purity, *PURITIES[name]))}
        if draw(st.booleans()):
            solid["moisture"] = draw(said(Share, 0.0, 0.02))
        request["solid"] = solid
    if way == "water" and draw(st.booleans()):
        request["water_temperature"] = draw(said(Temperature, 4.0, 40.0))
    if draw(st.booleans()):
        request["ambient"] = draw(said(Temperature, 10.0, 30.0))
    if draw(st.booleans()):
        request["vessel"] = draw(_vessel(1.5 * amount))
    return request
