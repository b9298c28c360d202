"""Phases of a cold stock by the lever rule, the heat of each, and how the limits of the heats add up."""

from itertools import pairwise
from types import ModuleType
from typing import Final

import pytest
from chemicals.elements import molecular_weight

from service.chemistry import freezing
from service.chemistry import thawing as crystals
from service.chemistry.enthalpy import at_strength
from service.chemistry.molar_masses import WATER
from service.chemistry.water import ice_enthalpy

thawing: Final[ModuleType] = crystals
"""Without its types: where no heat is known there is none, which every comparison here would have to rule out."""
ABRIDGED: Final = 6.2e-5
"""Relative uncertainty of abridged atomic weights at most (hydrogen, CIAAW 2021)."""
HYDRATES: Final = {7.0: "NaOH·7H2O", 5.0: "NaOH·5H2O", 4.0: "NaOH·4H2O", 3.5: "NaOH·3.5H2O", 2.0: "NaOH·2H2O"}


def strength_of(water: float) -> float:
    """Mass fraction of NaOH in a hydrate by the atomic weights of the package chemicals."""
    soda, steam = molecular_weight({"Na": 1, "O": 1, "H": 1}), molecular_weight({"H": 2, "O": 1})
    return float(soda / (soda + water * steam))


def test_every_hydrate_has_the_share_of_hydroxide_of_its_formula() -> None:
    found = {c.solid: c.mass_fraction for c in thawing.CRYSTALS["NaOH"]}
    assert found.keys() == {solid for solid in freezing.SOLID_NAMES if not solid.startswith("KOH")}
    for water, solid in {**HYDRATES, 1.0: "NaOH·H2O"}.items():
        assert found[solid] == pytest.approx(strength_of(water), rel=ABRIDGED)
    assert list(found.values()) == sorted(found.values())


def test_every_hydrate_is_gone_above_the_warmest_place_of_its_freezing_line() -> None:
    """Pickering 1893 and Wang et al. 2008; the line of the monohydrate runs on beyond the data."""
    warmest: dict[str, float] = {}
    for weak, strong in pairwise(freezing.KNOTS["NaOH"]):
        if strong <= freezing.HIGHEST_MASS_FRACTION["NaOH"]:
            solid = freezing.first_solid("NaOH", weak).solid
            ends = [freezing.first_solid("NaOH", w).temperature for w in (weak, strong)]
            warmest[solid] = max(*ends, warmest.get(solid, -100.0))
    for crystal in thawing.CRYSTALS["NaOH"]:
        if crystal.solid == "NaOH·H2O":
            assert crystal.melts > warmest[crystal.solid]
        else:
            assert crystal.melts == pytest.approx(warmest[crystal.solid], abs=1e-9)


@pytest.mark.parametrize(
    ("w", "t", "liquor", "solid", "water"),
    [
        # By hand, half way or so between two points of the line: Pickering's 18.80 % at -28 °C, Wang's 20.17 at -26.4
        (0.20, -27.0, 0.1880 + 0.0137 * 1.0 / 1.6, "NaOH·7H2O", 7.0),
        (0.22, -24.4, 0.2166 + 0.0054 * 0.4 / 0.8, "NaOH·7H2O", 7.0),  # 21.66 % at -24.8, 22.20 at -24.0
        (0.23, -23.2, 0.2220 + 0.0054 * 0.8 / 1.6, "NaOH·5H2O", 5.0),  # 22.20 % at -24.0, 22.74 at -22.4
        (0.30, -3.3, 0.2734 + 0.0122 * 2.0 / 4.0, "NaOH·4H2O", 4.0),  # 27.34 % at -5.3, 28.56 at -1.3
        (0.37, 11.3, 0.3425 + 0.0149 * 1.2 / 2.4, "NaOH·3.5H2O", 3.5),  # 34.25 % at 10.1, 35.74 at 12.5
        (0.42, 12.8, 0.4196 + 0.0149 * 1.1 / 2.2, "NaOH·3.5H2O", 3.5),  # 41.96 % at 13.9, 43.45 at 11.7
        (0.50, 9.0, 0.4711 + 0.0162 * 1.0 / 1.9, "NaOH·2H2O", 2.0),  # 47.11 % at 8.0, 48.73 at 9.9
    ],
)
def test_one_hydrate_lies_in_liquor_of_the_freezing_line(
    w: float, t: float, liquor: float, solid: str, water: float
) -> None:
    found = thawing.frozen("NaOH", w, t)
    assert found.solids == (solid,)
    assert found.liquor_strength == pytest.approx(liquor, rel=1e-9)
    crystal = strength_of(water)
    assert found.solid_share == pytest.approx((w - liquor) / (crystal - liquor), abs=1e-4)


def test_ice_lies_in_liquor_down_to_the_eutectic_and_pure_water_is_all_ice() -> None:
    found = thawing.frozen("NaOH", 0.10, -28.0)  # Pickering 1893: 18.8 %, -28 °C
    assert found.solids == ("ice",)
    assert found.liquor_strength == pytest.approx(0.188)
    assert found.solid_share == pytest.approx(1.0 - 0.10 / 0.188)
    water = thawing.frozen("NaOH", 0.0, -5.0)
    assert (water.solid_share, water.liquor_strength) == (1.0, None)
    assert water.low == water.heat == water.high
    koh = thawing.frozen("KOH", 0.05, -4.92)  # CRC Handbook: 7 %, 4.92 K
    assert koh.solid_share == pytest.approx(1.0 - 0.05 / 0.07)


