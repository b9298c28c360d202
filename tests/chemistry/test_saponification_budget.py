"""Uncertainty of the need for alkali, of the superfat, and the chance of free alkali."""

import math

import pytest

from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import KOH, NAOH
from service.chemistry.saponification import alkali_amount, hydroxide_amount
from service.chemistry.saponification_budget import (
    FatLine,
    Reagent,
    SaponificationBudget,
    need_contributions,
    reagent_amount,
    saponification_budget,
)
from service.chemistry.uncertainty import EXACT, Part, net_weighing, normal, rectangular

OLIVE = FatLine("olive", 0.5, 0.190, rectangular(0.006))
COCONUT = FatLine("coconut", 0.3, 0.2565, rectangular(0.0085))
PALM = FatLine("palm", 0.2, 0.1995, rectangular(0.0095))


def sodium(amount: float, purity: float = 1.0, purity_part: Part = EXACT) -> Reagent:
    """As much sodium hydroxide, as supplied, as is taken to bring an amount."""
    return Reagent("NaOH", amount * NAOH / purity, purity / NAOH, Part(*(u / NAOH for u in purity_part)))


def budget(*fats: FatLine, wanted: float = 0.05, scale_division: float = 0.0) -> SaponificationBudget:
    need = sum(hydroxide_amount(fat.mass, fat.saponification_value) for fat in fats)
    return saponification_budget(fats, [sodium(alkali_amount(need, wanted))], (), scale_division)


def test_one_fat_with_limits_has_the_inner_95_percent_of_them() -> None:
    ours = budget(OLIVE)
    assert ours.need_interval == pytest.approx([0.5 * sv / KOH for sv in (0.190 - 0.0057, 0.190 + 0.0057)])
    # The alkali is exact, so the ends of the superfat follow from the ends of the saponification value.
    ends = [1 - 0.95 * 0.190 / sv for sv in (0.190 - 0.0057, 0.190 + 0.0057)]
    assert ours.superfat == pytest.approx(0.05)
    assert ours.superfat_interval == pytest.approx(ends, rel=1e-12)


def test_alkali_needed_keeps_the_superfat_whatever_the_fat_is() -> None:
    assert budget(OLIVE).alkali_needed == pytest.approx(
        [0.95 * 0.5 * sv / KOH for sv in (0.190 - 0.0057, 0.190 + 0.0057)]
    )


def test_line_split_in_two_changes_nothing() -> None:
    parts = [OLIVE._replace(mass=0.2), OLIVE._replace(mass=0.3)]
    whole, split = budget(OLIVE, COCONUT), budget(*parts, COCONUT)
    for told in ("need", "need_combined", "need_interval", "alkali", "alkali_needed", "superfat", "superfat_interval"):
        assert getattr(split, told) == pytest.approx(getattr(whole, told), rel=1e-12)
    assert split.free_alkali_probability == pytest.approx(whole.free_alkali_probability, rel=1e-9)


def test_two_fats_of_equal_figures_are_surer_than_one() -> None:
    one, other = OLIVE._replace(mass=0.25), OLIVE._replace(mass=0.25, fat="other olive")
    assert budget(one, other).need_combined.standard_uncertainty == pytest.approx(
        budget(OLIVE).need_combined.standard_uncertainty / math.sqrt(2)
    )


def test_each_fat_contributes_by_its_mass_and_spread() -> None:
    need, by_fat = need_contributions([OLIVE, COCONUT, OLIVE._replace(mass=0.1)])
    assert need == pytest.approx((0.6 * 0.190 + 0.3 * 0.2565) / KOH)
    assert by_fat["olive"] == pytest.approx((0.6 * 0.006 / math.sqrt(3) / KOH, 0.6 * 0.006 / KOH))
    assert by_fat["coconut"].widest_rectangular == pytest.approx(0.3 * 0.0085 / KOH)


