"""Bodies of any size and depth: read where a request may be so, else refused, with what is wrong and how much of it."""

import json
from typing import Annotated, Any, Literal

import pytest
from msgspec import Meta

from service.calculations.shared.decoding import BYTE_ORDER_MARK, MOST_ENTRIES, MOST_PARTS, decoder
from service.calculations.shared.faults import MOST_FAULTS, Refusal
from service.calculations.shared.given import Mass
from service.calculations.shared.rules import Ruled


class Body(Ruled, kw_only=True):
    """A request."""

    word: Literal["one", "two"]
    plain: str | None = None
    count: Annotated[int, Meta(ge=1, le=9)] | None = None
    parts: Annotated[list[Mass], Meta(min_length=1)] | None = None


read = decoder(Body)


def told(body: bytes) -> Refusal:
    with pytest.raises(Refusal) as refused:
        read(body)
    assert refused.value.status == 400
    return refused.value


def test_a_body_may_begin_with_the_mark_of_its_encoding() -> None:
    assert read(BYTE_ORDER_MARK + b'{"word": "one"}').word == "one"
    assert told(BYTE_ORDER_MARK + b'{"word": 1}').faults[0].pointer == "/word"


def test_no_more_faults_are_told_than_a_caller_can_read_and_the_others_are_counted() -> None:
    requests: list[dict[str, Any]] = [
        {"word": "one", **{f"unknown{number}": 1 for number in range(MOST_FAULTS + 7)}},
        {"word": "one", "parts": [], **{f"unknown{number}": 1 for number in range(MOST_FAULTS + 6)}},
    ]
    for request in requests:
        refused = told(json.dumps(request).encode())
        assert len(refused.faults) == MOST_FAULTS
        assert refused.count == MOST_FAULTS + 7


class Line(Ruled, kw_only=True):
    """Lists without an end of their own."""

    masses: list[Mass]


def test_faults_of_a_long_list_are_counted_beyond_those_that_are_told() -> None:
    with pytest.raises(Refusal) as refused:
        decoder(Line)(json.dumps({"masses": [1] * (MOST_FAULTS + 30)}).encode())
    assert [one.pointer for one in refused.value.faults] == [f"/masses/{number}" for number in range(MOST_FAULTS)]
    assert refused.value.count == MOST_FAULTS + 30


def test_a_long_body_is_read_as_a_short_one_is() -> None:
    text = "x" * 100_000
    assert read(json.dumps({"word": "one", "plain": text}).encode()).plain == text
    digits = ("1" * 150 + " ") * 1000
    assert read(json.dumps({"word": "one", "plain": digits}).encode()).plain == digits


def test_a_long_body_with_a_number_without_end_is_refused_before_it_is_read() -> None:
    """Reading such a number takes time by the square of its digits."""
    start = b'{"word": "one", "plain": "' + b"x" * 100_000 + b'", "count": '
    refused = told(start + b"1" * 401 + b"}")
    (one,) = refused.faults
    assert (one.code, one.pointer) == ("too-long", "")
    assert f"at byte {len(start) + 1} begins a number" in one.detail


def test_a_body_with_more_entries_than_any_request_is_refused_before_it_is_read() -> None:
    (one,) = told(b"[" + b"1," * (MOST_ENTRIES + 1) + b"1]").faults
    assert (one.code, one.pointer) == ("too-many", "")
    assert f"holds {MOST_ENTRIES + 1} members and entries, and at most {MOST_ENTRIES}" in one.detail


@pytest.mark.parametrize("bracket", ["[]", "{}"])
def test_a_body_of_nothing_but_brackets_is_refused_at_once(bracket: str) -> None:
    body = f"[{','.join([bracket] * MOST_PARTS)}]".encode()
    (one,) = told(body).faults
    assert (one.code, one.pointer) == ("too-many", "")
    assert f"holds {MOST_PARTS + 1} lists and objects" in one.detail


@pytest.mark.parametrize("body", [b"[" * 40_000, b'{"part":' * 40_000 + b"1" + b"}" * 40_000])
def test_a_body_that_is_nested_without_end_is_told_so(body: bytes) -> None:
    (one,) = told(body).faults
    assert (one.code, one.pointer) == ("malformed-json", "")
    assert "nested too deeply" in one.detail


def test_a_member_given_twice_is_told_beside_other_faults_and_alone() -> None:
    assert [one.code for one in told(b'{"word": "one", "word": "two"}').faults] == ["repeated-member"]
    codes = [one.code for one in told(b'{"word": "one", "word": "three"}').faults]
    assert sorted(codes) == ["not-one-of", "repeated-member"]


def test_whole_numbers_are_whole_in_every_way_json_has_up_to_where_floats_are_exact() -> None:
    for text in (b"3", b"3.0", b"3e0", b"0.3e1", b"30e-1"):
        assert read(b'{"word": "one", "count": ' + text + b"}").count == 3
