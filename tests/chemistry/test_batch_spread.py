"""What models leave open of a batch's temperature, what its stock changes of it, and where its liquids freeze."""

import pytest

from service.chemistry import enthalpy
from service.chemistry.batch_blend import Blend, Liquid, Warm
from service.chemistry.batch_spread import (
    CRYOSCOPIC,
    freezing_point,
    heat_per_mass_of_stock,
    heat_per_strength,
    model_half_width,
    unfrozen_share,
)
from service.chemistry.blending import Part, balance_half_width, enthalpy_slope
from service.chemistry.food_heat import FAT, Dry, acid_spread, heat_of
from service.chemistry.molar_masses import Alkali
from service.chemistry.water import enthalpy as water_enthalpy
from service.chemistry.water import ice_enthalpy
from tests.chemistry.refusing import refused

ALKALIS: tuple[Alkali, ...] = ("NaOH", "KOH")
DRY = Dry(0.1, 0.02, 0.2, 0.01)
"""What is in 1 kg of an invented liquid [kg]."""


def _batch(*, stock: float, fats: tuple[float, ...], liquid: float, w: float = 0.4) -> Blend:
    """Fats of 1 kg each, 0.5 kg of stock and 1 kg of liquid, by their temperatures."""
    return Blend("NaOH", Part(0.5, w, stock), [Warm(1.0, t) for t in fats], [Liquid(0.67, DRY, liquid)])


def test_a_fat_that_moves_alone_leaves_a_twentieth_of_its_heat_open() -> None:
    """5 % of heat capacities of fats (Morad et al. 2000, as `food_heat.SPREAD` has it)."""
    batch = _batch(stock=30.0, fats=(50.0,), liquid=30.0)
    heat = 0.05 * (FAT.enthalpy(50.0) - FAT.enthalpy(30.0))
    assert model_half_width(batch, 30.0, 0.0) == pytest.approx(heat / batch.capacity(30.0, 0.0))


def test_one_equation_for_all_fats_errs_alike_so_that_cool_and_warm_ones_make_up_for_each_other() -> None:
    """The warm one gives off what the cool one takes up, and of three as warm there is three times as much."""
    one, three = (_batch(stock=30.0, fats=(50.0,) * n, liquid=30.0) for n in (1, 3))
    whole = [model_half_width(batch, 30.0, 0.0) * batch.capacity(30.0, 0.0) for batch in (one, three)]
    assert whole[1] == pytest.approx(3.0 * whole[0])
    cool = FAT.temperature(2.0 * FAT.enthalpy(30.0) - FAT.enthalpy(50.0))
    assert model_half_width(_batch(stock=30.0, fats=(50.0, cool), liquid=30.0), 30.0, 0.0) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("warm", "cool"), [(80.0, 60.0), (150.0, 90.0), (70.0, 40.0), (45.0, 30.0)])
def test_a_free_acid_leaves_open_what_its_heat_capacity_does_on_the_way(warm: float, cool: float) -> None:
    """By trapezia under `acid_spread`; below 50 °C no more than a fat."""
    batch = Blend("NaOH", Part(0.5, 0.4, cool), [Warm(1.0, warm, acid=True)], [])
    steps = [cool + (warm - cool) * i / 20000 for i in range(20001)]
    width = (warm - cool) / 20000
    heat = width * (sum(acid_spread(t) for t in steps) - 0.5 * (acid_spread(warm) + acid_spread(cool)))
    found = model_half_width(batch, cool, 0.0) * batch.capacity(cool, 0.0)
    assert found == pytest.approx(heat, rel=1e-5)
    fat = 0.05 * (FAT.enthalpy(warm) - FAT.enthalpy(cool))
    assert found == pytest.approx(fat) if warm < 50.0 else found > 1.1 * fat


def test_what_acids_leave_open_is_added_to_what_all_fats_do() -> None:
    """A fat and an acid of 80 °C: both by the twentieth, and the acid by what is its own."""
    fat, acid = Warm(1.0, 80.0), Warm(1.0, 80.0, acid=True)
    alone, both, fats = (Blend("NaOH", Part(0.5, 0.4, 55.0), held, []) for held in ([acid], [fat, acid], [fat, fat]))
    found = [model_half_width(one, 55.0, 0.0) * one.capacity(55.0, 0.0) for one in (alone, both, fats)]
    assert found[1] == pytest.approx(found[0] + 0.5 * found[2])


