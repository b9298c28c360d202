"""What the validation report is made of: sources, published points beside ours, and models."""

from collections.abc import Sequence
from enum import Enum
from typing import Final, NamedTuple

from tests.proof.report.plot import Panel

UNTOLD: Final = 1e-8
"""Tolerances below this share of the figure are met or not met; how much of them is used is rounding."""


class Evidence(Enum):
    """How the figures of a source came here."""

    SEEN = "seen"
    MEMORY = "from memory"
    PRACTICE = "common practice"


class Source(NamedTuple):
    """Where figures stand, how they were met, and what they are held to."""

    label: str
    """Short, for rows and legends."""
    body: str
    """Authors, or who issued it."""
    title: str
    year: str
    where: str
    """Table, chapter, page or figure."""
    evidence: Evidence
    tolerance: str
    """What a deviation is held to, and whose statement that is."""
    note: str = ""
    """How it was met, where not in the work itself."""
    is_same_formula: bool = False
    """Whether it evaluates the formula, or the definition, that the model is: a check of the programming alone."""
    is_made_of: bool = False
    """Whether the model, or the formula of its interval, was fitted to it or is made of it: agreement tells of the fit
    alone."""

    @property
    def is_independent(self) -> bool:
        """Whether agreement says something of the model itself."""
        return not (self.is_same_formula or self.is_made_of)


class Point(NamedTuple):
    """A published figure, ours for the same, and by how much they may be apart."""

    source: Source
    what: str
    """Names it within its model."""
    x: float
    ours: float
    published: float
    tolerance: float
    unit: str

    @property
    def deviation(self) -> float:
        """Ours less the published figure."""
        return self.ours - self.published

    @property
    def ratio(self) -> float:
        """Deviation as a share of the tolerance; 0 within a tolerance that only rounding could use up."""
        ratio = self.deviation / self.tolerance
        return 0.0 if self.is_fine and self.is_within else ratio

    @property
    def is_within(self) -> bool:
        """Whether the deviation is no larger than the tolerance."""
        return abs(self.deviation) <= self.tolerance * (1 + 1e-9)

    @property
    def is_fine(self) -> bool:
        """Whether the tolerance is as fine as the rounding of the arithmetic."""
        return self.tolerance < UNTOLD * abs(self.published)


class Model(NamedTuple):
    """One model of the service, with what was published of it."""

    key: str
    """Name of its plot, and its anchor."""
    title: str
    where: str
    """Module that has it, and what it rests on."""
    holds: str
    """The range that it answers in."""
    told: str
    """The interval that is told with it."""
    gaps: str
    """Where nothing was published, or nothing that is independent."""
    x_label: str
    """Of the points' x; empty where they are counted."""
    points: Sequence[Point]
    panels: Sequence[Panel]
    log_x: bool = False


def against_limits(ours: float, low: float, high: float, published: float) -> float:
    """The tolerance of a published figure where the limits of ours are not alike on both sides."""
    return (high - ours) if published > ours else (ours - low)
