"""The fast way of reading a request and the slow one: what the one takes, the other finds no fault with.

The requests here are small ones made for it, so that every shape a member can have is met.
"""

import json
from typing import Annotated, Any, ClassVar, Final, Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import Meta

from service.calculations.shared.decoding import decoder
from service.calculations.shared.faults import Fault, Refusal
from service.calculations.shared.given import Fraction, Mass, Ratio, Volume
from service.calculations.shared.identifiers import FORM, SHELF
from service.calculations.shared.mends import MOST_NAMES, known_here
from service.calculations.shared.rules import ExactlyOne, Rule, Ruled


class Part(Ruled, kw_only=True):
    """A part."""

    mass: Mass | None = None
    volume: Volume | None = None
    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("mass", "volume")),)


class Whole(Ruled, kw_only=True):
    """Members of every shape."""

    word: Literal["one", "two"]
    number: Annotated[float, Meta(ge=0, le=70)] | None = None
    open_number: Annotated[float, Meta(gt=0, lt=70)] | None = None
    count: Annotated[int, Meta(ge=1, le=9)] | None = None
    text: Annotated[str, Meta(min_length=1, max_length=5)] | None = None
    formed: Annotated[str, Meta(pattern="^[A-Z]+$", extra={FORM: "write it in capitals"})] | None = None
    plain: str | None = None
    flag: bool | None = None
    part: Part | None = None
    either: Literal["none"] | Part | None = None
    parts: Annotated[list[Part], Meta(min_length=1, max_length=2)] | None = None
    fat: Annotated[str, Meta(min_length=1, max_length=12, extra={SHELF: "fats"})] | None = None
    shares: Annotated[dict[Annotated[str, Meta(max_length=4)], float], Meta(min_length=1, max_length=2)] | None = None
    reference: str | None = None


read = decoder(Whole)
GRAM: Final = {"mass": "1 g"}

SOUND: Final[list[dict[str, Any]]] = [
    {"number": 0},
    {"number": 70},
    {"number": 0.5},
    {"open_number": 0.001},
    {"open_number": 69.9},
    {"count": 1},
    {"count": 9},
    {"count": 9.0},
    {"text": "x"},
    {"text": "xxxxx"},
    {"formed": "ABC"},
    {"plain": ""},
    {"flag": False},
    {"part": GRAM},
    {"part": {"volume": "1 L", "mass": None}},
    {"either": "none"},
    {"either": GRAM},
    {"parts": [GRAM]},
    {"parts": [GRAM, GRAM]},
    {"fat": "olive-oil"},
    {"shares": {"abcd": 1}},
    {"shares": {"a": 1, "b": 2.5}},
    {"number": None, "part": None, "parts": None, "reference": None},
]
FAULTY: Final[list[tuple[dict[str, Any], str, str]]] = [
    ({"number": -0.001}, "/number", "out-of-range"),
    ({"number": 70.001}, "/number", "out-of-range"),
    ({"number": "5"}, "/number", "wrong-type"),
    ({"number": True}, "/number", "wrong-type"),
    ({"open_number": 0}, "/open_number", "out-of-range"),
    ({"open_number": 70}, "/open_number", "out-of-range"),
    ({"count": 0}, "/count", "out-of-range"),
    ({"count": 10}, "/count", "out-of-range"),
    ({"count": 1.5}, "/count", "wrong-type"),
    ({"text": ""}, "/text", "too-few"),
    ({"text": "xxxxxx"}, "/text", "too-long"),
    ({"text": 5}, "/text", "not-text"),
    ({"formed": "abc"}, "/formed", "wrong-type"),
    ({"formed": 5}, "/formed", "not-text"),
    ({"plain": []}, "/plain", "not-text"),
    ({"flag": 1}, "/flag", "wrong-type"),
    ({"part": []}, "/part", "wrong-type"),
    ({"part": {}}, "/part", "choose-one"),
    ({"part": {"mass": 1}}, "/part/mass", "bare-number"),
    ({"part": {"mass": "1 L"}}, "/part/mass", "volume-for-mass"),
    ({"either": "some"}, "/either", "not-one-of"),
    ({"either": {"mass": 1}}, "/either/mass", "bare-number"),
    ({"parts": []}, "/parts", "too-few"),
    ({"parts": [GRAM] * 3}, "/parts", "too-many"),
    ({"parts": {}}, "/parts", "wrong-type"),
    ({"parts": [GRAM, {"mass": 1}]}, "/parts/1/mass", "bare-number"),
    ({"fat": ""}, "/fat", "too-few"),
    ({"fat": "x" * 13}, "/fat", "too-long"),
    ({"fat": 1}, "/fat", "not-text"),
    ({"shares": {}}, "/shares", "too-few"),
    ({"shares": {"a": 1, "b": 1, "c": 1}}, "/shares", "too-many"),
    ({"shares": {"abcde": 1}}, "/shares/abcde", "too-long"),
    ({"shares": {"a": "1"}}, "/shares/a", "wrong-type"),
    ({"shares": []}, "/shares", "wrong-type"),
    ({"word": "three"}, "/word", "not-one-of"),
    ({"word": None}, "/word", "not-one-of"),
    ({"other": 1}, "/other", "unknown-member"),
    ({"shelf": None}, "/shelf", "unknown-member"),
]


