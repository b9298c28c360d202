"""Our 95 % intervals against the propagation of whole distributions (JCGM 101:2008), which never runs on a request.

Each case draws the true saponification values, masses, purities and acidities from the distributions that the inputs
state, works out what superfat that batch really has, and counts how often our interval holds it. The coverage must
lie between 94 and 97 %. The draws are seeded.

Saponification values are the limits of the standards named in data/saponification_limits.csv; shea: CXS 325R-2017.
"""

from collections.abc import Hashable
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pytest

from service.chemistry.molar_masses import KOH, NAOH
from service.chemistry.saponification import alkali_amount, hydroxide_amount
from service.chemistry.saponification_budget import FatLine, Reagent, SaponificationBudget, saponification_budget
from service.chemistry.uncertainty import EXACT, Part, normal, rectangular
from tests.reference_cases.saponification_validation import read_table

DRAWS = 200_000
LIMITS = {
    row["fat"]: (float(row["saponification_low"]) / 1e3, float(row["saponification_high"]) / 1e3)
    for row in read_table("saponification_limits.csv")
} | {"shea": (0.160, 0.195)}

Draws = npt.NDArray[np.float64]


def line(fat: str, mass: float) -> FatLine:
    low, high = LIMITS[fat]
    return FatLine(fat, mass, (low + high) / 2, rectangular((high - low) / 2))


def certified(fat: str, mass: float, value: float, standard_uncertainty: float) -> FatLine:
    return FatLine(fat, mass, value, normal(standard_uncertainty))


class Case(NamedTuple):
    fats: list[FatLine]
    superfat: float = 0.05
    purity: float = 1.0
    purity_part: Part = EXACT
    acids: tuple[Reagent, ...] = ()
    scale_division: float = 0.0
    molar_mass: float = NAOH


CASES = {
    "olive alone: one rectangle": Case([line("olive", 0.5)]),
    "shea alone: a very wide rectangle": Case([line("shea", 0.5)]),
    "olive on three lines": Case([line("olive", 0.2), line("olive", 0.2), line("olive", 0.1)]),
    "olive, coconut, palm": Case([line("olive", 0.4), line("coconut", 0.3), line("palm", 0.3)]),
    "two alike": Case([line("palm", 0.5), line("rice-bran", 0.5)]),
    "one wide and one a third as wide, the least favourable": Case([line("rice-bran", 0.5), line("olive", 0.28)]),
    "eight fats": Case(
        [line(fat, 0.1) for fat in LIMITS if fat in {"olive", "coconut", "palm", "shea", "soybean", "sesame", "walnut"}]
        + [line("mustard", 0.05)]
    ),
    "beads of 98 +-1 % on a kitchen scale": Case(
        [line("olive", 0.35), line("coconut", 0.15)], 0.05, 0.98, rectangular(0.01), (), 0.001
    ),
    "potash flakes of 90 +-2 % and certified fats": Case(
        [certified("olive", 0.5, 0.1905, 0.0004), certified("coconut", 0.2, 0.2565, 0.0006)],
        0.03,
        0.90,
        rectangular(0.02),
        (),
        0.001,
        KOH,
    ),
    "titrated stock and certified fats": Case(
        [certified("olive", 0.5, 0.1905, 0.0004), certified("coconut", 0.2, 0.2565, 0.0006)],
        0.05,
        0.500,
        normal(0.002),
        (),
        0.0001,
    ),
    "lemon juice of 4 to 6 % citric acid": Case(
        [line("olive", 0.4), line("coconut", 0.1)],
        0.05,
        acids=(Reagent("juice", 0.15, 0.05 * 3 / 0.192123, rectangular(0.01 * 3 / 0.192123)),),
    ),
    "a small batch on a coarse scale": Case([certified("olive", 0.060, 0.1905, 0.0004)], 0.05, scale_division=0.001),
}


def ours(case: Case) -> tuple[SaponificationBudget, Reagent]:
    need = sum(hydroxide_amount(fat.mass, fat.saponification_value) for fat in case.fats)
    acid = sum(reagent.mass * reagent.content for reagent in case.acids)
    content = case.purity / case.molar_mass
    part = Part(*(u / case.molar_mass for u in case.purity_part))
    alkali = Reagent("alkali", alkali_amount(need, case.superfat, acid) / content, content, part)
    return saponification_budget(case.fats, [alkali], case.acids, case.scale_division), alkali


