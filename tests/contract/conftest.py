"""The application under test, one run of the fuzzing for all tests that look at it, and what it says at the end."""

from typing import Any, Final

import pytest

from service.http.app import create_app
from tests.asgi import Caller
from tests.contract.campaign import Outcome, campaign

SEED: Final = 1
EACH: Final = 30
"""Requests made up for each calculation: the run is part of every test run, so it is short and always the same."""
RUN: Final[list[Outcome]] = []


@pytest.fixture(scope="session")
def call() -> Caller:
    return Caller(create_app())


@pytest.fixture(scope="session")
def outcome() -> Outcome:
    RUN.append(campaign(seed=SEED, each=EACH))
    return RUN[0]


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """Say what was excused, passed over or left out, and how often: nothing is excluded in silence."""
    for one in RUN:
        terminalreporter.write_line(f"contract: {one.tally.requests} requests in {one.seconds:.0f} s, seed {SEED}")
        for link in one.links_not_followed:
            terminalreporter.write_line(f"contract: not taken by chance in so short a run: {link}")
        for line in one.tally.reasons():
            terminalreporter.write_line(f"contract: {line}")
