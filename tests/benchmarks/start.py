"""`python -m tests.benchmarks.start`: how soon the service answers, what it holds, and what its start loads.

Measured as it is deployed: its wheel, built now, and the locked packages in an environment of their own, compiled, and
read from the memory of the machine rather than from its disk (the first of all starts is left out). Writes
results/start.json and the page.
"""

import argparse
import http.client
import json
import os
import subprocess
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median
from typing import Final

import msgspec

from service.http.bulk_examples import body_of
from service.http.negotiation import JSON
from tests.benchmarks.bodies import NAMES, ring
from tests.benchmarks.bulk import NAME as BULK_NAME
from tests.benchmarks.environments import BUILD, deployed
from tests.benchmarks.load import load
from tests.benchmarks.results import Machine, Spread, Watch, keep, spread
from tests.benchmarks.servers import HOST, Server, free_port

STARTS: Final = 15
IMPORTS: Final = 7
LOADS: Final = 3
SECONDS: Final = 3.0
MANY: Final = 10_000
PATIENCE: Final = 60.0
BODY: Final = (
    b'{"alkalis": [{"alkali": "NaOH", "mass": "170 g"}], "total_liquid": {"water_ratio": "2:1"}, '
    b'"stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}]}'
)
LOADED: Final = "import service.http.operation.workers as it; it.create_app()"


class Start(msgspec.Struct, forbid_unknown_fields=True):
    """What was measured of starts."""

    machine: Machine
    wheel_kib: float
    """Size of the wheel."""
    service_mib: float
    """Size of the installed service, its compiled modules included."""
    installed_mib: float
    """Size of the whole environment, without pip."""
    answer_s: Spread
    """From the start of the process until the first answer to a split had come."""
    resident_mib: Spread
    """Resident memory after the first answer."""
    contract_s: Spread
    """The first reading of the contract, which is made for it."""
    resident_contract_mib: Spread
    """Resident memory after that."""
    resident_loaded_mib: Spread
    """Resident memory of others after new requests of every kind that the benchmark asks, and ten thousand at once."""
    imports_ms: dict[str, float]
    """Time of the modules of each package, with what the measuring itself adds; the greatest first."""
    modules_ms: dict[str, float]
    """The modules that take longest by themselves."""


class One(msgspec.Struct):
    """A single start."""

    answer: float
    resident: float
    contract: float
    after: float


def _asked(port: int, method: str, path: str, body: bytes | None = None) -> tuple[int, bytes]:
    line = http.client.HTTPConnection(HOST, port, timeout=PATIENCE)
    try:
        line.request(method, path, body, {"Content-Type": "application/json"})
        reply = line.getresponse()
        return reply.status, reply.read()
    finally:
        line.close()


