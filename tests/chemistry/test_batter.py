"""Density of fats and batters, and the mass of a soap as it dries."""

import math
from collections.abc import Callable
from types import SimpleNamespace
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.batch.blend_reading import content_of
from service.calculations.batch.split import Added
from service.calculations.orders import batch_content
from service.chemistry import food_density
from service.chemistry.batter import BatterPart, batter_density, fat_density
from service.chemistry.curing import cured_mass, highest_moisture
from service.chemistry.errors import OutOfRange
from service.chemistry.food_heat import Dry
from service.chemistry.water import density as water_density
from service.reference import reference_data
from tests.chemistry.refusing import refused
from tests.reference_cases.batter_validation import published_fats


@pytest.mark.parametrize(("fat", "t", "low", "high"), [one[:4] for one in published_fats()])
def test_published_limits_of_fats_lie_within_the_interval(fat: str, t: float, low: float, high: float) -> None:
    found = fat_density(fat, t)
    room = 0.3  # kg/m3, for densities that are told against water of 20 or of 4 °C
    assert found.density - found.half_width - room <= low
    assert high <= found.density + found.half_width + room


@pytest.mark.parametrize(
    "name", sorted(name for name, one in reference_data().liquids.items() if one.density is not None)
)
def test_household_weights_of_liquids_agree_with_their_composition(name: str) -> None:
    """USDA, National Nutrient Database SR26: household weights of a cup, good to some per cent."""
    known = reference_data().liquids[name].density
    assert known is not None
    held = content_of(name)
    assert food_density.density(held.water, held.dry, 20.0) == pytest.approx(known.middle, rel=food_density.SPREAD)


@pytest.mark.parametrize("name", sorted(reference_data().liquids)[::8])
def test_a_liquid_without_a_density_of_its_own_is_as_uncertain_in_a_batter_as_its_composition_makes_it(
    name: str,
) -> None:
    added = cast("Added", SimpleNamespace(liquid=SimpleNamespace(id=name, density=None)))
    for t in (0.0, 30.0, 90.0):
        value, half_width = batch_content._liquid_density(added, t)
        held = content_of(name)
        assert value == food_density.density(held.water, held.dry, t)
        assert half_width == pytest.approx(food_density.SPREAD * value, rel=1e-12)


def test_water_alone_has_the_density_of_water() -> None:
    assert food_density.density(1.0, Dry(), 25.0) == pytest.approx(water_density(25.0))


def test_a_batter_without_air_is_that_of_its_parts_side_by_side() -> None:
    """By hand: 1000 g of 0.900, 257.4 g of 1.511 and 128.7 g of 0.992 g/mL take 1411.2 mL and make 0.9822 g/mL."""
    parts = [BatterPart(1.0, 900.0), BatterPart(0.2574, 1511.0), BatterPart(0.1287, 992.0)]
    assert batter_density(parts, 0.0).density == pytest.approx(982.2, abs=0.1)
    airy = batter_density(parts)
    assert airy.density == pytest.approx(0.97 * 982.2, abs=0.1)
    assert airy.low == pytest.approx(0.94 * 982.2, abs=0.1)
    assert airy.high == pytest.approx(982.2, abs=0.1)


def test_what_parts_lose_as_they_mix_is_taken_off_the_volume() -> None:
    """By hand: the same with 13 mL less takes 1398.2 mL and makes 0.9913 g/mL."""
    parts = [BatterPart(1.0, 900.0), BatterPart(0.2574, 1511.0), BatterPart(0.1287, 992.0)]
    assert batter_density(parts, 0.0, 13e-6).density == pytest.approx(991.3, abs=0.1)


@given(
    masses=st.lists(st.tuples(st.floats(0.01, 5.0), st.floats(700.0, 2500.0)), min_size=1, max_size=6),
    air=st.floats(0.0, 0.06),
)
def test_a_batter_lies_between_its_lightest_and_heaviest_part(masses: list[tuple[float, float]], air: float) -> None:
    found = batter_density([BatterPart(*one, 5.0) for one in masses], air)
    densities = [one[1] * (1 - air) for one in masses]
    assert min(densities) * (1 - 1e-9) <= found.density <= max(densities) * (1 + 1e-9)
    assert found.low <= found.density <= found.high


@given(mass=st.floats(0.1, 100.0), share=st.floats(0.0, 0.6), moisture=st.floats(0.0, 0.6))
def test_a_soap_keeps_all_that_is_dry(mass: float, share: float, moisture: float) -> None:
    water = mass * share
    if moisture > highest_moisture(mass, water):
        with pytest.raises(OutOfRange):
            cured_mass(mass, water, moisture)
        return
    found = cured_mass(mass, water, moisture)
    assert found * (1 - moisture) == pytest.approx(mass - water, rel=1e-9)
    assert found <= mass * (1 + 1e-9)


