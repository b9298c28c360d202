"""Substances whose molar masses the package chemicals holds too.

It takes its atomic weights from older tables (C 12.0107, H 1.00794, O 15.9994), so molar masses may differ by 5e-5;
the standard atomic weight of carbon itself is an interval of 1.6e-4 (IUPAC/CIAAW 2021).
"""

import re
from typing import Final

from chemicals.elements import molecular_weight, nested_formula_parser

from service.chemistry import molar_masses
from tests.reference_cases.outside import read_table

TOLERANCE: Final = 5e-5
"""Relative."""
FORMULAS: Final = {
    "NaOH": molar_masses.NAOH,
    "KOH": molar_masses.KOH,
    "C3H8O3": molar_masses.GLYCEROL,
    "H2O": molar_masses.WATER,
    "I2": 2 * molar_masses.IODINE,
    "Na2O": molar_masses.SODIUM_OXIDE,
    "K2O": molar_masses.POTASSIUM_OXIDE,
}
"""Ours [kg/mol]."""


def cas_numbers(substance: str) -> list[tuple[str, str]]:
    """(shorthand of the fatty acid, number of the Chemical Abstracts Service) of acids or of their triglycerides."""
    return [(row["code"], row["number"]) for row in read_table("cas_numbers.csv") if row["substance"] == substance]


def formula_mass(formula: str) -> float:
    """By the package chemicals [g/mol], also of a hydrate, as C2H2O4.2H2O."""
    parts = re.findall(r"(\d*)([^.]+)", formula)
    return sum(int(count or 1) * float(molecular_weight(nested_formula_parser(part))) for count, part in parts)
