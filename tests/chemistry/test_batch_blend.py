"""A batch before it reacts: the balance closes, whatever is in it, and ends where ice or data do."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.chemistry.batch_blend import HEAT_OF_FUSION, Blend, Liquid, Melting, Warm, meet, meet_melting
from service.chemistry.batch_spread import freezing_point, model_half_width, unfrozen_share
from service.chemistry.blending import Part, blend
from service.chemistry.errors import OutOfRange
from service.chemistry.food_heat import Dry, fat_heat_capacity
from service.chemistry.molar_masses import Alkali

LYE = Part(0.27, 0.5, 22.0)
OIL = Warm(1.0, 45.0)


def milk(mass: float, t: float, frozen: float = 0.0) -> Liquid:
    """Goat's milk, and the part of its water that is ice."""
    dry = Dry(*(mass * share for share in (0.0356, 0.0414, 0.0447, 0.0082)))
    return Liquid(0.8703 * mass, dry, t, 0.8703 * mass * frozen)


def mixed(masses: list[float], degrees: list[float], w: float, alkali: Alkali = "NaOH") -> Blend:
    fats = [Warm(mass, t) for mass, t in zip(masses[:2], degrees[:2], strict=True)]
    return Blend(alkali, Part(masses[2], w, degrees[2]), fats, [milk(masses[3], degrees[3])])


MASSES = st.lists(st.floats(0.05, 2.0), min_size=4, max_size=4)
DEGREES = st.lists(st.floats(5.0, 60.0), min_size=4, max_size=4)
STRENGTHS = st.floats(0.05, 0.5)
ALKALIS = st.sampled_from(["NaOH", "KOH"])


@given(MASSES, DEGREES, STRENGTHS, st.floats(0, 1), ALKALIS)
def test_the_balance_of_enthalpies_closes_at_every_share(
    masses: list[float], degrees: list[float], w: float, share: float, alkali: Alkali
) -> None:
    found = mixed(masses, degrees, w, alkali)
    met = meet(found, share)
    assert found.enthalpy(met.temperature, share) == pytest.approx(found.brought, abs=1e-6 * found.capacity(30.0, 0.0))


@given(MASSES, DEGREES, STRENGTHS)
def test_without_heat_of_dilution_it_lies_between_the_coldest_and_the_warmest(
    masses: list[float], degrees: list[float], w: float
) -> None:
    t = meet(mixed(masses, degrees, w), 0.0).temperature
    assert min(degrees) - 1e-9 <= t <= max(degrees) + 1e-9


@given(MASSES, st.floats(5.0, 60.0), STRENGTHS)
def test_what_has_one_temperature_keeps_it_where_nothing_is_diluted(masses: list[float], t: float, w: float) -> None:
    assert meet(mixed(masses, [t] * 4, w), 0.0).temperature == pytest.approx(t, abs=1e-9)


@given(MASSES, DEGREES, STRENGTHS, st.floats(0.01, 100.0), st.floats(0, 1))
def test_a_batch_of_another_size_has_the_same_temperature(
    masses: list[float], degrees: list[float], w: float, factor: float, share: float
) -> None:
    here = meet(mixed(masses, degrees, w), share).temperature
    there = meet(mixed([factor * mass for mass in masses], degrees, w), share).temperature
    assert there == pytest.approx(here, abs=1e-9)


@given(MASSES, DEGREES, STRENGTHS, st.floats(0, 1))
def test_fats_as_warm_as_needed_give_the_wanted_temperature(
    masses: list[float], degrees: list[float], w: float, share: float
) -> None:
    found = mixed(masses, degrees, w)
    needed = found.fats_needed(33.0, share)
    assume(-35 < needed < 145)
    assert meet(mixed(masses, [needed, needed, *degrees[2:]], w), share).temperature == pytest.approx(33.0, abs=1e-6)


def test_a_batch_with_next_to_no_fat_is_a_dilution() -> None:
    # 2 kg of 50 % NaOH and 1 kg of water of 25 °C, as `blending.blend` has it
    found = Blend("NaOH", Part(2.0, 0.5, 25.0), [Warm(1e-9, 25.0)], [Liquid(1.0, Dry(), 25.0)])
    whole = blend("NaOH", [Part(2.0, 0.5, 25.0), Part(1.0, 0.0, 25.0)]).state.temperature
    assert meet(found, 1.0).temperature == pytest.approx(whole, abs=1e-6)
    assert meet(found, 0.0).temperature == pytest.approx(25.0)


def test_warm_oil_and_cool_lye_meet_where_their_heats_say() -> None:
    """By hand: 1 kg of oil from 40 °C, 0.25 kg of 50 % lye from 25 °C with 3.25 kJ/(kg K) (Laliberté 2009)."""
    t = meet(Blend("NaOH", Part(0.25, 0.5, 25.0), [Warm(1.0, 40.0)], []), 1.0).temperature
    oil, lye = fat_heat_capacity(38.0) * 1.0, 3250.0 * 0.25
    assert t == pytest.approx((oil * 40 + lye * 25) / (oil + lye), abs=0.05)


