"""The application under test, and what the fuzzing says at the end of a run."""

from typing import Any

import pytest

from service.http.app import create_app
from tests.asgi import Caller
from tests.contract.fuzzing import ANSWERED, EXCUSES


@pytest.fixture(scope="session")
def call() -> Caller:
    return Caller(create_app())


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """Say what was excused, and how often: nothing is excluded in silence."""
    for reason, times in sorted(EXCUSES.items()):
        terminalreporter.write_line(f"contract: excused {times} requests that fit the schema - {reason}")
    computed = sum(times for (label, status), times in ANSWERED.items() if status == 200 and label.startswith("POST"))
    asked = sum(times for (label, _), times in ANSWERED.items() if label.startswith("POST"))
    if asked:
        terminalreporter.write_line(f"contract: {computed} of {asked} generated calculations computed")
