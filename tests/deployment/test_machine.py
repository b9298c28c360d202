"""The systemd unit on a machine of its own, whose first process is systemd: the service works with what it forbids.

The machine is a container, but for what systemd must be able to do. It has no network but its own.
"""

import json
import os
import subprocess
import time
from collections.abc import Iterator
from typing import Final

import pytest

from service.http.operation.keys import new_key
from tests.deployment.manifests import ENVIRONMENT, ROOT, UNIT, with_key
from tests.deployment.needed import needs

ENGINE: Final = "deploy/container/engine"
MACHINE: Final = "lyestock-machine"
BASE: Final = "localhost/lyestock-machine-base"
IMAGE: Final = "localhost/lyestock-machine"
RIGHTS: Final = "SYS_ADMIN,SYS_PTRACE,NET_ADMIN"
KEY, HASH = new_key()
PATIENCE: Final = 60.0
"""Seconds for the service to be ready on a busy machine."""

ASKING: Final = """
import http.client, sys
body = sys.stdin.buffer.read()
connection = http.client.HTTPConnection("127.0.0.1", 8765, timeout=30)
headers = {"Accept": sys.argv[2], "Content-Type": "application/json", "Authorization": "Bearer " + sys.argv[3]}
connection.request("POST" if body else "GET", sys.argv[1], body or None, headers)
answer = connection.getresponse()
print(answer.status, answer.read().decode())
"""


def _run(*command: str, given: bytes = b"", check: bool = True, patience: float = 60.0) -> str:
    done = subprocess.run(command, cwd=ROOT, input=given, capture_output=True, check=False, timeout=patience)
    told = done.stdout.decode()
    if check:
        assert done.returncode == 0, told + done.stderr.decode()
    return told.strip()


def on_machine(*command: str, given: bytes = b"", check: bool = True) -> str:
    return _run(ENGINE, "exec", "--interactive", MACHINE, *command, given=given, check=check)


def ask(path: str, given: bytes = b"", accept: str = "application/json") -> tuple[int, str]:
    """Status and body of an answer; 0 where there is none."""
    told = on_machine("python3", "-I", "-c", ASKING, path, accept, KEY, given=given, check=False)
    status, _, body = told.partition(" ")
    return int(status or 0), body


def shown(name: str) -> str:
    """A property that systemd tells of the service."""
    return on_machine("systemctl", "show", "--value", "--property", name, "lyestock")


def wait_until_ready() -> None:
    deadline = time.monotonic() + PATIENCE
    while ask("/health/ready")[0] != 200:
        assert time.monotonic() < deadline, on_machine("journalctl", "--no-pager", "--unit", "lyestock", check=False)
        time.sleep(0.3)


