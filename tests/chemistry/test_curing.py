"""A soap that dries: what is dry in it stays, and only water leaves."""

import math
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.curing import cured_mass, highest_moisture
from service.chemistry.errors import OutOfRange
from tests.chemistry.refusing import refused

MASS = st.floats(1e-3, 1e4)
SHARE = st.floats(0.0, 1.0)


@given(mass=MASS, wet=st.floats(0.0, 0.95), dried=SHARE)
def test_what_is_dry_stays(mass: float, wet: float, dried: float) -> None:
    water = wet * mass
    moisture = dried * highest_moisture(mass, water)
    left = cured_mass(mass, water, moisture)
    assert left - moisture * left == pytest.approx(mass - water, rel=1e-12)


@given(mass=MASS, wet=st.floats(0.0, 0.95))
def test_undried_it_weighs_what_was_poured_and_bone_dry_what_is_no_water(mass: float, wet: float) -> None:
    water = wet * mass
    assert cured_mass(mass, water, highest_moisture(mass, water)) == pytest.approx(mass, rel=1e-12)
    assert cured_mass(mass, water, 0.0) == mass - water


def test_a_kilogram_with_three_tenths_of_water_by_hand() -> None:
    """700 g dry are seven eighths of 800 g."""
    assert highest_moisture(1.0, 0.3) == 0.3
    assert cured_mass(1.0, 0.3, 0.125) == pytest.approx(0.8, rel=1e-14)


def test_twice_the_soap_weighs_twice_as_much() -> None:
    assert cured_mass(14.0, 4.2, 0.1) == pytest.approx(2.0 * cured_mass(7.0, 2.1, 0.1), rel=1e-14)
    assert highest_moisture(14.0, 4.2) == highest_moisture(7.0, 2.1)


def test_water_alone_is_all_moisture() -> None:
    assert highest_moisture(2.0, 2.0) == 1.0
    assert cured_mass(2.0, 2.0, 1.0) == 2.0


def test_a_soap_has_a_mass_however_small() -> None:
    assert highest_moisture(1e-200, 0.0) == 0.0
    for mass in (0.0, -1.0, math.nan):
        with pytest.raises(OutOfRange) as caught:
            highest_moisture(mass, 0.0)
        assert (caught.value.quantity, caught.value.high) == ("mass", math.inf)
        assert 0.0 < caught.value.low < 1e-300


@pytest.mark.parametrize("water", [-0.01, 5.01, math.nan])
def test_a_soap_holds_no_more_water_than_it_weighs(water: float) -> None:
    for asked in (highest_moisture, partial(cured_mass, moisture=0.0)):
        with refused("water", 0.0, 5.0):
            asked(5.0, water)


@pytest.mark.parametrize("moisture", [-0.01, 0.41, math.nan])
def test_a_soap_takes_up_no_water_and_gets_no_drier_than_dry(moisture: float) -> None:
    with refused("moisture", 0.0, 0.4):
        cured_mass(5.0, 2.0, moisture)
