"""Ice that keeps a mixing below its limit: the inverse of the mixing, and nothing else."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.chemistry.errors import OutOfRange
from service.chemistry.ice_needed import heat_taken_off, ice_needed, most_solid
from service.chemistry.mixing import mix
from service.chemistry.mixing_records import Charge, Ice, Solid, Stock, Water
from service.chemistry.molar_masses import Alkali

ALKALIS: st.SearchStrategy[Alkali] = st.sampled_from(["NaOH", "KOH"])
COLD = Ice(1.0, -5.0, 0.2)


def test_ice_takes_off_its_heat_of_fusion_and_what_warms_it() -> None:
    # Heat of fusion 333.4 J/g (IAPWS R10-06 and IAPWS-95); water of 20 °C has 83.9 J/g over 0 °C (steam tables,
    # from memory)
    assert heat_taken_off(Ice(1.0), 0.0) == pytest.approx(333.4e3, rel=1e-3)
    assert heat_taken_off(Ice(1.0), 20.0) == pytest.approx(333.4e3 + 83.9e3, rel=2e-3)
    assert heat_taken_off(Ice(1.0, 0.0, 1.0), 20.0) == pytest.approx(83.9e3, rel=2e-3)
    assert heat_taken_off(Ice(1.0, 0.0, 0.5), 0.0) == pytest.approx(333.4e3 / 2, rel=1e-3)


@given(ALKALIS, st.floats(0.15, 0.47), st.floats(20.0, 95.0), st.floats(5.0, 30.0), st.floats(0.0, 30.0))
def test_the_mixing_with_that_ice_peaks_at_the_limit(
    alkali: Alkali, w: float, limit: float, water: float, solid: float
) -> None:
    whole = 1.0 / w - 1.0
    pure = Solid(alkali, 1.0, solid)
    found = ice_needed(pure, Charge(Water(whole, water)), limit, heat_taken_off(COLD, water))
    assume(0.0 < found.mass < whole and not found.by_boiling)
    charge = Charge(Water(whole - found.mass, water), COLD._replace(mass=found.mass))
    assert mix(pure, charge, points=60).peak_temperature == pytest.approx(limit, abs=0.01)


@given(ALKALIS, st.floats(0.15, 0.47), st.floats(20.0, 60.0), st.floats(0.0, 0.4))
def test_more_ice_makes_no_mixing_hotter(alkali: Alkali, w: float, limit: float, more: float) -> None:
    whole = 1.0 / w - 1.0
    pure = Solid(alkali, 1.0, 20.0)
    found = ice_needed(pure, Charge(Water(whole, 20.0)), limit, heat_taken_off(Ice(1.0), 20.0))
    ice = min(max(found.mass, 0.0) * (1 + more), whole * 0.999)
    assume(found.mass <= whole * 0.999)
    charge = Charge(Water(whole - ice, 20.0), Ice(ice) if ice else None)
    peak = mix(pure, charge, points=60).peak_temperature
    assert peak is not None
    assert peak <= limit + 0.01 or found.mass <= 0


def test_twice_the_mixing_takes_twice_the_ice() -> None:
    off = heat_taken_off(Ice(1.0), 20.0)
    one = ice_needed(Solid("NaOH", 1.0, 20.0), Charge(Water(1.0, 20.0)), 70.0, off)
    two = ice_needed(Solid("NaOH", 2.0, 20.0), Charge(Water(2.0, 20.0)), 70.0, off)
    assert two.mass == pytest.approx(2 * one.mass, rel=1e-9)
    assert two.share == pytest.approx(one.share, abs=1e-6)


def test_boiling_limits_where_the_limit_lies_above_it() -> None:
    off = heat_taken_off(Ice(1.0), 90.0)
    solid, charge = Solid("NaOH", 1.0, 60.0), Charge(Water(1.0, 90.0))
    found = ice_needed(solid, charge, 150.0, off)
    assert found.by_boiling
    ice = Ice(found.mass * 1.001)
    mixed = mix(solid, Charge(Water(1.0 - ice.mass, 90.0), ice), points=100)
    assert not mixed.boils
    assert mixed.boiling_margin == pytest.approx(0.0, abs=0.5)
    assert mix(solid, charge).boils


def test_a_clearance_to_boiling_is_kept() -> None:
    off = heat_taken_off(Ice(1.0), 90.0)
    solid, charge = Solid("NaOH", 1.0, 60.0), Charge(Water(1.0, 90.0))
    ice = Ice(ice_needed(solid, charge, 150.0, off, clearance=10.0).mass)
    mixed = mix(solid, Charge(Water(1.0 - ice.mass, 90.0), ice), points=100)
    assert mixed.boiling_margin == pytest.approx(10.0, abs=0.1)


def test_ice_that_takes_nothing_off_is_none_or_never_enough() -> None:
    solid, charge = Solid("NaOH", 1.0, 20.0), Charge(Water(1.0, 0.0))
    off = heat_taken_off(Ice(1.0, 0.0, 1.0), 0.0)
    assert off == 0.0
    assert ice_needed(solid, charge, 60.0, off).mass == float("inf")
    assert ice_needed(solid, charge, 150.0, off).mass == 0.0


@given(st.floats(0.05, 0.3), st.floats(30.0, 80.0))
def test_a_portion_brings_a_stock_to_the_limit_and_no_further(w: float, limit: float) -> None:
    charge = Charge(stock=Stock(1.0, w, 25.0))
    solid = Solid("NaOH", 0.5, 20.0)
    share = most_solid(solid, charge, limit)
    portion = solid._replace(mass_as_supplied=share * 0.5)
    assume(share > 0.01)
    peak = mix(portion, charge, points=60).peak_temperature
    assert peak == pytest.approx(limit, abs=0.01) if share < 1 else peak is not None and peak <= limit + 0.01


def test_a_stock_that_is_too_hot_takes_no_portion() -> None:
    assert most_solid(Solid("NaOH", 1.0, 20.0), Charge(stock=Stock(1.0, 0.3, 60.0)), 50.0) == 0.0


@pytest.mark.parametrize("limit", [-1.0, 151.0, float("nan")])
def test_limits_out_of_range_are_refused(limit: float) -> None:
    solid, charge = Solid("NaOH", 1.0), Charge(Water(2.0, 20.0))
    with pytest.raises(OutOfRange):
        ice_needed(solid, charge, limit, 4e5)
    with pytest.raises(OutOfRange):
        most_solid(solid, charge, limit)
