"""What the service counts about itself, and the page where Prometheus reads it.

Counting happens on every request, reading a few times a minute: so counts are plain numbers that the outermost
application adds to, and become metrics only when they are read. Labels come from closed sets (calculations,
templates of pages, statuses and kinds of problems), never from what a caller sends: no scan makes them grow.
"""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import accumulate
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
from service.http.pages import READ
from service.http.problems import KINDS

PATH: Final = "/metrics"
MEDIA: Final = "text/plain; version=0.0.4"
"""The text format of Prometheus; Litestar adds the charset."""
OTHER: Final = "other"
"""The route of every path that is none."""
UNANSWERED: Final = 0
"""Counted in place of a status where the caller left before the answer."""
BOUNDS: Final = (0.0001, 0.00025, 0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5)
"""Upper bounds of the latency's classes [s]; a last class holds what took longer."""


class Meter:
    """Counts of one route.

    Attributes:
        statuses: requests by the status of their answer.
        classes: requests by the class of their latency.
        seconds: sum of the latencies [s].
        calculated: answers that were calculated.
        calculating: sum of the time spent on them [s].
    """

    __slots__ = ("calculated", "calculating", "classes", "seconds", "statuses")

    def __init__(self) -> None:
        self.statuses: defaultdict[int, int] = defaultdict(int)
        self.classes = [0] * (len(BOUNDS) + 1)
        self.seconds = 0.0
        self.calculated = 0
        self.calculating = 0.0

    def served(self, status: int, seconds: float) -> None:
        """Count a request.

        Args:
            status: status of the answer, or UNANSWERED.
            seconds: its latency, from the first line of the request to the last byte of the answer handed over [s].
        """
        self.statuses[status] += 1
        self.classes[bisect_left(BOUNDS, seconds)] += 1
        self.seconds += seconds

    def worked(self, seconds: float, answers: int = 1) -> None:
        """Count what was calculated.

        Args:
            seconds: time spent on decoding, calculating and encoding [s].
            answers: how many answers came of it.
        """
        self.calculated += answers
        self.calculating += seconds


class Metrics(Collector):
    """Counts of one application.

    Attributes:
        in_flight: requests that are being served.
    """

    def __init__(self, calculations: Iterable[str], data_version: str) -> None:
        self._calculations = {name: Meter() for name in calculations}
        self._pages: dict[str, Meter] = {}
        self._other = Meter()
        self._problems = dict.fromkeys(KINDS, 0)
        self._data_version = data_version
        self.in_flight = 0
        self._registry = CollectorRegistry()
        self._registry.register(self)
        ProcessCollector(registry=self._registry)
        PlatformCollector(registry=self._registry)
        GCCollector(registry=self._registry)

    def know_pages(self, templates: Iterable[str]) -> None:
        """Say which pages there are, by the templates of their paths; they are counted apart from now on."""
        self._pages.update((template, Meter()) for template in templates)

    def calculation(self, name: str) -> Meter:
        """The counts of a calculation."""
        return self._calculations[name]

    def page(self, template: object) -> Meter:
        """The counts of a page by the template of its path; those of all the rest where there is no such page."""
        return self._pages.get(template, self._other) if isinstance(template, str) else self._other

    def problem(self, kind: object) -> None:
        """Count a problem by the name of its kind; what is no kind is not counted."""
        if isinstance(kind, str) and kind in self._problems:
            self._problems[kind] += 1

    def text(self) -> bytes:
        """All counts in the text format of Prometheus."""
        return generate_latest(self._registry)

    def collect(self) -> Iterator[Metric]:
        """All counts as metrics; prometheus_client calls this."""
        yield InfoMetricFamily(
            "lyestock", "What runs.", value={"version": __version__, "data_version": self._data_version}
        )
        yield GaugeMetricFamily("lyestock_requests_in_flight", "Requests being served.", value=self.in_flight)
        requests = CounterMetricFamily(
            "lyestock_requests", "Requests by the status of their answer.", labels=("route", "status")
        )
        latencies = HistogramMetricFamily("lyestock_request_seconds", "Latency of requests.", labels=("route",))
        for name, meter in self._routes():
            for status, count in sorted(meter.statuses.items()):
                requests.add_metric((name, "unanswered" if status == UNANSWERED else str(status)), count)
            if meter.statuses:
                sums = accumulate(meter.classes)
                classes = zip((*(str(bound) for bound in BOUNDS), "+Inf"), sums, strict=True)
                latencies.add_metric((name,), list(classes), meter.seconds)
        yield requests
        yield latencies
        work = SummaryMetricFamily(
            "lyestock_calculation_seconds",
            "Time spent on decoding, calculating and encoding an answer.",
            labels=("calculation",),
        )
        for name, meter in self._calculations.items():
            work.add_metric((name,), meter.calculated, meter.calculating)
        yield work
        problems = CounterMetricFamily("lyestock_problems", "Problems answered, by kind.", labels=("kind",))
        for kind, count in self._problems.items():
            problems.add_metric((kind,), count)
        yield problems

    def _routes(self) -> Iterator[tuple[str, Meter]]:
        yield from self._calculations.items()
        yield from self._pages.items()
        yield OTHER, self._other


def metrics_page(metrics: Metrics) -> HTTPRouteHandler:
    """The handler of the page that Prometheus reads."""

    @route(PATH, http_method=READ)
    async def read_metrics() -> Response[bytes]:
        return Response(metrics.text(), media_type=MEDIA, headers={"cache-control": "no-store"})

    return read_metrics
