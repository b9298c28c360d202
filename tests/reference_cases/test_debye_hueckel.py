"""The limiting slope of the heats of dilution, worked out anew from the dielectric constant of water.

For an electrolyte of two ions of one charge phi_L = (A_H / b) ln(1 + b sqrt m), and A_H = 4 R T^2 dA_phi/dT [1]. The
slope hangs on how the dielectric constant falls with temperature, in which equations differ more than in its size: with
that of Bradley and Pitzer [2], which the Pitzer parameters below 4 mol/kg go with, it is 1.986, with that of IAPWS [3]
1.972 kJ kg^0.5 mol^-1.5.

1. K. S. Pitzer, Activity Coefficients in Electrolyte Solutions, 2nd ed. (1991), chapter 3.
2. D. J. Bradley, K. S. Pitzer, J. Phys. Chem. 83 (1979) 1599-1603: coefficients from memory, 78.38 at 25 °C.
3. IAPWS R8-97, D. P. Fernández et al., J. Phys. Chem. Ref. Data 26 (1997) 1125-1166, by the package chemicals.
"""

import math
from collections.abc import Callable

import pytest
from chemicals.permittivity import permittivity_IAPWS

from service.chemistry import water
from service.chemistry.heat_loss import GAS_CONSTANT
from service.reference import tables

AVOGADRO = 6.02214076e23
CHARGE = 1.602176634e-19
VACUUM = 8.8541878128e-12
BOLTZMANN = 1.380649e-23
ROOM = 298.15
STRONGEST = 25.0
"""mol/kg, 50 % NaOH."""
_TABLE = tables.read("alkali_enthalpy.csv")
SLOPE = _TABLE.select(part="debye_hueckel_slope [kJ kg^0.5 mol^-1.5]")[0]
DISTANCE = _TABLE.select(part="debye_hueckel_distance [kg^0.5 mol^-0.5]")[0]


def bradley_pitzer(kelvin: float, bar: float = 1.01325) -> float:
    high = 342.79 * math.exp(-5.0866e-3 * kelvin + 9.4690e-7 * kelvin**2)
    c = -2.0525 + 3115.9 / (kelvin - 182.89)
    b = -8032.5 + 4.2142e6 / kelvin + 2.1417 * kelvin
    return high + c * math.log((b + bar) / (b + 1000.0))


def iapws(kelvin: float) -> float:
    return float(permittivity_IAPWS(kelvin, water.density(kelvin - 273.15)))


def slope(dielectric: Callable[[float], float]) -> float:
    def of_activity(kelvin: float) -> float:
        length = CHARGE**2 / (4.0 * math.pi * VACUUM * dielectric(kelvin) * BOLTZMANN * kelvin)
        return math.sqrt(2.0 * math.pi * AVOGADRO * water.density(kelvin - 273.15)) * math.pow(length, 1.5) / 3.0

    rise = (of_activity(ROOM + 0.5) - of_activity(ROOM - 0.5)) / 1.0
    return 4.0 * GAS_CONSTANT * ROOM**2 * rise / 1e3


def test_the_dielectric_constants_agree_at_room_temperature() -> None:
    assert bradley_pitzer(ROOM) == pytest.approx(78.38, abs=0.01)
    assert iapws(ROOM) == pytest.approx(78.41, abs=0.01)


def test_the_slope_is_that_of_the_equation_that_the_pitzer_parameters_go_with() -> None:
    assert slope(bradley_pitzer) == pytest.approx(SLOPE, abs=0.0015)


def test_the_slope_of_iapws_would_move_heats_by_less_than_a_fortieth_of_a_kilojoule_per_mole() -> None:
    other = slope(iapws)
    assert other == pytest.approx(1.972, abs=0.0015)
    longest = math.log(1.0 + DISTANCE * math.sqrt(STRONGEST)) / DISTANCE
    # the heats are known to 0.2 kJ/mol, and a polynomial fitted beside the slope would take up most of this
    assert (SLOPE - other) * longest < 0.025
