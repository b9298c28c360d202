"""Makes nginx's file fit for containers, of deploy/proxy/nginx.conf: python deploy/container/proxy_files.py.

It writes deploy/container/nginx.conf, for compose, and deploy/kubernetes/proxy-config.yaml, the ConfigMap. Run it after
that file changed; tests compare both with what would be made.
"""

from pathlib import Path
from typing import Final

DEPLOY: Final = Path(__file__).resolve().parents[1]
SOURCE: Final = DEPLOY / "proxy/nginx.conf"
COMPOSED: Final = DEPLOY / "container/nginx.conf"
CLUSTERED: Final = DEPLOY / "kubernetes/proxy-config.yaml"
POD_NETWORK: Final = "10.0.0.0/8"

HEAD: Final = "# Made of deploy/proxy/nginx.conf by deploy/container/proxy_files.py: change that one.\n"
CHANGES: Final[tuple[tuple[str, str, int | None], ...]] = (
    # Of the node there may be dozens of cores; the container has one or two.
    ("worker_processes auto;", "worker_processes 2;", 1),
    # Who starts the container says how many files it may open; without rights, more cannot be had.
    ("worker_rlimit_nofile 16384;\n", "", 1),
    ("pid /run/nginx.pid;", "pid /tmp/nginx.pid;", 1),
    ("error_log /var/log/nginx/error.log warn;", "error_log /dev/stderr warn;", 1),
    ("access_log /var/log/nginx/lyestock.log lyestock;", "access_log /dev/stdout lyestock;", 1),
    ("server 127.0.0.1:8765 ", "server lyestock:8765 ", None),
    ("listen 80 default_server;", "listen 8080 default_server;", 1),
    # What its container has for files must hold the bodies of requests as well.
    (" max_size=256m ", " max_size=128m ", 1),
)
REAL_ADDRESS: Final = f"""\
    # The ingress controller, a pod like this one, tells the address of the caller.
    set_real_ip_from {POD_NETWORK};                          # adapt: the network of your pods
    real_ip_header X-Forwarded-For;
    real_ip_recursive on;

"""
BEFORE: Final = "    # ---- How much one caller may ask "
MANIFEST: Final = """\
apiVersion: v1
kind: ConfigMap
metadata:
  name: lyestock-proxy
  namespace: lyestock
data:
  nginx.conf: |
"""


def composed(source: str) -> str:
    """The file for a container whose callers reach it without another proxy."""
    return HEAD + _changed(source)


def clustered(source: str) -> str:
    """The ConfigMap, whose file believes the ingress controller."""
    nginx = _changed(source)
    _count(nginx, BEFORE, 1)
    nginx = nginx.replace(BEFORE, REAL_ADDRESS + BEFORE)
    if "\t" in nginx or nginx != nginx.strip() + "\n":
        raise ValueError("the file must begin with a word, end with one line's end, and hold no tab: YAML changes it")
    return HEAD + MANIFEST + "".join(f"    {line}".rstrip() + "\n" for line in nginx.splitlines())


def _changed(source: str) -> str:
    for was, becomes, times in CHANGES:
        _count(source, was, times)
        source = source.replace(was, becomes)
    return source


def _count(text: str, part: str, times: int | None) -> None:
    """Refuse a file that has not so often what is to be changed; without a number, once or more."""
    if (text.count(part) != times) if times is not None else (part not in text):
        raise ValueError(f"{part!r} should be there {times or 'some'} times: say in proxy_files.py what became of it")


if __name__ == "__main__":
    told = SOURCE.read_text(encoding="utf-8")
    COMPOSED.write_text(composed(told), encoding="utf-8")
    CLUSTERED.write_text(clustered(told), encoding="utf-8")
