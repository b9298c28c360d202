"""Second opinions: our interval holds what other correlations and tables say, or the record says where and why not."""

import pytest

from tests.proof.opinions.every import opinions
from tests.proof.opinions.records import Check, Ground, Opinion

OPINIONS = opinions()
BY_NAME = [pytest.param(opinion, id=opinion.name) for opinion in OPINIONS]
NEVER_JUDGED = {"ice-line-naoh-wang"}
"""A plot that is poor all along; it is kept so that the disagreement shows."""


def test_opinions_have_names_of_their_own_and_a_fixed_order() -> None:
    names = [opinion.name for opinion in OPINIONS]
    assert len(set(names)) == len(names) >= 40
    assert opinions() is OPINIONS


@pytest.mark.parametrize("opinion", BY_NAME)
def test_our_interval_holds_theirs_on_every_point_of_the_grid(opinion: Opinion) -> None:
    assert opinion.outside() == ()


@pytest.mark.parametrize("opinion", BY_NAME)
def test_most_of_a_grid_is_judged_by_more_than_a_point(opinion: Opinion) -> None:
    assert bool(opinion.judged()) is (opinion.name not in NEVER_JUDGED)
    assert all(point.half_width > 0.0 for point in opinion.points)
    places = [(point.x, point.curve) for point in opinion.points]
    assert len(set(places)) == len(places) >= 2


@pytest.mark.parametrize(
    ("opinion", "number"),
    [
        pytest.param(opinion, number, id=f"{opinion.name}-{number}")
        for opinion in OPINIONS
        for number in range(len(opinion.excepted))
    ],
)
def test_an_exception_holds_only_points_outside_and_says_why(opinion: Opinion, number: int) -> None:
    others = opinion.excepted[:number] + opinion.excepted[number + 1 :]
    for region in opinion.excepted[number].regions:
        own = [point for point in opinion.points if region.holds(point)]
        assert own
        assert not any(point.covered for point in own)
        assert not any(part.holds(point) for part in others for point in own)
    assert len(opinion.excepted[number].cause) > 40


CHECKS = [
    pytest.param(opinion, number, id=f"{opinion.name}-{number}")
    for opinion in OPINIONS
    for number in range(len(opinion.checks))
]


@pytest.mark.parametrize(("opinion", "number"), CHECKS)
def test_the_other_source_as_programmed_gives_the_figures_that_are_known(opinion: Opinion, number: int) -> None:
    check = opinion.checks[number]
    assert check.ours == pytest.approx(check.figure, rel=0.0, abs=check.tolerance)
    assert bool(check.digit) is (check.ground in {Ground.PUBLISHED, Ground.BY_HAND})
    assert len(check.source) > (40 if check.ground is Ground.EXPECTED else 10)


def test_a_check_has_no_tolerance_of_its_own() -> None:
    """By what stands behind it: half a digit of what was printed, rounding of a program, one share of what is not."""
    assert "tolerance" not in Check._fields
    check = Check("density", 1.0, 2.0, Ground.EXPECTED, "another's")
    assert check.tolerance == 0.1
    assert check._replace(ground=Ground.PROGRAM).tolerance == 2e-9
    assert check._replace(ground=Ground.PUBLISHED, digit=0.01).tolerance == 0.005
    assert "5 %" in Ground.EXPECTED.value


@pytest.mark.parametrize("opinion", [opinion for opinion in OPINIONS if opinion.coded_here], ids=lambda one: one.name)
def test_what_is_programmed_here_is_checked(opinion: Opinion) -> None:
    assert opinion.checks


@pytest.mark.parametrize("opinion", BY_NAME)
def test_a_record_says_who_speaks_and_why_they_differ(opinion: Opinion) -> None:
    for text in (opinion.quantity, opinion.unit, opinion.our_source, opinion.their_source, opinion.shared):
        assert text
    assert opinion.explanation.endswith(".")
    if opinion.labels:
        assert {point.x for point in opinion.points} == set(range(1, len(opinion.labels) + 1))


def test_an_interval_that_is_too_narrow_is_found() -> None:
    whole = next(opinion for opinion in OPINIONS if opinion.name == "boiling-point-naoh-gerlach")
    narrow = whole._replace(points=tuple(point._replace(half_width=0.3) for point in whole.points))
    assert [round(point.x, 3) for point in narrow.outside()] == [0.145, 0.291, 0.338, 0.375]


def test_the_deviations_of_the_table_of_caustic_potash_are_those_that_are_told() -> None:
    (one,) = [opinion for opinion in OPINIONS if opinion.name == "density-koh-crc"]
    lower = {point.x: 100.0 * (1.0 - point.theirs / point.ours) for point in one.points}
    assert f"{lower[0.01]:.2f} % lower at 1 %" in one.explanation
    assert f"{lower[0.4]:.2f} % at 40 to 50 %" in one.explanation
    assert f"{lower[0.5]:.2f}" == f"{lower[0.4]:.2f}"


def test_the_deviation_of_the_correlation_that_no_table_settles_is_the_one_that_is_told() -> None:
    (one,) = [opinion for opinion in OPINIONS if opinion.name == "density-naoh-laliberte"]
    hot = [point for point in one.points if point.curve == 120.0 and point.x <= 0.3]
    assert all(point.covered for point in hot)
    lower = max(100.0 * (1.0 - point.theirs / point.ours) for point in hot)
    assert f"up to {lower:.2f} % lower at 120 °C" in one.explanation
