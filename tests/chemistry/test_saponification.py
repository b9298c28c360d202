"""Stoichiometry of saponification."""

import math

import pytest

from service.chemistry import saponification
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import KOH, NAOH, WATER
from service.chemistry.saponification import (
    acid_amount,
    alkali_amount,
    alkali_masses,
    excess_fat,
    glycerol_mass,
    hydroxide_amount,
    koh_demand,
    mole_shares_from_mass_shares,
    neutralisation_water_mass,
    superfat,
)


def test_fat_needs_its_saponification_value_in_koh() -> None:
    assert koh_demand(2.0, 0.190) == pytest.approx(0.380)
    assert hydroxide_amount(2.0, 0.190) == pytest.approx(0.380 / KOH)


def test_any_split_of_the_alkali_brings_the_same_hydroxide() -> None:
    masses = alkali_masses(3.0, {"NaOH": 0.25, "KOH": 0.75})
    assert masses == pytest.approx({"NaOH": 0.75 * NAOH, "KOH": 2.25 * KOH})
    assert masses["NaOH"] / NAOH + masses["KOH"] / KOH == pytest.approx(3.0)


def test_mass_shares_become_mole_shares_and_back() -> None:
    mole_shares = mole_shares_from_mass_shares({"NaOH": 0.5, "KOH": 0.5})
    # Equal masses: the ratio of moles is that of the molar masses, upside down.
    assert mole_shares["NaOH"] / mole_shares["KOH"] == pytest.approx(KOH / NAOH)
    assert sum(mole_shares.values()) == pytest.approx(1.0)
    masses = alkali_masses(1.0, mole_shares)
    assert masses["NaOH"] == pytest.approx(masses["KOH"])


def test_formula_for_mixed_alkali_by_mass_gives_the_same_total() -> None:
    # m = m(fat) SV / M(KOH) / (k / M(KOH) + (1 - k) / M(NaOH)), k the mass share of KOH.
    need = hydroxide_amount(1.0, 0.2)
    masses = alkali_masses(need, mole_shares_from_mass_shares({"KOH": 0.7, "NaOH": 0.3}))
    assert sum(masses.values()) == pytest.approx(0.2 / KOH / (0.7 / KOH + 0.3 / NAOH))


@pytest.mark.parametrize("function", [lambda s: alkali_masses(1.0, s), mole_shares_from_mass_shares])
@pytest.mark.parametrize(
    "shares",
    [{"NaOH": 0.5, "KOH": 0.4}, {"NaOH": 1.2, "KOH": -0.2}, {"NaOH": math.nan}, {}, {"NaOH": 0.6, "KOH": 0.6}],
)
def test_shares_that_do_not_make_a_whole_are_refused(function: object, shares: dict[str, float]) -> None:
    assert callable(function)
    with pytest.raises(OutOfRange):
        function(shares)


def test_acid_takes_one_hydroxide_for_each_proton() -> None:
    assert acid_amount(0.210138, 1.0, 3, 0.210138) == pytest.approx(3.0)
    assert acid_amount(0.100, 0.88, 1, 0.090078) == pytest.approx(0.088 / 0.090078)


@pytest.mark.parametrize(
    "arguments",
    [(-1.0, 1.0, 1, 0.1), (1.0, 1.01, 1, 0.1), (1.0, -0.01, 1, 0.1), (1.0, 1.0, 0, 0.1), (1.0, 1.0, 1, 0.0)],
)
def test_impossible_acid_is_refused(arguments: tuple[float, float, int, float]) -> None:
    with pytest.raises(OutOfRange):
        acid_amount(*arguments)


def test_superfat_is_the_unmet_share_of_the_need() -> None:
    assert superfat(alkali=9.5, acid=0.0, ester_amount=10.0) == pytest.approx(0.05)
    assert superfat(alkali=10.5, acid=0.0, ester_amount=10.0) == pytest.approx(-0.05)


def test_acid_is_met_in_full_and_raises_the_superfat_where_it_was_not_counted() -> None:
    assert superfat(alkali_amount(10.0, 0.05, acid=0.4), 0.4, 10.0) == pytest.approx(0.05)
    assert superfat(alkali_amount(10.0, 0.05), 0.4, 10.0) == pytest.approx(0.09)
    assert alkali_amount(10.0, 0.05, acid=0.4) == pytest.approx(9.9)


def test_acid_beyond_the_alkali_leaves_all_fat_and_more() -> None:
    assert superfat(alkali=1.0, acid=2.0, ester_amount=10.0) == pytest.approx(1.1)


