"""Batters with so little water that their caustic is hardly diluted at all."""

from typing import Any

import pytest

from tests.calculations.asking import ask
from tests.calculations.test_batch_sheet import NAME, SHEET, recipe

STRONG: list[dict[str, Any]] = [
    {"alkali": "NaOH", "strength": {"mass_fraction": "52 %"}, "mass": "5 kg"},
    {"alkali": "KOH", "strength": {"mass_fraction": "50 %"}, "mass": "5 kg"},
]
BOTH: list[dict[str, Any]] = [{"alkali": "NaOH", "mole_share": "90 %"}, {"alkali": "KOH", "mole_share": "10 %"}]


def volume(honey: str) -> float:
    """Of the batter of a kilogram of oil [mL]."""
    liquids = [{"liquid": "honey", "use_level": honey}]
    mixed = recipe(alkalis=BOTH, total_liquid=None, count_liquids_as="whole", liquids=liquids)
    return float(ask(NAME, SHEET | mixed | {"stocks": STRONG})["batter_volume"]["value"])


def test_what_is_added_to_hardly_diluted_caustic_takes_up_its_own_volume() -> None:
    """Honey holds a sixth of water: up to 3 % of it the two stocks together stay beyond the 50 % of potash whose
    density is known, and past that they are thinner. A US cup of honey weighs 339 g (USDA SR 26, household weights)."""
    for less, more in (("1.1 %", "3 %"), ("3 %", "10 %")):
        grams = 10 * (float(more[:-2]) - float(less[:-2]))
        assert volume(more) - volume(less) == pytest.approx(grams / 1.433, rel=0.06)
