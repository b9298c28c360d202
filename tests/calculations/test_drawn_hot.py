"""Stock that is drawn hot, or that plain water makes hot: what is said of it agrees with how warm it gets."""

import re
from typing import Any

import pytest

from service.calculations.stock.stock_heat import CLOSE_TO_BOILING, FLASHES, HOT
from service.chemistry.dilution import dilute
from tests.calculations.asking import Answer, ask, cautions, message_of
from tests.calculations.splitting import KOH_STOCK, split

WATER = {"liquid": "distilled-water", "rest": True, "add_to": "stock"}


def _drawn(t: float, w: float = 0.5, water: float | None = None) -> Answer:
    """100 g of NaOH from a stock, and so much water poured into it [g]."""
    stock = {"alkali": "NaOH", "strength": {"mass_fraction": w}, "temperature": f"{t} °C"}
    if water is None:
        return split(stock=stock)
    mass = 100 / w - 100 + water
    return split(stock=stock, total_liquid={"mass": f"{mass} g"}, liquids=[WATER])


def _whole(celsius: float) -> str:
    return f"{round(celsius)} °C"


@pytest.mark.parametrize(
    ("t", "severity"),
    [(20, None), (38, None), (38.1, "caution"), (40, "caution"), (89.9, "caution"), (90, "danger"), (95, "danger")],
)
def test_hot_stock_is_to_cool_before_it_meets_the_fats(t: float, severity: str | None) -> None:
    """Stock of 29 to 38 °C is usual (common practice, no source), and at 3000 m water boils at 90 °C (from memory)."""
    assert (HOT, FLASHES) == (38, 90)
    found = cautions(_drawn(t)).get("stock-hot")
    assert (None if found is None else found["severity"]) == severity
    if found is not None:
        assert f"stock is at {_whole(t)}" in found["message"]
        assert f"cool to {_whole(HOT)}" in found["message"]
        assert ("throws caustic out" in found["message"]) is (severity == "danger")


@pytest.mark.parametrize(
    ("t", "w", "water"),
    [
        *((t, 0.5, water) for t in (20, 30, 60, 80, 88) for water in (20, 100, 300)),
        *((t, 0.3, water) for t in (20, 30, 37, 60) for water in (20, 300)),
    ],
)
def test_water_warms_a_stock_to_what_the_balance_of_heats_says(t: float, w: float, water: float) -> None:
    due = dilute("NaOH", (0.1 / w, w, t), (water / 1000, 20.0))
    found = cautions(_drawn(t, w, water))["water-warms-stock"]
    message = found["message"]
    assert found["severity"] == "caution"
    assert due.boiling_margin > CLOSE_TO_BOILING
    assert f"from {_whole(t)}" in message
    assert f"to about {_whole(due.temperature)}" in message
    passed = due.hottest > max(due.temperature, t) + 1
    assert ("on the way" in message) is passed
    if passed:
        assert f"{_whole(due.hottest)} ({round(1.8 * due.hottest + 32)} °F) on the way" in message
    assert (" warm the drawn" in message) is (due.temperature >= t)
    assert message.endswith("before it meets the fats.") is (due.temperature > HOT)


@pytest.mark.parametrize(("t", "grave"), [(89.9, False), (90, True), (95, True)])
def test_water_may_boil_at_once_in_stock_from_ninety_degrees_on(t: float, grave: bool) -> None:
    """However far the whole is from boiling: the first drop meets stock that is hotter than itself may get."""
    assert dilute("NaOH", (0.2, 0.5, t), (0.1, 20.0)).boiling_margin > CLOSE_TO_BOILING
    found = cautions(_drawn(t, 0.5, 100))["water-warms-stock"]
    assert (found["severity"] == "danger") is grave
    assert ("can boil at once" in found["message"]) is grave


def test_alkali_that_is_weighed_dry_hides_no_warm_stock() -> None:
    request: dict[str, Any] = {
        "alkalis": [{"alkali": "NaOH", "mass": "50 g"}, {"alkali": "KOH", "mass": "50 g"}],
        "stocks": [KOH_STOCK | {"temperature": "60 °C"}],
        "total_liquid": {"mass": "300 g"},
        "liquids": [WATER],
    }
    message = message_of(ask("liquid-split", request), "water-warms-stock")
    assert re.search(r"bring the drawn stock from 60 °C", message)


def test_a_stock_that_is_frozen_hides_no_warm_one() -> None:
    frozen = {"alkali": "NaOH", "strength": {"mass_fraction": "19 %"}, "temperature": "-29 °C"}
    request: dict[str, Any] = {
        "alkalis": [{"alkali": "NaOH", "mass": "5 g"}, {"alkali": "KOH", "mass": "50 g"}],
        "stocks": [frozen, KOH_STOCK | {"temperature": "60 °C"}],
        "total_liquid": {"mass": "300 g"},
        "liquids": [WATER],
    }
    told = cautions(ask("liquid-split", request))
    assert "crystals-in-solution" in told
    assert "bring the drawn stock from 60 °C" in told["water-warms-stock"]["message"]


def test_without_plain_water_no_stock_is_warmed() -> None:
    assert "water-warms-stock" not in cautions(_drawn(60))


@pytest.mark.parametrize(
    ("t", "severity"),
    [
        *((t, None) for t in ("38 °C", "100.4 °F", "311.15 K", {"value": 38.00000000000001, "unit": "°C"})),
        *((t, "danger") for t in ("90 °C", "194 °F", "363.15 K", {"value": 89.99999999999999, "unit": "°C"})),
    ],
)
def test_what_stands_on_a_threshold_is_the_same_in_every_unit(t: object, severity: str | None) -> None:
    stock = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "temperature": t}
    told = cautions(split(stock=stock, total_liquid={"mass": "200 g"}, liquids=[WATER]))
    assert (told["stock-hot"]["severity"] if "stock-hot" in told else None) == severity
    assert (told["water-warms-stock"]["severity"] == "danger") is (severity == "danger")