def test_every_line_was_weighed_by_itself() -> None:
    fat = OLIVE._replace(saponification_value_part=EXACT)
    _, once = need_contributions([fat], scale_division=0.001)
    _, twice = need_contributions([fat._replace(mass=0.2), fat._replace(mass=0.3)], scale_division=0.001)
    step = net_weighing(0.001).standard_uncertainty * 0.190 / KOH
    assert once["olive"].standard_uncertainty == pytest.approx(step)
    assert twice["olive"].standard_uncertainty == pytest.approx(step * math.sqrt(2))


def test_uncertainty_of_a_mass_counts_beside_the_scale() -> None:
    fat = OLIVE._replace(saponification_value_part=EXACT, mass_part=normal(0.003))
    _, by_fat = need_contributions([fat], scale_division=0.001)
    expected = math.hypot(0.003, 0.001 / math.sqrt(6)) * 0.190 / KOH
    assert by_fat["olive"].standard_uncertainty == pytest.approx(expected)


def test_alkali_of_one_bag_has_one_purity() -> None:
    bag = Reagent("bag", 0.1, 24.0, rectangular(0.3))
    amount, together = reagent_amount([bag, bag])
    assert amount == pytest.approx(4.8)
    assert together == pytest.approx((0.06 / math.sqrt(3), 0.06))
    _, apart = reagent_amount([bag, bag._replace(reagent="another bag")])
    assert apart.standard_uncertainty == pytest.approx(together.standard_uncertainty / math.sqrt(2))


def test_reagent_is_uncertain_by_the_step_of_the_scale_and_its_own_mass() -> None:
    _, combined = reagent_amount([Reagent("bag", 0.1, 24.0, EXACT, normal(0.002))], scale_division=0.001)
    assert combined.standard_uncertainty == pytest.approx(24.0 * math.hypot(0.002, 0.001 / math.sqrt(6)))


def test_spread_of_the_worked_budget_comes_out() -> None:
    # 1000 g oils of 190 +-6 mg/g, 5 %, stock of 50.0 +-0.5 % by titration, d = 1 g: an illustration, by the formulas
    # of JCGM 100:2008 5.1.6 for a product of relative variances.
    stock = Reagent("stock", 0.25735, 0.5 / NAOH, rectangular(0.005 / NAOH))
    fat = FatLine("oils", 1.0, 0.190, rectangular(0.006))
    ours = saponification_budget([fat], [stock], (), scale_division=0.001)
    relative = [0.006 / math.sqrt(3) / 0.19, 0.01 / math.sqrt(3), 0.001 / math.sqrt(6) / 0.25735, 0.001 / math.sqrt(6)]
    assert [round(100 * part, 3) for part in relative] == [1.823, 0.577, 0.159, 0.041]
    combined = math.hypot(*relative)
    low, high = ours.superfat_interval
    half_width = (1 / (1 - high) - 1 / (1 - low)) / 2 * (1 - ours.superfat)
    # The saponification value has 90 % of the variance: the rectangle is 0.95 of the standard uncertainty, for which
    # the quantile of rectangle and normal is 1.742. Two standard uncertainties would be a seventh too wide.
    assert 0.006 / math.sqrt(3) / 0.19 / combined == pytest.approx(0.950, abs=0.0005)
    assert half_width / combined == pytest.approx(1.742, abs=0.001)


def test_lower_end_below_nought_says_the_same_as_the_chance_of_free_alkali() -> None:
    need = hydroxide_amount(1.0, 0.19)
    for wanted in (0.020, 0.028, 0.029, 0.0295, 0.030, 0.0305, 0.031, 0.032, 0.04):
        alkali = sodium(alkali_amount(need, wanted), 0.98, rectangular(0.01))
        fats = [FatLine("oils", 1.0, 0.190, rectangular(0.005)), FatLine("none", 0.0, 0.2)]
        ours = saponification_budget(fats, [alkali], (), scale_division=0.002)
        assert (ours.superfat_interval[0] < 0) == (ours.free_alkali_probability > 0.025)


