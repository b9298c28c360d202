"""The page of words: every word of a member's name is an everyday one, or explained there once."""

import json
import re
from collections import Counter
from pathlib import Path

from service.calculations.shared.glossary import WORDS
from tests.asgi import Caller

EVERYDAY = Path(__file__).with_name("everyday_words.txt")
CONTRACT = Path(__file__).parents[2] / "openapi" / "openapi.json"
LONGEST = 30
"""Words of a sentence; a longer one is hard to follow (common practice, no source)."""


def _words_of_members() -> set[str]:
    schemas = json.loads(CONTRACT.read_bytes())["components"]["schemas"].values()
    return {word for schema in schemas for name in schema.get("properties", {}) for word in name.split("_")}


def test_each_word_of_a_member_is_explained_or_an_everyday_one() -> None:
    everyday = set(EVERYDAY.read_text().partition("\n\n")[2].split())
    explained = {member for word in WORDS for member in word.members}
    used = _words_of_members()
    assert used - everyday - explained == set(), "explain these in glossary.py, or add them to everyday_words.txt"
    assert (everyday | explained) - used == set(), "nothing is named so any more"
    assert everyday & explained == set()


def test_each_is_explained_once_in_the_order_of_the_alphabet() -> None:
    names = [word.word for word in WORDS]
    assert names == sorted(names, key=str.casefold)
    assert max(Counter(names).values()) == 1
    assert max(Counter(member for word in WORDS for member in word.members).values()) == 1


def test_each_explanation_is_short() -> None:
    sentences = [one for word in WORDS for one in re.split(r"(?<=[.:;])\s", word.meaning)]
    assert [one for one in sentences if len(one.split()) > LONGEST] == []


def test_the_page_shows_each_at_a_place_of_its_own(call: Caller) -> None:
    body = call("GET", "/words").body.decode()
    places = re.findall(r"<dt id='([^']+)'><b>", body)
    assert places == [word.anchor for word in WORDS]
    assert max(Counter(places).values()) == 1


def test_other_pages_lead_there(call: Caller) -> None:
    assert all(
        b"href='/words'" in call("GET", at).body or b'href="/words"' in call("GET", at).body
        for at in ("/", "/problems")
    )
