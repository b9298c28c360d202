"""`python -m tests.http.workers PORT NUMBER [fails]`: several workers, as a supervisor of the service starts them."""

import sys

import uvicorn
from uvicorn.supervisors import Multiprocess

from service.calculations.shared.notes import Notes
from service.http.app import create_app
from service.http.operation.log_records import LOGGING
from service.http.operation.worker_counts import counts_folder
from service.http.outer import Outer
from tests.http.conftest import PartAnswer, PartRequest, _calculation, part


def tells_a_key(_: PartRequest, __: Notes) -> PartAnswer:
    raise ConnectionError("https://there.example/v1/part?key=sesame-of-the-house&units=us refused")


def create_failing() -> Outer:
    """The service, with a calculation that fails and tells an address with a key."""
    known = (_calculation("part", part), _calculation("fails", tells_a_key))
    return create_app({one.name: one for one in known})


def main(port: int, workers: int, *, fails: bool) -> None:
    """Serve until the process is ended."""
    app = f"{__spec__.name}:create_failing" if fails else "service.http.app:create_app"
    config = uvicorn.Config(
        app,
        factory=True,
        port=port,
        workers=workers,
        log_config=LOGGING,
        access_log=False,
        lifespan="on",
        timeout_worker_healthcheck=60,  # a busy machine is not taken for a dead worker
    )
    with counts_folder():
        Multiprocess(config, [config.bind_socket()]).run()


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]), fails="fails" in sys.argv)
