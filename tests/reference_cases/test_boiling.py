"""Boiling points and vapour pressures of caustic solutions against Olsson, Balej, a maker's figures and IF97.

Sources: see data/boiling_points.csv.
"""

import pytest

from service.chemistry import vapour_pressure, water
from tests.reference_cases import caustic_grids, outside
from tests.reference_cases.caustic_published import boiling_points


@pytest.mark.parametrize(("w", "t"), caustic_grids.PRESSURES)
def test_pressure_over_caustic_soda_is_olsson_s(w: float, t: float) -> None:
    assert vapour_pressure.water_vapour_pressure("NaOH", w, t) == pytest.approx(outside.olsson_pressure(w, t), rel=1e-9)


@pytest.mark.parametrize(("w", "t"), boiling_points("balej", "NaOH"))
def test_balej_s_boiling_point_of_caustic_soda_lies_in_the_stated_interval(w: float, t: float) -> None:
    deviation = vapour_pressure.boiling_point("NaOH", w) - t
    assert abs(deviation) <= vapour_pressure.boiling_point_half_width("NaOH", w) + 0.05


@pytest.mark.parametrize(("w", "t"), boiling_points("balej", "KOH"))
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
    ((w, t),) = boiling_points("dow", "NaOH")
    assert (w, t) == (0.5, 145.0)
    assert vapour_pressure.boiling_point("NaOH", w) == pytest.approx(t, abs=2.0)
