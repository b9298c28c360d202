"""Where a budget says nothing any more, and what holds of batches of every size."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import KOH
from service.chemistry.saponification import alkali_amount, hydroxide_amount
from service.chemistry.saponification_budget import (
    FatLine,
    Reagent,
    SaponificationBudget,
    reagent_amount,
    saponification_budget,
)
from service.chemistry.uncertainty import EXACT, normal, rectangular
from tests.chemistry.refusing import refused

SIZES = [1e-3, 1.0, 1e4]
"""Masses of fat [kg]: a trial in a cup, a batch, a tank."""


def batch(mass: float, of_value: float, of_alkali: float, wanted: float = 0.05) -> SaponificationBudget:
    """Fat of 190 mg/g and an alkali, each with a normal relative uncertainty."""
    fat = FatLine("oil", mass, 0.19, normal(of_value * 0.19) if of_value else EXACT)
    amount = alkali_amount(hydroxide_amount(mass, 0.19), wanted)
    alkali = Reagent("lye", amount / 12.5, 12.5, normal(of_alkali * 12.5) if of_alkali else EXACT)
    return saponification_budget([fat], [alkali])


@pytest.mark.parametrize("mass", SIZES)
def test_alkali_must_be_known_to_half_of_itself_and_no_more(mass: float) -> None:
    """The interval of a normal is 1.96 standard uncertainties, and a half is where the text says that it ends."""
    low, high = batch(mass, 0.0, 0.495 / 1.96).superfat_interval
    assert (low, high) == pytest.approx((1 - 0.95 * 1.495, 1 - 0.95 * 0.505), abs=1e-4)
    with pytest.raises(OutOfRange, match="no better than half"):
        batch(mass, 0.0, 0.505 / 1.96)


@pytest.mark.parametrize("mass", SIZES)
@pytest.mark.parametrize(("of_value", "of_alkali"), [(0.43, 0.25), (0.50, 0.05), (0.455, 0.20)])
def test_a_need_that_stays_above_nought_is_reckoned_with(mass: float, of_value: float, of_alkali: float) -> None:
    assert 1.96 * math.hypot(of_value, of_alkali) < 1.0
    low, high = batch(mass, of_value, of_alkali).superfat_interval
    assert low < 0.05 < high < 1.0


@pytest.mark.parametrize("mass", SIZES)
@pytest.mark.parametrize(("of_value", "of_alkali"), [(0.455, 0.25), (0.52, 0.0), (0.47, 0.22)])
def test_a_need_that_could_be_nought_beside_its_alkali_is_refused(
    mass: float, of_value: float, of_alkali: float
) -> None:
    """The half-width of need less alkali over the share that it meets, which are alike in size."""
    assert 1.96 * math.hypot(of_value, of_alkali) > 1.0
    with pytest.raises(OutOfRange, match="could be nought") as caught:
        batch(mass, of_value, of_alkali)
    assert caught.value.value <= 0.0
    assert (caught.value.quantity, caught.value.low, caught.value.high) == ("need", 0.0, math.inf)


@given(st.floats(1e-3, 1e3), st.floats(0.0, 0.1), st.floats(0.001, 0.1), st.floats(-0.05, 0.2))
def test_a_larger_batch_has_the_same_superfat_and_in_proportion_the_rest(
    scale: float, of_value: float, of_alkali: float, wanted: float
) -> None:
    one, many = batch(1.0, of_value, of_alkali, wanted), batch(scale, of_value, of_alkali, wanted)
    assert many.superfat_interval == pytest.approx(one.superfat_interval, rel=1e-9, abs=1e-12)
    assert many.free_alkali_probability == pytest.approx(one.free_alkali_probability, abs=1e-9)
    for told in ("need_interval", "alkali_needed", "excess_interval"):
        due = [scale * end for end in getattr(one, told)]
        assert getattr(many, told) == pytest.approx(due, rel=1e-9, abs=1e-9 * scale)


def test_excess_lies_between_what_the_hungriest_and_the_frugal_fat_leave() -> None:
    """By hand: 500 g of 184 to 196 mg/g, its inner 95 %, take that much less or more than the alkali."""
    fat = FatLine("olive", 0.5, 0.190, rectangular(0.006))
    need = 0.5 * 0.190 / KOH
    ours = saponification_budget([fat], [Reagent("lye", 1.0, need * 1.01)])
    assert ours.excess == pytest.approx(0.01 * need)
    assert ours.excess_interval == pytest.approx([1.01 * need - 0.5 * sv / KOH for sv in (0.1957, 0.1843)])
    assert 0.5 < ours.free_alkali_probability < 1.0


@pytest.mark.parametrize("wanted", [-1e-10, 1e-10, 3e-11])
def test_a_difference_beyond_rounding_decides_where_all_is_exact(wanted: float) -> None:
    ours = batch(1.0, 0.0, 0.0, wanted)
    assert ours.superfat == pytest.approx(wanted, rel=1e-3)
    assert ours.excess == pytest.approx(-wanted * ours.need, rel=1e-3)
    assert ours.free_alkali_probability == (1.0 if wanted < 0 else 0.0)


def test_the_limits_of_a_superfat_are_solved_for_to_the_last_digits() -> None:
    """At the limits, need and alkali over the share that is met differ by just half the interval of that difference."""
    ours = batch(1.0, 0.05, 0.1)
    for superfat, side in zip(ours.superfat_interval, (-1.0, 1.0), strict=True):
        met = 1.0 - superfat
        apart = ours.need - ours.alkali / met
        assert apart == pytest.approx(-side * ours.balance_half_width(met), rel=1e-9)


def test_alkali_that_acids_take_to_the_last_is_refused_as_such() -> None:
    fat = FatLine("oil", 1.0, 0.19)
    for acid in (1.0, 2.0):
        with pytest.raises(OutOfRange, match="acids take all") as caught:
            saponification_budget([fat], [Reagent("lye", 1.0, 1.0)], [Reagent("acid", 1.0, acid)])
        assert (caught.value.quantity, caught.value.low) == ("alkali", acid)


@pytest.mark.parametrize(
    ("reagent", "quantity"),
    [
        (Reagent("x", -5e-324, 1.0), "mass"),
        (Reagent("x", 1.0, -5e-324), "content"),
        (Reagent("x", 1.0, math.inf), "content"),
    ],
)
def test_an_impossible_reagent_is_named(reagent: Reagent, quantity: str) -> None:
    with refused(quantity, 0.0, math.inf):
        reagent_amount([reagent])


def test_of_a_lye_weighed_twice_the_strength_errs_once_and_the_scale_twice() -> None:
    """Relative to one weighing of all: the content counts in full, the steps by the root of two over two."""
    lye = Reagent("lye", 0.2, 12.5, normal(0.1), normal(0.001))
    amount, combined = reagent_amount([lye, lye])
    assert amount == pytest.approx(5.0)
    assert combined.standard_uncertainty == pytest.approx(math.hypot(0.4 * 0.1, math.sqrt(2.0) * 12.5 * 0.001))
