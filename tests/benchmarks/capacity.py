"""`python -m tests.benchmarks.capacity`: what many callers take, with the shipped manifests and a cache in front.

Nothing is measured here: the figures are those of the benchmark and of nginx before the service, the limits those of
deploy/, and the page results/capacity.md says what follows. `--write` writes it.
"""

import argparse
import sys
from collections.abc import Mapping, Sequence
from math import ceil
from typing import Any, Final, NamedTuple

import yaml

from tests.benchmarks import start
from tests.benchmarks.compared import Benchmark
from tests.benchmarks.environments import ROOT
from tests.benchmarks.front import MANY, Front, Passed
from tests.benchmarks.results import about, kept, write_pages

AIMS: Final = "as busy as the autoscaler aims at"
RATES: Final = (1_000, 100_000)
GIGABIT: Final = 125e6
"""Bytes a second over a line of one gigabit, each way."""
KEPT: Final = 0.05
"""Share of its own work that is left to the service where nginx keeps the answer, at most."""
FULL: Final = 0.7
"""Share of a core that a worker is loaded with where it may have a whole one: beyond it waiting grows quickly."""
_UNITS: Final = {"Ki": 2**10, "Mi": 2**20, "Gi": 2**30}
_KUBERNETES: Final = ROOT / "deploy" / "kubernetes"


class Shipped(NamedTuple):
    """What the manifests and the proxy's file allow."""

    cpu: float
    """Cores that a copy of the service asks for."""
    memory: float
    """MiB that a copy asks for."""
    memory_most: float
    """MiB that a copy may have."""
    workers: int
    least: int
    """Copies that the autoscaler keeps at least."""
    most: int
    """Copies that it makes at most."""
    aimed: float
    """Share of the asked-for cores that the autoscaler aims at."""
    proxies: int
    proxy_workers: int
    together: int
    """Requests that each proxy has in hand at once, at most."""
    per_address: float
    """Requests per second of one address."""


class Flow(NamedTuple):
    """A kind of request, and what one of it takes."""

    what: str
    service_us: float
    nginx_us: float
    asked: float
    """Bytes that come in for it."""
    answered: float
    """Bytes that go out."""
    ms: float
    """Time it is in hand where nothing waits [ms]."""


def _read(name: str) -> list[Any]:
    return list(yaml.safe_load_all((_KUBERNETES / name).read_text("utf-8")))


def _mib(text: str) -> float:
    return float(text[:-2]) * _UNITS[text[-2:]] / 2**20


def _cores(text: str) -> float:
    return float(text[:-1]) / 1000 if text.endswith("m") else float(text)


def _said(text: str, before: str, after: str) -> str:
    """What the proxy's file says between two texts."""
    _, found, rest = text.partition(before)
    if not found:
        raise ValueError(f"the proxy's configuration has no {before!r}")
    return rest.partition(after)[0].strip()


def shipped() -> Shipped:
    """What the shipped files say."""
    container = _read("deployment.yaml")[0]["spec"]["template"]["spec"]["containers"][0]
    scaling, proxy = _read("scaling.yaml")[0]["spec"], _read("proxy.yaml")[0]["spec"]
    asked = container["resources"]["requests"]
    told = _read("proxy-config.yaml")[0]["data"]["nginx.conf"]
    return Shipped(
        cpu=_cores(asked["cpu"]),
        memory=_mib(asked["memory"]),
        memory_most=_mib(container["resources"]["limits"]["memory"]),
        workers=int(_read("settings.yaml")[0]["data"]["LYESTOCK_WORKERS"]),
        least=scaling["minReplicas"],
        most=scaling["maxReplicas"],
        aimed=scaling["metrics"][0]["resource"]["target"]["averageUtilization"] / 100,
        proxies=proxy["replicas"],
        proxy_workers=int(_said(told, "worker_processes ", ";")),
        together=int(_said(told, "limit_conn together ", ";")),
        per_address=float(_said(told, "zone=asking:16m rate=", "r/s")),
    )


