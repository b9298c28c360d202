"""What a paste may hold of free alkali, as the recipe that it was made by says."""

import pytest

from service.calculations.batch.paste_batch import held
from service.calculations.batch.paste_notes import caution_paste
from service.calculations.batch.paste_spread import inputs_of
from tests.calculations.asking import ask, cautions
from tests.calculations.figures import NORMAL_95
from tests.calculations.test_paste_parts import spread, thinned

TESTED = (held, caution_paste, inputs_of)
"""What these tests are of: mutants of its modules meet them first."""
VAGUE = {"name": "own oil", "mass": "1 kg", "saponification_value": {"low": 185, "high": 195, "unit": "mg/g"}}


@pytest.mark.parametrize(("superfat", "told"), [(0.01, "31 %"), (0.02, "12 %"), (0.03, None)])
def test_free_alkali_in_a_paste_is_as_likely_as_in_its_recipe(superfat: float, told: str | None) -> None:
    """Of lots of 185 to 195 mg/g those below 190 (1 - s) leave some: (5 - 190 s) / 10 of them."""
    recipe = {"fats": [VAGUE], "superfat": superfat, "alkalis": [{"alkali": "KOH", "purity": 0.9}]}
    answer = ask("saponification", recipe)
    assert answer["free_alkali_probability"]["value"] == pytest.approx(max(0.0, (5 - 190 * superfat) / 10), abs=1e-9)
    alkalis = [{"alkali": one["alkali"], "mass": f"{one['mass']['value']!r} g"} for one in answer["alkalis"]]
    batch = {"fats": [VAGUE], "alkalis": alkalis, "water_mass": "600 g"}
    found = cautions(ask("paste-dilution", {"paste_mass": "1.7 kg", "batch": batch, "wanted_soap_share": "20 %"}))
    assert ("free-alkali-possible" in found) == (told is not None)
    assert told is None or f"probability of {told}" in found["free-alkali-possible"]["message"]


def test_an_acid_that_was_weighed_badly_leaves_open_what_it_takes_of_the_alkali() -> None:
    """JCGM 100:2008, 5.1.2: 1.96 times what a standard uncertainty of it changes, where the alkali is what is short."""

    def soap(acid: object) -> dict[str, float]:
        acids = [{"acid": "citric-acid-anhydrous", "mass": acid}]
        found: dict[str, float] = thinned(("KOH", "150 g"), acids=acids)["paste_soap_share"]
        return found

    vague, less, more = soap(spread(20, 2)), soap("19 g"), soap("21 g")
    change = (less["value"] - more["value"]) / 2
    assert change > 0
    assert vague["high"] - vague["value"] == pytest.approx(2 * NORMAL_95 * change, rel=1e-3)
    assert vague["value"] - vague["low"] == pytest.approx(2 * NORMAL_95 * change, rel=1e-3)
