"""What an answer may hold beside figures: numbers of steps and bare ones, which are finite or do not leave."""

import json
import math
import sys
from pathlib import Path

import pytest
from msgspec import Struct

from service.calculations.shared.notes import Worked
from service.calculations.shared.rendering import MOST_DIGITS, bare_numbers, renderer
from service.calculations.shared.told import FractionFigure, NotFinite

PUBLISHED = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text("utf-8"))


class Holding(Struct):
    """An answer with a bare number and a number of a step."""

    bare: float
    worked: Worked
    word: str = ""


def test_as_many_digits_may_be_asked_for_as_a_double_always_keeps() -> None:
    """Fifteen (IEEE 754-2019, 5.12.2: 1 + floor of 52 log10(2))."""
    assert sys.float_info.dig == MOST_DIGITS
    assert PUBLISHED["components"]["parameters"]["digits"]["schema"]["maximum"] == MOST_DIGITS
    for said in ("0.123456789012345", "0.999999999999999", "0.100000000000001"):
        told = renderer("metric", MOST_DIGITS)(FractionFigure(float(said)))
        assert told.decode() == f'{{"value":{said},"unit":"1"}}'


def test_numbers_of_steps_and_bare_ones_are_told_as_they_are() -> None:
    told = json.loads(renderer("us", 2)(Holding(144.3, Worked(0.12345, "kg"))))
    assert told == {"bare": 144.3, "worked": {"value": 0.12345, "unit": "kg"}, "word": ""}
    assert bare_numbers(Holding) == ("bare",)


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf])
def test_no_number_that_is_not_finite_leaves(wrong: float) -> None:
    for answer in (Holding(wrong, Worked(1.0, "kg")), Holding(1.0, Worked(wrong, "kg"))):
        with pytest.raises(NotFinite):
            renderer()(answer)


def test_what_cannot_be_told_is_not_told_as_nothing() -> None:
    with pytest.raises(NotImplementedError):
        renderer()({"strange": object()})
