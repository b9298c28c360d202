"""Mixed traffic for a while, faults among it: memory must level off. SOAK_SECONDS says how long."""

import os
import random
import statistics
import threading
import time
from typing import Final

import pytest

from tests.faults.processes import Line, running
from tests.faults.traffic import VISITS

SECONDS: Final = float(os.environ.get("SOAK_SECONDS") or 25)
MOST_GROWTH: Final = 30 << 20
"""Bytes that memory may grow between the second quarter and the last. What is kept of answers (16 MB at most) may still
be filling in a short run; a leak of one kilobyte a request would be more."""
CALLERS: Final = 3


@pytest.mark.parametrize("seconds", [SECONDS])
def test_memory_levels_off(seconds: float) -> None:
    failed: list[str] = []
    visits = [0] * CALLERS
    with running(log="off", request_seconds=30) as service:
        ends = time.monotonic() + seconds

        def call(caller: int) -> None:
            chance = random.Random(caller)  # noqa: S311 - traffic that can be repeated
            while time.monotonic() < ends and not failed:
                line, visit = Line(service.port, 60), chance.choice(VISITS)
                try:
                    visit(line, chance)
                except Exception as error:
                    failed.append(f"{visit.__name__}: {error!r}")
                line.close()
                visits[caller] += 1

        callers = [threading.Thread(target=call, args=(number,)) for number in range(CALLERS)]
        for caller in callers:
            caller.start()
        seen: list[tuple[float, int]] = []
        while any(caller.is_alive() for caller in callers):
            seen.append((time.monotonic() - ends + seconds, service.resident()))
            time.sleep(seconds / 100)
        for caller in callers:
            caller.join()
        assert not failed, failed[0]
        service.works()
    second = [size for at, size in seen if seconds / 4 <= at < seconds / 2]
    last = [size for at, size in seen if at >= seconds * 3 / 4]
    growth = round(statistics.median(last) - statistics.median(second))
    slope = growth / (seconds / 2)
    shown = ", ".join(f"{at:.0f} s {size >> 20} MiB" for at, size in seen[:: max(1, len(seen) // 12)])
    print(f"{sum(visits)} visits in {seconds:.0f} s: {shown}; {growth >> 10} KiB more, {slope / 1024:.1f} KiB/s")
    assert growth < MOST_GROWTH
