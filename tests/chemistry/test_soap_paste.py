"""What a saponified batch consists of, and the water that thins it."""

import math
from typing import Final

import pytest
from chemicals.elements import molecular_weight
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import KOH, NAOH, Alkali
from service.chemistry.soap_paste import saponified, water_to_thin
from tests.chemistry.refusing import refused

ABRIDGED: Final = 6.2e-5
"""Relative uncertainty of the molar mass of water by abridged weights, H 1.0080(2) and O 15.999(1) (CIAAW 2021);
that of the heavier molecules here is less, and the package has weights of other digits."""


def molar_mass(**atoms: int) -> float:
    """Molar mass by the atomic weights of the package chemicals, independent of ours [kg/mol]."""
    return float(molecular_weight(atoms)) / 1000


@pytest.mark.parametrize(
    ("fat", "salt"),
    [
        ({"C": 51, "H": 98, "O": 6}, {"C": 16, "H": 31, "O": 2, "K": 1}),  # tripalmitin, potassium palmitate
        ({"C": 57, "H": 104, "O": 6}, {"C": 18, "H": 33, "O": 2, "K": 1}),  # triolein, potassium oleate
    ],
)
def test_a_triglyceride_gives_three_salts_and_a_glycerol(fat: dict[str, int], salt: dict[str, int]) -> None:
    made = saponified(molar_mass(**fat), 3.0, 0.0, {"KOH": 3.0})
    assert made.soap == pytest.approx(3 * molar_mass(**salt), rel=ABRIDGED)
    assert made.glycerol == pytest.approx(molar_mass(C=3, H=8, O=3), rel=ABRIDGED)
    assert (made.fat, made.alkali, made.water) == (0.0, 0.0, 0.0)


def test_a_free_acid_gives_its_salt_and_water() -> None:
    made = saponified(molar_mass(C=18, H=36, O=2), 0.0, 1.0, {"NaOH": 1.0})  # stearic acid, sodium stearate
    assert made.soap == pytest.approx(molar_mass(C=18, H=35, O=2, Na=1), rel=ABRIDGED)
    assert made.water == pytest.approx(molar_mass(H=2, O=1), rel=ABRIDGED)
    assert made.glycerol == 0.0


@given(st.floats(0.1, 10), st.floats(0.01, 10), st.floats(0, 1), st.floats(0, 10), st.floats(0.01, 10))
def test_nothing_is_lost(fat: float, ester: float, acid: float, soda: float, potash: float) -> None:
    made = saponified(fat, ester, acid, {"NaOH": soda, "KOH": potash})
    assert sum(made) == pytest.approx(fat + soda * NAOH + potash * KOH, rel=1e-12)
    assert min(made.fat, made.alkali) == pytest.approx(0.0, abs=1e-12)


def test_fat_without_alkali_stays_fat() -> None:
    made = saponified(1.0, 4.0, 0.0, {"KOH": 3.0})
    assert made.fat == pytest.approx(0.25)
    assert made.alkali == 0.0


@given(st.floats(1e-9, 1e8), st.floats(0.01, 1), st.floats(0.01, 1))
def test_water_makes_the_wanted_share(mass: float, share: float, wanted: float) -> None:
    added = water_to_thin(mass, share, wanted)
    assert mass * share / (mass + added) == pytest.approx(wanted, rel=1e-12)
    assert (added < 0) == (wanted > share)


@pytest.mark.parametrize("args", [(0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (1.0, -1.0, 2.0), (math.nan, 1.0, 0.0)])
def test_what_makes_no_soap_is_out_of_range(args: tuple[float, float, float]) -> None:
    with pytest.raises(OutOfRange):
        saponified(*args, {"KOH": 1.0})


@pytest.mark.parametrize("alkalis", [{}, {"KOH": 0.0}, {"KOH": -1.0, "NaOH": 2.0}, {"KOH": math.inf}])
def test_alkali_that_cannot_be_is_out_of_range(alkalis: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        saponified(1.0, 3.0, 0.0, alkalis)  # type: ignore[arg-type]


@pytest.mark.parametrize("args", [(0.0, 0.5, 0.2), (1.0, 0.0, 0.2), (1.0, 0.5, 0.0), (1.0, 1.1, 0.2), (1.0, 0.5, 1.1)])
def test_shares_beyond_the_whole_are_out_of_range(args: tuple[float, float, float]) -> None:
    with pytest.raises(OutOfRange):
        water_to_thin(*args)


def test_the_least_of_everything_is_in_range_and_nought_is_not() -> None:
    """A mass and a share are above 0: the smallest number there is is the limit that is told."""
    smallest = math.ulp(0.0)
    assert sum(saponified(1e-300, 1e-300, 0.0, {"KOH": 1e-300})) == pytest.approx(1e-300, rel=0.1)
    for ask in (
        lambda mass: saponified(mass, 1.0, 0.0, {"KOH": 1.0}),
        lambda need: saponified(1.0, need, 0.0, {"KOH": 1.0}),
        lambda alkali: saponified(1.0, 1.0, 0.0, {"KOH": alkali}),
        lambda mass: water_to_thin(mass, 0.5, 0.2),
        lambda share: water_to_thin(1.0, share, 0.2),
        lambda wanted: water_to_thin(1.0, 0.5, wanted),
    ):
        with pytest.raises(OutOfRange) as caught:
            ask(0.0)
        assert caught.value.low == smallest
    assert water_to_thin(1e-300, 1e-300, 1.0) == pytest.approx(-1e-300)
    assert water_to_thin(1.0, 1.0, 1.0) == 0.0
    assert water_to_thin(1e-300, 1e-17, 1e-18) == pytest.approx(9e-300)


@pytest.mark.parametrize(
    ("args", "alkalis", "quantity"),
    [
        ((1.0, -1e-9, 2.0), {"KOH": 1.0}, "ester_amount"),
        ((1.0, 2.0, -1e-9), {"KOH": 1.0}, "acid_amount"),
        ((1.0, 2.0, 0.0), {"KOH": 1.0, "NaOH": -1e-9}, "NaOH"),
        ((1.0, 2.0, 0.0), {"KOH": math.inf}, "KOH"),
        ((1.0, math.inf, 0.0), {"KOH": 1.0}, "ester_amount"),
    ],
)
def test_an_amount_below_nought_or_without_end_is_named(
    args: tuple[float, float, float], alkalis: dict[Alkali, float], quantity: str
) -> None:
    with refused(quantity, 0.0, math.inf):
        saponified(*args, alkalis)


@pytest.mark.parametrize(
    ("args", "quantity"),
    [
        ((-1.0, 0.5, 0.2), "mass"),
        ((math.inf, 0.5, 0.2), "mass"),
        ((1.0, 1.05, 0.2), "soap_share"),
        ((1.0, -0.1, 0.2), "soap_share"),
        ((1.0, 0.5, 1.05), "wanted_share"),
        ((1.0, 0.5, -0.1), "wanted_share"),
    ],
)
def test_a_share_is_at_most_the_whole_and_what_is_not_is_named(args: tuple[float, float, float], quantity: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        water_to_thin(*args)
    assert caught.value.quantity == quantity
    assert caught.value.high == (math.inf if quantity == "mass" else 1.0)
