"""Heats of fats and of what liquids hold: the equation, its range, and its inverse."""

import pytest
from chemicals import heat_capacity as published
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import food_heat, water
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
from tests.chemistry.refusing import refused

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


@pytest.mark.parametrize(
    ("name", "cold", "warm"),
    [
        ("protein", 2008.2, 2115.961),
        ("fat", 1984.2, 2083.522),
        ("carbohydrate", 1548.8, 1685.651),
        ("ash", 1092.6, 1244.743),
    ],
)
def test_a_component_has_the_heat_capacity_that_is_printed(name: str, cold: float, warm: float) -> None:
    """Choi and Okos 1986 in the ASHRAE Handbook 2006, ch. 9, table 1: at 0 °C, and by hand at 100 °C."""
    assert heat_capacity(0.0, 0.0, Dry(**{name: 1.0}), 0.0) == pytest.approx(cold, rel=1e-12)
    assert heat_capacity(0.0, 0.0, Dry(**{name: 1.0}), 100.0) == pytest.approx(warm, rel=1e-12)


def test_ethanol_takes_up_heat_as_the_handbook_says() -> None:
    """CRC Handbook of Chemistry and Physics, as data of the package chemicals 1.5.2, and 46.069 g/mol."""
    per_mole = published.CRC_standard_data.loc["64-17-5", "Cpl"]
    assert pytest.approx(per_mole / 46.069e-3, rel=5e-4) == ETHANOL


@given(st.lists(st.floats(0, 1), min_size=5, max_size=5), DEGREES)
def test_an_enthalpy_is_the_heat_on_the_way_from_25_degrees(masses: list[float], t: float) -> None:
    """Simpson's rule, which is exact for capacities that are parabolas."""
    heat = heat_of(Dry(*masses))
    along = (heat.capacity(25.0) + 4.0 * heat.capacity(0.5 * (25.0 + t)) + heat.capacity(t)) / 6.0
    assert heat.enthalpy(t) == pytest.approx((t - 25.0) * along, rel=1e-9, abs=1e-9)


def test_heats_of_water_and_of_what_it_holds_add_up() -> None:
    dry = Dry(protein=0.1, carbohydrate=0.2)
    assert heat_capacity(4000.0, 0.5, dry, 30.0) == pytest.approx(2000.0 + heat_of(dry).capacity(30.0), rel=1e-12)


def test_a_component_without_a_heat_is_not_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(food_heat, "_COMPONENTS", food_heat._COMPONENTS[:-1])
    with pytest.raises(ValueError, match="shorter"):
        heat_of.__wrapped__(Dry(protein=0.123))


def test_temperatures_are_taken_from_40_below_zero_to_150_degrees() -> None:
    """As printed with the equations (Choi and Okos 1986 in the ASHRAE Handbook)."""
    asked = (fat_heat_capacity, fat_enthalpy, lambda t: heat_capacity(4186.0, 0.5, Dry(fat=0.5), t))
    for one in asked:
        for end in (-40.0, 150.0):
            assert one(end) != 0.0
        for beyond in (-40.01, 150.01):
            with refused("temperature", -40.0, 150.0):
                one(beyond)
