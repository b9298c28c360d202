"""A second opinion: what somebody else's correlation or table says of a quantity, beside ours and its interval."""

from collections.abc import Iterable
from enum import Enum
from pathlib import Path
from typing import Final, NamedTuple

from tests.reference_cases.outside import read_table

DATA = Path(__file__).parent / "data"


class Axis(NamedTuple):
    """What a grid runs along."""

    name: str
    unit: str


STRENGTH = Axis("mass fraction of hydroxide", "-")
TEMPERATURE = Axis("temperature", "°C")
NONE = Axis("none", "-")
"""Of a grid that is one curve."""


class Point(NamedTuple):
    """One place of a grid, and what both say there."""

    x: float
    """Along `Opinion.along`."""
    curve: float
    """Along `Opinion.curves`: points of one value are a curve."""
    ours: float
    half_width: float
    """Of the 95 % interval that the service states for it, or of what its docstring claims."""
    theirs: float

    @property
    def deviation(self) -> float:
        """Ours less theirs."""
        return self.ours - self.theirs

    @property
    def covered(self) -> bool:
        """Whether our interval holds theirs, but for the rounding of doubles."""
        return self.share <= 1.0 + 1e-9

    @property
    def share(self) -> float:
        """Of the half width that the deviation takes [-]."""
        return abs(self.deviation) / self.half_width


class Region(NamedTuple):
    """A part of a grid."""

    x: tuple[float, float]
    """First and last x."""
    curve: tuple[float, float]
    """First and last curve."""

    def holds(self, point: Point) -> bool:
        """Whether a point lies in it, its bounds included."""
        return self.x[0] <= point.x <= self.x[1] and self.curve[0] <= point.curve <= self.curve[1]


class Excepted(NamedTuple):
    """Where the other source is known to be poor and our interval does not hold it, and why."""

    regions: tuple[Region, ...]
    """Their points lie outside of our interval, all of them."""
    cause: str

    def holds(self, point: Point) -> bool:
        """Whether a point lies in one of them."""
        return any(region.holds(point) for region in self.regions)


class Ground(Enum):
    """Where the figure of a check stands, and what it is held to."""

    PUBLISHED = "published, held to half a unit of its last digit"
    BY_HAND = "reckoned by hand, held to half a unit of its last digit"
    PROGRAM = "by another program of the same, held to one part in 1e9"
    EXPECTED = "expected, held to 5 %"
    """Nobody printed it: what another source, or another form of this one, says of about the same."""


EXPECTED_WITHIN: Final = 0.05
"""The same for all: it finds a slip of a sign or of a power of ten, and is not made for any of them."""


class Check(NamedTuple):
    """A figure that the other source, as it is programmed here, must give."""

    what: str
    ours: float
    """What our programme of it gives."""
    figure: float
    ground: Ground
    source: str
    """Whose figure that is; of what is expected, why."""
    digit: float = 0.0
    """A unit of its last digit, where it is held to that."""

    @property
    def tolerance(self) -> float:
        """By how much both may differ."""
        relative = {Ground.PROGRAM: 1e-9, Ground.EXPECTED: EXPECTED_WITHIN}
        return self.digit / 2.0 if self.ground not in relative else relative[self.ground] * abs(self.figure)


class Opinion(NamedTuple):
    """Two sources of one quantity over a grid."""

    name: str
    quantity: str
    unit: str
    our_source: str
    their_source: str
    shared: str
    """What both rest on, or that they rest on nothing together."""
    points: tuple[Point, ...]
    explanation: str
    """How far they disagree, and why."""
    along: Axis = STRENGTH
    curves: Axis = TEMPERATURE
    labels: tuple[str, ...] = ()
    """What x = 1, 2 and so on stand for, where it counts things."""
    excepted: tuple[Excepted, ...] = ()
    checks: tuple[Check, ...] = ()
    coded_here: bool = False
    """Whether their correlation is programmed in this folder, so that `checks` must not be empty."""

    def judged(self) -> tuple[Point, ...]:
        """The points that are not excepted."""
        return tuple(point for point in self.points if not any(part.holds(point) for part in self.excepted))

    def outside(self) -> tuple[Point, ...]:
        """The points that are judged, and that our interval does not hold."""
        return tuple(point for point in self.judged() if not point.covered)

    def beyond(self) -> tuple[Point, ...]:
        """The points that our interval does not hold, the excepted ones with them."""
        return tuple(point for point in self.points if not point.covered)

    def largest(self) -> Point:
        """Of all points the one that takes the most of its half width."""
        return max(self.points, key=lambda point: point.share)


def coefficients(table: str, **where: str) -> tuple[float, ...]:
    """The figures of the rows of a data file of this folder that have these entries, in their order."""
    rows = read_table(str(DATA / table))
    return tuple(float(row["value"]) for row in rows if all(row[name] == entry for name, entry in where.items()))


def steps(low: float, high: float, number: int) -> tuple[float, ...]:
    """Evenly spaced from one to the other, both included; rounded, so that plots have plain figures."""
    return tuple(round(low + (high - low) * i / (number - 1), 6) for i in range(number))


def rows(table: str, **where: str) -> Iterable[dict[str, str]]:
    """The rows of a data file of this folder that have these entries."""
    return [row for row in read_table(str(DATA / table)) if all(row[name] == entry for name, entry in where.items())]
