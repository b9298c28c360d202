"""Headline figures of fats, acids and uncertainty beside the figures they are published with.

`validation_rows` serves the table of deviations; `cases` adds the tolerance that each source states, which is half
a unit of its last printed digit unless the case says otherwise. The tests assert on the same rows.
"""

import csv
from collections.abc import Iterator
from pathlib import Path

from chemicals.identifiers import MW

from service.chemistry import fatty_acids, molar_masses, saponification
from service.chemistry.uncertainty import normal
from service.reference.records import FattyAcid
from tests.reference_cases import quam
from tests.reference_cases.rows import ValidationRow

DATA = Path(__file__).parent / "data"

SIMMONS_APPLETON = "W. H. Simmons and H. A. Appleton, The Handbook of Soap Manufacture, London 1908, ch. X"
QUAM = (
    "EURACHEM/CITAC CG 4, Quantifying Uncertainty in Analytical Measurement, 3rd ed. 2012, example {}, "
    "as reproduced in the documentation of the GUM Tree Calculator (MSL, New Zealand)"
)
CD_1C_85 = "AOCS Recommended Practice Cd 1c-85 (reapproved 2009), factor for triglycerides, {}"
PUBCHEM = "molar mass in PubChem, as held by the package chemicals, CAS {}"
CIAAW = "arithmetic on the abridged standard atomic weights, IUPAC/CIAAW 2021"


