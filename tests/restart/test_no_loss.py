"""Rolling restarts and killed workers under load, behind the shipped proxy: every request gets its own right answer."""

import asyncio
import os
import signal
import threading
import time
from pathlib import Path
from typing import Final

from tests.restart.load_client import Tally, exchanges, load
from tests.restart.running_proxy import proxy
from tests.restart.running_service import Service, started, wait_for

REQUESTS: Final = 100_000
DIFFERENT: Final = 2_000
CALLERS: Final = 200
"""Below what one worker serves at once (most_concurrent), since for moments there is one alone."""
ROLLS: Final = 3
KILLS: Final = 3


class Disturber(threading.Thread):
    """Rolls the workers and kills one, in turn, until it is told to stop; each time it waits until all serve again."""

    def __init__(self, service: Service) -> None:
        super().__init__(daemon=True)
        self._service = service
        self.stop = threading.Event()
        self.rolls = self.kills = 0

    @property
    def is_enough(self) -> bool:
        return self.rolls >= ROLLS and self.kills >= KILLS

    def run(self) -> None:
        while not self.stop.wait(0.5):
            before, starts = set(self._service.workers()), self._service.starts
            self._service.told(signal.SIGHUP)
            self._service.wait_for_starts(starts + len(before))
            wait_for(lambda: self._all_new(before), "all workers are replaced")  # noqa: B023 - called at once
            self.rolls += 1
            if self.stop.wait(0.5):
                return
            starts = self._service.starts
            os.kill(self._service.workers()[self.kills % 2], signal.SIGKILL)
            self._service.wait_for_starts(starts + 1)
            self.kills += 1

    def _all_new(self, before: set[int]) -> bool:
        now = set(self._service.workers())
        return len(now) == len(before) and not now & before


def test_restarts_and_kills_under_load_lose_no_request(tmp_path: Path) -> None:
    ring, tally = exchanges(DIFFERENT), Tally()
    began = time.monotonic()
    with (
        started(tmp_path, workers=2, LYESTOCK_TRUSTED_PROXIES="127.0.0.1") as service,
        proxy(tmp_path, service.port) as front,
    ):
        disturber = Disturber(service)
        disturber.start()

        def is_enough() -> bool:
            return tally.total >= REQUESTS and (disturber.is_enough or not disturber.is_alive())

        asyncio.run(load(front.port, CALLERS, ring, tally, is_enough))
        disturber.stop.set()
        disturber.join(120)
        assert service.end() == 0
        tried_again = sum(" : " in line.partition('"upstream_status":"')[2][:12] for line in front.log.splitlines())
    print(
        f"\n{tally.total} requests in {time.monotonic() - began:.0f} s, {disturber.rolls} rolling restarts, "
        f"{disturber.kills} workers killed, {tried_again} asked again by the proxy, {len(tally.lost)} lost, "
        f"{len(tally.wrong)} wrong"
    )
    assert not tally.lost, tally.lost[:5]
    assert not tally.wrong, tally.wrong[:5]
    assert disturber.is_enough
    assert tally.right >= REQUESTS
