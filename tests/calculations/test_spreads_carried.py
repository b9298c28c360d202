"""Spreads that a calculation must carry on, from scale, strength and certificate, and where they must end."""

import math
from typing import Any

import pytest

from tests.calculations.asking import ask
from tests.calculations.figures import CITRIC_ACID, KOH, NAOH
from tests.contract.balances import within_bounds

OIL: dict[str, Any] = {"name": "own oil", "mass": "100 g", "saponification_value": "190 mg/g"}
NET: float = 1 / math.sqrt(6)
"""Standard uncertainty of a net weighing in divisions: the triangle of two roundings (JCGM 100:2008, F.2.2.1)."""


def half_width(acids: list[dict[str, Any]], division: str) -> float:
    request = {"fats": [OIL], "superfat": "5 %", "alkalis": [{"alkali": "NaOH", "purity": 1}], "acids": acids}
    superfat = ask("saponification", request | {"scale_division": division})["superfat"]
    return float(superfat["high"] - superfat["low"]) / 2


@pytest.mark.parametrize("acids", [[], [{"acid": "citric-acid-anhydrous", "mass": "5 g"}]])
def test_the_step_of_the_scale_counts_for_fat_alkali_and_acid(acids: list[dict[str, Any]]) -> None:
    need = 100 * 0.190 / KOH
    met = 0.95
    parts = [met * 0.190 / KOH, 1 / NAOH, *(3 / CITRIC_ACID for _ in acids)]
    expected = NET * 0.1 * math.hypot(*parts) / need
    # Triangles add up to nearly a normal: 1.9 to 1.96 standard uncertainties.
    assert 1.90 < half_width(acids, "0.1 g") / expected < 1.97


def test_the_acid_alone_widens_by_its_own_weighing() -> None:
    with_acid = half_width([{"acid": "citric-acid-anhydrous", "mass": "5 g"}], "0.1 g")
    assert with_acid > 1.1 * half_width([], "0.1 g")


def test_the_first_solid_has_the_limits_of_every_strength_within_its_interval() -> None:
    """Between 44 and 48 % the first solid of NaOH changes from 5 °C (45.7 %, Pickering 1893) upwards on both sides."""

    def solid(strength: object) -> dict[str, float]:
        found: dict[str, float] = ask("concentration", {"alkali": "NaOH", "strength": {"mass_fraction": strength}})[
            "first_solid_temperature"
        ]
        return found

    uncertain = solid({"low": 47, "high": 51, "unit": "%"})
    half = 0.95 * 2  # of the rectangle of two points
    ends = [solid(f"{49 - half} %"), solid(f"{49 + half} %")]
    assert uncertain["value"] == solid("49 %")["value"]
    assert uncertain["low"] == pytest.approx(min(one["low"] for one in ends))
    assert uncertain["high"] == pytest.approx(max(one["high"] for one in ends))
    assert uncertain["high"] - uncertain["low"] > 5


HARDLY_KNOWN: list[tuple[str, dict[str, Any]]] = [
    ("concentration", {"alkali": "NaOH", "strength": {"mass_fraction": "50 %", "uncertainty": "60 %"}}),
    ("concentration", {"alkali": "KOH", "strength": {"oxide_fraction": "40 %", "uncertainty": "40 %"}}),
    (
        "concentration",
        {"alkali": "NaOH", "strength": {"density": {"value": 1.5, "uncertainty": 0.9, "unit": "kg/L"}}},
    ),
    (
        "liquid-split",
        {
            "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
            "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %", "uncertainty": "30 %"}}],
        },
    ),
    ("liquid-split", {"alkalis": [{"alkali": "NaOH", "mass": {"value": 100, "uncertainty": 80, "unit": "g"}}]}),
    (
        "saponification",
        {
            "fats": [
                {"fat": "olive-oil", "mass": "1 kg"},
                {
                    "name": "own",
                    "mass": "10 g",
                    "saponification_value": {"value": 190, "uncertainty": 150, "unit": "mg/g"},
                },
            ]
        },
    ),
    (
        "stock-mixing",
        {
            "solid": {"alkali": "NaOH", "mass_as_supplied": "1 g"},
            "existing_stock": {
                "alkali": "NaOH",
                "mass": "1 kg",
                "strength": {"mass_fraction": "10 %", "uncertainty": "20 %"},
            },
        },
    ),
]


@pytest.mark.parametrize(("name", "request_"), HARDLY_KNOWN)
def test_the_interval_of_what_is_hardly_known_ends_at_nothing_and_at_the_whole(
    name: str, request_: dict[str, Any]
) -> None:
    within_bounds(ask(name, request_))
