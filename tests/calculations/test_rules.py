"""Rules between members: what is checked is what the contract states, for every choice of members."""

from itertools import combinations
from types import SimpleNamespace
from typing import Final

import pytest
from jsonschema_rs import Draft202012Validator

from service.calculations.shared.faults import Faulty
from service.calculations.shared.rules import (
    AtLeastOne,
    AtMostOne,
    ExactlyOne,
    NeverWith,
    OnlyWith,
    Rule,
    Together,
    members,
)

NAMES: Final = ("a", "b", "c", "d", "e", "f")
RULES: Final[list[Rule]] = [
    ExactlyOne(("a", "b")),
    ExactlyOne(NAMES),
    AtMostOne(("a", "b")),
    AtMostOne(("a", "b", "c")),
    AtMostOne(NAMES),
    AtLeastOne(("a", "b", "c")),
    OnlyWith("a", ("b",)),
    OnlyWith("a", ("b", "c")),
    NeverWith("a", ("b",), "they exclude each other", "leave one out"),
    NeverWith("a", ("b", "c"), "they exclude each other", "leave one out"),
    Together(("a", "b")),
    Together(("a", "b", "c")),
]
CHOICES: Final = [chosen for count in range(len(NAMES) + 1) for chosen in combinations(NAMES, count)]


def fault(rule: Rule, chosen: tuple[str, ...]) -> Faulty | None:
    """What a rule says where some members are given."""
    try:
        rule.check(SimpleNamespace(**{name: 1 if name in chosen else None for name in NAMES}))
    except Faulty as found:
        return found
    return None


def due(rule: Rule, chosen: tuple[str, ...]) -> bool:
    """What a rule means, by what its name says."""
    given = len(set(chosen) & members(rule))
    match rule:
        case ExactlyOne():
            return given == 1
        case AtMostOne():
            return given <= 1
        case AtLeastOne():
            return given >= 1
        case Together():
            return given in {0, len(members(rule))}
        case OnlyWith():
            return rule.name not in chosen or given > 1
        case NeverWith():
            return rule.name not in chosen or given == 1


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: f"{type(rule).__name__}-{len(members(rule))}")
def test_a_rule_takes_what_its_name_and_its_schema_say(rule: Rule) -> None:
    schema = Draft202012Validator({"type": "object", **rule.schema()})
    for chosen in CHOICES:
        taken = fault(rule, chosen) is None
        assert taken == due(rule, chosen), chosen
        assert taken == schema.is_valid(dict.fromkeys(chosen, 1)), chosen
        nulls = dict.fromkeys(NAMES) | dict.fromkeys(chosen, 1)
        assert taken == schema.is_valid(nulls), chosen


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: f"{type(rule).__name__}-{len(members(rule))}")
def test_a_rule_speaks_of_its_own_members_alone(rule: Rule) -> None:
    own = members(rule)
    assert own == ({rule.name, *rule.beside} if isinstance(rule, OnlyWith | NeverWith) else set(rule.names))
    for chosen in CHOICES:
        found = fault(rule, chosen)
        assert (found is None) == (fault(rule, tuple(name for name in chosen if name in own)) is None)
        if found is not None and found.within:
            assert found.within.removeprefix("/") in own


def test_members_that_are_told_as_given_are_those_to_choose_from() -> None:
    for rule in (ExactlyOne(NAMES), AtMostOne(NAMES)):
        for chosen in CHOICES:
            found = fault(rule, chosen)
            if found is not None and chosen:
                told = found.mend.removeprefix("keep one of ")
                assert f"{told} are given" in found.detail
                assert all(name in chosen for name in told.replace(" and ", ", ").split(", "))


@pytest.mark.parametrize("count", range(2, 12))
def test_every_member_that_may_be_given_is_named_or_counted(count: int) -> None:
    names = tuple("abcdefghijk"[:count])
    rule = ExactlyOne(names)
    with pytest.raises(Faulty) as refused:
        rule.check(SimpleNamespace(**dict.fromkeys(names)))
    listed = refused.value.detail.removeprefix("exactly one of ").partition(" is due")[0]
    *most, last = listed.replace(" or ", ", ").split(", ")
    told = [*most, *([] if last.endswith(" others") else [last])]
    assert told == list(names[: len(told)])
    assert len(told) + (int(last.split()[0]) if last.endswith(" others") else 0) == count
    assert refused.value.mend.endswith(f"such as {names[0]}")


@pytest.mark.parametrize(
    ("names", "listed"), [(("a",), "a"), (("a", "b"), "a or b"), (("a", "b", "c"), "a, b or c")], ids=str
)
def test_members_are_listed_as_a_sentence_lists_them(names: tuple[str, ...], listed: str) -> None:
    found = fault(AtLeastOne(names), ())
    assert found is not None
    assert found.detail == f"none of {listed} is given"


def test_what_lacks_is_pointed_at_in_the_order_of_the_contract() -> None:
    rule = Together(("a", "b", "c"))
    for chosen, first in ((("a",), "b"), (("b",), "a"), (("a", "b"), "c"), (("b", "c"), "a")):
        found = fault(rule, chosen)
        assert found is not None
        assert (found.code, found.within) == ("missing-member", f"/{first}")
        lacking = [name for name in rule.names if name not in chosen]
        assert all(name in found.mend for name in lacking)
