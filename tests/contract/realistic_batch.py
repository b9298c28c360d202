"""Batches before they react: fats and liquids at their temperatures, frozen ones too, and a stock that fits them."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.batch.blend_reading import SYRUP, content_of
from service.calculations.shared.given import Mass, MeasuredTemperature, PlainMass, Temperature, Volume
from service.calculations.shared.messages import AlkaliName
from service.chemistry import density, molar_masses
from service.reference import reference_data
from tests.contract.quantities import said
from tests.contract.realistic_fats import fat_lines
from tests.contract.realistic_strengths import strengths

LIQUIDS: Final = sorted(reference_data().liquids)
ALKALIS: Final[tuple[AlkaliName, ...]] = ("NaOH", "NaOH", "KOH")

Request = dict[str, Any]


@st.composite
def batches(draw: st.DrawFn) -> Request:
    """Fats, what they take of a stock, and liquids up to about its mass."""
    batch = draw(st.floats(0.05, 50.0))
    lines = draw(fat_lines(batch))
    amount = draw(st.floats(0.8, 1.02)) * sum(line.mass * line.saponification_value for line in lines)
    name: AlkaliName = draw(st.sampled_from(ALKALIS))
    pure = amount / molar_masses.KOH * molar_masses.ALKALI[name]
    request: Request = {"fats": [line.request for line in lines], "stock": draw(_stock(name, pure))}
    way = draw(st.sampled_from(["each", "all", "wanted", "both"]))
    if way == "each":
        request["fats"] = [
            one | {"temperature": draw(said(MeasuredTemperature, 25.0, 75.0))} for one in request["fats"]
        ]
    elif way != "wanted":
        request["fats_temperature"] = draw(said(MeasuredTemperature, 25.0, 75.0))
    if way in {"wanted", "both"}:
        request["wanted_temperature"] = draw(said(Temperature, 28.0, 45.0))
    if draw(st.integers(0, 3)):
        names = draw(st.lists(st.sampled_from(LIQUIDS), min_size=1, max_size=3, unique=True))
        request["liquids"] = [draw(_liquid(one, pure / len(names))) for one in names]
    return request


@st.composite
def _stock(draw: st.DrawFn, name: AlkaliName, pure: float) -> Request:
    w = draw(st.floats(0.3, 0.49))
    line: Request = {"alkali": name, "strength": draw(strengths(name, w, w))}
    t = draw(st.floats(18.0, 40.0))
    if draw(st.integers(0, 3)):
        line["mass"] = draw(said(PlainMass, pure / w))
        return line | ({"temperature": draw(said(Temperature, t))} if draw(st.booleans()) else {})
    volume = draw(said(Volume, pure / w / density.density(name, w, t)))
    return line | {"volume": volume, "temperature": draw(said(Temperature, t))}


@st.composite
def _liquid(draw: st.DrawFn, name: str, most: float) -> Request:
    line: Request = {"liquid": name, "mass": draw(said(Mass, most * draw(st.floats(0.05, 1.0))))}
    if not draw(st.integers(0, 2)) and content_of(name).freezing > SYRUP:
        line["frozen"] = True
        if draw(st.booleans()):
            line["temperature"] = draw(said(MeasuredTemperature, -20.0, -1.0, spread=False))
        return line
    if draw(st.booleans()):
        line["frozen"] = False
    if draw(st.booleans()):
        line["temperature"] = draw(said(MeasuredTemperature, 2.0, 60.0))
    return line
