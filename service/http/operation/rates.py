"""How often one caller may ask: a bucket for each, that fills at an even pace and holds a minute's worth.

Of a bucket nothing but one time is kept: when it will be full again (the generic cell rate algorithm, ITU-T
Recommendation I.371, from memory). Each worker counts for itself, so that nothing is shared between processes.
"""

from collections import OrderedDict
from ipaddress import ip_address, ip_network
from math import ceil
from typing import Final, NamedTuple

WINDOW: Final = 60.0
"""Time in which an empty bucket fills [s]."""
MOST_CALLERS: Final = 50_000
"""Callers kept in mind, about 10 MB; beyond them, those who asked longest ago are forgotten."""
_NEIGHBOURS: Final = 64
"""Leading bits of an IPv6 address that name one household: whoever has one has all below it."""


class Taken(NamedTuple):
    """What came of asking a bucket."""

    left: int
    """Requests that may still be made at once."""
    full_in: float
    """Time until the bucket is full [s]."""
    wait: float
    """Time until the next request may be made where this one may not; else 0 [s]."""


class Rates:
    """The buckets of all callers of a kind."""

    def __init__(self, name: str, quota: int, most: int = MOST_CALLERS) -> None:
        """Make them.

        Args:
            name: what the policy is called in the header.
            quota: requests that a bucket holds, and that come in a minute.
            most: callers kept in mind.
        """
        self._step = WINDOW / quota
        self._most = most
        self._full_at: OrderedDict[str, float] = OrderedDict()
        self._name = name
        self.policy = f'"{name}";q={quota};w={WINDOW:.0f}'.encode()

    def take(self, who: str, now: float) -> Taken:
        """Take a request out of a caller's bucket.

        Args:
            who: the caller.
            now: time of a clock that is never set [s].
        """
        full_at = max(self._full_at.pop(who, now), now)
        room = WINDOW - (full_at - now)
        wait = self._step - room
        if wait > 1e-9 * WINDOW:  # so much is rounding
            self._full_at[who] = full_at
            return Taken(0, full_at - now, wait)
        full_at += self._step
        self._full_at[who] = full_at
        if len(self._full_at) > self._most:
            self._full_at.popitem(last=False)
        return Taken(int((room - self._step) / self._step + 1e-6), full_at - now, 0.0)

    def told(self, taken: Taken) -> tuple[tuple[bytes, bytes], ...]:
        """The headers that tell of it, after the IETF draft ietf-httpapi-ratelimit-headers (from memory)."""
        limit = f'"{self._name}";r={taken.left};t={ceil(taken.full_in)}'.encode()
        headers = ((b"ratelimit-policy", self.policy), (b"ratelimit", limit))
        return headers if not taken.wait else (*headers, (b"retry-after", b"%d" % ceil(taken.wait)))


def household(address: str) -> str:
    """What is counted as one caller: an IPv4 address; of an IPv6 address the network it is given out in.

    Args:
        address: as the server tells it; what is no address counts as it is.
    """
    if ":" not in address:
        return address
    try:
        whole = ip_address(address.partition("%")[0])
    except ValueError:
        return address
    mapped = getattr(whole, "ipv4_mapped", None)
    return str(mapped) if mapped is not None else str(ip_network((whole, _NEIGHBOURS), strict=False))
