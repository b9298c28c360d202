"""What the strength of a vessel's contents leaves open: of boiling, of the first solid, of the heat capacity."""

from math import hypot

import pytest

from service.calculations.keeping.vessel_contents import (
    Contents,
    boiling_spread,
    capacity_spread,
    ends_of_strength,
    told_first_solid,
)
from service.calculations.shared.messages import AlkaliName
from service.chemistry import enthalpy
from service.chemistry.enthalpy import at_strength
from service.chemistry.freezing import first_solid
from service.chemistry.vapour_pressure import HIGHEST_MASS_FRACTION, boiling_point, boiling_point_half_width


def held(w: float, half_width: float, alkali: AlkaliName = "NaOH") -> Contents:
    return Contents(alkali, w, half_width, 10.0, 25.0, None)


def test_a_strength_ends_where_its_interval_does_and_never_beyond_water_or_the_data() -> None:
    assert ends_of_strength(held(0.3, 0.02)) == pytest.approx((0.28, 0.32))
    assert ends_of_strength(held(0.01, 0.02)) == pytest.approx((0.0, 0.03))
    top = HIGHEST_MASS_FRACTION["KOH"]
    assert ends_of_strength(held(top - 0.01, 0.02, "KOH")) == pytest.approx((top - 0.03, top))


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_the_boiling_point_is_open_by_the_data_and_by_what_both_ends_boil_at(alkali: AlkaliName) -> None:
    own = boiling_point_half_width(alkali, 0.4)
    assert boiling_spread(held(0.4, 0.0, alkali)) == own
    apart = boiling_point(alkali, 0.43) - boiling_point(alkali, 0.37)
    assert apart > 5.0
    assert boiling_spread(held(0.4, 0.03, alkali)) == pytest.approx(hypot(own, apart / 2))


@pytest.mark.parametrize("w", [0.10, 0.24, 0.45])
def test_the_first_solid_is_told_with_limits_that_hold_at_both_ends(w: float) -> None:
    """Where its line goes one way, they are those of the ends."""
    told = told_first_solid(held(w, 0.005))
    ends = [first_solid("NaOH", one) for one in (w - 0.005, w + 0.005)]
    assert told.low == pytest.approx(min(one.low for one in ends), abs=1e-6)
    assert told.high == pytest.approx(max(one.high for one in ends), abs=1e-6)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("w", [0.0, 0.1, 0.3, 0.45, None])
def test_the_heat_capacity_is_open_by_the_data_and_by_how_it_goes_with_the_strength(
    alkali: AlkaliName, w: float | None
) -> None:
    """Of water and of the strongest, too, beside which there are data on one side only."""
    top = enthalpy.HIGHEST_MASS_FRACTION[alkali]
    w, half, t = top if w is None else w, 0.02, 30.0
    liquid = at_strength(alkali, w)
    low, high = max(0.0, w - 0.0004), min(top, w + 0.0004)
    slope = (at_strength(alkali, high).heat_capacity(t) - at_strength(alkali, low).heat_capacity(t)) / (high - low)
    due = hypot(liquid.capacity_spread, slope / liquid.heat_capacity(t) * half)
    assert capacity_spread(held(w, half, alkali), liquid, t) == pytest.approx(due, rel=0.03)
    assert capacity_spread(held(w, 0.0, alkali), liquid, t) == liquid.capacity_spread
