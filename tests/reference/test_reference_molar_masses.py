"""Molar masses in the data files follow from their formulae, and saponification values from them."""

import re

import pytest
from chemicals.elements import molecular_weight

from service.chemistry import molar_masses
from service.reference import reference_data

ELEMENTS = {
    "C": molar_masses.CARBON,
    "H": molar_masses.HYDROGEN,
    "O": molar_masses.OXYGEN,
    "Na": molar_masses.SODIUM,
    "K": molar_masses.POTASSIUM,
}
PRINTED = 0.5e-6 + 1e-12
"""The files print molar masses to 0.001 g/mol."""


def molar_mass(formula: str) -> float:
    """Molar mass [kg/mol] of a formula such as C2H2O4.2H2O."""
    total = 0.0
    for part in formula.split("."):
        count, body = re.fullmatch(r"(\d*)(.+)", part).groups()  # type: ignore[union-attr]
        atoms = re.findall(r"([A-Z][a-z]?)(\d*)", body)
        assert "".join(symbol + number for symbol, number in atoms) == body
        total += int(count or 1) * sum(ELEMENTS[symbol] * int(number or 1) for symbol, number in atoms)
    return total


def test_formula_of_every_fatty_acid_gives_its_molar_mass() -> None:
    for acid in reference_data().fatty_acids.values():
        assert acid.molar_mass == pytest.approx(molar_mass(acid.formula), abs=PRINTED), acid.code


def test_formula_of_every_fatty_acid_has_the_carbon_atoms_and_double_bonds_of_its_shorthand() -> None:
    for acid in reference_data().fatty_acids.values():
        hydrogens = 2 * acid.carbons - 2 * acid.double_bonds
        oxygens = 3 if acid.code.endswith("-OH") else 2
        assert acid.formula == f"C{acid.carbons}H{hydrogens}O{oxygens}"


def test_formula_of_every_acid_gives_its_molar_mass() -> None:
    for acid in reference_data().acids.values():
        assert acid.molar_mass == pytest.approx(molar_mass(acid.formula), abs=PRINTED), acid.id


def test_formula_of_each_alkali_gives_its_molar_mass() -> None:
    for alkali in reference_data().alkalis.values():
        assert alkali.molar_mass == pytest.approx(molar_mass(alkali.formula), rel=1e-9)
        assert alkali.molar_mass == pytest.approx(molar_masses.ALKALI[alkali.id], rel=1e-9)  # type: ignore[index]


@pytest.mark.parametrize(
    ("acid", "equivalent"),
    [
        # mg neutralised by 1 mL of 1 mol/L NaOH: titration factors of the USP-NF monographs, from memory
        ("citric-acid-anhydrous", 64.04),
        ("lactic-acid", 90.08),
        ("acetic-acid", 60.05),
        ("tartaric-acid", 75.04),
        ("malic-acid", 67.04),
    ],
)
def test_equivalents_of_acids_are_the_factors_of_their_titration(acid: str, equivalent: float) -> None:
    entry = reference_data().acids[acid]
    # the factors are printed to 0.01 mg, some from atomic weights of an earlier year
    assert 1e3 * entry.molar_mass / entry.protons == pytest.approx(equivalent, abs=0.0101)


@pytest.mark.parametrize(
    ("acid", "naoh", "koh"),
    [
        # reckoned apart, by hand: protons x 39.9968 or 56.1053 over the molar mass, times the content
        ("citric-acid-anhydrous", 0.62455, 0.87608),
        ("citric-acid-monohydrate", 0.57101, 0.80098),
        ("lactic-acid-88", 0.39074, 0.54811),
        ("vinegar-5-percent", 0.03330, 0.04671),
        ("oxalic-acid-dihydrate", 0.63455, 0.89011),
        ("ascorbic-acid", 0.22709, 0.31856),
    ],
)
def test_alkali_for_a_gram_of_acid_is_that_of_its_protons(acid: str, naoh: float, koh: float) -> None:
    entry = reference_data().acids[acid]
    moles = entry.protons * entry.content / entry.molar_mass
    assert moles * molar_masses.NAOH == pytest.approx(naoh, abs=0.6e-5)
    assert moles * molar_masses.KOH == pytest.approx(koh, abs=0.6e-5)


@pytest.mark.parametrize(
    ("fat", "acid"),
    [
        ("lauric-acid", "C12:0"),
        ("myristic-acid", "C14:0"),
        ("palmitic-acid", "C16:0"),
        ("stearic-acid-pure", "C18:0"),
        ("oleic-acid", "C18:1"),
    ],
)
def test_acid_value_of_a_pure_fatty_acid_follows_from_its_molar_mass(fat: str, acid: str) -> None:
    data = reference_data()
    expected = molar_masses.KOH / data.fatty_acids[acid].molar_mass
    # printed to 0.01 mg/g
    assert data.fats[fat].saponification_value.middle == pytest.approx(expected, abs=0.51e-5)


@pytest.mark.parametrize("fat", ["poppy-seed-oil", "oat-oil", "duck-fat", "chicken-fat", "cod-liver-oil"])
def test_computed_saponification_values_follow_from_the_fatty_acids(fat: str) -> None:
    data = reference_data()
    composition = data.fats[fat].fatty_acids
    assert composition is not None
    moles = sum(share / data.fatty_acids[acid].molar_mass for acid, (share, _) in composition.shares.items())
    # a triglyceride is three acids and glycerol less three waters; 1/moles is the mean acid
    mass = 3 / moles + molar_masses.GLYCEROL - 3 * molar_masses.WATER
    computed = [
        figure
        for name, figure in data.fats[fat].other_figures
        if name == "saponification_value" and figure.evidence == "computed"
    ]
    # printed to 0.1 mg/g
    assert computed[0].middle == pytest.approx(3 * molar_masses.KOH / mass, abs=0.51e-4)


@pytest.mark.parametrize(
    ("named", "atoms"),
    [
        (molar_masses.ALKALI["NaOH"], {"Na": 1, "O": 1, "H": 1}),
        (molar_masses.ALKALI["KOH"], {"K": 1, "O": 1, "H": 1}),
        (molar_masses.OXIDE["NaOH"], {"Na": 2, "O": 1}),
        (molar_masses.OXIDE["KOH"], {"K": 2, "O": 1}),
        (molar_masses.CARBONATE["NaOH"], {"Na": 2, "C": 1, "O": 3}),
        (molar_masses.CARBONATE["KOH"], {"K": 2, "C": 1, "O": 3}),
        (molar_masses.WATER, {"H": 2, "O": 1}),
        (molar_masses.GLYCEROL, {"C": 3, "H": 8, "O": 3}),
        (molar_masses.IODINE, {"I": 1}),
    ],
)
def test_compounds_weigh_what_the_package_chemicals_says(named: float, atoms: dict[str, int]) -> None:
    """Its atomic weights are an older edition's, some of which differ in the fifth digit."""
    assert 1e3 * named == pytest.approx(molecular_weight(atoms), rel=3e-5)
