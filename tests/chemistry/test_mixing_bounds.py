"""The ends of a mixing without its path: those that the path has, were it as fine as may be."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.chemistry.dilution import dilute
from service.chemistry.mixing import mix
from service.chemistry.mixing_bounds import bounds, dilutes_below
from service.chemistry.mixing_records import Charge, Ice, Mixing, Solid, Stock, Water
from service.chemistry.molar_masses import Alkali
from service.chemistry.vapour_pressure import LOWEST_BOILING_POINT, boiling_point, boiling_point_half_width

ALKALIS: st.SearchStrategy[Alkali] = st.sampled_from(["NaOH", "KOH"])
HIGHEST: dict[Alkali, float] = {"NaOH": 0.55, "KOH": 0.50}


@given(
    ALKALIS,
    st.floats(0.02, 0.49),
    st.floats(0.0, 1.0),
    st.sampled_from([None, Stock(0.5, 0.01, 15.0), Stock(2.0, 0.4, 30.0)]),
    st.floats(0.9, 1.0),
    st.sampled_from([-1.0, 0.0, 1.0]),
    st.sampled_from([0.0, 1.0]),
    st.sampled_from([0.0, 5e4]),
)
def test_the_ends_are_those_of_the_path(
    alkali: Alkali,
    w: float,
    frozen: float,
    stock: Stock | None,
    purity: float,
    shift: float,
    boiling: float,
    lost: float,
) -> None:
    """Ice at the start, ice all the way, boiling and losses among them; to what the function says of itself."""
    water = purity / w - 1.0
    charge = Charge(Water((1.0 - frozen) * water, 20.0), Ice(frozen * water, -5.0, 0.2), stock)
    solid = Solid(alkali, 1.0, 20.0, purity)
    before = (0.0, 0.0) if stock is None else (stock.mass * stock.mass_fraction, stock.mass)
    assume((purity + before[0]) / (purity + water + before[1]) <= HIGHEST[alkali])
    found = bounds(solid, charge, loss_joules=lost, enthalpy_shift=shift, boiling_shift=boiling)

    def path(points: int) -> Mixing:
        return mix(solid, charge, points=points, loss_joules=lost, enthalpy_shift=shift, boiling_shift=boiling)

    fine, coarse = path(400), path(12)
    known = fine.peak_temperature is not None and fine.peak_temperature > 0.0
    smooth = known and not (fine.boils or coarse.boils)
    for name, room in (
        ("temperature", 1e-9),
        ("peak_temperature", 2e-3),
        ("adiabatic_temperature", 1e-9),
        ("boiling_margin", 2e-2),
        ("solution_strength", 1e-12),
        ("heat_released", 1e-6),
    ):
        ours, theirs = getattr(found, name), getattr(fine if smooth else coarse, name)
        within = room if smooth else 1e-9
        assert ours == (None if theirs is None else pytest.approx(theirs, rel=1e-9, abs=within)), name
    assert (found.boils, found.beyond_data) == ((False, None) if smooth else (coarse.boils, coarse.beyond_data))
    highest = max(point.boiling_point or 0.0 for point in (fine if smooth else coarse).path)
    assert found.highest_boiling_point == pytest.approx(highest, abs=1e-9)


def test_what_is_not_asked_for_is_left_out_and_changes_nothing() -> None:
    solid, charge = Solid("NaOH", 1.0), Charge(Water(2.0, 20.0))
    with_margin, without = bounds(solid, charge, boiling_shift=1.0), bounds(solid, charge)
    assert without.boiling_margin is None
    assert without == with_margin._replace(boiling_margin=None)


@pytest.mark.parametrize("w", [0.2, 0.35, 0.5])
@pytest.mark.parametrize("t", [20.0, 45.0])
def test_a_peak_does_not_hang_on_the_points_of_its_path(w: float, t: float) -> None:
    """Seven points or eight hundred, or the path that is answered: to 0.002 K, where a thermometer tells 1 K."""
    solid, charge = Solid("NaOH", 1.0, t), Charge(Water(1.0 / w - 1.0, t), None, Stock(0.5, 0.3, t))
    peaks = [mix(solid, charge, points=points).peak_temperature for points in (7, 14, 30, 50, 800)]
    peaks.append(bounds(solid, charge).peak_temperature)
    assert all(one == pytest.approx(peaks[4], abs=2e-3) for one in peaks)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_no_lower_end_of_a_boiling_point_lies_below_the_lowest(alkali: Alkali) -> None:
    """And it rises with the strength, on which the search for the least distance from boiling rests."""
    strengths = [HIGHEST[alkali] * place / 500 for place in range(501)]
    ends = [boiling_point(alkali, w) - boiling_point_half_width(alkali, w) for w in strengths]
    assert ends == sorted(ends)
    assert LOWEST_BOILING_POINT < ends[0] < 100


@given(ALKALIS, st.floats(0.02, 0.49), st.floats(0.0, 95.0), st.floats(0.0, 95.0), st.floats(30.0, 140.0))
def test_what_stays_below_a_temperature_is_no_hotter_when_it_is_diluted(
    alkali: Alkali, w: float, t: float, water: float, limit: float
) -> None:
    hottest = max(dilute(alkali, (1.0, w, t), (more, water)).hottest for more in (0.05, 0.2, 0.5, 1.0, 3.0, 20.0))
    below = dilutes_below(alkali, Stock(1.0, w, t), Water(1.0, water), limit)
    assert not below or hottest < limit + 2
    assert below or max(hottest, t, water) > limit - 2
