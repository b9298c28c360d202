"""Fatty acids within the printed limits of a fat that add up to 1: how often the interval of each holds them.

Such compositions are drawn exactly: all but the widest acid anywhere between their limits, and that one is the rest;
where it lies beyond its own limits, the draw is none. Acids that are drawn and then scaled to 1 lie beyond the limits
that they were drawn from, and are no fat of the standard: of sunflower oil's C16:0 (CODEX CXS 210) a quarter would.
"""

from typing import Any

import numpy as np
import pytest

from service.chemistry.fatty_acids import blend_composition
from service.reference import reference_data

DRAWS = 4000
FATS = sorted(name for name, fat in reference_data().fats.items() if fat.fatty_acids and fat.fatty_acids.is_range)
Limits = dict[str, tuple[float, float]]


def limits_of(name: str) -> Limits:
    composition = reference_data().fats[name].fatty_acids
    assert composition is not None
    return dict(composition.shares)


def compositions(limits: Limits, random: np.random.Generator) -> dict[str, Any]:
    """Draws of each acid."""
    widest = max(limits, key=lambda code: limits[code][1] - limits[code][0])
    low, high = limits[widest]
    kept: list[dict[str, Any]] = []
    while sum(len(one[widest]) for one in kept) < DRAWS:
        drawn: dict[str, Any] = {
            code: random.uniform(*ends, 20 * DRAWS) for code, ends in limits.items() if code != widest
        }
        drawn[widest] = 1.0 - sum(drawn.values())
        within = (low <= drawn[widest]) & (drawn[widest] <= high)
        kept.append({code: one[within] for code, one in drawn.items()})
    return {code: np.concatenate([one[code] for one in kept])[:DRAWS] for code in limits}


@pytest.mark.parametrize("name", FATS)
def test_the_interval_of_each_acid_holds_what_may_be_in_the_fat(name: str) -> None:
    limits = limits_of(name)
    drawn, told = compositions(limits, np.random.default_rng(210)), blend_composition([(1.0, limits)])
    held = {
        code: float(np.mean((told[code].low - 1e-12 <= one) & (one <= told[code].high + 1e-12)))
        for code, one in drawn.items()
        if limits[code][0] < limits[code][1]
    }
    assert min(held.values()) > 0.91, held
    assert np.mean(list(held.values())) > 0.94


@pytest.mark.parametrize(("other", "acid"), [("rice-bran-oil", "C18:1"), ("almond-oil", "C18:2")])
def test_so_do_those_of_a_blend(other: str, acid: str) -> None:
    random = np.random.default_rng(211)
    blend = [(0.6, limits_of(other)), (0.4, limits_of("sunflower-oil"))]
    drawn = sum(share * compositions(limits, random)[acid] for share, limits in blend)
    told = blend_composition(blend)[acid]
    assert np.mean((told.low <= drawn) & (drawn <= told.high)) > 0.94


@pytest.mark.parametrize("name", FATS)
def test_no_share_is_told_beyond_its_printed_limits(name: str) -> None:
    """Neither the value nor its interval; nor beyond what the limits of the others leave of the whole."""
    limits = limits_of(name)
    lows, highs = (sum(ends) for ends in zip(*limits.values(), strict=True))
    for code, share in blend_composition([(1.0, limits)]).items():
        low, high = limits[code]
        assert max(low, 1 - highs + high) - 1e-12 <= share.low <= share.value <= share.high
        assert share.high <= min(high, 1 - lows + low) + 1e-12


def test_scaled_draws_leave_the_limits_that_they_were_drawn_from() -> None:
    """Which is why what holds three quarters of them is no interval that is too narrow."""
    limits = limits_of("sunflower-oil")
    random = np.random.default_rng(212)
    drawn = {code: random.uniform(*ends, DRAWS) for code, ends in limits.items()}
    low, high = limits["C16:0"]
    scaled = drawn["C16:0"] / sum(drawn.values())
    assert 0.15 < np.mean((scaled < low) | (scaled > high)) < 0.35
