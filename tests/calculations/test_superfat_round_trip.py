"""What a recipe and a split say to weigh has the recipe's superfat when it is checked."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.calculations.asking import ask
from tests.contract.realistic_fats import fat_lines


@given(st.data(), st.floats(0.0, 0.15), st.floats(0.3, 0.48), st.floats(0.1, 0.9), st.booleans(), st.booleans())
def test_recipe_and_split_checked_give_their_superfat_back(
    data: st.DataObject, superfat: float, w: float, share: float, mixed: bool, sour: bool
) -> None:
    fats = [line.request for line in data.draw(fat_lines(2.0))]
    recipe: dict[str, Any] = {"fats": fats, "superfat": superfat}
    kinds = ["NaOH", "KOH"] if mixed else ["NaOH"]
    shares = [share, 1 - share] if mixed else [1.0]
    recipe["alkalis"] = [
        {"alkali": kind, "mole_share": part, "purity": 1} for kind, part in zip(kinds, shares, strict=True)
    ]
    acids = {"acids": [{"acid": "citric-acid-anhydrous", "mass": "15 g"}]} if sour else {}
    needed = ask("saponification", recipe | acids)["alkalis"]
    stocks = [{"alkali": kind, "strength": {"mass_fraction": w}} for kind in kinds]
    alkalis = [{"alkali": one["alkali"], "mass": one["mass"]} for one in needed]
    split = ask("liquid-split", {"alkalis": alkalis, "stocks": stocks})
    draws = [
        {"alkali": one["alkali"], "mass": one["mass"], "strength": {"mass_fraction": w}} for one in split["stock_draws"]
    ]
    checked = ask("superfat-check", {"fats": fats, "stock_draws": draws} | acids)
    assert checked["superfat"]["value"] == pytest.approx(superfat, abs=1e-11)
