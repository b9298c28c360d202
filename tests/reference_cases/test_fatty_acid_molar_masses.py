"""Molar masses of fatty acids, alkalis and glycerol against the package chemicals, which is no soap tool.

It takes its atomic weights from older tables (C 12.0107, H 1.00794, O 15.9994), so molar masses may differ by 5e-5;
the standard atomic weight of carbon itself is an interval of 1.6e-4 (IUPAC/CIAAW 2021).
"""

import pytest
from chemicals.elements import molecular_weight, nested_formula_parser
from chemicals.identifiers import MW

from service.chemistry import molar_masses
from service.chemistry.fatty_acids import triglyceride_molar_mass
from tests.reference_cases.saponification_validation import ACIDS

TOLERANCE = 5e-5

# Name and number of the Chemical Abstracts Service, from memory; a wrong number would show as a wrong molar mass.
NUMBERS = {
    "C4:0": "107-92-6",
    "C8:0": "124-07-2",
    "C12:0": "143-07-7",
    "C14:0": "544-63-8",
    "C16:0": "57-10-3",
    "C18:0": "57-11-4",
    "C18:1": "112-80-1",
    "C18:1-OH": "141-22-0",
    "C18:2": "60-33-3",
    "C18:3": "463-40-1",
    "C20:4": "506-32-1",
    "C22:0": "112-85-6",
    "C22:1": "112-86-7",
}
TRIGLYCERIDES = {"C8:0": "538-23-8", "C12:0": "538-24-9", "C18:0": "555-43-1", "C18:1": "122-32-7"}


@pytest.mark.parametrize(("code", "number"), NUMBERS.items())
def test_fatty_acid_weighs_what_it_weighs_elsewhere(code: str, number: str) -> None:
    assert ACIDS[code].molar_mass * 1e3 == pytest.approx(MW(number), rel=TOLERANCE)


@pytest.mark.parametrize(("code", "number"), TRIGLYCERIDES.items())
def test_triglyceride_weighs_what_it_weighs_elsewhere(code: str, number: str) -> None:
    ours = triglyceride_molar_mass(ACIDS[code].molar_mass)
    assert ours * 1e3 == pytest.approx(MW(number), rel=TOLERANCE)


@pytest.mark.parametrize(
    ("ours", "formula"),
    [
        (molar_masses.NAOH, "NaOH"),
        (molar_masses.KOH, "KOH"),
        (molar_masses.GLYCEROL, "C3H8O3"),
        (molar_masses.WATER, "H2O"),
        (2 * molar_masses.IODINE, "I2"),
        (molar_masses.SODIUM_OXIDE, "Na2O"),
        (molar_masses.POTASSIUM_OXIDE, "K2O"),
    ],
)
def test_formula_weighs_the_same_elsewhere(ours: float, formula: str) -> None:
    assert ours * 1e3 == pytest.approx(molecular_weight(nested_formula_parser(formula)), rel=TOLERANCE)


def test_koh_weighs_1_4027_times_naoh() -> None:
    # 56.1056 / 39.9971 = 1.40274 with older atomic weights, 56.1053 / 39.9968 = 1.40275 with those of 2021.
    ratio = molar_masses.KOH / molar_masses.NAOH
    assert ratio == pytest.approx(1.40274, abs=1e-5)
