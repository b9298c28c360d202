"""nginx takes the shipped file where it is put as its head tells, on a machine that has nginx-light and no more."""

import os
import re
import subprocess
from typing import Final

import pytest

from tests.deployment.manifests import DEPLOY, ROOT
from tests.deployment.needed import needs

SHIPPED: Final = DEPLOY / "proxy/nginx.conf"
PACKAGE: Final = ("apt-get ", "systemctl ")
"""What a command of the head begins with that cannot be done within a test: nginx is there, and no system runs it."""
FOLDERS: Final = ("/var/cache", "/var/log", "/etc/nginx", "/run")
"""Empty in the test, so that nothing there can help, and nothing of this machine is changed."""
OF_THE_PACKAGE: Final = ("/var/log/nginx",)
"""Folders that Debian's package makes."""


def commands() -> list[str]:
    """The commands of the file's head, in order."""
    head = re.split(r"\n(?!#)", SHIPPED.read_text(encoding="utf-8"))[0]
    told = head.partition("#   Debian:")[2].partition("#   Service:")[0].splitlines()[1:]
    return [line.lstrip("# ") for line in told if line.strip("# ")]


def test_the_head_tells_how_it_is_put_there() -> None:
    told = commands()
    assert told[0].startswith("apt-get install ")
    assert told[0].endswith(" nginx-light")
    assert told[-2:] == ["nginx -t", "systemctl reload nginx"]


def test_nginx_takes_the_file_as_it_is_shipped() -> None:
    needs("nginx", "unshare", "mount")
    if os.geteuid() != 0:
        pytest.skip("only root can have folders of its own for a test")
    hidden = [f"mount -t tmpfs none {folder}" for folder in FOLDERS]
    made = [f"mkdir -p {folder}" for folder in OF_THE_PACKAGE]
    done = [line for line in commands() if not line.startswith(PACKAGE)]
    assert "nginx -t" in done
    script = "\n".join(["set -eu", *hidden, *made, *done, "ls -d /var/cache/nginx/*"])
    command = ["unshare", "--mount", "--net", "sh", "-c", script]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=60)
    assert run.returncode == 0, run.stderr
    assert "test is successful" in run.stderr
    assert {"/var/cache/nginx/lyestock", "/var/cache/nginx/lyestock-body"} <= set(run.stdout.split())
