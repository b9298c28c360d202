"""Limits of additions: what is told of them agrees with the numbers, and keeping to the advice keeps the limit."""

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.recipe import RecipeAddition
from service.calculations.orders.recipe_reading import Addition
from service.calculations.orders.use_limits import Finished, UseLimit, use_limits
from service.calculations.shared.given import Share
from service.calculations.shared.notes import Notes


def addition(mass: float, most: float | None = None, name: str = "scent") -> Addition:
    limit = None if most is None else Share(most)
    return Addition(RecipeAddition(material=name, kind="other", use_level=OF, highest_share=limit), 0, mass, "trace")


OF: Any = Share(0.03)


def held(*additions: Addition, mass: float = 1.0, moisture: float | None = 0.1) -> tuple[list[UseLimit], Notes]:
    notes = Notes()
    return use_limits(additions, Finished(mass, moisture), notes), notes


def test_lines_of_one_material_add_up_and_the_least_limit_holds() -> None:
    found, _ = held(addition(0.02, 0.05), addition(0.01, 0.04), addition(0.03), addition(0.5, None, "clay"))
    (one,) = found
    assert (one.material, one.highest_share.value) == ("scent", 0.04)
    assert one.share.value == pytest.approx(0.06)
    assert not one.within_limit


@pytest.mark.parametrize("most", [0.001, 0.03, 0.1, 0.3, 0.7, 1.0])
def test_exactly_the_most_may_be_in_it_and_a_ten_thousandth_more_may_not(most: float) -> None:
    for mass in (0.07, 1.0, 3.3):  # the last bits of the quotient decide nothing
        (one,), notes = held(addition(most * mass, most), mass=mass)
        assert one.within_limit
        assert notes.cautions == []
    (beyond,), notes = held(addition(most * 1.0001, most))
    assert not beyond.within_limit
    assert [(one.code, one.severity) for one in notes.cautions] == [("use-limit-exceeded", "danger")]


@given(most=st.floats(1e-6, 0.5), times=st.floats(1.001, 500.0))
def test_whoever_keeps_to_the_advice_keeps_the_limit(most: float, times: float) -> None:
    share = most * times
    (one,), notes = held(addition(share, most))
    (told,) = notes.cautions
    makes, limit, part = (float(number) / 100 for number in re.findall(r"([\d.]+) %", told.message)[1:])
    assert one.share.value <= makes * (1 + 1e-9) <= one.share.value * 1.01 * (1 + 1e-9)
    assert 0.99 * most < limit <= most * (1 + 1e-9)
    assert 0.99 * most < share * part <= most * (1 + 1e-9)
    assert "of a bar with 10 % of water" in told.message.lower()


def test_a_limit_of_a_thousandth_of_a_per_cent_is_told_as_it_is() -> None:
    _, notes = held(addition(0.0025, 0.000016))
    assert "makes 0.25 %, and 0.0016 % is the most that was given" in notes.cautions[0].message
    assert "Use at most 0.64 % of that." in notes.cautions[0].message


def test_without_a_moisture_the_dry_bar_is_taken_and_said_so_where_there_is_a_limit() -> None:
    _, notes = held(addition(0.05, 0.01), moisture=None)
    assert [one.pointer for one in notes.assumed] == ["/moisture_when_sold"]
    assert notes.cautions[0].message.startswith("Of the dry bar scent makes 5 %, and 1 % is the most")
    assert held(addition(0.05), moisture=None)[1].assumed == []
    assert held(addition(0.05, 0.01), moisture=0.1)[1].assumed == []


def test_what_is_there_is_told_to_three_digits_up_and_what_may_be_down() -> None:
    """By hand: 1.2345 % is told as 1.24 %, 1.0199 % as 1.01 %, their quotient 82.61 % as 82.6."""
    _, notes = held(addition(0.012345, 0.010199))
    assert "makes 1.24 %, and 1.01 % is the most that was given" in notes.cautions[0].message
    assert "Use at most 82.6 % of that." in notes.cautions[0].message