def test_chance_of_free_alkali_is_a_half_without_superfat() -> None:
    assert budget(OLIVE, COCONUT, wanted=0.0).free_alkali_probability == pytest.approx(0.5)


def test_more_superfat_means_less_chance_of_free_alkali() -> None:
    chances = [budget(OLIVE, COCONUT, PALM, wanted=wanted / 100).free_alkali_probability for wanted in range(-5, 12)]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] > 0.99
    assert chances[-1] < 1e-6


def test_wide_limits_and_a_slip_of_a_superfat_leave_free_alkali_for_sure() -> None:
    assert budget(OLIVE, wanted=-0.04).free_alkali_probability == 1.0
    assert budget(OLIVE, wanted=-0.04).superfat_interval[1] < 0


def test_acid_takes_its_alkali_first() -> None:
    need = hydroxide_amount(0.5, 0.19)
    citric = Reagent("citric acid", 0.010, 3 / 0.192123)
    acid = 0.010 * 3 / 0.192123
    ours = saponification_budget([OLIVE], [sodium(alkali_amount(need, 0.05, acid))], [citric])
    assert ours.acid == pytest.approx(acid)
    assert ours.superfat == pytest.approx(0.05)
    assert ours.superfat_interval == pytest.approx(budget(OLIVE).superfat_interval)
    unheeded = saponification_budget([OLIVE], [sodium(alkali_amount(need, 0.05))], [citric])
    assert unheeded.superfat == pytest.approx(0.05 + acid / need)
    assert unheeded.alkali == pytest.approx(0.95 * need)


def test_uncertain_acid_widens_what_alkali_is_needed() -> None:
    need = hydroxide_amount(0.5, 0.19)
    fat = OLIVE._replace(saponification_value_part=EXACT)
    juice = Reagent("juice", 0.1, 0.7, rectangular(0.1))
    ours = saponification_budget([fat], [sodium(alkali_amount(need, 0.05, 0.07))], [juice])
    assert ours.alkali_needed == pytest.approx((ours.alkali - 0.0095, ours.alkali + 0.0095))
    low, high = ours.superfat_interval
    assert (low, high) == pytest.approx((0.05 - 0.0095 / need, 0.05 + 0.0095 / need))


def test_purity_widens_the_superfat_and_not_the_need() -> None:
    need = hydroxide_amount(0.5, 0.19)
    fat = OLIVE._replace(saponification_value_part=EXACT)
    ours = saponification_budget([fat], [sodium(0.95 * need, 0.9, rectangular(0.02))])
    assert ours.need_interval == pytest.approx((need, need))
    # Alkali is delivered as 0.95 (0.881 to 0.919) / 0.9 of the need, at the inner 95 % of the purity.
    assert ours.superfat_interval == pytest.approx((1 - 0.95 * 0.919 / 0.9, 1 - 0.95 * 0.881 / 0.9))


def test_alkali_that_acids_take_whole_is_refused() -> None:
    with pytest.raises(OutOfRange, match="acids take all"):
        saponification_budget([OLIVE], [sodium(0.1)], [Reagent("acid", 1.0, 0.1)])


def test_batch_without_fat_is_refused() -> None:
    with pytest.raises(OutOfRange, match="without fat"):
        saponification_budget([], [sodium(0.1)])


def test_limits_below_nought_are_refused() -> None:
    with pytest.raises(OutOfRange, match="not negative"):
        budget(OLIVE._replace(saponification_value_part=rectangular(0.2)))


def test_need_that_could_be_nought_is_refused() -> None:
    with pytest.raises(OutOfRange, match="could be nought"):
        budget(OLIVE._replace(saponification_value_part=normal(0.15)))


def test_alkali_known_to_no_better_than_half_is_refused() -> None:
    fat = OLIVE._replace(saponification_value_part=EXACT)
    with pytest.raises(OutOfRange, match="no better than half"):
        saponification_budget([fat], [sodium(1.6, 0.9, normal(0.9 * 0.256))])


