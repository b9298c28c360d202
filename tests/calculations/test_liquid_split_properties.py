"""What holds for every split of the liquid."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.reference import reference_data
from tests.calculations.asking import Answer, ask

LIQUIDS = sorted(reference_data().liquids)
quick = settings(max_examples=60, deadline=None, derandomize=True)
masses = st.floats(1, 5000)
strengths = st.floats(0.3, 0.5)
ratios = st.floats(2.4, 4.0)
three = st.lists(st.sampled_from(LIQUIDS), min_size=3, max_size=3, unique=True)
counts = st.sampled_from(["whole", "water_content"])


def request(
    naoh: float, koh: float, strength: float, ratio: float, liquids: list[str], unit: str = "g", **more: Any
) -> dict[str, Any]:
    return {
        "alkalis": [
            {"alkali": "NaOH", "mass": {"value": naoh, "unit": unit}},
            {"alkali": "KOH", "mass": {"value": koh, "unit": unit}},
        ],
        "stocks": [
            {"alkali": "NaOH", "strength": {"mass_fraction": strength}},
            {"alkali": "KOH", "strength": {"mass_fraction": 0.45}},
        ],
        "total_liquid": {"water_ratio": ratio},
        "liquids": [
            {"liquid": liquids[0], "share": 0.4},
            {"liquid": liquids[1], "share": 0.3},
            {"liquid": liquids[2], "rest": True},
        ],
        **more,
    }


def figures(answer: Answer) -> list[float]:
    """Every mass of an answer, in a fixed order."""
    found = [
        one[name]["value"] for one in answer["stock_draws"] for name in ("mass", "volume", "alkali_mass", "water_mass")
    ]
    found += [
        one[name]["value"]
        for one in answer["additions"]
        for name in ("mass", "water_mass", "fat_mass", "acid_demand")
    ]
    return [*found, answer["added_liquid_mass"]["value"], answer["acid_demand"]["value"]]


@quick
@given(masses, masses, strengths, ratios, three, counts)
def test_masses_balance_and_the_ratio_is_as_asked(
    naoh: float, koh: float, strength: float, ratio: float, liquids: list[str], count: str
) -> None:
    answer = ask("liquid-split", request(naoh, koh, strength, ratio, liquids, count_liquids_as=count))
    for draw in answer["stock_draws"]:
        whole = draw["alkali_mass"]["value"] + draw["water_mass"]["value"]
        assert whole == pytest.approx(draw["mass"]["value"], rel=1e-12)
    added = sum(one["mass"]["value"] for one in answer["additions"])
    assert added == pytest.approx(answer["added_liquid_mass"]["value"], rel=1e-12)
    own = sum(draw["water_mass"]["value"] for draw in answer["stock_draws"])
    water = sum(one["water_mass"]["value"] for one in answer["additions"])
    alkali = naoh + koh
    assert answer["water_ratio"]["value"] == pytest.approx(ratio, rel=1e-9)
    assert answer["actual_water_ratio"]["value"] == pytest.approx((own + water) / alkali, rel=1e-9)
    counted = added if count == "whole" else water
    assert own + counted == pytest.approx(ratio * alkali, rel=1e-9)
    demand = sum(one["acid_demand"]["value"] for one in answer["additions"])
    assert demand == pytest.approx(answer["acid_demand"]["value"], rel=1e-9)
    shares = [one["mass"]["value"] / added for one in answer["additions"]]
    assert shares == [pytest.approx(0.4), pytest.approx(0.3), pytest.approx(0.3)]


@quick
@given(masses, masses, strengths, ratios, three, st.booleans(), st.sampled_from([0.001, 0.1, 1000.0]))
def test_scaling_the_alkali_scales_every_mass(
    naoh: float, koh: float, strength: float, ratio: float, liquids: list[str], compensate: bool, factor: float
) -> None:
    first = ask("liquid-split", request(naoh, koh, strength, ratio, liquids, compensate=compensate))
    second = ask(
        "liquid-split", request(naoh * factor, koh * factor, strength, ratio, liquids, compensate=compensate)
    )
    assert figures(second) == pytest.approx([factor * one for one in figures(first)], rel=1e-9)
    assert second["actual_water_ratio"]["value"] == pytest.approx(first["actual_water_ratio"]["value"], rel=1e-9)


@quick
@given(masses, masses, strengths, ratios, three, st.sampled_from([("kg", 1000.0), ("oz", 28.349523125)]))
def test_the_unit_of_the_masses_makes_no_difference(
    naoh: float, koh: float, strength: float, ratio: float, liquids: list[str], unit: tuple[str, float]
) -> None:
    name, grams = unit
    first = ask("liquid-split", request(naoh, koh, strength, ratio, liquids))
    second = ask("liquid-split", request(naoh / grams, koh / grams, strength, ratio, liquids, name))
    assert figures(second) == pytest.approx(figures(first), rel=1e-12)


@quick
@given(masses, strengths, ratios, three, st.floats(0.0, 0.2))
def test_what_liquids_bring_never_lowers_the_superfat(
    naoh: float, strength: float, ratio: float, liquids: list[str], superfat: float
) -> None:
    answer = ask("liquid-split", request(naoh, naoh, strength, ratio, liquids, superfat=superfat))
    assert answer["superfat"]["value"] >= superfat - 1e-12


@quick
@given(masses, strengths, ratios, three, st.floats(0.0, 0.2))
def test_compensation_leaves_no_less_than_the_superfat_asked_for(
    naoh: float, strength: float, ratio: float, liquids: list[str], superfat: float
) -> None:
    """It makes up for acid, so what stays above comes from the liquids' fat alone."""
    made_up = ask(
        "liquid-split", request(naoh, naoh, strength, ratio, liquids, superfat=superfat, compensate=True)
    )
    assert made_up["superfat"]["value"] >= superfat - 1e-12
    if sum(one["fat_mass"]["value"] for one in made_up["additions"]) == 0:
        assert made_up["superfat"]["value"] == pytest.approx(superfat, abs=1e-12)
