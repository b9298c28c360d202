"""Propagation and coverage (JCGM 100:2008)."""

import math
from statistics import NormalDist

import numpy as np
import pytest

from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import (
    EXACT,
    Combined,
    Part,
    combine,
    coverage_factor,
    coverage_half_width,
    interval,
    net_weighing,
    normal,
    probability_below,
    rectangular,
    triangular,
)

NODES, WEIGHTS = np.polynomial.legendre.leggauss(200)
PHI = NormalDist().cdf


def share_below(limit: float, half_width: float, spread: float) -> float:
    """P(R + N < limit), by quadrature over the rectangle: independent of the closed form."""
    heights = [PHI((limit - half_width * node) / spread) for node in NODES]
    return float(np.dot(WEIGHTS, heights)) / 2


def rectangle_and_normal(half_width: float, spread: float) -> Combined:
    return combine([(1.0, rectangular(half_width)), (1.0, normal(spread))])


def test_standard_uncertainties_of_the_usual_distributions() -> None:
    # JCGM 100:2008, 4.3.7 (a / sqrt 3) and 4.3.9 (a / sqrt 6).
    assert rectangular(3.0) == pytest.approx((math.sqrt(3.0), 3.0))
    assert triangular(6.0) == pytest.approx((math.sqrt(6.0), 3.0))
    assert normal(0.7) == Part(0.7, 0.0)


def test_net_mass_has_the_step_of_the_scale_twice() -> None:
    # JCGM 100:2008, F.2.2.1: a step d has d / (2 sqrt 3) = 0.29 d; tare and gross make 0.408 d.
    step = rectangular(0.5)
    twice = combine([(1.0, step), (-1.0, step)])
    assert net_weighing(1.0) == pytest.approx(twice, rel=1e-14)
    assert net_weighing(1.0).standard_uncertainty == pytest.approx(0.408, abs=0.0005)


@pytest.mark.parametrize("distribution", [rectangular, triangular, normal, net_weighing])
@pytest.mark.parametrize("value", [-1e-9, math.nan, math.inf])
def test_impossible_uncertainty_is_refused(distribution: type[Part], value: float) -> None:
    with pytest.raises(OutOfRange):
        distribution(value)


def test_independent_contributions_add_as_squares() -> None:
    combined = combine([(2.0, normal(1.5)), (-4.0, normal(1.0)), (12.0, normal(1.0))])
    assert combined == pytest.approx((13.0, 0.0))


def test_widest_rectangle_is_judged_after_its_sensitivity() -> None:
    combined = combine([(1.0, rectangular(5.0)), (-10.0, rectangular(0.6)), (1.0, normal(50.0))])
    assert combined.widest_rectangular == pytest.approx(6.0)


def test_combined_uncertainty_may_be_combined_again() -> None:
    parts: list[tuple[float, Part]] = [(1.0, rectangular(1.0)), (2.0, rectangular(0.7)), (0.5, normal(0.4))]
    at_once = combine(parts)
    in_steps = combine([(1.0, combine(parts[:2])), (1.0, combine(parts[2:]))])
    assert in_steps == pytest.approx(at_once, rel=1e-14)


def test_one_rectangle_alone_is_covered_by_its_inner_95_percent() -> None:
    assert coverage_half_width(combine([(1.0, rectangular(2.0))])) == pytest.approx(1.9, rel=1e-12)


def test_normal_alone_is_covered_by_1_96_standard_uncertainties() -> None:
    assert coverage_half_width(combine([(1.0, normal(1.0))])) == pytest.approx(NormalDist().inv_cdf(0.975), rel=1e-12)


def test_triangle_is_covered_to_three_tenths_of_a_percent() -> None:
    # Its own 95 % reaches 1 - sqrt(0.05) of its half-width; a normal of its variance would say 0.800 instead.
    reach = coverage_half_width(combine([(1.0, triangular(1.0))]))
    assert 1 - (1 - reach) ** 2 == pytest.approx(0.9528, abs=5e-5)
    assert 1 - math.sqrt(0.05) < reach < 0.79


def test_what_is_exact_has_no_interval() -> None:
    assert interval(3.0, combine([(1.0, EXACT)])) == (3.0, 3.0)


