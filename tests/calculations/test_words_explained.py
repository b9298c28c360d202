"""The words that are explained: each has a place of its own on the page."""

import re

from service.calculations.shared.glossary import WORDS, Word


def test_every_place_is_a_fragment_of_the_words_letters_and_none_stands_twice() -> None:
    """Letters, digits and hyphens need no escape in the fragment of an address (RFC 3986, 2.3)."""
    anchors = [one.anchor for one in WORDS]
    assert len(set(anchors)) == len(anchors)
    for one in WORDS:
        assert one.anchor == one.anchor.strip("-")
        letters = [letter for letter in one.word.lower() if letter.isalnum()]
        assert [letter for letter in one.anchor if letter != "-"] == letters


def test_words_are_parted_by_hyphens() -> None:
    assert re.split("-+", Word("Degrees (of a scale), two", "").anchor) == ["degrees", "of", "a", "scale", "two"]
