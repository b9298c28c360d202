"""Heats of a batch before it reacts: what its parts bring, take up and melt, and how far each may lie."""

from collections.abc import Callable

import pytest

from service.chemistry import enthalpy
from service.chemistry.batch_blend import HEAT_OF_FUSION, Blend, Liquid, Melting, Warm, meet, meet_melting
from service.chemistry.blending import Part, blend, part_enthalpy
from service.chemistry.errors import OutOfRange
from service.chemistry.food_heat import FAT, Dry, heat_of
from service.chemistry.molar_masses import Alkali
from service.chemistry.water import enthalpy as water_enthalpy
from service.chemistry.water import heat_capacity as water_capacity
from tests.chemistry.refusing import hold_to_ends

LYE = Part(0.27, 0.5, 22.0)
OIL = Warm(1.0, 45.0)
DRY = Dry(0.02, 0.03, 0.04, 0.01, 0.005)
"""What is in an invented liquid beside its water [kg]."""
COOL = Liquid(0.3, DRY, 8.0)
FROZEN = Liquid(0.3, DRY, -6.0, ice=0.2)
SHARES = [0.0, 0.3, 1.0]
ALKALIS: tuple[Alkali, ...] = ("NaOH", "KOH")


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("share", SHARES)
def test_a_heat_capacity_is_the_slope_of_the_enthalpy(alkali: Alkali, share: float) -> None:
    found = Blend(alkali, LYE, [OIL, Warm(0.5, 30.0)], [COOL], acid_heat=500.0)
    for t in (-10.0, 20.0, 70.0):
        slope = (found.enthalpy(t + 0.01, share) - found.enthalpy(t - 0.01, share)) / 0.02
        assert found.capacity(t, share) == pytest.approx(slope, rel=1e-6)


@pytest.mark.parametrize("share", SHARES)
def test_the_enthalpy_is_the_sum_of_its_parts_apart_and_together(share: float) -> None:
    """The parts for themselves (`food_heat`, `enthalpy`), what is thinned as `blending.blend` has it."""
    found = Blend("NaOH", LYE, [OIL, Warm(0.5, 30.0)], [COOL, FROZEN])
    t = 33.0
    fats = 1.5 * FAT.enthalpy(t) + 2.0 * heat_of(DRY).enthalpy(t)
    stock, water = part_enthalpy("NaOH", LYE._replace(temperature=t)), water_enthalpy(t)
    whole = Part(0.87, 0.135 / 0.87, t)
    apart, together = 0.27 * stock + 0.6 * water, 0.87 * part_enthalpy("NaOH", whole)
    assert found.enthalpy(t, share) == pytest.approx(fats + (1.0 - share) * apart + share * together, abs=0.1)
    assert together - apart == pytest.approx(
        -blend("NaOH", [LYE._replace(temperature=25.0), Part(0.6, 0.0, 25.0)]).heat_released, rel=0.05
    )


def test_what_is_known_of_a_batch_is_that_of_all_its_parts() -> None:
    found = Blend("KOH", LYE, [OIL, Warm(0.5, 30.0)], [COOL, FROZEN])
    assert found.fat_mass == 1.5
    assert found.water == pytest.approx(0.6)
    assert found.ice == pytest.approx(0.2)
    assert found.thinned == pytest.approx(0.135 / 0.87)
    assert found.heat_of_fusion == pytest.approx(333.4e3, rel=1e-3)  # IAPWS R10-06
    brought = 0.27 * part_enthalpy("KOH", LYE) + sum(map(found.liquid_heat, (COOL, FROZEN)))
    assert found.beside == pytest.approx(brought)
    assert found.brought == pytest.approx(brought + FAT.enthalpy(45.0) + 0.5 * FAT.enthalpy(30.0))
    assert Blend("KOH", LYE, [], [COOL], fat_mass=2.0).fat_mass == 2.0


def test_a_liquid_brings_the_heat_of_its_water_and_of_what_is_in_it() -> None:
    found = Blend("NaOH", LYE, [OIL], [])
    heat = 0.3 * water_enthalpy(8.0) + heat_of(DRY).enthalpy(8.0)
    assert found.liquid_heat(COOL) == pytest.approx(heat, abs=0.1)
    assert found.liquid_capacity(COOL) == pytest.approx(0.3 * water_capacity(8.0) + heat_of(DRY).capacity(8.0))


def test_ice_in_a_liquid_lacks_the_heat_that_melts_it() -> None:
    """333.4 kJ/kg at 0 °C (IAPWS R10-06); its heat capacity 2.10 kJ/(kg K) at 0 °C, 2.07 at -6 °C (the same)."""
    found = Blend("NaOH", LYE, [OIL], [])
    thawed, frozen = Liquid(0.3, DRY, 0.0), Liquid(0.3, DRY, 0.0, ice=0.2)
    assert found.liquid_heat(thawed) - found.liquid_heat(frozen) == pytest.approx(0.2 * 333.4e3, rel=1e-3)
    colder = found.liquid_heat(FROZEN._replace(temperature=-5.5)) - found.liquid_heat(FROZEN._replace(temperature=-6.5))
    assert found.liquid_capacity(FROZEN) == pytest.approx(colder, rel=1e-3)
    supercooled = Liquid(0.1, DRY, -6.0)
    assert found.liquid_capacity(FROZEN) - found.liquid_capacity(supercooled) == pytest.approx(0.2 * 2070, rel=0.01)


