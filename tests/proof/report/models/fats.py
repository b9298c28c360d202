"""Saponification values, iodine values and molar masses."""

from collections.abc import Iterator
from typing import Final

from chemicals.identifiers import MW

from service.chemistry.fatty_acids import CD_1C_85_FACTORS, iodine_value, saponification_value, triglyceride_molar_mass
from service.reference import reference_data
from tests.proof.report.models.works import HALF_DIGIT
from tests.proof.report.plot import Panel, Points
from tests.proof.report.records import Evidence, Model, Point, Source
from tests.reference_cases.molar_mass_validation import FORMULAS, TOLERANCE, cas_numbers, formula_mass
from tests.reference_cases.saponification_validation import (
    ACIDS,
    composition_limits,
    middles,
    read_table,
    saponification_rows,
    usda_compositions,
)

CODEX: Final = Source(
    "limits of standards",
    "Codex Alimentarius Commission; USP; International Olive Council",
    "CXS 210-1999 tables 1 and 2 (late edition), USP 35-NF 30, CXS 33-1981",
    "1999, amended to 2022",
    "middle of the limits of composition, against the limits of the value",
    Evidence.SEEN,
    "the limits that the standard itself states",
    "in reprints; each fat's own source stands in the data file",
)
USDA: Final = Source(
    "USDA SR26, limits read",
    "U.S. Department of Agriculture",
    "National Nutrient Database for Standard Reference, release 26",
    "2013",
    "composition, against the limits of a standard for the fat",
    Evidence.SEEN,
    "the limits that the standard itself states",
    "limits of Codex, Merck Index, British Pharmaceutical Codex and others, read; each stands in the data file",
)
USDA_RECALLED: Final = USDA._replace(
    label="USDA SR26, limits recalled",
    evidence=Evidence.MEMORY,
    note="the composition was read, the limits of the standard are from memory",
)
SIMMONS: Final = Source(
    "Simmons & Appleton 1908, ch. X",
    "W. H. Simmons, H. A. Appleton",
    "The Handbook of Soap Manufacture, London",
    "1908",
    "ch. X, a titrated fat",
    Evidence.SEEN,
    HALF_DIGIT,
    is_same_formula=True,
)
WEIGHTS: Final = Source(
    "atomic weights 2021",
    "IUPAC, Commission on Isotopic Abundances and Atomic Weights",
    "abridged standard atomic weights",
    "2021",
    "arithmetic by hand on them",
    Evidence.SEEN,
    HALF_DIGIT,
    is_same_formula=True,
)
PUBCHEM: Final = Source(
    "PubChem",
    "National Library of Medicine (PubChem)",
    "molar masses, as held by the package chemicals",
    "undated",
    "by number of the Chemical Abstracts Service",
    Evidence.SEEN,
    "5 parts in 1e5: it rests on older atomic weights",
    "the numbers are from memory; a wrong one would show",
)
CHEMICALS: Final = PUBCHEM._replace(
    label="package chemicals",
    body="package chemicals 1.5",
    title="atomic weights",
    where="by formula",
    note="",
)
AOCS: Final = Source(
    "AOCS Cd 1c-85",
    "American Oil Chemists' Society",
    "Recommended Practice Cd 1c-85, Calculated Iodine Value",
    "reapproved 2009",
    "factors of triglycerides and of free acids",
    Evidence.SEEN,
    HALF_DIGIT,
    "by its own definition, which is ours",
    is_same_formula=True,
)


def _of_fats(first: str, unit: str) -> Iterator[Point]:
    """Values from compositions against the limits of standards; `first` is saponification or iodine."""
    limits = {row["fat"]: row for row in read_table("saponification_limits.csv")}
    for fat, composition in composition_limits().items():
        yield _within(CODEX, fat, _value(first, middles(composition)), limits[fat], first, unit)
    for row, shares in usda_compositions():
        if row[f"{first}_low"]:
            source = USDA if row["limits_read"] == "read" else USDA_RECALLED
            what = f"{row['fat']}, {row['ndb_number']}"
            yield _within(source, what, _value(first, shares), row, first, unit)


def _value(first: str, shares: dict[str, float]) -> float:
    if first == "iodine":
        return 100 * iodine_value(shares, ACIDS)
    return 1e3 * saponification_value(shares, ACIDS)


