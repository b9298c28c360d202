"""What pouring promises: its words by its numbers, and its intervals by the ends of what is not known."""

from math import hypot
from typing import Any, Final

import pytest

from service.calculations.mixing.poured import Pour, together
from service.calculations.mixing.pouring import Pouring, apart
from service.calculations.mixing.pouring_notes import WARMS
from service.calculations.stock.stock_heat import CLOSE_TO_BOILING
from service.calculations.stock.volumes import WEIGHED
from service.chemistry.blending import Part
from service.chemistry.uncertainty import Combined, coverage_half_width
from tests.calculations.asking import Answer, ask, assumed, cautions
from tests.calculations.caution_cases_of_dilution import ICE, WATER, D, poured, solution
from tests.calculations.quantities import half_of_width, normal

EXACT: Final = Combined(0.0, 0.0)


def pour(*solutions: dict[str, Any], **more: Any) -> Answer:
    return ask(D, poured(*solutions, **more))


def litres(strength: Any, volume: str = "3 L", t: str = "20 °C") -> dict[str, Any]:
    return {"alkali": "NaOH", "volume": volume, "strength": {"mass_fraction": strength}, "temperature": t}


def test_hot_water_alone_carries_no_caustic() -> None:
    told = cautions(pour(solution(0, temperature="90 °C"), solution(0, temperature="20 °C")))
    assert "caustic-mist" not in told
    assert "close-when-cool" not in told


@pytest.mark.parametrize(("t", "weak"), [("20 °C", "29 %"), ("20 °C", "10 %"), ("85 °C", "10 %"), ("100 °C", "2 %")])
def test_which_is_poured_into_the_other_is_told_where_it_warms_and_that_it_boils_only_where_it_may(
    t: str, weak: str
) -> None:
    answer = pour(solution("30 %", temperature=t), solution(weak, temperature=t))
    rise = answer["peak_temperature"]["value"] - float(t.split(maxsplit=1)[0])
    near = answer["boiling_margin"]["value"] < CLOSE_TO_BOILING
    told = cautions(answer).get("strong-into-weak")
    apart_enough = weak != "29 %"
    assert (told is not None) is (apart_enough and (near or rise >= WARMS))
    if told is not None:
        assert ("it boils and spatters" in told["message"]) is near


def test_little_heat_of_what_is_hardly_stronger_is_no_matter_of_order() -> None:
    """5 % into water: it gets no 2 K warmer."""
    answer = pour(solution("5 %", temperature="30 °C"), solution(0, temperature="30 °C"))
    assert answer["peak_temperature"]["value"] - 30 < WARMS
    assert "strong-into-weak" not in cautions(answer)


def test_what_can_set_is_told_by_the_lower_end_of_its_temperature_and_to_a_tenth() -> None:
    sets = pour(solution("45 %"))["first_solid_temperature"]
    for above, can in ((-0.5, True), (3.0, False)):
        t = f"{sets['high'] + above!r} °C"
        answer = pour(solution("45 %", temperature=t))
        words = [one["message"] for one in answer["cautions"] if "what it comes to can set" in one["message"]]
        assert bool(words) is can is not answer["fully_liquid"]
        assert all(f"from {sets['value']:.1f} °C" in one for one in words)


def test_what_is_not_said_of_a_solution_is_assumed_with_its_reason() -> None:
    answer = pour(solution(), ICE, WATER)
    why = {one["pointer"]: str(one) for one in answer["assumed"]}
    assert "room" in why["/solutions/0/temperature"]
    assert "cautious" in why["/solutions/1/temperature"]
    given = assumed(pour(solution(temperature="25 °C"), solution("10 %", temperature="30 °C")))
    assert "/solutions/0/temperature" not in given


def test_what_is_weighed_and_exact_is_not_uncertain() -> None:
    one = Pour(Part(1.0, 0.3, 20.0), EXACT)
    assert not one.uncertain
    assert one.by_density == 0.0
    assert one.own == EXACT
    assert one.volume == WEIGHED
    assert one._replace(spread=Combined(0.001, 0.0)).uncertain


