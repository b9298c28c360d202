"""Dividing the liquid of a batch: every division keeps what is fixed, and counts as the liquid wanted."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.liquid_split import LEAST_WATER_RATIO, Portion, Shortfall, apportion, draw_mass

MASS = st.floats(0.0, 10.0)
COUNTED = st.floats(0.1, 1.0)
PARTS = st.lists(COUNTED, min_size=0, max_size=3)


def counts(masses: list[float], portions: list[Portion]) -> float:
    return sum(mass * one.counted for mass, one in zip(masses, portions, strict=True))


def divided(wanted: float, portions: list[Portion]) -> list[float]:
    found = apportion(wanted, portions)
    assert isinstance(found, list)
    return found


def short(wanted: float, portions: list[Portion]) -> Shortfall:
    found = apportion(wanted, portions)
    assert isinstance(found, Shortfall)
    return found


@given(alkali=st.floats(1e-3, 1e3), strength=st.floats(0.01, 1.0))
def test_what_is_drawn_holds_the_hydroxide(alkali: float, strength: float) -> None:
    drawn = draw_mass(alkali, strength)
    assert drawn * strength == pytest.approx(alkali, rel=1e-12)
    assert drawn >= alkali


def test_as_much_water_as_hydroxide_is_the_least_in_practice() -> None:
    """Common practice, and above the solubility of caustic soda: 109 g in 100 g of water at 20 °C."""
    assert LEAST_WATER_RATIO == 1.0
    assert 1.0 / LEAST_WATER_RATIO < 1.09


@given(fixed=st.lists(st.tuples(MASS, COUNTED), max_size=3), rest=COUNTED, more=MASS)
def test_the_rest_fills_up_what_fixed_masses_leave(fixed: list[tuple[float, float]], rest: float, more: float) -> None:
    portions = [Portion(counted, mass=mass) for mass, counted in fixed] + [Portion(rest)]
    wanted = sum(mass * counted for mass, counted in fixed) + more
    masses = divided(wanted, portions)
    assert masses[:-1] == [mass for mass, _ in fixed]
    assert counts(masses, portions) == pytest.approx(wanted, rel=1e-9, abs=1e-9)
    assert masses[-1] == pytest.approx(more / rest, rel=1e-6, abs=1e-6)


@given(parts=PARTS, rest=COUNTED, wanted=st.floats(0.1, 10.0))
def test_shares_are_of_all_that_is_added(parts: list[float], rest: float, wanted: float) -> None:
    portions = [Portion(counted, share=0.25) for counted in parts] + [Portion(rest)]
    masses = divided(wanted, portions)
    assert counts(masses, portions) == pytest.approx(wanted)
    assert masses[:-1] == pytest.approx([sum(masses) / 4] * len(parts))


def test_a_fixed_mass_a_share_and_the_rest_by_hand() -> None:
    """0.2 kg of milk that is 0.875 water, 30 % of a juice that is 0.9, and water, to make 1 kg of water:
    0.175 + 0.27 M + (0.7 M − 0.2) = 1, so M = 1.025 / 0.97."""
    whole = 1.025 / 0.97
    masses = divided(1.0, [Portion(0.875, mass=0.2), Portion(0.9, share=0.3), Portion(1.0)])
    assert masses == pytest.approx([0.2, 0.3 * whole, 0.7 * whole - 0.2])


def test_shares_that_make_a_whole_need_no_rest() -> None:
    portions = [Portion(0.8, share=0.75), Portion(1.0, share=0.25)]
    masses = divided(1.7, portions)
    assert masses == pytest.approx([1.5, 0.5])
    assert divided(1.7, [*portions, Portion(1.0)]) == pytest.approx([1.5, 0.5, 0.0], abs=1e-12)


def test_fixed_masses_that_are_just_enough_need_no_rest() -> None:
    assert divided(1.4, [Portion(1.0, mass=1.0), Portion(0.5, mass=0.8)]) == [1.0, 0.8]
    assert divided(1.4, [Portion(1.0, mass=1.0), Portion(0.5, mass=0.8), Portion(0.5)]) == pytest.approx([1.0, 0.8, 0])
    assert divided(0.0, []) == []


def test_a_fixed_mass_and_a_share_may_make_the_whole_between_them() -> None:
    """The share is a quarter of all, so the fixed 0.9 kg are three quarters of 1.2 kg."""
    assert divided(1.2, [Portion(1.0, mass=0.9), Portion(1.0, share=0.25)]) == pytest.approx([0.9, 0.3])


@pytest.mark.parametrize(
    ("wanted", "portions", "found"),
    [
        (2.0, [Portion(1.0, mass=1.0), Portion(0.5, mass=0.8)], 1.4),
        (1.0, [Portion(1.0, mass=1.0), Portion(0.5, mass=0.8)], 1.4),
        (2.0, [Portion(1.0, mass=0.9), Portion(1.0, share=0.25)], 1.2),
        (0.5, [Portion(1.0, mass=0.9), Portion(1.0, share=0.25)], 1.2),
        (1.0, [], 0.0),
        (1.0, [Portion(1.0, share=0.5)], 0.0),
    ],
    ids=[
        "too little",
        "too much",
        "too little beside a share",
        "too much beside a share",
        "nothing",
        "half of nothing",
    ],
)
def test_what_does_not_make_the_liquid_wanted_lacks_a_rest(
    wanted: float, portions: list[Portion], found: float
) -> None:
    told = short(wanted, portions)
    assert told.lacks_rest
    assert told.wanted == wanted
    assert told.found == pytest.approx(found)


def test_more_than_is_wanted_is_no_matter_of_a_rest() -> None:
    told = short(1.0, [Portion(1.0, mass=1.5), Portion(1.0)])
    assert not told.lacks_rest
    assert (told.wanted, told.found) == (1.0, 1.5)


def test_shares_beyond_the_whole_leave_no_rest() -> None:
    told = short(1.0, [Portion(1.0, share=0.7), Portion(1.0, share=0.5), Portion(1.0)])
    assert not told.lacks_rest


def test_a_rest_that_counts_for_nothing_mends_nothing() -> None:
    assert not short(1.0, [Portion(0.0)]).lacks_rest


def test_what_is_off_by_rounding_alone_makes_the_whole() -> None:
    wanted = 0.1 + 0.2  # a hair more than 0.3
    assert divided(wanted, [Portion(1.0, mass=0.3)]) == [0.3]
    assert divided(0.3, [Portion(1.0, mass=wanted), Portion(1.0)]) == [wanted, 0.0]
    short(0.3, [Portion(1.0, mass=0.3001), Portion(1.0)])
    short(0.3001, [Portion(1.0, mass=0.3)])


@pytest.mark.parametrize(
    ("wanted", "portions"),
    [
        (1.2, [Portion(1.0, mass=0.9), Portion(1.0, share=1.0)]),
        # The balances alone are met by -1 kg in all, of which 200 % would be the second.
        (0.5, [Portion(1.0, mass=1.0), Portion(0.25, share=2.0)]),
    ],
    ids=["all", "more than all"],
)
def test_a_share_of_all_has_no_fixed_mass_beside_it(wanted: float, portions: list[Portion]) -> None:
    assert short(wanted, portions).lacks_rest
