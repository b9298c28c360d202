"""Molar masses of fatty acids, alkalis and glycerol against the package chemicals, which is no soap tool.

It takes its atomic weights from older tables (C 12.0107, H 1.00794, O 15.9994), so molar masses may differ by 5e-5;
the standard atomic weight of carbon itself is an interval of 1.6e-4 (IUPAC/CIAAW 2021).
"""

import pytest
from chemicals.identifiers import MW

from service.chemistry import molar_masses
from service.chemistry.fatty_acids import triglyceride_molar_mass
from tests.reference_cases.molar_mass_validation import FORMULAS, TOLERANCE, cas_numbers, formula_mass
from tests.reference_cases.saponification_validation import ACIDS


@pytest.mark.parametrize(("code", "number"), cas_numbers("acid"))
def test_fatty_acid_weighs_what_it_weighs_elsewhere(code: str, number: str) -> None:
    assert ACIDS[code].molar_mass * 1e3 == pytest.approx(MW(number), rel=TOLERANCE)


@pytest.mark.parametrize(("code", "number"), cas_numbers("triglyceride"))
def test_triglyceride_weighs_what_it_weighs_elsewhere(code: str, number: str) -> None:
    ours = triglyceride_molar_mass(ACIDS[code].molar_mass)
    assert ours * 1e3 == pytest.approx(MW(number), rel=TOLERANCE)


@pytest.mark.parametrize(("formula", "ours"), FORMULAS.items())
def test_formula_weighs_the_same_elsewhere(formula: str, ours: float) -> None:
    assert ours * 1e3 == pytest.approx(formula_mass(formula), rel=TOLERANCE)


def test_koh_weighs_1_4027_times_naoh() -> None:
    # 56.1056 / 39.9971 = 1.40274 with older atomic weights, 56.1053 / 39.9968 = 1.40275 with those of 2021.
    ratio = molar_masses.KOH / molar_masses.NAOH
    assert ratio == pytest.approx(1.40274, abs=1e-5)