@pytest.fixture(scope="module")
def machine(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The machine, with the service ready."""
    needs("mmdebstrap", "podman", "runc")
    if os.geteuid() != 0:
        pytest.skip("only root can make such a machine")
    _run("deploy/container/try", "--build", patience=300)
    _run("deploy/container/base", BASE, "base-files", "libstdc++6", "python3", "systemd", patience=200)
    folder = tmp_path_factory.mktemp("machine")
    (folder / UNIT.name).write_bytes(UNIT.read_bytes())
    (folder / ENVIRONMENT.name).write_text(with_key(ENVIRONMENT.read_text(encoding="utf-8"), HASH), encoding="utf-8")
    arguments = ["--build-arg", f"BASE={BASE}", "--build-arg", "SERVICE=localhost/lyestock:try", "--tag", IMAGE]
    file = ["--file", "tests/deployment/machine/Dockerfile", str(folder)]
    _run(ENGINE, "build", "--quiet", "--isolation", "chroot", "--pull=never", *arguments, *file, patience=200)
    limits = ["--ulimit", "nofile=8192:8192", "--ulimit", "nproc=2000:2000", "--security-opt", "seccomp=unconfined"]
    start = ["--detach", "--replace", "--name", MACHINE, "--systemd=always", "--network", "none", "--cap-add", RIGHTS]
    try:
        _run(ENGINE, "run", *start, *limits, IMAGE)
        deadline = time.monotonic() + PATIENCE
        while not on_machine("systemctl", "is-system-running", check=False):
            assert time.monotonic() < deadline
            time.sleep(0.2)
        on_machine("systemctl", "start", "lyestock")
        wait_until_ready()
        yield
    finally:
        _run(ENGINE, "rm", "--force", "--time", "5", MACHINE, check=False)


@pytest.mark.usefixtures("machine")
def test_it_works_with_all_that_is_forbidden() -> None:
    folder = ROOT / "openapi/examples/stock-mixing"
    request = (folder / "published-heat-of-solution.request.json").read_bytes()
    status, body = ask("/v1/stock-mixing?digits=6", request)
    assert status == 200
    assert json.loads(body) == json.loads((folder / "published-heat-of-solution.answer.json").read_bytes())
    status, body = ask("/v1/stock-mixing", request, "image/svg+xml")
    assert status == 200, body
    assert "</svg>" in body
    assert "fontlist" in on_machine("python3", "-c", "import os; print(os.listdir('/var/cache/private/lyestock'))")
    status, body = ask("/metrics")
    assert status == 200
    assert "process_start_time_seconds" in body


@pytest.mark.usefixtures("machine")
def test_it_has_a_user_of_its_own_and_no_rights() -> None:
    lines = on_machine("python3", "-c", f"print(open('/proc/{shown('MainPID')}/status').read())").splitlines()
    status = dict(line.split(":", 1) for line in lines)
    user = int(status["Uid"].split()[0])
    assert 61184 <= user <= 65519  # those that systemd gives away, says systemd.exec(5)
    assert {status[name].strip() for name in ("CapEff", "CapPrm", "CapBnd", "CapAmb")} == {"0" * 16}
    assert status["NoNewPrivs"].strip() == "1"
    assert status["Seccomp"].strip() == "2"


@pytest.mark.usefixtures("machine")
def test_it_comes_back_when_it_is_killed() -> None:
    before = shown("MainPID")
    on_machine("python3", "-c", f"import os; os.kill({before}, 9)")
    deadline = time.monotonic() + PATIENCE
    while shown("NRestarts") != "1":
        assert time.monotonic() < deadline
        time.sleep(0.2)
    wait_until_ready()
    assert shown("MainPID") not in ("0", before)


@pytest.mark.usefixtures("machine")
def test_it_is_there_after_a_reload() -> None:
    pytest.importorskip("service.http.operation.workers", reason="this version has no workers that can be replaced")
    main = shown("MainPID")
    before = workers(main)
    assert len(before) == 2
    on_machine("systemctl", "reload", "lyestock")
    deadline = time.monotonic() + PATIENCE
    while len(now := workers(main)) != 2 or now & before:
        assert ask("/health/live")[0] == 200  # nobody is turned away meanwhile
        assert time.monotonic() < deadline, (before, now)
        time.sleep(0.2)
    assert (shown("MainPID"), shown("ActiveState")) == (main, "active")


def workers(main: str) -> set[str]:
    """The processes that serve, by their ids: children of the first, but for Python's own helper."""
    code = """
import os, pathlib, sys
for folder in pathlib.Path("/proc").glob("[0-9]*"):
    try:
        parent = (folder / "stat").read_text().rpartition(")")[2].split()[1]
        if parent == sys.argv[1] and b"resource_tracker" not in (folder / "cmdline").read_bytes():
            print(folder.name)
    except OSError:
        pass  # it has ended
"""
    return set(on_machine("python3", "-c", code, main).split())


@pytest.mark.usefixtures("machine")
def test_it_ends_well_when_it_is_stopped() -> None:
    begun = time.monotonic()
    on_machine("systemctl", "stop", "lyestock")
    assert time.monotonic() - begun < 20
    # Not a success for systemd: being killed once the time to end is over.
    assert (shown("Result"), shown("ActiveState")) == ("success", "inactive")