def told(body: bytes) -> Refusal:
    with pytest.raises(Refusal) as refused:
        read(body)
    assert refused.value.status == 400
    return refused.value


def faults(request: Any) -> list[Fault]:
    return list(told(json.dumps(request).encode()).faults)


@pytest.mark.parametrize("members", SOUND, ids=str)
def test_what_is_sound_is_read_and_is_no_fault_beside_one(members: dict[str, Any]) -> None:
    assert isinstance(read(json.dumps({"word": "one", **members}).encode()), Whole)
    (one,) = faults({"word": "three", **members})
    assert one.pointer == "/word"


@pytest.mark.parametrize(("members", "pointer", "code"), FAULTY, ids=lambda row: str(row)[:40])
def test_what_is_faulty_is_told_at_its_place_and_nothing_else_is(
    members: dict[str, Any], pointer: str, code: str
) -> None:
    (one,) = faults({"word": "one", **members})
    assert (one.pointer, one.code) == (pointer, code)
    assert one.detail
    assert one.mend


SHAPES = (
    st.none() | st.booleans() | st.integers(-2, 80) | st.floats(-1, 80) | st.sampled_from(["", "one", "1 g", "1 L"])
)
ANYTHING = st.recursive(
    SHAPES,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["mass", "volume", "a", "abcde"]), inner, max_size=3)
    ),
    max_leaves=6,
)


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(st.sampled_from(Whole.__struct_fields__), ANYTHING, max_size=4))
def test_whatever_is_refused_is_told_with_a_fault_of_its_own(request_: dict[str, Any]) -> None:
    """Where the two ways did not agree, the whole body would be said not to fit the contract."""
    told: list[Fault] = []
    try:
        read(json.dumps({"word": "one", **request_}).encode())
    except Refusal as refused:
        told = list(refused.faults)
    assert all(one.pointer for one in told)


# What a mending says


def test_a_missing_member_is_shown_as_it_is_written() -> None:
    (one,) = faults({"part": GRAM})
    assert (one.pointer, one.code) == ("/word", "missing-member")
    assert one.mend == "give word: 'one' or 'two'"


class Missing(Ruled, kw_only=True):
    """Members that are due, of every shape that is shown."""

    mass: Mass
    parts: Annotated[list[Whole], Meta(description="Some.")]
    masses: list[Mass]
    part: Whole
    text: str


def test_what_is_due_is_shown_by_its_shape() -> None:
    with pytest.raises(Refusal) as refused:
        decoder(Missing)(b"{}")
    told = {one.pointer: one.mend for one in refused.value.faults}
    assert told == {
        "/mass": f"give mass, as in '{Mass.kind.example}'",
        "/parts": "give parts, a list of objects with word, number, open_number",
        "/masses": f"give masses, a list, as in '{Mass.kind.example}'",
        "/part": "give part, an object with word, number, open_number",
        "/text": "give text",
    }