def test_the_order_of_the_request_is_no_order_of_the_reckoning() -> None:
    lines = [
        Pour(Part(1.0, 0.3, 20.0), Combined(0.002, 0.0)),
        Pour(Part(2.0, 0.3, 20.0), Combined(0.001, 0.0)),
        Pour(Part(1.0, 0.1, 20.0), EXACT),
    ]
    assert together(lines) == together(lines[::-1])
    assert [one.part.mass for one in together(lines)] == [1.0, 2.0, 1.0]
    assert together([lines[0], lines[0]])[0].part.mass == 2.0


def test_what_boils_is_as_hot_as_it_boils_and_no_hotter() -> None:
    boiling = Pouring("NaOH", [Pour(Part(1.0, 0.0, 90.0), EXACT), Pour(Part(1.0, 0.5, 140.0), EXACT)])
    calm = Pouring("NaOH", [Pour(Part(1.0, 0.0, 20.0), EXACT), Pour(Part(1.0, 0.5, 20.0), EXACT)])
    assert boiling.whole.steam > 0
    assert boiling.boiled is True
    assert calm.boiled is False


@pytest.mark.parametrize("low_high", [(28.0, 32.0), (45.0, 50.0)])
def test_heat_and_temperature_are_as_wide_as_the_ends_of_a_volume_make_them(low_high: tuple[float, float]) -> None:
    """A stronger one is heavier too, and both bring more heat; 95 % of a rectangle are 0.95 of its half-width."""
    low, high = low_high
    middle, reach = (low + high) / 2, 0.95 * (high - low) / 2
    told = pour(litres({"low": low, "high": high, "unit": "%"}), solution(0, "3 kg", temperature="20 °C"))
    weak, strong = (
        pour(litres(f"{w!r} %"), solution(0, "3 kg", temperature="20 °C")) for w in (middle - reach, middle + reach)
    )
    for name in ("heat_released",):
        apart_ = abs(strong[name]["value"] - weak[name]["value"]) / 2
        assert half_of_width(told[name]) == pytest.approx(apart_, rel=0.1)
    exact = pour(litres(f"{middle!r} %"), solution(0, "3 kg", temperature="20 °C"))
    assert half_of_width(told["solution"]["temperature"]) > half_of_width(exact["solution"]["temperature"])


def test_what_is_exact_and_weighed_adds_nothing_and_what_is_not_adds_its_own() -> None:
    sure = pour(solution("30 %", temperature="20 °C"), solution("10 %", temperature="20 °C"))["heat_released"]
    known = {"value": 0.3, "uncertainty": 0.01, "unit": "1"}
    unsure = pour(solution(known, temperature="20 °C"), solution("10 %", temperature="20 °C"))["heat_released"]
    assert half_of_width(unsure) > 1.5 * half_of_width(sure)


def test_volumes_of_what_looks_alike_have_more_room_below_than_above() -> None:
    known = {"value": 0.3, "uncertainty": 0.02, "unit": "1"}
    other = {"value": 0.3001, "uncertainty": 0.02, "unit": "1"}
    volume = pour(litres(known), litres(other))["solution"]["volume"]
    assert volume["value"] - volume["low"] > 1.05 * (volume["high"] - volume["value"])
    beside = pour(litres(known), solution(other, "3 kg", temperature="20 °C"))["solution"]["volume"]
    assert beside["value"] - beside["low"] > beside["high"] - beside["value"]


def test_parts_lie_as_far_from_their_whole_as_they_may_and_two_alike_by_the_spread_of_their_difference() -> None:
    """Of two halves x and y, x less the mean is (x - y) / 2: its variance is a half of that of each."""
    spread = 0.01
    parts = apart("NaOH", [Pour(Part(1.0, 0.3, 20.0), Combined(spread, 0.0))] * 2, 0.3)
    away = [abs(one.mass_fraction - 0.3) for one in parts]
    assert away[0] == pytest.approx(away[1])
    assert away[0] == pytest.approx(1.11 * spread / 2**0.5, rel=1e-6)
    little = apart("NaOH", [Pour(Part(1e-6, 0.3, 20.0), Combined(spread, 0.0)), Pour(Part(1.0, 0.3, 20.0), EXACT)], 0.3)
    assert abs(little[0].mass_fraction - 0.3) == pytest.approx(1.11 * spread, rel=1e-3)


