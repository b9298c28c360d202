"""The draw factor of an assayed stock is reckoned in one way, whatever the assay: one over the ends of the strength."""

from typing import Any

import pytest

from service.calculations.shared.told import FractionFigure
from service.calculations.stock.draw_factor import draw_factor
from tests.calculations.asking import ask
from tests.calculations.caution_cases_of_titrations import stock

E, H, T = "stock-assay/evaporation", "stock-assay/hydrometer", "stock-assay/titration"
FILLED: dict[str, Any] = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": "45 %"}}
THIN: dict[str, Any] = FILLED | {"strength": {"mass_fraction": "1 %", "uncertainty": "0.3 %"}}
READ: dict[str, Any] = {"alkali": "NaOH", "temperature": "20 °C"}
ASSAYS: list[tuple[str, dict[str, Any]]] = [
    (E, {"solution": FILLED, "drawn_masses": ["3 kg", "2 kg"], "mass_now": "4.8 kg"}),
    (E, {"solution": FILLED, "drawn_masses": ["3 kg"], "mass_now": {"value": 6.5, "uncertainty": 0.1, "unit": "kg"}}),
    (E, {"solution": FILLED, "mass_now": "10 kg"}),
    (E, {"solution": THIN, "mass_now": "17 kg"}),
    (E, {"solution": THIN, "drawn_masses": ["1 kg"], "mass_now": "15 kg"}),
    (H, READ | {"reading": {"degrees_baume": 48, "division": 2}}),
    (H, READ | {"reading": {"degrees_baume": 1, "division": 2}}),
    (T, stock(burette_tolerance="2 mL")),
    (T, stock("1 mL", "1.1 mL", burette_tolerance="1 mL")),
]


@pytest.mark.parametrize(("name", "request_"), ASSAYS)
def test_the_ends_of_a_draw_factor_are_those_of_the_strength_in_every_assay(
    name: str, request_: dict[str, Any]
) -> None:
    answer = ask(name, request_)
    strength, factor = answer["strength"]["mass_fraction"], answer["draw_factor"]
    assert factor["value"] == pytest.approx(1 / strength["value"], rel=1e-12)
    assert ("low" in factor) == ("low" in strength)
    if "low" in strength:
        assert factor["low"] == pytest.approx(1 / strength["high"], rel=1e-12)
        weakest = max(strength["low"], min(strength["value"], 1e-3))
        assert factor["high"] == pytest.approx(1 / weakest, rel=1e-12)


def test_the_ends_need_not_be_as_far_away_on_both_sides() -> None:
    factor = draw_factor(FractionFigure(0.4, 0.25, 0.5))
    assert (factor.value, factor.low, factor.high) == (2.5, 2.0, 4.0)


def test_a_strength_that_is_exact_has_an_exact_factor() -> None:
    factor = draw_factor(FractionFigure(0.5))
    assert (factor.value, factor.low, factor.high) == (2.0, None, None)


def test_a_lower_end_of_nothing_leaves_a_factor_that_is_finite() -> None:
    assert draw_factor(FractionFigure(0.01, 0.0, 0.02)).high == 1000
    assert draw_factor(FractionFigure(5e-4, 0.0, 0.02)).high == 2000
