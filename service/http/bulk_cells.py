"""Cells of a table that comes in: from their text to what JSON would say."""

import re
from collections.abc import Callable
from math import isfinite
from typing import Any, Final

from msgspec import inspect

from service.calculations.shared import units
from service.calculations.shared.csv_cells import had_back
from service.calculations.shared.faults import Faulty, quoted
from service.calculations.shared.reading import LONGEST_TEXT, Given
from service.calculations.shared.units import Unit
from service.http.catalogue_table import DecimalSign

Reader = Callable[[str], Any]
"""Reads a cell that is not empty; raises Faulty."""

_COMMA: Final = re.compile(r"(?<=\d),(?=\d)|(?<!\d),(?=\d)|(?<=\d),(?!\d)", re.ASCII)
_WHOLE: Final = re.compile(r"[+-]?\d{1,15}", re.ASCII)


def with_point(cell: str, decimal: DecimalSign) -> str:
    """A number, or what holds one, with a decimal point.

    Args:
        cell: a cell that holds a number.
        decimal: the sign it is written with.

    Raises:
        Faulty: it has the other sign, which may part thousands or decimals.
    """
    if decimal == "point":
        if _COMMA.search(cell):
            mend = "write a decimal point, or put decimal=comma into the address; leave thousands together"
            raise Faulty("decimal-comma", f"{quoted(cell)} has a comma", mend)
        return cell
    if re.search(r"\d\.|\.\d", cell):
        mend = "write a decimal comma, or leave decimal=comma out of the address; leave thousands together"
        raise Faulty("unreadable-quantity", f"{quoted(cell)} has a point, where decimals have a comma", mend)
    return cell.replace(",", ".")


def plain_reader(shape: inspect.Type, decimal: DecimalSign) -> Reader:
    """The reader of a member that is no quantity: a text, a word, a number, true or false.

    Args:
        shape: type of the member.
        decimal: decimal sign of the table.
    """
    if isinstance(shape, inspect.BoolType) or (isinstance(shape, inspect.LiteralType) and shape.values == (True,)):
        return _truth
    if isinstance(shape, inspect.FloatType | inspect.IntType):
        return lambda cell: _number(cell, decimal, "write a plain number, without unit")
    return had_back


def number_reader(given: type[Given], unit: str | None, decimal: DecimalSign) -> Reader:
    """The reader of a number of a quantity.

    Args:
        given: kind of the quantity.
        unit: spelling of the unit in its header; None where a column of its own has it, or none is needed.
        decimal: decimal sign of the table.
    """
    if unit is None:
        return lambda cell: _number(cell, decimal, "write a plain number; the column of its unit has the unit")
    symbol = given.kind.units[unit]
    return lambda cell: _within_unit(with_point(cell, decimal), cell, given, symbol)


def loose_reader(decimal: DecimalSign) -> Reader:
    """The reader of a fraction or a ratio without a unit in its header: a plain number, or a text such as 5 % or 2:1.

    Args:
        decimal: decimal sign of the table.
    """

    def read(cell: str) -> Any:
        text = with_point(cell, decimal)
        return _plain(text) if units.NUMBER_TEXT.fullmatch(text[:LONGEST_TEXT]) else text

    return read


def _within_unit(text: str, cell: str, given: type[Given], unit: Unit) -> float:
    """A number in the unit of its column; a unit beside it must be the same."""
    if units.NUMBER_TEXT.fullmatch(text[:LONGEST_TEXT]):
        return _plain(text)
    mend = f"write the number alone, in {unit.symbol}"
    match = units.QUANTITY_TEXT.fullmatch(text) if len(text) <= LONGEST_TEXT else None
    if match is None:
        raise Faulty("unreadable-quantity", f"{quoted(cell)} is no number", mend)
    number, word = match.groups()
    if given.kind.units.get(word) != unit:
        raise Faulty("two-units", f"{quoted(cell)} is not in {unit.symbol}, which the header names", mend)
    return _plain(number)


def _number(cell: str, decimal: DecimalSign, mend: str) -> float:
    text = with_point(cell, decimal)
    if not units.NUMBER_TEXT.fullmatch(text[:LONGEST_TEXT]):
        raise Faulty("wrong-type", f"{quoted(cell)} is no number", mend)
    return _plain(text)


def _plain(text: str) -> float:
    """A number, whole where it is written so."""
    text = text.strip(" \u00a0")
    if _WHOLE.fullmatch(text):
        return int(text)
    number = float(text)
    if not isfinite(number):
        raise Faulty("out-of-range", f"{quoted(text)} is too large", "give a number a scale can show")
    return number


def _truth(cell: str) -> bool:
    """True or false, in capitals as spreadsheets write it or not."""
    word = cell.strip().lower()
    if word not in {"true", "false"}:
        raise Faulty("wrong-type", f"{quoted(cell)} is neither true nor false", "write true or false")
    return word == "true"
