"""A mixture comes to rest where its masses and its heat say."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import enthalpy as heats
from service.chemistry import equilibrium as module
from service.chemistry import water as waters
from service.chemistry.enthalpy import at_strength
from service.chemistry.equilibrium import (
    BEYOND_ICE_LINE,
    INERT_HEAT_CAPACITY,
    TOO_COLD,
    Amounts,
    State,
    boil_down,
    equilibrium,
    liquid_enthalpy,
    settle,
    state_enthalpy,
)
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import ICE_LINES, ice_line
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import straight_root
from service.chemistry.vapour_pressure import boiling_point

Place = tuple[float, float]
SHIFT = st.sampled_from([-1.0, 0.0, 0.5, 1.0])
ALKALI: st.SearchStrategy[Alkali] = st.sampled_from(("NaOH", "KOH"))


@given(alkali=ALKALI, share=st.floats(0.0, 1.0), t=st.floats(0.1, 95.0), inert=st.floats(0.0, 0.2), shift=SHIFT)
def test_liquid_keeps_its_temperature(alkali: Alkali, share: float, t: float, inert: float, shift: float) -> None:
    w = share * heats.HIGHEST_MASS_FRACTION[alkali]
    amounts = Amounts(2.0 * w, 2.0 * (1.0 - w), inert)
    heat = 2.0 * liquid_enthalpy(at_strength(alkali, amounts.strength), t, shift)
    heat += inert * INERT_HEAT_CAPACITY * (t - 25.0)
    found = equilibrium(alkali, amounts, heat, shift=shift)
    assert found.temperature == pytest.approx(t, abs=1e-8)
    assert found.ice_mass == 0.0


@given(
    alkali=ALKALI,
    share=st.floats(0.02, 0.999),
    ice=st.floats(0.01, 5.0),
    inert=st.floats(0.0, 0.1),
    shift=SHIFT,
)
def test_liquid_with_ice_keeps_its_ice(alkali: Alkali, share: float, ice: float, inert: float, shift: float) -> None:
    w = share * {"NaOH": 0.188, "KOH": 0.07}[alkali]
    amounts = Amounts(w, 1.0 - w + ice, inert)
    t = ice_line(alkali, w)
    heat = liquid_enthalpy(at_strength(alkali, w), t, shift) + ice * waters.ice_enthalpy(t)
    heat += inert * INERT_HEAT_CAPACITY * (t - 25.0)
    found = equilibrium(alkali, amounts, heat, shift=shift)
    assert found.temperature == pytest.approx(t, abs=1e-6)
    assert found.ice_mass == pytest.approx(ice, rel=1e-6)
    assert found.strength == pytest.approx(w, rel=1e-6)
    assert state_enthalpy(alkali, amounts, found, shift=shift) == pytest.approx(heat, rel=1e-10)


def test_ice_in_water_is_at_zero_and_melts_with_the_heat_there_is() -> None:
    # 1 kg water of 20 °C and 1 kg ice of 0 °C: 83.9 of 333.4 kJ/kg melt a quarter.
    heat = waters.enthalpy(20.0) + waters.ice_enthalpy(0.0)
    found = equilibrium("NaOH", Amounts(0.0, 2.0), heat)
    assert found.temperature == 0.0
    assert found.ice_mass == pytest.approx(1.0 - 83.97 / 333.42, abs=1e-3)


def test_ice_alone_keeps_its_temperature() -> None:
    found = equilibrium("KOH", Amounts(0.0, 3.0), 3.0 * waters.ice_enthalpy(-12.0))
    assert found.temperature == pytest.approx(-12.0, abs=1e-9)
    assert found.ice_mass == 3.0
    assert equilibrium("KOH", Amounts(0.0, 3.0), 3.1 * waters.ice_enthalpy(-30.0)).reason == TOO_COLD


def test_ice_beyond_the_eutectic_is_not_guessed() -> None:
    amounts = Amounts(0.15, 0.85)
    coldest = at_strength("NaOH", 0.188)
    liquid = 0.15 / 0.188
    heat = liquid * coldest.enthalpy(-28.0) + (1.0 - liquid) * waters.ice_enthalpy(-28.0)
    assert equilibrium("NaOH", amounts, heat + 1.0).ice_mass == pytest.approx(1.0 - liquid, abs=1e-4)
    assert equilibrium("NaOH", amounts, heat - 1.0) == State(None, None, None, BEYOND_ICE_LINE)


@pytest.mark.parametrize(
    ("alkali", "w", "t", "known"),
    [
        ("NaOH", 0.30, -5.0, True),  # supercooled: a hydrate would crystallise, no ice
        ("NaOH", 0.30, -27.9, True),
        ("NaOH", 0.30, -28.1, False),
        ("KOH", 0.10, -7.0, True),  # warmer than the upper limit of an uncertain freezing point
        ("KOH", 0.10, -7.6, False),
        ("KOH", 0.30, -27.9, True),
        ("KOH", 0.40, -28.1, False),
    ],
)
def test_cold_liquid_without_ice_is_known_only_where_there_can_be_no_ice(
    alkali: Alkali, w: float, t: float, known: bool
) -> None:
    found = equilibrium(alkali, Amounts(w, 1.0 - w), at_strength(alkali, w).enthalpy(t))
    assert (found.temperature is not None) is known
    assert (found.reason is None) is known


def test_a_positive_shift_means_more_heat() -> None:
    cooler, middle, hotter = (
        equilibrium("NaOH", Amounts(0.5, 0.5), 0.0, shift=shift).temperature for shift in (-1.0, 0.0, 1.0)
    )
    assert cooler is not None
    assert middle is not None
    assert hotter is not None
    # The error budget of the half-and-half mix: 4 K
    assert middle - cooler == pytest.approx(4.0, abs=0.3)
    assert hotter - middle == pytest.approx(4.0, abs=0.3)


@given(alkali=ALKALI, share=st.floats(0.0, 0.9), excess=st.floats(0.5, 40.0), inert=st.floats(0.0, 0.1), shift=SHIFT)
def test_what_boils_down_ends_at_its_boiling_point_with_heat_closed(
    alkali: Alkali, share: float, excess: float, inert: float, shift: float
) -> None:
    w = share * heats.HIGHEST_MASS_FRACTION[alkali]
    amounts = Amounts(w, 1.0 - w, inert)
    t = boiling_point(alkali, w) + excess
    heat = liquid_enthalpy(at_strength(alkali, w), t, shift) + inert * INERT_HEAT_CAPACITY * (t - 25.0)
    down = boil_down(alkali, amounts, heat, shift=shift)
    if down is None:
        # All the water that may leave takes off less than the excess.
        assert w > 0.7 * heats.HIGHEST_MASS_FRACTION[alkali]
        return
    left = Amounts(amounts.hydroxide, amounts.water - down.steam_mass, inert)
    assert 0.0 < down.steam_mass < 0.2
    assert down.temperature == pytest.approx(boiling_point(alkali, left.strength), abs=1e-9)
    rest = state_enthalpy(alkali, left, State(down.temperature, 0.0, left.strength, None), shift=shift)
    assert rest is not None
    assert rest + down.steam_enthalpy == pytest.approx(heat, abs=1e-9 * (abs(heat) + 1e5))
    assert down.steam_enthalpy == pytest.approx(down.steam_mass * waters.steam_enthalpy(down.temperature))


def test_a_balance_without_heat_is_closed_against_that_of_its_mass(monkeypatch: pytest.MonkeyPatch) -> None:
    """Strong potash that boils may hold as much heat as at the zero: rounding is of some 100 kJ/kg all the same."""
    scales = []

    def noted(function: Callable[[float], float], left: Place, right: Place, scale: float) -> float:
        scales.append(scale)
        return straight_root(function, left, right, scale)

    monkeypatch.setattr(module, "straight_root", noted)
    amounts = Amounts(48.0, 52.0)
    down = boil_down("KOH", amounts, 0.0)
    assert down is not None
    assert down.steam_mass > 0.0
    assert [scale / amounts.solution for scale in scales] == [pytest.approx(1e5, rel=0.5)]


def test_boiling_beyond_the_data_is_not_guessed() -> None:
    assert boil_down("KOH", Amounts(0.5, 0.5), at_strength("KOH", 0.5).enthalpy(180.0)) is None
    assert boil_down("KOH", Amounts(0.499, 0.501), at_strength("KOH", 0.499).enthalpy(180.0)) is None


def test_a_mixture_stronger_than_the_data_is_refused() -> None:
    with pytest.raises(OutOfRange):
        equilibrium("NaOH", Amounts(0.56, 0.44), 0.0)


def test_unknown_states_have_no_enthalpy() -> None:
    assert state_enthalpy("NaOH", Amounts(0.1, 0.9), State(None, None, None, TOO_COLD)) is None


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("w", [0.1, 0.2, 0.4])
@pytest.mark.parametrize("roundings", [-2, -1, 0, 1, 2])
def test_what_is_at_its_boiling_point_to_rounding_gives_off_no_steam(alkali: Alkali, w: float, roundings: int) -> None:
    amounts = Amounts(w, 1.0 - w, 0.01)
    heat = state_enthalpy(alkali, amounts, State(boiling_point(alkali, w), 0.0, w, None))
    assert heat is not None
    down = boil_down(alkali, amounts, heat * (1.0 + roundings * 2e-16))
    assert down is not None
    assert down.steam_mass == pytest.approx(0.0, abs=1e-12)
    assert down.temperature == pytest.approx(boiling_point(alkali, w), abs=1e-9)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("w", [0.003, 0.05, 0.065])
@pytest.mark.parametrize("off", [-1e-10, -1e-12, 0.0, 1e-12, 1e-10])
def test_what_is_on_the_ice_line_to_rounding_holds_no_ice(alkali: Alkali, w: float, off: float) -> None:
    amounts = Amounts(w, 1.0 - w, 0.01)
    freezes = ice_line(alkali, w)
    heat = state_enthalpy(alkali, amounts, State(freezes, 0.0, w, None))
    assert heat is not None
    for melted in (freezes - 1e-11, freezes - 1e-10):
        found = settle(alkali, at_strength(alkali, w), amounts, heat + off * 4e3, melted=melted)
        assert found.ice_mass == pytest.approx(0.0, abs=1e-9)
        assert found.temperature == pytest.approx(freezes, abs=1e-8)


@given(alkali=ALKALI, share=st.floats(0.0, 1.0), more=st.floats(0.0, 10.0), inert=st.floats(0.0, 1.0))
def test_amounts_add_up(alkali: Alkali, share: float, more: float, inert: float) -> None:
    amounts = Amounts(share, 0.1 + more, inert)
    assert amounts.total == pytest.approx(amounts.solution + amounts.inert, rel=1e-14)
    assert amounts.strength * amounts.solution == pytest.approx(amounts.hydroxide, rel=1e-14)
    assert (1.0 - amounts.strength) * amounts.solution == pytest.approx(amounts.water, rel=1e-12)
    assert Amounts(0.5, 0.5).total == 1.0


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("before_last", [0.3, 0.999])
def test_ice_is_known_to_the_last_point_of_its_line(alkali: Alkali, before_last: float) -> None:
    """The mixture's own strength lies between the last two points: a little of it freezes."""
    one, last = ICE_LINES[alkali].strengths[-2:]
    w = one + before_last * (last - one)
    ice = last / w - 1.0
    amounts = Amounts(last, 1.0 - last + ice)
    heat = state_enthalpy(alkali, amounts, State(ice_line(alkali, last), ice, last, None))
    assert heat is not None
    # A millijoule more, lest rounding put it beyond: it melts 3e-9 kg.
    found = equilibrium(alkali, amounts, heat + 1e-3)
    assert found.ice_mass == pytest.approx(ice, abs=1e-8)
    assert found.strength == pytest.approx(last, rel=1e-7)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_ice_is_known_on_either_side_of_each_point_of_its_line(alkali: Alkali) -> None:
    for point in ICE_LINES[alkali].strengths[1:-1]:
        for w in (point * 0.995, point, point * 1.005):
            amounts = Amounts(w, 1.0 - w + 0.5)
            given = State(ice_line(alkali, w), 0.5, w, None)
            heat = state_enthalpy(alkali, amounts, given)
            assert heat is not None
            found = equilibrium(alkali, amounts, heat)
            assert (found.temperature, found.ice_mass, found.strength) == pytest.approx(given[:3], abs=1e-8)