def read_table(name: str) -> Iterator[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(line for line in file if not line.startswith("#"))


def acid(code: str) -> FattyAcid:
    """The record of an acid, from its shorthand alone."""
    chain, _, hydroxyl = code.removeprefix("C").partition("-")
    carbons, double_bonds = (int(number) for number in chain.split(":"))
    molar_mass = fatty_acids.fatty_acid_molar_mass(carbons, double_bonds, hydroxyls=1 if hydroxyl else 0)
    return FattyAcid(code, code, "", carbons, double_bonds, molar_mass)


# fmt: off
CODES = (
    "C4:0", "C6:0", "C8:0", "C10:0", "C12:0", "C13:0", "C14:0", "C14:1", "C15:0", "C15:1", "C16:0", "C16:1",
    "C17:0", "C17:1", "C18:0", "C18:1", "C18:1-OH", "C18:2", "C18:3", "C18:4", "C20:0", "C20:1", "C20:2", "C20:3",
    "C20:4", "C20:5", "C22:0", "C22:1", "C22:2", "C22:4", "C22:5", "C22:6", "C24:0", "C24:1",
)
# fmt: on
ACIDS = {code: acid(code) for code in CODES}


def composition_limits() -> dict[str, dict[str, tuple[float, float]]]:
    """Published limits of the fatty acids of fifteen fats, as mass fractions."""
    fats: dict[str, dict[str, tuple[float, float]]] = {}
    for row in read_table("fatty_acid_limits.csv"):
        fats.setdefault(row["fat"], {})[row["acid"]] = (float(row["low"]) / 100, float(row["high"]) / 100)
    return fats


def usda_compositions() -> list[tuple[dict[str, str], dict[str, float]]]:
    """(row with the limits of a standard, fatty acids) of the fats of USDA SR26 that a standard speaks of."""
    return [
        (row, {code: float(row[code]) for code in CODES if row.get(code)})
        for row in read_table("usda_sr26_compositions.csv")
    ]


def normalised_by_mass(shares: dict[str, float]) -> dict[str, float]:
    total = sum(shares.values())
    return {code: share / total for code, share in shares.items()}


def middles(limits: dict[str, tuple[float, float]]) -> dict[str, float]:
    return {code: (low + high) / 2 for code, (low, high) in limits.items()}


# (quantity, ours, reference, unit, source, tolerance)
_Case = tuple[str, float, float, str, str, float]


def _uncertainty_cases() -> Iterator[_Case]:
    # The documentation cuts long figures off where it does not round them, hence a whole unit of the last digit
    # for those that it prints with twelve digits or with dots.
    value, combined, _ = quam.a1()
    yield "cadmium standard, QUAM A1", value, 1002.7, "mg/L", QUAM.format("A1"), 0.05
    yield "its standard uncertainty, QUAM A1", combined[0], 0.835199, "mg/L", QUAM.format("A1"), 5e-7
    value, combined, _ = quam.a2()
    yield "sodium hydroxide solution, QUAM A2", value, 0.102136159706, "mol/L", QUAM.format("A2"), 1e-12
    yield "its standard uncertainty, QUAM A2", combined[0], 0.000100500722124, "mol/L", QUAM.format("A2"), 1e-15
    value, combined, _ = quam.a3()
    yield "hydrochloric acid, QUAM A3", value, 0.10139, "mol/L", QUAM.format("A3"), 5e-6
    yield "its standard uncertainty, QUAM A3", combined[0], 0.0001843, "mol/L", QUAM.format("A3"), 1e-7
    value, combined, _ = quam.a3(repeatability=quam.MEAN_OF_THREE, bias=normal(0.03))
    yield "the same with indicator bias, QUAM A3", value, 0.10132, "mol/L", QUAM.format("A3"), 5e-6
    yield "its standard uncertainty with bias, QUAM A3", combined[0], 0.0003096, "mol/L", QUAM.format("A3"), 1e-7


def _saponification_cases() -> Iterator[_Case]:
    # 1.8976 g of fat took 6.65 mL of normal alkali. The book reckons with KOH = 56.1 g/mol.
    value = 6.65e-3 * molar_masses.KOH / 1.8976e-3
    equivalent = 1 / saponification.hydroxide_amount(1.0, value)
    yield "saponification value of the titrated fat", value * 1e3, 196.6, "mg/g", SIMMONS_APPLETON, 0.05
    yield "saponification equivalent of the same", equivalent * 1e3, 285.35, "g/mol", SIMMONS_APPLETON, 0.005
    for name, code, printed, cas in (
        ("tristearin", "C18:0", 188.8, "555-43-1"),
        ("triolein", "C18:1", 190.1, "122-32-7"),
        ("trilaurin", "C12:0", 263.4, "538-24-9"),
        ("tricaprylin", "C8:0", 357.6, "538-23-8"),
    ):
        pure = fatty_acids.saponification_value({code: 1.0}, ACIDS)
        yield f"saponification value of {name}", pure * 1e3, printed, "mg/g", CIAAW, 0.05
        # PubChem's molar masses rest on older atomic weights (C 12.0107), 3e-5 apart from ours.
        outside = 3e3 * MW("1310-58-3") / MW(cas)
        yield (
            f"the same of {name}, outside molar mass",
            pure * 1e3,
            outside,
            "mg/g",
            PUBCHEM.format(cas),
            5e-5 * outside,
        )
    naoh = saponification.alkali_masses(saponification.hydroxide_amount(1.0, 0.192), {"NaOH": 1.0})["NaOH"]
    yield "NaOH per fat of saponification value 192 mg/g", naoh, 0.13687, "kg/kg", CIAAW, 5e-6


def _iodine_cases() -> Iterator[_Case]:
    for code, factor in (
        ("C16:1", 0.950),
        ("C18:1", 0.860),
        ("C18:2", 1.732),
        ("C18:3", 2.616),
        ("C20:1", 0.785),
        ("C22:1", 0.723),
    ):
        yield (
            f"iodine value of the triglyceride of {code}, per mass % of the acid",
            fatty_acids.iodine_value({code: 1.0}, ACIDS),
            factor,
            "g/100 g",
            CD_1C_85.format(code),
            5e-4,
        )


def _rows(several: Iterator[_Case]) -> list[tuple[ValidationRow, float]]:
    return [
        (ValidationRow(quantity, ours, reference, ours - reference, unit, source), tolerance)
        for quantity, ours, reference, unit, source, tolerance in several
    ]


def saponification_rows() -> list[tuple[ValidationRow, float]]:
    """Those of saponification values and alkali."""
    return _rows(_saponification_cases())


def uncertainty_rows() -> list[tuple[ValidationRow, float]]:
    """Those of worked examples of uncertainty."""
    return _rows(_uncertainty_cases())


def cases() -> list[tuple[ValidationRow, float]]:
    """Rows with the tolerance that their source states."""
    return [*saponification_rows(), *_rows(_iodine_cases()), *uncertainty_rows()]


def validation_rows() -> list[ValidationRow]:
    """(quantity, ours, reference, deviation, unit, source) of every headline figure."""
    return [row for row, _ in cases()]
