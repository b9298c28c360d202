"""A thousand connections on which nothing is said: others are answered as promptly, and little memory is held."""

import resource
import statistics
from typing import Final

import pytest

from tests.faults.processes import Line, Running, post, running

IDLE: Final = 1000
MOST_EACH: Final = 64 << 10
"""Bytes that a connection may hold: generous; it is some kilobytes."""


def asks(service: Running) -> list[float]:
    return [service.works() for _ in range(200)]


@pytest.mark.parametrize("used", [False, True], ids=["opened", "used before"])
def test_a_thousand_idle_connections_keep_nobody_waiting(used: bool) -> None:
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = IDLE + 200
    if soft < wanted:
        if hard != resource.RLIM_INFINITY and hard < wanted:
            pytest.skip(f"this machine lets a process have {hard} files open, and {wanted} are needed")
        resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
    lines: list[Line] = []
    try:
        with running(log="off", header_seconds=300, idle_seconds=300) as service:
            asks(service)
            alone, before = statistics.median(asks(service)), service.resident()
            for _ in range(IDLE):
                lines.append(service.line())
                if used:
                    lines[-1].send(post())
                    assert lines[-1].reply().status == 200
            service.works()
            beside, each = statistics.median(asks(service)), (service.resident() - before) / IDLE
            print(f"alone {alone * 1e3:.2f} ms, beside {beside * 1e3:.2f} ms; {each:.0f} bytes a connection")
            assert beside < max(0.05, 5 * alone)
            assert each < MOST_EACH
            for line in lines[:: IDLE // 20]:  # they are still good
                line.send(post())
                assert line.reply().status == 200
    finally:
        for line in lines:
            line.close()
        resource.setrlimit(resource.RLIMIT_NOFILE, (soft, hard))
