"""Properties of solutions and what is known of them: slopes are those of the figures, intervals those of their ends."""

from math import hypot
from typing import Final

import pytest
from msgspec import UNSET

from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.reading import NORMAL_95
from service.calculations.stock.solution_properties import (
    DILUTE,
    MOST_HYDROXIDE,
    Conditions,
    definitions,
    half_widths,
    properties,
    slopes,
)
from service.calculations.stock.solutions import SOLUBILITY, Found
from service.calculations.stock.told_solution import KnownSolution, Unknown, model_spread
from service.calculations.stock.volumes import WEIGHED, Amount, ByVolume, by_volume, steepness
from service.chemistry import density, molar_masses
from service.chemistry.uncertainty import Combined, combine, normal

ALKALIS: Final[tuple[AlkaliName, ...]] = ("NaOH", "KOH")
AT: Final = Conditions(25.0, 15.6, 145.0)
STRENGTHS: Final = (0.0, 0.01, 0.2, 0.3, 0.49)
EACH = pytest.mark.parametrize("alkali", ALKALIS)
AT_EACH = pytest.mark.parametrize("w", STRENGTHS)


# Values, and how they go with the strength


@EACH
@AT_EACH
def test_the_forms_of_a_strength_agree_with_each_other(alkali: AlkaliName, w: float) -> None:
    """By their definitions: a kilogram holds w of hydroxide, and water else."""
    told = properties(alkali, w, AT)
    moles, water = w / molar_masses.ALKALI[alkali], (1 - w) / molar_masses.WATER
    assert told.mole_fraction == pytest.approx(moles / (moles + water), rel=1e-9)
    assert told.molality == pytest.approx(moles / (1 - w), rel=1e-9)
    assert told.molarity == pytest.approx(moles * told.density, rel=1e-9)
    assert told.mass_concentration == pytest.approx(w * told.density, rel=1e-9)
    assert told.oxide_fraction == pytest.approx(moles / 2 * molar_masses.OXIDE[alkali], rel=1e-9)
    assert told.water_ratio == (pytest.approx((1 - w) / w, rel=1e-9) if w else 0.0)
    assert told.degrees_twaddell == pytest.approx(200 * (told.specific_gravity - 1), abs=1e-9)
    assert told.degrees_baume == pytest.approx(145 - 145 / told.specific_gravity, abs=1e-9)


@EACH
def test_water_has_no_water_ratio_and_a_weak_solution_has_a_large_one(alkali: AlkaliName) -> None:
    assert properties(alkali, DILUTE, AT).water_ratio == 0.0
    assert properties(alkali, 0.001, AT).water_ratio == pytest.approx(999)


@EACH
@AT_EACH
def test_slopes_are_those_of_the_values(alkali: AlkaliName, w: float) -> None:
    """A step outwards from the solubility, or below water, would leave the data."""
    best = properties(alkali, w, AT)
    found = slopes(alkali, best, AT)
    low, high = max(0.0, w - 1e-5), min(SOLUBILITY[alkali], w + 1e-5)
    ends = zip(properties(alkali, low, AT), properties(alkali, high, AT), strict=True)
    for name, slope, (weak, strong) in zip(best._fields, found, ends, strict=True):
        if name != "water_ratio" or w > 0.001:
            assert slope == pytest.approx((strong - weak) / (high - low), rel=5e-3, abs=5e-3), name


@EACH
@pytest.mark.parametrize("w", [0.0, SOLUBILITY["KOH"]])
def test_slopes_are_found_at_the_ends_of_the_data_too(alkali: AlkaliName, w: float) -> None:
    edge = SOLUBILITY[alkali] if w else 0.0
    assert slopes(alkali, properties(alkali, edge, AT), AT).density > 0


# Intervals


@EACH
@pytest.mark.parametrize(("w", "half"), [(0.3, 0.02), (0.01, 0.02), (0.45, 0.6), (0.5, 0.0)])
def test_what_follows_by_definition_ends_where_the_strength_does(alkali: AlkaliName, w: float, half: float) -> None:
    told = definitions(alkali, w, half)
    weak, strong = max(0.0, w - half), min(MOST_HYDROXIDE, w + half)
    for name, (low, high) in told.items():
        value = getattr(properties(alkali, w, AT), name)
        assert low <= value * (1 + 1e-12), name
        assert value <= high * (1 + 1e-12), name
    hydroxide, water = molar_masses.ALKALI[alkali], molar_masses.WATER
    for end, place in ((weak, 0), (strong, 1)):
        moles = end / hydroxide
        assert told["molality"][place] == pytest.approx(moles / (1 - end))
        assert told["mole_fraction"][place] == pytest.approx(moles / (moles + (1 - end) / water))
        assert told["oxide_fraction"][place] == pytest.approx(moles / 2 * molar_masses.OXIDE[alkali])
        assert told["water_ratio"][1 - place] == pytest.approx((1 - max(end, DILUTE)) / max(end, DILUTE))


