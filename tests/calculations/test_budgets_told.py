"""The budget of a titration and its interval agree, and what is assumed or lacks a spread is named."""

import math
from typing import Any

import pytest

from tests.calculations.asking import Answer, ask, assumed, cautions, message_of
from tests.calculations.caution_cases_of_titrations import A, T, pipetted, soap, stock
from tests.calculations.quantities import half_width, normal


def _lines(answer: Answer) -> dict[str, dict[str, Any]]:
    return {one["input"]: one for one in answer["budget"]}


def test_each_line_of_a_budget_says_how_its_error_is_distributed() -> None:
    """As it was given: nothing, an uncertainty, limits; a tare and a gross weight on one scale make a triangle."""
    lines = _lines(
        ask(
            T,
            stock(
                acid_molarity="1 mol/L",
                acid_temperature="20 °C",
                first_end_point={"low": 24.9, "high": 25.1, "unit": "mL"},
                second_end_point=normal(25.1, 0.03, "mL"),
                scale_division="0.01 g",
            ),
        )
    )
    told = {name: one["distribution"] for name, one in lines.items()}
    assert told["acid_molarity"] == told["acid_temperature"] == "exact"
    assert told["first_end_point"] == "rectangular"
    assert told["second_end_point"] == told["first_end_point_detection"] == told["sample_mass"] == "normal"
    assert told["scale_division"] == "triangular"
    for one in lines.values():
        assert (one["distribution"] == "exact") is (one["contribution"]["value"] == 0)
    assert lines["first_end_point_detection"]["value"]["value"] == 0
    assert lines["second_end_point_detection"]["value"]["value"] == 0


@pytest.mark.parametrize(
    ("name", "request_", "member"),
    [(T, stock(), "the strength"), (T, pipetted(), "the strength"), (A, soap("2 mL"), "the free alkali")],
)
def test_the_lines_of_a_budget_add_up_to_the_interval(name: str, request_: dict[str, Any], member: str) -> None:
    answer = ask(name, request_, explain=True)
    figure = answer["strength"]["mass_fraction"] if name == T else answer["free_alkali"]
    steps = {one["name"]: one for one in answer["steps"]}
    whole = math.hypot(*(one["contribution"]["value"] for one in answer["budget"]))
    assert sum(one["share"]["value"] for one in answer["budget"]) == pytest.approx(1.0)
    for one in answer["budget"]:
        assert one["share"]["value"] == pytest.approx((one["contribution"]["value"] / whole) ** 2)
        product = one["sensitivity"]["value"] * one["standard_uncertainty"]["value"]
        assert abs(product) == pytest.approx(one["contribution"]["value"])
    assert steps[f"standard uncertainty of {member}"]["result"]["value"] == pytest.approx(whole)
    half = steps[f"half-width of {member}"]
    assert half["inputs"]["standard_uncertainty"]["value"] == pytest.approx(whole)
    assert half["result"]["value"] == pytest.approx(half_width(figure))


def test_the_sensitivity_to_a_warmer_acid_is_the_change_that_it_makes() -> None:
    colder, warmer = (
        ask(T, stock(acid_temperature=f"{t} °C"))["strength"]["mass_fraction"]["value"] for t in (24.5, 25.5)
    )
    line = _lines(ask(T, stock(acid_temperature="25 °C")))["acid_temperature"]
    assert line["sensitivity"]["value"] == pytest.approx(warmer - colder, rel=1e-3)
    assert line["sensitivity"]["unit"] == "1/K"
    assert warmer < colder


@pytest.mark.parametrize(
    ("name", "request_", "member", "said"),
    [
        (T, stock(), "burette_tolerance", "0.1 mL"),
        (T, stock(), "end_point_uncertainty", "0.03 mL"),
        (T, stock(), "acid_protons", "1"),
        (A, soap("2 mL"), "burette_tolerance", "0.1 mL"),
        (A, soap("2 mL"), "end_point_uncertainty", "0.03 mL"),
    ],
)
def test_what_is_assumed_of_a_titration_said_aloud_makes_no_difference(
    name: str, request_: dict[str, Any], member: str, said: str
) -> None:
    unsaid = ask(name, request_)
    told = ask(name, request_ | {member: float(said) if member == "acid_protons" else said})
    assert assumed(unsaid)[f"/{member}"] == said
    assert f"/{member}" not in assumed(told)
    for one, other in zip(unsaid["budget"], told["budget"], strict=True):
        assert one["contribution"]["value"] == pytest.approx(other["contribution"]["value"], rel=1e-9)


def test_an_acid_whose_temperature_nobody_measured_has_room_of_four_kelvins() -> None:
    unsaid = ask(T, stock())
    assert assumed(unsaid)["/acid_temperature"] == "20 °C, give or take 4 K"
    assert assumed(unsaid)["/scale_division"] == "a scale without steps"
    assert "/scale_division" not in assumed(ask(T, pipetted()))
    line = _lines(unsaid)["acid_temperature"]
    assert line["value"] == {"value": 20.0, "unit": "°C"}
    assert line["standard_uncertainty"] == {"value": pytest.approx(4 / math.sqrt(3)), "unit": "K"}


def test_the_burette_counts_for_each_reading_that_has_no_spread_of_its_own() -> None:
    mixed = ask(T, stock(first_end_point=normal(25, 0.02, "mL")))
    assert assumed(mixed)["/burette_tolerance"] == "0.1 mL"
    both = stock(first_end_point=normal(25, 0.02, "mL"), second_end_point=normal(25.1, 0.02, "mL"))
    assert "/burette_tolerance" not in assumed(ask(T, both))


@pytest.mark.parametrize(
    ("more", "lacking"),
    [
        ({"acid_molarity": "1 mol/L"}, ["acid molarity"]),
        ({"sample_mass": "2.05 g"}, ["sample mass"]),
        ({"sample_mass": "2.05 g", "scale_division": "0.001 g"}, []),
        ({"acid_molarity": "1 mol/L", "sample_mass": "2.05 g", "scale_division": "0.001 g"}, ["acid molarity"]),
        ({"acid_molarity": "1 mol/L", "sample_mass": "2.05 g"}, ["acid molarity", "sample mass"]),
        ({}, []),
    ],
)
def test_what_came_without_a_spread_is_named_and_nothing_else(more: dict[str, Any], lacking: list[str]) -> None:
    answer = ask(T, stock(**more))
    if not lacking:
        assert "budget-incomplete" not in cautions(answer)
    else:
        assert f"is given: {', '.join(lacking)}. " in message_of(answer, "budget-incomplete")


def test_readings_of_a_budget_are_told_as_they_were_given() -> None:
    lines = _lines(ask(T, stock(first_end_point=normal(25.3, 0.07, "mL"), second_end_point="25.7 mL")))
    assert lines["first_end_point"]["value"]["value"] == 25.3
    assert lines["first_end_point"]["standard_uncertainty"]["value"] == 0.07
    assert lines["second_end_point"]["value"]["value"] == 25.7
