"""The parts of a standing loss: top, wall and bottom by their surfaces, and vapour by what it carries.

References:
    .. [1] S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329: 0.825 squared is the
       Nusselt number of a still wall, and Nu goes with the third root of Ra where that is large.
    .. [2] Steam tables (from memory): saturated steam of 60 °C has 0.1302 kg/m3 at 19.95 kPa.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.air import VOLUMETRIC_HEAT
from service.chemistry.heat_loss import HEAT_OF_EVAPORATION
from service.chemistry.standing_loss import (
    BARE_METAL,
    DULL,
    Range,
    Standing,
    air_loss,
    convection_coefficient,
    radiation_coefficient,
    standing_loss,
    steam,
    top_loss,
    vertical_nusselt,
)
from tests.chemistry.refusing import hold_to_ends, refused

CONVECTION: Range = (4.0, 3.0, 6.0)
"""W/(m2 K)."""
VESSEL = Standing(0.4, 0.3, 20.0, DULL, 0.0, is_open=True, shape_known=True)
DISC = math.pi * 0.2**2


def _outer(which: int, t: float) -> float:
    return CONVECTION[which] + radiation_coefficient(DULL[which], t, 20.0)


@pytest.mark.parametrize("t", [10.0, 60.0])
@pytest.mark.parametrize("diameter", [0.4, 0.8])
def test_the_top_loses_by_its_own_surface(t: float, diameter: float) -> None:
    """A lid of which at the lower limit half holds; of unknown shape it is 15 % more at the upper."""
    vessel = VESSEL._replace(diameter=diameter)
    disc = math.pi * (diameter / 2.0) ** 2
    parts = [_outer(which, t) * disc * (t - 20.0) for which in range(3)]
    assert top_loss(vessel, t, CONVECTION, 0.0) == pytest.approx((parts[0], min(parts), max(parts)))
    closed = parts[0], 0.5 * parts[1], parts[2]
    found = top_loss(vessel._replace(is_open=False), t, CONVECTION, 0.0)
    assert found == pytest.approx((closed[0], min(closed), max(closed)))
    unknown = parts[0], parts[1], 1.15 * parts[2]
    found = top_loss(vessel._replace(shape_known=False), t, CONVECTION, 0.0)
    assert found == pytest.approx((unknown[0], min(unknown), max(unknown)))


@given(t=st.floats(-20.0, 120.0), level=st.floats(0.01, 2.0), diameter=st.floats(0.02, 2.0), is_open=st.booleans())
def test_what_the_top_does_not_lose_goes_through_wall_and_bottom(
    t: float, level: float, diameter: float, *, is_open: bool
) -> None:
    vessel = VESSEL._replace(level=level, diameter=diameter, is_open=is_open)
    whole, top = air_loss(vessel, t, CONVECTION, 0.0), top_loss(vessel, t, CONVECTION, 0.0)
    wall, disc = math.pi * diameter * level, math.pi * diameter**2 / 4.0
    assert whole[0] - top[0] == pytest.approx(_outer(0, t) * (wall + 0.5 * disc) * (t - 20.0), abs=1e-9)
    if t > 20.0:
        assert whole[2] - top[2] == pytest.approx(_outer(2, t) * (wall + disc) * (t - 20.0), abs=1e-9)


def test_a_wall_holds_back_what_goes_through_it_alone() -> None:
    """Of 0.1 m2 K/W; nothing of it lies before the top."""
    vessel = VESSEL._replace(wall_resistance=0.1)
    bare = air_loss(VESSEL, 60.0, CONVECTION, 0.0)[0] - top_loss(VESSEL, 60.0, CONVECTION, 0.0)[0]
    held = air_loss(vessel, 60.0, CONVECTION, 0.0)[0] - top_loss(vessel, 60.0, CONVECTION, 0.0)[0]
    assert bare / held == pytest.approx(1.0 + 0.1 * _outer(0, 60.0))


@pytest.mark.parametrize("of", [air_loss, top_loss])
def test_vapour_carries_its_heat_as_air_carries_that_of_its_own(of: object) -> None:
    """W. K. Lewis 1922: as much volume of air as convection warms, with that much vapour in each; none, or twice it."""
    assert callable(of)
    dry, damp, closed = (
        of(VESSEL._replace(is_open=is_open), 60.0, CONVECTION, density)
        for is_open, density in ((True, 0.0), (True, 0.1), (False, 0.1))
    )
    carried = DISC * 4.0 * 0.1 / VOLUMETRIC_HEAT * HEAT_OF_EVAPORATION
    assert damp == pytest.approx((dry[0] + carried, dry[1], dry[2] + 2.0 * carried))
    assert closed[0] == pytest.approx(dry[0])


def test_steam_is_as_dense_as_in_its_tables() -> None:
    """[2], which is no ideal gas: 1 %. Damp air of as much vapour carries none away, nor does it bring any."""
    assert steam(60.0, 19.95e3, 0.0) == pytest.approx(0.1302, rel=0.01)
    assert steam(60.0, 19.95e3, 9.975e3) == pytest.approx(0.0651, rel=0.01)
    assert steam(60.0, 1e3, 1e3) == steam(60.0, 1e3, 2e3) == 0.0


def test_the_nusselt_number_has_the_limits_of_its_formula() -> None:
    """[1]."""
    assert vertical_nusselt(0.0, 0.7) == pytest.approx(0.825**2)
    assert vertical_nusselt(0.5, 0.7) > 0.825**2
    assert vertical_nusselt(8e18, 0.7) / vertical_nusselt(1e18, 0.7) == pytest.approx(2.0, rel=0.01)
    # Of a thick oil Pr counts no more, and of a metal Nu goes with the product of both.
    assert vertical_nusselt(1e9, 1e6) == pytest.approx(vertical_nusselt(1e9, 1e9), rel=1e-3)
    assert vertical_nusselt(1e12, 1e-6) == pytest.approx(vertical_nusselt(1e13, 1e-7), rel=0.02)


def test_a_black_body_radiates_by_its_fourth_power() -> None:
    """5.670374e-8 W/(m2 K4): 100 °C against the absolute zero, and a hair's breadth of difference."""
    assert radiation_coefficient(1.0, 100.0, -273.15) * 373.15 == pytest.approx(5.670374e-8 * 373.15**4, rel=1e-6)
    assert radiation_coefficient(0.5, 27.0, 27.0) == pytest.approx(2.0 * 5.670374e-8 * 300.15**3, rel=1e-6)
    hold_to_ends("emissivity", lambda one: radiation_coefficient(one, 30.0, 20.0), 0.0, 1.0)


