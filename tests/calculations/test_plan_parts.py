"""Days, tanks and parts of a plan, with numbers that are worked by hand, exactly, or by trying every way."""

import itertools
import math
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.plan_days import Job, Moulds, days_of
from service.calculations.orders.plan_demand import Article, Demand, Part, TooMany, cycle_of, levels, needed
from service.calculations.orders.plan_stock import Need, RunsOut, Tank, draw
from service.calculations.shared.messages import AlkaliName


def test_a_soap_that_is_ready_on_its_day_goes_into_another_on_that_day() -> None:
    assert days_of([Job("B", None, (), 0), Job("A", None, ("B",), 0)], None, {}) == [1, 1]


def test_a_soap_whose_part_comes_from_the_shelf_begins_on_the_first_day() -> None:
    assert days_of([Job("A", None, ("B",), 0), Job("B", None, (), 5)], None, {}) == [1, 1]


def test_every_day_is_filled_as_far_as_it_holds() -> None:
    assert days_of([Job("A", None, (), 0)] * 7, 3, {}) == [1, 1, 1, 2, 2, 2, 3]


def test_moulds_that_are_free_are_filled_on_the_same_day() -> None:
    assert days_of([Job("A", "slab", (), 0)] * 5, None, {"slab": Moulds(2, 3)}) == [1, 1, 4, 4, 7]


def tank(mass: float, kept: float = 0.0, full: float | None = None) -> Tank:
    return Tank("NaOH", mass, kept, None if full is None else lambda left, again: full)


def always(mass: float, again: float | None = None) -> dict[AlkaliName, Need]:
    """The same draw from every tank, or another from one that was filled anew."""
    return {"NaOH": lambda place, filled: again if filled and again is not None else mass}


@pytest.mark.parametrize("share", [0.1, 0.7, 1 / 3])
def test_a_tank_that_holds_just_what_is_drawn_gives_it_to_the_last(share: float) -> None:
    """In tenths and thirds what is left differs from what is drawn by rounding alone."""
    one = tank(2.0 + sum([share] * 6), kept=2.0)
    for number in range(6):
        (drawn,), filled = draw([one], always(share), number)
        assert not filled
    assert (drawn.tank, drawn.mass) == (0, share)
    assert drawn.left == pytest.approx(2.0, rel=1e-12)
    with pytest.raises(RunsOut):
        draw([one], always(share), 7)


def test_a_tank_is_drawn_from_as_it_is_before_it_is_filled_anew_and_as_it_is_filled_then() -> None:
    """By hand: 3 kg of a stock of which a batch takes 2 kg, then 5 kg of one of which it takes 1 kg, down to 1 kg."""
    one = tank(3.0, 1.0, 5.0)
    found = [draw([one], always(2.0, 1.0), number) for number in range(1, 7)]
    assert [(drawn.mass, drawn.left) for (drawn,), _ in found] == [
        (2.0, 1.0),
        (1.0, 4.0),
        (1.0, 3.0),
        (1.0, 2.0),
        (1.0, 1.0),
        (1.0, 4.0),
    ]
    assert [
        (filling.before_batch, filling.left, filling.again, filling.mass) for _, some in found for filling in some
    ] == [
        (2, 1.0, False, 5.0),
        (6, 1.0, True, 5.0),
    ]


def test_a_filling_that_gives_one_draw_and_no_second_is_mixed() -> None:
    (drawn,), (filling,) = draw([tank(0.0, 0.5, 2.0)], always(1.5), 1)
    assert (drawn.left, filling.mass) == (0.5, 2.0)


def test_a_tank_too_weak_for_a_batch_is_filled_anew_where_it_is_strong_then() -> None:
    (drawn,), (filling,) = draw([tank(9.0, 0.0, 2.0)], always(math.inf, 1.0), 1)
    assert (drawn.mass, drawn.left, filling.left) == (1.0, 1.0, 9.0)