@pytest.mark.parametrize("share", SHARES)
def test_acids_give_their_heat_off_as_far_as_the_stock_reaches_them(share: float) -> None:
    """As much as the same heat that comes to the batch from elsewhere."""
    sour, plain = Blend("NaOH", LYE, [OIL], [COOL], acid_heat=2e3), Blend("NaOH", LYE, [OIL], [COOL])
    assert meet(sour, share).temperature == pytest.approx(meet(plain, share, share * 2e3).temperature, abs=1e-9)


@pytest.mark.parametrize("share", SHARES)
def test_heat_from_elsewhere_lets_the_fats_be_cooler_by_as_much(share: float) -> None:
    found = Blend("NaOH", LYE, [], [COOL], fat_mass=1.5)
    plain, less = found.fats_needed(40.0, share), found.fats_needed(40.0, share, 3e3)
    assert 1.5 * (FAT.enthalpy(plain) - FAT.enthalpy(less)) == pytest.approx(3e3)
    made = Blend("NaOH", LYE, [Warm(1.5, less)], [COOL])
    assert meet(made, share, 3e3).temperature == pytest.approx(40.0, abs=1e-9)


def test_a_search_for_a_temperature_stays_between_its_ends() -> None:
    """From 200 °C below nought to 300 °C above (numerical)."""
    found = Blend("NaOH", LYE, [OIL], [])
    assert found.temperature_of(1e9, 0.0) == 300.0
    assert found.temperature_of(-1e9, 0.0) == -200.0
    for t in (-25.0, 35.0, 190.0):
        assert found.temperature_of(found.enthalpy(t, 0.0), 0.0) == pytest.approx(t, abs=1e-9)


