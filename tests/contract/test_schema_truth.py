"""The schemas of requests say neither more nor less than what is read.

Whatever fits a schema is read, but for what no schema can say (UNSAYABLE); whatever does not fit is refused with 400.
"""

import copy
import json
import random
from collections import Counter
from typing import Any, Final

import pytest

from service.calculations.registry import calculations
from service.calculations.shared import messages
from service.calculations.shared.faults import Faulty, Refusal
from service.calculations.shared.given import GIVEN, Ratio
from service.calculations.shared.reading import LONGEST_TEXT, Given
from service.calculations.shared.rules import (
    AtLeastOne,
    AtMostOne,
    ExactlyOne,
    NeverWith,
    OnlyWith,
    Rule,
    Ruled,
    Together,
)
from tests.contract.documents import DOCUMENT, POSTS, SCHEMAS, component, request_examples, request_schema, validator
from tests.contract.fuzzing import UNSAYABLE

KINDS: Final = [given for given in GIVEN if given.__name__ in SCHEMAS]


def named(given: type[Given]) -> str:
    return given.__name__


def code_of(given: type[Given], said: object) -> str:
    """The code of the fault of a quantity; nothing where it is read."""
    try:
        given.read(said)
    except Faulty as fault:
        return fault.code
    return ""


def agree(given: type[Given], said: object) -> bool:
    """Whether schema and service say the same of a quantity, but for its range.

    Returns:
        Whether it was read.
    """
    code = code_of(given, said)
    fits = component(given.__name__).is_valid(said)
    assert fits == (code == "") or (fits and code in UNSAYABLE), (given.__name__, said, code, fits)
    return code == ""


def middle(given: type[Given]) -> float:
    """A value that is read [SI]."""
    low, high = given.limits()
    return min(max(low, 0.6), high)


def test_every_kind_of_quantity_that_requests_hold_has_a_component() -> None:
    assert {given.__name__ for given in GIVEN} - SCHEMAS.keys() == set()


# --- units -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("given", KINDS, ids=named)
def test_every_spelling_of_a_unit_is_read_in_text_and_object(given: type[Given]) -> None:
    for word, unit in given.kind.units.items():
        number = unit.from_si(middle(given))
        assert agree(given, {"value": number, "unit": word})
        if issubclass(given, Ratio):
            assert agree(given, f"{number:.6f}:1")
        elif not word[0].isdigit():
            assert agree(given, f"{number:.12g} {word}")
            assert agree(given, f"{number:.12g}{word}")


@pytest.mark.parametrize("given", KINDS, ids=named)
def test_near_misses_of_units_are_refused_by_schema_and_service(given: type[Given]) -> None:
    known = given.kind.units
    every = {word for other in GIVEN for word in other.kind.units}
    misses = {wrong for word in known for wrong in misspelled(word)} | every
    refused = 0
    for word in misses - known.keys():
        number = 0.6
        assert not agree(given, {"value": number, "unit": word}), word
        refused += 1
        if not issubclass(given, Ratio) and word.strip() not in known:
            assert not agree(given, f"{number} {word}"), word
    assert refused > 20


def misspelled(word: str) -> list[str]:
    """Words close to a unit: other cases, a letter more, less or twice, blanks, look-alikes."""
    return [
        *(word.upper(), word.lower(), word.title(), word.swapcase()),
        *(word + "s", word + ".", word + " ", " " + word, word + "\n", "µ" + word, word + "\u200b", word + "2"),
        *(word[:-1], word[1:], word * 2, word.replace(" ", "  "), word.replace("/", " / "), word.replace("/", "∕")),
        *(word.replace("3", "4"), word.replace("°", "º"), word.replace("_", "-"), ""),
    ]