@pytest.mark.parametrize("t", [-40.01, 150.01])
def test_heats_of_acids_are_known_where_those_of_fats_are(t: float) -> None:
    with refused("temperature", -40.0, 150.0):
        acid_spread(t)


def test_what_is_dissolved_leaves_a_twentieth_of_its_heat_open_and_water_nothing() -> None:
    batch = _batch(stock=30.0, fats=(30.0,), liquid=10.0)
    heat = 0.05 * (heat_of(DRY).enthalpy(30.0) - heat_of(DRY).enthalpy(10.0))
    assert model_half_width(batch, 30.0, 0.0) == pytest.approx(heat / batch.capacity(30.0, 0.0))


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_fats_what_is_dissolved_and_the_stock_err_independently(share: float) -> None:
    """By Pythagoras; the stock's heat errs as in a dilution to the strength that it comes to."""
    alone = [
        _batch(stock=20.0, fats=(45.0,), liquid=45.0),
        _batch(stock=20.0, fats=(60.0,), liquid=45.0),
        _batch(stock=20.0, fats=(45.0,), liquid=5.0),
    ]
    of_stock, with_fat, with_dry = (model_half_width(one, 45.0, share) ** 2 for one in alone)
    whole = _batch(stock=20.0, fats=(60.0,), liquid=5.0)
    assert model_half_width(whole, 45.0, share) ** 2 == pytest.approx(with_fat + with_dry - of_stock)
    after = Part(1.17, 0.2 / 1.17, 45.0) if share else Part(0.5, 0.4, 45.0)
    by_balance = balance_half_width("NaOH", [whole.stock], after) / whole.capacity(45.0, share)
    assert of_stock**0.5 == pytest.approx(by_balance)


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("w", [0.1, 0.3, 0.5])
def test_more_stock_brings_its_heat_and_has_to_be_warmed_and_diluted(alkali: Alkali, w: float) -> None:
    """Of a mixture the partial enthalpy is that of the whole and the slope over the strength (Gibbs and Duhem)."""
    batch = Blend(alkali, Part(0.5, w, 22.0), [Warm(1.0, 45.0)], [Liquid(0.3, DRY, 10.0)])
    brings = enthalpy.enthalpy(alkali, w, 22.0)
    undiluted = brings - enthalpy.enthalpy(alkali, w, 40.0)
    assert heat_per_mass_of_stock(batch, 40.0, 0.0) == pytest.approx(undiluted, rel=1e-6)
    thinned = 0.5 * w / 0.8
    rise = enthalpy.enthalpy(alkali, thinned, 40.0) + (w - thinned) * enthalpy_slope(alkali, thinned, 40.0)
    assert heat_per_mass_of_stock(batch, 40.0, 1.0) == pytest.approx(brings - rise, abs=3.0)
    half = heat_per_mass_of_stock(batch, 40.0, 0.5)
    assert half == pytest.approx(0.5 * (undiluted + heat_per_mass_of_stock(batch, 40.0, 1.0)), rel=1e-6)


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("w", [0.1, 0.3, 0.49])
def test_stronger_stock_brings_more_and_has_more_to_be_diluted(alkali: Alkali, w: float) -> None:
    """By the slopes over the strength at both temperatures; a difference over 1e-4 leaves half of its bend."""
    batch = Blend(alkali, Part(0.5, w, 22.0), [Warm(1.0, 45.0)], [Liquid(0.3, DRY, 10.0)])

    def slope(strength: float, t: float) -> float:
        return enthalpy_slope(alkali, strength - 5e-5, t)

    own = 0.5 * (slope(w, 22.0) - slope(w, 40.0))
    assert heat_per_strength(batch, 40.0, 0.0) == pytest.approx(own, rel=1e-4)
    diluted = 0.5 * (slope(w, 22.0) - enthalpy_slope(alkali, 0.5 * (w - 5e-5) / 0.8, 40.0))
    assert heat_per_strength(batch, 40.0, 1.0) == pytest.approx(diluted, rel=1e-4)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_water_for_a_stock_has_a_slope_too(alkali: Alkali) -> None:
    """Upwards: the first 0.01 % of hydroxide, all of it diluted before and after, so that only warmth is left."""
    batch = Blend(alkali, Part(0.5, 0.0, 22.0), [Warm(1.0, 45.0)], [])
    own = 0.5 * (enthalpy_slope(alkali, 0.0, 22.0) - enthalpy_slope(alkali, 0.0, 40.0))
    assert heat_per_strength(batch, 40.0, 0.0) == pytest.approx(own, rel=1e-6)
    assert heat_per_strength(batch, 40.0, 1.0) == pytest.approx(own, rel=1e-6)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_the_weakest_stocks_are_taken_upwards(alkali: Alkali) -> None:
    """Half a step above none, a step down would leave the range; by half of one more it is the slope there."""
    batch = Blend(alkali, Part(0.5, 5e-5, 22.0), [Warm(1.0, 45.0)], [])
    own = 0.5 * (enthalpy_slope(alkali, 1e-4, 22.0) - enthalpy_slope(alkali, 1e-4, 40.0))
    assert heat_per_strength(batch, 40.0, 0.0) == pytest.approx(own, rel=0.01)


