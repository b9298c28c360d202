"""Heat lost by a filled vessel in a room: the published correlation, its limits, and its behaviour.

[1]_ T. L. Bergman et al., Introduction to Heat Transfer, 6th ed., example 9.2: Gr 2.63e9, Pr 0.69, Nu 147.
[2]_ Churchill and Chu 1975 as evaluated with the package ht 1.2.0, air by the ideal gas and Sutherland's formulas.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.errors import OutOfRange
from service.chemistry.standing_loss import (
    BARE_METAL,
    DULL,
    Standing,
    convection_coefficient,
    radiation_coefficient,
    standing_loss,
    vertical_nusselt,
)
from tests.reference_cases.convection_validation import PLATE_GRASHOF, PLATE_NUSSELT, PLATE_PRANDTL, Wall, walls


def _vessel(ambient: float = 20.0, *, is_open: bool = False, resistance: float = 0.0, known: bool = True) -> Standing:
    return Standing(0.4, 0.3, ambient, DULL, resistance, is_open, known)


def test_the_nusselt_number_is_that_of_the_published_example() -> None:
    found = vertical_nusselt(PLATE_GRASHOF * PLATE_PRANDTL, PLATE_PRANDTL)
    assert round(found) == PLATE_NUSSELT  # [1]
    assert found == pytest.approx(147.16, abs=0.01)  # [2]


@pytest.mark.parametrize("wall", walls())
def test_coefficients_agree_with_an_independent_package(wall: Wall) -> None:
    # [2]; its properties of air differ from table A.4 of [1] by up to 1 %
    assert convection_coefficient(wall.height, wall.surface, 20.0) == pytest.approx(wall.convection, rel=0.015)
    assert radiation_coefficient(0.9, wall.surface, 20.0) == pytest.approx(wall.radiation, abs=0.006)


@given(t=st.floats(-28.0, 140.0), more=st.floats(0.01, 20.0), ambient=st.floats(-40.0, 60.0))
def test_a_warmer_stock_loses_more(t: float, more: float, ambient: float) -> None:
    cool, warm = (standing_loss(_vessel(ambient), one, 0.0, 0.0) for one in (t, t + more))
    assert all(a < b for a, b in zip(cool, warm, strict=True))


@given(t=st.floats(-28.0, 140.0), ambient=st.floats(-40.0, 60.0), vapour=st.floats(0.0, 1e5))
def test_the_limits_lie_about_the_value(t: float, ambient: float, vapour: float) -> None:
    value, low, high = standing_loss(_vessel(ambient, is_open=True), t, vapour, 1000.0)
    assert low <= value <= high


def test_at_the_temperature_of_the_room_a_closed_vessel_loses_nothing() -> None:
    assert standing_loss(_vessel(), 20.0, 0.0, 0.0) == pytest.approx((0.0, 0.0, 0.0))


def test_the_loss_by_hand() -> None:
    """Wall 0.377 m2, top 0.1257 m2, half of the bottom; 8.99 W/(m2 K) of both kinds at 30 °C [2]."""
    value, _, _ = standing_loss(_vessel(), 30.0, 0.0, 0.0)
    assert value == pytest.approx(8.99 * (math.pi * 0.4 * 0.3 + 1.5 * math.pi * 0.04) * 10.0, rel=0.01)


def test_evaporation_adds_and_damp_air_over_strong_caustic_takes_nothing_off() -> None:
    closed = standing_loss(_vessel(), 60.0, 5000.0, 1000.0)
    opened = standing_loss(_vessel(is_open=True), 60.0, 5000.0, 1000.0)
    assert opened[0] > closed[0]
    damp = standing_loss(_vessel(is_open=True), 60.0, 100.0, 1000.0)
    assert (damp[0], damp[2]) == (closed[0], closed[2])


def test_air_under_a_lid_may_hold_half_of_the_top_back() -> None:
    """At the lower end: 0.1257 m2 of top, 0.75 times the convection and an emissivity of 0.85."""
    closed, opened = (standing_loss(_vessel(is_open=is_open), 60.0, 0.0, 0.0) for is_open in (False, True))
    outer = 0.75 * convection_coefficient(0.3, 60.0, 20.0) + radiation_coefficient(0.85, 60.0, 20.0)
    assert opened[1] - closed[1] == pytest.approx(0.5 * math.pi * 0.04 * outer * 40.0)
    assert (opened[0], opened[2]) == (closed[0], closed[2])


def test_a_thick_wall_an_unknown_shape_and_bare_metal_bear_on_the_loss() -> None:
    plain = standing_loss(_vessel(), 60.0, 0.0, 0.0)
    assert standing_loss(_vessel(resistance=0.1), 60.0, 0.0, 0.0)[0] < plain[0]
    unknown = standing_loss(_vessel(known=False), 60.0, 0.0, 0.0)
    assert unknown[2] == pytest.approx(1.15 * plain[2])
    assert standing_loss(_vessel()._replace(emissivity=BARE_METAL), 60.0, 0.0, 0.0)[0] < plain[0]


@pytest.mark.parametrize(("height", "surface", "ambient"), [(0.0, 20.0, 20.0), (1.0, 201.0, 20.0), (1.0, 20.0, 101.0)])
def test_beyond_the_data_is_refused(height: float, surface: float, ambient: float) -> None:
    with pytest.raises(OutOfRange):
        convection_coefficient(height, surface, ambient)


@pytest.mark.parametrize(("rayleigh", "prandtl"), [(-1.0, 0.7), (1e6, 0.0)])
def test_numbers_that_cannot_be_are_refused(rayleigh: float, prandtl: float) -> None:
    with pytest.raises(OutOfRange):
        vertical_nusselt(rayleigh, prandtl)


def test_an_emissivity_is_a_share() -> None:
    with pytest.raises(OutOfRange):
        radiation_coefficient(1.1, 30.0, 20.0)


def test_a_difference_that_rounding_leaves_moves_no_air() -> None:
    # the root of 1e-12 K alone would make it a tenth more
    still = convection_coefficient(0.3, 20.0, 20.0)
    assert convection_coefficient(0.3, 20.0 + 1e-12, 20.0) == pytest.approx(still, rel=1e-9)


def test_at_the_lower_limit_a_film_of_thick_stock_and_a_wall_hold_back() -> None:
    """0.02 m2 K/W of film and 2 mm of plastic before the wall; no bottom, and half of the lid."""
    _, low, _ = standing_loss(_vessel(), 60.0, 0.0, 0.0)
    outer = 0.75 * convection_coefficient(0.3, 60.0, 20.0) + radiation_coefficient(0.85, 60.0, 20.0)
    wall, top = math.pi * 0.4 * 0.3, 0.5 * math.pi * 0.04
    assert low == pytest.approx((wall / (1.0 / outer + 0.02) + top * outer) * 40.0)
