"""Functions of water hold together, and raise outside their ranges."""

import math
from collections.abc import Callable

import pytest

from service.chemistry import water
from service.chemistry.errors import OutOfRange

RANGES: list[tuple[Callable[[float], float], float, float]] = [
    (water.density, 0.0, 150.0),
    (water.heat_capacity, 0.0, 150.0),
    (water.enthalpy, 0.0, 150.0),
    (water.viscosity, 0.0, 100.0),
    (water.saturation_pressure, 0.0, 373.946),
    (water.saturation_temperature, 611.2, 22.064e6),
    (water.ice_enthalpy, -30.0, 0.0),
    (water.ice_temperature, water.ice_enthalpy(-30.0), water.ice_enthalpy(0.0)),
    (water.steam_enthalpy, 99.9, 200.0),
]


@pytest.mark.parametrize(("function", "low", "high"), RANGES, ids=lambda given: getattr(given, "__name__", ""))
def test_each_holds_to_the_ends_of_its_range_and_no_further(
    function: Callable[[float], float], low: float, high: float
) -> None:
    assert math.isfinite(function(low))
    assert math.isfinite(function(high))
    for outside in (low - 1e-6 * max(abs(low), 1.0), high + 1e-6 * max(high, 1.0), math.nan):
        with pytest.raises(OutOfRange):
            function(outside)


@pytest.mark.parametrize("t", [0.0, 10.0, 60.0, 150.0])
def test_enthalpy_is_the_integral_of_the_heat_capacity(t: float) -> None:
    steps = 2000
    width = (t - 25.0) / steps
    summed = sum(water.heat_capacity(25.0 + (i + 0.5) * width) for i in range(steps)) * width
    assert water.enthalpy(t) == pytest.approx(summed, abs=0.01)
    assert water.enthalpy(25.0) == 0.0


@pytest.mark.parametrize("t", [0.01, 20.0, 99.974, 200.0, 370.0])
def test_saturation_pressure_and_temperature_are_inverse(t: float) -> None:
    assert water.saturation_temperature(water.saturation_pressure(t)) == pytest.approx(t, abs=1e-9)


def test_heat_of_evaporation_at_the_boiling_point() -> None:
    # 2256.5 kJ/kg at 100 °C, handbook value from memory; half a unit of its last digit
    assert water.steam_enthalpy(100.0) - water.enthalpy(100.0) == pytest.approx(2256.5e3, abs=50.0)


@pytest.mark.parametrize("t", [-30.0, -29.9, -12.0, -1e-6, 0.0])
def test_ice_has_the_temperature_that_its_enthalpy_was_taken_at(t: float) -> None:
    assert water.ice_temperature(water.ice_enthalpy(t)) == pytest.approx(t, abs=1e-12)
