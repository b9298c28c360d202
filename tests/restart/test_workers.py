"""Workers are replaced, those that cannot start end the whole, and only who is trusted tells a caller's address."""

import asyncio
import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from typing import Any, Final

import pytest

from service.http.operation.settings import Settings
from service.http.operation.workers import HEALTH_SECONDS, server_config
from tests.restart.exchanges import answer, ask, connect, head, is_closed
from tests.restart.running_service import (
    HOST,
    PATIENCE,
    clean_environment,
    free_port,
    keeping_all_busy,
    started,
    wait_for,
)


def test_a_killed_worker_is_replaced(tmp_path: Path) -> None:
    with started(tmp_path, workers=2) as service:
        for killed in range(2):
            before = service.workers()
            assert len(before) == 2
            os.kill(before[0], signal.SIGKILL)
            assert ask(service.port, "GET", "/health/live").status == 200
            service.wait_for_starts(3 + killed)
            assert len(set(service.workers()) - set(before)) == 1
            assert before[1] in service.workers()


def test_a_worker_killed_while_another_drains_is_replaced_at_once(tmp_path: Path) -> None:
    with started(tmp_path, workers=2, LYESTOCK_DRAIN_SECONDS="30") as service, keeping_all_busy(service):
        before = set(service.workers())
        service.told(signal.SIGHUP)
        service.wait_for_starts(3)
        time.sleep(0.5)
        assert len(service.workers()) == 3
        os.kill((set(service.workers()) - before).pop(), signal.SIGKILL)
        began = time.monotonic()
        service.wait_for_starts(4)
        assert time.monotonic() - began < 30


def test_a_worker_that_hangs_is_replaced(tmp_path: Path) -> None:
    with started(tmp_path, workers=2) as service:
        time.sleep(3)  # until its supervisor knows that it serves; one that hangs while it starts is given a minute
        hung = service.workers()[0]
        os.kill(hung, signal.SIGSTOP)
        service.wait_for_starts(3)
        assert hung not in service.workers()


HANGS: Final = """import signal, sys, time
if 'from multiprocessing.spawn' in ' '.join(sys.orig_argv):
    def hang(*_):
        while True:
            time.sleep(0.01)

    def calculate(*_):
        from service.http import beside
        def work():
            end = time.monotonic() + {busy}
            while time.monotonic() < end:
                pass
        beside._THREAD.submit(beside._undisturbed, work)

    signal.signal(signal.SIGUSR1, hang)
    signal.signal(signal.SIGUSR2, calculate)
"""
"""What a worker is made to do by signals. A loop that hangs leaves the other threads of its process their turns."""


