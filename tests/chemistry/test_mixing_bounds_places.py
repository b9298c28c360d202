"""Where the ends of a mixing lie: places between its few points, at its ends, and beside ice that is left."""

import pytest

from service.chemistry import mixing_bounds
from service.chemistry.enthalpy import Strength
from service.chemistry.mixing import mix
from service.chemistry.mixing_bounds import bounds, dilutes_below
from service.chemistry.mixing_path import Vessel
from service.chemistry.mixing_records import Charge, Ice, Solid, Stock, Water
from service.chemistry.molar_masses import Alkali
from service.chemistry.vapour_pressure import boiling_point
from tests.chemistry.refusing import refused

LIQUID = [
    (Solid("NaOH", 1.0, 20.0), Charge(Water(1.04, 20.0))),
    (Solid("NaOH", 1.0, 20.0, 0.95, 0.03), Charge(Water(1.5, 15.0))),
    (Solid("KOH", 1.0, 20.0, 0.9, 0.1), Charge(Water(1.2, 20.0))),
    (Solid("KOH", 0.4, 20.0), Charge(Water(1.0, 10.0), Ice(0.2, -5.0))),
    (Solid("NaOH", 0.2, 20.0), Charge(Water(1.0, 10.0), None, Stock(1.0, 0.4, 60.0))),
    (Solid("NaOH", 0.2, 20.0), Charge(None, None, Stock(1.0, 0.3, 70.0))),
    (Solid("NaOH", 1.0, 20.0), Charge(Water(1.05, 5.0), None, Stock(1.0, 0.45, 20.0))),  # hottest just before its end
]


