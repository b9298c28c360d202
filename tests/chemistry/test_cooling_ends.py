"""Where the formulas of a cooling begin and end: what is refused, and limits in which they are plain."""

import math
from collections.abc import Callable

import pytest

from service.chemistry.cooling import MELTING_HEAT, cooling_times, geometric_way, melted_ice, newton_coefficient
from service.chemistry.cooling_fit import fit, fitted_losses, loss_spread, surface_change, time_limits, way
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import Part
from tests.chemistry.refusing import refused

TWO = fit([0.0, 1000.0], [0.0, 1500.0], [Part(10.0)] * 2)


def test_ice_melts_by_its_heat_at_its_melting_point() -> None:
    """333.43 kJ/kg (IAPWS R10-06 and R6-95), to the 0.05 kJ/kg that the enthalpy of ice is told to."""
    assert pytest.approx(333.43e3, abs=50.0) == MELTING_HEAT
    assert melted_ice(0.0) == 0.0
    assert melted_ice(0.5) == pytest.approx(0.5 / MELTING_HEAT)


def test_times_count_from_the_start_and_add_up() -> None:
    """1 kJ at 2 W and 1 kJ at 4 W: 500 s, then 250 s."""
    assert cooling_times([], [3.0]) == ()
    assert cooling_times([1e3, 1e3, 0.0], [2.0, 2.0 + 1e-12, 2.0, 4.0]) == pytest.approx((500.0, 1000.0, 1000.0))
    assert cooling_times([1e-3], [1.0, 1.0]) == pytest.approx((1e-3,))


@pytest.mark.parametrize("count", [0, 1, 3, 4])
def test_there_is_a_loss_at_each_end_of_each_leg(count: int) -> None:
    with refused("number of losses", 2, 2):
        cooling_times([1.0], [1.0] * count)


@pytest.mark.parametrize(("start", "end"), [(30.0, 30.0), (30.0, 30.1), (30.0, 20.0), (30.0, 19.9)])
def test_a_way_leads_down_to_what_lies_above_its_rest(start: float, end: float) -> None:
    with refused("end", 20.0, start):
        geometric_way(start, end, 20.0, 3)


def test_a_way_has_as_many_legs_as_are_asked_for() -> None:
    assert geometric_way(90.0, 30.0, 20.0, 1) == [90.0, 30.0]
    nodes = geometric_way(90.0, 30.0, 20.0, 4)
    assert len(nodes) == 5
    assert nodes == sorted(nodes, reverse=True)


REFUSED: list[tuple[str, Callable[[float], object]]] = [
    ("time", lambda x: newton_coefficient(x, 1.0, (2.0, 1.0))),
    ("capacity", lambda x: newton_coefficient(1.0, x, (2.0, 1.0))),
    ("bath_capacity", lambda x: newton_coefficient(1.0, 1.0, (2.0, 1.0), x)),
    ("apart", lambda x: newton_coefficient(1.0, 1.0, (2.0, x))),
    ("apart", lambda x: newton_coefficient(1.0, 1.0, (x, 2.0))),
    ("way", lambda x: time_limits(TWO, x, from_last=False)),
    ("capacity", lambda x: loss_spread(TWO, x, from_last=False)),
    ("apart", lambda x: fitted_losses((1.0, 1.0, 1.0), x, 2.0, 0.0)),
    ("apart", lambda x: fitted_losses((1.0, 1.0, 1.0), 2.0, x, 0.0)),
    ("vapour", lambda x: fitted_losses((1.0, 1.0, 1.0), 2.0, 2.0, 0.0, x)),
    ("apart", lambda x: surface_change((x, 0.1), (2.0, 0.1), 0.5)),
    ("apart", lambda x: surface_change((2.0, 0.1), (x, 0.1), 0.5)),
]


@pytest.mark.parametrize(("quantity", "of"), REFUSED)
def test_what_must_be_above_nought_may_be_small_but_not_nought(quantity: str, of: Callable[[float], object]) -> None:
    of(1e-3)
    for wrong in (0.0, -0.5):
        with refused(quantity, 0.0, math.inf):
            of(wrong)
    with pytest.raises(OutOfRange) as told:
        of(-0.5)
    assert told.value.value == -0.5


def test_each_reading_has_its_way_and_its_spread() -> None:
    with refused("number of readings", 2, math.inf):
        fit([0.0], [0.0], [Part(1.0)])
    for ways, spreads, what in ((1, 2, "ways"), (3, 2, "ways"), (2, 1, "spreads"), (2, 3, "spreads")):
        with refused(f"number of {what}", 2, 2):
            fit([0.0, 1.0], [0.0, 1.0, 2.0][:ways], [Part(1.0)] * spreads)
    with refused("heat", 0.0, math.inf):
        way(-1.0, 2.0, 1.0)
    assert way(0.0, 2.0, 1.0) == 0.0


@pytest.mark.parametrize("power", [0.0, 0.25, 1.0])
def test_a_coefficient_that_was_fitted_where_it_is_asked_for_is_as_it_was_fitted(power: float) -> None:
    """Nothing has fallen from there to there; and without vapour its change is nought."""
    assert fitted_losses((2.0, 1.9, 2.1), 30.0, 30.0, power) == pytest.approx((60.0, 57.0, 63.0))
    for apart in (10.0, 60.0):
        closed = fitted_losses((2.0, 1.9, 2.1), apart, 30.0, power)
        assert closed == fitted_losses((2.0, 1.9, 2.1), apart, 30.0, power, 1.0)
        assert closed[0] == pytest.approx(2.0 * apart)


def test_an_open_surface_that_only_radiates_is_changed_by_no_vapour() -> None:
    assert surface_change((15.0, 0.02), (70.0, 0.3), 0.0) == 1.0
    assert surface_change((15.0, 0.02), (70.0, 0.3), 1e-12) == pytest.approx(1.0)
    assert surface_change((15.0, 0.0), (70.0, 0.3), 0.5) < surface_change((15.0, 0.02), (70.0, 0.3), 0.5) < 1.0
    there, back = surface_change((15.0, 0.02), (70.0, 0.3), 0.5), surface_change((70.0, 0.3), (15.0, 0.02), 0.5)
    assert there * back == pytest.approx(1.0)