def test_an_object_that_is_due_is_shown_with_the_members_that_it_needs_first() -> None:
    class Needy(Ruled, kw_only=True):
        reference: str
        first: str | None = None
        second: str

    with pytest.raises(Refusal) as refused:
        decoder(Needy)(b"[]")
    assert refused.value.faults[0].mend == "write {...} with second, first"


def test_of_more_members_than_a_message_holds_their_number_is_told() -> None:
    fields: dict[str, Any] = dict.fromkeys(f"a{number:02}" for number in range(MOST_NAMES))
    assert known_here(fields) == f"use one of {', '.join(fields)}"
    assert known_here({**fields, "more": None}) == f"leave it out; /docs lists all {MOST_NAMES + 1}"  # type: ignore[dict-item]


class Told(Ruled, kw_only=True):
    """A quantity of two kinds, and how well it is known."""

    share: Fraction | None = None
    ratio: Ratio | None = None
    other_share: Annotated[Fraction, Meta(description="Another.")] | None = None
    mass: Mass | None = None
    uncertainty: Mass | None = None


class Telling(Ruled, kw_only=True):
    told: Told


@pytest.mark.parametrize(
    ("said", "mend"),
    [
        ("50 %", 'write {"share": "50 %"}, or other_share in place of share, as is meant'),
        ({"value": 3, "unit": "g"}, 'write {"mass": {"value": 3, "unit": "g"}}'),
        ("3 g", 'write {"mass": "3 g"}'),
        ("3", "write {...} with share, ratio, other_share"),
        (f"3 g{' ' * 40}", "write {...} with share, ratio, other_share"),
        (50, "write {...} with share, ratio, other_share"),
        (0.5, "write {...} with share, ratio, other_share"),
        ([], "write {...} with share, ratio, other_share"),
    ],
)
def test_a_quantity_in_place_of_an_object_is_written_as_the_member_it_can_be(said: object, mend: str) -> None:
    with pytest.raises(Refusal) as refused:
        decoder(Telling)(json.dumps({"told": said}).encode())
    (fault,) = refused.value.faults
    assert (fault.pointer, fault.code, fault.mend) == ("/told", "wrong-type", mend)


def test_members_are_listed_as_long_as_a_message_holds_them() -> None:
    (few,) = faults({"word": "one", "part": {"mass": "1 g", "qqqq": 1}})
    assert few.mend == "use one of mass, volume"
    count = len(Whole.__struct_fields__)
    assert count < MOST_NAMES
    (more,) = faults({"word": "one", "qqqq": 1})
    assert more.mend == f"use one of {', '.join(sorted(Whole.__struct_fields__))}"


def test_a_volume_where_one_may_be_given_is_a_slip_of_the_name() -> None:
    (one,) = faults({"word": "one", "part": {"mass": "1 L"}})
    assert one.mend == "give it under volume in place of mass"


class Poured(Ruled, kw_only=True):
    """A mass without a volume beside it, of what burns and of what does not."""

    stock: Part | None = None
    fat_mass: Mass | None = None
    stocks: list[Mass] | None = None


def test_a_volume_for_a_mass_of_caustic_is_told_with_the_harm_it_does() -> None:
    def detail(request: Any) -> str:
        with pytest.raises(Refusal) as refused:
            decoder(Poured)(json.dumps(request).encode())
        (one,) = refused.value.faults
        assert one.code == "volume-for-mass"
        return one.detail

    assert "too much alkali" in detail({"stocks": ["1 L"]})
    other = detail({"fat_mass": "1 L"})
    assert other.startswith("'L' is a volume, and a mass is due")
    assert "alkali" not in other


def test_an_unknown_fat_is_told_beside_another_fault() -> None:
    codes = {one.pointer: one.code for one in faults({"word": "three", "fat": "qqqq"})}
    assert codes == {"/word": "not-one-of", "/fat": "unknown-identifier"}
    assert [one.pointer for one in faults({"word": "three", "fat": "olive-oil"})] == ["/word"]