@pytest.mark.parametrize(("solid", "contents"), LIQUID)
@pytest.mark.parametrize("lost", [0.0, 3e4])
def test_what_neither_boils_nor_stays_frozen_needs_no_path(
    solid: Solid, contents: Charge, lost: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And tells what a fine path does, with the place of its peak, which is flat."""
    path = mix(solid, contents, points=80, loss_joules=lost, boiling_shift=1.0)
    monkeypatch.setattr(mixing_bounds, "mix", None)
    found = bounds(solid, contents, loss_joules=lost, boiling_shift=1.0)
    assert found.temperature == pytest.approx(path.temperature, abs=1e-9)
    assert found.peak_temperature == pytest.approx(path.peak_temperature, abs=2e-3)
    assert found.peak_share == pytest.approx(path.peak_share, abs=0.01)
    assert found.adiabatic_temperature == pytest.approx(path.adiabatic_temperature, abs=1e-9)
    assert found.boiling_margin == pytest.approx(path.boiling_margin, abs=0.02)
    assert bounds(solid, contents, loss_joules=lost).peak_temperature == found.peak_temperature


def test_of_a_level_way_the_peak_is_its_first_point() -> None:
    found = bounds(Solid("NaOH", 0.0), Charge(stock=Stock(1.0, 0.3, 40.0)))
    assert found.peak_share == 0.0
    assert found.peak_temperature == pytest.approx(40.0, abs=1e-9)


def test_boiling_between_two_points_is_seen() -> None:
    """Water of 45 °C boils by 0.36 K where 0.877 kg of this solid have met 1.667 kg of it; here between two points."""
    solid, contents = Solid("NaOH", 0.8786, 20.0, 0.9, 0.05), Charge(Water(1.2222, 45.0))
    path = mix(solid, contents, points=80)
    assert path.boils
    assert path.boiling_margin_share == pytest.approx(0.735, abs=0.01)
    assert bounds(solid, contents).boils
    assert bounds(solid, contents, boiling_shift=0.0).boils


def test_what_is_all_but_frozen_is_as_far_from_boiling_as_its_path() -> None:
    """A peak below 1 °C: weaker than the end, the ice at the start is nearer to boiling."""
    for ice in (0.3, 0.305):
        solid, contents = Solid("NaOH", 0.1, 0.0), Charge(Water(1.0 - ice, 0.0), Ice(ice, -5.0))
        path = mix(solid, contents, points=80)
        found = bounds(solid, contents, boiling_shift=0.0)
        assert path.peak_temperature is not None
        assert 0.0 < path.peak_temperature < 1.0
        assert found.boiling_margin == pytest.approx(path.boiling_margin, abs=0.02)


@pytest.mark.parametrize(("t", "ice"), [(20.0, 2.8), (-20.0, 2.4)])
def test_ice_at_the_start_counts_though_colder_brine_on_the_way_is_not_known(t: float, ice: float) -> None:
    solid, contents = Solid("KOH", 1.0, t), Charge(ice=Ice(ice, 0.0))
    path = mix(solid, contents, points=80, boiling_shift=0.0)
    assert any(point.temperature is None for point in path.path)
    assert path.boiling_margin_share == 0.0
    assert bounds(solid, contents, boiling_shift=0.0).boiling_margin == pytest.approx(path.boiling_margin, abs=1e-9)


def test_a_peak_is_sought_from_the_temperatures_beside_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """From the point before, which is near; where the water began is a hundred kelvins below."""
    found: list[tuple[float, float]] = []
    balance = Vessel.temperature

    def told(vessel: Vessel, share: float, liquid: Strength, start: float, lost: float = 0.0) -> float:
        found.append((start, balance(vessel, share, liquid, start, lost)))
        return found[-1][1]

    monkeypatch.setattr(Vessel, "temperature", told)
    peak = bounds(Solid("NaOH", 1.0, 20.0), Charge(Water(1.05, 5.0))).peak_temperature
    points, between = found[:7], found[7:]
    assert all(abs(start - t) < 20.0 for start, t in between)
    assert points[0][1] == pytest.approx(5.0, abs=1e-9)
    assert peak == max(t for _, t in between)


def test_a_stock_and_water_stay_below_a_temperature_that_both_of_them_do() -> None:
    """1 % of alkali warms nothing by more than 0.1 K: the hotter of both is the hottest of all they make."""
    stock, cold, hot = Stock(1.0, 0.01, 60.0), Water(1.0, 0.0), Water(1.0, 80.0)
    assert not dilutes_below("NaOH", stock, cold, 59.9)
    assert dilutes_below("NaOH", stock, cold, 60.1)
    assert not dilutes_below("NaOH", stock, hot, 79.9)
    assert dilutes_below("NaOH", stock, hot, 80.1)


def test_beyond_the_heats_of_solutions_nothing_is_told() -> None:
    stock, water = Stock(1.0, 0.3, 20.0), Water(1.0, 20.0)
    assert dilutes_below("NaOH", stock, water, 150.0)
    assert not dilutes_below("NaOH", stock, water, 0.0)
    for t in (-0.1, 150.1):
        with refused("temperature", 0.0, 150.0):
            dilutes_below("NaOH", stock, water, t)
    with refused("loss_joules", 0.0, 1e15):
        bounds(*LIQUID[0], loss_joules=-0.5)
    assert bounds(*LIQUID[0], loss_joules=0.5).temperature == pytest.approx(bounds(*LIQUID[0]).temperature, abs=1e-3)


def test_within_a_kelvin_of_boiling_no_path_is_needed_yet(monkeypatch: pytest.MonkeyPatch) -> None:
    """Water of 34 °C: between that of 20 °C, 11.7 K short of boiling, and that of 45 °C, which boils."""
    solid, contents = Solid("NaOH", 1.0, 20.0), Charge(Water(1.0408, 34.0))
    path = mix(solid, contents, points=80)
    assert path.boiling_margin is not None
    assert 0.1 < path.boiling_margin < 1.0
    monkeypatch.setattr(mixing_bounds, "mix", None)
    assert bounds(solid, contents).peak_temperature == pytest.approx(path.peak_temperature, abs=2e-3)


def test_of_what_stays_cool_only_the_end_is_asked_for_its_boiling_point(monkeypatch: pytest.MonkeyPatch) -> None:
    """Below 95 °C nothing boils, and most mixings are as cool."""
    asked: list[float] = []

    def told(alkali: Alkali, w: float) -> float:
        asked.append(w)
        return boiling_point(alkali, w)

    monkeypatch.setattr(mixing_bounds, "boiling_point", told)
    found = bounds(Solid("NaOH", 0.2, 20.0), Charge(Water(0.8, 20.0)))
    assert asked == [pytest.approx(0.2)]
    assert found.highest_boiling_point == boiling_point("NaOH", asked[0])


def test_nothing_is_lost_before_anything_has_been_released() -> None:
    """Cold inert matter with little alkali: hottest is the water as it is put in, however much is lost on the way."""
    found = bounds(Solid("NaOH", 1.0, 0.0, 0.05), Charge(Water(1.0, 90.0)), loss_joules=1e5)
    assert found.peak_share == 0.0
    assert found.peak_temperature == pytest.approx(90.0, abs=1e-6)
