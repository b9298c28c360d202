"""Water, ice and steam against IAPWS."""

import pytest
from iapws import _Ice

from service.chemistry import water
from tests.reference_cases.outside import if97

LIQUID = [0.5, 5.0, 10.0, 20.0, 25.0, 40.0, 60.0, 80.0, 99.0]
UNDER_PRESSURE = [110.0, 130.0, 150.0]


@pytest.mark.parametrize(
    ("kelvin", "pressure"), [(300.0, 0.353658941e-2), (500.0, 0.263889776e1), (600.0, 0.123443146e2)]
)
def test_saturation_pressure_gives_the_release_s_own_check_values(kelvin: float, pressure: float) -> None:
    # IAPWS R7-97(2012), table 35, MPa
    assert water.saturation_pressure(kelvin - 273.15) == pytest.approx(1e6 * pressure, rel=2e-9)


@pytest.mark.parametrize(("pressure", "kelvin"), [(0.1, 0.372755919e3), (1.0, 0.453035632e3), (10.0, 0.584149488e3)])
def test_saturation_temperature_gives_the_release_s_own_check_values(pressure: float, kelvin: float) -> None:
    # IAPWS R7-97(2012), table 36
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


@pytest.mark.parametrize("t", [100.5, 110.0, 125.0, 146.0, 180.0, 200.0])
def test_steam_enthalpy_follows_if97(t: float) -> None:
    assert water.steam_enthalpy(t) == pytest.approx(if97(t)["h"] - if97(25.0)["h"], abs=100.0)


@pytest.mark.parametrize("t", [-18.0, -10.0, -5.0, -0.01])
def test_ice_enthalpy_follows_iapws_ice_ih(t: float) -> None:
    # Ice Ih and IAPWS-95 share their zero: liquid water at the triple point.
    ice = 1e3 * _Ice(t + 273.15, 0.101325)["h"]
    liquid = if97(25.0)["h"]
    assert water.ice_enthalpy(t) == pytest.approx(ice - liquid, abs=150.0)


def test_heat_of_fusion_is_that_of_iapws() -> None:
    # 333.42 kJ/kg, IAPWS-95 less ice Ih at 0 °C and 1 atm, as evaluated with iapws 1.5.5
    assert water.enthalpy(0.0) - water.ice_enthalpy(0.0) == pytest.approx(333.42e3, abs=50.0)
