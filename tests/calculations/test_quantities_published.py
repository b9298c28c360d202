"""Quantities are taken in the forms and ranges that the published contract states, and refused in others."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from jsonschema_rs import Draft202012Validator

from service.calculations.shared import units
from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import (
    GIVEN,
    Fraction,
    LiquidRatio,
    Mass,
    MassAtHand,
    MeasuredTemperature,
    Proportion,
    Purity,
    Ratio,
    Superfat,
    TimeRead,
    read_hook,
)
from service.calculations.shared.reading import Given, as_float, part_of
from service.chemistry.uncertainty import EXACT

SCHEMAS = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text("utf-8"))["components"][
    "schemas"
]
ALL = pytest.mark.parametrize("kind", GIVEN, ids=lambda kind: kind.__name__)


def taken(kind: type[Given], said: Any) -> Given | None:
    try:
        return kind.read(said)
    except Faulty:
        return None


def refused(kind: type[Given], said: Any) -> Faulty:
    with pytest.raises(Faulty) as fault:
        kind.read(said)
    return fault.value


def middle(kind: type[Given]) -> tuple[float, str]:
    """A number well within the range of a kind, and its unit."""
    low, high = kind.limits()
    value = (max(low, 0.0) + min(high, 1.0)) / 2
    return kind.kind.metric.from_si(value), kind.kind.metric.symbol


@ALL
def test_the_forms_of_the_contract_are_those_that_are_taken(kind: type[Given]) -> None:
    schema = Draft202012Validator({**SCHEMAS[kind.__name__], "components": {"schemas": SCHEMAS}})
    number, unit = middle(kind)
    forms: list[Any] = [
        {"value": number, "unit": unit},
        {"value": number, "low": number * 0.9, "high": number * 1.1, "unit": unit},
        {"low": number * 0.9, "high": number * 1.1, "unit": unit},
        {"value": number, "uncertainty": number * 0.1, "unit": unit},
        {"value": number},
        {"unit": unit},
        {"value": number, "low": number, "unit": unit},
        {"value": number, "uncertainty": 1, "low": number, "high": number, "unit": unit},
        {"value": number, "unit": unit, "kind": "mass"},
        number,
        None,
        True,
        [],
    ]
    for said in forms:
        assert (taken(kind, said) is not None) == schema.is_valid(said), said


@pytest.mark.parametrize("kind", [Fraction, Superfat, Purity, Proportion, Ratio, LiquidRatio])
def test_a_number_without_a_unit_is_taken_within_the_range_of_the_contract(kind: type[Given]) -> None:
    schema = Draft202012Validator({**SCHEMAS[kind.__name__], "components": {"schemas": SCHEMAS}})
    for number in (-1, -1e-9, 0, 0.1, 0.499, 0.5, 0.501, 1, 1.0):
        found = taken(kind, number)
        assert (found is not None) == schema.is_valid(number), number
        assert found is None or found.value == number


@ALL
def test_the_ends_of_the_range_are_taken_and_what_is_beyond_is_not(kind: type[Given]) -> None:
    low, high = kind.limits()
    for end, beyond in ((low, -1), (high, 1)):
        unit = kind.kind.metric
        apart = beyond * max(abs(end) * 1e-6, 1e-12)
        near, far = unit.from_si(end - apart), unit.from_si(end + apart)
        assert taken(kind, {"value": near, "unit": unit.symbol}) is not None
        fault = refused(kind, {"value": far, "unit": unit.symbol})
        assert (fault.code, fault.within) == ("out-of-range", "/value")


def test_a_mass_at_hand_and_a_time_may_be_nothing_and_a_mass_may_not() -> None:
    assert MassAtHand.read("0 g").value == 0.0
    assert TimeRead.read("0 min").value == 0.0
    assert refused(Mass, "0 g").code == "out-of-range"
    assert "0 g for nothing" in refused(MassAtHand, "-1 g").mend


def test_a_text_that_is_said_often_is_read_alike() -> None:
    for _ in range(2):
        assert isinstance(read_hook(Mass, "5 g"), Mass)
        assert isinstance(read_hook(Fraction, 0.5), Fraction)


# Spreads


def test_a_value_may_stand_at_an_end_of_its_interval() -> None:
    for value in (98, 100, 102):
        read = Mass.read({"value": value, "low": 98, "high": 102, "unit": "g"})
        assert read.part is not None
        assert read.value == pytest.approx(value / 1000)
    for wrong in (97.9, 102.1):
        assert refused(Mass, {"value": wrong, "low": 98, "high": 102, "unit": "g"}).within == "/value"


def test_nothing_is_less_certain_than_the_whole_range_of_its_kind() -> None:
    """From -273.15 °C to 1000 °C are 1273.15 K."""
    sure = MeasuredTemperature.read({"value": 20, "uncertainty": 1273, "unit": "°C"})
    assert sure.part is not None
    assert sure.part.standard_uncertainty == pytest.approx(1273)
    assert refused(MeasuredTemperature, {"value": 20, "uncertainty": 1274, "unit": "°C"}).within == "/uncertainty"
    assert refused(MeasuredTemperature, {"value": 20, "low": -9e9, "high": 9e9, "unit": "°C"}).within == "/high"


def test_limits_have_their_middle_as_the_value() -> None:
    read = Mass.read({"low": 10, "high": 30, "unit": "g"})
    assert read.value == pytest.approx(0.02)
    assert read.part is not None
    assert read.part.rectangular_half_width == pytest.approx(0.01)
    assert part_of(read) is read.part
    assert part_of(Mass.read("1 g")) is part_of(None) is EXACT


# Mendings


def test_the_mending_of_a_range_says_what_may_be_wrong() -> None:
    assert "above nothing" in refused(Mass, "0 g").mend
    assert refused(Mass, "0.0000001 mg").mend == "check the number and its unit"
    assert refused(Mass, "1e9 t").mend == "check the number and its unit"
    assert "nothing is colder" in refused(MeasuredTemperature, "-300 °C").mend
    assert refused(MeasuredTemperature, "2000 °C").mend == "check the number and its unit"


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({}, "an object without members"),
        ({"value": 1}, "value alone"),
        ({"low": 1, "high": 2}, "high and low alone"),
        ({"low": 1, "high": 2, "value": 1}, "high and low and value together"),
    ],
)
def test_members_that_say_too_little_are_told(said: dict[str, float], told: str) -> None:
    assert refused(Mass, said).detail == f"a mass is not told by {told}"


@pytest.mark.parametrize("text", ["1", "0.5", "1.0", "0"])
def test_a_share_in_quotes_is_offered_as_the_number_without_them(text: str) -> None:
    offered = re.findall(r"'([^']*)'", refused(Fraction, text).mend)
    assert [Fraction.read(one).value for one in offered] == [Fraction.read(float(text)).value]


@pytest.mark.parametrize(("kind", "most"), [(Fraction, 100), (Superfat, 50), (Proportion, 2000)])
def test_what_is_more_than_any_share_is_told_with_the_most_there_is(kind: type[Fraction], most: float) -> None:
    for number in (1.5, most * 0.999, most):
        offered = re.findall(r"'([^']*)'", refused(kind, number).mend)
        assert kind.read(offered[0]).value == pytest.approx(number / 100)
        assert f"write '{number:g} %'" == refused(kind, f"{number:g}").mend
    for number in (most * 1.005, most * 3):
        assert f"give at most {most} %" in refused(kind, number).mend
        assert f"give 0 to {most} %" in refused(kind, f"{number:g}").mend
    assert f"give 0 to {most} %" in refused(kind, "-0.5").mend


@pytest.mark.parametrize("length", [5, 20, 39, 40])
def test_a_ratio_that_a_message_can_hold_is_written_anew(length: int) -> None:
    text = f"2,{'9' * (length - 4)}:1"
    assert len(text) == length
    assert refused(Ratio, text).mend == f"write '{text.replace(',', '.')}'"
    number = f"2.{'9' * (length - 2)}"
    assert f"write '{number}:1'" in refused(Ratio, number).mend


def test_whole_numbers_of_any_length_are_numbers() -> None:
    assert as_float(10**400) == float("inf")
    assert as_float(-(10**400)) == float("-inf")
    assert as_float(7) == 7.0


# Words for units


def test_amounts_in_words_are_known_in_any_case_of_letters() -> None:
    for text, offered in (
        ("1 Litre And A Half", "1.5 L"),
        ("ONE AND A QUARTER LITRES", "1.25 L"),
        ("Half A Litre", "0.5 L"),
        ("AN HOUR", "1 h"),
        ("About 2 Litres", "2 L"),
    ):
        kind = next(one for one in GIVEN if one.kind is (units.TIME if offered.endswith("h") else units.VOLUME))
        assert refused(kind, text).mend == f"write '{offered}'"


def test_a_word_for_a_unit_is_offered_up_to_the_ends_of_the_range() -> None:
    assert refused(Mass, "100000 metric tons").mend == "write '100000 t'"
    assert "100001 t" not in refused(Mass, "100001 metric tons").mend