def test_ice_alone_is_known_down_to_where_its_heat_is() -> None:
    coldest = waters.ice_enthalpy(waters.COLDEST_ICE)
    found = equilibrium("NaOH", Amounts(0.0, 1.0), coldest)
    assert (found.temperature, found.ice_mass, found.reason) == (waters.COLDEST_ICE, 1.0, None)
    assert equilibrium("NaOH", Amounts(0.0, 1.0), coldest - 1e-3).reason == TOO_COLD


@pytest.mark.parametrize("melted", [0.0, 0.25, 1.0])
def test_water_and_ice_close_their_heat(melted: float) -> None:
    heat = 2.0 * (melted * waters.enthalpy(0.0) + (1.0 - melted) * waters.ice_enthalpy(0.0))
    found = equilibrium("KOH", Amounts(0.0, 2.0), heat)
    assert found.temperature == pytest.approx(0.0, abs=1e-9)
    assert found.ice_mass == pytest.approx(2.0 * (1.0 - melted), abs=1e-9)
    assert found.strength == 0.0


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("short_of", [1e-5, 1e-3, 0.02])
def test_boiling_down_is_known_to_the_strongest_solution(alkali: Alkali, short_of: float) -> None:
    ends = heats.HIGHEST_MASS_FRACTION[alkali] - short_of
    left, steam = Amounts(ends, 1.0 - ends, 0.02), 0.3
    t = boiling_point(alkali, ends)
    rest = state_enthalpy(alkali, left, State(t, 0.0, ends, None))
    assert rest is not None
    down = boil_down(alkali, left._replace(water=left.water + steam), rest + steam * waters.steam_enthalpy(t))
    assert down is not None
    assert down.temperature == pytest.approx(t, abs=1e-6)
    assert down.steam_mass == pytest.approx(steam, abs=1e-8)


def test_a_state_that_is_known_in_part_has_no_enthalpy() -> None:
    for some in (State(20.0, None, 0.1, "why"), State(None, 0.0, 0.1, "why"), State(20.0, 0.0, None, "why")):
        assert state_enthalpy("NaOH", Amounts(0.1, 0.9), some) is None


@given(alkali=ALKALI, t=st.floats(-25.0, -5.5), times=st.floats(0.1, 50.0))
def test_many_times_as_much_with_as_many_times_the_heat_is_as_cold(alkali: Alkali, t: float, times: float) -> None:
    one = Amounts(0.03, 0.97, 0.01)
    heat = at_strength(alkali, 0.03).enthalpy(t)
    here = equilibrium(alkali, one, heat)
    there = equilibrium(alkali, Amounts(*(times * mass for mass in one)), times * heat)
    assert (here.temperature, here.strength) == pytest.approx((there.temperature, there.strength), rel=1e-9)
    assert there.ice_mass == pytest.approx(times * (here.ice_mass or 0.0), rel=1e-9, abs=1e-9)