@EACH
@pytest.mark.parametrize("w", [0.1, 0.3, 0.49])
def test_densities_leave_as_much_open_as_follows_from_them(alkali: AlkaliName, w: float) -> None:
    """What is reckoned from the density changes as it does; what is a definition has nothing to leave open."""
    best, half = properties(alkali, w, AT), half_widths(alkali, properties(alkali, w, AT), AT)
    part = density.relative_half_width(alkali, w, AT.temperature)
    assert half.density == pytest.approx(part * best.density)
    for name in ("molarity", "mass_concentration"):
        assert getattr(half, name) == pytest.approx(part * getattr(best, name))
    at_reference = density.relative_half_width(alkali, w, AT.reference) * best.specific_gravity
    assert half.specific_gravity == pytest.approx(at_reference)
    beside = best.specific_gravity + 1e-4 * at_reference
    baume = (145 - 145 / beside) - best.degrees_baume
    assert half.degrees_baume == pytest.approx(baume / 1e-4, rel=1e-3)
    assert half.degrees_twaddell == pytest.approx(200 * (beside - best.specific_gravity) / 1e-4, rel=1e-3)
    for name in ("mass_fraction", "water_ratio", "mole_fraction", "molality", "oxide_fraction"):
        assert getattr(half, name) == 0.0


# Volumes


@EACH
@pytest.mark.parametrize("t", [20.0, 60.0])
@pytest.mark.parametrize("w", [0.0, 0.1, 0.3, 0.49])
def test_the_steepness_is_that_of_the_densities(alkali: AlkaliName, w: float, t: float) -> None:
    found = steepness(alkali, w, t)
    low, high = max(0.0, w - 0.001), w + 0.001
    rise = density.density(alkali, high, t) - density.density(alkali, low, t)
    assert found == pytest.approx(rise / (high - low) / density.density(alkali, w, t), rel=0.01)
    assert steepness(alkali, density.HIGHEST_MASS_FRACTION[alkali], t) > 0


EXACTLY: Final = Found(0.3, Combined(0.0, 0.0))
SPREAD: Final = Found(0.3, Combined(0.01, 0.0), 0.004)


@EACH
def test_a_volume_of_water_is_as_sure_as_a_mass(alkali: AlkaliName) -> None:
    assert by_volume(alkali, Found(0.0, Combined(0.0, 0.0)), 20.0) == WEIGHED == ByVolume(0.0, 0.0)


@EACH
def test_the_mass_of_a_volume_goes_with_the_densities_and_with_the_strength(alkali: AlkaliName) -> None:
    model = density.relative_half_width(alkali, 0.3, 20.0) / NORMAL_95
    exact = by_volume(alkali, EXACTLY, 20.0)
    assert exact.by_strength == 0.0
    assert exact.by_density == pytest.approx(model)
    found = by_volume(alkali, SPREAD, 20.0)
    assert found.by_strength == pytest.approx(steepness(alkali, 0.3, 20.0))
    # denser solutions by one standard uncertainty change the mass by that, and by the strength they change
    heavier = density.density(alkali, 0.3 + 1e-3 * SPREAD.by_density, 20.0) / density.density(alkali, 0.3, 20.0)
    assert found.by_density == pytest.approx(model + (heavier - 1) / 1e-3, rel=1e-3)


@pytest.mark.parametrize(("by_strength", "by_mass"), [(2.0, 0.0), (0.0, 3.0), (2.0, 3.0), (2.0, -3.0)])
def test_a_result_errs_as_it_goes_with_all_that_is_not_known(by_strength: float, by_mass: float) -> None:
    """The hydroxide of an amount, told as any result that goes with its strength and its mass."""
    amount = Amount(5.0, SPREAD, by_volume("NaOH", SPREAD, 20.0))
    parts = amount.contributions(by_strength, by_mass)

    def result(strength: float, denser: float) -> float:
        mass = 5.0 * (1 + amount.volume.by_strength * strength + amount.volume.by_density * denser)
        return by_strength * (strength + SPREAD.by_density * denser) + by_mass * (mass - 5.0)

    expected = hypot(result(1.0, 0.0) * SPREAD.own.standard_uncertainty, result(0.0, 1.0))
    assert combine(parts).standard_uncertainty == pytest.approx(expected)
    assert SPREAD.own.standard_uncertainty == pytest.approx((0.01**2 - 0.004**2) ** 0.5)


