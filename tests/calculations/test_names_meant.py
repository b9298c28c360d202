"""What a caller may have meant, and what a caller wrote, as messages show it."""

from types import SimpleNamespace
from typing import Final, get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.calculations.shared.fault_meanings import MEANINGS
from service.calculations.shared.faults import (
    FAULT_CODES,
    LONGEST_SOUGHT,
    MOST_FAULTS,
    Fault,
    FaultCode,
    Named,
    Refusal,
    meant,
    near,
    nearest,
    nearest_entries,
    quoted,
)
from service.reference import reference_data

FATS: Final = reference_data().fats


def test_every_code_is_explained_and_every_explanation_is_of_a_code() -> None:
    assert set(MEANINGS) == set(FAULT_CODES) == set(get_args(FaultCode))
    assert all(one.endswith(".") for one in MEANINGS.values())


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("sweet-almond-oil", "almond-oil"),
        ("Extra Virgin Olive Oil", "olive-oil"),
        ("refined coconut oil", "coconut-oil"),
        ("organic unrefined shea butter", "shea-butter"),
        ("cacao butter", "cocoa-butter"),
    ],
)
def test_words_of_how_a_fat_was_made_or_bought_are_let_go(word: str, meant: str) -> None:
    assert nearest_entries(word, FATS)[0] == meant


@pytest.mark.parametrize("word", ["fractionated coconut oil", "sweet oil", "hydrogenated soybean", "crude tall oil"])
def test_words_that_make_another_fat_are_not_let_go(word: str) -> None:
    assert nearest_entries(word, FATS) == []


# Refusals


@pytest.mark.parametrize(("found", "untold"), [(1, 0), (3, 0), (MOST_FAULTS, 7), (MOST_FAULTS + 5, 0)])
def test_a_refusal_counts_what_it_does_not_tell(found: int, untold: int) -> None:
    faults = [Fault("contradiction", "two things", "choose", f"/{number}") for number in range(found)]
    refused = Refusal(422, iter(faults), untold)
    assert refused.count == found + untold
    assert list(refused.faults) == faults[:MOST_FAULTS]
    assert all(one.detail in str(refused) for one in refused.faults)


# Quotations


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=80))
def test_what_is_quoted_is_the_beginning_of_what_was_written(text: str) -> None:
    shown = quoted(text)
    assert len(shown) <= 63
    begun = [repr(text[:length]) for length in range(4, 41)]
    assert shown == repr(text) or shown in {f"{one[:-1]}...{one[-1]}" for one in begun}


@pytest.mark.parametrize("text", ["", "a", "oil", "x" * 40, "\n" * 18 + "x" * 22, "it's"])
def test_what_a_message_can_hold_is_quoted_whole(text: str) -> None:
    assert quoted(text) == repr(text)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("x" * 41, repr("x" * 40)),
        ("\n" * 19 + "x" * 21, repr("\n" * 19 + "x")),
        ("\n" * 40, repr("\n" * 20)),
        ("\U000e0001" * 40, repr("\U000e0001" * 4)),
        ("it's" * 20, repr("it's" * 10)),
    ],
)
def test_the_most_that_a_message_can_hold_is_quoted_of_what_is_longer(text: str, shown: str) -> None:
    assert quoted(text) == f"{shown[:-1]}...{shown[-1]}"


# Names


def test_names_that_may_be_meant_end_a_sentence() -> None:
    assert meant([]) == ""
    assert meant(["a"]) == " (did you mean 'a'?)"
    assert meant(["a", "b"]) == " (did you mean 'a' or 'b'?)"
    assert near("superfatt", ["superfat", "fats"]) == " (did you mean 'superfat'?)"
    assert near("qqqq", ["superfat", "fats"]) == ""


def test_a_name_but_for_its_case_and_blanks_is_meant_alone() -> None:
    assert nearest(" Mass ", ["masses", "mass", "mas"]) == ["mass"]
    assert nearest("massa", ["masses", "mass", "mas"]) != ["mass"]


def test_no_name_is_too_long_to_be_sought() -> None:
    data = reference_data()
    shelves = (data.fats, data.liquids, data.acids, data.vessel_materials, data.fatty_acids)
    assert max(len(name) for one in shelves for name in one) < LONGEST_SOUGHT
    longest = "x" * (LONGEST_SOUGHT - 1)
    assert nearest(longest.upper(), [longest]) == [longest]
    entries: dict[str, Named] = {longest: SimpleNamespace(name="x")}
    assert nearest_entries(longest.upper(), entries) == [longest]
    behind = " " * LONGEST_SOUGHT + "soap" * 100_000
    assert nearest(f"mass{behind}", ["mass"]) == ["mass"]
    assert nearest_entries(f"olive oil{behind}", FATS) == ["olive-oil"]


def test_an_identifier_or_a_name_in_any_case_is_meant_alone() -> None:
    for identifier in FATS:
        assert nearest_entries(identifier.upper().replace("-", "_"), FATS) == [identifier]


def test_words_of_an_identifier_tell_more_than_those_of_a_name_and_whole_ones_more_than_beginnings() -> None:
    entries: dict[str, Named] = {
        "begun": SimpleNamespace(name="palmy"),
        "palms": SimpleNamespace(name="other"),
        "named": SimpleNamespace(name="palm stearin"),
        "palm-x": SimpleNamespace(name="other"),
    }
    assert nearest_entries("palm", entries) == ["palm-x", "named", "palms"]


def test_the_telling_words_lead_and_the_common_ones_do_not() -> None:
    """Every second fat is an oil, so that oil alone leads nowhere."""
    assert nearest_entries("corn oil", FATS)[0] == "maize-oil"
    assert all("palm" in one for one in nearest_entries("palm fat", FATS))
    for word in ("oil", "fat", "oil of fat"):
        assert nearest_entries(word, FATS) == []
    assert len(nearest_entries("palm", FATS)) <= 3


def test_a_slip_of_the_pen_is_found_and_what_is_merely_alike_is_not() -> None:
    assert nearest_entries("olvie-oil", FATS) == ["olive-oil"]
    assert nearest_entries("qqqq", FATS) == []
