"""Lists for a scale with steps: what must hold of each line, of the totals, and of what is told beside them."""

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.batch_made import Weighing
from service.calculations.orders.weigh_list import MOST_NAMED, on_the_scale
from service.calculations.orders.weighing import weigh
from service.calculations.shared.notes import Notes
from tests.calculations.asking import ask, cautions
from tests.calculations.test_batch_sheet import NAME, OIL, SHEET, STOCK, recipe

OF: Any = None


def tiny(count: int, grams: float = 0.3) -> list[dict[str, Any]]:
    """Additions that each weigh so much beside a kilogram of fats."""
    return [
        {"material": f"scent {at}", "kind": "fragrance", "use_level": f"{grams / 10!r} %"} for at in range(1, count + 1)
    ]


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 6, 9])
def test_what_is_too_fine_is_named_or_counted(count: int) -> None:
    told = cautions(ask(NAME, SHEET | recipe(additions=tiny(count)) | {"scale_division": "1 g"}))
    message = told["finer-scale-needed"]["message"]
    named = re.findall(r"scent \d", message)
    more = [int(number) for number in re.findall(r" and (\d+) more", message)]
    assert len(named) + sum(more) == count
    assert len(named) == min(count, 4)  # a message stays short
    assert 0 not in more
    assert ("Weigh it" in message) == (count == 1)
    assert ("Weigh them" in message) == (count > 1)


def test_half_a_step_is_shown_and_less_is_not() -> None:
    assert MOST_NAMED == 4
    for grams, shown in ((0.51, 1.0), (0.49, 0.49)):
        answer = ask(NAME, SHEET | recipe(additions=tiny(1, grams)) | {"scale_division": "1 g"})
        assert answer["weigh_list"][-1]["mass"]["value"] == pytest.approx(shown)
        assert ("finer-scale-needed" in cautions(answer)) == (shown == grams)


def test_a_scale_without_steps_shows_everything_as_it_is_and_tells_no_exact_mass() -> None:
    weighings = [Weighing("stock", "NaOH-stock", 0.1234, "stock", OF), Weighing("fats", "own oil", 1.0, "fats", OF)]
    notes = Notes()
    shown = on_the_scale(weighings, 0.0, notes)
    assert shown == weighings
    assert notes.cautions == []
    exact = ask(NAME, SHEET, digits=2)["weigh_list"]
    assert all("exact_mass" not in line for line in exact)
    assert {line["mass"]["value"] for line in exact} == {1000, 260, 130}  # in two digits, where no scale has steps


def test_on_a_scale_only_a_draw_that_is_at_hand_keeps_its_mass() -> None:
    weighings = [Weighing("stock", "NaOH-stock", 0.1234, "stock", OF), Weighing("fats", "clay", 0.0234, "fats", OF)]
    for at_hand, due in ((True, [0.1234, 0.02]), (False, [0.12, 0.02])):
        shown = on_the_scale(weighings, 0.01, Notes(), at_hand=at_hand)
        assert [one.mass for one in shown] == pytest.approx(due)
    assert on_the_scale(weighings, 0.01, Notes()) == on_the_scale(weighings, 0.01, Notes(), at_hand=False)


def test_each_line_that_is_no_fat_and_no_liquid_is_rounded_by_itself() -> None:
    """By hand: 12.4 g of each of three in steps of 10 g are 10 g each, though together they are 37.2 g."""
    additions = [{"material": one, "kind": "other", "use_level": "1.24 %"} for one in ("clay", "oats", "salt")]
    answer = ask(NAME, SHEET | recipe(additions=additions) | {"scale_division": "10 g"})
    shown = [one["mass"]["value"] for one in answer["weigh_list"] if one["step"] == "trace"]
    assert shown == pytest.approx([10, 10, 10])


def test_the_volume_of_a_draw_is_told_of_the_draw_alone() -> None:
    """50 % NaOH is 1.525 kg/L at 20 °C (handbook tables, from memory)."""
    answer = ask(NAME, SHEET | {"stocks": [STOCK | {"temperature": "20 °C"}]})
    volumes = {one["material"]: one["volume"]["value"] for one in answer["weigh_list"] if "volume" in one}
    assert list(volumes) == ["NaOH-stock"]
    draw = next(one for one in answer["weigh_list"] if one["material"] == "NaOH-stock")
    assert draw["mass"]["value"] / volumes["NaOH-stock"] == pytest.approx(1.525, abs=0.005)
    solid = ask(NAME, SHEET | {"stocks": []})
    assert all("volume" not in one for one in solid["weigh_list"])


@pytest.mark.parametrize("step", [1e-3, 0.5, 1.0, 7.0])
@pytest.mark.parametrize("whole", [0, 1, 3, 1000, 10**5])
def test_only_halves_and_more_go_up(step: float, whole: int) -> None:
    """A millionth of a step less than a half is less than a half."""
    for part, due in ((0.0, 0), (0.4, 0), (0.46, 0), (0.499999, 0), (0.5, 1), (0.500001, 1), (0.99, 1)):
        (shown,) = weigh([(whole + part) * step], step, "a", "x")
        assert shown == pytest.approx((whole + due) * step, rel=1e-12, abs=1e-15)


def test_remainders_that_differ_by_a_hundred_millionth_of_a_step_are_told_apart() -> None:
    """The larger goes up, though the other is heavier and comes first by name; noise does not decide."""
    assert weigh([0.25 + 2e-9, 3.25, 0.5], 1.0, "aaa", "zab") == [0.0, 3.0, 1.0]
    assert weigh([0.5 + 2e-9, 3.5], 1.0, "aa", "za") == [1.0, 3.0]
    assert weigh([0.5 + 1e-13, 3.5], 1.0, "aa", "za") == [0.0, 4.0]


@given(masses=st.lists(st.floats(0.0, 1e3), min_size=1, max_size=6), division=st.floats(0.01, 10.0))
def test_the_larger_remainder_never_goes_down_where_a_smaller_goes_up(masses: list[float], division: float) -> None:
    names = [str(at) for at in range(len(masses))]
    shown = weigh(masses, division, ["a"] * len(masses), names)
    parts = [(mass / division % 1, one > mass) for mass, one in zip(masses, shown, strict=True)]
    inner = [(part, up) for part, up in parts if 1e-6 < part < 1 - 1e-6]
    lowest_up = min((part for part, up in inner if up), default=1.0)
    assert all(part <= lowest_up + 1e-6 for part, up in inner if not up)


def test_fats_of_two_groups_hold_their_totals_apart_from_the_liquids() -> None:
    """By hand, in steps of 100 g: 450 and 550 g are 1000 g of fats; 257 g of stock and 129 g of water go alone."""
    fats = [OIL | {"name": "a", "share": 0.45}, OIL | {"name": "b", "share": 0.55}]
    answer = ask(NAME, SHEET | recipe(fats=fats) | {"scale_division": "100 g"})
    shown = {one["material"]: one["mass"]["value"] for one in answer["weigh_list"]}
    assert shown == pytest.approx({"a": 400, "b": 600, "NaOH-stock": 300, "distilled-water": 100})
