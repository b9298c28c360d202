"""Plans as workshops ask for them: a few articles, orders with and without dates, tanks that are filled anew."""

from datetime import date, timedelta
from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import Density, Efficiency, MassAtHand, PlainMass, Power, Temperature, Volume
from tests.contract.quantities import maybe, said
from tests.contract.realistic_sheet import recipes

FIRST: Final = date(2031, 3, 3)

Request = dict[str, Any]


@st.composite
def production_plans(draw: st.DrawFn) -> Request:
    """Articles, their orders, and what they are made with."""
    skus = draw(st.lists(st.text(min_size=1, max_size=8), min_size=1, max_size=4, unique=True))
    stocked = draw(st.booleans())
    fats = draw(st.floats(1.0, 6.0))
    request: Request = {"recipes": {sku: draw(_article(fats, stocked=stocked)) for sku in skus}}
    orders = st.lists(_order(skus), min_size=1, max_size=8)
    request["orders"] = draw(orders)
    if stocked:
        request["stocks"] = [draw(_stock(fats))]
        request |= maybe(draw, "reserve", said(PlainMass, fats * 0.01, fats * 0.1))
    request |= maybe(draw, "first_day", st.just(FIRST.isoformat()))
    if draw(st.booleans()):
        request["on_hand"] = [{"sku": skus[0], "quantity": draw(st.integers(0, 50))}]
    if draw(st.booleans()):
        request["capacity"] = {"batches_per_day": draw(st.integers(1, 5))}
    if draw(st.booleans()):
        request["materials"] = [draw(_material(name)) for name in ("NaOH", "distilled-water", "clay")]
    if not draw(st.integers(0, 3)):
        heating = {"power": draw(said(Power, 500.0, 3000.0)), "fats_temperature": draw(said(Temperature, 40.0, 70.0))}
        request["heating"] = heating | maybe(draw, "efficiency", said(Efficiency, 0.5, 1.0))
    request |= maybe(draw, "scale_division", said(PlainMass, fats * 1e-4, fats * 1e-3))
    return request | maybe(draw, "reference", st.text(max_size=20))


@st.composite
def _article(draw: st.DrawFn, fats: float, *, stocked: bool) -> Request:
    article: Request = {"recipe": draw(recipes(("NaOH",), ("NaOH",) if stocked else ()))}
    article |= {"batch": {"fat_mass": draw(said(PlainMass, fats * 0.5, fats))}, "bars": draw(st.integers(5, 60))}
    article |= maybe(draw, "ready_after_days", st.integers(0, 42))
    return article | maybe(draw, "description", st.text(min_size=1, max_size=12))


@st.composite
def _order(draw: st.DrawFn, skus: list[str]) -> Request:
    order: Request = {"sku": draw(st.sampled_from(skus)), "quantity": draw(st.integers(1, 200))}
    days = st.integers(0, 90).map(lambda day: (FIRST + timedelta(days=day)).isoformat())
    return order | maybe(draw, "due", days)


@st.composite
def _stock(draw: st.DrawFn, fats: float) -> Request:
    stock: Request = {"alkali": "NaOH", "mass": draw(said(MassAtHand, 0.0, fats * 3.0))}
    stock["strength"] = {"mass_fraction": draw(st.sampled_from(["50 %", "48 %", 0.45]))}
    stock["temperature"] = draw(said(Temperature, 18.0, 25.0))
    stock["vessel"] = {"material": "hdpe", "lid": False, "volume": draw(said(Volume, fats * 4e-3))}
    stock["remixing"] = {"peak_limit": draw(said(Temperature, 55.0, 90.0)), "purity": "99 %"}
    return stock


@st.composite
def _material(draw: st.DrawFn, name: str) -> Request:
    line: Request = {"material": name} | maybe(draw, "mass", said(MassAtHand, 0.0, 20.0))
    line |= maybe(draw, "package_mass", said(PlainMass, 1.0, 25.0))
    line |= maybe(draw, "sku", st.text(min_size=1, max_size=8))
    if draw(st.booleans()):
        line |= {"unit": draw(st.sampled_from(["L", "mL", "gal"])), "density": draw(said(Density, 900.0, 1500.0))}
    elif draw(st.booleans()):
        line["unit"] = draw(st.sampled_from(["kg", "g", "lb", "oz"]))
    if draw(st.booleans()):
        line["price"] = {"amount": "4.20", "currency": "USD"}
    return line
