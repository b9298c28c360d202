"""The fast and the slow way to read a request agree: whatever comes is answered or refused, and nothing else."""

import json
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.calculations.shared.faults import Refusal
from tests.calculations.asking import ask, calculation

NAMES = (
    "batch-sheet",
    "production-plan",
    "batch-temperature",
    "saponification",
    "liquid-split",
    "concentration",
    "stock-mixing",
    "stock-assay/titration",
    "soap-assay",
    "stock-warming",
    "stock-mixing/ice",
    "stock-assay/hydrometer",
    "stock-assay/evaporation",
    "superfat-check",
    "paste-dilution",
    "stock-cooling",
    "stock-dilution",
    "stock-adjustment",
)


def outcome(name: str, body: bytes) -> Refusal | None:
    """The refusal of a request, or None where it is answered; anything else that is raised goes on."""
    try:
        ask(name, body)
    except Refusal as refused:
        return refused
    return None


def check(name: str, request: object) -> None:
    """A request is answered, or refused with faults that all point into it."""
    refused = outcome(name, json.dumps(request).encode())
    if refused is None:
        return
    assert refused.faults
    for one in refused.faults:
        # the slow way found nothing where the fast way failed
        assert (one.pointer, one.detail) != ("", "the body does not fit the contract")
        assert "$." not in one.detail, "a message of the decoder came through"


def places(said: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Every place in a request, from the outside in."""
    yield path
    if isinstance(said, dict):
        for name, value in said.items():
            yield from places(value, (*path, name))
    elif isinstance(said, list):
        for index, value in enumerate(said):
            yield from places(value, (*path, index))


def changed(said: Any, path: tuple[str | int, ...], value: object) -> Any:
    """The request with another value at one place."""
    if not path:
        return value
    copy = deepcopy(said)
    within = copy
    for step in path[:-1]:
        within = within[step]
    within[path[-1]] = value
    return copy


SLIPS: tuple[object, ...] = (
    None,
    True,
    False,
    0,
    1,
    -1,
    0.5,
    1e300,
    10**30,
    "",
    "x",
    "5 %",
    "170 g",
    "20 °C",
    "2:1",
    "NaOH",
    "KOH",
    "olive-oil",
    [],
    ["x"],
    [[]],
    {},
    {"x": 1},
    {"value": 1, "unit": "g"},
    {"value": 0.5, "unit": "1"},
    {"value": 0.5, "uncertainty": 1e300, "unit": "1"},
    {"low": 0, "high": 1, "unit": "1"},
)


@pytest.mark.parametrize("name", NAMES)
def test_any_slip_at_any_place_of_an_example_is_answered_or_refused(name: str) -> None:
    for example in calculation(name).examples:
        for path in places(example.request):
            for slip in SLIPS:
                check(name, changed(example.request, path, slip))


@pytest.mark.parametrize("name", NAMES)
def test_any_member_left_out_or_added_is_answered_or_refused(name: str) -> None:
    for example in calculation(name).examples:
        for path in places(example.request):
            within: Any = example.request
            for step in path:
                within = within[step]
            if isinstance(within, dict):
                check(name, changed(example.request, path, {**within, "stray": 1}))
                for member in within:
                    rest = {key: value for key, value in within.items() if key != member}
                    check(name, changed(example.request, path, rest))


members = st.sampled_from(
    [
        "fats",
        "fat",
        "name",
        "mass",
        "saponification_value",
        "superfat",
        "alkalis",
        "alkali",
        "mole_share",
        "purity",
        "acids",
        "stocks",
        "strength",
        "mass_fraction",
        "as_mixed",
        "total_liquid",
        "water_ratio",
        "liquids",
        "liquid",
        "rest",
        "temperature",
        "solid",
        "mass_as_supplied",
        "water",
        "ice",
        "melted_share",
        "existing_stock",
        "vessel",
        "material",
        "duration",
        "value",
        "low",
        "high",
        "uncertainty",
        "unit",
    ]
)
leaves = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=12)
    | st.sampled_from(["5 %", "1 kg", "NaOH", "KOH", "olive-oil", "goat-milk", "g", "190 mg/g", "2:1"])
)
any_json = st.recursive(
    leaves,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(members | st.text(max_size=5), inner, max_size=6),
    max_leaves=25,
)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.sampled_from(NAMES), any_json)
def test_any_json_is_answered_or_refused(name: str, said: object) -> None:
    check(name, said)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.sampled_from(NAMES), st.binary(max_size=60))
def test_any_bytes_are_answered_or_refused(name: str, body: bytes) -> None:
    refused = outcome(name, body)
    assert refused is not None
    assert refused.status == 400
    assert refused.faults


def test_a_byte_order_mark_is_read_over_or_named() -> None:
    """Many programs under Windows write one."""
    body = b'\xef\xbb\xbf{"fats": [{"fat": "olive-oil", "mass": "1 kg"}]}'
    refused = outcome("saponification", body)
    assert refused is None or "byte order mark" in refused.faults[0].detail
