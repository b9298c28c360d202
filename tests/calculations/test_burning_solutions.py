"""What is said of a solution somebody has, by the strength of its hydroxide.

Regulation (EC) 1272/2008, Annex VI, table 3, index 011-002-00-6 (sodium hydroxide): Skin Corr. 1A from 5 %, Skin Corr.
1B from 2 % to below 5 %, Skin Irrit. 2 and Eye Irrit. 2 from 0.5 % to below 2 % (from memory). Potassium hydroxide,
index 019-002-00-8, has the same limits (from memory).
"""

import pytest

from service.calculations.shared.cautions import Caution
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.standing_cautions import HAZARDOUS_WASTE, WASTE, of_solution
from service.chemistry.molar_masses import ALKALI
from service.chemistry.ranges import ROUNDING

LIMITS = [(0.005, "Skin Irrit. 2", "caution"), (0.02, "Skin Corr. 1B", "danger"), (0.05, "Skin Corr. 1A", "danger")]
INDEX = {"NaOH": "011-002-00-6", "KOH": "019-002-00-8"}
ALKALIS: tuple[AlkaliName, ...] = ("NaOH", "KOH")


def burns(alkali: AlkaliName, strength: float) -> Caution:
    (one,) = (told for told in of_solution(alkali, strength) if told.code == "alkali-burns")
    return one


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize(("limit", "hazard", "severity"), LIMITS)
def test_a_class_begins_at_its_limit_however_the_strength_was_said(
    alkali: AlkaliName, limit: float, hazard: str, severity: str
) -> None:
    for strength in (limit, limit - ROUNDING, limit + ROUNDING, limit * 1.5):
        told = burns(alkali, strength)
        assert f"({hazard}" in told.message
        assert f"From {limit * 100:g} % {alkali} on" in told.message
        assert told.severity == severity
        assert INDEX[alkali] in told.basis
    below = [one.message for one in of_solution(alkali, limit * (1 - 1e-6))]
    assert not any(f"({hazard}" in one for one in below)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_below_the_lowest_limit_nothing_is_said(alkali: AlkaliName) -> None:
    for strength in (0.0, 0.001, 0.00499):
        assert of_solution(alkali, strength) == ()


@pytest.mark.parametrize("alkali", ALKALIS)
def test_what_corrodes_is_locked_away_and_what_irritates_need_not_be(alkali: AlkaliName) -> None:
    """US households: caps for children from 2 % on (16 CFR 1700.14(a)(5))."""
    for strength in (0.006, 0.019, 0.02, 0.3):
        codes = {one.code for one in of_solution(alkali, strength)}
        assert ("keep-from-children" in codes) == ("store-closed" in codes) == (strength >= 0.02)
        assert "local-codes-first" in codes


def test_waste_is_hazardous_from_about_the_strength_of_its_ph() -> None:
    """pH 12.5 (40 CFR 261.22(a)(1)): 10**(12.5 - 14) mol/L of hydroxide, were all of it active."""
    for alkali in ALKALIS:
        ideal = 10 ** (12.5 - 14.0) * ALKALI[alkali]
        assert 0.5 * ideal < HAZARDOUS_WASTE < ideal
    assert f"about {HAZARDOUS_WASTE * 100:g} %" in WASTE.message
