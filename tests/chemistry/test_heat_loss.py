"""Surfaces of vessels by the geometry of other bodies, and constants by those that define them.

References:
    .. [1] The International System of Units, 9th ed. (2019): Avogadro's constant 6.02214076e23 /mol, Boltzmann's
       constant 1.380649e-23 J/K, Planck's constant 6.62607015e-34 J s and the speed of light 299792458 m/s are exact
       (from memory).
    .. [2] IUPAC, abridged atomic weights 2021: hydrogen 1.008, oxygen 15.999 (from memory).
    .. [3] IAPWS R7-97(2012): heat of evaporation of water 2406 kJ/kg at 40 °C, 2382 kJ/kg at 50 °C (steam tables; from
       memory).
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.heat_loss import (
    GAS_CONSTANT,
    HEAT_OF_EVAPORATION,
    MOLAR_MASS_OF_WATER,
    cylinder_area,
    cylinder_volume,
    disc_area,
    vessel_area,
)
from service.chemistry.highest_loss import heat_of_evaporation
from service.chemistry.standing_loss import STEFAN_BOLTZMANN
from tests.chemistry.refusing import refused

AVOGADRO, BOLTZMANN, PLANCK, LIGHT = 6.02214076e23, 1.380649e-23, 6.62607015e-34, 299792458.0


def test_constants_are_those_of_the_units() -> None:
    """[1]: the gas constant, and that of Stefan and Boltzmann, 2 pi^5 k^4 / (15 h^3 c^2)."""
    assert pytest.approx(AVOGADRO * BOLTZMANN, rel=1e-9) == GAS_CONSTANT
    radiated = 2.0 * math.pi**5 * BOLTZMANN**4 / (15.0 * PLANCK**3 * LIGHT**2)
    assert pytest.approx(radiated, rel=1e-9) == STEFAN_BOLTZMANN


def test_water_weighs_as_its_atoms() -> None:
    assert pytest.approx((2 * 1.008 + 15.999) * 1e-3, rel=1e-9) == MOLAR_MASS_OF_WATER


def test_water_evaporates_by_the_heat_of_steam_tables_and_caustic_asks_for_a_quarter_more() -> None:
    """[3], at 45 °C between both, rounded up to two digits; of caustic as an ideal gas has it, to 2 %."""
    assert 0.0 <= HEAT_OF_EVAPORATION - (2406e3 + 2382e3) / 2.0 < 0.5e5
    assert heat_of_evaporation("NaOH", 0.5, 45.0) / HEAT_OF_EVAPORATION == pytest.approx(1.25, rel=0.02)


@given(st.floats(1e-3, 10.0), st.floats(1e-3, 10.0))
def test_a_cylinder_is_its_wall_rolled_out_and_two_discs(diameter: float, height: float) -> None:
    wall = 2.0 * (diameter / 2.0) * math.pi * height
    assert cylinder_area(diameter, height) == pytest.approx(wall + 2.0 * math.pi * (diameter / 2.0) ** 2)
    # A ring of a hair's breadth at its rim is as long as the rim.
    ring = disc_area(diameter * (1.0 + 1e-6)) - disc_area(diameter)
    assert ring / (0.5e-6 * diameter) == pytest.approx(math.pi * diameter, rel=1e-5)
    assert cylinder_volume(diameter, height) == pytest.approx(wall * diameter / 4.0)


@given(st.floats(1e-6, 10.0))
def test_a_vessel_of_unknown_shape_is_twice_as_wide_as_high(volume: float) -> None:
    area = vessel_area(volume)
    # pi d h + pi d^2 / 2 with h = d / 2 is pi d^2
    diameter = math.sqrt(area / math.pi)
    assert math.pi * diameter**3 / 8.0 == pytest.approx(volume)
    # A ball has the least surface of all.
    assert area > (36.0 * math.pi * volume**2) ** (1.0 / 3.0)


@pytest.mark.parametrize("volume", [0.0, -1e-3, math.nan])
def test_what_has_no_volume_has_no_surface(volume: float) -> None:
    with refused("volume", 0.0, math.inf):
        vessel_area(volume)
