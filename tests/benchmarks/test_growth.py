"""Growth is measured, judged and drawn; no speed is asserted."""

import xml.etree.ElementTree as ET

from tests.benchmarks.growth import Growth, Point, Series, measure
from tests.benchmarks.growth_page import TITLES, drawing, of_callers, off, page, verdict
from tests.benchmarks.results import Watch


def test_every_series_is_measured_from_its_least_size_on_and_drawn() -> None:
    found = measure(turns=1, seconds=0.1, most=2)
    assert [one.name for one in found] == list(TITLES)
    assert all(point.ms > 0 and point.kib > 0 for one in found for point in one.points)
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


def test_memory_of_callers_is_told_by_each() -> None:
    told = of_callers([Point(1, 0.2, 1024.0), Point(17, 2.0, 1088.0)])
    assert told == "1.0 MiB with 1, 1.1 MiB with 17: 4.0 KiB for each more"


def test_a_drawing_stays_within_its_frame() -> None:
    root = ET.fromstring(drawing(Series("lines", points(3.0, 12.0, 102.0, 1002.0))))  # noqa: S314
    for circle in root.findall("{http://www.w3.org/2000/svg}circle"):
        assert 0 < float(circle.attrib["cx"]) < 760
        assert 34 <= float(circle.attrib["cy"]) <= 244
