"""What the service counts about itself, and the page where Prometheus reads it.

Counting happens on every request, reading a few times a minute: so counts are plain numbers in cells that the outermost
application adds to, and become metrics only when they are read. Several workers keep their cells where each finds those
of all (worker_counts), and whichever is asked tells the sums. Labels come from closed sets (calculations,
templates of pages, statuses and kinds of problems), never from what a caller sends: no scan makes them grow.
"""

import os
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import partial
from itertools import accumulate
from pathlib import Path
from typing import Final

from litestar import Response, route
from litestar.handlers import HTTPRouteHandler
from prometheus_client import CollectorRegistry, GCCollector, PlatformCollector, ProcessCollector, generate_latest
from prometheus_client.metrics_core import (
    CounterMetricFamily,
    GaugeMetricFamily,
    HistogramMetricFamily,
    InfoMetricFamily,
    Metric,
    SummaryMetricFamily,
)
from prometheus_client.registry import Collector

from service import __version__
from service.http.addresses import BASE
from service.http.operation.worker_counts import Cells, SharedCells, Told, private_cells, summed
from service.http.pages import READ
from service.http.problems import KINDS

PATH: Final = "/metrics"
MEDIA: Final = "text/plain; version=0.0.4"
"""The text format of Prometheus; Litestar adds the charset."""
OTHER: Final = "other"
"""The route of every path that is none."""
LINE: Final = "line"
"""The route of what is refused at the line, before the application sees it."""
UNANSWERED: Final = 0
"""Counted in place of a status where the caller left before the answer."""
BOUNDS: Final = (0.0001, 0.00025, 0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5)
"""Upper bounds of the latency's classes [s]; a last class holds what took longer."""


STATUSES: Final = tuple(sorted({UNANSWERED, 200, 204, 304, *(kind.status for kind in KINDS.values())}))
"""Every status there is; another one would be counted as `other`."""

_CALCULATED, _CALCULATING, _SECONDS, _CLASSES = range(4)
_STATUS: Final = _CLASSES + len(BOUNDS) + 1
_PLACES: Final = {status: place for place, status in enumerate(STATUSES, _STATUS)}
_STRANGE: Final = _STATUS + len(STATUSES)
_CLASS_NAMES: Final = (*(str(bound) for bound in BOUNDS), "+Inf")
_STATUS_NAMES: Final = (*("unanswered" if one == UNANSWERED else str(one) for one in STATUSES), OTHER)
_COLUMNS: Final = ("calculated", "calculating", "seconds", *_CLASS_NAMES, *_STATUS_NAMES)
"""What the cells of a route hold, in their order."""

IN_FLIGHT, _LOST, _PROCESS = range(3)
"""Places of the cells that concern the whole process."""
_WHOLE: Final = ("in-flight", "lost-lines", "process")


class Meter:
    """Counts of one route, in cells of numbers.

    Attributes:
        route: what the route is called in metrics.
        template: what it is called in log lines: the template of its path.
    """

    __slots__ = ("_cells", "route", "template")

    def __init__(self, route: str, template: str) -> None:
        self.route = route
        self.template = template
        self._cells = private_cells(len(_COLUMNS))

    def count_in(self, cells: Cells) -> None:
        """Go on in other cells, to which what was counted so far is added."""
        for place, value in enumerate(self._cells):
            cells[place] += value
        self._cells = cells

    def served(self, status: int, seconds: float) -> None:
        """Count a request.

        Args:
            status: status of the answer, or UNANSWERED.
            seconds: its latency, from the first line of the request to the last byte of the answer handed over [s].
        """
        cells = self._cells
        cells[_PLACES.get(status, _STRANGE)] += 1
        cells[_CLASSES + bisect_left(BOUNDS, seconds)] += 1
        cells[_SECONDS] += seconds

    def worked(self, seconds: float, answers: int = 1) -> None:
        """Count what was calculated.

        Args:
            seconds: time spent on decoding, calculating and encoding [s].
            answers: how many answers came of it.
        """
        self._cells[_CALCULATED] += answers
        self._cells[_CALCULATING] += seconds

    def values(self) -> dict[str, float]:
        """The counts by their names."""
        return dict(zip(_names(self.route), self._cells.tolist(), strict=True))


def _names(route: str) -> list[str]:
    return [f"{route} {column}" for column in _COLUMNS]


