"""The most that a vessel loses: the ends of its ranges, and by how much it lies above the value of an estimate.

References:
    .. [1] IAPWS R7-97(2012): heat of evaporation of water 2501 kJ/kg at 0 °C and 2489 kJ/kg at 5 °C, 1940 kJ/kg at
       200 °C (steam tables; from memory).
"""

import math

import pytest

from service.chemistry.density import HIGHEST_MASS_FRACTION, density
from service.chemistry.highest_loss import (
    DENSEST,
    NEAR_BOILING,
    heat_of_evaporation,
    highest_evaporation_rate,
    highest_loss_rate,
)
from service.chemistry.molar_masses import Alkali
from service.chemistry.standing_loss import convection_coefficient, radiation_coefficient, steam
from service.chemistry.vapour_pressure import ATMOSPHERE
from tests.chemistry.refusing import hold_to_ends


def test_a_heat_of_evaporation_is_told_from_freezing_to_the_end_of_the_data() -> None:
    hold_to_ends("t", lambda t: heat_of_evaporation("NaOH", 0.3, t), 0.0, 200.0)


@pytest.mark.parametrize("t", [0.0, 0.1, 0.4, 0.5, 0.6, 1.0, 1.5])
def test_just_above_freezing_water_evaporates_by_its_heat_there(t: float) -> None:
    """[1], 2.4 kJ/kg less for each kelvin."""
    assert heat_of_evaporation("NaOH", 0.0, t) == pytest.approx(2501e3 - 2.4e3 * t, rel=0.02)


@pytest.mark.parametrize("t", [199.4, 199.5, 199.6, 200.0])
def test_at_the_end_of_the_data_the_ideal_gas_is_a_tenth_off(t: float) -> None:
    """[1]; at 15.55 bar steam takes 0.1272 m3/kg and water 0.0012, so that p v is 0.898 of R T."""
    assert heat_of_evaporation("NaOH", 0.0, t) * 0.898 == pytest.approx(1940e3, rel=0.02)


@pytest.mark.parametrize(("level", "as_of"), [(0.1, 0.1), (1e-3, 1e-3), (1e-4, 1e-3), (0.0, 1e-3)])
@pytest.mark.parametrize("t", [5.0, 60.0])
def test_a_square_metre_loses_by_the_upper_limits(level: float, as_of: float, t: float) -> None:
    """One and a half times the convection, and radiation at 0.95; a puddle as one of a millimetre."""
    each = 1.5 * convection_coefficient(as_of, t, 20.0) + radiation_coefficient(0.95, t, 20.0)
    for area in (1.0, 0.2):
        assert highest_loss_rate(area, level, t, 20.0) == pytest.approx(each * area * (t - 20.0))


@pytest.mark.parametrize("level", [0.0, 0.2])
def test_a_trace_of_vapour_leaves_at_twice_the_relation_of_lewis(level: float) -> None:
    """Convection over the volumetric heat of air, 1.2 kg/m3 and 1006 J/(kg K) at 20 °C, less where it is warmer."""
    convection = convection_coefficient(max(level, 1e-3), 40.0, 20.0)
    for area, pressure in ((0.5, 10.0), (2.0, 10.0)):
        found = highest_evaporation_rate(area, level, 40.0, 20.0, pressure)
        assert found == pytest.approx(2.0 * area * convection * steam(40.0, pressure, 0.0) / (1.2 * 1006.0), rel=0.1)


def test_near_boiling_the_flow_ends_to_grow() -> None:
    """ln(1/(1 - x))/x at 0.9 is 2.56, beyond it only the density of the vapour counts."""
    trace, near, beyond = (
        highest_evaporation_rate(1.0, 0.1, 95.0, 20.0, share * ATMOSPHERE) / share
        for share in (1e-6, NEAR_BOILING, 1.3)
    )
    assert near / trace == pytest.approx(math.log(10.0) / 0.9, rel=1e-5)
    assert beyond == pytest.approx(near)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_no_stock_is_denser_than_is_reckoned_with(alkali: Alkali) -> None:
    assert density(alkali, HIGHEST_MASS_FRACTION[alkali], 0.0) < DENSEST
