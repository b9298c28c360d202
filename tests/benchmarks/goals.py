"""What is aimed at: every goal of speed and size, and what a figure that was measured is to one."""

from typing import Final, NamedTuple

FLOOR: Final = 0.60
"""Of the floor's requests per second, at least."""
PEER: Final = 3.5
"""Times the peer's requests per second, at least."""
OF_SERVERS: Final = ("liquid-split", "concentration")
"""Calculations whose goals are ratios to other servers."""
RECKONED: Final = {"saponification": 150.0, "stock-mixing": 1000.0}
"""Microseconds that reckoning a request may take."""
ITEM: Final = 30.0
"""Microseconds that an item of many may take."""
FLAT: Final = 0.10
"""Share by which the cost of an item may differ from number to number."""
BESIDE: Final = 3.0
"""Times its latency alone that a single call may take beside many."""
START_S: Final = 1.5
"""Seconds that a start may take to its first answer."""
RESIDENT_MB: Final = 90.0
"""Megabytes (a million bytes) that a worker may hold when it has started."""


def megabytes(mib: float) -> float:
    """MiB as megabytes."""
    return mib * 2**20 / 1e6


def goal(name: str) -> str:
    """What is aimed at for a calculation, in words."""
    if name in OF_SERVERS:
        return f"at least {FLOOR:.2f} of the floor, {PEER:g} times the peer"
    return f"reckoned in less than {RECKONED[name]:.0f} µs"


class Row(NamedTuple):
    """A goal, and what was measured."""

    what: str
    budget: str
    measured: str
    well: bool
    """Whether the goal is reached by what was measured."""
    judged: bool
    """Whether it was measured well enough to say so."""
    why: str
    """What it is made of: the cause where the goal is missed."""

    def told(self) -> str:
        """As a row of a table."""
        verdict = ("met" if self.well else "**missed**") if self.judged else "not judged"
        return f"| {self.what} | {self.budget} | {self.measured} | {verdict} |"
