"""What must add up in a production plan."""

import math
from decimal import Decimal
from typing import Any

import pytest

from service.calculations.shared.given import MassAtHand

Request = dict[str, Any]
Answer = dict[str, Any]


def production_plan(request: Request, answer: Answer) -> None:
    """Bars, stock, materials and money; days and dates in order."""
    batches = answer["batches"]
    assert [one["number"]["value"] for one in batches] == list(range(1, len(batches) + 1))
    days = [one["work_day"]["value"] for one in batches]
    assert days == sorted(days)
    per_day = (request.get("capacity") or {}).get("batches_per_day")
    assert per_day is None or all(days.count(day) <= per_day for day in set(days))
    _bars(request, answer)
    _stock(request, answer)
    for one in answer["materials"]:
        short = max(0.0, one["required"]["value"] - one["on_hand"]["value"])
        assert one["short"]["value"] == pytest.approx(short, rel=1e-6, abs=1e-6)
        assert one["purchase"]["value"] >= one["short"]["value"] * (1 - 1e-8)
        assert one["needed_for"]
    assert [one["material"] for one in answer["shortages"]] == [
        one["material"] for one in answer["materials"] if one["short"]["value"] > 0
    ]
    assert answer["material_lines"].startswith("sku,description,quantity,unit_code,needed_for\r\n")
    if "cost" in answer:
        total = sum((Decimal(one["cost"]["amount"]) for one in answer["cost"]["by_sku"]), Decimal(0))
        assert total == Decimal(answer["cost"]["total"]["amount"])


def _bars(request: Request, answer: Answer) -> None:
    """What is made is what is ordered, less what is on the shelf, plus what is over; with soaps that go into others
    it is at least that."""
    parts = any(
        addition.get("sku") for one in request["recipes"].values() for addition in one["recipe"].get("additions") or []
    )
    surplus = {one["sku"]: one["quantity"]["value"] for one in answer["surplus"]}
    shelf = {one["sku"]: one["quantity"] for one in request.get("on_hand") or []}
    for sku, recipe in request["recipes"].items():
        ordered = sum(one["quantity"] for one in request["orders"] if one["sku"] == sku)
        made = sum(one["bars"]["value"] for one in answer["batches"] if one["sku"] == sku)
        over = surplus.get(sku, 0)
        assert 0 <= over < recipe["bars"]
        due = max(0, ordered - shelf.get(sku, 0)) + over
        assert made >= due if parts else made == due


def _stock(request: Request, answer: Answer) -> None:
    """Each tank: what was there and what was mixed, less what was drawn, is what is left."""
    for place, stock in enumerate(request.get("stocks") or []):
        mass = MassAtHand.read(stock["mass"]).value * 1000
        mixings = {one["before_batch"]["value"]: one for one in answer["mixings"] if one["stock"]["value"] == place}
        last = 1.0
        for batch in answer["batches"]:
            for draw in batch["stock_draws"]:
                if draw["stock"]["value"] != place:
                    continue
                if batch["number"]["value"] in mixings:
                    mixing = mixings.pop(batch["number"]["value"])
                    assert mixing["stock_before"]["value"] == pytest.approx(mass, rel=1e-9, abs=1e-6)
                    mass = mixing["mass"]["value"]
                    assert last <= mixing["mix_on"]["value"] < batch["work_day"]["value"]
                last = batch["work_day"]["value"]
                mass -= draw["mass"]["value"]
                assert draw["stock_left"]["value"] == pytest.approx(mass, rel=1e-7, abs=1e-5)
        assert not mixings
    assert math.isfinite(len(answer["mixings"]))
