"""A mixing with ice: its intervals by their ends, what is too much for the limit, its portions, words and steps."""

import re
from typing import Any

import pytest

from tests.calculations.asking import ask, assumed, cautions, fault, message_of
from tests.calculations.quantities import half_of_width

NAME = "stock-mixing/ice"
ROOM_TEMPERATURE: dict[str, Any] = {"temperature": "20 °C"}


def wanted(w: str = "50 %", limit: str = "70 °C", **more: Any) -> dict[str, Any]:
    solid = {"alkali": "NaOH", "purity": "100 %"} | more.pop("solid", {})
    return {"solid": solid, "strength": {"mass_fraction": w}, "peak_limit": limit} | more


def plain(figure: dict[str, Any]) -> dict[str, Any]:
    return {"value": figure["value"], "unit": figure["unit"]}


def heel(strength: Any, **more: Any) -> dict[str, Any]:
    return {"alkali": "NaOH", "strength": {"mass_fraction": strength}} | ROOM_TEMPERATURE | more


SPREAD = {"low": 28, "high": 32, "unit": "%"}
ENDS = ("28.1 %", "31.9 %")
"""95 % of a rectangle lie within 0.95 of its half-width."""


@pytest.mark.parametrize("more", [{"solution_mass": "20 kg"}, {"solid": {"mass_as_supplied": "6 kg"}}])
@pytest.mark.parametrize("amount", [{"mass": "4 kg"}, {"volume": "3 L"}])
def test_amounts_are_as_wide_as_the_ends_of_an_uncertain_stock_make_them(
    more: dict[str, Any], amount: dict[str, str]
) -> None:
    """A stock told by volume is heavier where it is stronger, and beside that by as much as its density is open."""
    close = 0.02 if "mass" in amount else 0.05
    told = ask(NAME, wanted("45 %", existing_stock=heel(SPREAD, **amount), **more))
    weak, strong = (ask(NAME, wanted("45 %", existing_stock=heel(w, **amount), **more)) for w in ENDS)
    for name in ("mass_as_supplied", "mass"):
        apart = abs(strong[name]["value"] - weak[name]["value"]) / 2
        if apart > 1e-6:
            assert half_of_width(told[name]) == pytest.approx(apart, rel=close)
        else:
            assert "low" not in told[name]
    poured = [one["water_mass"]["value"] + one["ice_mass"]["value"] for one in (weak, strong)]
    assert half_of_width(told["water_mass"]) == pytest.approx(abs(poured[1] - poured[0]) / 2, rel=close)


def test_what_was_mixed_so_before_weighs_the_same_whatever_the_purity() -> None:
    """Solid and water are weighed as they were then, so that nothing is open of what they come to."""
    solid = {"mass_as_supplied": "2 kg", "purity": {"low": 96.0, "high": 100.0, "unit": "%"}}
    mixed_of = {"as_mixed": {"mass_as_supplied": "2 kg", "water_mass": "3 kg"}}
    answer = ask(NAME, wanted(solid=solid) | {"strength": mixed_of})
    assert answer["mass"]["value"] == pytest.approx(5000)
    assert "low" not in answer["mass"]


def test_the_least_ice_counts_the_ends_of_an_uncertain_stock() -> None:
    """The spread of the stock widens the ice, by no more than both its ends do together with the heats."""
    wide = {"low": 24, "high": 36, "unit": "%"}
    asked = wanted("45 %", solution_mass="20 kg", existing_stock=heel(wide, mass="8 kg"))
    open_ = ask(NAME, asked)["ice_mass"]
    exact = ask(NAME, asked | {"existing_stock": heel("30 %", mass="8 kg")})["ice_mass"]
    assert exact["low"] < exact["value"] < open_["value"]
    assert 0 < open_["low"] < exact["low"]
    assert exact["low"] - open_["low"] < open_["value"] - open_["low"]


