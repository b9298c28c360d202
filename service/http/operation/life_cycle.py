"""What begins and ends with the service in a process: shared counts, lost lines, and what the log says of both."""

import logging
import os
from pathlib import Path
from typing import Final

from service.http.metrics import Metrics
from service.http.operation.log_lines import LINES
from service.http.operation.log_records import LineHandler
from service.http.operation.worker_counts import FOLDER

_LOG: Final = logging.getLogger("lyestock")


class LifeCycle:
    """Called by the server as the service begins and ends in this process."""

    def __init__(self, metrics: Metrics) -> None:
        self._metrics = metrics

    async def begin(self) -> None:
        """Count where the other workers do, if there are any.

        Where that cannot be done the worker serves all the same, and the log says that its counts are told apart.
        """
        folder = os.environ.get(FOLDER)
        if folder:
            try:
                self._metrics.share(Path(folder))
            except OSError:
                _LOG.exception("this worker counts alone: its counts cannot be put where the others are")
        LINES.count_losses(self._metrics.lost)
        told = self._metrics.what
        build = f", build {told['build']}" if told["build"] else ""
        _LOG.info("Lyestock %s begins, reference data %s%s", told["version"], told["data_version"], build)

    async def end(self) -> None:
        """Write what waits in the log; from now on each line is waited for, since the process may end at any time."""
        _LOG.info("Lyestock ends")
        LineHandler.ending = True
        LINES.flush()
