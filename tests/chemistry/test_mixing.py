"""The way of a mixing: balances, scaling, ice, boiling, losses and limits."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.chemistry import enthalpy as heats
from service.chemistry import mixing
from service.chemistry.equilibrium import BEYOND_ICE_LINE, BOILED_BEYOND_DATA
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import ice_line
from service.chemistry.mixing import Charge, Ice, Mixing, Solid, Stock, Water, mix
from service.chemistry.molar_masses import Alkali

HALF = (Solid("NaOH", 1.0), Charge(water=Water(1.0, 25.0)))
HALF_WITH_ICE = (Solid("NaOH", 1.0), Charge(ice=Ice(1.0)))
FLAKES = Solid("KOH", 1.0, 25.0, 0.9, 0.1)
WARM = (Solid("NaOH", 0.5, 25.0, 0.98, 0.01), Charge(water=Water(1.0, 45.0)))


@st.composite
def mixings(draw: st.DrawFn) -> tuple[Solid, Charge]:
    """Solids and contents as a workshop has them."""
    alkali: Alkali = draw(st.sampled_from(("NaOH", "KOH")))
    purity, moisture = draw(st.sampled_from(((1.0, 0.0), (0.98, 0.01), (0.9, 0.1), (0.95, 0.05))))
    w = draw(st.floats(0.05, 0.48))
    solid = Solid(alkali, w / purity, draw(st.floats(0.0, 40.0)), purity, moisture)
    rest = 1.0 - solid.mass_as_supplied
    ice, stock = draw(st.floats(0.0, 1.0)), draw(st.floats(0.0, 0.5))
    # Beside the solid a stock may bring no more caustic than leaves the whole at 50 %, inert matter apart.
    strongest = min((0.495 - w) / (rest * stock), 0.5) if rest * stock > 0.0 else 0.5
    return solid, Charge(
        water=Water(rest * (1.0 - ice) * (1.0 - stock), draw(st.floats(0.0, 60.0))),
        ice=Ice(rest * ice * (1.0 - stock), draw(st.floats(-25.0, 0.0)), draw(st.sampled_from((0.0, 0.3)))),
        stock=Stock(rest * stock, draw(st.floats(0.0, 1.0)) * strongest, draw(st.floats(10.0, 60.0))),
    )


def put_in(contents: Charge) -> float:
    water, ice, stock = contents
    return (water.mass if water else 0.0) + (ice.mass if ice else 0.0) + (stock.mass if stock else 0.0)


@given(
    given_mixing=mixings(),
    loss=st.floats(0.0, 0.15),
    shift=st.sampled_from([-1.0, 0.0, 1.0]),
)
def test_masses_and_heat_close(given_mixing: tuple[Solid, Charge], loss: float, shift: float) -> None:
    solid, contents = given_mixing
    found = mix(solid, contents, loss_fraction=loss, enthalpy_shift=shift)
    total = solid.mass_as_supplied + put_in(contents)
    assert found.mass + found.water_boiled_off == pytest.approx(total, rel=1e-12)
    balance = found.balance
    if balance.remaining is None:
        assert found.path[-1].reason is not None
    else:
        turned_over = sum(abs(x) for x in balance if x is not None) + abs(found.heat_released)
        out = balance.remaining + balance.steam + balance.lost
        assert abs(balance.contents + balance.solid - out) <= 1e-9 * turned_over
    # What is lost does not come back where diluting further takes heat up.
    assert found.heat_lost >= loss * max(found.heat_released, 0.0) * (1.0 - 1e-12)
    for point in found.path:
        if point.temperature is not None:
            assert point.boiling_point is not None
            assert point.temperature <= point.boiling_point + 1e-9
            assert point.reason is None
        else:
            assert point.reason


@given(given_mixing=mixings(), scale=st.sampled_from([1e-3, 25.0, 4000.0]))
def test_temperatures_do_not_depend_on_the_size_of_the_batch(given_mixing: tuple[Solid, Charge], scale: float) -> None:
    solid, contents = given_mixing
    water, ice, stock = contents
    assert water
    assert ice
    assert stock
    larger = Charge(
        water._replace(mass=scale * water.mass),
        ice._replace(mass=scale * ice.mass),
        stock._replace(mass=scale * stock.mass),
    )
    one = mix(solid, contents)
    other = mix(solid._replace(mass_as_supplied=scale * solid.mass_as_supplied), larger)
    for a, b in zip(one.path, other.path, strict=True):
        assert a.temperature == pytest.approx(b.temperature, abs=1e-6)
    assert one.heat_released * scale == pytest.approx(other.heat_released, rel=1e-9)
    assert one.water_boiled_off * scale == pytest.approx(other.water_boiled_off, rel=1e-6, abs=1e-9 * scale)


@given(
    given_mixing=mixings(),
    less=st.floats(0.0, 1.0),
    more=st.floats(0.0, 1.0),
    water=st.floats(0.0, 60.0),
    ice=st.floats(-20.0, 0.0),
)
def test_more_ice_in_the_same_water_never_raises_the_peak(
    given_mixing: tuple[Solid, Charge], less: float, more: float, water: float, ice: float
) -> None:
    assume(less < more)
    solid, contents = given_mixing
    rest = put_in(contents)
    with_less, with_more = (
        mix(solid, Charge(water=Water(rest * (1.0 - share), water), ice=Ice(rest * share, ice)))
        for share in (less, more)
    )
    assert with_less.peak_temperature is not None
    # All mixings that boil leave the boiling curve at the same strength and go the same way from there, so their peaks
    # are equal; in steps they leave it at one or the next, which is worth up to this much at 50 points.
    step = 0.02 if with_less.boils else 1e-6
    # Without any known temperature the whole way lies in the cold.
    peak = with_more.peak_temperature
    assert peak is None or peak <= with_less.peak_temperature + step


def test_path_has_the_points_asked_and_begins_with_the_contents() -> None:
    found = mix(*HALF, points=11)
    assert [point.solid_added_share for point in found.path] == pytest.approx([i / 10 for i in range(11)])
    assert found.path[0].temperature == pytest.approx(25.0)
    assert found.path[0].mass_fraction == 0.0
    assert found.path[-1].mass_fraction == 0.5
    assert found.path[-1].temperature == found.temperature == found.adiabatic_temperature


def test_peak_and_margin_are_found_between_the_points() -> None:
    coarse, fine = mix(*HALF, points=12), mix(*HALF, points=800)
    assert coarse.peak_temperature == pytest.approx(fine.peak_temperature, abs=0.02)
    assert coarse.boiling_margin == pytest.approx(fine.boiling_margin, abs=0.05)
    assert fine.boiling_margin_share == pytest.approx(0.52, abs=0.02)
    grid = max(point.temperature for point in coarse.path if point.temperature is not None)
    assert coarse.peak_temperature is not None
    assert coarse.peak_temperature > grid


def test_heat_released_is_the_heat_of_solution_less_the_bound_water() -> None:
    assert mix(*HALF).heat_released == pytest.approx(-heats.heat_of_solution("NaOH", 0.5))
    found = mix(FLAKES, Charge(water=Water(0.8, 25.0)))
    assert found.heat_released == pytest.approx(
        -0.9 * heats.heat_of_solution("KOH", 0.5) + 0.1 * heats.hydrate_enthalpy("KOH")
    )


def test_bound_water_keeps_caustic_potash_flakes_cool() -> None:
    # Taking the water in the flakes for free water overstates the temperature by some 50 K.
    bound = mix(FLAKES, Charge(water=Water(0.8, 25.0))).adiabatic_temperature
    free = mix(Solid("KOH", 0.9), Charge(water=Water(0.9, 25.0))).adiabatic_temperature
    assert bound is not None
    assert free is not None
    assert free - bound == pytest.approx(51.5, abs=1.0)


def test_diluting_a_stock_releases_heat_before_any_solid() -> None:
    found = mix(Solid("NaOH", 0.0), Charge(water=Water(2.0, 25.0), stock=Stock(3.0, 0.5, 25.0)))
    # 58.5 °C at 30 %, computed with a separate program of the same model
    assert found.path[0].temperature == found.path[-1].temperature == pytest.approx(58.5, abs=0.1)
    assert found.peak_share == 0.0
    assert found.heat_released > 0.0


def test_while_ice_remains_the_liquid_lies_on_the_ice_line() -> None:
    found = mix(*HALF_WITH_ICE)
    icy = [point for point in found.path if point.ice_mass and point.solid_added_share > 0]
    assert len(icy) >= 5
    for point in icy:
        assert point.liquid_mass_fraction is not None
        assert point.liquid_mass_fraction > point.mass_fraction
        assert point.temperature == pytest.approx(ice_line("NaOH", point.liquid_mass_fraction), abs=1e-9)
    assert found.ice_left == 0.0
    assert found.peak_share == 1.0


def test_ice_beyond_the_data_leaves_a_gap_and_nothing_later_hangs_on_it() -> None:
    contents = Charge(ice=Ice(0.8, -5.0))
    found = mix(FLAKES, contents)
    gap = [point for point in found.path if point.temperature is None]
    assert gap
    for point in gap:
        assert point.ice_mass is None
        assert point.liquid_mass_fraction is None
        assert point.reason == BEYOND_ICE_LINE
    assert found.temperature == pytest.approx(51.4, abs=0.1)
    assert mix(FLAKES, contents, points=2).temperature == pytest.approx(found.temperature, abs=1e-9)


def test_a_mixing_that_ends_in_the_gap_has_no_temperature() -> None:
    found = mix(Solid("KOH", 0.2), Charge(ice=Ice(0.8, -18.0)))
    assert found.temperature is found.adiabatic_temperature is found.ice_left is None
    assert found.balance.remaining is None
    assert found.peak_temperature is not None
    assert found.peak_temperature <= 0.0


def test_melted_ice_counts_as_water_at_zero() -> None:
    half_melted = mix(Solid("NaOH", 1.0), Charge(ice=Ice(1.0, -5.0, 0.5)))
    apart = mix(Solid("NaOH", 1.0), Charge(water=Water(0.5, 0.0), ice=Ice(0.5, -5.0)))
    assert half_melted.temperature == pytest.approx(apart.temperature)


def test_boiling_stays_on_the_boiling_curve_and_costs_water() -> None:
    found = mix(*WARM)
    assert found.boils
    assert found.water_boiled_off == pytest.approx(0.015, abs=0.002)
    boiling = [point for point in found.path if point.water_boiled_off > 0]
    for point in boiling:
        assert point.temperature == pytest.approx(point.boiling_point)
    assert found.peak_temperature == found.temperature
    assert found.adiabatic_temperature == pytest.approx(127.4, abs=0.1)
    assert found.boiling_margin == pytest.approx(-7.1, abs=0.2)
    assert [point.water_boiled_off for point in found.path] == sorted(point.water_boiled_off for point in found.path)


def test_water_of_35_degrees_brings_a_third_to_the_boil() -> None:
    # From the boiling curve: the margin of 7 K with water of 25 °C is gone if it is warmer than about 34 °C.
    assert not mix(Solid("NaOH", 1.0), Charge(water=Water(1.0, 32.0))).boils
    assert mix(Solid("NaOH", 1.0), Charge(water=Water(1.0, 36.0))).boils


def test_boiling_beyond_the_data_says_so_and_gives_lower_bounds() -> None:
    found = mix(Solid("KOH", 1.0), Charge(water=Water(1.0, 25.0)))
    assert found.beyond_data == found.path[-1].reason == BOILED_BEYOND_DATA
    assert found.boils
    assert found.temperature is None
    assert found.peak_temperature is not None
    assert 140.0 < found.peak_temperature < 145.0
    assert found.adiabatic_temperature == pytest.approx(180.4, abs=0.2)


def test_adiabatic_temperature_above_200_degrees_is_not_stated() -> None:
    assert mix(Solid("KOH", 1.0), Charge(water=Water(1.0, 60.0))).adiabatic_temperature is None


def test_heat_lost_cools_and_the_fraction_is_of_the_heat_released() -> None:
    plain, lossy = mix(*HALF), mix(*HALF, loss_fraction=0.05)
    assert lossy.heat_lost == pytest.approx(0.05 * plain.heat_released)
    assert lossy.adiabatic_temperature == pytest.approx(plain.adiabatic_temperature, abs=1e-9)
    assert plain.temperature is not None
    assert lossy.temperature is not None
    # 5 % of 299 kJ/kg over 3.2 kJ/(kg K)
    assert plain.temperature - lossy.temperature == pytest.approx(4.65, abs=0.1)
    in_joules = mix(*HALF, loss_joules=0.05 * plain.heat_released)
    assert in_joules.temperature == pytest.approx(lossy.temperature, abs=1e-9)


def test_shift_brackets_the_path() -> None:
    low, middle, high = (mix(*HALF, enthalpy_shift=shift) for shift in (-1.0, 0.0, 1.0))
    for a, b, c in zip(low.path[1:], middle.path[1:], high.path[1:], strict=True):
        assert a.temperature is not None
        assert b.temperature is not None
        assert c.temperature is not None
        assert a.temperature < b.temperature < c.temperature
    assert low.path[0].temperature == high.path[0].temperature


def test_a_stock_left_alone_keeps_its_temperature_whatever_the_shift() -> None:
    for shift in (-1.0, 1.0):
        found = mix(Solid("NaOH", 0.0), Charge(stock=Stock(1.0, 0.5, 60.0)), enthalpy_shift=shift)
        assert found.temperature == pytest.approx(60.0, abs=1e-9)


def test_strength_counts_inert_matter_in_the_whole_but_not_in_the_solution() -> None:
    found = mix(Solid("NaOH", 1.0, 25.0, 0.98, 0.01), Charge(water=Water(1.0, 25.0)))
    assert found.mass_fraction == pytest.approx(0.49)
    assert found.solution_strength == pytest.approx(0.98 / 1.99)


def test_inert_matter_takes_up_heat() -> None:
    pure = mix(Solid("NaOH", 0.9), Charge(water=Water(1.0, 25.0))).temperature
    with_inert = mix(Solid("NaOH", 1.0, 25.0, 0.9), Charge(water=Water(1.0, 25.0))).temperature
    assert pure is not None
    assert with_inert is not None
    # 0.1 kg of 1.1 kJ/(kg K) beside 1.9 kg of 3.3
    assert (with_inert - 25) / (pure - 25) == pytest.approx(1 / (1 + 0.11 / (1.9 * 3.28)), abs=0.002)


def test_liquid_below_the_first_solid_is_told() -> None:
    found = mix(Solid("NaOH", 0.0), Charge(stock=Stock(1.0, 0.5, 5.0)))
    assert all(point.supercooled for point in found.path)
    assert not any(point.supercooled for point in mix(*HALF_WITH_ICE).path[-10:])


@pytest.mark.parametrize(
    ("solid", "contents"),
    [
        (Solid("NaOH", 1.3), Charge(water=Water(1.0, 25.0))),
        (Solid("KOH", 1.01), Charge(water=Water(1.0, 25.0))),
        (Solid("NaOH", 1.0), Charge()),
        (Solid("NaOH", 1.0), Charge(water=Water(0.0, 25.0))),
        (Solid("NaOH", -1.0), Charge(water=Water(1.0, 25.0))),
        (Solid("NaOH", 1.0), Charge(water=Water(-1.0, 25.0))),
        (Solid("NaOH", 1.0), Charge(water=Water(1.0, -1.0))),
        (Solid("NaOH", 1.0), Charge(ice=Ice(1.0, 1.0))),
        (Solid("NaOH", 1.0), Charge(ice=Ice(1.0, 0.0, 1.1))),
        (Solid("NaOH", 0.1), Charge(stock=Stock(1.0, 0.6, 25.0))),
        (Solid("NaOH", 0.1), Charge(stock=Stock(1.0, 0.5, 201.0))),
        (Solid("NaOH", 1.0, 25.0, 0.0), Charge(water=Water(1.0, 25.0))),
        (Solid("NaOH", 1.0, 25.0, 0.95, 0.06), Charge(water=Water(1.0, 25.0))),
        (Solid("KOH", 1.0, 25.0, 0.7, 0.25), Charge(water=Water(1.0, 25.0))),
        (Solid("NaOH", 1.0, 200.0), Charge(water=Water(1.0, 25.0))),
    ],
)
def test_what_cannot_be_mixed_is_refused(solid: Solid, contents: Charge) -> None:
    with pytest.raises(OutOfRange):
        mix(solid, contents)


def test_moisture_up_to_the_monohydrate_is_taken() -> None:
    # 76.3 % KOH with 23.7 % water is just short of the monohydrate (75.7 %)
    assert mix(Solid("KOH", 1.0, 25.0, 0.763, 0.237), Charge(water=Water(1.0, 25.0))).temperature is not None


@pytest.mark.parametrize(
    "wrong", [{"points": 1}, {"loss_fraction": 1.1}, {"loss_joules": -1.0}, {"enthalpy_shift": 1.5}]
)
def test_wrong_settings_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        mix(*HALF, **wrong)  # type: ignore[arg-type]


def test_names_of_the_module_are_the_records_and_mix() -> None:
    assert set(mixing.__all__) == {"Balance", "Charge", "Ice", "Mixing", "PathPoint", "Solid", "Stock", "Water", "mix"}
    assert Mixing._fields[0] == "path"


def test_a_peak_between_the_last_two_points_is_found() -> None:
    """Few points and many find the same peak, where it lies just before the last of the solid."""
    few, many = (
        mix(Solid("NaOH", 0.443, 20.0), Charge(water=Water(0.557, 20.0)), points=points) for points in (12, 400)
    )
    assert many.peak_share is not None
    assert 1 - 1 / 11 < many.peak_share < 1.0
    assert few.peak_temperature == pytest.approx(many.peak_temperature, abs=0.005)


@pytest.mark.parametrize("points", [2, 3, 4])
@pytest.mark.parametrize(("solid", "t"), [(Solid("NaOH", 1.1, 20.0), 51.0), (Solid("KOH", 1.1, 20.0), 90.4)])
def test_few_points_far_apart_end_where_many_do(solid: Solid, t: float, points: int) -> None:
    contents = Charge(ice=Ice(1.0, -25.0), water=Water(0.2, 5.0))
    few, many = mix(solid, contents, points=points), mix(solid, contents)
    assert few.temperature == pytest.approx(many.temperature, abs=1e-9)
    assert few.temperature == pytest.approx(t, abs=0.1)