class Metrics(Collector):
    """Counts of one application.

    Attributes:
        what: what runs: `version`, `data_version` and `build`.
        line: counts of what is refused at the line.
        whole: cells that concern the whole process; that at IN_FLIGHT holds the requests that are being served.
    """

    def __init__(self, calculations: Iterable[str], data_version: str, build: str = "") -> None:
        self._calculations = {name: Meter(name, BASE + name) for name in calculations}
        self._pages: dict[str, Meter] = {}
        self._other = Meter(OTHER, OTHER)
        self.line = Meter(LINE, LINE)
        self._problems = private_cells(len(KINDS))
        self._kinds = {kind: place for place, kind in enumerate(KINDS)}
        self.what = {"version": __version__, "data_version": data_version, "build": build}
        self._shared: SharedCells | None = None
        self.whole = private_cells(len(_WHOLE))
        self._registry = CollectorRegistry()
        self._registry.register(self)
        PlatformCollector(registry=self._registry)
        self._of_process = [ProcessCollector(registry=self._registry), GCCollector(registry=self._registry)]

    def know_pages(self, templates: Iterable[str]) -> None:
        """Say which pages there are, by the templates of their paths; they are counted apart from now on."""
        self._pages.update((template, Meter(template, template)) for template in templates)

    def share(self, folder: Path) -> None:
        """Count where the other workers find it, and tell theirs from now on.

        Args:
            folder: where all workers count; see worker_counts.

        Raises:
            OSError: there is no room.
        """
        meters = [*self._meters()]
        problems = [f"problem {kind}" for kind in KINDS]
        names = [*_WHOLE, *problems, *(name for meter in meters for name in _names(meter.route))]
        self._shared = SharedCells(folder, names)
        cells = self._shared.cells
        whole, self._problems = cells[: len(_WHOLE)], _moved(self._problems, cells[len(_WHOLE) :][: len(problems)])
        whole[IN_FLIGHT] = 0  # those of a worker that has gone are served no more
        whole[_PROCESS] = os.getpid()
        self.whole = _moved(self.whole, whole)
        for number, meter in enumerate(meters):
            place = len(_WHOLE) + len(problems) + number * len(_COLUMNS)
            meter.count_in(cells[place : place + len(_COLUMNS)])
        for collector in self._of_process:
            self._registry.unregister(collector)

    def calculation(self, name: str) -> Meter:
        """The counts of a calculation."""
        return self._calculations[name]

    def page(self, template: object) -> Meter:
        """The counts of a page by the template of its path; those of all the rest where there is no such page."""
        return self._pages.get(template, self._other) if isinstance(template, str) else self._other

    def problem(self, kind: object) -> None:
        """Count a problem by the name of its kind; what is no kind is not counted."""
        if isinstance(kind, str) and kind in self._kinds:
            self._problems[self._kinds[kind]] += 1

    def lost(self, lines: int) -> None:
        """Count lines that could not be written to the log."""
        self.whole[_LOST] += lines

    def text(self) -> bytes:
        """All counts in the text format of Prometheus."""
        return generate_latest(self._registry)

    def collect(self) -> Iterator[Metric]:
        """All counts as metrics; prometheus_client calls this."""
        told = [self._told()] if self._shared is None else list(self._shared.told())
        alive = [one for one in told if one.alive]
        sums = summed(told)
        yield InfoMetricFamily("lyestock", "What runs.", value=self.what)
        yield GaugeMetricFamily("lyestock_workers", "Processes that serve.", value=len(alive))
        flying = sum(one.values.get(_WHOLE[IN_FLIGHT], 0) for one in alive)
        yield GaugeMetricFamily("lyestock_requests_in_flight", "Requests being served.", value=flying)
        lost = sums[_WHOLE[_LOST]]
        yield CounterMetricFamily("lyestock_log_lines_lost", "Lines that could not be written to the log.", value=lost)
        yield from self._requests(sums)
        work = SummaryMetricFamily(
            "lyestock_calculation_seconds",
            "Time spent on decoding, calculating and encoding an answer.",
            labels=("calculation",),
        )
        for name in self._calculations:
            work.add_metric((name,), int(sums[f"{name} calculated"]), sums[f"{name} calculating"])
        yield work
        problems = CounterMetricFamily("lyestock_problems", "Problems answered, by kind.", labels=("kind",))
        for kind in KINDS:
            problems.add_metric((kind,), sums[f"problem {kind}"])
        yield problems
        if self._shared is not None:
            yield from _processes({one.number: int(one.values[_WHOLE[_PROCESS]]) for one in alive})

    def _requests(self, sums: defaultdict[str, float]) -> Iterator[Metric]:
        requests = CounterMetricFamily(
            "lyestock_requests", "Requests by the status of their answer.", labels=("route", "status")
        )
        latencies = HistogramMetricFamily("lyestock_request_seconds", "Latency of requests.", labels=("route",))
        for meter in self._meters():
            route = meter.route
            for status in _STATUS_NAMES:
                if sums[f"{route} {status}"]:
                    requests.add_metric((route, status), sums[f"{route} {status}"])
            classes = list(accumulate(sums[f"{route} {name}"] for name in _CLASS_NAMES))
            if classes[-1]:
                latencies.add_metric((route,), [*zip(_CLASS_NAMES, classes, strict=True)], sums[f"{route} seconds"])
        yield requests
        yield latencies

    def _told(self) -> Told:
        """What this process has counted where no others count beside it."""
        values: dict[str, float] = dict(zip(_WHOLE, self.whole.tolist(), strict=True))
        values |= {f"problem {kind}": self._problems[place] for kind, place in self._kinds.items()}
        for meter in self._meters():
            values |= meter.values()
        return Told(0, True, values)

    def _meters(self) -> Iterator[Meter]:
        yield from self._calculations.values()
        yield from self._pages.values()
        yield self._other
        yield self.line


def _moved(old: Cells, new: Cells) -> Cells:
    """New cells, to which what the old ones hold is added."""
    for place, value in enumerate(old):
        new[place] += value
    return new


def _processes(workers: dict[int, int]) -> Iterator[Metric]:
    """Memory, processor time and open files of every worker that lives, by the number of its counts.

    Args:
        workers: process ids by number.
    """
    found: dict[str, Metric] = {}
    for number, process in workers.items():
        for family in ProcessCollector(pid=partial(int, process), registry=None).collect():
            kept = found.setdefault(family.name, Metric(family.name, family.documentation, family.type))
            for sample in family.samples:
                kept.add_sample(sample.name, {"worker": str(number)}, sample.value)
    yield from found.values()


def metrics_page(metrics: Metrics) -> HTTPRouteHandler:
    """The handler of the page that Prometheus reads."""

    @route(PATH, http_method=READ)
    async def read_metrics() -> Response[bytes]:
        return Response(metrics.text(), media_type=MEDIA, headers={"cache-control": "no-store"})

    return read_metrics
