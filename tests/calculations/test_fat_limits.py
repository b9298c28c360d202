"""From where a word on free alkali is due: a probability, and a spread that is told however narrow it is."""

import pytest

from service.calculations.batch.fat_notes import caution_free_alkali
from service.calculations.batch.fat_yields import risk
from service.calculations.shared.notes import Notes
from service.chemistry.saponification_budget import SaponificationBudget
from service.chemistry.uncertainty import Combined
from tests.calculations.asking import ask, cautions, message_of
from tests.calculations.figures import KOH, NAOH
from tests.calculations.test_fat_parts import OWN, WAX, saponify

TESTED = (caution_free_alkali, risk)
"""What these tests are of: mutants of its modules meet them first."""
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
    assert "no spread of the fats is told" in message_of(saponify(superfat=0.01), "free-alkali-possible")


def test_where_only_wax_could_take_it_the_lowest_superfat_is_all_alkali_over_its_need() -> None:
    """5 g of NaOH on 100 g of beeswax of 87 to 104 mg/g (Ph. Eur.): below 0 by so much as may be free."""
    draw = {"alkali": "NaOH", "mass": "10 g", "strength": {"mass_fraction": 0.5}}
    superfat = ask("superfat-check", {"fats": [WAX], "stock_draws": [draw]})["superfat"]
    brought, need = 5 / NAOH, 100 * 0.0955 / KOH
    assert superfat["value"] == pytest.approx(1 - brought / need, abs=1e-6)
    assert superfat["low"] == pytest.approx(-brought / need, abs=1e-6)


@pytest.mark.parametrize(("at_worst", "told"), [(0.49, True), (0.5, False), (0.53, False)])
def test_alkali_that_wax_leaves_likelier_than_not_is_told_by_that_figure_alone(at_worst: float, told: bool) -> None:
    """From an even chance on another figure beside that of the wax would contradict it."""
    budget = SaponificationBudget((1.0, EXACT), (0.95, EXACT), (0.0, EXACT))
    vars(budget)["free_alkali_probability"] = 0.3
    notes = Notes()
    caution_free_alkali(budget, notes, at_worst)
    assert bool(notes.cautions) == told
