"""Members that stand twice in an object of JSON: the sieve holds back every one, and each is told at its place.

An object with names that are not unique has no meaning on which programs agree (RFC 8259, 4).
"""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.calculations.shared.faults import MOST_FAULTS
from service.calculations.shared.repeats import may_repeat, pointer, repeated_members
from tests.calculations.asking import refusal


def at(body: str) -> list[str]:
    """Pointers of what is told of a body."""
    faults = repeated_members(body.encode())
    assert {one.code for one in faults} <= {"repeated-member"}
    return [str(one.pointer) for one in faults]


@pytest.mark.parametrize(
    ("body", "pointers"),
    [
        ('{"a": 1, "a": 1}', ["/a"]),
        ('{"a": 1, "b": 2, "a": 3, "b": 4, "c": 5}', ["/a", "/b"]),
        ('{"a": 1, "a": 2, "a": 3}', ["/a"]),
        ('{"a": {"b": 1, "b": 2}}', ["/a/b"]),
        ('[0, "x", {"a": 1}, {"a": 1, "a": 2}]', ["/3/a"]),
        ('{"x": 1, "y": null, "z": [[], [1, {"a": [], "a": {}}]]}', ["/z/1/1/a"]),
        ('{"a": [{"b": 1, "b": 1}], "c": [{"d": 1, "d": 1}]}', ["/a/0/b", "/c/0/d"]),
        ('{"m~n": {"a/b": 1, "a/b": 2}}', ["/m~0n/a~1b"]),
        ('{"a": 1, "\\u0061": 2}', ["/a"]),
    ],
)
def test_each_member_given_twice_is_told_once_at_its_place(body: str, pointers: list[str]) -> None:
    assert at(body) == pointers
    assert may_repeat(body.encode())


@pytest.mark.parametrize("body", ["{}", "[]", "1", '"a:b"', '{"a": 1, "b": {"a": 1}}', '[{"a": 1}, {"a": 1}]'])
def test_where_no_member_stands_twice_nothing_is_held_back(body: str) -> None:
    assert at(body) == []
    assert not may_repeat(body.encode())


@pytest.mark.parametrize("colon", ["\\u003a", "\\u003A"])
def test_a_colon_that_is_hidden_is_held_back(colon: str) -> None:
    """It makes up for the one of the member that decoding drops."""
    body = f'{{"a": 1, "a": "{colon}"}}'
    assert body.count(":") == json.dumps(json.loads(body)).count(":")
    assert may_repeat(body.encode())
    assert at(body) == ["/a"]


JSON = st.recursive(
    st.none() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=12,
)


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(st.text(max_size=3), JSON, min_size=1, max_size=4), st.data(), st.booleans())
def test_a_member_repeated_anywhere_in_any_body_is_found(
    said: dict[str, Any], data: st.DataObject, ascii_: bool
) -> None:
    sound = json.dumps(said, ensure_ascii=ascii_)
    assert repeated_members(sound.encode()) == []
    name = data.draw(st.sampled_from(sorted(said)))
    body = f"{sound[:-1]}, {json.dumps(name, ensure_ascii=ascii_)}: {json.dumps(data.draw(JSON))}}}"
    assert may_repeat(body.encode())
    assert [str(one.pointer) for one in repeated_members(body.encode())] == [pointer("", name)]


def test_no_more_are_told_than_of_any_faults() -> None:
    many = ", ".join(f'"m{number}": 1, "m{number}": 2' for number in range(MOST_FAULTS + 1))
    assert at(f"{{{many}}}") == [f"/m{number}" for number in range(MOST_FAULTS)]
    apart = ", ".join('{"a": 1, "a": 2}' for _ in range(MOST_FAULTS + 1))
    assert at(f"[{apart}]") == [f"/{number}/a" for number in range(MOST_FAULTS)]


def test_a_long_name_is_cut_alike_wherever_it_is_told() -> None:
    """A caller who looks for a member by what is told of it looks for one text, whatever is wrong with it."""
    name = "x" * 100
    (unknown,) = refusal("saponification", {"fats": [{"fat": "olive-oil", "mass": "1 kg"}], name: 1}).faults
    assert unknown.code == "unknown-member"
    assert at(f'{{"{name}": 1, "{name}": 1}}') == [unknown.pointer]
    assert at(f'{{"{name}": {{"a": 1, "a": 1}}}}') == [f"{unknown.pointer}/a"]


def test_nesting_of_any_depth_is_told_or_refused() -> None:
    deep = "[" * 500 + '{"a": 1, "a": 2}' + "]" * 500
    assert at(deep) == ["/0" * 500 + "/a"]
