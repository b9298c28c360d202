"""What stands with a solution is the same however its strength is said: 2 % by its density is 2 %."""

import pytest

from service.calculations.shared.standing_cautions import reaches
from tests.calculations.asking import ask

THRESHOLDS = (0.005, 0.02, 0.05)
"""Mass fractions of Regulation (EC) 1272/2008, Annex VI, index 011-002-00-6."""


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("share", THRESHOLDS)
def test_a_strength_of_a_threshold_is_at_it_in_every_form(alkali: str, share: float) -> None:
    at = ask("concentration", {"alkali": alkali, "strength": {"mass_fraction": share}})
    due = [one["message"] for one in at["cautions"] if one["code"] == "alkali-burns"]
    assert due
    for form in ("water_ratio", "mole_fraction", "molality", "molarity", "mass_concentration", "density"):
        said = {"value": at[form]["value"], "unit": at[form]["unit"]}
        again = ask("concentration", {"alkali": alkali, "strength": {form: said}})
        assert [one["message"] for one in again["cautions"] if one["code"] == "alkali-burns"] == due, form


@pytest.mark.parametrize("share", THRESHOLDS)
def test_rounding_leaves_a_strength_at_its_threshold_and_nothing_else_does(share: float) -> None:
    assert reaches(share, share)
    assert reaches(share * (1 - 2.0**-50), share)
    assert not reaches(share - 1e-6, share)
    below = ask("concentration", {"alkali": "NaOH", "strength": {"mass_fraction": share - 1e-6}})
    at = ask("concentration", {"alkali": "NaOH", "strength": {"mass_fraction": share}})
    burns = [[one for one in told["cautions"] if one["code"] == "alkali-burns"] for told in (below, at)]
    assert burns[0] != burns[1]
