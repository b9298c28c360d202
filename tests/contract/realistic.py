"""Requests as workshops send them: known fats, batches that belong together, stocks that can be mixed.

What the contract allows is far more than what makes sense, so that most of what is made up from it alone is
refused. Here the parts of a request fit each other, in every way they can be said, and most of it computes.
A new calculation needs a strategy here: test_realistic.py says so.
"""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import (
    Duration,
    Fraction,
    LiquidRatio,
    Mass,
    PlainMass,
    Proportion,
    Purity,
    Share,
    Superfat,
    Temperature,
    Volume,
)
from service.calculations.shared.messages import AlkaliName
from service.chemistry import molar_masses
from service.reference import reference_data
from tests.contract.quantities import maybe, said
from tests.contract.realistic_batch import batches
from tests.contract.realistic_cooling import stock_coolings
from tests.contract.realistic_dilution import stock_adjustments, stock_dilutions
from tests.contract.realistic_fats import fat_lines, weights
from tests.contract.realistic_hydrometer import readings
from tests.contract.realistic_ice import ice_mixings
from tests.contract.realistic_paste import paste_dilutions
from tests.contract.realistic_plan import production_plans
from tests.contract.realistic_sheet import batch_sheets
from tests.contract.realistic_standing import standing_stocks
from tests.contract.realistic_strengths import STRONGEST, strengths
from tests.contract.realistic_superfat import superfat_checks
from tests.contract.realistic_titrations import soap_assays, stock_titrations
from tests.contract.realistic_warming import stock_warmings

DATA: Final = reference_data()
LIQUIDS: Final = sorted(DATA.liquids)
SOLID_LIQUIDS: Final = [name for name in LIQUIDS if DATA.liquids[name].water.middle < 0.5]
"""Liquids with little water: of these alone no ratio of water can be had."""
ALKALIS: Final[tuple[tuple[AlkaliName, ...], ...]] = (("NaOH",), ("NaOH",), ("KOH",), ("NaOH", "KOH"), ("KOH", "NaOH"))
PURITIES: Final = {"NaOH": (0.96, 1.0), "KOH": (0.84, 0.92)}

Request = dict[str, Any]


@st.composite
def saponifications(draw: st.DrawFn) -> Request:
    """Fats, a superfat, one or two alkalis, some acid."""
    batch = draw(st.floats(0.05, 50.0))
    lines = draw(fat_lines(batch))
    request: Request = {"fats": [line.request for line in lines]}
    request |= maybe(draw, "superfat", said(Superfat, 0.0, 0.2))
    request |= maybe(draw, "reference", st.text(max_size=20))
    request |= maybe(draw, "scale_division", said(PlainMass, batch * 1e-5, batch * 1e-3))
    acids = st.lists(_acid(batch), max_size=2)
    request |= maybe(draw, "acids", acids)
    if draw(st.booleans()):
        request["alkalis"] = draw(_shares())
    return request


@st.composite
def _acid(draw: st.DrawFn, batch: float) -> Request:
    return {"acid": draw(st.sampled_from(sorted(DATA.acids))), "mass": draw(said(Mass, batch * 1e-4, batch * 0.02))}


@st.composite
def _shares(draw: st.DrawFn) -> list[Request]:
    """Alkalis and their shares, which add up to the whole."""
    names = draw(st.sampled_from(ALKALIS))
    of = draw(st.sampled_from(["mole_share", "mass_share"]))
    per_cent = draw(st.integers(1, 99))
    shares = (
        [f"{per_cent} %", (100 - per_cent) / 100] if len(names) == 2 else [draw(st.sampled_from([None, 1, "100 %"]))]
    )
    lines = []
    for name, share in zip(names, shares, strict=True):
        line: Request = {"alkali": name} if share is None else {"alkali": name, of: share}
        lines.append(line | maybe(draw, "purity", said(Purity, *PURITIES[name])))
    return lines


