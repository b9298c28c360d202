"""Heats of a batch beside published ones: fats, milk, ice, and the heat of diluting caustic soda."""

import pytest
from thermo import HeatCapacityLiquid

from service.calculations.batch.blend_reading import content_of
from service.chemistry import food_heat, water
from service.chemistry.food_heat import Dry
from service.chemistry.molar_masses import ALKALI
from tests.calculations.asking import ask
from tests.reference_cases.batch_validation import FATS, fat_half_width, fat_rows, milk_rows, printed_components
from tests.reference_cases.caustic_validation import heats_of_dilution


@pytest.mark.parametrize(("dry", "at_20"), printed_components(20.0))
def test_the_table_of_components_is_the_printed_one(dry: Dry, at_20: float) -> None:
    assert food_heat.heat_capacity(0.0, 0.0, dry, 20.0) == pytest.approx(at_20, rel=1e-9)


def test_fat_has_the_heat_capacity_of_what_fats_are_made_of() -> None:
    # Sources: see batch_validation.py. Triolein within the 5 % that is told of fats; the heat capacity of free acids
    # rises more steeply, and is told less closely from 50 °C up
    apart = [row.ours / row.reference - 1 for row in fat_rows()]
    assert apart[:4] == pytest.approx([-0.013, -0.024, -0.037, -0.012], abs=6e-4)
    assert all(abs(one) < food_heat.SPREAD for one in apart[:4])
    assert apart[4:] == pytest.approx([-0.098, -0.204, -0.101, -0.086, -0.163, -0.326], abs=6e-4)


@pytest.mark.parametrize(("substance", "cas", "molar_mass", "t", "method", "source"), FATS)
def test_its_interval_holds_what_was_measured_of_triolein_and_of_free_acids(
    substance: str, cas: str, molar_mass: float, t: float, method: str, source: str
) -> None:
    published = HeatCapacityLiquid(CASRN=cas, MW=molar_mass).calculate(t + 273.15, method) / molar_mass
    assert abs(food_heat.fat_heat_capacity(t) / 1e3 - published) < fat_half_width(substance, t), source


@pytest.mark.parametrize(("cas", "molar_mass"), [("112-80-1", 282.461), ("57-11-4", 284.477), ("57-10-3", 256.424)])
def test_the_interval_of_free_acids_reaches_only_as_far_as_the_highest_of_them_ask(cas: str, molar_mass: float) -> None:
    # Zábranský et al. (see batch_validation.py), over the range of their fits: none is left out, and the highest of
    # them, palmitic acid, leaves less than a fifth of the interval to spare
    package = HeatCapacityLiquid(CASRN=cas, MW=molar_mass)
    method = next(one for one in package.all_methods if one.startswith("ZABRANSKY"))
    low, high = (t - 273.15 for t in package.T_limits[method])
    for t in [low + share / 50 * (min(high, food_heat.HOTTEST) - low) for share in range(51)]:
        beyond = 1e3 * package.calculate(t + 273.15, method) / molar_mass - food_heat.fat_heat_capacity(t)
        assert 0.0 < beyond < food_heat.acid_spread(t)
        if cas == "57-10-3":
            assert beyond > 0.8 * food_heat.acid_spread(t)
            assert food_heat.acid_spread(t) - beyond < 0.015 * food_heat.fat_heat_capacity(t)


def test_milk_has_the_heat_capacity_that_is_told_of_it() -> None:
    # From memory: whole 3.93, skimmed 3.97 kJ/(kg K); by composition 0.7 and 0.3 % less
    apart = [row.ours / row.reference - 1 for row in milk_rows()]
    assert apart == pytest.approx([-0.0073, -0.0028], abs=5e-4)


def test_the_handbook_s_coefficient_for_water_would_be_too_low() -> None:
    # 4.1289 - 9.0864e-5 t + 5.4731e-6 t2 (ASHRAE 2006) and 4.1762 (other prints) beside IAPWS-IF97 at 20 °C: 4.1844
    printed, other = (c0 - 9.0864e-5 * 20 + 5.4731e-6 * 400 for c0 in (4.1289, 4.1762))
    ours = water.heat_capacity(20.0) / 1000
    assert printed / ours - 1 == pytest.approx(-0.013, abs=0.001)
    assert other / ours - 1 == pytest.approx(-0.002, abs=0.001)


def test_milk_freezes_where_milk_does() -> None:
    # -0.53 to -0.55 °C is what cryoscopy holds milk to (from memory); by its lactose and its salts
    assert content_of("goat-milk").freezing == pytest.approx(-0.53, abs=0.03)
    assert content_of("honey").freezing < -28  # honey does not freeze in a freezer (common knowledge)


def test_the_heat_of_thinning_agrees_with_calorimetry() -> None:
    # Silvester & Pitzer 1978 (Pitzer 1991, ch. 3, table 12): relative apparent molar enthalpies, see data/
    rows = [row for row in heats_of_dilution("silvester-pitzer") if row[0] == "NaOH" and row[1] > 0.02]
    (_, strong, most), *weaker = sorted(rows, key=lambda row: -row[1])
    assert len(weaker) >= 5
    mass = ALKALI["NaOH"] / strong  # of a stock that holds a mole
    for _, weak, heat in weaker:
        request = {
            "fats": [{"fat": "olive-oil", "mass": "300 g"}],
            "fats_temperature": "30 °C",
            "stock": {"alkali": "NaOH", "mass": f"{mass!r} kg", "strength": {"mass_fraction": strong}},
            "liquids": [{"liquid": "distilled-water", "mass": f"{mass * (strong / weak - 1)!r} kg"}],
        }
        told = ask("batch-temperature", request)["dilution_heat"]
        assert told["low"] <= most - heat <= told["high"]