@pytest.mark.parametrize("spread", [0.03, 0.05, 0.1, 0.2, 0.37, 0.7, 1.3, 3.0, 20.0])
def test_interval_covers_95_percent_of_a_rectangle_and_a_normal(spread: float) -> None:
    half_width = coverage_half_width(rectangle_and_normal(1.0, spread))
    covered = share_below(half_width, 1.0, spread) - share_below(-half_width, 1.0, spread)
    assert covered == pytest.approx(0.95, abs=1e-5)


def test_table_of_coverage_factors_is_good_to_a_ten_thousandth_everywhere() -> None:
    for number in range(1, 2000):
        spread = number / 2000
        half_width = math.sqrt(3.0 * (1.0 - spread**2))
        combined = Combined(1.0, half_width)
        factor = coverage_factor(combined)
        density = (PHI((factor + half_width) / spread) - PHI((factor - half_width) / spread)) / (2 * half_width)
        assert abs(probability_below(factor, 0.0, combined) - 0.975) / density < 1e-4


def test_coverage_factor_stays_between_its_ends() -> None:
    factors = [coverage_factor(rectangle_and_normal(1.0, spread / 1000)) for spread in range(10_000)]
    assert min(factors) == pytest.approx(1.6443, abs=5e-5)  # the shallow dip that the module tells of
    assert max(factors) <= 1.96


def test_rounding_cannot_push_a_rectangle_beyond_the_table() -> None:
    wider_than_possible = Combined(1.0, math.sqrt(3.0) * (1.0 + 1e-15))
    assert coverage_factor(wider_than_possible) == pytest.approx(0.95 * math.sqrt(3.0))


def test_two_rectangles_are_covered_to_half_a_percent() -> None:
    # The sum of two rectangles is a trapezium, whose tails are known exactly.
    covered = []
    for number in range(1, 1001):
        second = number / 1000
        reach = coverage_half_width(combine([(1.0, rectangular(1.0)), (1.0, rectangular(second))]))
        slope_begins = 1.0 - second
        if reach > slope_begins:
            tail = (1.0 + second - reach) ** 2 / (8.0 * second)
        else:
            tail = second / 2.0 + (slope_begins - reach) / 2.0
        covered.append(1.0 - 2.0 * tail)
    assert min(covered) == pytest.approx(0.9444, abs=5e-5)
    assert max(covered) == pytest.approx(0.9528, abs=5e-5)


def test_dominating_rectangle_as_in_the_calibration_of_a_multimeter() -> None:
    # EA-4/02 M, example S9 (from memory): rounding +-0.05 V, calibrator 0.002 V (k = 2) and +-0.011 V; U = 0.05 V.
    combined = combine([(1.0, rectangular(0.05)), (1.0, normal(0.001)), (1.0, rectangular(0.011))])
    assert round(combined.standard_uncertainty, 3) == 0.030
    assert round(coverage_half_width(combined), 2) == 0.05


@pytest.mark.parametrize("limit", [-1.2, -0.95, -0.3, 0.0, 0.6, 1.0, 1.4])
@pytest.mark.parametrize("spread", [0.03, 0.3, 2.0])
def test_probability_below_is_that_of_the_convolution(limit: float, spread: float) -> None:
    ours = probability_below(10.0 + limit, 10.0, rectangle_and_normal(1.0, spread))
    assert ours == pytest.approx(share_below(limit, 1.0, spread), abs=1e-9)


@pytest.mark.parametrize(
    ("limit", "expected"), [(-1.01, 0.0), (-1.0, 0.0), (-0.5, 0.25), (0.0, 0.5), (0.9, 0.95), (1.0, 1.0), (7.0, 1.0)]
)
def test_probability_below_of_a_rectangle_alone_is_linear(limit: float, expected: float) -> None:
    assert probability_below(limit, 0.0, combine([(1.0, rectangular(1.0))])) == pytest.approx(expected, abs=1e-12)


def test_probability_below_of_a_normal_alone() -> None:
    assert probability_below(1.0, 3.0, combine([(1.0, normal(0.8))])) == pytest.approx(PHI(-2.5), rel=1e-12)


def test_probability_below_of_what_is_exact_is_certain() -> None:
    exact = Combined(0.0, 0.0)
    assert [probability_below(limit, 1.0, exact) for limit in (0.9, 1.0, 1.1)] == [0.0, 0.5, 1.0]