@pytest.mark.parametrize("t", [-20.0, 35.0, 180.0])
def test_a_search_for_a_temperature_ends_as_soon_as_it_is_found(t: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """Heat capacities hardly change, so that Newton's method squares what is missing: a handful of steps is plenty."""
    found = Blend("NaOH", LYE, [OIL], [COOL])
    heat, asked, enthalpy_of = found.enthalpy(t, 1.0), [], found.enthalpy

    def counted(here: float, share: float) -> float:
        asked.append(here)
        return enthalpy_of(here, share)

    monkeypatch.setattr(found, "enthalpy", counted)
    assert found.temperature_of(heat, 1.0) == pytest.approx(t, abs=1e-9)
    assert len(asked) <= 8


def test_ice_melts_to_the_last_before_it_gets_warmer() -> None:
    """The heat that the ice lacks is given in parts: none, half, all but a little, and a little more than all."""
    found = Blend("NaOH", LYE, [Warm(1.0, 0.0)], [Liquid(0.3, DRY, 0.0, ice=0.2)])
    cold = found.enthalpy(0.0, 0.0) - 0.2 * found.heat_of_fusion - found.brought
    melting = 0.2 * found.heat_of_fusion
    for part in (0.0, 0.5, 0.999):
        met = meet(found, 0.0, cold + part * melting)
        assert met.temperature == 0.0
        assert met.ice == pytest.approx(0.2 * (1.0 - part), abs=1e-9)
    met = meet(found, 0.0, cold + 1.01 * melting)
    assert met.ice == 0.0
    assert met.temperature == pytest.approx(0.01 * melting / found.capacity(0.0, 0.0), rel=1e-3)
    with pytest.raises(OutOfRange, match="freezes"):
        meet(found, 0.0, cold - 1.0)


@pytest.mark.parametrize(("liquids", "low"), [([COOL], 0.0), ([], -28.0)])
def test_a_batch_ends_where_its_water_freezes_or_the_data_on_its_stock_do(liquids: list[Liquid], low: float) -> None:
    found = Blend("NaOH", LYE, [OIL], liquids)

    def warmed_to(t: float) -> float:
        return meet(found, 0.0, found.enthalpy(t, 0.0) - found.brought).temperature

    for inside in (low + 1e-6, 200.0 - 1e-6):
        assert warmed_to(inside) == pytest.approx(inside, abs=1e-9)
    for outside in (low - 0.1, low - 1e-5, 200.1):
        with pytest.raises(OutOfRange) as caught:
            warmed_to(outside)
        told = caught.value
        assert (told.quantity, told.high) == ("temperature", 200.0)
        assert outside > 200.0 or told.low == low
        assert told.value == pytest.approx(outside, abs=1e-9)


OF: tuple[tuple[str, Callable[[float], object], float, float], ...] = (
    ("mass", lambda mass: Blend("NaOH", LYE._replace(mass=mass), [OIL], []), 1e-12, 1e9),
    ("temperature", lambda t: Blend("NaOH", LYE._replace(temperature=t), [OIL], []), -28.0, 200.0),
    ("temperature", lambda t: Blend("NaOH", LYE, [OIL, Warm(1.0, t)], []), -40.0, 150.0),
    ("temperature", lambda t: Blend("NaOH", LYE, [OIL], [COOL, Liquid(0.1, DRY, t, 0.1 * (t < 0))]), -28.0, 100.0),
    ("temperature", lambda t: Blend("NaOH", LYE, [], [], fat_mass=1.0).fats_needed(t, 0.0), 0.0, 100.0),
    ("mass_fraction", lambda w: Blend("NaOH", LYE._replace(mass_fraction=w), [OIL], []), 0.0, 0.55),
)


@pytest.mark.parametrize(("quantity", "of", "low", "high"), OF)
def test_ranges_hold_to_their_ends_and_no_further(
    quantity: str, of: Callable[[float], object], low: float, high: float
) -> None:
    hold_to_ends(quantity, of, low, high)


def test_fats_that_are_needed_stay_where_fats_are_known() -> None:
    found = Blend("NaOH", LYE, [], [COOL], fat_mass=1e-3)
    assert found.fats_needed(90.0, 0.0) == 150.0
    assert found.fats_needed(1.0, 1.0) == -40.0


def test_fat_that_sets_gives_nothing_back_and_melts_no_further_than_all_of_it() -> None:
    part = Melting(1.0, 32.0, 30.0, 34.0)
    assert [part.melted(t) for t in (-20.0, 30.0, 32.0)] == [0.0, 0.0, 0.0]
    assert [part.melted(t) for t in (33.0, 34.0, 90.0)] == pytest.approx([0.25, 0.5, 0.5])
    assert Melting(1.0, 10.0, 30.0, 34.0).melted(31.0) == pytest.approx(0.25)


def test_a_melting_point_told_as_one_figure_is_spread_over_a_kelvin() -> None:
    point = Melting(1.0, 10.0, 30.0, 30.0)
    assert [point.melted(t) for t in (30.0, 30.25, 31.0)] == pytest.approx([0.0, 0.25, 1.0])


def test_heat_of_fusion_of_fats_is_about_that_of_cocoa_butter() -> None:
    """Cocoa butter takes 150 to 160 kJ/kg (from memory)."""
    assert 145e3 <= HEAT_OF_FUSION <= 160e3


def test_fats_melt_as_far_as_the_heat_of_the_batch_goes() -> None:
    """The balance with the heat of melting, for two that set at different temperatures; none melts: no change."""
    found = Blend("NaOH", LYE, [Warm(0.7, 50.0), Warm(0.2, 20.0), Warm(0.1, 15.0)], [])
    fats = [Melting(0.2, 20.0, 30.0, 34.0), Melting(0.1, 15.0, 24.0, 28.0)]
    t = meet_melting(found, 0.0, fats)
    gone = HEAT_OF_FUSION * sum(one.mass * one.melted(t) for one in fats)
    assert gone > 0
    assert found.enthalpy(t, 0.0) + gone == pytest.approx(found.brought, rel=1e-9)
    plain = meet(found, 0.0).temperature
    assert t < plain
    assert meet_melting(found, 0.0, [Melting(0.2, 20.0, plain, plain + 4.0)]) == plain


def test_so_much_fat_melts_that_all_but_a_little_of_the_warmth_goes() -> None:
    """1 kg of fat at its melting point beside little that is warm: it stays between where it begins and has melted."""
    found = Blend("NaOH", Part(0.01, 0.5, 40.0), [Warm(1.0, 30.0), Warm(0.1, 60.0)], [])
    t = meet_melting(found, 0.0, [Melting(1.0, 30.0, 30.0, 30.0)])
    assert 30.0 < t < 30.1


@pytest.mark.parametrize("alkali", ALKALIS)
def test_stock_and_water_alone_come_to_what_a_dilution_does(alkali: Alkali) -> None:
    """Without fats, with all of the heat of diluting given off: the balance of `blending.blend`."""
    found = Blend(alkali, Part(1.0, 0.4, 30.0), [], [Liquid(0.6, Dry(), 12.0)])
    whole = blend(alkali, [Part(1.0, 0.4, 30.0), Part(0.6, 0.0, 12.0)])
    assert meet(found, 1.0).temperature == pytest.approx(whole.state.temperature, abs=1e-6)
    assert found.enthalpy(25.0, 0.0) - found.enthalpy(25.0, 1.0) == pytest.approx(whole.heat_released, rel=1e-9)
    assert found.enthalpy(25.0, 1.0) == pytest.approx(1.6 * enthalpy.enthalpy(alkali, 0.25, 25.0))