@pytest.mark.parametrize("given", KINDS, ids=named)
def test_forms_of_a_quantity_are_those_of_its_schema(given: type[Given]) -> None:
    unit = given.kind.metric
    number = unit.from_si(middle(given))
    whole = {"value": number, "low": number, "high": number, "uncertainty": 0.0, "unit": unit.symbol}
    read = 0
    for chosen in range(32):
        said = {name: one for place, (name, one) in enumerate(whole.items()) if chosen >> place & 1}
        read += agree(given, said)
        agree(given, said | {"other": 1})
    assert read == (4 if given.spread_counts else 2)
    for other in (None, True, [], [number], "", " ", "x", number, 0, 1, 1.5, -1, 10**400):
        agree(given, other)
        agree(given, {"value": other, "unit": unit.symbol})
        agree(given, {"value": number, "unit": other})
        agree(given, {"value": number, "uncertainty": other, "unit": unit.symbol})


@pytest.mark.parametrize("given", KINDS, ids=named)
def test_texts_are_read_up_to_their_longest(given: type[Given]) -> None:
    word = "" if issubclass(given, Ratio) else next(one for one in given.kind.units if not one[0].isdigit())
    text = "2:1" if issubclass(given, Ratio) else f"{given.kind.units[word].from_si(middle(given)):.12g} "
    assert agree(given, text + word)
    for blanks in range(7):
        agree(given, " " * blanks + text + word)
        agree(given, text + word + " " * blanks)
        agree(given, text + " " * blanks + word)
        agree(given, text + word + "\n" * blanks)
    for digits in (38, 39, 40, 41, LONGEST_TEXT):
        agree(given, "0" * digits + text + word)
        for end in ("", "e5", ".5", ".5e-3", "e", ":1", ":1e5"):
            agree(given, "0" * digits + end)
    assert not agree(given, text + " " * LONGEST_TEXT + word)


# --- ranges ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("given", KINDS, ids=named)
def test_ends_of_a_range_are_taken_and_what_lies_beyond_is_refused(given: type[Given]) -> None:
    low, high = given.limits()
    for unit in given.kind.units.values():
        width = 1e-6 * max(abs(low), abs(high), high - low if low == 0 else 0.0)
        inside = unit.from_si(low + min(width, 1e-6 * abs(low) or width)), unit.from_si(high - 1e-6 * abs(high))
        for number in inside:
            assert agree(given, {"value": number, "unit": unit.symbol}), (number, unit)
        for number in (unit.from_si(low - 1e-3 * (abs(low) or width)), unit.from_si(high + 1e-3 * abs(high))):
            assert code_of(given, {"value": number, "unit": unit.symbol}) == "out-of-range"
    assert agree(given, {"value": given.kind.metric.from_si(low), "unit": given.kind.metric.symbol})


@pytest.mark.parametrize("given", KINDS, ids=named)
def test_object_form_has_the_range_of_the_units_in_which_it_is_widest(given: type[Given]) -> None:
    exact = next(one for one in SCHEMAS[given.__name__]["oneOf"] if one["title"].endswith("as value and unit"))
    least, most = exact["properties"]["value"]["minimum"], exact["properties"]["value"]["maximum"]
    low, high = given.limits()
    units = given.kind.units.values()
    assert least == min(unit.from_si(end) for unit in units for end in (low, high))
    assert most == max(unit.from_si(end) for unit in units for end in (low, high))
    for number in (least - abs(least) * 1e-3 - 1e-12, most * 1.001):
        for unit in units:
            assert not agree(given, {"value": number, "unit": unit.symbol})


@pytest.mark.parametrize("given", [given for given in KINDS if given.plain_number], ids=named)
def test_plain_numbers_are_taken_as_the_schema_says(given: type[Given]) -> None:
    form = next(one for one in SCHEMAS[given.__name__]["oneOf"] if one["title"].endswith("as plain number"))
    assert agree(given, form["minimum"])
    assert agree(given, form["maximum"])
    for number in (form["minimum"] - 1e-6, form["minimum"] * 0.999 - 1e-12, form["maximum"] * 1.000001):
        assert code_of(given, number) in {"out-of-range", "percent-missing"}
        assert not agree(given, number)