def test_ice_takes_up_its_heat_of_melting() -> None:
    """By hand: 0.1131 kg of ice take 333.4 kJ/kg (IAPWS R10-06) more than water of 0 °C does."""
    cold, frozen = (Blend("NaOH", LYE, [OIL], [milk(0.13, 0.0, share)]) for share in (0.0, 1.0))
    fall = meet(cold, 0.0).temperature - meet(frozen, 0.0).temperature
    assert fall * frozen.capacity(30.0, 0.0) == pytest.approx(0.8703 * 0.13 * 333.4e3, rel=0.01)


def test_ice_that_is_too_much_keeps_the_batch_at_zero_until_the_heat_of_dilution_melts_it() -> None:
    found = Blend("NaOH", LYE, [Warm(1.0, 20.0)], [milk(0.27, -5.0, 1.0)])
    met = meet(found, 0.0)
    assert met.temperature == 0
    assert 0 < met.ice < found.ice
    assert found.enthalpy(0.0, 0.0) - met.ice * found.heat_of_fusion == pytest.approx(found.brought)
    assert meet(found, 1.0).temperature > 0
    assert meet(found, 1.0).ice == 0


def test_what_would_freeze_and_what_no_data_reach_is_not_told() -> None:
    with pytest.raises(OutOfRange, match="freezes"):
        meet(Blend("NaOH", Part(0.1, 0.1, 0.0), [Warm(1.0, -30.0)], [milk(0.1, 0.0)]), 1.0)
    with pytest.raises(OutOfRange, match="freezes"):
        meet(Blend("NaOH", Part(0.01, 0.1, 0.0), [Warm(1.0, -40.0)], []), 0.0)
    with pytest.raises(OutOfRange, match="temperature"):
        Blend("NaOH", Part(0.01, 0.1, 201.0), [OIL], [])
    with pytest.raises(OutOfRange, match="temperature"):
        Blend("NaOH", LYE, [Warm(1.0, 151.0)], [])
    with pytest.raises(OutOfRange, match="temperature"):
        Blend("NaOH", LYE, [OIL], [milk(0.1, 101.0)])
    with pytest.raises(OutOfRange, match="mass"):
        Blend("NaOH", Part(0.0, 0.5, 20.0), [OIL], [])
    with pytest.raises(OutOfRange, match="temperature"):
        Blend("NaOH", LYE, [OIL], []).fats_needed(101.0, 0.0)


def test_set_fat_takes_up_heat_only_as_far_as_it_melts() -> None:
    found = Blend("NaOH", LYE, [Warm(0.7, 50.0), Warm(0.3, 20.0)], [])
    plain = meet(found, 0.0).temperature
    above = Melting(0.3, 20.0, plain + 5, plain + 10)
    below = Melting(0.3, 20.0, 21.0, 23.0)
    assert meet_melting(found, 0.0, [above]) == plain
    t = meet_melting(found, 0.0, [below])
    gone = HEAT_OF_FUSION * 0.3 * below.melted(t)
    assert found.enthalpy(t, 0.0) + gone == pytest.approx(found.brought, rel=1e-9)
    assert t < plain - 5


def test_a_fat_melts_over_its_range_from_where_it_stands() -> None:
    within = Melting(1.0, 35.0, 30.0, 40.0)
    assert within.melted(35.0) == 0
    assert within.melted(45.0) == pytest.approx(0.5)
    assert within.melted(20.0) == 0
    assert Melting(1.0, 20.0, 44.0, 44.0).melted(44.5) == pytest.approx(0.5)  # one point is spread over a kelvin


def test_models_leave_nothing_open_where_nothing_changes_its_temperature() -> None:
    found = Blend("NaOH", LYE._replace(temperature=30.0), [Warm(1.0, 30.0)], [milk(0.1, 30.0)])
    assert model_half_width(found, 30.0, 0.0) == pytest.approx(0, abs=1e-9)
    assert model_half_width(found, meet(found, 1.0).temperature, 1.0) > 0.1


@pytest.mark.parametrize(("freezing", "t", "share"), [(0.0, -5.0, 0.0), (-0.5, -18.0, 0.1), (-0.5, -2.0, 0.25)])
def test_the_colder_it_is_the_more_of_a_liquid_is_ice(freezing: float, t: float, share: float) -> None:
    assert unfrozen_share(freezing, t) == pytest.approx(share)


def test_a_strong_solution_at_its_freezing_point_may_be_all_liquid() -> None:
    assert unfrozen_share(-4.9, -4.0) == 1
    assert unfrozen_share(-0.5, 0.0) == pytest.approx(0.1)


def test_twice_as_much_dissolved_lowers_the_freezing_point_twice() -> None:
    assert freezing_point(0.9, 0.4) == pytest.approx(2 * freezing_point(0.9, 0.2))
    with pytest.raises(OutOfRange, match="water"):
        freezing_point(0.0, 1.0)
