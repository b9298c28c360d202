"""End points by the colours of indicators: what the service leaves open of them, against titrations known from inside.

Two curves are tried: Pitzer's equations, which know of the salt (pitzer_end_points.py), and the balance of charges in
pure water (charge_balance.py). With burettes as fine as one likes, and an eye that sees each colour exactly, the
interval must hold what was put in.
"""

from itertools import product
from typing import Any

import numpy as np
import pytest

from service.chemistry.end_points import ACID_LEFT, FIRST_OFF, SECOND_OFF, rooms
from service.chemistry.molar_masses import NAOH, SODIUM_CARBONATE
from service.chemistry.titration import Titration
from tests.calculations.asking import Answer, ask
from tests.reference_cases import charge_balance as balance
from tests.reference_cases.pitzer_end_points import FIRST_PH, PITZER, SECOND_PH, Past

MASS = 10.0
"""Of each sample [g]."""
WATER = 1e-4
"""[m3]"""
DRAWS = 300
BURETTES = (0.1, 0.02, 0.005)
"""[mL]"""


def titration(mixture: Past) -> Titration:
    first, second = mixture.hydroxide + mixture.carbonate, mixture.hydroxide + 2 * mixture.carbonate
    return Titration(1e3 * mixture.acid, 1e-6 * first / mixture.acid, 1e-6 * second / mixture.acid)


def answered(mixture: Past, past: tuple[float, float], burette: float) -> Answer:
    """What is answered where acid [mmol] past the end points is read beside it."""
    first = mixture.hydroxide + mixture.carbonate + past[0]
    second = mixture.hydroxide + 2 * mixture.carbonate + past[1]
    request: dict[str, Any] = {
        "alkali": "NaOH",
        "acid_molarity": {"value": mixture.acid, "unit": "mol/L"},
        "acid_temperature": "20 °C",
        "sample_mass": {"value": MASS * mixture.acid, "unit": "g"},
        "first_end_point": {"value": first / mixture.acid, "unit": "mL"},
        "second_end_point": {"value": second / mixture.acid, "unit": "mL"},
        "burette_tolerance": {"value": burette, "unit": "mL"},
        "end_point_uncertainty": {"value": 1e-5, "unit": "mL"},
    }
    return ask("stock-assay/titration", request)


def held(mixture: Past, past: tuple[float, float], burette: float) -> tuple[bool, bool, bool]:
    """Whether the intervals of hydroxide, carbonate and total alkali hold what was put in."""
    answer, mass = answered(mixture, past, burette), 1e3 * MASS * mixture.acid
    hydroxide = 1e3 * mixture.hydroxide * NAOH / mass
    carbonate = 1e3 * mixture.carbonate * SODIUM_CARBONATE / mass
    total = 1e3 * (mixture.hydroxide + 2 * mixture.carbonate) * NAOH / mass
    told = answer["strength"]["mass_fraction"], answer["carbonate_mass_fraction"], answer["total_alkali_fraction"]
    by_hydroxide, by_carbonate, by_total = (
        one["low"] <= true <= one["high"] for one, true in zip(told, (hydroxide, carbonate, total), strict=True)
    )
    return by_hydroxide, by_carbonate, by_total


def in_pure_water(mixture: Past, ph: float) -> float:
    """Acid past the end point that a pH is near, by the balance of charges [mmol]."""
    amounts = mixture.hydroxide / 1e3, mixture.carbonate / 1e3
    due = mixture.hydroxide + mixture.carbonate * (1 if ph > 6 else 2)
    return 1e3 * mixture.acid * balance.acid_for(ph, *amounts, 0.1, mixture.acid) - due


