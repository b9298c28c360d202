"""Quantities and amounts in the texts that shops read: units by pint, minor units by ISO 4217, digits by hand."""

import csv
import io
from decimal import Decimal
from typing import Any

import pint
import pytest

from service.calculations.orders.csv_lines import (
    COLUMNS,
    MASS_UNITS,
    UNIT_OF_CODE,
    VOLUME_UNITS,
    Line,
    csv_text,
    quantity_text,
)
from service.calculations.orders.money import cost_of, minor_unit, share_of, told, total_of

PINT: pint.UnitRegistry[Any] = pint.UnitRegistry()


@pytest.mark.parametrize("unit", MASS_UNITS)
def test_units_of_mass_are_those_of_pint(unit: str) -> None:
    assert MASS_UNITS[unit][1] == pytest.approx(PINT.Quantity(1, unit).to("kg").magnitude, rel=1e-12)


@pytest.mark.parametrize("unit", VOLUME_UNITS)
def test_units_of_volume_are_those_of_pint(unit: str) -> None:
    assert VOLUME_UNITS[unit][1] == pytest.approx(PINT.Quantity(1, unit).to("m**3").magnitude, rel=1e-12)


def test_each_code_stands_for_its_unit() -> None:
    assert {UNIT_OF_CODE[code]: code for code in UNIT_OF_CODE} == {
        unit: code for unit, (code, _) in [*MASS_UNITS.items(), *VOLUME_UNITS.items()]
    }


@pytest.mark.parametrize(
    ("number", "near", "up"),
    [
        (1.0, "1.000", "1.000"),
        (0.25, "0.250", "0.250"),
        (1234.5678, "1234.5678", "1234.5678"),
        (0.123456, "0.123456", "0.123456"),
        (0.1234561, "0.123456", "0.123457"),
        (0.1 + 0.2, "0.300", "0.300"),  # 0.30000000000000004
        (0.0, "0.000", "0.000"),
    ],
)
def test_a_quantity_has_three_decimals_at_least_and_six_at_most(number: float, near: str, up: str) -> None:
    assert quantity_text(number) == near
    assert quantity_text(number, up=True) == up


def test_lines_are_read_back_as_they_were_written() -> None:
    lines = [Line("A", "oil, cold", "1.000", "KGM", "B"), Line("C", 'a "pure" one', "2.500", "LTR", "")]
    rows = list(csv.reader(io.StringIO(csv_text(lines), newline="")))
    assert rows == [list(COLUMNS), *map(list, lines)]


@pytest.mark.parametrize(("currency", "unit"), [("JPY", "1"), ("EUR", "0.01"), ("KWD", "0.001")])
def test_the_minor_unit_is_that_of_the_standard(currency: str, unit: str) -> None:
    assert minor_unit(currency) == Decimal(unit)


def test_a_mass_below_a_milligram_is_priced_as_it_is() -> None:
    """By hand: 0.4 mg at 1,000,000 a kilogram are 0.40, and a milligram is 1.00."""
    assert cost_of(4e-7, "1000000", 1.0, "EUR") == Decimal("0.40")
    assert cost_of(1e-6, "1000000", 1.0, "EUR") == Decimal("1.00")
    assert cost_of(1.0, "1", 4e-7, "EUR") == Decimal("2500000.00")


def test_amounts_add_up_from_nothing_and_are_told_without_an_exponent() -> None:
    assert total_of([], "EUR") == Decimal("0.00")
    total = total_of([Decimal("999999999999.99"), Decimal("0.01")], "EUR")
    assert told(total, "EUR").amount == "1000000000000.00"
    assert share_of(total, 3, "EUR") == Decimal("333333333333.33")
    assert told(share_of(Decimal(0), 3, "JPY"), "JPY").currency == "JPY"