def test_the_tank_that_runs_out_is_the_one_that_comes_nearest() -> None:
    """Of the first a batch would take 3 kg, of the second 2 kg; the third makes none of it at all."""
    needs: dict[AlkaliName, Need] = {"NaOH": lambda place, filled: (3.0, 2.0, math.inf)[place]}
    with pytest.raises(RunsOut, match=r"2\.0 kg of NaOH stock") as error:
        draw([tank(1.0), tank(1.0), tank(9.0, 0.0, 9.0)], needs, 1)
    assert (error.value.tank, error.value.mass, error.value.gives) == (1, 2.0, None)


def test_the_first_tank_that_cannot_be_filled_so_far_is_told() -> None:
    with pytest.raises(RunsOut) as error:
        draw([tank(0.0), tank(0.0, 0.5, 2.0), tank(0.0, 0.0, 1.9)], always(2.0), 1)
    assert (error.value.tank, error.value.mass, error.value.gives) == (1, 2.0, 1.5)


@st.composite
def mixtures(pick: st.DrawFn) -> dict[str, Article]:
    """Up to five articles, any of which may go into any."""
    names = "abcde"[: pick(st.integers(1, 5))]
    pairs = pick(st.lists(st.tuples(st.sampled_from(names), st.sampled_from(names)), max_size=8))
    return {sku: Article(1, tuple(Part(part, 1) for user, part in pairs if user == sku)) for sku in names}


def ways(articles: dict[str, Article], sku: str) -> set[tuple[str, ...]]:
    """Every way from an article to a part of its parts that comes by no article twice but at its end."""
    found: set[tuple[str, ...]] = {(sku,)}
    for _ in articles:
        found |= {(*way, part.sku) for way in found if len(set(way)) == len(way) for part in articles[way[-1]].parts}
    return found


@given(articles=mixtures())
def test_a_soap_in_itself_is_found_where_there_is_one_and_nowhere_else(articles: dict[str, Article]) -> None:
    every = set().union(*(ways(articles, sku) for sku in articles))
    cycles = {way for way in every if len(way) > 1 and way[0] == way[-1]}
    found = cycle_of(articles)
    assert (found is None) == (not cycles)
    assert found is None or tuple(found) in cycles


@given(articles=mixtures())
def test_a_part_lies_as_deep_as_its_longest_way(articles: dict[str, Article]) -> None:
    if cycle_of(articles) is not None:
        return
    every = [way for sku in articles for way in ways(articles, sku)]
    assert levels(articles) == {sku: max(len(way) - 1 for way in every if way[-1] == sku) for sku in articles}


@pytest.mark.parametrize(
    ("bars", "batches"), [("0.1", 30), ("1.1", 10), ("0.55", 100), ("32.95", 700), ("1100.1", 3000), ("1234.7", 9000)]
)
def test_bars_of_a_part_are_those_of_exact_fractions_rounded_up(bars: str, batches: int) -> None:
    """Such products end beside a whole number in binary, some above it: a bar for that would be one too many."""
    articles = {"A": Article(1, (Part("B", float(bars)),)), "B": Article(1_000_000_000)}
    found = needed(articles, {"A": [Demand(batches, None)]}, {}, 20_000)["B"]
    counts = [math.ceil(Fraction(bars) * number) for number in range(batches + 1)]
    assert [one.quantity for one in found.for_others] == [b - a for a, b in itertools.pairwise(counts)]


def test_more_batches_than_a_plan_holds_are_counted() -> None:
    """By hand: 3 of A, and 2 of B with which it is made, are 5."""
    articles = {"A": Article(10, (Part("B", 4.0),)), "B": Article(10)}
    wanted = {"A": [Demand(30, date(2031, 3, 10))]}
    assert [len(one.dues) for one in needed(articles, wanted, {}, 5).values()] == [3, 2]
    with pytest.raises(TooMany, match="5 batches") as error:
        needed(articles, wanted, {}, 4)
    assert (error.value.sku, error.value.count) == ("B", 5)