def test_the_cryoscopic_constant_is_that_of_the_heat_of_fusion() -> None:
    """R T² M / L for a kilogram of water: R 8.314462618 J/(mol K) (CODATA 2018), 333.4 kJ/kg (IAPWS, as in `water`)."""
    fusion = water_enthalpy(0.0) - ice_enthalpy(0.0)
    assert pytest.approx(8.314462618 * 273.15**2 / fusion, abs=0.005) == CRYOSCOPIC


def test_a_litre_of_sugar_water_freezes_as_published() -> None:
    """Sucrose 10 %, 0.325 mol per kg of water: -0.63 °C (CRC Handbook, concentrative properties; from memory).

    The ideal law tells 0.605 K, a few per cent less: sucrose binds water.
    """
    assert freezing_point(0.9, 0.1 / 0.3423) == pytest.approx(-0.63, rel=0.05)


def test_the_freezing_point_goes_by_the_water_alone() -> None:
    assert freezing_point(1.0, 0.5) == pytest.approx(-1.86 * 0.5)
    assert freezing_point(0.25, 0.5) == pytest.approx(4.0 * freezing_point(1.0, 0.5))
    assert freezing_point(1e-6, 0.0) == 0.0
    for water in (0.9e-6, 1.0 + 1e-9):
        with refused("water", 1e-6, 1.0):
            freezing_point(water, 0.5)


def test_water_frozen_out_leaves_the_rest_as_strong_as_its_freezing_point_says() -> None:
    """Ideal law: what is left liquid freezes at the temperature itself, so its dissolved is as much per less water."""
    for freezing, t in ((-1.0, -2.0), (-3.0, -4.0), (-0.5, -4.0)):
        share = unfrozen_share(freezing, t)
        dissolved = -freezing / CRYOSCOPIC * 0.8
        assert freezing_point(0.8 * share, dissolved) == pytest.approx(t)


def test_water_that_protein_holds_is_never_less_than_a_tenth() -> None:
    """That proteins hold some is from memory, how much is a guess on the safe side."""
    assert unfrozen_share(-0.5, -30.0) == 0.1
    assert unfrozen_share(-0.5, -5.0) == pytest.approx(0.1)
    assert unfrozen_share(0.0, -1.0) == 0.0


@pytest.mark.parametrize(("freezing", "t", "share"), [(-0.9, -0.9, 0.1), (-0.9, -0.5, 0.1), (-1.0, -1.0, 1.0)])
def test_at_its_freezing_point_only_what_is_mostly_water_is_frozen_where_somebody_says_so(
    freezing: float, t: float, share: float
) -> None:
    """Mostly water is what begins to freeze above -1 °C (assumed)."""
    assert unfrozen_share(freezing, t) == share