def test_the_rooms_by_hand() -> None:
    """4.7 mmol of carbonate: 0.3572 and 0.1175 mL of normal acid; without any, water and acid take 0.125 mmol/L."""
    assert (FIRST_OFF, SECOND_OFF, ACID_LEFT) == (0.076, 0.025, 0.125)
    blurred = rooms(Titration(1000.0, 17.2e-6, 21.9e-6), WATER)
    assert list(blurred) == pytest.approx([0.3572e-6, 0.1175e-6])
    clear = rooms(Titration(100.0, 25e-6, 25e-6), WATER)
    assert list(clear) == pytest.approx([0.0, 0.125 * 125e-6 / 100])


@pytest.mark.parametrize("mixture", PITZER)
def test_no_colour_turns_farther_off_than_is_left_open(mixture: Past) -> None:
    first, second = (1e6 * mixture.acid * one for one in rooms(titration(mixture), WATER))
    assert max(map(abs, mixture.first)) <= first
    assert max(map(abs, mixture.second)) <= second


def test_no_more_is_left_open_than_the_farthest_of_them_are_off() -> None:
    """Of Pitzer's mixtures one comes within a twentieth of each limit."""
    shares = [max(map(abs, one.first)) / one.carbonate for one in PITZER]
    assert 0.95 * FIRST_OFF < max(shares) <= FIRST_OFF
    left = [-min(one.second) / one.carbonate for one in PITZER]
    assert 0.95 * SECOND_OFF < max(left) <= SECOND_OFF
    clear = PITZER[0]
    water = 0.1 + (clear.hydroxide + 2 * clear.carbonate) / 1e3
    assert 0.95 * ACID_LEFT < clear.second[0] / water <= ACID_LEFT


@pytest.mark.parametrize("burette", BURETTES)
@pytest.mark.parametrize("mixture", PITZER)
def test_the_interval_holds_what_was_put_in_where_the_colours_turn_as_they_should(
    mixture: Past, burette: float
) -> None:
    by_pitzer = mixture.first[FIRST_PH.index(8.3)], mixture.second[SECOND_PH.index(4.3)]
    in_water = in_pure_water(mixture, balance.PHENOLPHTHALEIN), in_pure_water(mixture, balance.BROMOCRESOL_GREEN)
    assert all(held(mixture, by_pitzer, burette))
    assert all(held(mixture, in_water, burette))


@pytest.mark.parametrize("mixture", PITZER)
def test_in_pure_water_the_interval_holds_at_every_colour(mixture: Past) -> None:
    for first, second in product(FIRST_PH, SECOND_PH):
        past = in_pure_water(mixture, first), in_pure_water(mixture, second)
        assert all(held(mixture, past, 0.005)), (first, second)


@pytest.mark.parametrize("mixture", PITZER)
def test_beside_salt_the_interval_holds_as_often_as_it_says_for_an_eye_that_stops_anywhere(mixture: Past) -> None:
    """pH at which each colour is seen drawn between its limits, and the burette's error between its own."""
    random = np.random.default_rng(83)
    found = []
    for _ in range(DRAWS):
        first = np.interp(random.uniform(8.0, 8.6), FIRST_PH, mixture.first)
        second = np.interp(random.uniform(4.0, 4.6), SECOND_PH, mixture.second)
        off = random.uniform(-0.005, 0.005, 2) * mixture.acid
        found.append(held(mixture, (float(first + off[0]), float(second + off[1])), 0.005))
    assert np.mean(found, axis=0).min() > 0.94


def test_before_the_colours_were_left_open_a_fine_burette_missed_the_truth() -> None:
    """Half carbonate in pure water: the hydroxide is found 0.4 % too high, and a 0.005 mL burette tells it to 0.1 %."""
    mixture = PITZER[2]
    past = in_pure_water(mixture, balance.PHENOLPHTHALEIN), in_pure_water(mixture, balance.BROMOCRESOL_GREEN)
    budget = {one["input"]: one["contribution"]["value"] for one in answered(mixture, past, 0.005)["budget"]}
    burette = 1.96 * np.hypot(budget["first_end_point"], budget["second_end_point"])
    off = 1e3 * NAOH * (2 * past[0] - past[1]) / (1e3 * MASS)
    assert off > 2 * burette