@pytest.mark.parametrize("scale", [1e-3, 1e3])
def test_ice_water_and_portions_go_with_the_size_of_the_mixing(scale: float) -> None:
    for limit in ("70 °C", "32 °C"):
        one = ask(NAME, wanted(limit=limit, solution_mass="10 kg"))
        other = ask(NAME, wanted(limit=limit, solution_mass=f"{10 * scale!r} kg"))
        for name in ("ice_mass", "water_mass"):
            assert other[name].keys() == one[name].keys()
            for end in one[name].keys() - {"unit"}:
                assert other[name][end] == pytest.approx(scale * one[name][end], rel=1e-6, abs=1e-9)
        assert (other.get("stages") is None) == (limit == "70 °C")
        for small, large in zip(one.get("stages", []), other.get("stages", []), strict=True):
            mass = small["mass_as_supplied"]["value"]
            assert large["mass_as_supplied"]["value"] == pytest.approx(scale * mass, rel=1e-4)


def test_heat_to_remove_is_what_colder_ice_takes_off() -> None:
    """Heat capacity of ice 2.09 kJ/(kg K) at -5 °C (W. Wagner and A. Pruß, J. Phys. Chem. Ref. Data 31 (2002) 387)."""
    asked = wanted(limit="46 °C", solution_mass="10 kg")
    heat = ask(NAME, asked)["heat_to_remove"]
    assert heat["unit"] == "kJ"
    cold = heat["value"] / (5.0 * 2.09)
    assert 2 < cold < 25
    for share, enough in ((0.93, False), (1.07, True)):
        assert ask(NAME, asked | {"ice": {"temperature": f"{-share * cold!r} °C"}})["reachable"] is enough


@pytest.mark.parametrize("drop", [{"mass": "1 g"}, {"mass": "1 g", "state": "ice", "temperature": "0 °C"}])
def test_a_drop_that_was_there_changes_no_heat_to_remove(drop: dict[str, Any]) -> None:
    asked = wanted(limit="40 °C", solution_mass="10 kg")
    one = ask(NAME, asked)["heat_to_remove"]["value"]
    other = ask(NAME, asked | {"existing_stock": heel(0, **drop)})["heat_to_remove"]["value"]
    assert other == pytest.approx(one, rel=2e-3)


def test_water_that_was_there_is_not_ice_and_its_heat_is_to_be_removed_too() -> None:
    """A kilogram of it at 20 °C holds the heat of melting and of 20 K more than ice: 333.4 + 20 * 4.19 kJ."""
    asked = wanted(limit="40 °C", solution_mass="10 kg")
    one = ask(NAME, asked)["heat_to_remove"]["value"]
    other = ask(NAME, asked | {"existing_stock": heel(0, mass="1 kg")})["heat_to_remove"]["value"]
    assert other - one == pytest.approx(333.4 + 20 * 4.19, rel=0.01)


@pytest.mark.parametrize(("limit", "ambient"), [("32 °C", "20 °C"), ("40 °C", "0 °C"), ("25 °C", "0 °C")])
def test_every_portion_keeps_the_limit_and_waits_for_no_crystals(limit: str, ambient: str) -> None:
    """By the masses that are in by then; the last may stay below, all others just reach it."""
    answer = ask(NAME, wanted(limit=limit, solution_mass="10 kg", ambient=ambient))
    stages = answer["stages"]
    assert len(stages) > 1
    held = stages[0]["mass_as_supplied"]["value"]
    for number, one in enumerate(stages[1:], start=2):
        stock = {
            "alkali": "NaOH",
            "mass": f"{held + 5000!r} g",
            "strength": {"mass_fraction": held / (held + 5000)},
            "temperature": plain(one["wait_until_temperature"]),
        }
        solid = {"alkali": "NaOH", "purity": "100 %", "mass_as_supplied": plain(one["mass_as_supplied"])}
        told = ask("stock-mixing", {"solid": solid, "existing_stock": stock, "ambient": ambient})
        high, held_to = told["peak_temperature"]["high"], float(limit.split(maxsplit=1)[0])
        assert high <= held_to + 0.05
        if number < len(stages):
            assert high == pytest.approx(held_to, abs=0.1)
        assert not any("existing stock" in one["message"] and "crystals" in one["code"] for one in told["cautions"])
        held += one["mass_as_supplied"]["value"]


