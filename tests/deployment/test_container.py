"""The image, built and run by the one command of the operator's guide: read-only, without rights, without a shell."""

import http.client
import json
import os
import signal
import socket
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Final, NamedTuple

import pytest

from tests.deployment.needed import needs

ROOT: Final = Path(__file__).resolve().parents[2]
TRY: Final = "deploy/container/try"
ENGINE: Final = "deploy/container/engine"
NAME: Final = "lyestock-try"
EARLY: Final = "lyestock-early"
PATIENCE: Final = 300.0
"""Seconds for base, packages and image, where a registry is slow; a minute is usual."""
GRACE: Final = 20.0
"""Seconds an idle service has to end; it takes a fraction of one."""
EXAMPLES: Final = ROOT / "openapi/examples"


class Running(NamedTuple):
    """A container: the process that waits for its end, its port, and where its messages go."""

    process: subprocess.Popen[bytes]
    port: int
    messages: Path

    def ask(
        self, path: str, body: bytes | None = None, accept: str = "application/json", host: str = "127.0.0.1"
    ) -> tuple[int, bytes]:
        """Status and body of an answer."""
        connection = http.client.HTTPConnection(host, self.port, timeout=60)
        try:
            headers = {"Accept": accept, "Content-Type": "application/json"}
            connection.request("GET" if body is None else "POST", path, body, headers)
            answer = connection.getresponse()
            return answer.status, answer.read()
        finally:
            connection.close()

    def inside(self, code: str) -> str:
        """What Python prints that runs code within the container."""
        command = [ENGINE, "exec", NAME, "python", "-I", "-c", code]
        return subprocess.run(command, cwd=ROOT, capture_output=True, check=True, text=True, timeout=60).stdout.strip()


def _start(messages: IO[bytes]) -> Running:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port: int = free.getsockname()[1]
    process = subprocess.Popen([TRY, "--port", str(port)], cwd=ROOT, stdout=messages, stderr=subprocess.STDOUT)
    return Running(process, port, Path(messages.name))


