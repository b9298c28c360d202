"""A strength as it is given: what is wrong with it is told in full, and its spread is what its parts make it."""

from math import hypot
from typing import Any, Final

import pytest

from service.calculations.stock.solutions import SOLUBILITY
from tests.calculations.asking import ask, fault, refusal
from tests.calculations.figures import NORMAL_95
from tests.calculations.quantities import half_width

C: Final = "concentration"
E: Final = "stock-assay/evaporation"


def _mixed(solid: object = "10 kg", water: object = "10 kg", **more: Any) -> dict[str, float]:
    strength = {"as_mixed": {"mass_as_supplied": solid, "water_mass": water, "purity": "98 %"}} | more
    found: dict[str, float] = ask(C, {"alkali": "NaOH", "strength": strength})["mass_fraction"]
    return found


def test_a_strength_that_cannot_be_is_told_beside_another_fault() -> None:
    request = {"alkali": "NaOH", "strength": {"molality": "60 mol/kg"}, "temperature": "300 °C"}
    assert {one.pointer for one in refusal(C, request).faults} == {"/strength", "/temperature"}


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_the_strongest_that_a_refusal_names_is_answered(alkali: str) -> None:
    found = fault(C, {"alkali": alkali, "strength": {"mass_fraction": "53 %"}}, 422)
    most = found.mend.removeprefix("give at most ")
    assert most == f"{100 * SOLUBILITY[alkali]:g} %"  # type: ignore[index]
    assert ask(C, {"alkali": alkali, "strength": {"mass_fraction": most}})["mass_fraction"]["value"] > 0


@pytest.mark.parametrize(("w", "weak"), [("0 %", False), ("0.05 %", True), ("0.9 %", True)])
def test_no_strength_at_all_is_told_apart_from_a_weak_one(w: str, weak: bool) -> None:
    solution = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": w}}
    found = fault(E, {"solution": solution, "mass_change": "0 g"}, 422)
    assert (f"a solution of {w} is too weak" in found.detail) is weak
    assert ("without hydroxide" in found.detail) is not weak
    assert found.mend == ("give at least 1 %" if weak else "give a strength above 0")


def test_masses_of_a_mixing_move_its_strength_as_other_masses_would() -> None:
    """By limits that are small beside them: each alone, as far as a mass at its uncertainty moves it."""
    unsure = {"value": 10, "uncertainty": 0.1, "unit": "kg"}
    water = (_mixed(water="9.9 kg")["value"] - _mixed(water="10.1 kg")["value"]) / 2
    solid = (_mixed("10.1 kg")["value"] - _mixed("9.9 kg")["value"]) / 2
    assert half_width(_mixed(water=unsure)) == pytest.approx(NORMAL_95 * water, rel=1e-3)
    assert half_width(_mixed(unsure)) == pytest.approx(NORMAL_95 * solid, rel=1e-3)
    assert half_width(_mixed(unsure, unsure)) == pytest.approx(NORMAL_95 * hypot(water, solid), rel=1e-3)


def test_an_uncertainty_of_a_strength_that_was_mixed_is_its_own() -> None:
    assert half_width(_mixed(uncertainty="0.2 %")) == pytest.approx(NORMAL_95 * 0.002)
