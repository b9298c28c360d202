"""The page of the benchmark, made from what is kept."""

from tests.benchmarks import start
from tests.benchmarks.results import about, kept


def page() -> str | None:
    """The page; None where nothing was measured."""
    started = kept("start", start.Start)
    if started is None:
        return None
    lines = ["# Speed, as measured", "", *start.part(started), about(started.machine), ""]
    return "\n".join(lines)
