"""What spreads of masses leave open of a paste that is told by its batch."""

from typing import Any, Final

import numpy as np
import pytest

from service.calculations.batch.paste_batch import held
from service.calculations.batch.paste_spread import ends
from tests.calculations.asking import Answer, ask

TESTED = (held, ends)
"""What these tests are of: mutants of its modules meet them first."""
KOH, GLYCEROL, RUNS = 56.105, 92.094, 20_000
PASTE: Final = {"value": 1.5, "uncertainty": 0.01, "unit": "kg"}
FAT: Final = {"name": "a fat", "saponification_value": {"value": 190, "uncertainty": 1, "unit": "mg/g"}}


def thinned(potash: Any, fat: Any = None, paste: Any = None) -> Answer:
    return ask(
        "paste-dilution",
        {
            "paste_mass": paste or PASTE,
            "batch": {
                "fats": [{**FAT, "mass": fat or "1 kg"}],
                "alkalis": [{"alkali": "KOH", "mass": potash}],
                "water_mass": "800 g",
            },
            "wanted_soap_share": 0.25,
        },
    )


@pytest.mark.parametrize("potash", [0.18, 0.19, 0.2])
def test_the_soap_is_held_where_fat_or_alkali_or_either_is_used_up(potash: float) -> None:
    """JCGM 101: too little alkali, just enough and too much; a kilogram and the potash each known to a hundredth."""
    rng = np.random.default_rng(7)
    told = thinned(*({"value": one, "uncertainty": one / 100, "unit": "kg"} for one in (potash, 1.0)))
    fat, alkali = rng.normal(1.0, 0.01, RUNS), rng.normal(potash, potash / 100, RUNS)
    need = fat * rng.normal(0.19, 0.001, RUNS)
    reacted = np.minimum(need, alkali)
    soap = fat * reacted / need + reacted - reacted / KOH / 3 * GLYCEROL
    needed = soap / 0.25 - rng.normal(1.5, 0.01, RUNS)
    for member, true in (("mass", soap / 0.25), ("water_to_add", needed)):
        low, high = (told[member][end] / 1e3 for end in ("low", "high"))
        assert 0.94 <= np.mean((low <= true) & (true <= high)) <= 0.97, member


def test_the_water_that_went_is_as_uncertain_as_all_that_was_weighed() -> None:
    plain, spread = thinned("0.18 kg"), thinned({"value": 0.18, "uncertainty": 0.01, "unit": "kg"})
    halves = [(one["water_evaporated"]["high"] - one["water_evaporated"]["low"]) / 2 for one in (plain, spread)]
    assert halves[1] == pytest.approx(halves[0] * 2**0.5)


def test_the_mass_of_what_is_thinned_does_not_go_with_the_paste_but_with_its_soap() -> None:
    told = ask("paste-dilution", {"paste_mass": PASTE, "soap_share": 0.4, "wanted_soap_share": 0.25})
    assert told["mass"]["high"] - told["mass"]["value"] == pytest.approx(1.96 * 10 * 0.4 / 0.25, rel=1e-4)
