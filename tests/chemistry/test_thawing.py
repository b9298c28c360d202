"""Crystals in a cold stock: the balance of masses, and the heat that melts them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import first_solid
from service.chemistry.molar_masses import Alkali
from service.chemistry.thawing import COLDEST, CRYSTALS, frozen, frozen_known, names

STRENGTHS = {"NaOH": 0.55, "KOH": 0.50}


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@given(share=st.floats(0.0, 1.0), t=st.floats(COLDEST, 60.0))
def test_solids_and_liquor_hold_the_hydroxide_of_the_stock(alkali: Alkali, share: float, t: float) -> None:
    w = share * STRENGTHS[alkali]
    found = frozen(alkali, w, t)
    if found.solid_share is None or not found.solids:
        return
    assert 0.0 <= found.solid_share <= 1.0
    if found.liquor_strength is None or len(found.solids) != 1:
        return
    crystal = next(c for c in CRYSTALS[alkali] if c.solid == found.solids[0])
    held = found.solid_share * crystal.mass_fraction + (1.0 - found.solid_share) * found.liquor_strength
    assert held == pytest.approx(w, abs=1e-9)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@given(share=st.floats(0.0, 1.0), t=st.floats(COLDEST, 60.0))
def test_melting_takes_heat_within_its_limits(alkali: Alkali, share: float, t: float) -> None:
    found = frozen(alkali, share * STRENGTHS[alkali], t)
    if found.heat is None:
        assert found.solids
        return
    assert 0.0 <= found.low <= found.heat + 1e-6 <= found.high + 2e-6
    assert found.heat < 335e3  # ice takes 333.4 kJ/kg (IAPWS), and a part of it less


@given(w=st.floats(0.0, 0.55), above=st.floats(0.0, 20.0))
def test_a_stock_warmer_than_its_first_solid_is_all_liquid(w: float, above: float) -> None:
    found = frozen("NaOH", w, first_solid("NaOH", w).temperature + above)
    assert found.solid_share == 0.0
    assert found.heat == 0.0


@pytest.mark.parametrize("w", [0.10, 0.30, 0.34, 0.388, 0.42, 0.46, 0.50, 0.515])
def test_a_colder_stock_holds_no_less_solid(w: float) -> None:
    shares = [frozen("NaOH", w, t).solid_share for t in (20.0, 12.0, 10.0, 8.0, 5.2, 4.0, 0.0, -5.0, -10.0)]
    known = [share for share in shares if share is not None]
    assert len(known) == len(shares)
    assert known == sorted(known)


def test_half_of_a_50_per_cent_stock_is_dihydrate_at_8_degrees() -> None:
    found = frozen("NaOH", 0.50, 8.0)
    # Wang et al. 2008: the liquor is 47.11 % at 8.0 °C; the dihydrate is 40.00 / 76.03 = 52.61 %.
    assert found.liquor_strength == pytest.approx(0.4711, abs=1e-4)
    assert found.solid_share == pytest.approx((0.50 - 0.4711) / (0.5261 - 0.4711), abs=2e-3)
    assert names(found) == "sodium hydroxide dihydrate"


def test_a_50_per_cent_stock_sets_wholly_below_the_eutectic_of_its_hydrates() -> None:
    found = frozen("NaOH", 0.50, 4.9)
    assert found.solid_share == pytest.approx(1.0)
    assert found.solids == ("NaOH·3.5H2O", "NaOH·2H2O")
    assert found.liquor_strength is None


def test_the_hydrate_of_the_stocks_own_strength_takes_its_heat_of_fusion() -> None:
    crystal = next(c for c in CRYSTALS["NaOH"] if c.solid == "NaOH·3.5H2O")
    assert crystal.fusion is not None
    found = frozen("NaOH", crystal.mass_fraction, 15.37)
    assert found.heat == pytest.approx(crystal.fusion[0], rel=0.01)


def test_ice_takes_its_heat_of_melting() -> None:
    # IAPWS: 333.4 kJ/kg at 0 °C; at -0.01 °C less by 0.01 K times the difference of the heat capacities.
    assert frozen("NaOH", 0.0, -0.01).heat == pytest.approx(333.4e3, rel=1e-3)


@pytest.mark.parametrize(("alkali", "w", "t"), [("KOH", 0.50, -10.0), ("NaOH", 0.25, -20.0), ("KOH", 0.05, -10.0)])
def test_no_heat_is_made_up_where_none_is_known(alkali: Alkali, w: float, t: float) -> None:
    found = frozen(alkali, w, t)
    assert found.heat is None
    assert found.solids
    assert (found.low, found.high) == (0.0, 0.0)


@pytest.mark.parametrize(("w", "t"), [(0.56, 0.0), (-0.1, 0.0), (0.5, -28.1), (0.5, 201.0), (0.5, float("nan"))])
def test_beyond_the_data_is_refused(w: float, t: float) -> None:
    with pytest.raises(OutOfRange):
        frozen("NaOH", w, t)


def test_what_is_kept_is_what_is_found() -> None:
    assert frozen_known("NaOH", 0.5, 8.0) == frozen("NaOH", 0.5, 8.0)


@pytest.mark.parametrize("melts", [crystal.melts for crystal in CRYSTALS["NaOH"][1:]])
def test_at_the_temperature_where_a_hydrate_decomposes_rounding_bears_on_nothing(melts: float) -> None:
    """The heat jumps there, and 5.4 °C said as 278.55 K is beside 5.4 °C by some 1e-14 K."""
    for w in (0.2, 0.3, 0.352, 0.388, 0.45, 0.5, 0.52):
        below, beside = frozen("NaOH", w, melts - 1e-12), frozen("NaOH", w, melts + 1e-12)
        assert beside.solids == below.solids
        assert beside.solid_share == pytest.approx(below.solid_share)
        assert beside.heat == pytest.approx(below.heat, abs=1e-6)
