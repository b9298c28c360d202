"""`python -m tests.benchmarks.capacity`: what many callers take, with the shipped manifests and a cache in front.

Nothing is measured here: the figures are those of nginx and the service behind it, taken in the same run, the limits
those of deploy/, and the page results/capacity.md says what follows. `--write` writes it.
"""

import argparse
import sys
from collections.abc import Sequence
from math import ceil
from typing import Final, NamedTuple

from tests.benchmarks import start
from tests.benchmarks.front import Front, Passed
from tests.benchmarks.results import LEAST_ROUNDS, QUIET, about, judged, kept, write_pages
from tests.benchmarks.shipped import Shipped, shipped

AIMS: Final = "as busy as the autoscaler aims at"
RATES: Final = (1_000, 100_000)
GIGABIT: Final = 125e6
"""Bytes a second over a line of one gigabit, each way."""
KEPT: Final = 0.05
"""Of nginx's own work, what is left to the service where nginx keeps the answer, at most."""
FULL: Final = 0.7
"""Share of a core that a worker is loaded with where it may have a whole one: beyond it waiting grows quickly."""
WAITING: Final = 1 / (1 - FULL)
"""Times as long that a request is in hand there as where nothing waits: one server whose callers come at random and
whose requests differ at random (M/M/1). Requests that all take the same (M/D/1) wait half as long. From memory."""


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
    apart: float = 0.0
    """Share by which rounds were off their median, at most, in the processor time of either."""


def flows(front: Front) -> list[Flow]:
    """Every kind of request, by what was measured of it."""
    return [_flow(one) for one in front.kinds]


def _flow(one: Passed) -> Flow:
    service, nginx = one.service_us, one.nginx_us
    what, asked = one.what.replace(", read with GET", ", by GET"), True
    if service.median < KEPT * nginx.median:
        what, asked = what.replace(", by GET", ", kept by nginx"), False
    apart = max(max(each.high / each.median - 1, 1 - each.low / each.median) for each in (nginx, service)[: 1 + asked])
    service_us = service.median if asked else 0.0
    took = (service_us + nginx.median) / 1e3
    return Flow(what, service_us, nginx.median, one.asked_bytes, one.answered_bytes, took, apart)


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
    found[f"requests in hand, {told.together} a proxy"] = told.proxies * told.together / (WAITING * one.ms / 1e3)
    found["network, one gigabit each way"] = GIGABIT / max(one.asked, one.answered)
    return found


def limits(one: Flow, told: Shipped) -> list[tuple[float, str]]:
    """The limits, the least first, and where each is.

    How busy the autoscaler wants copies to be is no limit once there are as many as there may be.
    """
    return sorted((rate, name) for name, rate in ceilings(one, told).items() if AIMS not in name)


def telling(one: Flow, told: Shipped) -> bool:
    """Whether the first limit is further from the second than the rounds are from each other."""
    (low, _), (high, _) = limits(one, told)[:2]
    return one.apart < 1 and low * (1 + one.apart) < high * (1 - one.apart)


def _number(value: float) -> str:
    return f"{value:,.0f}".replace(",", " ") if value >= 10 else f"{value:.2g}"


def _needs(one: Flow, rate: float, told: Shipped, resident: float) -> str:
    """A row: what a rate of one kind takes."""
    cores = rate * one.service_us / 1e6
    copies = max(told.least, ceil(cores / (told.cpu * told.aimed)))
    whole = max(told.least, ceil(cores / (FULL * told.workers)))
    held = copies * told.workers * resident
    in_hand = rate * one.ms / 1e3
    return (
        f"| {one.what} | {_number(cores)} | {_number(copies)} | {_number(whole)} | {_number(held)} "
        f"| {_number(rate * one.nginx_us / 1e6)} | {_number(in_hand)}, {_number(WAITING * in_hand)} "
        f"| {_number(rate * one.asked / 1e6)}, {_number(rate * one.answered / 1e6)} |"
    )


