"""What must add up in a batch sheet."""

import math
from decimal import Decimal
from typing import Any

import pytest

from service.calculations.shared.given import PlainMass, Share

Request = dict[str, Any]
Answer = dict[str, Any]

ORDER = ("fats", "stock", "solid-alkali", "liquids-into-fats", "liquids-into-stock", "trace")


def batch_sheet(request: Request, answer: Answer) -> None:
    """Masses, the order of work, what a scale can show, what is left, and what dries off."""
    lines = answer["weigh_list"]
    steps = [ORDER.index(line["step"]) for line in lines]
    assert steps == sorted(steps)
    batter = answer["batter_mass"]["value"]
    assert batter == pytest.approx(math.fsum(line["mass"]["value"] for line in lines), rel=1e-9)
    fats = sum(1 for one in request["recipe"]["fats"] if one.get("share") is None or Share.read(one["share"]).value > 0)
    assert answer["fat_mass"]["value"] == pytest.approx(
        math.fsum(line["mass"]["value"] for line in lines[:fats]), rel=1e-9
    )
    division = request.get("scale_division")
    if division is not None:
        step = PlainMass.read(division).value * 1000
        for line in lines:
            shown, exact = line["mass"]["value"], line["exact_mass"]["value"]
            room = 1e-6 + 1e-11 * shown / step  # what floats keep of a mass in steps
            assert abs(shown - exact) < step * (1 + room)
            assert shown == exact or shown / step == pytest.approx(round(shown / step), abs=room)
    drawn = math.fsum(line["mass"]["value"] for line in lines if line["step"] == "stock")
    stocks = request.get("stocks") or []
    left = math.fsum(one["mass"]["value"] for one in answer["stocks_left"])
    if all(one.get("mass") is not None for one in stocks):
        before = math.fsum(PlainMass.read(one["mass"]).value for one in stocks) * 1000
        assert left + drawn == pytest.approx(before, rel=1e-9)
    _dried(request, answer, batter)


def _dried(request: Request, answer: Answer, batter: float) -> None:
    volume, density = answer["batter_volume"]["value"], answer["batter_density"]["value"]
    assert volume * density == pytest.approx(batter, rel=1e-9)
    water = answer["water_share"]["value"] * batter
    assert 0 < water < batter
    assert 0 <= answer["glycerol_mass"]["value"] < answer["fat_mass"]["value"]
    assert 0 <= answer["free_alkali_probability"]["value"] <= 1
    moisture = request.get("moisture_when_sold")
    assert ("cured_mass" in answer) == (moisture is not None)
    if moisture is not None:
        cured = answer["cured_mass"]["value"]
        assert cured * (1 - Share.read(moisture).value) == pytest.approx(batter - water, rel=1e-9)
        assert cured <= batter * (1 + 1e-9)
    bars = answer.get("bars")
    assert (bars is not None) == (request["scale_to"].get("bar_mass") is not None)
    if bars is not None:
        poured = bars["count"]["value"] * bars["mass"]["value"] + bars["left_over"]["value"]
        assert poured == pytest.approx(batter, rel=1e-9)
        assert bars["left_over"]["value"] <= bars["mass"]["value"]
    if "cost" in answer:
        _adds_up(answer)
    if "label" in answer:
        allergens = any(one.get("allergens") for one in request["recipe"].get("additions") or [])
        whole = math.fsum(one["share"]["value"] for one in answer["label"])
        pure = all(one.get("purity") is None for one in request["recipe"].get("alkalis") or [])
        assert whole >= 1 - 1e-6 if pure else whole <= 1 + 1e-6
        assert allergens or whole <= 1 + 1e-6
    for one in answer.get("use_limits") or []:
        within = one["share"]["value"] <= one["highest_share"]["value"] * (1 + 1e-6)
        assert one["within_limit"] <= within


def _adds_up(answer: Answer) -> None:
    """Lines make their total to the last digit, and what has no price is named."""
    found = answer["cost"]
    total = sum((Decimal(one["cost"]["amount"]) for one in found["lines"]), Decimal(0))
    assert total == Decimal(found["total"]["amount"])
    assert {one["cost"]["currency"] for one in found["lines"]} <= {found["total"]["currency"]}
    assert ("by_bar" in found) == (answer.get("bars", {}).get("count", {}).get("value", 0) > 0)
    priced = [one["material"] for one in found["lines"]]
    named = {one["material"] for one in answer["weigh_list"]}
    assert named == {*priced, *found["without_price"]}
