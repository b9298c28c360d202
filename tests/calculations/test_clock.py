"""Times as clocks show them: what they mean is told, and what no clock shows is none.

Hours of a day are counted from 00 to 24, the last of which is its end (ISO 8601:2004, 4.2.3); clocks of twelve hours
show 12 before 1, and never 0 (common practice, no source).
"""

import re

import pytest

from service.calculations.shared import clock
from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import Duration, TimeRead


def minutes(fault: Faulty | None) -> float:
    """The minutes that a mending offers first."""
    assert fault is not None
    found = re.search(r"'([0-9.]+) min'", fault.mend)
    assert found is not None, fault.mend
    return float(found[1])


def told(text: str) -> Faulty:
    with pytest.raises(Faulty) as refused:
        TimeRead.read(text)
    return refused.value


@pytest.mark.parametrize("half", ["am", "pm"])
def test_a_clock_of_twelve_hours_goes_round_once_in_each_half_of_the_day(half: str) -> None:
    shown = [minutes(clock.time_of_day(f"{hour}:15 {half}")) for hour in (12, *range(1, 12))]
    start = 15 if half == "am" else 12 * 60 + 15
    assert shown == [start + 60 * hours for hours in range(12)]


@pytest.mark.parametrize("text", ["0:15 am", "0 pm", "13 am", "13:15 pm", "99 am"])
def test_a_clock_of_twelve_hours_shows_no_other_hour(text: str) -> None:
    assert clock.time_of_day(text) is None
    assert clock.hours_and_minutes(text) is None


def test_a_clock_of_a_whole_day_goes_from_its_start_to_its_end() -> None:
    shown = [minutes(clock.time_of_day(f"{hour}:05 Uhr")) for hour in range(24)]
    assert shown == [60 * hour + 5 for hour in range(24)]
    assert minutes(clock.time_of_day("24:00 Uhr")) == 24 * 60
    assert clock.time_of_day("25:00 Uhr") is None


def test_past_a_day_a_clock_shows_a_length_of_time() -> None:
    """Nothing but a word makes a time of day of it."""
    assert "is a time of day" in told("23:59").detail
    for text in ("24:00", "36:30"):
        assert "as a clock shows it" in told(text).detail
        assert minutes(told(text)) == minutes(clock.hours_and_minutes(text))


@pytest.mark.parametrize("text", ["36:30", "14:30", "9 am"])
def test_blanks_round_what_a_clock_shows_make_no_difference(text: str) -> None:
    assert told(f" {text}  ").mend == told(text).mend


@pytest.mark.parametrize("text", ["1:60", "1:59:60", "1:99:00", "1:00:75"])
def test_sixty_minutes_and_sixty_seconds_are_no_figures_of_a_clock(text: str) -> None:
    assert clock.time_of_day(text) is None
    assert clock.hours_and_minutes(text) is None


@pytest.mark.parametrize(("text", "seconds"), [("1:59", 119), ("0:30", 30), ("90:15", 5415)])
def test_either_reading_of_a_clock_is_a_length_of_time_that_is_taken(text: str, seconds: float) -> None:
    fault = clock.hours_and_minutes(text)
    assert fault is not None
    by_hours, by_minutes = (Duration.read(one).value for one in re.findall(r"'([^']*)'", fault.mend))
    assert by_hours == pytest.approx(60 * seconds)
    assert by_minutes == pytest.approx(seconds)


@pytest.mark.parametrize("text", ["1:30:00", "1h30", "1:30 h"])
def test_where_the_unit_is_shown_one_reading_is_left(text: str) -> None:
    fault = clock.hours_and_minutes(text)
    assert fault is not None
    assert [Duration.read(one).value for one in re.findall(r"'([^']*)'", fault.mend)] == [5400.0]


def test_seconds_count_as_parts_of_a_minute() -> None:
    assert minutes(clock.hours_and_minutes("1:30:45")) == 90.75
    assert minutes(clock.time_of_day("2026-01-05T14:30:30Z")) == 14 * 60 + 30.5


@pytest.mark.parametrize("text", ["6 pm", "18 Uhr", "14:30Z"])
def test_a_time_of_day_is_no_length_of_time(text: str) -> None:
    fault = clock.hours_and_minutes(text)
    assert fault is not None
    assert "is a time of day" in fault.detail


@pytest.mark.parametrize("text", ["14", "14.30", "90 min", "1.5 h", "", "abc", "1:3", "1" * 70 + ":30"])
def test_a_plain_number_or_anything_else_is_nothing_that_a_clock_shows(text: str) -> None:
    assert clock.time_of_day(text) is None
    assert clock.hours_and_minutes(text) is None