@pytest.mark.parametrize("ratio", [1e-3, 1e-6])
def test_probability_is_smooth_where_the_formula_changes(ratio: float) -> None:
    for distance in (-1.0, -0.2, 0.1, 0.9):
        just_in = probability_below(distance, 0.0, rectangle_and_normal(1.0, ratio * (1 + 1e-9)))
        just_out = probability_below(distance, 0.0, rectangle_and_normal(1.0, ratio * (1 - 1e-9)))
        assert just_in == pytest.approx(just_out, abs=1e-6)
        narrow_in = probability_below(distance, 0.0, rectangle_and_normal(ratio * (1 + 1e-9), 1.0))
        narrow_out = probability_below(distance, 0.0, rectangle_and_normal(ratio * (1 - 1e-9), 1.0))
        assert narrow_in == pytest.approx(narrow_out, abs=1e-9)


def test_ends_of_the_interval_leave_two_and_a_half_percent_on_either_side() -> None:
    combined = rectangle_and_normal(0.6, 0.2)
    low, high = interval(5.0, combined)
    assert probability_below(low, 5.0, combined) == pytest.approx(0.025, abs=1e-5)
    assert probability_below(high, 5.0, combined) == pytest.approx(0.975, abs=1e-5)


def test_second_rectangle_in_place_of_the_normal_shifts_no_probability_by_a_hundredth() -> None:
    apart = []
    for second in (0.1, 0.37, 0.7, 1.0):
        combined = combine([(1.0, rectangular(1.0)), (1.0, rectangular(second))])
        for number in range(400):
            limit = -(1.0 + second) * number / 400
            if limit < second - 1.0:
                exact = (1.0 + second + limit) ** 2 / (8.0 * second)
            else:
                exact = second / 2.0 + (limit + 1.0 - second) / 2.0
            apart.append(abs(probability_below(limit, 0.0, combined) - exact))
    assert max(apart) == pytest.approx(0.0099, abs=5e-5)


def test_what_is_exact_adds_nothing() -> None:
    assert combine([(1.0, normal(2.0)), (7.0, EXACT)]) == (2.0, 0.0)
    assert combine([]) == (0.0, 0.0)


@pytest.mark.parametrize("spread", [2e-6, 1e-4, 8e-4, 0.01])
def test_a_narrow_normal_rounds_the_edge_of_a_rectangle(spread: float) -> None:
    """At the edge s / (2 a sqrt(2 pi)) is missing, which is half of the mean of |N|, over the rectangle."""
    combined = rectangle_and_normal(1.0, spread)
    missing = spread / (2.0 * math.sqrt(2.0 * math.pi))
    assert 1.0 - probability_below(1.0, 0.0, combined) == pytest.approx(missing, rel=0.01)
    assert probability_below(-1.0, 0.0, combined) == pytest.approx(missing, rel=0.01)


@pytest.mark.parametrize("scale", [1e-6, 1e-3, 1e3, 1e6])
def test_probability_and_coverage_do_not_depend_on_the_unit(scale: float) -> None:
    for half_width, spread in ((1.0, 1e-4), (1.0, 0.1), (0.1, 1.0), (1e-4, 1.0)):
        here, there = rectangle_and_normal(half_width, spread), rectangle_and_normal(scale * half_width, scale * spread)
        assert coverage_factor(there) == pytest.approx(coverage_factor(here), rel=1e-9)
        for limit in (-0.9, -0.2, 0.0, 0.5):
            below = probability_below(scale * (3.0 + limit), scale * 3.0, there)
            assert below == pytest.approx(probability_below(3.0 + limit, 3.0, here), rel=1e-6, abs=1e-12)


def test_a_refused_uncertainty_is_named_with_its_limits() -> None:
    for distribution, quantity in ((rectangular, "half_width"), (triangular, "half_width"), (normal, "standard_unc")):
        assert distribution(0.0) == (0.0, 0.0)
        with pytest.raises(OutOfRange, match=quantity) as caught:
            distribution(-5e-324)
        assert (caught.value.low, caught.value.high) == (0.0, math.inf)


@pytest.mark.parametrize("total", [1e-6, 0.0731, 0.9, 1.7, 123.4])
@pytest.mark.parametrize("share", [0.0, 0.03, 0.31, 0.62, 0.97, 1.0])
def test_half_of_what_is_spread_about_a_limit_lies_below_it(total: float, share: float) -> None:
    """Exactly, since cautions ask whether it is half or more."""
    widest = total * math.sqrt(3.0) * share
    assert probability_below(2.0, 2.0, Combined(total, widest)) == 0.5