def test_a_mass_that_was_weighed_leaves_its_strength_open_alone() -> None:
    assert Amount(5.0, EXACTLY).contributions(2.0, 3.0) == [(2.0, EXACTLY.own)]
    weighed = combine(Amount(5.0, SPREAD).contributions(2.0, 3.0))
    assert weighed.standard_uncertainty == pytest.approx(2.0 * 0.01)


# Solutions of answers


def half(figure: object) -> float:
    """Half of the width of an interval."""
    low, high = getattr(figure, "low"), getattr(figure, "high")  # noqa: B009 - figures of several kinds
    return 0.0 if low is None else (high - low) / 2


@EACH
@pytest.mark.parametrize("w", [0.0, 0.1, 0.45])
def test_a_solution_that_is_known_exactly_has_the_volume_of_its_density(alkali: AlkaliName, w: float) -> None:
    told = KnownSolution(alkali, 2.0, w, 25.0).told()
    volume = 2.0 / density.density(alkali, w, 25.0)
    assert told.volume.value == pytest.approx(volume)
    assert half(told.volume) == pytest.approx(volume * model_spread(alkali, w, 25.0))
    assert (model_spread(alkali, w, 25.0) == 0.0) == (w == 0.0)
    assert half(told.mass) == half(told.strength.mass_fraction) == half(told.temperature) == 0.0


def test_what_goes_with_mass_and_strength_together_is_counted_once() -> None:
    """A volume of water that is poured in makes a stock heavier, weaker and, beside the mass, lighter."""
    part = normal(0.01)
    known = KnownSolution("NaOH", 2.0, 0.3, 25.0, (Unknown(0.5, -0.2, part), Unknown(0.1, 0.3, part)), (0.001, 0.002))
    assert known.strength_spread.standard_uncertainty == pytest.approx(hypot(0.002, 0.003, 0.002))
    assert known.mass_half_width == pytest.approx(2.0 * NORMAL_95 * hypot(0.005, 0.001, 0.001), rel=1e-3)
    told = known.told()
    assert half(told.strength.mass_fraction) == pytest.approx(NORMAL_95 * hypot(0.002, 0.003, 0.002), rel=1e-3)
    slope = steepness("NaOH", 0.3, 25.0)
    own = model_spread("NaOH", 0.3, 25.0) / NORMAL_95
    parts = (0.01 * (0.5 + 0.2 * slope), 0.01 * (0.1 - 0.3 * slope), 0.001 - 0.002 * slope - own)
    volume = 2.0 / density.density("NaOH", 0.3, 25.0)
    assert half(told.volume) == pytest.approx(volume * NORMAL_95 * hypot(*parts), rel=1e-3)
    alone = KnownSolution("NaOH", 2.0, 0.3, 25.0, by_density=(0.001, 0.002))
    assert alone.mass_half_width == pytest.approx(2.0 * NORMAL_95 * 0.001)
    assert half(alone.strength.mass_fraction) == pytest.approx(NORMAL_95 * 0.002)


def test_a_warmer_solution_takes_more_room_as_far_as_its_temperature_is_open() -> None:
    for t in (25.0, 0.5):
        known = KnownSolution("NaOH", 2.0, 0.3, t, temperature_rooms=(2.0, 3.0))
        volume = 2.0 / density.density("NaOH", 0.3, t)
        warmer = 2.0 / density.density("NaOH", 0.3, t + 3.0)
        model = volume * model_spread("NaOH", 0.3, t)
        assert half(known.volume_at(t)) == pytest.approx(hypot(warmer - volume, model), rel=0.03)
        asked = 2.0 / density.density("NaOH", 0.3, t + 1) * model_spread("NaOH", 0.3, t + 1)
        assert half(known.volume_at(t + 1)) == pytest.approx(asked)  # one that is asked for is exact
        told = known.told().temperature
        assert (told.low, told.high) == (t - 2.0, t + 3.0)


def test_a_volume_may_be_less_by_what_contracts_and_never_less_than_nothing() -> None:
    usual, less = (KnownSolution("NaOH", 2.0, 0.3, 25.0, contracts=part).volume_at(25.0) for part in (0.0, 0.1))
    gone = KnownSolution("NaOH", 2.0, 0.3, 25.0, contracts=1.5).volume_at(25.0)
    volume = 2.0 / density.density("NaOH", 0.3, 25.0)
    assert less.low == pytest.approx(usual.low - 0.1 * volume)  # type: ignore[union-attr,operator]
    assert less.high == pytest.approx(usual.high)  # type: ignore[union-attr]
    assert gone.low == 0.0  # type: ignore[union-attr]


def test_what_has_no_density_has_no_volume() -> None:
    assert KnownSolution("NaOH", 2.0, 0.3, 25.0, has_ice=True).volume_at(25.0) is UNSET
    assert KnownSolution("NaOH", 2.0, 0.3, -30.0).volume_at(-30.0) is UNSET
