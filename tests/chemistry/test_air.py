"""Air against the equations that it was fitted to, as the package chemicals has them, and its range.

E. W. Lemmon and R. T. Jacobsen, Int. J. Thermophys. 25 (2004) 21-69 (transport), with E. W. Lemmon et al., J. Phys.
Chem. Ref. Data 29 (2000) 331-385 (state), evaluated anew here.
"""

from collections.abc import Callable

import pytest
from chemicals.air import (
    lemmon2000_air_dA0_dtau,
    lemmon2000_air_dAr_ddelta,
    lemmon2000_air_dAr_dtau,
    lemmon2000_rho,
)
from chemicals.thermal_conductivity import k_air_lemmon
from chemicals.viscosity import mu_air_lemmon

from service.chemistry import air
from tests.chemistry.refusing import refused

MOLAR_MASS = 28.9586e-3
"""Of dry air [kg/mol] (Lemmon et al. 2000)."""
GAS = 8.31451
"""[J/(mol K)] (as in that equation)."""
MAXCONDENTHERM = (132.6312, 10447.7)
"""What its temperature [K] and density [mol/m3] are told against."""
DEGREES = (-60.0, -40.0, -20.0, 0.0, 26.85, 60.0, 100.0, 150.0, 200.0)


def _density(t: float) -> float:
    """At 1 atm [mol/m3]."""
    return float(lemmon2000_rho(t + 273.15, 101325.0))


def _conductivity(t: float) -> float:
    kelvin, density = t + 273.15, _density(t)
    return float(k_air_lemmon(kelvin, density, mu=mu_air_lemmon(kelvin, density)))


def _kinematic_viscosity(t: float) -> float:
    return float(mu_air_lemmon(t + 273.15, _density(t))) / (_density(t) * MOLAR_MASS)


def _enthalpy(t: float) -> float:
    """[J/kg], by the derivatives of the Helmholtz energy."""
    kelvin = t + 273.15
    tau, delta = MAXCONDENTHERM[0] / kelvin, _density(t) / MAXCONDENTHERM[1]
    by_tau = lemmon2000_air_dA0_dtau(tau, delta) + lemmon2000_air_dAr_dtau(tau, delta)
    return float(GAS * kelvin * (1.0 + tau * by_tau + delta * lemmon2000_air_dAr_ddelta(tau, delta)) / MOLAR_MASS)


def _heat_capacity(t: float) -> float:
    return (_enthalpy(t + 1.0) - _enthalpy(t - 1.0)) / 2.0


def test_the_equation_is_that_of_a_nearly_ideal_gas_here() -> None:
    """An ideal gas of two atoms has a heat capacity of 7/2 R; vibration adds a little at 27 °C."""
    assert _density(26.85) == pytest.approx(101325.0 / (GAS * 300.0), rel=1e-3)
    assert 1.0 < _heat_capacity(26.85) / (3.5 * GAS / MOLAR_MASS) < 1.005


@pytest.mark.parametrize("t", DEGREES)
def test_powers_follow_the_equations_as_closely_as_the_module_says(t: float) -> None:
    """0.9 and 1 %, as rounded."""
    assert air.conductivity(t) == pytest.approx(_conductivity(t), rel=0.0095)
    assert air.kinematic_viscosity(t) == pytest.approx(_kinematic_viscosity(t), rel=0.0105)


def test_prandtl_number_and_heat_of_a_volume_are_those_of_the_equations() -> None:
    """The number holds between 0.70 and 0.72 over the range of a vessel, as the module says."""
    for t, rounded in ((-60.0, 0.72), (26.85, air.PRANDTL), (80.0, 0.70)):
        diffusivity = _conductivity(t) / (_density(t) * MOLAR_MASS * _heat_capacity(t))
        assert _kinematic_viscosity(t) / diffusivity == pytest.approx(rounded, abs=0.006)
    volumetric = _density(48.0) * MOLAR_MASS * _heat_capacity(48.0)
    assert pytest.approx(volumetric, rel=2e-3) == air.VOLUMETRIC_HEAT


@pytest.mark.parametrize("of", [air.conductivity, air.kinematic_viscosity])
def test_air_is_known_from_60_degrees_below_nought_to_200_above_it(of: Callable[[float], float]) -> None:
    assert of(-60.0) < of(0.0) < of(200.0)
    for outside in (-60.001, 200.001, float("nan")):
        with refused("temperature", -60.0, 200.0):
            of(outside)
