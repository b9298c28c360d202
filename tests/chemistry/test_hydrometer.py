"""The scales of hydrometers, and the density that one reads in a liquid of another temperature."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.hydrometer import (
    GLASS_EXPANSION,
    degrees_baume_from_specific_gravity,
    degrees_twaddell_from_specific_gravity,
    density_read,
    specific_gravity_from_degrees_baume,
    specific_gravity_from_degrees_twaddell,
)
from tests.chemistry.refusing import refused

ROOM = st.floats(0.0, 100.0)


@given(gravity=st.floats(0.5, 3.0), t=ROOM, other=ROOM, reference=ROOM)
def test_the_mass_that_the_float_displaces_is_its_own_at_every_temperature(
    gravity: float, t: float, other: float, reference: float
) -> None:
    """What carries the float weighs as much as it does, and the room it takes grows with its glass."""
    volumes = [1.0 + GLASS_EXPANSION * (at - reference) for at in (t, other)]
    masses = [density_read(gravity, at, reference) * volume for at, volume in zip((t, other), volumes, strict=True)]
    assert masses[0] == pytest.approx(masses[1], rel=1e-12)


def test_glass_grows_as_the_standard_counts() -> None:
    """ISO 649-1 (from memory): 0.000 025 for each kelvin, soda-lime glass."""
    assert pytest.approx(25e-6, rel=0.01) == GLASS_EXPANSION


@pytest.mark.parametrize(("water", "density"), [(4.0, 999.97), (15.0, 999.10), (20.0, 998.20), (25.0, 997.05)])
def test_at_its_own_temperature_a_reading_counts_in_the_water_of_its_scale(water: float, density: float) -> None:
    """Densities of water: M. Tanaka et al., Metrologia 38 (2001) 301-309, rounded."""
    assert density_read(1.5, 20.0, 20.0, water) == pytest.approx(1.5 * density, abs=0.02)
    assert density_read(1.5, water, water) == pytest.approx(1.5 * density, abs=0.02)


def test_a_warm_float_takes_more_room_and_shows_too_much() -> None:
    """45 K make the glass 0.1125 % larger."""
    cool, warm = (density_read(1.5, t, 15.0) for t in (15.0, 60.0))
    assert cool / warm == pytest.approx(1.001125, abs=1e-6)


ENDS: list[tuple[str, Callable[[float], object], float, float]] = [
    ("baume_modulus", lambda x: specific_gravity_from_degrees_baume(10.0, x), 140.0, 150.0),
    ("baume_modulus", lambda x: degrees_baume_from_specific_gravity(1.5, x), 140.0, 150.0),
    ("degrees_baume", specific_gravity_from_degrees_baume, 0.0, 144.0),
    ("specific_gravity", degrees_baume_from_specific_gravity, 1.0, 145.0),
    ("degrees_twaddell", specific_gravity_from_degrees_twaddell, 0.0, 200.0),
    ("specific_gravity", degrees_twaddell_from_specific_gravity, 1.0, 2.0),
    ("specific_gravity", lambda x: density_read(x, 20.0, 20.0), 0.5, 3.0),
    ("temperature", lambda x: density_read(1.5, x, 20.0), 0.0, 100.0),
    ("reference", lambda x: density_read(1.5, 20.0, x, 20.0), 0.0, 100.0),
    ("water_reference", lambda x: density_read(1.5, 20.0, 20.0, x), 0.0, 100.0),
]


@pytest.mark.parametrize(("quantity", "asked", "low", "high"), ENDS)
def test_what_is_documented_is_taken_and_nothing_beyond(
    quantity: str, asked: Callable[[float], object], low: float, high: float
) -> None:
    for end in (low, high):
        asked(end)
    for beyond in (low - 0.01, high + 0.01, high + 1.0):
        with refused(quantity, low, high):
            asked(beyond)
