"""What many requests come to: for each member of an answer the mean coverage, and the least of a single request."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from tests.proof.coverage.causes import cause
from tests.proof.coverage.engine import Tried

LEAST: Final = 0.94
MOST: Final = 0.97
"""Between these the mean coverage of a nominal 95 % is to lie."""


class Kept(NamedTuple):
    """How often the interval of a member holds what is true."""

    calculation: str
    member: str
    """Its pointer; `*` for each of some."""
    requests: int
    """How many times it was tried; each of some counts."""
    mean: float
    least: float
    """Of a single request."""
    most: float
    where: int
    """Index of the request with the least."""

    @property
    def outside(self) -> bool:
        """Whether the mean lies outside the limits."""
        return not LEAST <= self.mean <= MOST

    @property
    def cause(self) -> str:
        """Why it lies there, or single requests far below; empty where nothing is known."""
        return cause(self.calculation, self.member)


def summary(calculation: str, tried: Sequence[Tried]) -> list[Kept]:
    """What the requests of a calculation come to, by member."""
    shares: dict[str, list[tuple[float, int]]] = {}
    for index, one in enumerate(tried):
        for at, share in one.coverage.items():
            member = "/".join("*" if part.isdigit() else part for part in at.split("/"))
            shares.setdefault(member, []).append((share, index))
    return [
        Kept(
            calculation,
            member,
            len(found),
            sum(share for share, _ in found) / len(found),
            min(found)[0],
            max(found)[0],
            min(found)[1],
        )
        for member, found in shares.items()
    ]
