"""Water, ice and steam against IAPWS.

Check values: see data/iapws_check_values.csv.
"""

import pytest

from service.chemistry import water
from tests.reference_cases.outside import if97
from tests.reference_cases.water_validation import (
    FUSION,
    ICE,
    LIQUID,
    STEAM,
    UNDER_PRESSURE,
    check_values,
    iapws_ice_enthalpy,
)


@pytest.mark.parametrize(("kelvin", "pressure"), check_values(35))
def test_saturation_pressure_gives_the_release_s_own_check_values(kelvin: float, pressure: float) -> None:
    # MPa
    assert water.saturation_pressure(kelvin - 273.15) == pytest.approx(1e6 * pressure, rel=2e-9)


@pytest.mark.parametrize(("pressure", "kelvin"), check_values(36))
def test_saturation_temperature_gives_the_release_s_own_check_values(pressure: float, kelvin: float) -> None:
    # MPa
    assert water.saturation_temperature(1e6 * pressure) == pytest.approx(kelvin - 273.15, abs=1e-6)


@pytest.mark.parametrize("t", LIQUID)
def test_density_follows_if97(t: float) -> None:
    assert water.density(t) == pytest.approx(if97(t)["rho"], rel=1e-4)


@pytest.mark.parametrize("t", UNDER_PRESSURE)
def test_density_above_100_degrees_follows_if97_at_the_pressure_of_saturation(t: float) -> None:
    # Kell's equation runs on as if at 1 atm; 0.5 MPa compresses water by 0.02 %.
    assert water.density(t) == pytest.approx(if97(t, 0.5)["rho"], rel=5e-4)


@pytest.mark.parametrize("t", LIQUID)
def test_heat_capacity_follows_if97_to_four_parts_in_ten_thousand(t: float) -> None:
    assert water.heat_capacity(t) == pytest.approx(if97(t)["cp"], rel=4e-4)


@pytest.mark.parametrize("t", UNDER_PRESSURE)
def test_heat_capacity_above_100_degrees_follows_if97(t: float) -> None:
    assert water.heat_capacity(t) == pytest.approx(if97(t, 0.5)["cp"], rel=4e-4)


@pytest.mark.parametrize("t", LIQUID)
def test_enthalpy_follows_if97(t: float) -> None:
    assert water.enthalpy(t) == pytest.approx(if97(t)["h"] - if97(25.0)["h"], abs=30.0)


@pytest.mark.parametrize("t", LIQUID)
def test_viscosity_follows_iapws_2008_to_a_percent(t: float) -> None:
    assert water.viscosity(t) == pytest.approx(if97(t)["mu"], rel=0.01)


@pytest.mark.parametrize("t", STEAM)
def test_steam_enthalpy_follows_if97(t: float) -> None:
    assert water.steam_enthalpy(t) == pytest.approx(if97(t)["h"] - if97(25.0)["h"], abs=100.0)


@pytest.mark.parametrize("t", ICE)
def test_ice_enthalpy_follows_iapws_ice_ih(t: float) -> None:
    assert water.ice_enthalpy(t) == pytest.approx(iapws_ice_enthalpy(t), abs=50.0)


def test_heat_of_fusion_is_that_of_iapws() -> None:
    assert water.enthalpy(0.0) - water.ice_enthalpy(0.0) == pytest.approx(FUSION, abs=50.0)
