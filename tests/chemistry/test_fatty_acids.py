"""What follows from the fatty acids of a fat."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.fatty_acids import (
    CD_1C_85_FACTORS,
    acid_mass_fraction,
    acid_value,
    blend_composition,
    blend_spreads,
    fatty_acid_molar_mass,
    iodine_value,
    iodine_value_cd_1c_85,
    mean_molar_mass,
    normalised,
    saponification_value,
    spreads,
    triglyceride_molar_mass,
)
from service.reference.records import FattyAcid


def record(code: str, carbons: int, double_bonds: int, hydroxyls: int = 0) -> FattyAcid:
    molar_mass = fatty_acid_molar_mass(carbons, double_bonds, hydroxyls)
    return FattyAcid(code, code, "", carbons, double_bonds, molar_mass)


ACIDS = {
    acid.code: acid
    for acid in (
        record("C8:0", 8, 0),
        record("C12:0", 12, 0),
        record("C16:0", 16, 0),
        record("C18:0", 18, 0),
        record("C18:1", 18, 1),
        record("C18:1-OH", 18, 1, 1),
        record("C18:2", 18, 2),
        record("C20:5", 20, 5),
    )
}
COCONUT_LIKE = {"C8:0": 0.08, "C12:0": 0.62, "C16:0": 0.20, "C18:1": 0.10}


def test_molar_mass_follows_from_the_formula() -> None:
    # Stearic C18H36O2, linoleic C18H32O2, ricinoleic C18H34O3.
    c, h, o = molar_masses.CARBON, molar_masses.HYDROGEN, molar_masses.OXYGEN
    assert fatty_acid_molar_mass(18, 0) == pytest.approx(18 * c + 36 * h + 2 * o)
    assert fatty_acid_molar_mass(18, 2) == pytest.approx(18 * c + 32 * h + 2 * o)
    assert fatty_acid_molar_mass(18, 1, hydroxyls=1) == pytest.approx(18 * c + 34 * h + 3 * o)


@pytest.mark.parametrize("chain", [(0, 0, 0), (18, -1, 0), (18, 9, 0), (18, 1, -1), (2, 1, 0)])
def test_impossible_chain_is_refused(chain: tuple[int, int, int]) -> None:
    with pytest.raises(OutOfRange):
        fatty_acid_molar_mass(*chain)


def test_longest_run_of_double_bonds_is_allowed() -> None:
    assert fatty_acid_molar_mass(3, 1) == pytest.approx(0.07206, abs=5e-6)  # acrylic acid, C3H4O2


def test_triglyceride_of_stearic_acid_is_c57h110o6() -> None:
    c, h, o = molar_masses.CARBON, molar_masses.HYDROGEN, molar_masses.OXYGEN
    assert triglyceride_molar_mass(fatty_acid_molar_mass(18, 0)) == pytest.approx(57 * c + 110 * h + 6 * o)


@pytest.mark.parametrize("molar_mass", [0.0, -0.28, math.nan, math.inf])
def test_impossible_molar_mass_is_refused(molar_mass: float) -> None:
    with pytest.raises(OutOfRange):
        triglyceride_molar_mass(molar_mass)


def test_shares_are_put_on_one() -> None:
    assert normalised({"C16:0": 20.0, "C18:1": 60.0}) == pytest.approx({"C16:0": 0.25, "C18:1": 0.75})


@pytest.mark.parametrize("shares", [{}, {"C16:0": 0.0}, {"C16:0": -0.1, "C18:1": 1.1}, {"C16:0": math.nan}])
def test_shares_of_nothing_are_refused(shares: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        normalised(shares)


def test_scale_of_the_shares_does_not_matter() -> None:
    percent = {code: 94.1 * share for code, share in COCONUT_LIKE.items()}
    assert saponification_value(percent, ACIDS) == pytest.approx(saponification_value(COCONUT_LIKE, ACIDS))
    assert iodine_value(percent, ACIDS) == pytest.approx(iodine_value(COCONUT_LIKE, ACIDS))


def test_mean_molar_mass_counts_molecules() -> None:
    # One mole of lauric and three of stearic acid.
    lauric, stearic = ACIDS["C12:0"].molar_mass, ACIDS["C18:0"].molar_mass
    assert mean_molar_mass({"C12:0": lauric, "C18:0": 3 * stearic}, ACIDS) == pytest.approx((lauric + 3 * stearic) / 4)


def test_saponification_value_counts_ester_groups() -> None:
    # By hand: a mole of acids, bound, weighs a third of its triglycerides, and takes a mole of hydroxide.
    amount = sum(share / ACIDS[code].molar_mass for code, share in COCONUT_LIKE.items())
    bound = 1.0 + amount * (molar_masses.GLYCEROL / 3 - molar_masses.WATER)
    assert saponification_value(COCONUT_LIKE, ACIDS) == pytest.approx(amount * molar_masses.KOH / bound)


def test_unsaponifiable_matter_dilutes() -> None:
    # Shea with 8 % of it: 192 becomes 177 mg/g.
    pure = saponification_value(COCONUT_LIKE, ACIDS)
    assert saponification_value(COCONUT_LIKE, ACIDS, unsaponifiable=0.08) == pytest.approx(0.92 * pure)
    assert iodine_value({"C18:1": 1.0}, ACIDS, unsaponifiable=0.08) == pytest.approx(
        0.92 * iodine_value({"C18:1": 1.0}, ACIDS)
    )
    assert acid_mass_fraction(COCONUT_LIKE, ACIDS, unsaponifiable=0.5) == pytest.approx(
        0.5 * acid_mass_fraction(COCONUT_LIKE, ACIDS)
    )


@pytest.mark.parametrize("unsaponifiable", [-0.01, 0.51, 8.0, math.nan])
def test_unsaponifiable_matter_of_a_wax_or_in_percent_is_refused(unsaponifiable: float) -> None:
    for function in (saponification_value, acid_mass_fraction):
        with pytest.raises(OutOfRange):
            function(COCONUT_LIKE, ACIDS, unsaponifiable)
    with pytest.raises(OutOfRange):
        iodine_value(COCONUT_LIKE, ACIDS, unsaponifiable=unsaponifiable)


def test_free_acids_take_their_acid_value() -> None:
    assert acid_value({"C18:0": 1.0}, ACIDS) == pytest.approx(molar_masses.KOH / ACIDS["C18:0"].molar_mass)
    assert acid_value(COCONUT_LIKE, ACIDS) > saponification_value(COCONUT_LIKE, ACIDS)


def test_fat_yields_its_acids_without_the_glycerol() -> None:
    fraction = acid_mass_fraction(COCONUT_LIKE, ACIDS)
    assert fraction * acid_value(COCONUT_LIKE, ACIDS) == pytest.approx(saponification_value(COCONUT_LIKE, ACIDS))


def test_iodine_value_counts_double_bonds() -> None:
    assert iodine_value({"C12:0": 0.4, "C18:0": 0.6}, ACIDS) == 0.0
    free = iodine_value({"C18:2": 1.0}, ACIDS, form="free-acid")
    assert free == pytest.approx(2 * 2 * molar_masses.IODINE / ACIDS["C18:2"].molar_mass)
    bound = iodine_value({"C18:2": 1.0}, ACIDS)
    assert bound == pytest.approx(free * acid_mass_fraction({"C18:2": 1.0}, ACIDS))


def test_factors_leave_out_and_name_acids_they_do_not_cover() -> None:
    by_factors = iodine_value_cd_1c_85({"C18:1-OH": 0.88, "C18:1": 0.05, "C20:5": 0.02, "C16:0": 0.05}, ACIDS)
    assert by_factors.iodine_value == pytest.approx(0.05 * 0.860)
    assert by_factors.share_without_factor == pytest.approx(0.90)


def test_factors_of_free_acids_are_a_table_of_their_own() -> None:
    assert iodine_value_cd_1c_85({"C18:1": 1.0}, ACIDS, form="free-acid") == (0.8986, 0.0)
    assert CD_1C_85_FACTORS["triglyceride"].keys() == CD_1C_85_FACTORS["free-acid"].keys()


@pytest.mark.parametrize("function", [mean_molar_mass, saponification_value, iodine_value, iodine_value_cd_1c_85])
def test_acid_that_is_not_known_is_not_passed_over(function: object) -> None:
    assert callable(function)
    with pytest.raises(KeyError, match="C19:7"):
        function({"C16:0": 0.5, "C19:7": 0.5}, ACIDS)


def test_spread_puts_middles_on_one_by_the_squares_of_half_widths_and_keeps_these() -> None:
    """0.3 and 0.8 are 0.1 too much, of which a fifth and four fifths are taken off."""
    palmitic, oleic = spreads({"C16:0": (0.2, 0.4), "C18:1": (0.6, 1.0)})
    assert (palmitic.middle, oleic.middle) == pytest.approx((0.28, 0.72))
    assert palmitic.half_width == pytest.approx(0.1)
    assert oleic.half_width == pytest.approx(0.2)


def test_a_single_analysis_and_limits_that_never_add_up_to_one_are_scaled() -> None:
    assert [one.middle for one in spreads({"C16:0": (0.2, 0.2), "C18:1": (0.6, 0.6)})] == pytest.approx([0.25, 0.75])
    assert [one.middle for one in spreads({"C16:0": (0.1, 0.14), "C18:1": (0.3, 0.42)})] == pytest.approx([0.25, 0.75])


def test_a_share_that_is_hardly_open_is_hardly_moved() -> None:
    """0.05 is lacking; C16:0 takes a hundredth of what each of the others takes."""
    limits = {"C16:0": (0.09, 0.11), "C18:1": (0.2, 0.4), "C18:2": (0.45, 0.65)}
    found = {one.code: one.middle for one in spreads(limits)}
    assert found == pytest.approx({"C16:0": 0.1 + 0.05 / 201, "C18:1": 0.3 + 5 / 201, "C18:2": 0.55 + 5 / 201})


@given(st.lists(st.tuples(st.floats(0.01, 1.0), st.floats(0.0, 0.5), st.floats(0.0, 0.5)), min_size=1, max_size=8))
def test_no_middle_leaves_its_limits_where_a_composition_within_them_adds_up_to_one(
    made: list[tuple[float, float, float]],
) -> None:
    """A composition that adds up to 1, with room below and above each of its shares."""
    whole = sum(share for share, _, _ in made)
    shares = [(share / whole, below, above) for share, below, above in made]
    limits = {
        f"C{18 + at}:0": (max(0.0, share - below), share + above) for at, (share, below, above) in enumerate(shares)
    }
    lows, highs = (sum(ends) for ends in zip(*limits.values(), strict=True))
    assume(lows < 1 - 1e-9 < 1 + 1e-9 < highs)  # between them rounding decides whether there is a composition
    found = spreads(limits)
    assert sum(one.middle for one in found) == pytest.approx(1.0)
    for one in found:
        low, high = limits[one.code]
        assert low - 1e-9 <= one.middle <= high + 1e-9


def test_fat_alone_has_its_own_composition() -> None:
    blend = blend_composition([(3.0, {"C16:0": (0.1, 0.2), "C18:1": (0.8, 0.9)})])
    assert blend["C16:0"] == pytest.approx((0.15, 0.15 - 0.95 * 0.05, 0.15 + 0.95 * 0.05))


def test_blend_is_the_mean_by_mass() -> None:
    olive, coconut = {"C18:1": (0.8, 0.8), "C16:0": (0.2, 0.2)}, {"C12:0": (0.75, 0.75), "C16:0": (0.25, 0.25)}
    blend = blend_composition([(3.0, olive), (1.0, coconut)])
    assert {code: share.value for code, share in blend.items()} == pytest.approx(
        {"C18:1": 0.6, "C16:0": 0.2125, "C12:0": 0.1875}
    )
    assert all(share.low == share.value == share.high for share in blend.values())


def test_spreads_of_different_fats_add_as_squares() -> None:
    one = {"C16:0": (0.40, 0.50), "C18:1": (0.50, 0.60)}
    blend = blend_composition([(1.0, one), (1.0, dict(one))])["C16:0"]
    # Two equal rectangles: sqrt(2) times half the half-width, with k = 1.917.
    half_width = 1.9174 * 0.05 / math.sqrt(3) / math.sqrt(2)
    assert blend.high - blend.value == pytest.approx(half_width, rel=1e-4)
    assert blend.value - blend.low == pytest.approx(half_width, rel=1e-4)


def test_widest_of_the_weighted_rectangles_decides() -> None:
    narrow, wide = {"C16:0": (0.4, 0.6), "C18:1": (0.49, 0.51)}, {"C16:0": (0.4, 0.6), "C18:1": (0.4, 0.6)}
    for order in ([(0.5, narrow), (0.5, wide)], [(0.5, wide), (0.5, narrow)]):
        share = blend_composition(order)["C18:1"]
        # Nearly one rectangle of 0.05: two standard uncertainties would reach 0.058.
        assert share.high - share.value == pytest.approx(0.95 * 0.05, abs=0.0005)


def test_limits_of_a_share_end_at_nought_and_one() -> None:
    blend = blend_composition([(1.0, {"C18:1": (0.95, 1.0), "C16:0": (0.0, 0.002), "C18:2": (0.0, 0.0)})])
    assert blend["C18:1"].high <= 1.0
    assert blend["C16:0"].low >= 0.0
    assert blend["C18:2"] == (0.0, 0.0, 0.0)
    wide = blend_composition([(1.0, {"C18:1": (0.2, 1.0), "C16:0": (0.0, 0.1)})])
    assert wide["C18:1"].high == 1.0


def test_an_interval_ends_where_the_limits_of_the_acid_and_of_the_others_end() -> None:
    """Sweet almond oil by the British Pharmacopoeia, less its traces: 24 % are the least of the others."""
    limits = {"C16:0": (0.04, 0.09), "C18:1": (0.62, 0.86), "C18:2": (0.20, 0.30)}
    found = blend_composition([(1.0, limits)])["C18:1"]
    # By least squares 0.683 +- 0.95 * 0.12, which would reach 0.57 to 0.80.
    assert (found.low, found.high) == pytest.approx((0.62, 0.76))
    others = blend_composition([(1.0, {"C16:0": (0.0, 0.2), "C18:1": (0.5, 0.6), "C18:2": (0.1, 0.3)})])["C16:0"]
    assert others.low == pytest.approx(0.1)  # the others are 0.9 at most


def test_in_a_blend_the_bounds_count_by_mass() -> None:
    """Acids that are where their limits end in each of the fats are there in the blend."""
    limits = {"C16:0": (0.0, 1.0), "C18:1": (0.1, 0.9)}
    lone, single = {"C16:0": (0.0, 0.10), "C18:1": (0.8, 1.0)}, {"C18:1": (1.0, 1.0)}
    assert blend_composition([(1.0, lone), (3.0, single)])["C18:1"].low >= 0.975 - 1e-12
    # 0.1 to 0.9 each way is what the first leaves; the second, a quarter of it all, is known.
    assert blend_composition([(3.0, limits), (1.0, single)])["C18:1"].high <= 0.75 * 0.9 + 0.25 + 1e-12


def test_limits_that_leave_one_composition_leave_no_interval() -> None:
    found = blend_composition([(1.0, {"C16:0": (0.40, 0.50), "C18:1": (0.55, 0.55)})])["C16:0"]
    assert found == pytest.approx((0.45, 0.45, 0.45))


def test_limits_that_never_add_up_to_one_bound_no_share() -> None:
    """0.48 is the most that they make: scaled, the middles are beyond them, and so must their intervals be."""
    found = blend_composition([(1.0, {"C16:0": (0.1, 0.14), "C18:1": (0.3, 0.34)})])
    for share, middle in ((found["C16:0"], 0.12 / 0.44), (found["C18:1"], 0.32 / 0.44)):
        assert tuple(share) == pytest.approx((middle, middle - 0.95 * 0.02, middle + 0.95 * 0.02))


def test_blend_of_kept_spreads_is_the_same() -> None:
    limits = {"C16:0": (0.40, 0.50), "C18:1": (0.55, 0.60)}
    assert blend_spreads([(0.7, spreads(limits))]) == blend_composition([(0.7, limits)])


@pytest.mark.parametrize("limits", [(0.5, 0.4), (-0.2, 0.1), (math.nan, 0.1), (0.1, math.inf)])
def test_senseless_limits_are_refused(limits: tuple[float, float]) -> None:
    with pytest.raises(OutOfRange):
        spreads({"C16:0": limits, "C18:1": (0.5, 0.6)})


@pytest.mark.parametrize("masses", [[], [0.0, 0.0], [-1.0, 2.0], [math.nan], [math.inf]])
def test_blend_without_a_sensible_mass_is_refused(masses: list[float]) -> None:
    with pytest.raises(OutOfRange):
        blend_composition([(mass, {"C16:0": (1.0, 1.0)}) for mass in masses])


def test_fat_of_no_mass_adds_nothing_to_a_blend() -> None:
    blend = blend_composition([(1.0, {"C16:0": (1.0, 1.0)}), (0.0, {"C18:1": (1.0, 1.0)})])
    assert (blend["C16:0"].value, blend["C18:1"].value) == (1.0, 0.0)


def test_formic_acid_is_the_shortest() -> None:
    assert fatty_acid_molar_mass(1, 0) == pytest.approx(0.046025, abs=5e-7)
    with pytest.raises(OutOfRange) as caught:
        fatty_acid_molar_mass(18, 9)
    assert (caught.value.low, caught.value.high) == (0, 8)


def test_boundless_share_is_refused() -> None:
    with pytest.raises(OutOfRange):
        normalised({"C16:0": math.inf})