_HEAD: Final = """\
# What many callers take

Computed by `python -m tests.benchmarks.capacity --write` from `front.json`, which has nginx and the service behind it
in the same run, from `start.json`, and from the shipped files. Nothing was tried at these rates: whoever plans measures
on machines of their own (`python -m tests.benchmarks.front`, `python -m tests.benchmarks.start`), and the page is made
for those.
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
        "| kind | the service, µs | a second by a core of it | nginx, µs | a second by a core of it | rounds apart "
        "| bytes in, out |",
        "|---|---|---|---|---|---|---|",
    ]
    for one in found:
        ours = f"{one.service_us:.1f} | {_number(1e6 / one.service_us)}" if one.service_us else "not asked | "
        theirs = f"{one.nginx_us:.1f} | {_number(1e6 / one.nginx_us)}" if one.nginx_us else "not measurable | "
        sizes = f"{one.asked:.0f}, {one.answered:.0f}"
        lines.append(f"| {one.what} | {ours} | {theirs} | {one.apart:.0%} | {sizes} |")
    return [*lines, ""]


def _allowed(told: Shipped, started: start.Start, nginx: float) -> list[str]:
    return [
        "## What the shipped files allow",
        "",
        f"A copy (pod) asks for {told.cpu:g} core and {told.memory:.0f} MiB, may have {told.memory_most:.0f} MiB",
        f"and as much processor as is free, and runs {told.workers} worker, which uses one core at most. The",
        f"autoscaler keeps {told.least} copies at least and adds others, up to {told.most}, where they use more than",
        f"{told.aimed:.0%} of what they ask for: {told.cpu * told.aimed:g} core each.",
        "",
        f"Before them are {told.proxies} proxies with {told.proxy_workers} workers each. A proxy asks for",
        f"{told.proxy_cpu:g} core, which is all that is set aside for it, and may have as much as is free: the limits",
        f"below take a whole core for each of its workers. Each has {told.together} requests in hand at most, and lets",
        f"{told.per_address:g} a second through from one address, each proxy for itself.",
        "",
        f"As it is deployed, a worker holds {started.resident_mib.median:.0f} MiB when it starts and",
        f"{started.resident_loaded_mib.median:.0f} MiB after new requests of every kind and ten thousand at once;",
        f"nginx holds {nginx:.0f} MiB.",
        "",
    ]


def _at(rate: float, found: Sequence[Flow], told: Shipped, resident: float) -> list[str]:
    most = told.per_address * told.proxies
    return [
        f"## {_number(rate)} a second",
        "",
        "| kind | cores of the service | copies it would need, as the autoscaler aims "
        "| copies it would need, 70 % of a core each | memory of the copies as the autoscaler aims, MiB "
        "| cores of nginx | requests in hand: at least, waiting | MB a second in, out |",
        "|---|---|---|---|---|---|---|---|",
        *(_needs(one, rate, told, resident) for one in found),
        "",
        f"From one address at most {most:g} a second come through, {told.per_address:g} at each proxy: so these",
        f"are at least {_number(ceil(rate / most))} addresses, or a rate is set for it (`limit_req_zone` in the file",
        "of the proxy).",
        "",
    ]


def _limits(found: Sequence[Flow], told: Shipped) -> list[str]:
    lines = [
        "## Which limit comes first",
        "",
        "With the files as they are shipped, each limit alone, in requests (or items) per second. Where it says so,",
        "the two are closer than the rounds were to each other, and either may come first:",
        "",
        "| kind | the first limit | at | then | at | |",
        "|---|---|---|---|---|---|",
    ]
    for one in found:
        (low, name), (high, other) = limits(one, told)[:2]
        sure = "" if telling(one, told) else "within measuring error"
        lines.append(f"| {one.what} | {name} | {_number(low)} | {other} | {_number(high)} | {sure} |")
    return [*lines, ""]


def page(front: Front, started: start.Start, told: Shipped) -> str:
    """The page."""
    resident, found = started.resident_loaded_mib.median, flows(front)
    by = {"nginx and the service": about(front.machine), "memory": about(started.machine)}
    lines = [_HEAD, *(f"- {who}: {what[0].lower()}{what[1:]}" for who, what in by.items()), ""]
    if not judged(front.machine, *(one.nginx_us.rounds for one in front.kinds)):
        lines += [
            f"**Not to be relied on:** fewer than {LEAST_ROUNDS} rounds were measured, or other programs used more",
            f"than {QUIET:g} cores.",
            "",
        ]
    lines += _of_a_core(found)
    lines += _allowed(told, started, front.nginx_mib)
    lines += [
        "Requests in hand are told twice, by Little's law: at least, as where nothing waits, and with waiting where",
        f"every worker of the service and of nginx uses {FULL:.0%} of a core and requests come and differ at random",
        f"(M/M/1: {WAITING:.1f} times as many; half of the waiting where all take the same, M/D/1). Where",
        "workers are less busy, less waits. The limit of requests in hand, below, is reckoned with the waiting.",
        "",
    ]
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
    front, started = kept("front", Front), kept("start", start.Start)
    if front is None or started is None:
        return {}
    return {"capacity.md": page(front, started, shipped())}


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
