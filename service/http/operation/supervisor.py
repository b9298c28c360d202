"""The supervisor of several workers: uvicorn's own, made to end in time and not to start for ever what cannot start.

Supervisor   starts workers, replaces those that die, and rolls all at SIGHUP
"""

import logging
import signal
import socket
import time
from collections.abc import Callable
from types import FrameType
from typing import Final

import uvicorn
from uvicorn.config import STARTUP_FAILURE
from uvicorn.supervisors.multiprocess import Multiprocess

from service.http.operation.heartbeat import Worker

START_SECONDS: Final = 60.0
"""Time in which a worker must have started [s]."""
MOST_STILLBORN: Final = 3
"""Workers that may die one after the other before they serve; then it is given up."""
BEYOND_DRAIN: Final = 10.0
"""Seconds after the time to drain at which a worker is killed; it should have ended itself before."""
_GLANCE: Final = 0.2
"""Time between two looks at a worker that is to end [s]."""

_LOG: Final = logging.getLogger("lyestock")


class Supervisor(Multiprocess):
    """Starts workers, replaces those that die, and rolls all at SIGHUP.

    SIGTERM and SIGINT reach the workers at once, even while others are being replaced: all drain in the same time.
    """

    def __init__(
        self, config: uvicorn.Config, sockets: list[socket.socket], read_again: Callable[[], uvicorn.Config]
    ) -> None:
        """Take over the signals of this process.

        Args:
            config: of the workers' servers.
            sockets: that they listen on.
            read_again: gives the config of those that replace others at SIGHUP; raises whatever says why it cannot.
        """
        super().__init__(config, sockets)
        self.processes: list[Worker] = []  # type: ignore[assignment]
        self._read_again = read_again
        self._looked_at: set[Worker] = set()
        self._since: dict[Worker, float] = {}
        self._stillborn = 0
        self._failed = False
        for one in (signal.SIGTERM, signal.SIGINT):
            signal.signal(one, self._end)

    def serve(self) -> int:
        """Serve until a signal ends it, or no worker can start.

        Returns:
            Exit code: 1 where no worker could start.
        """
        self.run()
        if self._failed or any(one.exitcode == STARTUP_FAILURE for one in self.processes):
            _LOG.error("A worker cannot start; what it said stands above. The service ends.")
            return 1
        return 0

    def _end(self, _: int, __: FrameType | None) -> None:
        self.should_exit.set()
        for one in self.processes:
            one.process.terminate()

    def terminate_all(self) -> None:
        """Tell all workers to end, and let go of the sockets: while they are open callers wait where nobody answers."""
        for one in self.sockets:
            one.close()
        super().terminate_all()

    def join_all(self) -> None:
        """Wait until all workers have ended, and kill those that do not."""
        end = self._last_moment()
        for one in self.processes:
            one.process.join(max(0.0, end - time.monotonic()))
            self._kill(one)

    def restart_all(self) -> None:
        """Replace each worker: its replacement serves before it is told to end.

        Where the settings cannot be used, or a replacement does not start, the others stay as they are.
        """
        try:
            self.config = self._read_again()
        except Exception as error:
            _LOG.error("The workers are not replaced, since the settings cannot be used.\n%s", error)
            return
        for old in [*self.processes]:
            if self.should_exit.is_set():
                return
            if old not in self.processes:
                continue  # it died meanwhile, and has been replaced
            new = self._begun()
            if not new.wait_until_ready(START_SECONDS, self.should_exit):
                new.kill()
                new.join()
                if not self.should_exit.is_set():
                    _LOG.error("A replacement did not start: the workers that have not been replaced stay.")
                return
            self._looked_at.add(new)
            self.processes[self.processes.index(old)] = new
            old.terminate()
            end = self._last_moment()
            while old.process.is_alive() and time.monotonic() < end:
                old.process.join(_GLANCE)
                self.keep_subprocess_alive()
            self._kill(old)

    def keep_subprocess_alive(self) -> None:
        """Replace workers that have died or hang.

        One that has not begun to serve is not asked for a sign of life, which it could not give; it is killed where
        starting takes too long. Where several in a row die before they serve, none will.
        """
        if self.should_exit.is_set():
            return
        starting = False
        for one in self.processes:
            if one in self._looked_at:
                continue
            if not one.process.is_alive():
                self._stillborn += one.exitcode != STARTUP_FAILURE
                self._looked_at.add(one)
            elif self._serves(one):
                self._stillborn = 0
                self._looked_at.add(one)
            elif time.monotonic() - self._since.setdefault(one, time.monotonic()) > START_SECONDS:
                one.process.kill()
            else:
                starting = True
        if self._stillborn >= MOST_STILLBORN:
            _LOG.error("%d workers in a row died before they could serve.", self._stillborn)
            self._failed = True
            self.should_exit.set()
        if not starting:
            for place, one in enumerate(self.processes):
                if self._has_ended(one) and not self.should_exit.is_set():
                    self.processes[place] = self._begun()
            self._looked_at.intersection_update(self.processes)
            self._since.clear()

    def init_processes(self) -> None:
        """Start the workers."""
        self.processes += [self._begun() for _ in range(self.processes_num)]

    def handle_ttin(self) -> None:
        """One worker more is wanted."""
        self.processes_num += 1
        self.processes.append(self._begun())

    def _begun(self) -> Worker:
        new = Worker(self.config, self.sockets)
        new.start()
        return new

    def _has_ended(self, one: Worker) -> bool:
        """Whether a worker is no more; one that hangs is killed. Where it could not start, the whole ends."""
        if one.process.is_alive():
            silent = one.silent_for()
            if silent < self.config.timeout_worker_healthcheck:
                return False
            _LOG.error("Worker %s has given no sign of life for %.0f s, and is replaced.", one.pid, silent)
            one.kill()
            one.join()
        else:
            _LOG.error("Worker %s has died with exit code %s.", one.pid, one.exitcode)
        if one.exitcode == STARTUP_FAILURE:
            self.should_exit.set()
        return True

    @staticmethod
    def _serves(one: Worker) -> bool:
        """Whether a worker serves. One that starts answers all questions at once in the end, the newest last."""
        serves = one.is_ready(timeout=_GLANCE)
        while one.parent_conn.poll():
            serves = one.parent_conn.recv()
        return serves

    def _last_moment(self) -> float:
        return time.monotonic() + (self.config.timeout_graceful_shutdown or 0) + BEYOND_DRAIN

    @staticmethod
    def _kill(one: Worker) -> None:
        if one.process.is_alive():
            _LOG.error("Worker %s did not end in time, and is killed.", one.pid)
            one.process.kill()
            one.process.join()
