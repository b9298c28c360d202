"""What is told of the place where parts meet: the balance there, its ends, and the upper edge that it lies on."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import enthalpy
from service.chemistry.blending import Part, part_enthalpy
from service.chemistry.meeting import Meeting, distance_to_boiling, hottest, upper_edge
from service.chemistry.molar_masses import Alkali
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width
from tests.chemistry.refusing import refused

ALKALIS: tuple[Alkali, ...] = ("NaOH", "KOH")
PARTS = st.builds(Part, st.floats(0.01, 100.0), st.floats(0.0, 0.5), st.floats(0.0, 110.0), st.just(False))
POINTS = st.lists(
    st.tuples(st.floats(0.0, 0.55).map(lambda w: round(w, 2)), st.floats(-1e5, 5e5)), min_size=1, max_size=12
)


def _balanced(alkali: Alkali, parts: list[Part], told: Meeting) -> None:
    """Masses and enthalpies of both parts, in the proportion told, are those of what is told."""
    one, other = parts[told.first], parts[told.second]
    assert told.share == 1.0 if told.first == told.second else 0.0 < told.share < 1.0
    w = told.share * one.mass_fraction + (1.0 - told.share) * other.mass_fraction
    assert told.mass_fraction == pytest.approx(w, abs=1e-12)
    heat = told.share * part_enthalpy(alkali, one) + (1.0 - told.share) * part_enthalpy(alkali, other)
    reached = enthalpy.at_strength(alkali, told.mass_fraction).enthalpy(told.temperature)
    assert reached == pytest.approx(heat, abs=1e-3)


@given(st.lists(PARTS, min_size=1, max_size=4), st.sampled_from(ALKALIS))
def test_the_places_told_are_in_balance_and_have_what_is_told_of_them(parts: list[Part], alkali: Alkali) -> None:
    found = hottest(alkali, parts)
    for told in (found.nearest, found.at):
        _balanced(alkali, parts, told)
    w, t = found.nearest.mass_fraction, found.nearest.temperature
    low = boiling_point(alkali, w) - boiling_point_half_width(alkali, w)
    assert found.boiling_margin == pytest.approx(low - t, abs=1e-9)
    assert found.temperature == min(found.at.temperature, boiling_point(alkali, found.at.mass_fraction))


@given(POINTS)
def test_no_point_lies_above_the_upper_edge_and_the_edge_bends_downwards(points: list[tuple[float, float]]) -> None:
    """By straight lines between its corners (numpy), and by what it is for: every corner is one of the points."""
    edge = upper_edge([(w, h, i) for i, (w, h) in enumerate(points)])
    strengths, heights = [w for w, *_ in edge], [h for _, h, _ in edge]
    assert all(points[i] == (w, h) for w, h, i in edge)
    assert strengths == sorted(set(strengths))
    assert (strengths[0], strengths[-1]) == (min(points)[0], max(points)[0])
    for w, h in points:
        assert h <= np.interp(w, strengths, heights) + 1e-6
    slopes = np.diff(heights) / np.diff(strengths)
    assert np.all(np.diff(slopes) < 0)


def test_what_lies_on_a_line_between_two_is_no_corner() -> None:
    points = [(0.0, 1.0, 0), (0.25, 2.0, 1), (0.5, 3.0, 2)]
    assert [i for *_, i in upper_edge(points)] == [0, 2]
    assert upper_edge(points[:1]) == points[:1]


@pytest.mark.parametrize("part", [Part(2.0, 0.3, 60.0), Part(2.0, 0.0, -5.0, ice=True)])
def test_a_part_by_itself_is_the_worst_there_is(part: Part) -> None:
    found = hottest("NaOH", [part])
    alone = Meeting(0, 0, 1.0, part.mass_fraction, part.temperature)
    assert (found.nearest, found.at, found.temperature) == (alone, alone, part.temperature)
    assert found.boiling_margin == distance_to_boiling("NaOH", part.mass_fraction, part.temperature)


def test_of_parts_of_nearly_one_strength_one_is_the_worst_as_it_is() -> None:
    parts = [Part(1.0, 0.3, 40.0), Part(1.0, 0.3002, 60.0), Part(1.0, 0.3, 50.0)]
    found = hottest("NaOH", parts)
    assert found.at == found.nearest == Meeting(1, 1, 1.0, 0.3002, 60.0)
    level = hottest("NaOH", [Part(1.0, 0.3, 60.0), Part(1.0, 0.3002, 60.0)])
    assert level.temperature == 60.0
    assert level.at.first == level.at.second


@pytest.mark.parametrize("cool", [5.0, 20.0, 40.0])
@pytest.mark.parametrize("hot", [90.0, 101.0, 113.0])
def test_hot_lye_beside_cool_water_is_the_hottest_as_it_is(cool: float, hot: float) -> None:
    """30 % gives off too little on diluting to make up for the cool water: no mixture is worse than the lye itself."""
    parts = [Part(1.0, 0.0, cool), Part(1.0, 0.3, hot)]
    found = hottest("NaOH", parts)
    assert found.at == Meeting(1, 1, 1.0, 0.3, hot)
    assert found.temperature == hot


@pytest.mark.parametrize(("weak", "strong"), [(0.0, 0.01), (0.201, 0.224), (0.49, 0.5)])
def test_between_strengths_near_each_other_the_middle_is_warmer_than_both(weak: float, strong: float) -> None:
    """Of two of 25 °C, by the heat of diluting that half of each gives off (`enthalpy_bend`)."""
    found = hottest("NaOH", [Part(1.0, weak, 25.0), Part(1.0, strong, 25.0)])
    liquid = enthalpy.at_strength("NaOH", 0.5 * (weak + strong))
    ends = [enthalpy.at_strength("NaOH", w).at_25 for w in (weak, strong)]
    middle = liquid.temperature(0.5 * sum(ends))
    assert middle > 25.0
    assert found.temperature >= middle - 1e-9
    assert found.temperature < 25.0 + 1.2 * (middle - 25.0)
    assert weak < found.at.mass_fraction < strong
    assert {found.at.first, found.at.second} == {0, 1}


def test_what_freezes_where_parts_meet_counts_as_nought_degrees() -> None:
    """Weak solution of -2 °C and ice: whatever lies between freezes, and the solution itself is no warmer than that."""
    parts = [Part(1.0, 0.1, -2.0), Part(1.0, 0.0, -20.0, ice=True)]
    found = hottest("NaOH", parts)
    assert found.temperature == 0.0
    weakest = distance_to_boiling("NaOH", 0.0, 0.0)
    assert weakest <= found.boiling_margin <= distance_to_boiling("NaOH", 0.1, 0.0)


@pytest.mark.parametrize(("alkali", "t"), [("NaOH", 128.7), ("KOH", 125.0)])
def test_of_what_boils_the_strongest_that_boils_is_the_hottest(alkali: Alkali, t: float) -> None:
    """It is where the balance of both meets the boiling point: what is a little stronger comes to less than boiling."""
    parts = [Part(1.0, 0.5, t), Part(1.0, 0.0, 84.0)]
    found = hottest(alkali, parts)
    assert found.boiling_margin < 0
    boiling = boiling_point(alkali, found.at.mass_fraction)
    assert found.temperature == pytest.approx(min(boiling, found.at.temperature), abs=1e-9)
    heats = [part_enthalpy(alkali, one) for one in parts]
    highest = -1e9
    for share in np.linspace(0.0, 1.0, 2001):
        w = 0.5 * float(share)
        met = enthalpy.at_strength(alkali, w).temperature(float(share) * heats[0] + (1.0 - float(share)) * heats[1])
        highest = max(highest, min(met, boiling_point(alkali, w)))
    assert found.temperature == pytest.approx(highest, abs=0.03)


@pytest.mark.parametrize(("alkali", "strongest"), [("NaOH", 0.55), ("KOH", 0.50)])
def test_the_distance_counts_from_the_lower_end_of_the_boiling_point(alkali: Alkali, strongest: float) -> None:
    """Water boils at 99.974 °C at 1 atm (BIPM, International Temperature Scale of 1990), within the interval told."""
    assert -2.0 * boiling_point_half_width(alkali, 0.0) <= distance_to_boiling(alkali, 0.0, 99.974) <= 0.0
    for w in (0.0, 0.2, strongest):
        low = boiling_point(alkali, w) - boiling_point_half_width(alkali, w)
        assert distance_to_boiling(alkali, w, low) == pytest.approx(0.0, abs=1e-9)
        assert distance_to_boiling(alkali, w, low - 7.0) == pytest.approx(7.0)
    for w in (-0.01, strongest + 0.001):
        with refused("mass_fraction", 0.0, strongest):
            distance_to_boiling(alkali, w, 20.0)