def test_poorly_known_alkali_still_has_its_exact_limits() -> None:
    need = hydroxide_amount(0.5, 0.19)
    fat = OLIVE._replace(saponification_value_part=EXACT)
    relative = 0.25
    ours = saponification_budget([fat], [sodium(0.95 * need, 0.9, normal(0.9 * relative))])
    k = 1.959964
    assert ours.superfat_interval == pytest.approx((1 - 0.95 * (1 + k * relative), 1 - 0.95 * (1 - k * relative)))


@pytest.mark.parametrize("reagent", [Reagent("x", -1.0, 24.0), Reagent("x", 1.0, -24.0), Reagent("x", math.nan, 24.0)])
def test_impossible_reagent_is_refused(reagent: Reagent) -> None:
    with pytest.raises(OutOfRange):
        reagent_amount([reagent])


def test_nothing_weighed_brings_nothing() -> None:
    assert reagent_amount([Reagent("x", 0.0, 24.0), Reagent("y", 1.0, 0.0)]) == (0.0, (0.0, 0.0))
    with pytest.raises(OutOfRange):
        reagent_amount([Reagent("x", math.inf, 24.0)])


def test_limits_down_to_nought_are_limits() -> None:
    ours = budget(OLIVE._replace(saponification_value_part=rectangular(0.190)))
    assert ours.need_interval[0] == pytest.approx(0.05 * ours.need)


def test_acid_makes_free_alkali_less_likely() -> None:
    need = hydroxide_amount(0.5, 0.19)
    alkali = sodium(alkali_amount(need, 0.0))
    acid = Reagent("citric acid", 0.010, 3 / 0.192123)
    ours = saponification_budget([OLIVE], [alkali], [acid])
    # Free alkali is where the fat takes less than alkali less acid: a rectangle, cut at that place.
    lowest, highest = (0.5 * sv / KOH for sv in (0.184, 0.196))
    expected = (need - ours.acid - lowest) / (highest - lowest)
    assert ours.free_alkali_probability == pytest.approx(max(0.0, expected), abs=1e-12)
    half = saponification_budget([OLIVE], [alkali], [acid._replace(mass=0.0001)])
    assert half.free_alkali_probability == pytest.approx((need - half.acid - lowest) / (highest - lowest))
    assert 0.4 < half.free_alkali_probability < 0.5


def test_alkali_must_be_known_beside_what_acids_leave_of_it() -> None:
    # A tenth of the alkali is uncertain, which is all that the acid leaves.
    fat = OLIVE._replace(saponification_value_part=EXACT)
    alkali = sodium(1.6, 1.0, normal(0.05))
    assert saponification_budget([fat], [alkali]).superfat < 0.1
    with pytest.raises(OutOfRange, match="no better than half"):
        saponification_budget([fat], [alkali], [Reagent("acid", 1.0, 1.45)])


@pytest.mark.parametrize("wanted", [-0.03, 0.0, 0.01, 0.05, 0.07])
@pytest.mark.parametrize("mass", [0.1, 0.2, 0.7, 1.2345])
def test_rounding_puts_no_value_outside_its_own_interval(wanted: float, mass: float) -> None:
    ours = budget(FatLine("own", mass, 0.1883), wanted=wanted)
    assert ours.superfat_interval[0] <= ours.superfat <= ours.superfat_interval[1]
    assert ours.need_interval[0] <= ours.need <= ours.need_interval[1]
    assert ours.alkali_needed[0] <= ours.alkali <= ours.alkali_needed[1]


@pytest.mark.parametrize(("mass", "value"), [(0.1, 0.191), (0.2, 0.192), (0.7, 0.197), (1.2345, 0.1883)])
def test_rounding_does_not_decide_whether_alkali_is_free(mass: float, value: float) -> None:
    assert budget(FatLine("own", mass, value), wanted=0.0).free_alkali_probability == 0.5
