"""Growth is measured, judged and drawn; no speed is asserted."""

import xml.etree.ElementTree as ET

from service.chemistry.vapour_pressure import boiling_point
from tests.benchmarks.growth import Growth, Point, Series, _points, measure
from tests.benchmarks.growth_page import TITLES, causes, drawing, of_callers, off, page, straight_from, verdict
from tests.benchmarks.results import Watch
from tests.benchmarks.turns import Trial, settle


def test_every_series_is_measured_from_its_least_size_on_and_drawn() -> None:
    found = measure(turns=2, seconds=0.1, largest=2)
    assert [one.name for one in found] == list(TITLES)
    assert all(point.ms > 0 and point.kib > 0 and point.turns == 2 for one in found for point in one.points)
    assert all((point.calls or 0) > 100 for one in found[:-1] for point in one.points)
    told = page(Growth(Watch().machine(), found))
    for one in found:
        assert f"](growth-{one.name}.svg)" in told
        root = ET.fromstring(drawing(one))  # noqa: S314 - our own
        circles = root.findall("{http://www.w3.org/2000/svg}circle")
        assert len(circles) == 2 * len(one.points)


def points(*ms: float) -> list[Point]:
    return [Point(10**power, taken, 1.0) for power, taken in enumerate(ms)]


def test_what_is_straight_is_called_so_and_nothing_else() -> None:
    straight = points(3.0, 12.0, 102.0, 1002.0)
    assert off(straight, "ms") < 1e-9
    assert verdict(straight, "ms", "ms") == "straight: 2 ms and 1 ms for each (off by 0% at most)"
    assert verdict(straight, "kib", "KiB") == "flat (off by 0% at most)"
    square = verdict(points(1.0, 100.0, 10_000.0, 1_000_000.0), "ms", "ms")
    assert square.startswith("not one straight line")
    assert square.endswith("from 100 to 1000 it grows as n^2.00")
    bent = verdict(points(1.0, 1000.0, 1000.0), "ms", "ms")
    assert bent.endswith("from 10 to 100 it grows as n^0.00, at most as n^3.00 (1 to 10)")


def test_every_request_of_a_series_is_new() -> None:
    told = []
    for _ in range(2):
        boiling_point.cache_clear()
        fresh = _points(20)
        for work in (fresh(), fresh()):
            before = boiling_point.cache_info().hits
            work()
            told.append(boiling_point.cache_info().hits - before)
    again = fresh()
    again()
    before = boiling_point.cache_info().hits
    again()
    assert boiling_point.cache_info().hits - before > max(told), "else repeating would gain nothing, and prove nothing"


def test_what_is_straight_from_some_size_on_is_told_with_that_size() -> None:
    late = [Point(size, taken, 1.0) for size, taken in ((1, 90.0), (2, 12.0), (4, 14.0), (8, 18.0), (16, 26.0))]
    assert [one.size for one in straight_from(late, "ms")] == [2, 4, 8, 16]
    assert "but straight from 2 on, 1 ms for each" in verdict(late, "ms", "ms")
    assert straight_from(points(1.0, 100.0, 10_000.0, 1_000_000.0), "ms") == []


def test_a_series_that_is_not_straight_has_its_cause_and_none_that_its_calls_deny() -> None:
    ms = (1.0, 100.0, 10_000.0, 1_000_000.0)
    steady = [Point(10**n, taken, 1.0, calls=10**n, turns=15, apart=n / 50) for n, taken in enumerate(ms)]
    (bent, why, loose) = causes(Series("fats", steady))
    assert bent == "Time is not one straight line: no cause is known in what the service does."
    assert "what a call takes on this machine" in why
    assert loose == "The two best turns differ by more than 3% at 100, 1000."
    square = [Point(10**n, taken, 1.0, calls=int(taken)) for n, taken in enumerate(ms)]
    assert "more or less to do" in causes(Series("fats", square))[1]
    assert causes(Series("fats", points(3.0, 12.0, 102.0, 1002.0))) == []


def test_turns_go_on_until_the_two_best_agree() -> None:
    asked: list[str] = []

    def trial(name: str, *found: float) -> Trial:
        left = list(found)

        def turn() -> float:
            asked.append(name)
            return left.pop(0)

        return Trial(name, turn)

    calm = trial("calm", 1.0, 1.01, 1.0)
    rough = trial("rough", 9.0, 2.0, 8.0, 7.0, 2.01)
    never = trial("never", *(2.0**n for n in range(6)))
    settle([calm, rough, never], least=2, most=6)
    assert [len(one.found) for one in (calm, rough, never)] == [2, 5, 6]
    assert (calm.best, rough.best) == (1.0, 2.0)
    assert sorted(asked[:3]) == sorted(asked[3:6]) == ["calm", "never", "rough"], "they are measured in turn"


def test_memory_of_callers_is_told_by_each() -> None:
    told = of_callers([Point(1, 0.2, 1024.0), Point(17, 2.0, 1088.0)])
    assert told == "1.0 MiB with 1, 1.1 MiB with 17: 4.0 KiB for each more"


def test_a_drawing_stays_within_its_frame() -> None:
    root = ET.fromstring(drawing(Series("lines", points(3.0, 12.0, 102.0, 1002.0))))  # noqa: S314
    for circle in root.findall("{http://www.w3.org/2000/svg}circle"):
        assert 0 < float(circle.attrib["cx"]) < 760
        assert 34 <= float(circle.attrib["cy"]) <= 244
