"""Recipes as workshops have them, by shares or by masses, and batches of every size that they are scaled to."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import (
    LiquidRatio,
    MeasuredTemperature,
    PlainMass,
    Proportion,
    Share,
    Superfat,
    Temperature,
    Volume,
)
from service.calculations.shared.messages import AlkaliName
from service.reference import reference_data
from service.reference.label_names import LABEL_NAMES
from tests.contract.quantities import maybe, said
from tests.contract.realistic_fats import fat_lines, weights
from tests.contract.realistic_strengths import STRONGEST, strengths

DATA: Final = reference_data()
WATERY: Final = sorted(name for name, one in DATA.liquids.items() if one.water.middle > 0.7)
ALKALIS: Final[tuple[tuple[AlkaliName, ...], ...]] = (("NaOH",), ("NaOH",), ("NaOH",), ("KOH",), ("NaOH", "KOH"))
LAWS: Final = ("eu-as-added", "us-as-added", "eu-as-present", "us-as-present")

Request = dict[str, Any]


@st.composite
def recipes(draw: st.DrawFn, alkalis: tuple[AlkaliName, ...], drawn: tuple[AlkaliName, ...]) -> Request:
    """A recipe of some alkalis, of which some are drawn from stock."""
    written = draw(st.floats(0.5, 5.0))
    lines = draw(fat_lines(written))
    by_mass = draw(st.booleans())
    fats = [dict(line.request) for line in lines]
    for one, line in zip(fats, lines, strict=True):
        del one["mass"]
        one["mass" if by_mass else "share"] = f"{line.mass!r} kg" if by_mass else line.mass / written
    request: Request = {"fats": fats} | maybe(draw, "name", st.text(min_size=1, max_size=12))
    request |= maybe(draw, "superfat", said(Superfat, 0.02, 0.12))
    if alkalis != ("NaOH",) or draw(st.booleans()):
        shares = draw(weights(len(alkalis)))
        request["alkalis"] = [
            {"alkali": name, "mole_share": share} for name, share in zip(alkalis, shares, strict=True)
        ]
        for one in request["alkalis"]:
            if one["alkali"] == "KOH" and "KOH" not in drawn:
                one["purity"] = "90 %"
    if draw(st.integers(0, 4)):
        way = draw(st.sampled_from(["water_ratio", "liquid_to_fat_ratio"]))
        ratio = said(LiquidRatio, 2.6, 3.5) if way == "water_ratio" else said(Proportion, 0.55, 0.8)
        request["total_liquid"] = {way: draw(ratio)}
        request |= maybe(draw, "liquids", _liquids())
    request |= maybe(draw, "count_liquids_as", st.sampled_from(["whole", "water_content"]))
    request |= maybe(draw, "compensate", st.booleans())
    if not draw(st.integers(0, 2)):
        acid = draw(st.sampled_from(sorted(DATA.acids)))
        request["acids"] = [{"acid": acid} | _amount(draw, 0.001, 0.01, written if by_mass else None)]
    if draw(st.booleans()):
        names = draw(st.lists(st.sampled_from(["clay", "scent", "salt", "oats"]), min_size=1, max_size=3, unique=True))
        request["additions"] = [draw(_addition(name, written if by_mass else None)) for name in names]
    return request


def _amount(draw: st.DrawFn, low: float, high: float, written: float | None) -> Request:
    """A use level, or a mass where the fats have masses."""
    if written is not None and draw(st.booleans()):
        return {"mass": draw(said(PlainMass, low * written, high * written))}
    return {"use_level": draw(said(Proportion, low, high))}


@st.composite
def _liquids(draw: st.DrawFn) -> list[Request]:
    """Liquids that take all that is left beside the stock."""
    names = draw(st.lists(st.sampled_from(WATERY), min_size=1, max_size=3, unique=True))
    lines: list[Request] = [{"liquid": name} for name in names]
    for line in lines[:-1]:
        line["use_level"] = draw(said(Proportion, 0.01, 0.05))
    lines[-1]["rest"] = True
    for line in lines:
        if DATA.liquids[line["liquid"]].water.middle > 0.998:
            line.update(maybe(draw, "add_to", st.sampled_from(["fats", "stock"])))
        line.update(maybe(draw, "temperature", said(MeasuredTemperature, 5.0, 40.0)))
    return lines


@st.composite
def _addition(draw: st.DrawFn, name: str, written: float | None) -> Request:
    line: Request = {"material": name, "kind": "fragrance" if name == "scent" else "other"}
    line |= _amount(draw, 0.002, 0.04, written)
    line |= maybe(draw, "goes_into", st.sampled_from(["fats", "trace"]))
    line |= maybe(draw, "water_share", said(Share, 0.0, 0.5))
    return line | maybe(draw, "highest_share", said(Share, 0.005, 0.1))


@st.composite
def batch_sheets(draw: st.DrawFn) -> Request:
    """A recipe, stocks that are enough for it, and a size."""
    alkalis = draw(st.sampled_from(ALKALIS))
    drawn = alkalis if draw(st.integers(0, 3)) else alkalis[:-1]
    fats = draw(st.floats(0.3, 30.0))
    stocks = [draw(_stock(name, fats)) for name in drawn]
    request: Request = {"recipe": draw(recipes(alkalis, drawn))}
    if stocks:
        request["stocks"] = stocks
    request["scale_to"] = draw(_scale(fats, drawn))
    if not draw(st.integers(0, 2)):
        request["scale_division"] = draw(said(PlainMass, fats * 1e-4, fats * 1e-3))
    way = (
        draw(st.sampled_from(["", "", "wanted_temperature", "fats_temperature"]))
        if len(alkalis) == len(drawn) == 1
        else ""
    )
    if way == "wanted_temperature":
        request[way] = draw(said(Temperature, 30.0, 45.0))
    elif way:
        request[way] = draw(said(MeasuredTemperature, 30.0, 60.0))
    if draw(st.booleans()):
        request["prices"] = draw(_prices(request["recipe"], drawn))
    request |= maybe(draw, "moisture_when_sold", said(Share, 0.02, 0.09))
    if draw(st.booleans()):
        request["label_law"] = draw(st.sampled_from(LAWS[: 4 if "moisture_when_sold" in request else 2]))
        _name(request["recipe"])
    return request | maybe(draw, "reference", st.text(max_size=20))


@st.composite
def _prices(draw: st.DrawFn, recipe: Request, drawn: tuple[AlkaliName, ...]) -> list[Request]:
    """Prices of some of the materials, all in one currency."""
    names = [one.get("fat") or one["name"] for one in recipe["fats"]] + [f"{name}-stock" for name in drawn]
    names += [one["material"] for one in recipe.get("additions", [])]
    picked = draw(st.lists(st.sampled_from(names), min_size=1, max_size=4, unique=True))
    currency = draw(st.sampled_from(["EUR", "USD", "JPY", "KWD"]))
    amounts = st.decimals("0.01", "99999", places=2, allow_nan=False).map(str)
    prices = [{"amount": draw(amounts), "currency": currency} for _ in picked]
    for one in prices:
        one.update(maybe(draw, "per", said(PlainMass, 0.1, 25.0)))
    return [{"material": name, "price": price} for name, price in zip(picked, prices, strict=True)]


def _name(recipe: Request) -> None:
    """Give all that the catalogue has no names for a name."""
    for one in recipe["fats"]:
        named = LABEL_NAMES.get(one.get("fat", ""))
        if named is None or not named.sodium_salt or not named.potassium_salt:
            one.update(inci_name="Own Fat", soap_inci_name="Soap of Own Fat")
    for one in recipe.get("liquids", []):
        if one["liquid"] not in LABEL_NAMES:
            one["inci_name"] = f"Liquid of {one['liquid']}"
    for one in recipe.get("additions", []):
        if one["kind"] != "fragrance":
            one["inci_name"] = one["material"].capitalize()


@st.composite
def _stock(draw: st.DrawFn, name: AlkaliName, fats: float) -> Request:
    line: Request = {"alkali": name, "strength": draw(strengths(name, 0.4, STRONGEST[name] - 0.02))}
    line["mass"] = draw(said(PlainMass, fats * 3.0, fats * 30.0))
    return line | maybe(draw, "temperature", said(Temperature, 18.0, 35.0))


@st.composite
def _scale(draw: st.DrawFn, fats: float, drawn: tuple[AlkaliName, ...]) -> Request:
    """A size that comes to about a mass of fats."""
    ways = ["fat_mass", "batter_mass", "mould_volume", "bars"] + (["stock_draw"] if drawn else [])
    way = draw(st.sampled_from(ways))
    if way == "bars":
        count = draw(st.integers(3, 60))
        return {"bars": count, "bar_mass": draw(said(PlainMass, fats * 1.4 / count))}
    if way == "mould_volume":
        scale: Request = {way: draw(said(Volume, fats * 1.5e-3))}
    elif way == "stock_draw":
        scale = {way: draw(said(PlainMass, fats * 0.1)), "alkali": drawn[0]}
    else:
        scale = {way: draw(said(PlainMass, fats))}
    return scale | maybe(draw, "bar_mass", said(PlainMass, 0.08, 0.15))