def draw(random: np.random.Generator, mean: float, part: Part) -> Draws:
    if part.rectangular_half_width:
        return random.uniform(mean - part.rectangular_half_width, mean + part.rectangular_half_width, DRAWS)
    return random.normal(mean, part.standard_uncertainty, DRAWS)


def weighed(random: np.random.Generator, mass: float, division: float) -> Draws:
    """Net masses that a scale shows as this one: tare and gross each rounded to a step."""
    return mass + division * (random.uniform(-0.5, 0.5, DRAWS) - random.uniform(-0.5, 0.5, DRAWS))


def amount(random: np.random.Generator, reagents: tuple[Reagent, ...], division: float) -> Draws:
    total = np.zeros(DRAWS)
    for reagent in reagents:
        content = draw(random, reagent.content, reagent.content_part)
        total += weighed(random, reagent.mass, division) * content
    return total


def true_superfats(case: Case, alkali: Reagent, seed: int) -> tuple[Draws, Draws]:
    """(need for alkali [mol], superfat) of batches as they may really be."""
    random = np.random.default_rng(seed)
    values: dict[Hashable, Draws] = {}
    need = np.zeros(DRAWS)
    for fat in case.fats:
        if fat.fat not in values:
            values[fat.fat] = draw(random, fat.saponification_value, fat.saponification_value_part)
        need += weighed(random, fat.mass, case.scale_division) * values[fat.fat] / KOH
    delivered = amount(random, (alkali,), case.scale_division)
    return need, 1 - (delivered - amount(random, case.acids, case.scale_division)) / need


@pytest.mark.parametrize("name", CASES)
def test_interval_of_the_superfat_covers_95_percent(name: str) -> None:
    budget, alkali = ours(CASES[name])
    _, superfats = true_superfats(CASES[name], alkali, seed=2008)
    low, high = budget.superfat_interval
    assert low < budget.superfat < high
    assert 0.94 <= np.mean((superfats >= low) & (superfats <= high)) <= 0.97


@pytest.mark.parametrize("name", CASES)
def test_either_side_of_the_interval_leaves_as_much(name: str) -> None:
    # The map from the ratio of need and alkali to the superfat bends; were it drawn straight, one side would suffer.
    budget, alkali = ours(CASES[name])
    _, superfats = true_superfats(CASES[name], alkali, seed=101)
    low, high = budget.superfat_interval
    assert np.mean(superfats < low) == pytest.approx(np.mean(superfats > high), abs=0.003)


@pytest.mark.parametrize("name", CASES)
def test_interval_of_the_need_covers_95_percent(name: str) -> None:
    budget, alkali = ours(CASES[name])
    needs, _ = true_superfats(CASES[name], alkali, seed=1995)
    low, high = budget.need_interval
    assert 0.94 <= np.mean((needs >= low) & (needs <= high)) <= 0.97


@pytest.mark.parametrize("superfat", [0.0, 0.01, 0.02, 0.03, 0.05])
@pytest.mark.parametrize("name", CASES)
def test_chance_of_free_alkali_is_the_share_of_batches_that_have_it(name: str, superfat: float) -> None:
    case = CASES[name]._replace(superfat=superfat)
    budget, alkali = ours(case)
    _, superfats = true_superfats(case, alkali, seed=314)
    # Our rest is a normal. Where it is a second rectangle in truth, the two distribution functions are 0.0099 apart at
    # most (arithmetic, at one standard uncertainty for two alike); beyond that, three standard errors of the draws.
    allowed = 0.0099 + 3 * 0.5 / DRAWS**0.5
    assert budget.free_alkali_probability == pytest.approx(np.mean(superfats < 0), abs=allowed)


def test_two_standard_uncertainties_would_cover_all_of_a_rectangle() -> None:
    # Why the coverage factor follows the widest rectangle: k = 2 claims 95 % and covers 100 %.
    budget, alkali = ours(CASES["olive alone: one rectangle"])
    needs, _ = true_superfats(CASES["olive alone: one rectangle"], alkali, seed=7)
    reach = 2 * budget.need_combined.standard_uncertainty
    assert np.mean(abs(needs - budget.need) <= reach) == 1.0
