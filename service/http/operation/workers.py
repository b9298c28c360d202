"""The processes that serve: one, or several under a supervisor that replaces those that die.

serve           serve until it is told to end
server_config   how the server is set

One process is told to end by SIGTERM, SIGINT (Ctrl-C) or SIGHUP: it takes no new connection, closes those that are
idle, and finishes what it serves, for `drain_seconds` at most. Several are told through their supervisor
(`supervisor.py`), whose SIGHUP replaces them one after the other.
"""

import gc
import logging.config
import math
import os
import signal
import sys
import threading
from collections.abc import Callable
from multiprocessing import parent_process
from types import FrameType
from typing import Any, Final

import msgspec
import uvicorn
from uvicorn.config import STARTUP_FAILURE

from service.http.app import create_app
from service.http.operation.gathering import GatheringProtocol
from service.http.operation.log_records import LOGGING
from service.http.operation.protocol import protocol
from service.http.operation.readiness import PROCESS
from service.http.operation.settings import Settings
from service.http.operation.settings_reading import SettingsError
from service.http.operation.start_checks import cautions, unusable
from service.http.operation.supervisor import Supervisor
from service.http.operation.worker_counts import counts_folder
from service.http.outer import Outer
from service.reference import ReferenceDataError

CARRIED: Final = "_LYESTOCK_WORKER"
"""Environment variable in which a supervisor hands the settings to its workers; not a setting."""
AFTER_DRAIN: Final = 5.0
"""Seconds a process may take to end once the time to drain is over; then it is cut off, whatever keeps it."""
HEALTH_SECONDS: Final = 10
"""A worker that gives no sign of life for so long hangs, and is replaced [s]."""
TURN: Final = 0.001
"""Seconds that the event loop waits for its turn while something long is calculated beside it [s]."""
END: Final = (signal.SIGTERM, signal.SIGINT)
"""Signals that tell a process to end."""

_LOG: Final = logging.getLogger("lyestock")


def serve(settings: Settings, read_again: Callable[[], Settings]) -> int:
    """Serve until a signal ends it.

    Args:
        settings: what the operator set.
        read_again: reads the settings anew, as for workers that replace others at SIGHUP; may raise whatever says why
            they cannot be used. Then nothing is replaced.

    Returns:
        Exit code: 0 where it was told to end, 1 where it could not start.

    Raises:
        ReferenceDataError: the reference data are faulty, and one process was to serve.
        SettingsError: host and port cannot be listened on.
    """
    if wrong := unusable(settings):
        raise SettingsError(wrong)
    set_logging()
    for caution in cautions(settings):
        _LOG.warning(caution)
    try:
        if settings.workers > 1:
            return _serve_by_several(settings, read_again)
        return _serve_alone(settings)
    except KeyboardInterrupt:
        return 0
    except SystemExit as end:  # the server says so where it cannot start; why stands in the log
        return 1 if end.code else 0


def set_logging() -> None:
    """Have what is logged written; each process has to do it for itself."""
    logging.config.dictConfig(LOGGING)


def server_config(settings: Settings, app: Callable[[], Any]) -> uvicorn.Config:
    """How the server is set.

    Forwarded addresses are believed from `trusted_proxies` alone. Without any the server must not look for them at all:
    by itself it would believe whatever comes from this machine.

    Args:
        settings: what the operator set.
        app: makes the application, in the process that serves it.
    """
    return uvicorn.Config(
        app,
        factory=True,
        host=settings.host,
        port=settings.port,
        workers=settings.workers,
        log_config=None,
        access_log=False,
        server_header=False,
        lifespan="on",
        http=protocol(settings, GatheringProtocol),
        ws="none",
        proxy_headers=bool(settings.trusted_proxies),
        forwarded_allow_ips=[*settings.trusted_proxies],
        timeout_worker_healthcheck=HEALTH_SECONDS,
        timeout_keep_alive=math.ceil(settings.idle_seconds),
        timeout_graceful_shutdown=math.ceil(settings.drain_seconds),
    )


def _serve_alone(settings: Settings) -> int:
    app = _made(settings)

    def begin() -> Outer:
        _drain_at_the_end(settings.drain_seconds)
        return app

    server = uvicorn.Server(server_config(settings, begin))
    # The server raises the signal that ended it once more when it has drained: that is no failure.
    signal.signal(signal.SIGTERM, lambda *_: setattr(server, "should_exit", True))
    if hasattr(signal, "SIGHUP"):
        signal.signal(signal.SIGHUP, lambda *_: signal.raise_signal(signal.SIGTERM))
    server.run()
    return 0 if server.started else 1


def _serve_by_several(settings: Settings, read_again: Callable[[], Settings]) -> int:
    def config() -> uvicorn.Config:
        read = read_again()
        # The socket is bound, and processes are counted, once and for all.
        read = msgspec.structs.replace(read, host=settings.host, port=settings.port, workers=settings.workers)
        return _handed_over(read)

    with counts_folder():
        first = _handed_over(settings)
        return Supervisor(first, [first.bind_socket()], config).serve()


def _handed_over(settings: Settings) -> uvicorn.Config:
    """How the servers of workers are set; those started from now on find the settings in their environment."""
    os.environ[CARRIED] = msgspec.json.encode(settings).decode()
    return server_config(settings, worker_app)


def worker_app() -> Outer:
    """The application in a worker, which takes its settings from its environment.

    A worker that cannot make it ends with the exit code by which its supervisor knows that none could.
    """
    set_logging()
    try:
        settings = msgspec.json.decode(os.environ[CARRIED], type=Settings)
        app = _made(settings)
    except ReferenceDataError as error:
        _LOG.error("The reference data cannot be used. %s", error)
        sys.exit(STARTUP_FAILURE)
    except Exception:
        _LOG.exception("This worker cannot start.")
        sys.exit(STARTUP_FAILURE)
    _drain_at_the_end(settings.drain_seconds)
    if hasattr(signal, "SIGHUP"):
        signal.signal(signal.SIGHUP, signal.SIG_IGN)  # it means the supervisor, who may share a terminal with it
    threading.Thread(target=_end_with_supervisor, daemon=True).start()
    return app


def _made(settings: Settings) -> Outer:
    """The application, in a process that has nothing else to do than to serve it."""
    app = create_app(settings=settings)
    gc.freeze()  # what stays to the end need not be looked through for garbage, while everybody waits
    sys.setswitchinterval(TURN)
    return app


def _drain_at_the_end(seconds: float) -> None:
    """From the signal that ends this process on, say that it is not ready, and see that it does end.

    Called while the server has its own handlers of signals in place, which are called as well.
    """
    if threading.current_thread() is not threading.main_thread():
        return  # a server inside of another program: signals are that program's

    def ends(then: Callable[[int, FrameType | None], Any]) -> Callable[[int, FrameType | None], None]:
        def told(number: int, frame: FrameType | None) -> None:
            if not PROCESS.draining:
                PROCESS.draining = True
                last = threading.Timer(seconds + AFTER_DRAIN, _cut_off)
                last.daemon = True
                last.start()
            then(number, frame)

        return told

    for one in END:
        handler = signal.getsignal(one)
        if callable(handler):
            signal.signal(one, ends(handler))


def _cut_off() -> None:
    _LOG.error("This process does not end by itself, and is cut off.")
    os._exit(1)


def _end_with_supervisor() -> None:
    """Workers that nobody looks after would keep the port, and never be replaced."""
    supervisor = parent_process()
    if supervisor is not None:
        supervisor.join()
        os.kill(os.getpid(), signal.SIGTERM)
