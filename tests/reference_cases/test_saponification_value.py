"""Saponification values from compositions, and alkali factors, against published figures.

Compositions and limits, with their sources, stand in the tables of data/; an iodine value is checked with its
saponification value in test_iodine_value.py.
"""

import pytest

from service.chemistry import molar_masses
from service.chemistry.fatty_acids import saponification_value
from service.chemistry.saponification import acid_amount, alkali_masses, glycerol_mass, hydroxide_amount
from tests.reference_cases.saponification_validation import (
    ACIDS,
    composition_limits,
    middles,
    normalised_by_mass,
    read_table,
    usda_compositions,
)

COMPOSITIONS = composition_limits()
LIMITS = {row["fat"]: row for row in read_table("saponification_limits.csv")}
USDA = usda_compositions()


def by_mass_weighted_mean(shares: dict[str, float]) -> float:
    """The other form in use, with the mean molar mass weighted by mass (AOCS Cd 3a-94, from memory) [mg/g]."""
    mean = 1e3 * sum(share * ACIDS[code].molar_mass for code, share in normalised_by_mass(shares).items())
    return 3 * 56.1 * 1000 / (3 * mean + 92.09 - 3 * 18)


def test_fifteen_fats_have_both_composition_and_limits_that_were_read() -> None:
    assert COMPOSITIONS.keys() == LIMITS.keys()
    assert len(COMPOSITIONS) == 15


@pytest.mark.parametrize("fat", COMPOSITIONS)
def test_middle_of_the_standard_composition_lies_inside_the_standard_range(fat: str) -> None:
    ours = 1e3 * saponification_value(middles(COMPOSITIONS[fat]), ACIDS)
    assert float(LIMITS[fat]["saponification_low"]) <= ours <= float(LIMITS[fat]["saponification_high"])


@pytest.mark.parametrize("fat", ["coconut", "coconut-usp"])
def test_molecules_must_be_counted_for_coconut(fat: str) -> None:
    shares = middles(COMPOSITIONS[fat])
    # CXS 210-1999, Table 2: 248 to 265 mg/g.
    assert 1e3 * saponification_value(shares, ACIDS) > 248.0
    assert by_mass_weighted_mean(shares) < 248.0


def test_the_two_means_agree_for_acids_of_like_length() -> None:
    for fat in ("olive", "soybean", "walnut", "sunflower-high-oleic"):
        shares = middles(COMPOSITIONS[fat])
        assert 1e3 * saponification_value(shares, ACIDS) == pytest.approx(by_mass_weighted_mean(shares), abs=0.8)


def test_usda_compositions_give_values_inside_the_standards_but_for_mutton_tallow() -> None:
    # USDA SR26 (2013). Prepared suet of the Merck Index has 192 to 195 mg/g; the mutton tallows of Simmons and
    # Appleton (1908) have 196.8 to 197.6, which ours would fit.
    outside = {
        row["fat"]: round(1e3 * saponification_value(shares, ACIDS), 1)
        for row, shares in USDA
        if not float(row["saponification_low"])
        <= 1e3 * saponification_value(shares, ACIDS)
        <= float(row["saponification_high"])
    }
    assert len(USDA) == 34
    assert outside == {"mutton-tallow": 196.5}


def test_published_titration_comes_out() -> None:
    # Simmons and Appleton, The Handbook of Soap Manufacture, London 1908, ch. X: 1.8976 g of fat take 6.65 mL of
    # normal alkali, saponification value 196.6, saponification equivalent 285.3(5).
    assert hydroxide_amount(1.8976e-3, 0.1966) == pytest.approx(6.65e-3, abs=0.005e-3)
    assert 1e3 / hydroxide_amount(1.0, 0.1966) == pytest.approx(285.35, abs=0.05)


def test_glycerol_of_the_titrated_fat_is_that_of_its_ester_value() -> None:
    # The same: acid value 15.3, ester value 181.3. Free acids give no glycerol.
    ester = hydroxide_amount(1.0, 0.1813)
    assert glycerol_mass(ester) == pytest.approx(0.0992, abs=5e-5)  # 0.054715 % for each mg/g, by the atomic weights
    assert ester == pytest.approx(hydroxide_amount(1.0, 0.1966) - hydroxide_amount(1.0, 0.0153))


@pytest.mark.parametrize(("value", "naoh"), [(0.192, 0.13687), (0.257, 0.18321)])
def test_fat_needs_this_much_sodium_hydroxide(value: float, naoh: float) -> None:
    # Arithmetic on the atomic weights of IUPAC/CIAAW 2021.
    assert alkali_masses(hydroxide_amount(1.0, value), {"NaOH": 1.0})["NaOH"] == pytest.approx(naoh, abs=1e-5)


@pytest.mark.parametrize(
    ("molar_mass", "protons", "content", "naoh", "koh"),
    [
        (0.192123, 3, 1.0, 0.62455, 0.87608),  # citric acid, anhydrous
        (0.210138, 3, 1.0, 0.57101, 0.80098),  # citric acid, monohydrate
        (0.090078, 1, 1.0, 0.44402, 0.62285),  # lactic acid
        (0.090078, 1, 0.88, 0.39074, 0.54811),  # lactic acid, 88 %
        (0.060052, 1, 0.05, 0.03330, 0.04671),  # vinegar, 5 % acetic acid
        (0.150086, 2, 1.0, 0.53298, 0.74764),  # tartaric acid
        (0.126064, 2, 1.0, 0.63455, 0.89011),  # oxalic acid, dihydrate
    ],
)
def test_acid_takes_this_much_alkali(molar_mass: float, protons: int, content: float, naoh: float, koh: float) -> None:
    # Arithmetic on the atomic weights of IUPAC/CIAAW 2021.
    amount = acid_amount(1.0, content, protons, molar_mass)
    assert amount * molar_masses.NAOH == pytest.approx(naoh, abs=5e-6)
    assert amount * molar_masses.KOH == pytest.approx(koh, abs=5e-6)


def test_old_works_recipe_for_coconut_leaves_some_fat() -> None:
    # Simmons and Appleton 1908, ch. V: coconut oil with half its weight of soda lye of 71.4 degrees Twaddell, 32.64 %
    # NaOH by the same book's table; its own saponification equivalents of coconut are 214.2 to 216.
    delivered = 0.5 * 0.3264 / molar_masses.NAOH
    for equivalent in (0.2142, 0.2160):
        need = hydroxide_amount(1.0, molar_masses.KOH / equivalent)
        assert 0.11 < 1 - delivered / need < 0.13