@pytest.mark.parametrize("given", KINDS, ids=named)
def test_description_names_the_range(given: type[Given]) -> None:
    said = SCHEMAS[given.__name__]["description"].split("Taken from ")[1].rstrip(".")
    ends = [_leading(part) for part in said.split(" to ")]
    unit = given.kind.units.get("%", given.kind.metric)
    low, high = (unit.from_si(end) for end in given.limits())
    assert ends == [pytest.approx(low, rel=1e-5), pytest.approx(high, rel=1e-5)]


def _leading(part: str) -> float:
    """The number at the head of a text, thousands apart."""
    digits = ""
    for word in part.split(" "):
        if not digits or (len(word) == 3 and word.isdigit()):
            digits += word
    return float(digits)


@pytest.mark.parametrize("given", KINDS, ids=named)
def test_examples_of_a_quantity_are_read(given: type[Given]) -> None:
    examples = SCHEMAS[given.__name__]["examples"]
    for schema in SCHEMAS.values():
        for member in schema.get("properties", {}).values():
            forms = [member, *member.get("anyOf", ())]
            if any(form.get("$ref", "").endswith(f"/{given.__name__}") for form in forms):
                examples = examples + member.get("examples", [])
    for example in examples:
        assert agree(given, example), example


# --- lists, texts, numbers -------------------------------------------------------------------------------------------


def refused_with(path: str, request: object) -> set[str] | None:
    """Codes of a request that is refused with 400; None where it is read, whatever comes of it then."""
    try:
        calculations()[path.removeprefix("/v1/")].run(json.dumps(request).encode())
    except Refusal as refusal:
        return {fault.code for fault in refusal.faults} if refusal.status == 400 else None
    return None


def same(path: str, request: object) -> bool:
    """Whether a request is read; schema and service must say the same."""
    fits = validator(request_schema(path)).is_valid(request)
    codes = refused_with(path, request)
    assert fits == (codes is None) or (fits and codes is not None and codes <= UNSAYABLE.keys()), (codes, request)
    return codes is None


FAT: Final = {"fat": "olive-oil", "mass": "1 kg"}
LIQUID: Final = {"liquid": "goat-milk", "share": "1 %"}
ALKALI: Final = {"alkali": "NaOH", "mass": "100 g"}
ACID: Final = {"acid": "citric-acid-anhydrous", "mass": "1 g"}
SPLIT: Final = {"alkalis": [ALKALI]}
ONE_FAT: Final = {"fats": [FAT]}


@pytest.mark.parametrize(
    ("path", "request_", "member", "item", "least", "most"),
    [
        ("/v1/saponification", ONE_FAT, "fats", FAT, 1, messages.MOST_FATS),
        ("/v1/saponification", ONE_FAT, "alkalis", {"alkali": "NaOH"}, 1, 2),
        ("/v1/saponification", ONE_FAT, "acids", ACID, 0, messages.MOST_LIQUIDS),
        ("/v1/liquid-split", SPLIT, "alkalis", ALKALI, 1, 2),
        ("/v1/liquid-split", SPLIT, "stocks", {"alkali": "NaOH", "strength": {"mass_fraction": 0.5}}, 0, 2),
        ("/v1/liquid-split", SPLIT, "liquids", LIQUID, 1, messages.MOST_LIQUIDS),
        ("/v1/liquid-split", SPLIT, "fats", FAT, 1, messages.MOST_FATS),
        ("/v1/liquid-split", SPLIT, "acids", ACID, 0, messages.MOST_LIQUIDS),
    ],
)
def test_lists_hold_as_much_as_the_schema_says(
    path: str, request_: dict[str, Any], member: str, item: object, least: int, most: int
) -> None:
    for count in range(least, min(most, 3) + 1):
        assert same(path, request_ | {member: [item] * count})
    assert same(path, request_ | {member: [item] * most})
    assert not same(path, request_ | {member: [item] * (most + 1)})
    if least:
        assert not same(path, request_ | {member: []})