def flows(it: Benchmark, front: Front) -> list[Flow]:
    """Every kind of request, by what was measured of it."""
    passed: Mapping[str, Passed] = {one.what: one for one in front.kinds}
    found = []
    for one in it.kinds:
        before = passed.get(f"`{one.name}`, new")
        if before is not None:
            what = f"`{one.name}`, {'asked again' if one.again else 'new'}"
            found.append(_flow(what, one.work_us.median, before, one.work_us.median))
    for got in it.gets:
        before = passed[f"{got.what}, read with GET"]
        if before.service_us.median < KEPT * got.work_us.median:
            found.append(_flow(f"{got.what}, kept by nginx", 0.0, before, before.nginx_us.median))
        else:
            found.append(_flow(f"{got.what}, by GET", got.work_us.median, before, got.work_us.median))
    many = front.kinds[-1]
    (item,) = (one for one in it.items if one.taken == one.answered == "application/json" and one.items == MANY)
    found.append(_flow(many.what, item.bulk, many, item.bulk))
    return found


def _flow(what: str, service_us: float, before: Passed, took_us: float) -> Flow:
    return Flow(what, service_us, before.nginx_us.median, before.asked_bytes, before.answered_bytes, took_us / 1e3)


def ceilings(one: Flow, told: Shipped) -> dict[str, float]:
    """Requests per second that each limit of the shipped files lets through, were it the only one.

    Args:
        one: the kind of request.
        told: the shipped files.
    """
    found = {}
    if one.service_us:
        found[f"processor of {told.most} copies, {AIMS}"] = told.most * told.cpu * told.aimed * 1e6 / one.service_us
        found[f"processor of {told.most} copies, a core for each worker"] = (
            told.most * told.workers * 1e6 / one.service_us
        )
    if one.nginx_us:
        found[f"processor of {told.proxies} proxies with {told.proxy_workers} workers each"] = (
            told.proxies * told.proxy_workers * 1e6 / one.nginx_us
        )
    found[f"requests in hand, {told.together} a proxy"] = told.proxies * told.together / (one.ms / 1e3)
    found["network, one gigabit each way"] = GIGABIT / max(one.asked, one.answered)
    return found


def first(one: Flow, told: Shipped) -> tuple[str, float]:
    """The limit that comes first, and where.

    How busy the autoscaler wants copies to be is no limit once there are as many as there may be.
    """
    hard = {name: rate for name, rate in ceilings(one, told).items() if AIMS not in name}
    name = min(hard, key=lambda key: hard[key])
    return name, hard[name]


def _number(value: float) -> str:
    return f"{value:,.0f}".replace(",", " ") if value >= 10 else f"{value:.2g}"


def _needs(one: Flow, rate: float, told: Shipped, resident: float) -> str:
    """A row: what a rate of one kind takes."""
    cores = rate * one.service_us / 1e6
    copies = max(told.least, ceil(cores / (told.cpu * told.aimed)))
    whole = max(told.least, ceil(cores / (FULL * told.workers)))
    held = copies * told.workers * resident
    return (
        f"| {one.what} | {_number(cores)} | {_number(copies)} | {_number(whole)} | {_number(held)} "
        f"| {_number(rate * one.nginx_us / 1e6)} | {_number(rate * one.ms / 1e3)} "
        f"| {_number(rate * one.asked / 1e6)}, {_number(rate * one.answered / 1e6)} |"
    )


_HEAD: Final = """\
# What many callers take

Computed by `python -m tests.benchmarks.capacity --write` from `benchmark.json`, `front.json` and `start.json` and from
the shipped files. Nothing was tried at these rates: whoever plans measures on machines of their own
(`python -m tests.benchmarks --write`, `python -m tests.benchmarks.front`), and the page is made for those.
"""
_BEYOND: Final = """\
Beyond the first limit:

- processor of the copies: raise `maxReplicas` (`deploy/kubernetes/scaling.yaml`); copies share nothing.
- processor of the proxies, and requests in hand: raise `replicas` of the proxy, or ask for many items at once.
- network: more lines, or answers packed by whatever stands in front.

What costs least is what is not asked again: single values and the catalogue, read with GET, are kept by nginx and by
whatever cache stands before it, and then cost the service nothing. TLS is not counted: it ends before these proxies.
"""


