"""What holds for the alkali of every recipe, whatever its fats and amounts."""

from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.reference import reference_data
from tests.calculations.asking import Answer, ask

FATS = sorted(reference_data().fats)
lines = st.lists(st.tuples(st.sampled_from(FATS), st.floats(1, 5000)), min_size=1, max_size=6)
superfats = st.floats(0.0, 0.3)
purities = st.sampled_from([None, "98 %", {"low": 0.97, "high": 0.99, "unit": "1"}])
alkali_lists = st.one_of(
    st.just([{"alkali": "NaOH"}]),
    st.floats(0.05, 0.95).map(
        lambda share: [
            {"alkali": "NaOH", "mole_share": share},
            {"alkali": "KOH", "mole_share": 1 - share, "purity": "90 %"},
        ]
    ),
)
quick = settings(max_examples=60, deadline=None, derandomize=True)


def recipe(fats: list[tuple[str, float]], superfat: float, unit: str = "g", **more: Any) -> dict[str, Any]:
    masses = [{"fat": fat, "mass": {"value": mass, "unit": unit}} for fat, mass in fats]
    return {"fats": masses, "superfat": superfat, **more}


ENDS = 1e-10
"""Relative miss of the ends of an interval that counts as rounding. Where one rectangle makes nearly all of an
uncertainty the normal rest is a small difference of squares, so its coverage factor feels rounding more than the
values do: up to some 1e-11."""


def alike(first: Answer, second: Answer, factor: float = 1.0, rel: float = 1e-12) -> None:
    """Every mass of the second is that of the first times a factor, and all else is the same."""
    ends = max(rel, ENDS)
    for name in ("acid_demand", "glycerol_mass"):
        assert second[name]["value"] == pytest.approx(factor * first[name]["value"], rel=rel)
    for one, other in zip(first["alkalis"], second["alkalis"], strict=True):
        assert one["alkali"] == other["alkali"]
        assert other["mass"]["value"] == pytest.approx(factor * one["mass"]["value"], rel=rel)
        for part in ("low", "high"):
            assert other["mass"][part] == pytest.approx(factor * one["mass"][part], rel=ends)
    probability = first["free_alkali_probability"]["value"]
    assert second["free_alkali_probability"]["value"] == pytest.approx(probability, abs=ends)
    for name in ("superfat", "saponification_value", "iodine_value"):
        assert (name in first) == (name in second)
        for part, miss in (("value", rel), ("low", ends), ("high", ends)):
            if part in first.get(name, {}):
                assert second[name][part] == pytest.approx(first[name][part], rel=miss, abs=miss)
    assert first["fatty_acids"].keys() == second["fatty_acids"].keys()
    for code, share in first["fatty_acids"].items():
        assert second["fatty_acids"][code]["value"] == pytest.approx(share["value"], rel=rel, abs=1e-12)


@quick
@given(lines, superfats, alkali_lists, st.sampled_from([0.001, 0.1, 3.0, 1000.0]))
def test_scaling_a_recipe_scales_its_masses_and_nothing_else(
    fats: list[tuple[str, float]], superfat: float, alkalis: list[dict[str, Any]], factor: float
) -> None:
    first = ask("saponification", recipe(fats, superfat, alkalis=alkalis))
    scaled = [(fat, mass * factor) for fat, mass in fats]
    alike(first, ask("saponification", recipe(scaled, superfat, alkalis=alkalis)), factor, rel=1e-9)


@quick
@given(lines, superfats, st.sampled_from([("kg", 1000.0), ("oz", 28.349523125), ("lb", 453.59237), ("mg", 0.001)]))
def test_the_unit_of_the_masses_makes_no_difference(
    fats: list[tuple[str, float]], superfat: float, unit: tuple[str, float]
) -> None:
    name, grams = unit
    first = ask("saponification", recipe(fats, superfat))
    converted = [(fat, mass / grams) for fat, mass in fats]
    alike(first, ask("saponification", recipe(converted, superfat, name)))


@quick
@given(lines, superfats, st.floats(0.1, 0.9))
def test_splitting_a_line_in_two_changes_no_value(fats: list[tuple[str, float]], superfat: float, share: float) -> None:
    fat, mass = fats[0]
    split = [(fat, mass * share), (fat, mass * (1 - share)), *fats[1:]]
    alike(ask("saponification", recipe(fats, superfat)), ask("saponification", recipe(split, superfat)))


@quick
@given(lines, superfats, st.randoms(use_true_random=False))
def test_the_order_of_the_fats_changes_nothing(fats: list[tuple[str, float]], superfat: float, chance: Any) -> None:
    mixed = list(fats)
    chance.shuffle(mixed)
    alike(ask("saponification", recipe(fats, superfat)), ask("saponification", recipe(mixed, superfat)))


@quick
@given(lines, superfats, purities)
def test_the_superfat_is_as_asked_and_its_interval_holds_it(
    fats: list[tuple[str, float]], superfat: float, purity: object
) -> None:
    alkali = {"alkali": "NaOH"} if purity is None else {"alkali": "NaOH", "purity": purity}
    answer = ask("saponification", recipe(fats, superfat, alkalis=[alkali]))
    figure = answer["superfat"]
    assert figure["value"] == pytest.approx(superfat, abs=1e-12)
    assert figure["low"] - 1e-12 <= figure["value"] <= figure["high"] + 1e-12
    assert 0 <= answer["free_alkali_probability"]["value"] <= 1


@quick
@given(st.floats(0.5, 10), st.floats(0.5, 10), st.floats(0.0, 0.2))
def test_wider_limits_of_a_fat_never_narrow_the_superfat(one: float, more: float, superfat: float) -> None:
    def width(half: float) -> float:
        value = {"low": 190 - half, "high": 190 + half, "unit": "mg/g"}
        fat = {"name": "own", "mass": "1 kg", "saponification_value": value}
        figure = ask("saponification", {"fats": [fat], "superfat": superfat})["superfat"]
        return float(figure["high"] - figure["low"])

    assert width(one + more) > width(one)


@quick
@given(lines, st.floats(0.0, 0.25))
def test_the_lower_end_is_below_nothing_just_where_free_alkali_is_likelier_than_one_in_forty(
    fats: list[tuple[str, float]], superfat: float
) -> None:
    known = reference_data().fats
    assume(any(not known[fat].hardly_saponified for fat, _ in fats))  # wax alone leaves all of its alkali
    answer = ask("saponification", recipe(fats, superfat))
    probability = answer["free_alkali_probability"]["value"]
    low = answer["superfat"].get("low", answer["superfat"]["value"])
    # Without any spread no superfat at all is an even chance: neither below nothing nor above.
    if abs(probability - 0.025) > 1e-4 and low != 0:
        assert (low < 0) == (probability > 0.025)


@quick
@given(lines, superfats, st.floats(0.001, 0.1))
def test_more_superfat_never_makes_free_alkali_likelier(
    fats: list[tuple[str, float]], superfat: float, more: float
) -> None:
    first = ask("saponification", recipe(fats, superfat))
    second = ask("saponification", recipe(fats, superfat + more))
    assert second["free_alkali_probability"]["value"] <= first["free_alkali_probability"]["value"] + 1e-12
