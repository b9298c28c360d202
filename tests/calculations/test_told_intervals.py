"""Figures of answers: their intervals hold what was reckoned, and units change nothing but the number."""

import math
from fractions import Fraction as Exact

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.shared import units
from service.calculations.shared.told import (
    HighestTemperatureFigure,
    MarginFigure,
    MassChangeFigure,
    MassFigure,
    NotFinite,
    TemperatureFigure,
    Told,
    figure,
    significant,
)

FREE = MassChangeFigure
FIGURES: list[type[Told]] = [one for kind in Told.__subclasses__() for one in (kind, *kind.__subclasses__())]
AMOUNT = st.floats(1e-6, 1e6)


@given(st.floats(-1e6, 1e6).filter(lambda value: abs(value) > 1e-6), st.floats(1e-9, 1e3))
def test_an_interval_is_as_wide_to_either_side(value: float, part: float) -> None:
    half = part * abs(value)
    told = FREE.around(value, half)
    assert told.low is not None
    assert told.high is not None
    assert told.value == value
    assert told.high - value == pytest.approx(half, rel=1e-5)
    assert value - told.low == pytest.approx(half, rel=1e-5)


@pytest.mark.parametrize("value", [1e-9, 1.0, -1.0, 1e9, 0.0])
def test_what_sums_leave_of_a_float_is_no_interval(value: float) -> None:
    """A sum of some hundred terms is off by some hundred halves of the last bit, 2**-53 of it."""
    for half in (0.0, 100 * 2.0**-53 * abs(value), -1.0, math.nan):
        assert FREE.around(value, half).low is None
    assert FREE.around(value, 1e-9 * abs(value) + 1e-18).low is not None


@pytest.mark.parametrize("kind", FIGURES, ids=lambda kind: kind.__name__)
def test_an_interval_ends_where_there_is_nothing_more(kind: type[Told]) -> None:
    middle = 1.0 if math.isinf(kind.most) else kind.most / 2
    told = kind.around(middle, 1e12)
    assert (told.low, told.high) == (max(kind.least, middle - 1e12), min(kind.most, middle + 1e12))
    inside = kind.around(middle, 1e-3)
    assert inside.low == pytest.approx(middle - 1e-3)
    assert inside.high == pytest.approx(middle + 1e-3)


def test_an_interval_holds_its_value_though_that_is_beyond_what_there_can_be() -> None:
    told = MassFigure.around(-1.0, 0.5)
    assert told.low is not None
    assert told.low <= told.value
    assert told.low == -1.0


def test_nothing_is_colder_than_the_absolute_zero() -> None:
    """-273.15 °C (SI Brochure, 9th edition, BIPM 2019, 2.3.1)."""
    for kind in (TemperatureFigure, HighestTemperatureFigure):
        assert kind.around(-273.0, 5.0).low == -273.15
        assert kind.around(20.0, 5.0).low == 15.0


def test_limits_that_are_the_value_are_no_interval() -> None:
    assert MassFigure.spanning((2.0, 2.0, 2.0)).low is None
    for low, high in ((1.0, 2.0), (2.0, 3.0), (1.0, 3.0)):
        told = MassFigure.spanning((2.0, low, high))
        assert (told.value, told.low, told.high) == (2.0, low, high)


@given(AMOUNT, AMOUNT)
def test_a_figure_in_any_unit_is_the_same_amount(value: float, half: float) -> None:
    for unit in units.MASS.units.values():
        told = figure(FREE(value, value - half, value + half), unit)
        for number, exact in ((told.value, value), (told.low, value - half), (told.high, value + half)):
            assert isinstance(number, float)
            assert unit.to_si(number) == pytest.approx(exact, rel=1e-14, abs=1e-9 * half)


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(-40.0, -40.0), (0.0, 32.0), (100.0, 212.0)])
def test_scales_of_temperature_meet_at_their_fixed_points(celsius: float, fahrenheit: float) -> None:
    told = figure(TemperatureFigure(celsius, celsius - 5, celsius + 5), units.TEMPERATURE.us)
    assert (told.value, told.low, told.high) == (fahrenheit, fahrenheit - 9, fahrenheit + 9)
    apart = figure(MarginFigure(celsius), units.TEMPERATURE_DIFFERENCE.us)
    assert apart.value == pytest.approx(fahrenheit - 32)


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_never_told(wrong: float) -> None:
    for told in (MassFigure(wrong), MassFigure(1.0, wrong, 2.0), MassFigure(1.0, 0.5, wrong), MassFigure(wrong, 1, 2)):
        with pytest.raises(NotFinite):
            figure(told, units.MASS.metric)


@given(AMOUNT, st.floats(1e-6, 0.5), st.integers(1, 15))
def test_digits_widen_an_interval_and_never_narrow_it(value: float, part: float, digits: int) -> None:
    told = MassFigure(value, value * (1 - part), value * (1 + part))
    whole, cut = figure(told, units.MASS.units["kg"]), figure(told, units.MASS.units["kg"], digits)
    assert isinstance(cut.low, float)
    assert isinstance(cut.high, float)
    assert isinstance(whole.low, float)
    assert isinstance(whole.high, float)
    assert Exact(cut.low) <= Exact(whole.low)
    assert Exact(cut.high) >= Exact(whole.high)
    step = 10.0 ** (math.floor(math.log10(whole.high)) + 1 - digits)
    assert cut.high - whole.high <= 1.001 * step
    assert whole.low - cut.low <= 1.001 * step
    assert cut.value == significant(whole.value, digits)


def test_whole_grams_come_back_as_they_went_in() -> None:
    """Dividing by 0.001 would add a last digit to some of them."""
    grams = units.MASS.units["g"]
    for number in range(1, 1000):
        mass = grams.to_si(number)
        assert figure(MassFigure(mass), grams).value == number
        told = figure(MassFigure(mass, mass, mass), grams)
        assert told.value == told.low == told.high == number
