"""Kinds of quantities, all of them at once: their ranges are those of the contract, and units go both ways."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import pytest

from service.calculations.shared import units
from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import GIVEN
from service.calculations.shared.reading import Given
from service.calculations.shared.units import Kind, Unit

SCHEMAS: Final = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text("utf-8"))["components"][
    "schemas"
]
KINDS: Final = [one for one in vars(units).values() if isinstance(one, Kind)]


def each_unit() -> Iterator[tuple[Kind, Unit]]:
    for kind in KINDS:
        for unit in {id(one): one for one in kind.units.values()}.values():
            yield kind, unit


def objects(kind: type[Given]) -> list[dict[str, Any]]:
    """The forms of a quantity that are objects, as the contract has them."""
    return [one for one in SCHEMAS[kind.__name__]["oneOf"] if one.get("type") == "object"]


def takes(kind: type[Given], said: dict[str, Any]) -> bool:
    try:
        kind.read(said)
    except Faulty:
        return False
    return True


def test_the_least_and_the_most_of_each_kind_are_those_that_the_contract_names() -> None:
    for kind in GIVEN:
        numbers = [one["properties"]["value"] for one in objects(kind) if "value" in one["properties"]]
        least, most = ({one[end] for one in numbers} for end in ("minimum", "maximum"))
        known = list({id(one): one for one in kind.kind.units.values()}.values())
        assert least == {min(unit.from_si(kind.limits()[0]) for unit in known)}, kind
        assert most == {max(unit.from_si(kind.limits()[1]) for unit in known)}, kind
        found = units.kind_of_unit(kind.kind.metric.symbol)
        assert found is None or found.units.items() >= kind.kind.units.items(), kind


def test_each_kind_takes_the_forms_of_an_object_that_the_contract_names() -> None:
    for kind in GIVEN:
        low, high = max(kind.limits()[0], 0.0), kind.limits()[1]
        middle = kind.kind.metric.from_si(low + min(high - low, 1.0) / 2)
        number = {"value": middle, "low": 0.99 * middle, "high": 1.01 * middle, "uncertainty": 0.01 * middle}
        named = {frozenset(one["required"]) for one in objects(kind)}
        for names in (
            ("value", "unit"),
            ("low", "high", "unit"),
            ("value", "uncertainty", "unit"),
            ("value", "low", "high", "unit"),
        ):
            said = {name: kind.kind.metric.symbol if name == "unit" else number[name] for name in names}
            plain = names == ("value", "unit")  # the same form as with an interval, without its ends
            assert takes(kind, said) == (plain or frozenset(names) in named), (kind, names)


def test_a_symbol_leads_to_the_kind_that_has_its_unit() -> None:
    for kind in units.READ:
        for unit in kind.units.values():
            assert units.kind_of_unit(unit.symbol) is kind
            assert unit.from_si(unit.to_si(37.5)) == pytest.approx(37.5, rel=1e-12), unit
    assert units.kind_of_unit("qqqq") is None
    assert units.TEMPERATURE.low == pytest.approx(units.TEMPERATURE.units["K"].to_si(0.0))


def test_a_difference_in_thousandths_is_what_a_person_writes() -> None:
    """3 g are 0.003 kg, to the last bit: multiplied by 0.001, some would be another number."""
    for number in range(1, 1000):
        assert units.MASS.units["g"].span_to_si(number) == float(f"{number}e-3")
        assert units.VOLUME.units["mL"].span_to_si(number) == float(f"{number}e-6")
        assert units.TEMPERATURE.units["K"].span_to_si(number) == number


def test_a_number_in_any_unit_comes_back_as_it_went_in() -> None:
    for kind, unit in each_unit():
        for number in (-40.0, 0.0, 1.0, 37.5, 1e3):
            assert unit.from_si(unit.to_si(number)) == pytest.approx(number, rel=1e-12, abs=1e-9), (kind.name, unit)


def test_a_difference_is_as_large_wherever_it_begins() -> None:
    for kind, unit in each_unit():
        for number in (0.0, 20.0, 98.6):
            apart = unit.to_si(number + 2.5) - unit.to_si(number)
            assert unit.span_to_si(2.5) == pytest.approx(apart, rel=1e-9), (kind.name, unit)


def test_the_scales_of_temperature_begin_where_they_are_defined() -> None:
    """0 K is -273.15 °C (SI Brochure, 9th edition, BIPM 2019, 2.3.1), and -459.67 °F; 1 K of difference is 1.8 °F."""
    known = units.TEMPERATURE.units
    assert units.TEMPERATURE.low == pytest.approx(known["K"].to_si(0.0))
    assert known["°C"].to_si(-273.15) == pytest.approx(known["K"].to_si(0.0))
    assert known["°F"].to_si(-459.67) == pytest.approx(known["K"].to_si(0.0))
    apart = units.TEMPERATURE_DIFFERENCE
    assert apart.us.span_to_si(1.8) == pytest.approx(apart.metric.span_to_si(1.0))


def test_nothing_at_hand_and_the_start_itself_can_be_said() -> None:
    zero = {kind.__name__ for kind in GIVEN if kind.kind in (units.MASS, units.TIME) and kind.limits()[0] == 0}
    assert zero == {"MassAtHand", "TimeRead"}
