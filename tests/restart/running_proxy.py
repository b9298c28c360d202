"""nginx with the shipped configuration: only ports and paths are others."""

import os
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final, NamedTuple

import pytest

from tests.restart.running_service import HOST, ROOT, free_port, listens, wait_for

SHIPPED: Final = ROOT / "deploy" / "proxy" / "nginx.conf"
PLACES: Final = {
    "/var/log/nginx/": "log/",
    "/var/cache/nginx/": "cache/",
    "/etc/nginx/": "tls/",
    "/run/nginx.pid": "nginx.pid",
}
"""Paths of the shipped configuration, and where they lie below a test's own folder."""


class Proxy(NamedTuple):
    """A running nginx."""

    port: int
    folder: Path
    process: int
    """Id of its first process."""

    @property
    def log(self) -> str:
        """Its access log."""
        return (self.folder / "log" / "lyestock.log").read_text(encoding="utf-8")


def nginx() -> str:
    """The program; skips where there is none."""
    found = shutil.which("nginx", path=f"{os.environ.get('PATH', '')}:/usr/sbin:/usr/local/sbin")
    if found is None:
        told = "nginx is not installed: apt-get install --no-install-recommends nginx-light"
        if os.environ.get("PROXY_TESTS") == "must":
            pytest.fail(told)
        pytest.skip(told)
    return found


def configured(folder: Path, upstream: int, port: int, change: Callable[[str], str] = str) -> Path:
    """The shipped configuration with a test's own ports and paths, checked by nginx.

    Args:
        folder: of the test.
        upstream: port of the service.
        port: where nginx is to listen.
        change: whatever else an operator would change.
    """
    text = change(SHIPPED.read_text(encoding="utf-8"))
    for shipped, own in PLACES.items():
        assert shipped in text
        text = text.replace(shipped, f"{folder}/{own}")
    text, upstreams = re.subn(r"server 127\.0\.0\.1:8765", f"server {HOST}:{upstream}", text)
    text, listeners = re.subn(r"(?m)^( +listen) (?:80|443)\b", rf"\1 {HOST}:{port}", text)
    assert (upstreams, listeners) == (4, 1)
    for name in ("log", "cache", "tls"):
        (folder / name).mkdir(exist_ok=True)
    path = folder / "nginx.conf"
    path.write_text(text, encoding="utf-8")
    checked = subprocess.run(
        [nginx(), "-t", "-p", str(folder), "-c", str(path)], capture_output=True, check=False, text=True
    )
    assert checked.returncode == 0, checked.stderr
    assert "[warn]" not in checked.stderr.replace('the "user" directive', ""), checked.stderr
    return path


@contextmanager
def proxy(folder: Path, upstream: int, change: Callable[[str], str] = str) -> Iterator[Proxy]:
    """nginx before a service, while the context lasts."""
    program, port = nginx(), free_port()
    folder.chmod(0o755)
    path = configured(folder, upstream, port, change)
    if os.geteuid() == 0:  # its workers run as somebody else, who has to reach their folders
        for parent in path.parents:
            if parent.stat().st_uid == 0 and str(parent).startswith("/tmp/pytest"):  # noqa: S108 - pytest's own
                parent.chmod(parent.stat().st_mode | 0o011)
    process = subprocess.Popen(
        [program, "-p", str(folder), "-c", str(path), "-g", "daemon off;"], stderr=subprocess.DEVNULL
    )
    try:
        wait_for(lambda: listens(port) or process.poll() is not None, "nginx starts")
        assert process.poll() is None, (folder / "log" / "error.log").read_text(encoding="utf-8")
        yield Proxy(port, folder, process.pid)
    finally:
        process.terminate()
        process.wait(30)