def _of_a_core(found: Sequence[Flow]) -> list[str]:
    lines = [
        "## What one core does",
        "",
        "| kind | the service, µs | a second and core | nginx, µs | a second and core | bytes in, out |",
        "|---|---|---|---|---|---|",
    ]
    for one in found:
        ours = f"{one.service_us:.1f} | {_number(1e6 / one.service_us)}" if one.service_us else "not asked | "
        theirs = f"{one.nginx_us:.1f} | {_number(1e6 / one.nginx_us)}" if one.nginx_us else "not measurable | "
        lines.append(f"| {one.what} | {ours} | {theirs} | {one.asked:.0f}, {one.answered:.0f} |")
    return [*lines, ""]


def _allowed(told: Shipped, started: float, resident: float, nginx: float) -> list[str]:
    return [
        "## What the shipped files allow",
        "",
        f"A copy (pod) asks for {told.cpu:g} core and {told.memory:.0f} MiB, may have {told.memory_most:.0f} MiB",
        f"and as much processor as is free, and runs {told.workers} worker, which uses one core at most. The",
        f"autoscaler keeps {told.least} copies at least and adds others, up to {told.most}, where they use more than",
        f"{told.aimed:.0%} of what they ask for: {told.cpu * told.aimed:g} core each. Before them {told.proxies}",
        f"proxies of {told.proxy_workers} workers each have {told.together} requests in hand at most, and let",
        f"{told.per_address:g} a second through from one address.",
        "",
        f"A worker holds {started:.0f} MiB when it starts and {resident:.0f} after the load of the benchmark; nginx",
        f"{nginx:.0f} MiB.",
        "",
    ]


def _at(rate: float, found: Sequence[Flow], told: Shipped, resident: float) -> list[str]:
    return [
        f"## {_number(rate)} a second",
        "",
        "| kind | cores of the service | copies, as the autoscaler makes them | copies, 70 % of a core each "
        "| memory of the first, MiB | cores of nginx | requests in hand | MB a second in, out |",
        "|---|---|---|---|---|---|---|---|",
        *(_needs(one, rate, told, resident) for one in found),
        "",
        f"From one address at most {told.per_address:g} a second come through: that is at least "
        f"{_number(ceil(rate / told.per_address))} addresses,",
        "or a rate set for it (`limit_req_zone` in the proxy's file).",
        "",
    ]


def _limits(found: Sequence[Flow], told: Shipped) -> list[str]:
    lines = [
        "## Which limit comes first",
        "",
        "With the files as they are shipped, each limit alone, in requests (or items) per second:",
        "",
        "| kind | the first limit | at | then | at |",
        "|---|---|---|---|---|",
    ]
    for one in found:
        name, rate = first(one, told)
        rest = sorted((at, what) for what, at in ceilings(one, told).items() if what != name and AIMS not in what)
        lines.append(f"| {one.what} | {name} | {_number(rate)} | {rest[0][1]} | {_number(rest[0][0])} |")
    return [*lines, ""]


def page(it: Benchmark, front: Front, started: start.Start, told: Shipped) -> str:
    """The page."""
    resident, found = it.resident_mib, flows(it, front)
    by = {"Service": about(it.machine), "nginx": about(front.machine)}
    lines = [_HEAD, *(f"- {who}: {what[0].lower()}{what[1:]}" for who, what in by.items()), ""]
    lines += _of_a_core(found)
    lines += _allowed(told, started.resident_mib.median, resident, front.nginx_mib)
    for rate in RATES:
        lines += _at(rate, found, told, resident)
    lines += _limits(found, told)
    held, asked = told.most * told.workers * resident, told.most * told.memory
    word = "never comes first" if held < asked else "comes first"
    lines += [
        f"Memory {word}: {told.most} copies hold {held:.0f} MiB of the {asked:.0f} that they ask for, and how much",
        "they hold hardly grows with who asks at once ([growth.md](growth.md)).",
        "",
        _BEYOND,
    ]
    return "\n".join(lines)


def files() -> dict[str, str]:
    """The page; none where not all was measured yet."""
    it, front, started = kept("benchmark", Benchmark), kept("front", Front), kept("start", start.Start)
    if it is None or front is None or started is None:
        return {}
    return {"capacity.md": page(it, front, started, shipped())}


def main() -> int:
    """Print the page, or write it."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.capacity")
    parser.add_argument("--write", action="store_true", help="write the page")
    if parser.parse_args().write:
        write_pages()
    else:
        print("".join(files().values()))
    return 0


if __name__ == "__main__":
    sys.exit(main())
