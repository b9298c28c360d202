"""Mixing temperatures against a separate program of the same model and against common practice."""

from collections.abc import Callable

import pytest

from service.chemistry import mixing
from service.chemistry.mixing import Charge, Ice, Mixing, Solid, Stock, Water, mix
from service.chemistry.molar_masses import Alkali
from tests.reference_cases.caustic_validation import RULES_OF_THUMB, rule_of_thumb
from tests.reference_cases.outside import read_table

CONTENTS: dict[str, Callable[[float], Charge]] = {
    "water 25": lambda mass: Charge(water=Water(mass, 25.0)),
    "water 5": lambda mass: Charge(water=Water(mass, 5.0)),
    "half ice 0 half water 25": lambda mass: Charge(water=Water(mass / 2, 25.0), ice=Ice(mass / 2)),
    "ice 0": lambda mass: Charge(ice=Ice(mass)),
    "ice -5": lambda mass: Charge(ice=Ice(mass, -5.0)),
    "ice -18": lambda mass: Charge(ice=Ice(mass, -18.0)),
}


def mixed(row: dict[str, str]) -> Mixing:
    alkali: Alkali = "NaOH" if row["alkali"] == "NaOH" else "KOH"
    w = 1 / 3 if row["mass_fraction"] == "0.3333" else float(row["mass_fraction"])
    if row["solid"] == "none":
        return mix(Solid(alkali, 0.0), Charge(stock=Stock(w / 0.5, 0.5, 25.0), water=Water(1 - w / 0.5, 25.0)))
    purity, moisture = (0.9, 0.1) if row["solid"] == "flakes" else (1.0, 0.0)
    solid = Solid(alkali, w / purity, 25.0, purity, moisture)
    return mix(solid, CONTENTS[row["contents"]](1.0 - w / purity))


@pytest.mark.parametrize(
    "row",
    list(read_table("adiabatic_mixing.csv")),
    ids=lambda row: f"{row['alkali']} {row['solid']} {row['mass_fraction']} {row['contents']}",
)
def test_adiabatic_temperature_is_that_of_the_separate_program(row: dict[str, str]) -> None:
    assert mixed(row).adiabatic_temperature == pytest.approx(float(row["temperature"]), abs=0.2)


@pytest.mark.parametrize(("contents", "told"), RULES_OF_THUMB.values(), ids=RULES_OF_THUMB)
def test_rule_of_thumb_for_fifty_percent_lies_in_the_stated_interval(contents: Charge, told: float) -> None:
    # Up to a tenth of the heat lost.
    low, _, high = rule_of_thumb(contents)
    assert low <= told <= high


def test_technical_caustic_soda_is_two_degrees_cooler_than_pure() -> None:
    # 98 % NaOH, 1 % water, 1 % inert to 50 %: 115.8 °C in the separate program, which lets the inert matter count
    # as solution
    solid = Solid("NaOH", 0.5 / 0.98, 25.0, 0.98, 0.01)
    found = mixing.mix(solid, Charge(water=Water(1.0 - 0.5 / 0.98, 25.0)))
    assert found.mass_fraction == pytest.approx(0.5)
    assert found.adiabatic_temperature == pytest.approx(115.8, abs=0.5)


def test_the_hottest_strength_of_caustic_soda_with_water_is_not_the_strongest() -> None:
    # Computed by the separate program: 120.5 °C at 43 %
    found = mix(Solid("NaOH", 1.0), Charge(water=Water(1.0, 25.0)))
    assert found.peak_temperature == pytest.approx(120.5, abs=0.2)
    assert found.peak_share is not None
    assert found.peak_share / (found.peak_share + 1.0) == pytest.approx(0.43, abs=0.01)
