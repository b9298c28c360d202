"""What steam leaves open of a mixing that can boil: its mass, its strength, and the water that is gone."""

from typing import Any

import pytest

from tests.calculations.asking import Answer, ask

FLAKES: dict[str, Any] = {"alkali": "KOH", "mass_as_supplied": "5 kg", "purity": "90 %"}
"""Of which nothing is said about the water in them."""
HOT: dict[str, Any] = {"mass": "5 kg", "temperature": "60 °C"}
BEADS: dict[str, Any] = {"alkali": "NaOH", "mass_as_supplied": "5 kg"}


def mixed(solid: dict[str, Any], **more: object) -> Answer:
    return ask("stock-mixing", {"solid": solid, "water": HOT} | more)


def within(value: float, told: Answer) -> bool:
    return bool(told["low"] <= value <= told["high"])


@pytest.mark.parametrize("moisture", ["6.5 %", "8 %", "10 %"])
def test_whatever_water_flakes_hold_the_stock_is_as_strong_and_as_heavy_as_told(moisture: str) -> None:
    told, true = mixed(FLAKES), mixed(FLAKES | {"moisture": moisture})
    assert true["boils"]
    assert within(true["strength"]["mass_fraction"]["value"], told["strength"]["mass_fraction"])
    assert within(true["mass"]["value"], told["mass"])
    assert within(true["water_boiled_off"]["value"], told["water_boiled_off"])


@pytest.mark.parametrize("purity", ["97 %", "98 %", "99 %"])
def test_however_pure_beads_are_the_stock_is_as_strong_and_as_heavy_as_told(purity: str) -> None:
    told = mixed(BEADS | {"purity": {"low": 96.9, "high": 99.1, "unit": "%"}})
    true = mixed(BEADS | {"purity": purity})
    assert within(true["strength"]["mass_fraction"]["value"], told["strength"]["mass_fraction"])
    assert within(true["mass"]["value"], told["mass"])
    assert within(true["water_boiled_off"]["value"], told["water_boiled_off"])


@pytest.mark.parametrize("solid", [FLAKES, BEADS])
def test_what_is_left_and_what_is_gone_are_what_was_put_in(solid: dict[str, Any]) -> None:
    told = mixed(solid)
    assert told["mass"]["low"] + told["water_boiled_off"]["high"] == pytest.approx(10_000.0)
    assert told["mass"]["high"] + told["water_boiled_off"]["low"] == pytest.approx(10_000.0)
    assert told["water_boiled_off"]["low"] < told["water_boiled_off"]["value"] < told["water_boiled_off"]["high"]


def test_the_ends_of_a_pure_solid_are_those_of_the_hydroxide_over_what_is_left() -> None:
    told = mixed(BEADS | {"purity": "100 %"})
    for end, other in (("low", "high"), ("high", "low")):
        assert told["strength"]["mass_fraction"][end] == pytest.approx(5000.0 / told["mass"][other])


def test_a_mixing_that_boils_only_with_the_heats_at_their_highest_may_lose_steam_and_may_lose_none() -> None:
    """Between a water that boils by the data as they are and one that boils at no end, there is one of either kind."""
    seen = set()
    for t in range(20, 62, 3):
        told = mixed(BEADS, water=HOT | {"temperature": f"{t} °C"})
        steam = told["water_boiled_off"]
        seen.add((steam["value"] > 0.0, steam.get("high", 0.0) > 0.0))
        if not steam["value"]:
            assert steam.get("low", 0.0) == 0.0
    assert seen == {(False, False), (False, True), (True, True)}


def test_no_steam_leaves_the_mass_exact_and_the_strength_to_the_purity() -> None:
    told = mixed(BEADS | {"purity": {"low": 97, "high": 99, "unit": "%"}}, water=HOT | {"temperature": "15 °C"})
    assert told["mass"] == {"value": 10_000.0, "unit": "g"}
    assert told["water_boiled_off"] == {"value": 0.0, "unit": "g"}
    low, high = (told["strength"]["mass_fraction"][end] for end in ("low", "high"))
    assert 0.49 - low == pytest.approx(high - 0.49) == pytest.approx(0.95 * 0.005)  # 95 % of the rectangle's width


def test_a_stock_told_by_volume_leaves_the_mass_open_as_its_density_does() -> None:
    """1.5253 g/mL for 50 % NaOH at 20 °C: International Critical Tables 3 (1928) 79, from memory."""
    there: dict[str, Any] = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}
    solid = BEADS | {"purity": "100 %", "mass_as_supplied": "100 g"}
    water = {"mass": "1 kg", "temperature": "20 °C"}
    told = mixed(solid, existing_stock=there | {"volume": "1 L"}, water=water)["mass"]
    assert told["low"] < told["value"] < told["high"]
    assert within(1525.3 + 1100.0, told)
    weighed = mixed(solid, existing_stock=there | {"mass": "1525.3 g"}, water=water)["mass"]
    assert weighed == {"value": pytest.approx(1525.3 + 1100.0), "unit": "g"}