def test_a_worker_whose_loop_hangs_is_replaced_and_one_that_calculates_beside_it_is_not(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(HANGS.format(busy=HEALTH_SECONDS + 5), encoding="utf-8")
    path = f"{tmp_path}{os.pathsep}{clean_environment({})['PYTHONPATH']}"
    with started(tmp_path, workers=2, PYTHONPATH=path) as service:
        time.sleep(3)  # until its supervisor knows that it serves
        hung, busy = service.workers()
        os.kill(busy, signal.SIGUSR2)
        os.kill(hung, signal.SIGUSR1)
        began = time.monotonic()
        wait_for(lambda: hung not in service.workers(), "the worker that hangs is ended")
        took = time.monotonic() - began
        assert HEALTH_SECONDS - 1 < took < HEALTH_SECONDS + 15
        service.wait_for_starts(3)
        assert f"Worker {hung} has given no sign of life" in service.log
        time.sleep(max(0.0, HEALTH_SECONDS + 8 - took))
        assert busy in service.workers()
        assert service.starts == 3


def test_a_rolling_restart_takes_the_settings_anew_if_they_are_good(tmp_path: Path) -> None:
    file = tmp_path / "lyestock.toml"
    file.write_text("idle_seconds = 600\n", encoding="utf-8")
    with started(tmp_path, workers=2, LYESTOCK_SETTINGS=str(file)) as service:
        before = service.workers()
        file.write_text("idle_secnds = 1\n", encoding="utf-8")
        service.told(signal.SIGHUP)
        wait_for(lambda: "idle_secnds" in service.log, "the fault is told")
        os.kill(before[0], signal.SIGKILL)  # who replaces it has the settings that were good
        service.wait_for_starts(3)
        assert before[1] in service.workers()
        file.write_text("idle_seconds = 1\nport = 1\nworkers = 1\n", encoding="utf-8")
        service.told(signal.SIGHUP)
        service.wait_for_starts(5)
        wait_for(lambda: len(service.workers()) == 2 and before[1] not in service.workers(), "all are replaced")
        with connect(service.port) as line:
            line.sendall(head("GET", "/health/live"))
            assert answer(line).status == 200
            assert is_closed(line)


def ended(folder: Path, *words: str, environment: dict[str, str] | None = None) -> "subprocess.CompletedProcess[str]":
    """What a service said that ends by itself, and its exit code."""
    return subprocess.run(
        [sys.executable, "-m", "service", *words],
        env=clean_environment(environment or {}),
        cwd=folder,
        check=False,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
    )


BROKEN: Final = {
    "has no settings": "import os; os.environ['_LYESTOCK_WORKER'] = '{'",
    "dies before it serves": "import os; os._exit(7)",
    "is killed before it serves": "import os; os.kill(os.getpid(), 9)",
}


@pytest.mark.parametrize("how", BROKEN)
def test_workers_that_cannot_start_end_the_whole(tmp_path: Path, how: str) -> None:
    only_workers = f"import sys\nif 'from multiprocessing.spawn' in ' '.join(sys.orig_argv):\n    {BROKEN[how]}\n"
    (tmp_path / "sitecustomize.py").write_text(only_workers, encoding="utf-8")
    path = f"{tmp_path}{os.pathsep}{clean_environment({})['PYTHONPATH']}"
    done = ended(tmp_path, "--port", str(free_port()), "--workers", "2", environment={"PYTHONPATH": path})
    assert done.returncode == 1
    assert "A worker cannot start" in done.stdout + done.stderr


@pytest.mark.parametrize("workers", [1, 2])
def test_a_port_that_is_taken_is_told(tmp_path: Path, workers: int) -> None:
    with socket.create_server((HOST, 0)) as taken:
        port = str(taken.getsockname()[1])
        done = ended(tmp_path, "--port", port, "--workers", str(workers))
    assert done.returncode == 1
    assert f"port: {HOST} port {port} cannot be listened on (address already in use)" in done.stderr
    assert "LYESTOCK_PORT" in done.stderr


@pytest.mark.parametrize("workers", [1, 2])
def test_a_host_that_is_none_is_told(tmp_path: Path, workers: int) -> None:
    done = ended(tmp_path, "--host", "no-such-host.invalid", "--workers", str(workers))
    assert done.returncode == 1
    assert "host: 'no-such-host.invalid' is no address that is known here" in done.stderr
    assert "LYESTOCK_HOST" in done.stderr


def client_seen(trusted: tuple[str, ...], peer: str, forwarded: list[str]) -> Any:
    """The address of the caller as the application sees it."""
    seen: list[Any] = []

    async def app(scope: Any, _: Any, __: Any) -> None:
        seen.append(scope["client"][0])

    config = server_config(Settings(trusted_proxies=trusted), lambda: app)
    config.load()
    headers = [(b"x-forwarded-for", one.encode()) for one in forwarded]
    scope = {"type": "http", "client": (peer, 1), "headers": headers, "scheme": "http"}
    asyncio.run(config.loaded_app(scope, None, None))
    return seen[0]


@pytest.mark.parametrize(
    ("trusted", "peer", "forwarded", "client"),
    [
        ((), "127.0.0.1", ["192.0.2.7"], "127.0.0.1"),
        ((), "::1", ["192.0.2.7"], "::1"),
        (("127.0.0.1",), "127.0.0.1", ["192.0.2.7"], "192.0.2.7"),
        (("127.0.0.1",), "127.0.0.1", [], "127.0.0.1"),
        (("127.0.0.1",), "127.0.0.2", ["192.0.2.7"], "127.0.0.2"),
        (("10.0.0.0/24",), "10.0.0.9", ["198.51.100.1, 192.0.2.7"], "192.0.2.7"),
        (("10.0.0.0/24",), "10.0.0.9", ["198.51.100.1", "192.0.2.7, 10.0.0.3"], "192.0.2.7"),
        (("10.0.0.0/24",), "10.0.1.9", ["192.0.2.7"], "10.0.1.9"),
        (("2001:db8::/32",), "2001:db8::5", ["192.0.2.7"], "192.0.2.7"),
    ],
)
def test_only_a_trusted_proxy_tells_the_address_of_a_caller(
    trusted: tuple[str, ...], peer: str, forwarded: list[str], client: str
) -> None:
    assert client_seen(trusted, peer, forwarded) == client


def test_the_environment_of_the_server_trusts_nobody(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORWARDED_ALLOW_IPS", "*")
    assert client_seen((), "127.0.0.1", ["192.0.2.7"]) == "127.0.0.1"
    assert client_seen(("10.0.0.1",), "127.0.0.1", ["192.0.2.7"]) == "127.0.0.1"
