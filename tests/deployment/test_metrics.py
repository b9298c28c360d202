"""An operator can read /metrics as the README says, and nobody else can."""

import os
import subprocess
import sys
from pathlib import Path
from typing import Final

from service.http.operation.keys import new_key
from tests.deployment.manifests import DEPLOY, ROOT, compose
from tests.restart.running_service import started

PROBE: Final = DEPLOY / "container/probe.py"


def shown(port: int, given: str, *page: str) -> tuple[int, str]:
    """Exit code and output of the container's probe."""
    command = [sys.executable, "-I", str(PROBE), *page]
    environment = {**os.environ, "LYESTOCK_PORT": str(port)}
    done = subprocess.run(
        command, input=given, capture_output=True, text=True, check=False, timeout=30, env=environment
    )
    return done.returncode, done.stdout


def test_the_probe_shows_a_page_to_who_has_a_key(tmp_path: Path) -> None:
    key, digest = new_key()
    with started(tmp_path, LYESTOCK_KEY_HASHES=digest) as service:
        code, told = shown(service.port, f"{key}\n", "/metrics")
        assert code == 0
        assert "lyestock_requests_total" in told
        code, told = shown(service.port, "lyestock-wrong\n", "/metrics")
        assert code == 1
        assert "lyestock_requests_total" not in told
        assert shown(service.port, "") == (0, "")
    code, told = shown(service.port, f"{key}\n", "/metrics")
    assert (code, told) == (1, "")


def test_in_compose_it_is_reached_by_the_network_that_is_named() -> None:
    services, networks = compose()["services"], compose()["networks"]
    assert "ports" not in services["lyestock"]
    assert services["lyestock"]["networks"] == ["inside"]
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"`{networks['inside']['name']}`" in readme
    assert "/opt/lyestock/probe.py /metrics" in " ".join(readme.split())
