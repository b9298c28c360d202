"""The most that a vessel loses: above the estimates and their upper limits, with the heat that caustic asks for water.

References:
    .. [1] IAPWS R7-97(2012): heat of evaporation of water 2573.5 - 167.5 = 2406 kJ/kg at 40 °C, 2358 at 60 °C and 2256
       at 100 °C; enthalpy of saturated steam, above water of 25 °C (104.8 kJ/kg): 2573.5, 2608.8, 2643.0 and 2675.6
       kJ/kg at 40, 60, 80 and 100 °C (steam tables; from memory).
    .. [2] J. Olsson, Å. Jernqvist and G. Aly, Int. J. Thermophys. 18 (1997) 779-793: enthalpy of caustic soda, of which
       the vapour pressures were not made.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.enthalpy import at_strength
from service.chemistry.errors import OutOfRange
from service.chemistry.heat_loss import cylinder_area, disc_area
from service.chemistry.highest_loss import heat_of_evaporation, highest_evaporation_rate, highest_loss_rate
from service.chemistry.molar_masses import Alkali
from service.chemistry.standing_loss import BARE_METAL, DULL, Standing, standing_loss
from service.chemistry.vapour_pressure import ATMOSPHERE, boiling_point, water_vapour_pressure

STEAM = {40.0: 2573.5e3, 60.0: 2608.8e3, 80.0: 2643.0e3, 100.0: 2675.6e3}
WATER_AT_25 = 104.8e3
"""J/kg [1]_; the enthalpies of solutions count from water of 25 °C."""


@pytest.mark.parametrize(("t", "published"), [(40.0, 2406e3), (60.0, 2358e3), (100.0, 2256e3)])
def test_water_evaporates_by_its_heat_in_steam_tables(t: float, published: float) -> None:
    # An ideal gas has up to 2 % more at 1 atm: p v is less than R T there by 1.6 %, and the liquid has a volume.
    assert heat_of_evaporation("NaOH", 0.0, t) == pytest.approx(published, rel=0.02)


@pytest.mark.parametrize("t", STEAM)
@pytest.mark.parametrize("w", [0.1, 0.2, 0.3, 0.4, 0.5])
def test_caustic_asks_as_much_heat_for_its_water_as_its_enthalpies_tell(w: float, t: float) -> None:
    """Steam less the partial enthalpy of water, h - w dh/dw, by [2]: 5 %, of which 2 % are the ideal gas."""
    step = 0.005
    here, less, more = (at_strength("NaOH", one).enthalpy(t) for one in (w, w - step, w + step))
    water = here - w * (more - less) / (2.0 * step)
    assert heat_of_evaporation("NaOH", w, t) == pytest.approx(STEAM[t] - WATER_AT_25 - water, rel=0.05)


@pytest.mark.parametrize("t", [-1.0, 201.0])
def test_beyond_the_vapour_pressures_no_heat_is_told(t: float) -> None:
    with pytest.raises(OutOfRange):
        heat_of_evaporation("NaOH", 0.3, t)


@pytest.mark.parametrize("t", [0.0, 200.0])
def test_the_ends_of_the_vapour_pressures_have_a_heat(t: float) -> None:
    assert 2.0e6 < heat_of_evaporation("KOH", 0.3, t) < 2.7e6


vessels = st.builds(
    Standing,
    diameter=st.floats(0.02, 2.0),
    level=st.floats(0.005, 2.0),
    ambient=st.floats(0.0, 40.0),
    emissivity=st.sampled_from([DULL, BARE_METAL]),
    wall_resistance=st.sampled_from([0.0, 0.01]),
    is_open=st.just(True),
    shape_known=st.just(True),
)


@given(vessel=vessels, share=st.floats(0.01, 1.0), w=st.floats(0.0, 0.5), alkali=st.sampled_from(["NaOH", "KOH"]))
def test_the_most_lies_above_the_upper_limit_of_a_vessel_that_stands(
    vessel: Standing, share: float, w: float, alkali: Alkali
) -> None:
    """Whatever the vessel, from the air's temperature to boiling: heat of the walls, and of the vapour."""
    t = vessel.ambient + share * (boiling_point(alkali, w) - vessel.ambient)
    pressure = min(water_vapour_pressure(alkali, w, t), ATMOSPHERE)
    dry = standing_loss(vessel._replace(is_open=False), t, 0.0, 0.0)
    area = cylinder_area(vessel.diameter, vessel.level)
    walls = highest_loss_rate(area, vessel.level, t, vessel.ambient)
    assert walls >= dry[2] * (1.0 - 1e-12)
    opened = standing_loss(vessel, t, pressure, 0.0)
    water = highest_evaporation_rate(disc_area(vessel.diameter), vessel.level, t, vessel.ambient, pressure)
    assert walls + water * heat_of_evaporation(alkali, w, t) >= opened[2] * (1.0 - 1e-12)


def test_vapour_drives_itself_by_stefans_flow() -> None:
    """Half of the pressure: ln 2 / 0.5 = 1.386 times as fast for each pascal as a trace of vapour."""
    trace, half = (highest_evaporation_rate(1.0, 0.1, 80.0, 20.0, one) / one for one in (1.0, 0.5 * ATMOSPHERE))
    assert half / trace == pytest.approx(2.0 * math.log(2.0), rel=1e-4)
    assert math.isfinite(highest_evaporation_rate(1.0, 0.1, 100.0, 20.0, ATMOSPHERE))
    assert highest_evaporation_rate(1.0, 0.1, 80.0, 20.0, 0.0) == 0.0


def test_a_room_that_is_warmer_brings_heat_in() -> None:
    assert highest_loss_rate(1.0, 0.2, 5.0, 25.0) < 0.0