def test_melting_ice_keeps_the_heat_of_all_that_was_there() -> None:
    """Liquid of the stock's strength, less ice and liquor at the same temperature; the limits are alike."""
    w, t = 0.06, -10.0
    found = thawing.frozen("NaOH", w, t)
    frozen = found.solid_share * ice_enthalpy(t)
    frozen += (1.0 - found.solid_share) * at_strength("NaOH", found.liquor_strength).enthalpy(t)
    assert found.heat == pytest.approx(at_strength("NaOH", w).enthalpy(t) - frozen, rel=1e-9)
    assert found.heat - found.low == pytest.approx(found.high - found.heat)
    assert 0.0 < found.low < found.heat


@pytest.mark.parametrize(("water", "t"), [(4.0, 5.39), (3.5, 15.37), (2.0, 12.49)])
def test_a_hydrate_melts_within_the_limits_of_its_heat_of_fusion(water: float, t: float) -> None:
    """Two of the three decompose before they melt, so that their heat is counted to a liquid of their own strength."""
    crystal = next(c for c in thawing.CRYSTALS["NaOH"] if c.solid == HYDRATES[water])
    found = thawing.frozen("NaOH", crystal.mass_fraction, t)
    value, least, most = crystal.fusion
    assert found.solid_share == pytest.approx(1.0)
    assert found.heat == pytest.approx(value, rel=1e-3)
    assert found.heat - found.low == pytest.approx(value - least, rel=1e-9)
    assert found.high - found.heat == pytest.approx(most - value, rel=1e-9)


@pytest.mark.parametrize(("w", "t"), [(0.30, -5.0), (0.42, 13.0), (0.50, 8.0)])
def test_limits_of_the_heat_are_those_of_the_hydrate_by_its_share(w: float, t: float) -> None:
    found = thawing.frozen("NaOH", w, t)
    value, least, most = next(c for c in thawing.CRYSTALS["NaOH"] if c.solid == found.solids[0]).fusion
    assert found.heat - found.low == pytest.approx(found.solid_share * (value - least), rel=1e-9)
    assert found.high - found.heat == pytest.approx(found.solid_share * (most - value), rel=1e-9)


def test_limits_of_two_hydrates_add_up_by_the_lever_rule() -> None:
    weak, strong = (c for c in thawing.CRYSTALS["NaOH"] if c.solid in ("NaOH·3.5H2O", "NaOH·2H2O"))
    share = (0.5 - weak.mass_fraction) / (strong.mass_fraction - weak.mass_fraction)
    found = thawing.frozen("NaOH", 0.5, 4.9)
    below = [c.fusion[0] - c.fusion[1] for c in (weak, strong)]
    above = [c.fusion[2] - c.fusion[0] for c in (weak, strong)]
    assert found.heat - found.low == pytest.approx((1.0 - share) * below[0] + share * below[1], rel=1e-9)
    assert found.high - found.heat == pytest.approx((1.0 - share) * above[0] + share * above[1], rel=1e-9)


def test_a_cold_hydrate_warms_by_the_capacities_of_its_parts() -> None:
    """Kopp and Neumann's rule: 59.5 J/(mol K) of NaOH (CRC Handbook), and the ice that it holds, here of IAPWS."""
    crystal = next(c for c in thawing.CRYSTALS["NaOH"] if c.solid == "NaOH·3.5H2O")
    per_mole = 39.997e-3 / crystal.mass_fraction
    ice = (ice_enthalpy(0.0) - ice_enthalpy(-1.0)) * WATER
    capacity = (59.5 + 3.5 * ice) / per_mole
    cold, warm = (thawing.frozen("NaOH", crystal.mass_fraction, t) for t in (6.0, 14.0))
    liquid = at_strength("NaOH", crystal.mass_fraction)
    rise = liquid.enthalpy(14.0) - liquid.enthalpy(6.0)
    assert rise - (warm.heat - cold.heat) == pytest.approx(8.0 * capacity, rel=0.01)
    assert cold.solid_share == pytest.approx(1.0)


def test_where_no_heat_is_known_the_share_of_solid_is() -> None:
    for w, t in ((0.20, -27.0), (0.23, -23.0), (0.25, -25.0)):
        found = thawing.frozen("NaOH", w, t)
        assert 0.0 < found.solid_share <= 1.0
        assert (found.heat, found.low, found.high) == (None, 0.0, 0.0)


@pytest.mark.parametrize(("alkali", "w"), [("NaOH", 0.0), ("NaOH", 0.5), ("KOH", 0.3)])
def test_of_a_warm_stock_nothing_is_solid(alkali: str, w: float) -> None:
    assert thawing.frozen(alkali, w, 30.0) == (0.0, (), None, 0.0, 0.0, 0.0)
