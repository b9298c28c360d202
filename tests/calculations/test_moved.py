"""What one calculation notes for another is told where the request has it, and nothing of it is lost."""

import pytest

from service.calculations.orders.moved import RECIPE, moved, take_over, within
from service.calculations.shared.faults import Refusal
from service.calculations.shared.notes import Notes


@pytest.mark.parametrize(
    ("pointer", "due"),
    [
        ("/stocks", "/stocks"),
        ("/stocks/0/mass", "/stocks/0/mass"),
        ("/stocksy", "/recipe/stocksy"),
        ("/fats/0/fat", "/recipe/fats/0/fat"),
        ("", "/recipe"),
    ],
)
def test_what_belongs_to_the_recipe_is_told_below_it(pointer: str, due: str) -> None:
    assert moved(pointer, RECIPE) == due


def test_a_pointer_that_fits_nowhere_stays() -> None:
    assert moved("/vessel", [("/fats", "/recipe/fats")]) == "/vessel"
    assert moved("/fats/1", [("/fats", "/recipe/fats")]) == "/recipe/fats/1"
    assert moved("/fat", [("/fats", "/recipe/fats")]) == "/fat"


def test_inside_everything_moves_and_what_was_noted_before_stays() -> None:
    notes = Notes()
    notes.assume("/superfat", "5 %", "usual")
    notes.fault("/fats", "contradiction", "one", "mend it")
    with within(notes, RECIPE):
        notes.assume("/superfat", "5 %", "usual")
        notes.fault("/fats", "contradiction", "two", "mend it")
    assert [one.pointer for one in notes.assumed] == ["/superfat", "/recipe/superfat"]
    assert [one.pointer for one in notes.faults] == ["/fats", "/recipe/fats"]


def test_a_refusal_inside_is_a_refusal_of_the_request() -> None:
    """RFC 9110, section 15.5.21: 422 is for content that is understood and cannot be processed."""
    notes = Notes()
    notes.fault("/fats", "contradiction", "one", "mend it")
    notes.untold = 3

    def refusing() -> None:
        with within(notes, RECIPE):
            notes.assume("/superfat", "5 %", "usual")
            raise notes.refuse("/stocks/0", "contradiction", "two", "mend it")

    with pytest.raises(Refusal) as refused:
        refusing()
    assert refused.value.status == 422
    assert [one.pointer for one in refused.value.faults] == ["/fats", "/stocks/0"]
    assert refused.value.count == 5  # with three of which only the number is known
    assert [one.pointer for one in notes.assumed] == ["/recipe/superfat"]


def asked() -> Notes:
    told = Notes(explain=True)
    told.fault("/fats/0", "contradiction", "one", "mend it")
    told.untold = 2
    told.caution("keep-from-children", "keep it")
    told.caution("vessel-closed", "open it")
    for pointer in ("/prices", "/prices/0/per", "/pricesy", "/fats"):
        told.assume(pointer, "1", "usual")
    told.step("sum", "a", {"a": (1.0, "g")}, (1.0, "g"), "arithmetic")
    return told


def test_what_another_calculation_noted_is_taken_over_once() -> None:
    notes = Notes(explain=True)
    notes.fault("/scale_to", "contradiction", "none", "mend it")
    notes.untold = 1
    take_over(asked(), notes, RECIPE, cautions=frozenset({"vessel-closed"}), assumed=["/liquids", "/prices"])
    assert [one.pointer for one in notes.faults] == ["/scale_to", "/recipe/fats/0"]
    assert notes.untold == 3
    assert [one.code for one in notes.cautions] == ["vessel-closed"]
    assert [one.pointer for one in notes.assumed] == ["/recipe/prices", "/recipe/prices/0/per"]
    assert [one.name for one in notes.steps] == ["sum"]


def test_cautions_are_all_told_on_unless_some_are_chosen_and_assumptions_none() -> None:
    notes = Notes()
    take_over(asked(), notes, RECIPE)
    assert [one.code for one in notes.cautions] == ["keep-from-children", "vessel-closed"]
    assert notes.assumed == []
    assert notes.steps == []  # nobody asked for them