def test_the_words_tell_the_portions_and_the_last_waiting() -> None:
    answer = ask(NAME, wanted(limit="25 °C", solution_mass="10 kg", ambient="0 °C"))
    told = message_of(answer, "ice-too-little")
    found = re.search(r"mix in (\d+) portions, with waiting to (-?\d+) °C", told)
    assert found is not None
    waits = [one["wait_until_temperature"]["value"] for one in answer["stages"][1:]]
    assert max(waits) - min(waits) > 1
    assert int(found[1]) == len(answer["stages"])
    assert float(found[2]) == pytest.approx(waits[-1], abs=0.51)


HOT: dict[str, Any] = {"water_temperature": "90 °C", "solid": {"temperature": "60 °C"}}


def test_ice_for_boiling_is_told_however_little_it_is_and_not_where_there_is_none() -> None:
    little = ask(NAME, wanted(limit="149 °C", solution_mass="10 g", **HOT))
    assert 0 < little["ice_mass"]["value"] < 10
    assert "limit-above-boiling" in cautions(little)
    none = ask(NAME, wanted("30 %", "149 °C", solution_mass="10 kg", water_temperature="5 °C"))
    assert none["ice_mass"] == {"value": 0.0, "unit": "g"}
    assert "limit-above-boiling" not in cautions(none)


def test_the_distance_that_is_kept_to_boiling_is_the_margin_that_is_told() -> None:
    """A kelvin below the lower end of the boiling point."""
    answer = ask(NAME, wanted(limit="149 °C", solution_mass="10 kg", **HOT))
    assert answer["boiling_margin"]["value"] == pytest.approx(1.0, abs=0.05)


def test_the_steps_of_a_mixing_with_ice_lead_to_its_amounts() -> None:
    asked = wanted("45 %", solution_mass="20 kg", existing_stock=heel("30 %", mass="2 kg"))
    answer = ask(NAME, asked, explain=True)
    told = {one["name"]: one["result"]["value"] for one in answer["steps"]}
    assert told["stock in all"] == pytest.approx(answer["mass"]["value"])
    poured = answer["ice_mass"]["value"] + answer["water_mass"]["value"]
    assert told["water to add, as liquid or ice"] == pytest.approx(poured)
    assert told["ice that the limit calls for"] == pytest.approx(answer["ice_mass"]["value"])


def test_what_ice_is_taken_to_be_is_told_and_no_amount_that_was_given() -> None:
    answer = ask(NAME, wanted(solution_mass="10 kg"))
    told = assumed(answer)
    assert told["/ice/temperature"] == "0 °C"
    assert told["/ice/melted_share"] == "0 %"
    assert "/solution_mass" not in told
    filled = ask(NAME, wanted(vessel={"material": "hdpe", "volume": "20 L"}))
    kilograms, _, _ = assumed(filled)["/solution_mass"].partition(" ")
    assert float(kilograms) == pytest.approx(filled["mass"]["value"] / 1000, rel=1e-3)
    assert {"alkali-burns", "rinse-with-water"} <= cautions(answer).keys()


def test_the_weakest_stock_is_the_one_that_the_refusal_names() -> None:
    found = fault(NAME, wanted("0.5 %", solution_mass="10 kg"), 422)
    assert found.mend == "give at least 1 %"
    assert ask(NAME, wanted("1 %", solution_mass="10 kg"))["reachable"]


@pytest.mark.parametrize(("w", "told"), [("50 %", "2 kg"), ("49 %", "1.96 kg")])
def test_nothing_is_mixed_into_what_holds_as_much_or_a_little_more_already(w: str, told: str) -> None:
    found = fault(NAME, wanted(w, solution_mass="4 kg", existing_stock=heel("50 %", mass="4 kg")), 422)
    assert (found.pointer, found.code) == ("/existing_stock", "contradiction")
    assert found.detail.startswith("what is in the vessel holds 2 kg ")
    assert f"hold {told} " in found.detail


def test_the_largest_mass_that_may_be_said_may_be_made() -> None:
    assert ask(NAME, wanted(solution_mass="100000 t"))["mass"]["value"] == pytest.approx(1e11)