@pytest.mark.parametrize("w", [0.2, 0.3, 0.45])
def test_the_distance_to_boiling_goes_with_the_strength_of_a_hot_part(w: float) -> None:
    """As it is, only its boiling point is open: by 1.96 standard uncertainties of its strength."""
    hot = Pour(Part(1.0, w, 105.0), Combined(0.01, 0.0))
    alone = Pouring("NaOH", [hot])
    meeting, taken_off = alone.nearest
    weaker = Pouring("NaOH", [hot._replace(part=Part(1.0, w - 0.0196, 105.0), spread=EXACT)])
    exact = Pouring("NaOH", [hot._replace(spread=EXACT)])
    assert meeting.mass_fraction == w
    assert taken_off > 0.3
    assert alone.boiling_margin == pytest.approx(weaker.boiling_margin, abs=0.12 * taken_off + 0.1)
    assert exact.boiling_margin - alone.boiling_margin == pytest.approx(taken_off)


def test_two_that_are_about_as_warm_may_meet_and_get_hotter_than_either() -> None:
    """By their values alike, and both hardly known: the peak allows for what their difference gives off."""
    known = {"value": 0.3, "uncertainty": 0.02, "unit": "1"}
    other = {"value": 0.3001, "uncertainty": 0.02, "unit": "1"}

    def peak(t: float, w: Any, v: Any) -> float:
        lines = [solution(w, temperature=f"{t} °C"), solution(v, temperature="30 °C"), solution("31 %", "100 kg")]
        return float(pour(*lines)["peak_temperature"]["high"])

    assert peak(30.0, known, other) > peak(30.0, 0.3, 0.3001) + 0.2
    assert peak(29.0, known, other) > peak(29.0, 0.3, 0.3001) + 0.05


def test_half_and_half_is_half_of_each() -> None:
    one = Pour(Part(3.0, 0.3, 30.0), Combined(0.01, 0.0))
    other = Pour(Part(5.0, 0.1, 30.0), Combined(0.01, 0.0))
    pouring = Pouring("NaOH", [other, one])
    half_one, half_other = (coverage_half_width(each.spread) for each in (one, other))
    alike_ = pouring._met_in_halves((1, one, half_one), (0, other, half_other))
    swapped = pouring._met_in_halves((0, other, half_other), (1, one, half_one))
    assert alike_ == pytest.approx(swapped, rel=1e-9)
    exact = Pouring("NaOH", [Pour(Part(1.0, 0.1, 30.0), EXACT), Pour(Part(1.0, 0.3, 30.0), EXACT)])
    bare = exact._met_in_halves((1, exact.pours[1], 0.0), (0, exact.pours[0], 0.0))
    assert bare == pytest.approx(exact.temperature + exact.temperature_half_width, abs=0.05)


@pytest.mark.parametrize("middle", [30.0, 47.5])
def test_the_heat_of_a_volume_in_water_is_as_wide_as_its_ends_and_the_data_make_it(middle: float) -> None:
    """A stronger litre is a heavier one too, and gives off more heat for both."""
    reach = 1.96 * 0.25
    told, weak, strong, exact = (
        pour(litres(w), solution(0, "3 kg", temperature="25 °C"))["heat_released"]
        for w in (
            normal(middle, 0.25, "%"),
            f"{middle - reach!r} %",
            f"{middle + reach!r} %",
            f"{middle!r} %",
        )
    )
    both = hypot(half_of_width(exact), (strong["value"] - weak["value"]) / 2)
    assert half_of_width(told) == pytest.approx(both, rel=0.01)