@pytest.fixture(scope="module")
def container(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """The container, ready."""
    needs("mmdebstrap", "podman", "runc")
    if os.geteuid() != 0:
        pytest.skip("only root can make a base for the image")
    with (tmp_path_factory.mktemp("container") / "messages.txt").open("wb") as messages:
        running = _start(messages)
        try:
            deadline = time.monotonic() + PATIENCE
            while True:
                assert running.process.poll() is None, running.messages.read_text()[-4000:]
                assert time.monotonic() < deadline, running.messages.read_text()[-4000:]
                try:
                    if running.ask("/health/ready")[0] == http.HTTPStatus.OK:
                        break
                except OSError:
                    time.sleep(0.2)
            yield running
        finally:
            if running.process.poll() is None:
                subprocess.run([ENGINE, "rm", "--force", "--time", "5", NAME], cwd=ROOT, check=False, timeout=60)
                running.process.wait(30)


def test_it_is_ready_and_tells_what_was_built(container: Running) -> None:
    _, body = container.ask("/health/ready")
    assert json.loads(body)["status"] == "ready"
    built = subprocess.run(
        ["git", "rev-parse", "--short", "HEAD"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert container.inside("import os; print(os.environ['LYESTOCK_BUILD'])") == (built.stdout.strip() or "unknown")


def test_it_listens_on_every_address(container: Running) -> None:
    pytest.importorskip("service.http.operation.settings", reason="this version takes no settings from outside")
    # All of 127/8 is this machine: what listens on 127.0.0.1 alone does not answer at 127.0.0.2.
    assert container.ask("/health/live", host="127.0.0.2")[0] == http.HTTPStatus.OK


def test_it_calculates_as_the_published_example(container: Running) -> None:
    folder = EXAMPLES / "concentration"
    request = (folder / "handbook-fifty-per-cent.request.json").read_bytes()
    status, body = container.ask("/v1/concentration?digits=6", request)
    assert status == http.HTTPStatus.OK, body
    assert json.loads(body) == json.loads((folder / "handbook-fifty-per-cent.answer.json").read_bytes())


def test_it_draws_though_only_tmp_can_be_written(container: Running) -> None:
    request = (EXAMPLES / "stock-mixing/published-heat-of-solution.request.json").read_bytes()
    for _ in range(2):  # the first looks the fonts up, the second finds their list
        status, body = container.ask("/v1/stock-mixing", request, "image/svg+xml")
        assert status == http.HTTPStatus.OK, body
        assert b"</svg>" in body
    assert container.inside("import os; print(*os.listdir('/tmp/matplotlib'))").startswith("fontlist")


def test_its_root_cannot_be_written(container: Running) -> None:
    tried = """
import errno, os
for folder in ("/", "/opt/lyestock", "/etc", "/var", "/run", "/home", "/usr/lib/python3"):
    options = os.statvfs(folder)
    print(folder, "read-only" if options.f_flag & os.ST_RDONLY else "can be written")
try:
    open("/opt/lyestock/mark", "w")
except OSError as error:
    print(errno.errorcode[error.errno])
"""
    told = container.inside(tried).splitlines()
    assert told[-1] == "EROFS"
    assert all(line.endswith("read-only") for line in told[:-1]), told


def test_it_has_no_rights(container: Running) -> None:
    wanted = ("Uid", "Gid", "Groups", "CapEff", "CapPrm", "CapBnd", "CapAmb", "NoNewPrivs", "Seccomp")
    status = dict(line.split(":", 1) for line in container.inside("print(open('/proc/1/status').read())").splitlines())
    told = {name: status[name].split() for name in wanted}
    none = ["0" * 16]
    assert told == {
        "Uid": ["65532"] * 4,
        "Gid": ["65532"] * 4,
        "Groups": ["65532"],
        "CapEff": none,
        "CapPrm": none,
        "CapBnd": none,
        "CapAmb": none,
        "NoNewPrivs": ["1"],
        "Seccomp": ["2"],  # a filter of system calls
    }


def test_it_needs_no_shell_and_can_install_nothing(container: Running) -> None:
    code = """
import importlib.util, shutil
print([name for name in ("sh", "bash", "dash", "busybox", "pip", "apt-get") if shutil.which(name)])
print(importlib.util.find_spec("pip"))
"""
    assert container.inside(code).splitlines() == ["[]", "None"]


def test_its_probe_tells_whether_it_is_ready(container: Running) -> None:
    asked = [ENGINE, "image", "inspect", "localhost/lyestock:try"]
    told = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=True, timeout=60)
    kind, *probe = json.loads(told.stdout)[0]["Healthcheck"]["Test"]
    assert kind == "CMD"
    done = {}
    for port in (container.port, 9):  # nobody listens on the port for what is thrown away
        command = [ENGINE, "exec", "--env", f"LYESTOCK_PORT={port}", NAME, *probe]
        done[port] = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=60)
    assert done[container.port].returncode == 0, done
    assert done[9].returncode == 1, done
    assert "does not answer" in done[9].stderr


def test_it_ends_by_itself_when_told_to(container: Running) -> None:
    begun = time.monotonic()
    subprocess.run([ENGINE, "stop", "--time", "60", NAME], cwd=ROOT, check=True, capture_output=True, timeout=90)
    assert container.process.wait(30) == 0, container.messages.read_text()[-4000:]
    assert time.monotonic() - begun < GRACE


@pytest.mark.usefixtures("container")
def test_it_ends_when_told_to_while_it_still_loads() -> None:
    limits = ["--ulimit", "nofile=1024:1024", "--ulimit", "nproc=256:256"]
    start = [ENGINE, "run", "--detach", "--replace", "--no-healthcheck", "--network", "none", *limits, "--name", EARLY]
    try:
        subprocess.run([*start, "localhost/lyestock:try"], cwd=ROOT, check=True, capture_output=True, timeout=60)
        asked = [ENGINE, "inspect", "--format", "{{.State.Pid}}", EARLY]
        status = Path("/proc", _told(asked), "status")
        begun = time.monotonic()
        while not _handles_end(status):  # Python itself takes its hundredths of a second
            assert time.monotonic() - begun < GRACE
            time.sleep(0.01)
        begun = time.monotonic()
        subprocess.run([ENGINE, "stop", "--time", "60", EARLY], cwd=ROOT, check=True, capture_output=True, timeout=90)
        assert time.monotonic() - begun < GRACE
        assert _told([ENGINE, "inspect", "--format", "{{.State.ExitCode}}", EARLY]) == "0"
        assert "startup complete" not in _told([ENGINE, "logs", EARLY])
    finally:
        subprocess.run([ENGINE, "rm", "--force", "--time", "1", EARLY], cwd=ROOT, check=False, timeout=60)


def _told(command: list[str]) -> str:
    done = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=60)
    return done.stdout.decode().strip()


def _handles_end(status: Path) -> bool:
    """Whether a process has a handler for SIGTERM."""
    [caught] = [line.split()[1] for line in status.read_text().splitlines() if line.startswith("SigCgt")]
    return bool(int(caught, 16) >> (signal.SIGTERM - 1) & 1)