def test_what_cannot_be_is_refused() -> None:
    for parts, air in (([], 0.0), ([BatterPart(-1.0, 900.0)], 0.0), ([BatterPart(1.0, 0.0)], 0.0)):
        with pytest.raises(OutOfRange):
            batter_density(parts, air)
    with pytest.raises(OutOfRange):
        batter_density([BatterPart(1.0, 900.0)], 0.07)
    for contraction in (-1e-6, 0.6 / 900.0):
        with pytest.raises(OutOfRange):
            batter_density([BatterPart(1.0, 900.0)], contraction=contraction)
    with pytest.raises(OutOfRange):
        fat_density("olive-oil", 101.0)
    with pytest.raises(OutOfRange):
        cured_mass(1.0, 1.1, 0.0)
    with pytest.raises(OutOfRange):
        food_density.density(1.1, Dry(), 20.0)


def test_liquid_fats_expand_as_the_standard_for_weighing_them_by_volume_has_it() -> None:
    """ISO 6883 brings densities of oils and fats to another temperature by 0.68 kg/m3 for each kelvin (from memory)."""
    for fat in ("olive-oil", "castor-oil", "jojoba-oil"):
        assert fat_density(fat, 20.0).density - fat_density(fat, 60.0).density == pytest.approx(27.2, abs=0.4)


def test_what_is_taken_for_all_fats_is_hardly_wider_than_what_standards_state() -> None:
    """Within 1 % of the lightest and the heaviest of them at 20 °C, by the expansion of ISO 6883 (from memory)."""
    limits = [
        end + 0.68 * (t - 20.0)
        for fat, t, low, high, *_ in published_fats()
        if fat not in {"castor-oil", "jojoba-oil"}
        for end in (low, high)
    ]
    known = fat_density("a fat that nobody named", 20.0)
    assert known.density - known.half_width == pytest.approx(min(limits), rel=0.01)
    assert known.density + known.half_width == pytest.approx(max(limits), rel=0.01)


PARTS = [BatterPart(1.0, 915.0, 18.0), BatterPart(0.4, 1520.0, 9.0), BatterPart(0.2, 998.0, 30.0)]
LOST = 12e-6


def test_densities_of_parts_err_independently() -> None:
    """By differences of the density of the batter over each part's own, in quadrature; air at an end errs one way."""

    def moved(i: int, by: float) -> float:
        parts = [one._replace(density=one.density + by) if n == i else one for n, one in enumerate(PARTS)]
        return batter_density(parts, 0.0, LOST).density

    slopes = [(moved(i, 0.5) - moved(i, -0.5)) * one.half_width for i, one in enumerate(PARTS)]
    spread = sum(one * one for one in slopes) ** 0.5
    airless, airy = batter_density(PARTS, 0.0, LOST), batter_density(PARTS, 0.06, LOST)
    assert airless.high - airless.density == pytest.approx(spread, rel=1e-5)
    assert airy.density - airy.low == pytest.approx(0.94 * spread, rel=1e-5)


@pytest.mark.parametrize("air", [0.0, 0.01, 0.03, 0.06])
def test_of_parts_that_are_known_only_the_air_is_open(air: float) -> None:
    """From 0 to 6 % (common practice, no source)."""
    parts = [BatterPart(1.0, 915.0), BatterPart(0.4, 1520.0)]
    found = batter_density(parts, air)
    assert found.low == pytest.approx(batter_density(parts, 0.06).density, rel=1e-12)
    assert found.high == pytest.approx(batter_density(parts, 0.0).density, rel=1e-12)


def test_air_and_parts_err_independently() -> None:
    """In quadrature: by Pythagoras the squares of both half-widths add up."""
    both, known = batter_density(PARTS, 0.02), batter_density([one._replace(half_width=0.0) for one in PARTS], 0.02)
    airless = batter_density(PARTS, 0.0)
    by_parts = (airless.high - airless.density) / airless.density
    for side in ("low", "high"):
        square = (getattr(both, side) / both.density - 1) ** 2
        assert square == pytest.approx((getattr(known, side) / known.density - 1) ** 2 + by_parts**2)


LEAST = math.ulp(0.0)
OF: tuple[tuple[str, Callable[[float], object], tuple[float, float], tuple[float, ...]], ...] = (
    ("temperature", lambda t: fat_density("olive-oil", t), (0.0, 100.0), (-0.01, 100.01)),
    ("air", lambda air: batter_density(PARTS, air), (0.0, 0.06), (-1e-6, 0.0601)),
    ("contraction", lambda lost: batter_density([BatterPart(1.8, 900.0)], 0.0, lost), (0.0, 1e-3), (-1e-9, 1.001e-3)),
    ("mass", lambda mass: batter_density([BatterPart(mass, 900.0), *PARTS]), (0.0, math.inf), (-1e-9,)),
    ("mass", lambda mass: batter_density([BatterPart(mass, 900.0)] * 2), (LEAST, math.inf), (0.0,)),
    ("density", lambda density: batter_density([BatterPart(0.0, density), *PARTS]), (LEAST, math.inf), (0.0, -1.0)),
)


@pytest.mark.parametrize(("quantity", "of", "limits", "outside"), OF)
def test_ranges_hold_to_their_ends_and_no_further(
    quantity: str, of: Callable[[float], object], limits: tuple[float, float], outside: tuple[float, ...]
) -> None:
    for inside in (max(limits[0], 1e-12) if limits[0] else 0.0, min(limits[1], 1e12)):
        of(inside)
    for value in outside:
        with refused(quantity, *limits):
            of(value)
    with pytest.raises(OutOfRange):
        of(math.nan)
