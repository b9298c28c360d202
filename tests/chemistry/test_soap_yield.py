"""What a batch becomes: against molar masses of the chemicals package, and what holds of every batch."""

import math

import pytest
from chemicals.elements import molecular_weight, simple_formula_parser
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.soap_yield import Taker, batch_yield
from tests.chemistry.refusing import refused

ABRIDGED = 5e-5
"""Half a unit in the last digit of an abridged standard atomic weight, relative (hydrogen: 1.008)."""


def grams(formula: str) -> float:
    """Molar mass by the chemicals package (CIAAW weights of its own table) [g/mol]."""
    return float(molecular_weight(simple_formula_parser(formula)))


TRISTEARIN, TRILAURIN, STEARIC = grams("C57H110O6"), grams("C39H74O6"), grams("C18H36O2")
GLYCEROL, WATER = grams("C3H8O3"), grams("H2O")


@pytest.mark.parametrize(
    ("fat", "soap", "alkali"),
    [("C57H110O6", "C18H35NaO2", "NaOH"), ("C39H74O6", "C12H23KO2", "KOH"), ("C39H74O6", "C12H23NaO2", "NaOH")],
)
def test_a_mole_of_a_triglyceride_gives_three_of_soap_and_one_of_glycerol(fat: str, soap: str, alkali: str) -> None:
    """C57H110O6 + 3 NaOH = 3 C18H35NaO2 + C3H8O3; the weights here are abridged, those there are not."""
    molar_mass = molar_masses.NAOH if alkali == "NaOH" else molar_masses.KOH
    found = batch_yield([Taker(grams(fat) / 1000, 3.0, "triglyceride")], 3.0, molar_mass)
    assert found.fats[0].soap * 1000 == pytest.approx(3 * grams(soap), rel=ABRIDGED)
    assert found.glycerol * 1000 == pytest.approx(GLYCEROL, rel=ABRIDGED)
    assert found.alkali_left == pytest.approx(0.0, abs=1e-12)


def test_a_mole_of_a_fatty_acid_gives_one_of_soap_and_one_of_water() -> None:
    """C18H36O2 + KOH = C18H35KO2 + H2O."""
    found = batch_yield([Taker(STEARIC / 1000, 1.0, "acid")], 1.0, molar_masses.KOH)
    assert found.fats[0].soap * 1000 == pytest.approx(grams("C18H35KO2"), rel=ABRIDGED)
    assert found.water * 1000 == pytest.approx(WATER, rel=ABRIDGED)
    assert found.glycerol == 0


def test_acids_take_alkali_first_and_the_superfat_is_shared_by_the_esters() -> None:
    """By hand: 4 mol for 1 mol of acid in the water, 1 mol of stearic acid and 3 + 1 mol of esters: half of those."""
    fats = [
        Taker(STEARIC / 1000, 1.0, "acid"),
        Taker(TRISTEARIN / 1000, 3.0, "triglyceride"),
        Taker(0.5, 1.0, "other-ester"),
    ]
    found = batch_yield(fats, 4.0, molar_masses.NAOH, acid=1.0)
    assert [one.fat for one in found.fats] == pytest.approx([0, TRISTEARIN / 2000, 0.25])
    assert found.water * 1000 == pytest.approx(2 * WATER, rel=ABRIDGED)
    assert found.glycerol * 1000 == pytest.approx(GLYCEROL / 2, rel=ABRIDGED)


@given(
    fats=st.lists(
        st.builds(
            Taker,
            mass=st.floats(0.1, 10.0),
            need=st.floats(0.3, 5.0),
            groups=st.sampled_from(["triglyceride", "acid", "other-ester"]),
        ),
        max_size=6,
    ),
    alkali=st.floats(0.0, 40.0),
    acid=st.floats(0.0, 5.0),
)
def test_no_mass_comes_or_goes(fats: list[Taker], alkali: float, acid: float) -> None:
    found = batch_yield(fats, alkali, molar_masses.NAOH, acid)
    taken = alkali - found.alkali_left - min(acid, alkali)
    before = sum(one.mass for one in fats) + taken * molar_masses.NAOH
    after = sum(one.soap + one.fat + one.glycerol + one.water for one in found.fats)
    assert after == pytest.approx(before, rel=1e-9, abs=1e-12)
    assert 0 <= found.alkali_left <= alkali
    assert all(one.fat >= 0 for one in found.fats)