def test_limits_of_lists_are_those_of_the_contract() -> None:
    assert (messages.MOST_FATS, messages.MOST_LIQUIDS) == (200, 50)


@pytest.mark.parametrize("letter", ["a", "é", "😀"])
def test_texts_are_as_long_as_the_schema_says_counted_in_characters(letter: str) -> None:
    own = {"mass": "1 kg", "saponification_value": "190 mg/g"}
    for extra in (0, 1):
        requests: tuple[dict[str, Any], ...] = (
            ONE_FAT | {"reference": letter * (200 + extra)},
            {"fats": [own | {"name": letter * (120 + extra)}]},
            {"fats": [FAT | {"fat": letter * (80 + extra)}]},
        )
        for request in requests:
            assert same("/v1/saponification", request) == (not extra)
    assert same("/v1/saponification", ONE_FAT | {"reference": ""})
    assert not same("/v1/saponification", {"fats": [own | {"name": ""}]})


def test_plain_numbers_of_hydrometers_have_the_range_of_the_schema() -> None:
    for name, low, high in (("degrees_baume", 0, 70), ("degrees_twaddell", 0, 200)):
        for number, taken in ((low, True), (high, True), (low - 1e-9, False), (high + 1e-9, False), (50.0, True)):
            assert same("/v1/concentration", {"alkali": "NaOH", "strength": {name: number}}) == taken
    for modulus, taken in ((140, True), (150, True), (139.9, False), (150.1, False), (True, False), ("145", False)):
        request = {"alkali": "NaOH", "strength": {"degrees_baume": 40, "baume_modulus": modulus}}
        assert same("/v1/concentration", request) == taken


def test_forty_fatty_acids_are_the_most() -> None:
    own = {"name": "x", "mass": "1 kg", "saponification_value": "190 mg/g"}
    for count, taken in ((0, True), (40, True), (41, False)):
        request = {"fats": [own | {"fatty_acids": {f"C{number}:0": 0.01 for number in range(count)}}]}
        assert same("/v1/saponification", request) == taken


# --- rules between members -------------------------------------------------------------------------------------------

RULES: Final[dict[str, Rule]] = {
    "exactly one": ExactlyOne(("a", "b", "c")),
    "at most one": AtMostOne(("a", "b", "c")),
    "at least one": AtLeastOne(("a", "b", "c")),
    "only with": OnlyWith("a", ("b", "c")),
    "never with": NeverWith("a", ("b", "c"), "it says so", "leave it out"),
    "together": Together(("a", "b", "c")),
}


class Three(Ruled, kw_only=True):
    """Three members that may be given."""

    a: int | None = None
    b: int | None = None
    c: int | None = None


