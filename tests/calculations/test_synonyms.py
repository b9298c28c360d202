"""Members by other words of the trade: the word leads to a member that is there, or spelling does."""

import pytest

from service.calculations.shared.synonyms import SYNONYMS, likely_members


@pytest.mark.parametrize("word", SYNONYMS)
def test_a_word_of_the_trade_leads_to_the_members_that_are_there(word: str) -> None:
    meant = SYNONYMS[word]
    assert likely_members(word, meant) == list(meant)
    for one in meant:
        assert likely_members(f" {word.upper()} ", [one, "qqqq"]) == [one]
    assert not set(likely_members(word, ["qqqq", "zzzz"])) & set(meant)


def test_a_word_whose_members_are_elsewhere_leads_to_what_is_spelt_like_it() -> None:
    assert likely_members("oils", ["oil_mass", "fats"]) == ["fats"]
    assert likely_members("tank", ["tanks", "reference"]) == ["tanks"]


def test_any_other_word_leads_to_what_is_spelt_like_it() -> None:
    assert likely_members("superfatt", ["superfat", "fats"])[0] == "superfat"
    assert likely_members("qqqq", ["superfat", "fats"]) == []


def test_what_stands_far_behind_a_word_bears_on_neither_way() -> None:
    """A member of a million letters is looked at no longer than one of a hundred."""
    blanks = " " * 1000
    assert likely_members(f"oils{blanks}x", ["fats"]) == ["fats"]
    assert likely_members(f"superfat{blanks}x", ["superfat"]) == ["superfat"]
