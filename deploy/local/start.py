"""Serves from the source tree, and shows what the service can do once it answers."""

import argparse
import json
import os
import socket
import sys
import threading
import time
import urllib.request
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
HOST: Final = "127.0.0.1"
PORT: Final = 8765
TRIES: Final = 50
"""Ports tried, from the wanted one upwards."""
PATIENCE: Final = 30.0
"""Seconds the service may take to answer."""

ASKED: Final = "/v1/liquid-split?units=us&digits=4"
REQUEST: Final = {
    "alkalis": [{"alkali": "NaOH", "mass": "6 oz"}],
    "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
    "total_liquid": {"water_ratio": "2:1"},
}

_OPENER: Final = urllib.request.build_opener(urllib.request.ProxyHandler({}))
"""Asks this machine directly, whatever proxy is set."""


def free_port(wanted: int) -> int | None:
    """The first port from the wanted one upwards that nobody listens on."""
    for port in range(wanted, min(wanted + TRIES, 1 << 16)):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((HOST, port))
            except OSError:
                continue
            return port
    return None


def ask(address: str, body: dict[str, object] | None = None) -> dict[str, object]:
    """The JSON at an address."""
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(address, data, {"Content-Type": "application/json"})  # noqa: S310 - own address
    with _OPENER.open(request, timeout=10) as reply:
        answer: dict[str, object] = json.load(reply)
        return answer


def show(base: str) -> None:
    """Wait until the service answers, and print one worked request."""
    end = time.monotonic() + PATIENCE
    while True:
        try:
            ready = ask(base + "/health/ready")
            break
        except OSError:
            if time.monotonic() > end:
                print(f"The service does not answer at {base}; see its messages.", file=sys.stderr)
                return
            time.sleep(0.05)
    answer = ask(base + ASKED, REQUEST)
    lines = [
        f"Lyestock {ready['version']} answers at {base}",
        f"Try it in a browser: {base}/docs",
        "",
        f"One request, POST {ASKED}",
        *(f"  {name}: {json.dumps(value)}" for name, value in REQUEST.items()),
        "and its answer:",
        *(f"  {name}: {json.dumps(value, ensure_ascii=False)}" for name, value in answer.items()),
        "",
        "Ctrl-C ends it.",
    ]
    print("\n".join(lines), flush=True)


def main() -> int:
    """Start the service."""
    parser = argparse.ArgumentParser(prog="deploy/local/run", description="Start the service on this machine.")
    parser.add_argument("--port", type=int, default=PORT, help="port to listen on, or the next free (%(default)s)")
    said = parser.parse_args()
    if not 0 < said.port < 1 << 16:
        parser.error("a port is a whole number from 1 to 65535")
    port = free_port(said.port)
    if port is None:
        print(f"No port is free from {said.port} on: give another with --port.", file=sys.stderr)
        return 1
    if port != said.port:
        print(f"Port {said.port} is taken; port {port} is used instead.", flush=True)

    os.environ.setdefault("LYESTOCK_LOG", "off")  # what is shown here is to be read by a person
    sys.path.insert(0, str(ROOT))
    from service.command import main as serve  # noqa: PLC0415 - found only now

    threading.Thread(target=show, args=(f"http://{HOST}:{port}",), daemon=True).start()
    return serve(["--host", HOST, "--port", str(port)])


if __name__ == "__main__":
    sys.exit(main())