@st.composite
def liquid_splits(draw: st.DrawFn) -> Request:
    """The alkali of a batch of fats, drawn from stock or weighed, and the liquids beside it."""
    batch = draw(st.floats(0.05, 50.0))
    superfat = draw(st.floats(0.0, 0.15))
    lines = draw(fat_lines(batch))
    amount = (1 - superfat) * sum(line.mass * line.saponification_value for line in lines) / molar_masses.KOH
    names = draw(st.sampled_from(ALKALIS))
    first = draw(st.floats(0.1, 0.9)) if len(names) == 2 else 1.0
    masses = [
        amount * share * molar_masses.ALKALI[name] for name, share in zip(names, (first, 1 - first), strict=False)
    ]
    request: Request = {"alkalis": [], "stocks": []}
    for name, mass in zip(names, masses, strict=True):
        alkali, stock = draw(_source(name, mass))
        request["alkalis"].append(alkali)
        request["stocks"] += stock
    total = sum(masses)
    ratio = draw(st.floats(2.5, 4.0))
    known: Request = {}
    if draw(st.booleans()):
        known["fats"] = [line.request for line in lines]
    if draw(st.booleans()):
        known["superfat"] = draw(said(Superfat, superfat))
    request |= known
    request |= maybe(draw, "count_liquids_as", st.sampled_from(["whole", "water_content"]))
    request |= maybe(draw, "compensate", st.booleans())
    if draw(st.integers(0, 5)):
        request["total_liquid"] = draw(_total(ratio, total, batch))
        request |= maybe(draw, "liquids", _liquids(total))
    else:
        request["liquids"] = [{"liquid": "distilled-water", "mass": draw(said(PlainMass, total * 0.1, total))}]
    return request


@st.composite
def _source(draw: st.DrawFn, name: str, mass: float) -> tuple[Request, list[Request]]:
    """An alkali with its stock, or without one and weighed."""
    line: Request = {"alkali": name, "mass": draw(said(Mass, mass))}
    if draw(st.integers(0, 3)):
        stock: Request = {"alkali": name, "strength": draw(strengths(name, 0.3, STRONGEST[name] - 0.02))}
        return line, [stock | maybe(draw, "temperature", said(Temperature, 15.0, 40.0))]
    purity = draw(st.floats(*PURITIES[name]))
    ways: list[Request] = [{}, {"purity": purity}, {"mass_as_supplied": f"{mass / purity!r} kg"}]
    return line | draw(st.sampled_from(ways)), []


@st.composite
def _total(draw: st.DrawFn, ratio: float, alkali: float, fat: float) -> Request:
    """The liquid wanted, in one of the ways it can be said."""
    way = draw(st.sampled_from(["water_ratio", "mass", "liquid_to_fat_ratio", "final_strength"]))
    if way == "water_ratio":
        return {way: draw(said(LiquidRatio, ratio))}
    if way == "mass":
        return {way: draw(said(PlainMass, ratio * alkali))}
    if way == "liquid_to_fat_ratio":
        return {way: draw(said(Proportion, ratio * alkali / fat)), "fat_mass": draw(said(PlainMass, fat))}
    return {way: {"mass_fraction": draw(said(Fraction, 1 / (1 + ratio), spread=False))}}


@st.composite
def _liquids(draw: st.DrawFn, alkali: float) -> list[Request]:
    """Liquids beside the stock that take all that is left."""
    names = draw(st.lists(st.sampled_from(LIQUIDS), min_size=1, max_size=4, unique=True))
    way = draw(st.sampled_from(["shares", "rest", "masses"]))
    parts = draw(weights(len(names)))
    lines: list[Request] = [{"liquid": name} for name in names]
    for line, part in zip(lines, parts, strict=True):
        if way == "masses":
            line["mass"] = draw(said(PlainMass, alkali * 0.02 * part))
        else:
            line["share"] = draw(said(Share, part))
        if DATA.liquids[line["liquid"]].water.middle > 0.998:
            line.update(maybe(draw, "add_to", st.sampled_from(["fats", "stock"])))
    if way != "shares":
        last = lines[-1]
        last.pop("share", None)
        last.pop("mass", None)
        last |= {"rest": True, "liquid": "distilled-water" if last["liquid"] in SOLID_LIQUIDS else last["liquid"]}
    return lines


