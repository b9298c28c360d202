"""Only where processes can be looked at as Linux shows them."""

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def _linux() -> None:
    if not Path("/proc/self/task").is_dir():
        pytest.skip("there is no /proc: the processes of a service are looked at as Linux shows them")