@contextmanager
def running(python: str) -> Iterator[tuple[Server, float]]:
    """The service, once it has answered a split; and how long that took from the start of its process [s].

    Args:
        python: of the environment it is installed in.
    """
    port = free_port()
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("LYESTOCK_", "PYTHON"))}
    words = [python, "-m", "service", "--port", str(port)]
    begun = time.perf_counter()
    process = subprocess.Popen(words, cwd=BUILD, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        while True:
            try:
                status, told = _asked(port, "POST", "/v1/liquid-split", BODY)
                break
            except ConnectionError:
                if process.poll() is not None or time.perf_counter() - begun > PATIENCE:
                    raise RuntimeError("the service did not start") from None
                time.sleep(0.003)
        answered = time.perf_counter() - begun
        if status != 200 or "data_version" not in json.loads(told):
            raise RuntimeError(f"the first answer has status {status}")
        yield Server(port, answered, process.pid), answered
    finally:
        process.terminate()
        process.wait(PATIENCE)


def once(python: str) -> One:
    """Start the service, ask it, and end it."""
    with running(python) as (one, answered):
        held = one.resident()
        began = time.perf_counter()
        status, _ = _asked(one.port, "GET", "/openapi.json")
        if status != 200:
            raise RuntimeError(f"the contract has status {status}")
        return One(answered, held, time.perf_counter() - began, one.resident())


def after_load(python: str, seconds: float) -> float:
    """Resident memory of a service that was asked for everything for a while [MiB].

    Args:
        python: of the environment it is installed in.
        seconds: of load for each calculation.
    """
    with running(python) as (one, _):
        for name in NAMES:
            if load(one, name, ring(name), seconds).failures:
                raise RuntimeError(f"requests to {name} failed")
        many = body_of([json.loads(body) for body in ring(BULK_NAME)[:MANY]], JSON)
        status, _ = _asked(one.port, "POST", f"/v1/bulk/{BULK_NAME}", many)
        if status != 200:
            raise RuntimeError(f"many at once have status {status}")
        return one.resident()


def import_times(python: str) -> dict[str, float]:
    """Milliseconds that each module takes by itself when the service is loaded."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    words = [python, "-X", "importtime", "-c", LOADED]
    done = subprocess.run(words, cwd=BUILD, env=environment, capture_output=True, text=True, check=True)
    found = {}
    for line in done.stderr.splitlines():
        own, _, rest = line.removeprefix("import time:").partition("|")
        if own.strip().isdigit():
            found[rest.partition("|")[2].strip()] = int(own) / 1000
    return found


def grouped(modules: dict[str, float], known: Callable[[str], bool]) -> dict[str, float]:
    """Milliseconds by package, the service's own by its layers.

    Args:
        modules: milliseconds of each module.
        known: whether a package belongs to Python itself.
    """
    sums: defaultdict[str, float] = defaultdict(float)
    for name, taken in modules.items():
        top, _, rest = name.partition(".")
        if top == "service":
            layer = rest.partition(".")[0]
            sums[f"service.{layer}" if layer in {"calculations", "chemistry", "http", "reference"} else top] += taken
        else:
            sums["Python itself" if known(top) else top] += taken
    return dict(sums)


def _size(folder: Path, without: tuple[str, ...] = ()) -> float:
    """MiB of the files in a folder."""
    files = (one for one in folder.rglob("*") if one.is_file() and not one.is_symlink())
    return sum(one.stat().st_size for one in files if not set(one.relative_to(folder).parts) & set(without)) / 2**20


def _rounded(times: list[dict[str, float]], most: int, least: float = 0.0) -> dict[str, float]:
    names = {name for one in times for name in one}
    middle = {name: median(one.get(name, 0.0) for one in times) for name in names}
    greatest = sorted(middle.items(), key=lambda pair: -pair[1])
    return {name: round(taken, 1) for name, taken in greatest[:most] if taken >= least}


def measure(starts: int = STARTS, imports: int = IMPORTS, loads: int = LOADS, seconds: float = SECONDS) -> Start:
    """Measure some starts.

    Args:
        starts: of the whole service.
        imports: of a Python that loads it and tells how long each module takes.
        loads: starts after which load is put on.
        seconds: of load for each calculation.
    """
    python, made = deployed()
    packages = next(python.parents[1].glob("lib/python*/site-packages"))
    once(str(python))
    watch = Watch()
    single = [once(str(python)) for _ in range(starts)]
    times = [import_times(str(python)) for _ in range(imports)]
    loaded = [after_load(str(python), seconds) for _ in range(loads)]

    def of_python(top: str) -> bool:
        return top in sys.stdlib_module_names or top.startswith("_")

    return Start(
        machine=watch.machine(),
        wheel_kib=round(made.stat().st_size / 1024, 1),
        service_mib=round(_size(packages / "service"), 1),
        installed_mib=round(_size(packages, ("pip", "setuptools")), 1),
        answer_s=spread([one.answer for one in single]),
        resident_mib=spread([one.resident for one in single]),
        contract_s=spread([one.contract for one in single]),
        resident_contract_mib=spread([one.after for one in single]),
        resident_loaded_mib=spread(loaded),
        imports_ms=_rounded([grouped(one, of_python) for one in times], 14, 3.0),
        modules_ms=_rounded(times, 20),
    )


def part(it: Start) -> list[str]:
    """What the page says of starts."""
    return [
        "## Start and size",
        "",
        f"`python -m tests.benchmarks.start`: {it.answer_s.rounds} starts of the wheel with its locked packages, those "
        "that draw pictures among them.",
        "",
        "| what | measured |",
        "|---|---|",
        f"| start of the process to its first answer | {it.answer_s.text(2, ' s')} |",
        f"| resident memory after it | {it.resident_mib.text(1, ' MiB')} |",
        f"| first reading of the contract, made for it | {it.contract_s.text(2, ' s')} |",
        f"| resident memory after that | {it.resident_contract_mib.text(1, ' MiB')} |",
        "| resident memory after new requests of every kind, and ten thousand at once, without the contract "
        f"| {it.resident_loaded_mib.text(1, ' MiB')} |",
        f"| the wheel | {it.wheel_kib:.0f} KiB |",
        f"| the service installed, compiled | {it.service_mib:.1f} MiB |",
        f"| all packages installed, without pip | {it.installed_mib:.0f} MiB |",
        "",
        "What a start loads, in milliseconds of each package's own modules (`-X importtime`, which itself adds to it;",
        "medians):",
        "",
        "| package | ms |",
        "|---|---|",
        *(f"| {name} | {taken:.0f} |" for name, taken in it.imports_ms.items()),
        "",
        "The modules that take longest by themselves:",
        "",
        "| module | ms |",
        "|---|---|",
        *(f"| `{name}` | {taken:.1f} |" for name, taken in it.modules_ms.items()),
        "",
    ]


def main() -> int:
    """Measure, and write what was found."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks.start", description=(__doc__ or "").split("\n")[0]
    )
    parser.add_argument("--starts", type=int, default=STARTS, help="starts (default %(default)s)")
    parser.add_argument("--imports", type=int, default=IMPORTS, help="loadings (default %(default)s)")
    parser.add_argument("--show", action="store_true", help="print what was found, and write nothing")
    said = parser.parse_args()
    found = measure(said.starts, said.imports)
    print("\n".join(part(found)))
    if not said.show:
        keep("start", found)
    return 0


if __name__ == "__main__":
    sys.exit(main())
