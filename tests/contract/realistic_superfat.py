"""Batches as they were really weighed: near what their fats take, or off by a slip."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import Mass, PlainMass, Purity, Superfat, Temperature, Volume
from service.calculations.shared.messages import AlkaliName
from service.chemistry import density, molar_masses
from service.reference import reference_data
from tests.contract.quantities import said
from tests.contract.realistic_fats import fat_lines
from tests.contract.realistic_strengths import strengths

DATA: Final = reference_data()
LIQUIDS: Final = sorted(DATA.liquids)
ALKALIS: Final[tuple[AlkaliName, ...]] = ("NaOH", "NaOH", "KOH")
MENDING: Final = sorted(name for name, fat in DATA.fats.items() if not fat.hardly_saponified)

Request = dict[str, Any]


@st.composite
def superfat_checks(draw: st.DrawFn) -> Request:
    """Fats, and alkali from stock, from a bag, or from both."""
    batch = draw(st.floats(0.05, 50.0))
    lines = draw(fat_lines(batch))
    need = sum(line.mass * line.saponification_value for line in lines) / molar_masses.KOH
    amount = need * draw(st.sampled_from([0.7, 0.9, 0.95, 1.0, 1.1, 2.5])) * draw(st.floats(0.99, 1.01))
    stock = draw(st.sampled_from([1.0, 1.0, 0.0, 0.6]))
    request: Request = {"fats": [line.request for line in lines]}
    if stock:
        count = draw(st.integers(1, 2))
        request["stock_draws"] = [draw(_draw(amount * stock / count)) for _ in range(count)]
    if stock < 1:
        request["solids"] = [draw(_solid(amount * (1 - stock)))]
    if draw(st.booleans()):
        request["liquids"] = [
            {"liquid": name, "mass": draw(said(PlainMass, batch * 0.001, batch * 0.2))}
            for name in draw(st.lists(st.sampled_from(LIQUIDS), max_size=2, unique=True))
        ]
    if draw(st.booleans()):
        acid = draw(st.sampled_from(sorted(DATA.acids)))
        request["acids"] = [{"acid": acid, "mass": draw(said(Mass, batch * 0.0005, batch * 0.01))}]
    if draw(st.booleans()):
        request["wanted_superfat"] = draw(said(Superfat, 0.0, 0.12))
    if draw(st.booleans()):
        request["mend_with"] = draw(st.sampled_from(MENDING))
    if draw(st.booleans()):
        request["scale_division"] = draw(said(PlainMass, batch * 1e-5, batch * 1e-3))
    return request


@st.composite
def _draw(draw: st.DrawFn, amount: float) -> Request:
    name: AlkaliName = draw(st.sampled_from(ALKALIS))
    w = draw(st.floats(0.3, 0.49))
    mass = amount * molar_masses.ALKALI[name] / w
    line: Request = {"alkali": name, "strength": draw(strengths(name, w, w))}
    if draw(st.integers(0, 3)):
        return line | {"mass": draw(said(PlainMass, mass))}
    t = draw(st.floats(15.0, 40.0))
    volume = draw(said(Volume, mass / density.density(name, w, t)))
    return line | {"volume": volume, "temperature": draw(said(Temperature, t))}


@st.composite
def _solid(draw: st.DrawFn, amount: float) -> Request:
    name: AlkaliName = draw(st.sampled_from(ALKALIS))
    purity = draw(st.floats(0.96, 1.0)) if name == "NaOH" else draw(st.floats(0.84, 0.92))
    mass = amount * molar_masses.ALKALI[name] / purity
    return {"alkali": name, "mass_as_supplied": draw(said(Mass, mass)), "purity": draw(said(Purity, purity))}
