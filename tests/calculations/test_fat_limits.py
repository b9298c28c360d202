"""From where a word on free alkali is due: a probability, and a spread that is told however narrow it is."""

import pytest

from service.calculations.batch.fat_notes import caution_free_alkali
from service.calculations.shared.notes import Notes
from service.chemistry.saponification_budget import SaponificationBudget
from service.chemistry.uncertainty import Combined
from tests.calculations.asking import cautions
from tests.calculations.test_fat_parts import OWN, saponify

TESTED = (caution_free_alkali,)
"""What these tests are of: mutants of its module meet them first."""
EXACT = Combined(0.0, 0.0)


@pytest.mark.parametrize(("probability", "severity"), [(0.0099, None), (0.01, "caution"), (0.1, "danger")])
def test_one_per_cent_of_free_alkali_is_told_and_ten_are_a_danger(probability: float, severity: str | None) -> None:
    """From these on, those among them: what is told as 1 % and as 10 % is told alike."""
    budget = SaponificationBudget((1.0, EXACT), (0.95, EXACT), (0.0, EXACT))
    vars(budget)["free_alkali_probability"] = probability
    notes = Notes()
    caution_free_alkali(budget, notes)
    assert [one.severity for one in notes.cautions] == ([] if severity is None else [severity])


def test_a_spread_of_a_fifth_of_a_milligram_is_not_said_to_be_none() -> None:
    """0.2 in 190 mg/g, as a laboratory may state it: with 1 % of superfat no such lot comes near free alkali."""
    told = {"value": 190, "uncertainty": 0.2, "unit": "mg/g"}
    assert "free-alkali-possible" not in cautions(saponify(OWN | {"saponification_value": told}, superfat=0.01))
    assert "no spread of the fats is told" in cautions(saponify(superfat=0.01))["free-alkali-possible"]["message"]