def _within(source: Source, what: str, ours: float, row: dict[str, str], first: str, unit: str) -> Point:
    low, high = float(row[f"{first}_low"]), float(row[f"{first}_high"])
    return Point(source, what, 0.0, ours, (low + high) / 2, (high - low) / 2, unit)


def _fat_panel(points: list[Point], y_label: str) -> Panel:
    places = [float(index) for index in range(len(points))]
    ends = [(p.published - p.tolerance, p.published + p.tolerance) for p in points]
    limits = Points("limits of the standard, and their middle", places, [p.published for p in points], ends)
    ours = Points("ours, from the composition", places, [p.ours for p in points])
    return Panel("", y_label, [], [limits, ours], x_names=[p.what for p in points])


def saponification() -> Model:
    """Saponification value."""
    fats = list(_of_fats("saponification", "mg/g"))
    works = {"W. H.": SIMMONS, "arith": WEIGHTS, "molar": PUBCHEM}
    headline = [
        Point(works[row.source[:5]], row.quantity, 0.0, row.ours, row.reference, tolerance, row.unit)
        for row, tolerance in saponification_rows()
    ]
    return Model(
        "saponification-value",
        "Saponification value and alkali",
        "service/chemistry/fatty_acids.py and saponification.py: molecules counted, from molar masses",
        "any mixture of the fatty acids that the catalogue knows",
        "the limits of the standard for each fat, or those of a certificate",
        "Compositions and values are not of the same samples, so that limits as wide as those of a standard are all "
        "that can be held. Fats with much unsaponifiable matter, waxes and resins are not covered.",
        "",
        [*fats, *headline],
        [_fat_panel(fats, "saponification value, mg/g")],
    )


def iodine() -> Model:
    """Iodine value."""
    fats = list(_of_fats("iodine", "g/100 g"))
    factors = []
    for form, printed in CD_1C_85_FACTORS.items():
        for code, factor in printed.items():
            digits = 4 if form == "free-acid" and round(factor, 3) != factor else 3
            ours = iodine_value({code: 1.0}, ACIDS, form=form)
            what = f"factor of {code}, {form}"
            factors.append(Point(AOCS, what, 0.0, ours, factor, 0.5 * 10.0**-digits, "1"))
    return Model(
        "iodine-value",
        "Iodine value",
        "service/chemistry/fatty_acids.py: double bonds counted; beside it the factors of AOCS Cd 1c-85",
        "any mixture of the fatty acids that the catalogue knows",
        "the limits of the standard for each fat",
        "Conjugated double bonds and ricinoleic acid take up iodine otherwise than is reckoned (no measured value "
        "was at hand); compositions and values are not of the same samples.",
        "",
        [*fats, *factors],
        [_fat_panel(fats, "iodine value, g/100 g")],
    )


def molar_masses() -> Model:
    """Fatty acids, triglycerides, alkalis."""
    points = []
    for code, number in cas_numbers("acid"):
        points.append(_mass(PUBCHEM, code, ACIDS[code].molar_mass, MW(number)))
    for code, number in cas_numbers("triglyceride"):
        ours = triglyceride_molar_mass(ACIDS[code].molar_mass)
        points.append(_mass(PUBCHEM, f"triglyceride of {code}", ours, MW(number)))
    sour = {acid.formula: acid.molar_mass for acid in reference_data().acids.values()}
    points += [_mass(CHEMICALS, formula, ours, formula_mass(formula)) for formula, ours in (FORMULAS | sour).items()]
    places = [float(index) for index in range(len(points))]
    apart = [1e6 * (p.ours / p.published - 1) for p in points]
    ends = [(one - 1e6 * TOLERANCE, one + 1e6 * TOLERANCE) for one in apart]
    marks = Points("ours, and as far as atomic weights may differ", places, apart, ends)
    return Model(
        "molar-masses",
        "Molar masses",
        "service/chemistry/molar_masses.py and fatty_acids.py: IUPAC/CIAAW 2021",
        "fatty acids by carbons, double bonds and hydroxyls; NaOH, KOH, glycerol, water, oxides; other acids",
        "that of the atomic weights",
        "Nothing is open here beyond the atomic weights themselves (carbon's standard weight is an interval of "
        "1.6e-4).",
        "",
        points,
        [Panel("", "ours over the other, ppm", [], [marks], x_names=[p.what for p in points])],
    )


def _mass(source: Source, what: str, ours: float, theirs: float) -> Point:
    return Point(source, what, 0.0, ours * 1e3, theirs, TOLERANCE * theirs, "g/mol")
