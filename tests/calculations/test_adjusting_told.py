"""What an adjustment says beside its numbers, its steps, and the volume to add, compared with the answer itself."""

import re
from typing import Any

import pytest

from tests.calculations.asking import Answer, ask, message_of
from tests.calculations.caution_cases_of_dilution import DOUBTFUL, A, adjusted, solution
from tests.calculations.quantities import half_width


def figure_of(text: str, before: str) -> float:
    """The first figure after some words of a message."""
    found = re.search(re.escape(before) + r" ?(-?[\d.]+)", text)
    assert found is not None, text
    return float(found[1])


def by_steps(answer: Answer) -> dict[str, float]:
    return {one["name"]: one["result"]["value"] for one in answer["steps"]}


@pytest.mark.parametrize(("present", "word"), [("45 %", "weak"), ("52 %", "strong")])
def test_what_is_added_is_assumed_for_the_side_on_which_the_stock_is(present: str, word: str) -> None:
    answer = ask(A, adjusted(present, "50 %"))
    (told,) = [one for one in answer["assumed"] if one["pointer"] == "/with"]
    assert f"too {word}" in str(told)
    assert (told["value"] == "solid") == (word == "weak")


def test_as_much_as_may_be_needed_is_told_only_where_something_is() -> None:
    answer = ask(A, adjusted(DOUBTFUL, "50 %"))
    told = message_of(answer, "adjustment-within-spread")
    assert figure_of(told, "up to") == pytest.approx(answer["add"]["mass"]["high"], rel=5e-3)
    nothing = ask(A, adjusted(DOUBTFUL, "50.2 %"))
    assert "up to" not in message_of(nothing, "adjustment-within-spread")


@pytest.mark.parametrize("present", [DOUBTFUL, "45 %"])
def test_the_steps_of_an_adjustment_lead_to_what_it_answers(present: object) -> None:
    answer = ask(A, adjusted(present, "50 %"), explain=True)
    told, mass = by_steps(answer), answer["add"]["mass"]
    assert 1000 * told["mass to add"] == pytest.approx(mass["value"])
    assert told["draw factor"] == pytest.approx(answer["draw_factor"]["value"])
    assert told["draw correction"] == pytest.approx(answer["draw_correction"]["value"])
    assert ("half-width of the mass to add" in told) == ("high" in mass)
    if "high" in mass:
        assert 1000 * told["half-width of the mass to add"] == pytest.approx(mass["high"] - mass["value"])


def test_where_nothing_is_added_no_step_says_how_much() -> None:
    told = by_steps(ask(A, adjusted("50 %", "50 %"), explain=True))
    assert {"mass to add", "half-width of the mass to add"}.isdisjoint(told)
    assert told["draw correction"] == 1


def adding(strength: Any, stock: dict[str, Any]) -> Answer:
    other = {"alkali": "NaOH", "strength": {"mass_fraction": strength}, "temperature": "20 °C"}
    return ask(A, {"solution": stock, "target_strength": {"mass_fraction": "40 %"}, "with": other})


def test_the_volume_to_add_is_as_wide_as_the_ends_of_its_strength_make_it() -> None:
    """A weaker one is needed more, and is lighter: both make its volume larger. 95 % of a rectangle is 0.95 of it."""
    stock = solution("30 %", "10 kg", temperature="20 °C")
    told = adding({"low": 48, "high": 52, "unit": "%"}, stock)["add"]["volume"]
    ends = [adding(f"{w} %", stock)["add"]["volume"]["value"] for w in (48.1, 51.9)]
    assert half_width(told) == pytest.approx((ends[0] - ends[1]) / 2, rel=0.05)


def test_a_volume_added_to_a_volume_does_not_go_with_an_error_that_all_densities_share() -> None:
    """What makes all solutions denser by one share makes stock and addition heavier alike, and the volume stays."""
    stock = {"alkali": "NaOH", "volume": "10 L", "strength": {"mass_fraction": "30 %"}, "temperature": "20 °C"}
    told = adding("50 %", stock)["add"]
    assert half_width(told["mass"]) > 0
    assert "high" not in told["volume"] or half_width(told["volume"]) < 1e-6 * told["volume"]["value"]


@pytest.mark.parametrize(
    "strength", [{"mass_fraction": {"low": 28, "high": 32, "unit": "%"}}, {"density": "1.33 kg/L"}]
)
def test_a_stock_by_volume_is_as_uncertain_after_solid_as_stock_mixing_says(strength: dict[str, Any]) -> None:
    stock = {"alkali": "NaOH", "volume": "10 L", "strength": strength, "temperature": "25 °C"}
    answer = ask(A, {"solution": stock, "target_strength": {"mass_fraction": "45 %"}})
    solid = {"alkali": "NaOH", "mass_as_supplied": f"{answer['add']['mass']['value']!r} g"}
    mixed = ask("stock-mixing", {"solid": solid, "existing_stock": stock})["strength"]["mass_fraction"]
    told = answer["solution"]["strength"]["mass_fraction"]
    assert half_width(told) > 0
    assert half_width(told) == pytest.approx(half_width(mixed), rel=1e-6)


@pytest.mark.parametrize("side", [-0.95, 0.95])
def test_volume_holds_what_the_solid_makes_of_a_stock_at_either_end_of_its_strength(side: float) -> None:
    """A weaker stock gets hotter by the solid, and is lighter for both; a stronger one stays colder."""
    stock = {"alkali": "NaOH", "mass": "2 kg", "temperature": "25 °C"}
    limits = {"value": 0.317, "low": 0.297, "high": 0.337, "unit": "1"}
    body = {"target_strength": {"mass_fraction": "43.6 %"}, "with": "solid", "solid": {"purity": "96 %"}}
    told = ask("stock-adjustment", body | {"solution": stock | {"strength": {"mass_fraction": limits}}})
    solid = {"alkali": "NaOH", "purity": "96 %", "mass_as_supplied": f"{told['add']['mass']['value']!r} g"}
    true = stock | {"strength": {"mass_fraction": 0.317 + side * 0.02}}
    mixed = ask("stock-mixing", {"solid": solid, "existing_stock": true, "ambient": "25 °C"})
    found = ask(
        "concentration",
        {
            "alkali": "NaOH",
            "strength": {"mass_fraction": mixed["strength"]["mass_fraction"]["value"]},
            "temperature": f"{mixed['adiabatic_temperature']['value']!r} °C",
        },
    )
    volume = mixed["mass"]["value"] / found["density"]["value"]
    ends = told["solution"]["volume"]
    assert ends["low"] <= volume <= ends["high"]
