"""What must add up in an answer, by calculation: masses, amounts, shares; and what lies within its bounds."""

import math
from collections.abc import Callable
from typing import Any, Final

import pytest

from service.calculations.shared.given import Mass, Purity
from service.chemistry import molar_masses
from tests.contract.balances_cooling import stock_cooling
from tests.contract.balances_of_batch import batch_temperature
from tests.contract.balances_of_dilution import stock_adjustment, stock_dilution
from tests.contract.balances_of_hydrometers import hydrometer_reading
from tests.contract.balances_of_ice import ice_mixing
from tests.contract.balances_of_paste import paste_dilution
from tests.contract.balances_of_plans import production_plan
from tests.contract.balances_of_sheets import batch_sheet
from tests.contract.balances_of_standing import standing_stock
from tests.contract.balances_of_superfat import superfat_check
from tests.contract.balances_of_titrations import soap_assay, stock_titration
from tests.contract.balances_warming import stock_warming
from tests.contract.figures import Figure, figures

ROUNDING: Final = 1e-9
"""Relative rounding of sums."""

Request = dict[str, Any]
Answer = dict[str, Any]


def grams(said: Any) -> float:
    """A mass of a request [g]."""
    return Mass.read(said).value * 1000


def total(lines: Any, member: str) -> float:
    """Sum of a figure over lines of an answer."""
    return math.fsum(one[member]["value"] for one in lines)


def same(value: float, due: float, what: str, of: float | None = None) -> None:
    """Hold that two ways to reckon give the same, but for rounding."""
    room = ROUNDING * max(abs(due), of or 0.0)
    assert value == pytest.approx(due, rel=0, abs=room), f"{what}: {value!r}, and {due!r} is due"


def _saponification(request: Request, answer: Answer) -> None:
    alkali = total(answer["alkalis"], "mass")
    lines = answer["contributions"]
    same(total(lines, "alkali_mass") + answer["acid_demand"]["value"], alkali, "alkali of fats and acids")
    same(total(lines, "mass"), math.fsum(grams(fat["mass"]) for fat in request["fats"]), "mass of the fats")
    assert len(lines) == len(request["fats"])
    acids = answer["fatty_acids"]
    if acids:
        same(math.fsum(one["value"] for one in acids.values()), 1.0, "shares of the fatty acids")
    for one in answer["alkalis"]:
        supplied = one.get("mass_as_supplied")
        assert supplied is None or supplied["value"] >= one["mass"]["value"] * (1 - ROUNDING)
    assert 0 <= answer["free_alkali_probability"]["value"] <= 1
    assert 0 <= answer["glycerol_mass"]["value"] < total(lines, "mass")


def _liquid_split(request: Request, answer: Answer) -> None:
    draws, dry, added = answer["stock_draws"], answer["weigh_dry"], answer["additions"]
    for draw in draws:
        same(draw["alkali_mass"]["value"] + draw["water_mass"]["value"], draw["mass"]["value"], "stock drawn")
    same(total(added, "mass"), answer["added_liquid_mass"]["value"], "liquid added")
    for one in added:
        parts = one["water_mass"]["value"] + one["fat_mass"]["value"]
        assert 0 <= parts <= one["mass"]["value"] * (1 + ROUNDING), "a liquid holds more than itself"
    own = total(draws, "water_mass") + total(dry, "water_mass")
    alkali = total(draws, "alkali_mass") + total(dry, "mass")
    water = own + total(added, "water_mass")
    same(answer["actual_water_ratio"]["value"] * alkali, water, "water per alkali")
    counted = total(added, "water_mass" if request.get("count_liquids_as") == "water_content" else "mass")
    same(answer["water_ratio"]["value"] * alkali, own + counted, "liquid per alkali")
    same(total(added, "acid_demand"), answer["acid_demand"]["value"], "acid of the liquids")
    asked = math.fsum(grams(line["mass"]) for line in request["alkalis"])
    if request.get("compensate"):
        assert alkali >= asked * (1 - ROUNDING), "less alkali than asked for"
    else:
        same(alkali, asked, "alkali drawn and weighed")


