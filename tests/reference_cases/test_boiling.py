"""Boiling points and vapour pressures of caustic solutions against Olsson, Balej, a maker's figures and IF97."""

import pytest

from service.chemistry import vapour_pressure, water
from tests.reference_cases import outside

# Boiling points at 1 atm from Balej's equation for NaOH, evaluated apart from the service: Int. J. Hydrogen
# Energy 10 (1985) 233-243.
BALEJ_NAOH = {0.10: 102.7, 0.20: 107.8, 0.30: 116.7, 0.40: 130.9, 0.45: 140.4, 0.50: 151.5}
BALEJ_KOH = {0.05: 101.0, 0.10: 102.3, 0.20: 106.4, 0.25: 109.4, 0.30: 113.3, 0.35: 118.4, 0.40: 124.9, 0.50: 144.4}


@pytest.mark.parametrize("w", [0.01, 0.10, 0.30, 0.50, 0.55])
@pytest.mark.parametrize("t", [20.0, 60.0, 100.0, 150.0])
def test_pressure_over_caustic_soda_is_olsson_s(w: float, t: float) -> None:
    assert vapour_pressure.water_vapour_pressure("NaOH", w, t) == pytest.approx(outside.olsson_pressure(w, t), rel=1e-9)


@pytest.mark.parametrize(("w", "t"), BALEJ_NAOH.items())
def test_balej_s_boiling_point_of_caustic_soda_lies_in_the_stated_interval(w: float, t: float) -> None:
    deviation = vapour_pressure.boiling_point("NaOH", w) - t
    assert abs(deviation) <= vapour_pressure.boiling_point_half_width("NaOH", w) + 0.05


@pytest.mark.parametrize(("w", "t"), BALEJ_KOH.items())
def test_caustic_potash_boils_where_balej_says(w: float, t: float) -> None:
    assert vapour_pressure.boiling_point("KOH", w) == pytest.approx(t, abs=0.05)


def test_without_caustic_both_equations_give_water() -> None:
    # IAPWS-IF97; Olsson's own water is 0.04 K off
    assert vapour_pressure.boiling_point("KOH", 0.0) == pytest.approx(water.saturation_temperature(101325.0), abs=1e-9)
    assert vapour_pressure.boiling_point("NaOH", 0.0) == pytest.approx(99.974, abs=0.05)
    for t in (20.0, 60.0, 100.0, 150.0):
        olsson = vapour_pressure.water_vapour_pressure("NaOH", 0.0, t)
        assert olsson == pytest.approx(water.saturation_pressure(t), rel=0.01)


def test_fifty_percent_boils_near_145_degrees() -> None:
    # Dow Chemical, caustic soda product page: about 145 °C
    assert vapour_pressure.boiling_point("NaOH", 0.5) == pytest.approx(145.0, abs=2.0)