@st.composite
def stock_mixings(draw: st.DrawFn) -> Request:
    """Solid alkali into water, ice, existing stock, or some of each; it dissolves."""
    name = draw(st.sampled_from(["NaOH", "NaOH", "KOH"]))
    purity = draw(st.floats(*PURITIES[name]))
    solid = draw(st.floats(0.05, 30.0))
    wanted = draw(st.floats(0.1, STRONGEST[name] - 0.03))
    line: Request = {"alkali": name, "mass_as_supplied": draw(said(PlainMass, solid))}
    line |= maybe(draw, "temperature", said(Temperature, 10.0, 35.0))
    if name == "KOH" or draw(st.booleans()):
        line["purity"] = draw(said(Purity, purity))
    if "purity" in line:
        line |= maybe(draw, "moisture", said(Share, 0.0, (1 - purity) * 0.9))
    liquid = solid * (1 - wanted) / wanted
    request: Request = {"solid": line} | draw(_contents(name, liquid))
    request |= maybe(draw, "ambient", said(Temperature, 10.0, 35.0))
    request |= maybe(draw, "duration", said(Duration, 60.0, 7200.0))
    request |= maybe(draw, "vessel", _vessel(solid + liquid))
    return request


@st.composite
def _contents(draw: st.DrawFn, name: str, liquid: float) -> Request:
    """What is in the vessel, all of it together some mass of water."""
    parts = draw(
        st.sampled_from([("water",), ("water", "ice"), ("ice",), ("water", "stock"), ("water", "ice", "stock")])
    )
    request: Request = {}
    for part, share in zip(parts, draw(weights(len(parts))), strict=True):
        mass = liquid * share
        if part == "stock":
            stock: Request = {"alkali": name, "strength": draw(strengths(name, 0.05, 0.4))}
            stock |= draw(
                st.one_of(
                    said(PlainMass, mass).map(lambda one: {"mass": one}),
                    said(Volume, mass / 1200).map(lambda one: {"volume": one}),
                )
            )
            request["existing_stock"] = stock | maybe(draw, "temperature", said(Temperature, 15.0, 40.0))
        else:
            cold, warm = (-25.0, 0.0) if part == "ice" else (1.0, 40.0)
            line: Request = {"mass": draw(said(PlainMass, mass))}
            line |= maybe(draw, "temperature", said(Temperature, cold, warm).filter(_within_ice))
            if part == "ice":
                line |= maybe(draw, "melted_share", said(Share, 0.0, 1.0))
            request[part] = line
    return request


def _within_ice(temperature: Any) -> bool:
    """Whether rounding between units has not warmed ice above 0 °C."""
    return not 0.0 < Temperature.read(temperature).value < 1e-9


@st.composite
def _vessel(draw: st.DrawFn, mass: float) -> Request:
    vessel: Request = {"material": draw(st.sampled_from(sorted(DATA.vessel_materials)))}
    vessel |= maybe(draw, "mass", said(PlainMass, mass * 0.02, mass * 0.5))
    vessel |= maybe(draw, "lid", st.booleans())
    vessel |= maybe(draw, "maximum_temperature", said(Temperature, 50.0, 120.0))
    vessel |= maybe(draw, "volume", said(Volume, mass / 1200, mass / 300))
    return vessel


@st.composite
def concentrations(draw: st.DrawFn) -> Request:
    """A solution by any form of its strength."""
    name = draw(st.sampled_from(["NaOH", "KOH"]))
    request: Request = {"alkali": name, "strength": draw(strengths(name, 0.005, STRONGEST[name] - 0.01))}
    return request | maybe(draw, "temperature", said(Temperature, 1.0, 99.0))


REALISTIC: Final[dict[str, st.SearchStrategy[Request]]] = {
    "batch-sheet": batch_sheets(),
    "batch-temperature": batches(),
    "concentration": concentrations(),
    "liquid-split": liquid_splits(),
    "paste-dilution": paste_dilutions(),
    "production-plan": production_plans(),
    "saponification": saponifications(),
    "soap-assay": soap_assays(),
    "stock-assay/titration": stock_titrations(),
    "stock-assay/evaporation": standing_stocks(),
    "stock-assay/hydrometer": readings(),
    "stock-adjustment": stock_adjustments(),
    "stock-cooling": stock_coolings(),
    "stock-dilution": stock_dilutions(),
    "stock-mixing": stock_mixings(),
    "stock-mixing/ice": ice_mixings(),
    "superfat-check": superfat_checks(),
    "stock-warming": stock_warmings(),
}
"""Realistic requests of each calculation."""
