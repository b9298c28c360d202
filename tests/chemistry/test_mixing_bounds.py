"""The ends of a mixing without its path: the same as the path has them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry.dilution import dilute
from service.chemistry.errors import OutOfRange
from service.chemistry.mixing import mix
from service.chemistry.mixing_bounds import bounds, dilutes_below
from service.chemistry.mixing_records import Charge, Ice, Solid, Stock, Water
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
    """Ice at the start, ice all the way, boiling and losses among them."""
    water = purity / w - 1.0
    charge = Charge(Water((1.0 - frozen) * water, 20.0), Ice(frozen * water, -5.0, 0.2), stock)
    solid = Solid(alkali, 1.0, 20.0, purity)
    found = bounds(solid, charge, points=12, loss_joules=lost, enthalpy_shift=shift, boiling_shift=boiling)
    path = mix(solid, charge, points=12, loss_joules=lost, enthalpy_shift=shift, boiling_shift=boiling)
    for name in (
        "temperature",
        "peak_temperature",
        "adiabatic_temperature",
        "boiling_margin",
        "solution_strength",
        "heat_released",
    ):
        ours, theirs = getattr(found, name), getattr(path, name)
        assert ours == (None if theirs is None else pytest.approx(theirs, rel=1e-9, abs=1e-9)), name
    assert found.peak_share == (None if path.peak_share is None else pytest.approx(path.peak_share, abs=1e-6))
    assert (found.boils, found.beyond_data) == (path.boils, path.beyond_data)
    assert found.highest_boiling_point == pytest.approx(max(point.boiling_point for point in path.path), abs=1e-9)


@pytest.mark.parametrize("points", [1, 1001])
def test_a_path_without_two_ends_is_none(points: int) -> None:
    with pytest.raises(OutOfRange):
        bounds(Solid("NaOH", 1.0), Charge(Water(3.0, 20.0)), points=points)


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