def test_alkali_discount_and_excess_fat_differ_by_about_the_square() -> None:
    discount = 0.05
    assert excess_fat(discount) == pytest.approx(0.05 / 0.95)
    assert excess_fat(discount) - discount == pytest.approx(discount**2, rel=0.06)
    # One kilogram that balances, plus the excess, gets alkali for one kilogram only.
    fat = 1.0 + excess_fat(discount)
    assert superfat(hydroxide_amount(1.0, 0.19), 0.0, hydroxide_amount(fat, 0.19)) == pytest.approx(discount)


def test_three_ester_groups_give_one_glycerol() -> None:
    # 0.547150 g glycerol per g KOH bound as ester; ester value 190 gives 10.40 % (arithmetic on the atomic weights).
    assert glycerol_mass(hydroxide_amount(1.0, 0.190)) == pytest.approx(0.1040, abs=5e-5)
    assert glycerol_mass(1.0 / KOH) == pytest.approx(0.547150, abs=5e-7)


def test_each_neutralised_proton_gives_one_water() -> None:
    assert neutralisation_water_mass(2.5) == pytest.approx(2.5 * WATER)


@pytest.mark.parametrize("mass", [-1e-9, math.nan, math.inf])
def test_impossible_mass_is_refused(mass: float) -> None:
    with pytest.raises(OutOfRange, match="mass"):
        koh_demand(mass, 0.19)


@pytest.mark.parametrize("value", [-1e-9, 0.9501, 190.0, math.nan])
def test_saponification_value_in_mg_per_g_or_beyond_acetic_acid_is_refused(value: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        hydroxide_amount(1.0, value)
    assert caught.value.quantity == "saponification_value"
    assert caught.value.high == saponification.HIGHEST_SAPONIFICATION_VALUE


@pytest.mark.parametrize("wanted", [-1.0, 0.991, 5.0, math.nan])
def test_superfat_beyond_a_share_is_refused(wanted: float) -> None:
    with pytest.raises(OutOfRange):
        alkali_amount(1.0, wanted)
    with pytest.raises(OutOfRange):
        excess_fat(wanted)


@pytest.mark.parametrize("wanted", [-1.0, 0.991])
@pytest.mark.parametrize("asked", [excess_fat, lambda wanted: alkali_amount(1.0, wanted)])
def test_superfat_beyond_a_share_is_told_the_same_range_on_both_sides(asked: object, wanted: float) -> None:
    assert callable(asked)
    with pytest.raises(OutOfRange) as caught:
        asked(wanted)
    assert caught.value.low == -caught.value.high
    assert 0.0 < caught.value.high < 1.0


@pytest.mark.parametrize("amounts", [(-1.0, 0.0, 0.0), (math.inf, 0.0, 0.0), (1.0, 0.0, -1.0), (1.0, 0.0, math.nan)])
def test_alkali_for_impossible_amounts_is_refused(amounts: tuple[float, float, float]) -> None:
    with pytest.raises(OutOfRange, match=r"amount|acid"):
        alkali_amount(*amounts)


@pytest.mark.parametrize("amounts", [(-1.0, 0.0, 1.0), (1.0, -1.0, 1.0), (1.0, 0.0, 0.0), (1.0, 0.0, math.inf)])
def test_superfat_of_impossible_amounts_is_refused(amounts: tuple[float, float, float]) -> None:
    with pytest.raises(OutOfRange):
        superfat(*amounts)


@pytest.mark.parametrize(
    "function", [glycerol_mass, neutralisation_water_mass, lambda amount: alkali_masses(amount, {"KOH": 1.0})]
)
def test_negative_amount_is_refused(function: object) -> None:
    assert callable(function)
    with pytest.raises(OutOfRange):
        function(-1e-9)


def test_superfat_does_not_depend_on_the_size_of_the_batch() -> None:
    assert superfat(alkali=0.095e-6, acid=0.0, ester_amount=0.1e-6) == pytest.approx(0.05)


def test_superfat_may_reach_its_limits() -> None:
    assert alkali_amount(1.0, saponification.HIGHEST_SUPERFAT) == pytest.approx(0.01)
    assert alkali_amount(1.0, -saponification.HIGHEST_SUPERFAT) == pytest.approx(1.99)
    assert excess_fat(saponification.HIGHEST_SUPERFAT) == pytest.approx(99.0)
    assert excess_fat(-saponification.HIGHEST_SUPERFAT) == pytest.approx(-0.99 / 1.99)


def test_refusal_tells_what_would_be_accepted() -> None:
    with pytest.raises(OutOfRange) as caught:
        acid_amount(1.0, 1.0, 0, 0.1)
    assert (caught.value.quantity, caught.value.low) == ("protons", 1)
    with pytest.raises(OutOfRange) as caught:
        alkali_masses(1.0, {"NaOH": 0.5})
    assert (caught.value.value, caught.value.low, caught.value.high) == (0.5, 1.0, 1.0)
