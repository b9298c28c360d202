"""What an assay of soap says in words is what its figures say."""

import re

import pytest

from tests.calculations.asking import ask, cautions, fault, message_of
from tests.calculations.caution_cases_of_titrations import A, soap
from tests.calculations.figures import NAOH
from tests.calculations.quantities import half_width, normal


@pytest.mark.parametrize("batch", [None, "5 kg"])
def test_free_alkali_that_cannot_be_told_from_none_is_told_with_its_interval(batch: str | None) -> None:
    answer = ask(A, soap("0.07 mL", **({} if batch is None else {"batch_mass": batch})))
    free = answer["free_alkali"]
    message = message_of(answer, "below-detection")
    told = re.search(r"none: ([\d.]+) % NaOH, give or take ([\d.]+) perc", message)
    assert told is not None, message
    assert float(told[1]) == round(100 * free["value"], 3)
    assert float(told[2]) == pytest.approx(100 * half_width(free), abs=5.1e-4)
    assert ("nothing that acid should be added for" in message) is (batch is not None)


def test_what_is_taken_back_beyond_the_acid_leaves_its_interval_above_nothing() -> None:
    """As much of the interval as lies above nothing is told, and as much in the caution."""
    back = {"molarity": normal(0.1, 0.0001, "mol/L"), "volume": "10.05 mL"}
    answer = ask(A, soap("10 mL", method="total-free", back_titration=back), explain=True)
    steps = {one["name"]: one["result"]["value"] for one in answer["steps"]}
    share, half = steps["free alkali"], steps["half-width of the free alkali"]
    assert share < 0
    assert answer["free_alkali"] == {"value": 0, "unit": "1", "low": 0, "high": pytest.approx(half + share)}
    told = re.search(r"none: 0 % NaOH, give or take ([\d.]+) perc", message_of(answer, "below-detection"))
    assert told is not None
    assert float(told[1]) == pytest.approx(100 * (half + share), abs=5.1e-4)


def test_so_much_free_alkali_is_told_by_its_upper_end_as_soda() -> None:
    for alkali, per in (("NaOH", 1.0), ("KOH", NAOH / 56.1053)):
        answer = ask(A, soap("2 mL", alkali=alkali))
        (told,) = re.findall(r"up to ([\d.]+) % as NaOH", message_of(answer, "free-alkali-in-soap"))
        assert float(told) == pytest.approx(100 * per * answer["free_alkali"]["high"], abs=5.1e-4)


@pytest.mark.parametrize(("taken", "batch"), [("2 mL", "1 kg"), ("2 mL", "12 kg"), ("20 mL", "50 kg")])
def test_the_heat_of_an_acid_is_that_of_the_free_alkali_of_the_batch(taken: str, batch: str) -> None:
    """About 56 kJ/mol: a strong acid and a strong base in water (textbooks, from memory); a weak acid gives less."""
    answer = ask(A, soap(taken, batch_mass=batch))
    (told,) = re.findall(r"about ([\d.]+) kJ", message_of(answer, "acid-heats-caustic"))
    moles = answer["batch_free_alkali"]["value"] / NAOH
    assert 45 < float(told) / moles < 60


def test_the_steps_of_an_assay_of_soap_lead_from_one_to_the_next() -> None:
    back = {"molarity": normal(0.1, 0.0001, "mol/L"), "volume": "8 mL"}
    answer = ask(A, soap("10 mL", method="total-free", back_titration=back, batch_mass="12 kg"), explain=True)
    steps = {one["name"]: one for one in answer["steps"]}
    for name, taken, source in (
        ("acid put in", "normality", "normality of the acid"),
        ("free alkali of the sample", "acid", "acid put in"),
        ("free alkali of the sample", "left_over", "acid left over"),
        ("free alkali", "amount", "free alkali of the sample"),
        ("free alkali of the batch", "free_alkali", "free alkali"),
        ("acid to neutralise", "free_alkali", "free alkali of the batch"),
    ):
        assert steps[name]["inputs"][taken]["value"] == pytest.approx(steps[source]["result"]["value"], rel=1e-9)
    for name, member in (
        ("free alkali", "free_alkali"),
        ("free alkali of the batch", "batch_free_alkali"),
        ("acid to neutralise", "acid_to_neutralise"),
    ):
        assert steps[name]["result"]["value"] == pytest.approx(answer[member]["value"], rel=1e-9)


def test_every_assay_of_soap_says_what_is_none_and_that_young_soap_changes() -> None:
    for request in (soap("0.05 mL"), soap("5 mL", batch_mass="1 kg")):
        assert {"tongue-is-no-assay", "soap-still-reacts", "ethanol-ignites"} <= cautions(ask(A, request)).keys()


@pytest.mark.parametrize(("taken", "text"), [("90 mL", "3.6 % free"), ("3000 mL", "than there is soap")])
def test_more_free_alkali_than_any_batter_holds_is_told(taken: str, text: str) -> None:
    sample = {"sample_mass": "10 g" if text.endswith("soap") else "0.2 g"}
    found = fault(A, soap(taken if text.endswith("soap") else "9 mL", **sample), 422)
    assert found.pointer == "/sample_mass"
    assert ("than there is soap" in found.detail) is (taken == "3000 mL")
