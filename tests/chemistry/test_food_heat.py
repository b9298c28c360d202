"""Heats of fats and of what liquids hold: the equation, its range, and its inverse."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import water
from service.chemistry.errors import OutOfRange
from service.chemistry.food_heat import (
    COLDEST,
    ETHANOL,
    FAT,
    HOTTEST,
    Dry,
    fat_enthalpy,
    fat_heat_capacity,
    heat_capacity,
    heat_of,
)

DEGREES = st.floats(COLDEST, HOTTEST)


@given(DEGREES)
def test_the_enthalpy_of_fat_rises_by_its_heat_capacity(t: float) -> None:
    step = 1e-3
    slope = (FAT.enthalpy(t + step) - FAT.enthalpy(t - step)) / (2 * step)
    assert slope == pytest.approx(FAT.capacity(t), rel=1e-6)


@given(DEGREES)
def test_a_temperature_is_found_again_by_its_enthalpy(t: float) -> None:
    assert FAT.temperature(fat_enthalpy(t)) == pytest.approx(t, abs=1e-9)


def test_a_temperature_beyond_the_equations_stays_at_their_end() -> None:
    assert FAT.temperature(1e9) == HOTTEST
    assert FAT.temperature(-1e9) == COLDEST


def test_the_zero_of_enthalpy_is_25_degrees() -> None:
    assert fat_enthalpy(25.0) == 0
    assert heat_of(Dry(1, 2, 3, 4, 5)).enthalpy(25.0) == 0


@given(st.lists(st.floats(0, 1), min_size=5, max_size=5), DEGREES)
def test_heats_of_components_add_up(masses: list[float], t: float) -> None:
    parts = [heat_of(Dry(**{name: mass})) for name, mass in zip(Dry._fields, masses, strict=True)]
    whole = heat_of(Dry(*masses))
    assert whole.enthalpy(t) == pytest.approx(sum(one.enthalpy(t) for one in parts), rel=1e-9, abs=1e-9)
    assert whole.capacity(t) == pytest.approx(sum(one.capacity(t) for one in parts), rel=1e-9)


def test_pure_components_have_their_own_heat_capacity() -> None:
    assert heat_capacity(water.heat_capacity(40.0), 1.0, Dry(), 40.0) == water.heat_capacity(40.0)
    assert heat_capacity(0.0, 0.0, Dry(ethanol=1.0), 10.0) == ETHANOL
    assert heat_capacity(0.0, 0.0, Dry(fat=1.0), 60.0) == fat_heat_capacity(60.0)


@pytest.mark.parametrize("t", [COLDEST - 0.01, HOTTEST + 0.01, float("nan")])
def test_beyond_the_equations_nothing_is_told(t: float) -> None:
    for asked in (fat_heat_capacity, fat_enthalpy):
        with pytest.raises(OutOfRange, match="-40 to 150"):
            asked(t)
    with pytest.raises(OutOfRange):
        heat_capacity(4186.0, 1.0, Dry(), t)
