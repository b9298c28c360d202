"""Heats of a batch beside published ones: fats, milk, ice, and the heat of diluting caustic soda."""

import pytest
from thermo import HeatCapacityLiquid

from service.calculations.blend_reading import content_of
from service.chemistry import food_heat, water
from service.chemistry.food_heat import Dry, fat_heat_capacity
from service.chemistry.molar_masses import ALKALI
from tests.calculations.asking import ask
from tests.reference_cases.caustic_validation import heats_of_dilution

MILK = Dry(protein=0.0315, fat=0.0325, carbohydrate=0.0520, ash=0.0067)
"""Whole cow milk (USDA National Nutrient Database, Release 26, NDB 01077)."""


@pytest.mark.parametrize(
    ("dry", "at_20"),
    [
        # Choi & Okos 1986 as the ASHRAE Handbook - Refrigeration 2006 prints them, ch. 9, Table 1; by hand at 20 °C
        (Dry(protein=1.0), 2008.2 + 1.2089 * 20 - 1.3129e-3 * 400),
        (Dry(fat=1.0), 1984.2 + 1.4733 * 20 - 4.8008e-3 * 400),
        (Dry(carbohydrate=1.0), 1548.8 + 1.9625 * 20 - 5.9399e-3 * 400),
        (Dry(ash=1.0), 1092.6 + 1.8896 * 20 - 3.6817e-3 * 400),
    ],
)
def test_the_table_of_components_is_the_printed_one(dry: Dry, at_20: float) -> None:
    assert food_heat.heat_capacity(0.0, 0.0, dry, 20.0) == pytest.approx(at_20, rel=1e-9)


def deviation(cas: str, molar_mass: float, t: float, method: str) -> float:
    """Of our heat capacity of fat from a published one, relative."""
    published: float = HeatCapacityLiquid(CASRN=cas, MW=molar_mass).calculate(t + 273.15, method)
    return fat_heat_capacity(t) / (published / molar_mass * 1e3) - 1


@pytest.mark.parametrize(("t", "apart"), [(60.0, -0.013), (80.0, -0.024), (100.0, -0.037)])
def test_fat_has_the_heat_capacity_of_triolein_within_what_is_told(t: float, apart: float) -> None:
    # M. Zábranský et al., Heat Capacity of Liquids: Critical Review and Recommended Values, from 60 °C (as the package
    # thermo carries them)
    found = deviation("122-32-7", 885.432, t, "ZABRANSKY_SPLINE_C")
    assert abs(found) < food_heat.SPREAD
    assert found == pytest.approx(apart, abs=5e-4)


def test_fat_has_the_heat_capacity_of_cool_oleic_acid_and_less_than_that_of_hot() -> None:
    # CRC Handbook of Chemistry and Physics at 25 °C; Zábranský et al. from 45 °C, whose free acid rises steeply: an
    # honest deviation of twice what is told of fats, for an acid that is hotter than anybody stirs
    assert deviation("112-80-1", 282.461, 25.0, "CRCSTD") == pytest.approx(-0.012, abs=5e-4)
    assert deviation("112-80-1", 282.461, 80.0, "ZABRANSKY_SPLINE_C") == pytest.approx(-0.098, abs=5e-4)


def test_milk_has_the_heat_capacity_that_is_told_of_it() -> None:
    # Whole milk 3.93, skimmed milk 3.97 kJ/(kg K) (both from memory); by composition 0.7 and 0.3 % less
    whole = food_heat.heat_capacity(water.heat_capacity(20.0), 0.8813, MILK, 20.0)
    assert whole == pytest.approx(3930, rel=0.008)
    skim = content_of("cow-milk-skim")
    assert food_heat.heat_capacity(water.heat_capacity(20.0), skim.water, skim.dry, 20.0) == pytest.approx(
        3970, rel=0.004
    )


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