def _stock_mixing(request: Request, answer: Answer) -> None:
    solid = grams(request["solid"]["mass_as_supplied"])
    parts = [solid] + [grams(request[name]["mass"]) for name in ("water", "ice") if request.get(name)]
    finished, steam = answer["mass"]["value"], answer["water_boiled_off"]["value"]
    whole = finished + steam
    stock = request.get("existing_stock") or {}
    if stock.get("mass") is not None:
        parts.append(grams(stock["mass"]))
    if stock.get("volume") is None:
        same(whole, math.fsum(parts), "finished stock and steam")
    else:
        assert whole > math.fsum(parts) * (1 - ROUNDING)
    assert 0 <= steam < whole
    w = answer["strength"]["mass_fraction"]["value"]
    if not stock:
        said = request["solid"].get("purity")
        purity = 1.0 if said is None else Purity.read(said).value
        same(w * finished, solid * purity, "hydroxide of the finished stock")
    shares = [point["solid_added_share"]["value"] for point in answer["path"]]
    assert shares == sorted(shares)
    same(shares[-1], 1.0, "share of the solid at the end")
    for point in answer["path"]:
        assert point.get("ice_mass", {"value": 0.0})["value"] >= 0


def _concentration(request: Request, answer: Answer) -> None:
    w = answer["mass_fraction"]["value"]
    density = answer["density"]["value"] * 1000  # g/L
    molar_mass = molar_masses.ALKALI[request["alkali"]] * 1000
    same(answer["mass_concentration"]["value"], w * density, "hydroxide per volume", of=density)
    same(answer["molarity"]["value"] * molar_mass, w * density, "amount per volume", of=density)
    same(answer["molality"]["value"] * molar_mass * (1 - w), 1000 * w, "amount per water", of=1000)
    if "water_ratio" in answer:
        same(answer["water_ratio"]["value"] * w, 1 - w, "water per hydroxide")
    gravity = answer["specific_gravity"]["value"]
    same(answer["degrees_twaddell"]["value"], 200 * (gravity - 1), "degrees Twaddell", of=200)
    modulus = answer["baume_modulus"]
    same(answer["degrees_baume"]["value"], modulus - modulus / gravity, "degrees Baumé", of=modulus)
    amount, water = w / molar_mass, (1 - w) / (molar_masses.WATER * 1000)
    same(answer["mole_fraction"]["value"], amount / (amount + water), "share of moles", of=1)


BALANCES: Final[dict[str, Callable[[Request, Answer], None]]] = {
    "batch-sheet": batch_sheet,
    "production-plan": production_plan,
    "batch-temperature": batch_temperature,
    "concentration": _concentration,
    "liquid-split": _liquid_split,
    "paste-dilution": paste_dilution,
    "saponification": _saponification,
    "soap-assay": soap_assay,
    "stock-assay/titration": stock_titration,
    "stock-assay/evaporation": standing_stock,
    "stock-assay/hydrometer": hydrometer_reading,
    "stock-adjustment": stock_adjustment,
    "stock-cooling": stock_cooling,
    "stock-dilution": stock_dilution,
    "stock-mixing": _stock_mixing,
    "stock-mixing/ice": ice_mixing,
    "superfat-check": superfat_check,
    "stock-warming": stock_warming,
}
"""What must add up, by calculation."""


def within_bounds(answer: Answer) -> None:
    """Hold that every number is finite, every interval holds its value, and nothing is less than nothing."""
    places = dict(figures(answer))
    for path, figure in places.items():
        if not isinstance(figure, Figure):
            continue
        at = "/" + "/".join(map(str, path))
        assert math.isfinite(figure.value), f"{at} is not finite"
        if path[-1] == "value" and (*path[:-1], "low") in places:
            low, high = places[*path[:-1], "low"].value, places[*path[:-1], "high"].value
            assert low <= figure.value <= high, f"{at}: {figure.value!r} is not within {low!r} to {high!r}"
        if {"volume_change", "water_change"} & set(path):
            continue  # less than nothing where a volume contracts, or water dries off
        if figure.unit in {"g", "mL", "kg/L", "Pa", "mPa s", "mol/L", "mol/kg", "g/L", "mg/g", "g/100g"}:
            assert figure.value >= 0, f"{at} is less than nothing"
        if "fraction" in str(path) or "fatty_acids" in path or "solid_added_share" in path:
            assert 0 <= figure.value <= 1, f"{at} is no part of a whole"