def test_ranges_of_convection_are_held() -> None:
    for quantity, at in (("surface", lambda t: (1.0, t, 20.0)), ("ambient", lambda t: (1.0, 20.0, t))):
        high = 200.0 if quantity == "surface" else 100.0
        for inside in (-60.0, high):
            convection_coefficient(*at(inside))
        for outside in (-60.1, high + 0.1):
            with refused(quantity, -60.0, high):
                convection_coefficient(*at(outside))
    with refused("height", 0.0, math.inf):
        convection_coefficient(0.0, 30.0, 20.0)
    with refused("rayleigh", 0.0, math.inf):
        vertical_nusselt(-0.5, 0.7)
    with refused("prandtl", 0.0, math.inf):
        vertical_nusselt(1e6, 0.0)


def test_emissivities_are_shares_and_those_of_metal_are_the_less() -> None:
    for value, low, high in (DULL, BARE_METAL):
        assert 0.0 <= low < value < high <= 1.0
    assert all(metal < dull for metal, dull in zip(BARE_METAL, DULL, strict=True))


@pytest.mark.parametrize("level", [0.0, 1e-4, 1e-3])
def test_a_puddle_loses_as_one_of_a_millimetre(level: float) -> None:
    """By convection as there; what is left is its top and half of its bottom."""
    vessel = VESSEL._replace(level=level)
    coefficient = convection_coefficient(1e-3, 60.0, 20.0) + radiation_coefficient(0.9, 60.0, 20.0)
    surface = 1.5 * DISC + math.pi * 0.4 * level
    assert standing_loss(vessel, 60.0, 0.0, 0.0)[0] == pytest.approx(coefficient * surface * 40.0)
