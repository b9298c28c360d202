"""What holds for every split of the liquid."""

from typing import Any, NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.reference import reference_data
from tests.calculations.asking import Answer, ask

LIQUIDS = sorted(reference_data().liquids)
quick = settings(max_examples=60, deadline=None, derandomize=True)


class Batch(NamedTuple):
    """A batch with two stocks and three liquids."""

    naoh: float
    koh: float
    strength: float
    ratio: float
    liquids: list[str]

    def request(self, factor: float = 1.0, unit: str = "g", **more: Any) -> dict[str, Any]:
        """What asks for its split; every mass times a factor."""
        return {
            "alkalis": [
                {"alkali": "NaOH", "mass": {"value": self.naoh * factor, "unit": unit}},
                {"alkali": "KOH", "mass": {"value": self.koh * factor, "unit": unit}},
            ],
            "stocks": [
                {"alkali": "NaOH", "strength": {"mass_fraction": self.strength}},
                {"alkali": "KOH", "strength": {"mass_fraction": 0.45}},
            ],
            "total_liquid": {"water_ratio": self.ratio},
            "liquids": [
                {"liquid": self.liquids[0], "share": 0.4},
                {"liquid": self.liquids[1], "share": 0.3},
                {"liquid": self.liquids[2], "rest": True},
            ],
            **more,
        }


batches = st.builds(
    Batch,
    naoh=st.floats(1, 5000),
    koh=st.floats(1, 5000),
    strength=st.floats(0.3, 0.5),
    ratio=st.floats(2.4, 4.0),
    liquids=st.lists(st.sampled_from(LIQUIDS), min_size=3, max_size=3, unique=True),
)


def figures(answer: Answer) -> list[float]:
    """Every mass of an answer, in a fixed order."""
    found = [
        one[name]["value"] for one in answer["stock_draws"] for name in ("mass", "volume", "alkali_mass", "water_mass")
    ]
    found += [
        one[name]["value"] for one in answer["additions"] for name in ("mass", "water_mass", "fat_mass", "acid_demand")
    ]
    return [*found, answer["added_liquid_mass"]["value"], answer["acid_demand"]["value"]]


@quick
@given(batches, st.sampled_from(["whole", "water_content"]))
def test_masses_balance_and_the_ratio_is_as_asked(batch: Batch, count: str) -> None:
    answer = ask("liquid-split", batch.request(count_liquids_as=count))
    for draw in answer["stock_draws"]:
        whole = draw["alkali_mass"]["value"] + draw["water_mass"]["value"]
        assert whole == pytest.approx(draw["mass"]["value"], rel=1e-12)
    added = sum(one["mass"]["value"] for one in answer["additions"])
    assert added == pytest.approx(answer["added_liquid_mass"]["value"], rel=1e-12)
    own = sum(draw["water_mass"]["value"] for draw in answer["stock_draws"])
    water = sum(one["water_mass"]["value"] for one in answer["additions"])
    alkali = batch.naoh + batch.koh
    assert answer["water_ratio"]["value"] == pytest.approx(batch.ratio, rel=1e-9)
    assert answer["actual_water_ratio"]["value"] == pytest.approx((own + water) / alkali, rel=1e-9)
    counted = added if count == "whole" else water
    assert own + counted == pytest.approx(batch.ratio * alkali, rel=1e-9)
    demand = sum(one["acid_demand"]["value"] for one in answer["additions"])
    assert demand == pytest.approx(answer["acid_demand"]["value"], rel=1e-9)
    shares = [one["mass"]["value"] / added for one in answer["additions"]]
    assert shares == [pytest.approx(0.4), pytest.approx(0.3), pytest.approx(0.3)]


@quick
@given(batches, st.booleans(), st.sampled_from([0.001, 0.1, 1000.0]))
def test_scaling_the_alkali_scales_every_mass(batch: Batch, compensate: bool, factor: float) -> None:
    first = ask("liquid-split", batch.request(compensate=compensate))
    second = ask("liquid-split", batch.request(factor, compensate=compensate))
    assert figures(second) == pytest.approx([factor * one for one in figures(first)], rel=1e-9)
    assert second["actual_water_ratio"]["value"] == pytest.approx(first["actual_water_ratio"]["value"], rel=1e-9)


@quick
@given(batches, st.sampled_from([("kg", 1000.0), ("oz", 28.349523125)]))
def test_the_unit_of_the_masses_makes_no_difference(batch: Batch, unit: tuple[str, float]) -> None:
    name, grams = unit
    first, second = batch.request(), batch.request(1 / grams, name)
    assert figures(ask("liquid-split", second)) == pytest.approx(figures(ask("liquid-split", first)), rel=1e-12)


@quick
@given(batches, st.floats(0.0, 0.2))
def test_what_liquids_bring_never_lowers_the_superfat(batch: Batch, superfat: float) -> None:
    answer = ask("liquid-split", batch.request(superfat=superfat))
    assert answer["superfat"]["value"] >= superfat - 1e-12


@quick
@given(batches, st.floats(0.0, 0.2))
def test_compensation_leaves_no_less_than_the_superfat_asked_for(batch: Batch, superfat: float) -> None:
    """It makes up for acid, so what stays above comes from the liquids' fat alone."""
    answer = ask("liquid-split", batch.request(superfat=superfat, compensate=True))
    assert answer["superfat"]["value"] >= superfat - 1e-12


@quick
@given(batches, st.floats(0.0, 0.2), st.permutations(["cider-vinegar", "wine-red", "distilled-water"]))
def test_compensation_leaves_the_superfat_asked_for_where_no_liquid_holds_fat(
    batch: Batch, superfat: float, liquids: list[str]
) -> None:
    answer = ask("liquid-split", batch._replace(liquids=liquids).request(superfat=superfat, compensate=True))
    assert answer["superfat"]["value"] == pytest.approx(superfat, abs=1e-12)
