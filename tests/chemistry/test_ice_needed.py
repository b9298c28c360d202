"""Ice that keeps a mixing below its limit: the inverse of the mixing, and nothing else."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.chemistry.equilibrium import INERT_HEAT_CAPACITY, liquid_enthalpy
from service.chemistry.errors import OutOfRange
from service.chemistry.ice_needed import (
    heat_taken_off,
    ice_needed,
    most_solid,
    peak_temperature,
    solid_temperature_needed,
)
from service.chemistry.mixing import mix
from service.chemistry.mixing_path import Vessel
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


@pytest.mark.parametrize("mass", [1e-6, 1.0, 1e3])
def test_however_little_is_mixed_what_takes_nothing_off_is_never_enough(mass: float) -> None:
    solid, charge = Solid("NaOH", mass, 20.0), Charge(Water(mass, 0.0))
    assert ice_needed(solid, charge, 60.0, 0.0).mass == float("inf")


def test_a_portion_ends_where_the_limit_is_first_met_though_more_would_be_cooler() -> None:
    """The peak, 105.5 °C, comes before all is in; that ends at 104.3 °C."""
    solid, charge = Solid("NaOH", 1.0, 20.0), Charge(Water(1.05, 5.0))
    share = most_solid(solid, charge, 105.0)
    whole = mix(solid, charge, points=60)
    assert whole.temperature is not None
    assert whole.peak_share is not None
    assert whole.temperature < 105.0
    assert share < whole.peak_share
    portion = mix(solid._replace(mass_as_supplied=share), charge, points=60)
    assert portion.peak_temperature == pytest.approx(105.0, abs=0.01)


def test_a_portion_that_boiling_ends_comes_to_its_boiling_point_itself_where_no_interval_is_asked_for() -> None:
    solid, charge = Solid("NaOH", 1.0, 60.0), Charge(Water(1.0, 90.0))
    share = most_solid(solid, charge, 150.0)
    assert 0.0 < share < 1.0
    portion = mix(solid._replace(mass_as_supplied=share), charge, points=60)
    assert portion.boiling_margin == pytest.approx(0.0, abs=0.01)


def test_a_moist_solid_that_is_as_cold_as_needed_peaks_at_the_limit() -> None:
    """With bound water and inert matter, each with the heat capacity of its own."""
    solid, charge = Solid("NaOH", 1.0, 40.0, 0.85, 0.1), Charge(Water(2.0, 15.0))
    off = 0.6 * heat_taken_off(Ice(1.0), 15.0)
    found = solid_temperature_needed(solid, charge, 60.0, off)
    assert found is not None
    assert ice_needed(solid._replace(temperature=found), charge, 60.0, 1.0).mass == pytest.approx(off, abs=0.4)


def test_where_no_solid_is_weighed_it_may_be_as_warm_as_it_is() -> None:
    assert solid_temperature_needed(Solid("NaOH", 0.0, 35.0), Charge(Water(1.0, 20.0)), 50.0, 0.0) == 35.0


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


def test_a_portion_is_no_more_than_what_is_asked_for() -> None:
    charge, solid = Charge(stock=Stock(1.0, 0.2, 25.0)), Solid("NaOH", 0.5, 20.0)
    share = most_solid(solid, charge, 60.0)
    assert 0.1 < share < 1.0
    assert most_solid(solid, charge, 60.0, at_most=0.1) == 0.1
    assert most_solid(solid, charge, 60.0, at_most=0.5 * (1 + share)) == pytest.approx(share, abs=1e-9)


@given(ALKALIS, st.floats(0.15, 0.47), st.floats(20.0, 90.0), st.sampled_from([-1.0, 0.0, 1.0]), st.booleans())
def test_the_greatest_excess_is_no_less_than_anywhere_along_the_way(
    alkali: Alkali, w: float, limit: float, shift: float, with_stock: bool
) -> None:
    """Ice for the share that calls for most of it is enough for all; 400 shares, each a mixing of its own."""
    stock = Stock(0.3, 0.3, 25.0) if with_stock else None
    solid, charge = Solid(alkali, 1.0, 20.0, 0.98), Charge(Water(1.0 / w - 1.0, 20.0), stock=stock)
    most = ice_needed(solid, charge, limit, 4e5, enthalpy_shift=shift).mass
    for place in range(1, 401, 7):
        part = solid._replace(mass_as_supplied=place / 400)
        vessel = Vessel(part, charge, shift)
        amounts = vessel.masses(1.0)
        held = amounts.solution * liquid_enthalpy(vessel.liquid(1.0), limit, shift)
        held += amounts.inert * INERT_HEAT_CAPACITY * (limit - 25.0)
        assert (vessel.heat(1.0) - held) / 4e5 <= most + 1e-9 * abs(most)


@given(ALKALIS, st.floats(0.2, 0.47), st.floats(40.0, 80.0), st.floats(20.0, 60.0), st.sampled_from([0.5, 0.7]))
def test_a_solid_that_is_as_cold_as_needed_peaks_at_the_limit(
    alkali: Alkali, w: float, limit: float, t: float, ice_share: float
) -> None:
    whole = 1.0 / w - 1.0
    solid, charge = Solid(alkali, 1.0, t, 0.97), Charge(Water(whole, 15.0))
    off = heat_taken_off(Ice(1.0), 15.0) * ice_share * whole
    found = solid_temperature_needed(solid, charge, limit, off)
    assume(found is not None and found < 150.0)
    assert found is not None
    again = ice_needed(solid._replace(temperature=found), charge, limit, 1.0).mass
    assert again == pytest.approx(off, abs=1e-6 * 4e5)


def test_no_cold_of_the_solid_mends_contents_that_are_too_hot() -> None:
    assert solid_temperature_needed(Solid("NaOH", 1.0, 20.0), Charge(Water(2.0, 60.0)), 50.0, 0.0) is None
    assert solid_temperature_needed(Solid("NaOH", 1.0, 20.0), Charge(Water(1.0, 20.0)), 21.0, 0.0) is None


@given(ALKALIS, st.floats(0.05, 0.35), st.floats(0.0, 40.0), st.floats(5.0, 140.0), st.sampled_from([-1.0, 0.0, 1.0]))
def test_a_peak_is_that_of_a_fine_path(alkali: Alkali, w: float, water: float, near: float, shift: float) -> None:
    solid, charge = Solid(alkali, 1.0, 20.0, 0.98), Charge(Water(0.98 / w - 1.0, water), stock=Stock(0.5, 0.4, 20.0))
    found = peak_temperature(solid, charge, near, enthalpy_shift=shift)
    path = mix(solid, charge, points=300, enthalpy_shift=shift)
    if found is None:
        assert path.peak_temperature is None or not 1.0 < path.peak_temperature < 94.0
    else:
        assert found.temperature == pytest.approx(path.peak_temperature, abs=2e-6)
        again = peak_temperature(solid, charge, found.temperature + 0.5, enthalpy_shift=shift, share=found.share)
        assert again is not None
        assert again.temperature == pytest.approx(found.temperature, abs=2e-6)


@pytest.mark.parametrize("limit", [-1.0, 151.0, float("nan")])
def test_limits_out_of_range_are_refused(limit: float) -> None:
    solid, charge = Solid("NaOH", 1.0), Charge(Water(2.0, 20.0))
    with pytest.raises(OutOfRange):
        ice_needed(solid, charge, limit, 4e5)
    with pytest.raises(OutOfRange):
        most_solid(solid, charge, limit)