@pytest.mark.parametrize(
    ("fats", "alkali", "molar_mass", "acid"),
    [
        ([Taker(-1.0, 1.0, "acid")], 1.0, molar_masses.NAOH, 0.0),
        ([Taker(1.0, -1.0, "acid")], 1.0, molar_masses.NAOH, 0.0),
        ([], -1.0, molar_masses.NAOH, 0.0),
        ([], float("nan"), molar_masses.NAOH, 0.0),
        ([], 1.0, 0.03, 0.0),
        ([], 1.0, molar_masses.NAOH, float("inf")),
    ],
)
def test_what_no_batch_has_is_refused(fats: list[Taker], alkali: float, molar_mass: float, acid: float) -> None:
    with pytest.raises(OutOfRange):
        batch_yield(fats, alkali, molar_mass, acid)


@pytest.mark.parametrize(
    ("fats", "alkali", "molar_mass", "acid", "quantity"),
    [
        ([Taker(-1e-9, 1.0, "acid")], 1.0, molar_masses.NAOH, 0.0, "mass"),
        ([Taker(math.inf, 1.0, "acid")], 1.0, molar_masses.NAOH, 0.0, "mass"),
        ([Taker(1.0, -1e-9, "acid")], 1.0, molar_masses.NAOH, 0.0, "need"),
        ([Taker(1.0, math.inf, "acid")], 1.0, molar_masses.NAOH, 0.0, "need"),
        ([], -1e-9, molar_masses.NAOH, 0.0, "alkali"),
        ([], math.inf, molar_masses.NAOH, 0.0, "alkali"),
        ([], 1.0, molar_masses.NAOH, -1e-9, "acid"),
        ([], 1.0, molar_masses.NAOH, math.nan, "acid"),
    ],
)
def test_what_no_batch_has_is_named(
    fats: list[Taker], alkali: float, molar_mass: float, acid: float, quantity: str
) -> None:
    with refused(quantity, 0.0, math.inf):
        batch_yield(fats, alkali, molar_mass, acid)


@pytest.mark.parametrize("molar_mass", [0.0398, 0.0563, math.nan])
def test_hydroxides_weigh_from_that_of_sodium_to_that_of_potassium(molar_mass: float) -> None:
    """40.0 and 56.1 g/mol; what is told as the limits is within them, and it is as near as the documented digits."""
    with pytest.raises(OutOfRange) as caught:
        batch_yield([], 1.0, molar_mass)
    assert caught.value.quantity == "mean_molar_mass"
    assert (caught.value.low, caught.value.high) == pytest.approx((0.0399, 0.0562), abs=0.0001)
    for limit in (caught.value.low, caught.value.high, molar_masses.NAOH, molar_masses.KOH):
        assert batch_yield([], 1.0, limit).alkali_left == 1.0


def test_alkali_that_is_just_enough_leaves_neither_fat_nor_alkali() -> None:
    found = batch_yield([Taker(1.0, 3.5, "triglyceride"), Taker(0.1, 0.5, "acid")], 4.0, molar_masses.NAOH)
    assert [one.fat for one in found.fats] == [0.0, 0.0]
    assert found.alkali_left == 0.0
    assert batch_yield([Taker(1.0, 0.0, "other-ester")], 0.0, molar_masses.NAOH).fats[0].fat == 0.0


def test_acids_beside_the_fats_give_their_water_though_no_fat_is_there() -> None:
    """1 mol of hydroxide and 1 mol of acid groups make 1 mol of water; more acid than alkali makes no more."""
    for acid in (1.0, 5.0):
        found = batch_yield([], 1.0, molar_masses.KOH, acid)
        assert found.water * 1000 == pytest.approx(WATER, rel=ABRIDGED)
        assert found.alkali_left == 0.0
