"""Whatever is logged by Python's means, by us or by the server, as lines of the same log, without any key in it."""

import logging
import traceback
from datetime import UTC, datetime
from typing import Any, Final

from msgspec import UNSET, UnsetType

from service.http.operation.hidden_keys import without_keys
from service.http.operation.log_lines import LINES, PATIENCE, Level, Line, own_output

_LEVELS: Final[tuple[tuple[int, Level], ...]] = ((50, "critical"), (40, "error"), (30, "warning"), (20, "info"))


class LineHandler(logging.Handler):
    """Makes a line of every record; never raises, and never waits while the service serves.

    Attributes:
        ending: nothing more is served, so that each line is waited for.
    """

    ending = False

    def __init__(self) -> None:
        super().__init__()
        LINES.open(own_output())

    def emit(self, record: logging.LogRecord) -> None:
        """Have a record written."""
        try:
            line = line_of_record(record)
        except Exception:
            line = Line(
                time=datetime.now(UTC), level="error", message="a record cannot be told", logger=__name__, process=0
            )
        LINES.add(line, hurry=True)
        if LineHandler.ending:
            LINES.flush(PATIENCE)

    def flush(self) -> None:
        """Wait for what is not written yet; Python calls this as the process ends."""
        LINES.flush(PATIENCE)


def line_of_record(record: logging.LogRecord) -> Line:
    """The line of a record: its message, what it says about a request, and its traceback, without keys."""
    return Line(
        time=datetime.fromtimestamp(record.created, UTC),
        level=next((word for number, word in _LEVELS if record.levelno >= number), "debug"),
        message=_tidy(record.getMessage()),
        logger=record.name,
        process=record.process or 0,
        route=_said(record, "route"),
        request_id=_said(record, "request_id"),
        trace_id=_said(record, "trace_id"),
        traceback=_traceback(record),
    )


def _traceback(record: logging.LogRecord) -> str | UnsetType:
    if record.exc_info and record.exc_info[1] is not None:
        return _tidy("".join(traceback.format_exception(record.exc_info[1])))
    if record.exc_text or record.stack_info:
        return _tidy(record.exc_text or record.stack_info or "")
    return UNSET


def _said(record: logging.LogRecord, name: str) -> str | UnsetType:
    value = getattr(record, name, None)
    return _tidy(value) if isinstance(value, str) and value else UNSET


def _tidy(text: str) -> str:
    """A text that can be encoded, without keys."""
    return without_keys(text.encode("utf-8", "backslashreplace").decode())


LOGGING: Final[dict[str, Any]] = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"lines": {"class": f"{__name__}.{LineHandler.__name__}"}},
    "root": {"level": "INFO", "handlers": ["lines"]},
    "loggers": {"uvicorn.access": {"propagate": False}},
}
"""For logging.config.dictConfig, which uvicorn calls in its supervisor and in every worker."""