@pytest.mark.parametrize("low_high", [(28.0, 32.0), (45.0, 50.0)])
def test_the_temperature_of_a_volume_in_water_is_as_wide_as_its_ends_and_the_data_make_it(
    low_high: tuple[float, float],
) -> None:
    low, high = low_high
    middle, reach = (low + high) / 2, 0.95 * (high - low) / 2
    told, weak, strong, exact = (
        pour(litres(w), solution(0, "3 kg", temperature="20 °C"))["solution"]["temperature"]
        for w in (
            {"low": low, "high": high, "unit": "%"},
            f"{middle - reach!r} %",
            f"{middle + reach!r} %",
            f"{middle!r} %",
        )
    )
    both = hypot(half_of_width(exact), (strong["value"] - weak["value"]) / 2)
    assert half_of_width(told) == pytest.approx(both, rel=0.05)


def test_where_parts_meet_the_distance_to_boiling_is_as_open_as_the_ends_of_a_strength_make_it() -> None:
    """A stronger one gets hotter, and boils later: the two in part cancel or add, by the margin at either end."""

    def at(w: float, spread: Combined = EXACT) -> Pouring:
        return Pouring("NaOH", [Pour(Part(1.0, 0.0, 90.0), EXACT), Pour(Part(1.0, w, 110.0), spread)])

    told, weak, strong, exact = at(0.5, Combined(0.01, 0.0)), at(0.4804), at(0.5196), at(0.5)
    ends = (strong.way.boiling_margin - weak.way.boiling_margin) / 2
    assert told.nearest[1] == pytest.approx(hypot(exact.nearest[1], ends), rel=0.05)


def test_the_peak_of_hot_water_and_hot_stock_holds_what_a_stronger_stock_makes_of_it() -> None:
    """The stronger it is, the more water meets it where it is hottest, far from where it is so by the values."""

    def at(w: float, spread: Combined = EXACT) -> Pouring:
        return Pouring("NaOH", [Pour(Part(1.0, 0.0, 80.0), EXACT), Pour(Part(1.0, w, 90.0), spread)])

    told = at(0.5, Combined(0.01, 0.0))
    assert told.peak[2] >= at(0.5196).peak[0] > told.peak[0]


def test_which_of_two_lines_of_one_stock_is_the_larger_does_not_tell_how_strong_both_are() -> None:
    weaker, stronger = 0.3, 0.3 + 1e-13

    def joined(first: float, second: float) -> float:
        (one,) = together([Pour(Part(first, weaker, 20.0), EXACT), Pour(Part(second, stronger, 20.0), EXACT)])
        assert one.part.mass == 3.0
        return one.part.mass_fraction

    assert joined(1.0, 2.0) == joined(2.0, 1.0)


def test_what_may_be_colder_than_its_first_solid_is_told_to_set() -> None:
    known, t = {"value": 0.45, "uncertainty": 0.01, "unit": "1"}, 20.0
    lines = [solution(known), solution(known | {"value": 0.449})]
    told = pour(*(one | {"temperature": f"{t} °C"} for one in lines))
    below = told["solution"]["temperature"]["value"] - told["solution"]["temperature"]["low"]
    start = t + told["first_solid_temperature"]["high"] - told["solution"]["temperature"]["value"] + 0.5 * below
    answer = pour(*(one | {"temperature": f"{start!r} °C"} for one in lines))
    assert not answer["fully_liquid"]
    assert any("what it comes to can set" in one["message"] for one in answer["cautions"])


def test_water_is_called_by_the_same_alkali_in_any_order() -> None:
    lines = [solution(0) | {"alkali": "NaOH"}, solution(0, "2 kg") | {"alkali": "KOH"}]
    both = [pour(*some) for some in (lines, lines[::-1])]
    assert [one["solution"]["alkali"] for one in both] == ["NaOH", "NaOH"]
    assert both[0]["boiling_margin"] == both[1]["boiling_margin"]
    assert pour(lines[1], lines[1])["solution"]["alkali"] == "KOH"