@pytest.mark.parametrize("kind", RULES)
def test_rule_between_members_is_the_same_in_schema_and_service(kind: str) -> None:
    rule = RULES[kind]
    schema = validator(rule.schema())
    outcomes = Counter[bool]()
    for chosen in range(27):  # each of three members: left out, null, given
        states = (chosen % 3, chosen // 3 % 3, chosen // 9)
        said = {name: None if state == 1 else 1 for name, state in zip("abc", states, strict=True) if state}
        try:
            rule.check(Three(**said))
            kept = True
        except Faulty:
            kept = False
        assert schema.is_valid(said) == kept, said
        outcomes[kept] += 1
    assert outcomes[True]
    assert outcomes[False]


def test_every_rule_that_requests_use_was_looked_at() -> None:
    used = {type(rule) for struct in _ruled(Ruled) for rule in struct.rules}
    assert used <= {type(rule) for rule in RULES.values()}


def _ruled(kind: type[Ruled]) -> list[type[Ruled]]:
    return [kind, *(one for child in kind.__subclasses__() for one in _ruled(child))]


# --- whatever is near the schema -------------------------------------------------------------------------------------

ROUNDS: Final = 1500
STRAY: Final[list[Any]] = [
    *(
        None,
        True,
        False,
        0,
        1,
        -1,
        0.5,
        2,
        5,
        1.5,
        100,
        1e300,
        -1e300,
        "",
        " ",
        "x",
        "NaOH",
        "KOH",
        "ice",
        [],
        {},
        [[]],
    ),
    *(
        "1 g",
        "5 %",
        "0.05",
        "2:1",
        "1,5 kg",
        "20 °C",
        "-300 °C",
        "1 fl oz",
        "1 m3",
        "60 mg/g",
        "10 min",
        "30 cm",
        "1 g\n",
    ),
    *({"value": 1, "unit": "g"}, {"value": 1}, {"value": "1", "unit": "g"}, {"low": 1, "high": 2, "unit": "%"}),
    *(
        {"mass_fraction": "50 %"},
        {"degrees_baume": 50},
        {"water_ratio": "1:1"},
        "whole",
        "fats",
        "olive-oil",
        "a" * 201,
    ),
    *({"value": 0.5, "low": 0.4, "high": 0.6, "unit": "1"}, {"value": 0.5, "uncertainty": 0.1, "unit": "1"}, 10**30),
]


def places(node: Any, at: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The way to every value that a value holds, and to itself."""
    if isinstance(node, dict):
        return [at, *(way for name, one in node.items() for way in places(one, (*at, name)))]
    if isinstance(node, list):
        return [at, *(way for index, one in enumerate(node) for way in places(one, (*at, index)))]
    return [at]


def reach(node: Any, way: tuple[Any, ...]) -> Any:
    for step in way:
        node = node[step]
    return node


def names_of_members() -> list[str]:
    """Every name of a member of the contract, so that known members turn up in strange places."""
    return ["other", *sorted({name for schema in SCHEMAS.values() for name in schema.get("properties", ())})]


def mutated(request: Any, chance: random.Random, names: list[str], pool: list[Any]) -> Any:
    """A request with one to three things changed."""
    request = copy.deepcopy(request)
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        ways = places(request)
        way = chance.choice(ways)
        node = reach(request, way)
        value = copy.deepcopy(chance.choice(pool))
        action = chance.randrange(5)
        if isinstance(node, dict) and action < 2:
            node[chance.choice(names)] = value
        elif isinstance(node, dict) and node and action == 2:
            del node[chance.choice(list(node))]
        elif isinstance(node, list) and action < 3:
            node.extend([value] if action else copy.deepcopy(node))
        elif way:
            reach(request, way[:-1])[way[-1]] = value
    return request


@pytest.mark.parametrize("path", POSTS)
def test_whatever_is_near_a_request_is_read_just_where_it_fits_the_schema(path: str) -> None:
    # Random, and the same at every run: no test may fail on one machine and not on another.
    chance = random.Random(path)  # noqa: S311 - chance of a test
    fits = validator(request_schema(path)).is_valid
    examples = [example for other in POSTS for example in request_examples(other).values()]
    pool = STRAY + [reach(example, way) for example in examples for way in places(example)]
    names = names_of_members()
    own = list(request_examples(path).values())
    seen = Counter[str]()
    for _ in range(ROUNDS):
        request = mutated(chance.choice(own), chance, names, pool)
        codes = refused_with(path, request)
        if not fits(request):
            assert codes is not None, request
            seen["refused"] += 1
        elif codes is None:
            seen["read"] += 1
        else:
            assert codes <= UNSAYABLE.keys(), (codes, request)
            seen["unsayable"] += 1
    assert seen["read"] > ROUNDS / 20, seen
    assert seen["refused"] > ROUNDS / 4, seen


def test_unsayable_codes_are_named_in_the_contract() -> None:
    said = DOCUMENT["info"]["description"]
    assert all(f"`{code}`" in said for code in UNSAYABLE)
