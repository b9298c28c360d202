"""Makes figures of what the files give, once their source and limits are checked."""

import math
from collections.abc import Container
from typing import NamedTuple, Protocol

from service.reference.files import Place
from service.reference.records import Evidence, Figure


class Given(Protocol):
    """What a figure's entry holds; a limit that is None is an open end."""

    @property
    def low(self) -> float | None:
        """Lower limit in the file's unit."""

    @property
    def high(self) -> float | None:
        """Upper limit in the file's unit."""

    @property
    def source(self) -> str:
        """Key of the source."""

    @property
    def evidence(self) -> Evidence:
        """How well it was verified."""

    @property
    def note(self) -> str:
        """Remark."""


class SingleValue(NamedTuple):
    """A value without limits."""

    value: float
    source: str
    evidence: Evidence
    note: str = ""

    @property
    def low(self) -> float:
        """The value itself."""
        return self.value

    @property
    def high(self) -> float:
        """The value itself."""
        return self.value


class Unit(NamedTuple):
    """How a file's unit leads to SI, and what is possible in it."""

    name: str
    """As the files write it."""
    times: float
    per: float
    """A value in the file, times `times`, over `per`, is in SI units."""
    least: float
    most: float
    """Ends, in the file's unit, of what can be: they catch a slip of the unit, not a poor figure."""


class FigureReader:
    """Makes figures; knows the sources that they may name."""

    def __init__(self, sources: Container[str]) -> None:
        self._sources = sources

    def check_source(self, source: str, place: Place) -> None:
        """Refuse a source that the bibliography does not hold.

        Raises:
            ReferenceDataError: it does not.
        """
        if source not in self._sources:
            raise place.fault(f"source {source!r} is not in sources.toml")

    def figure(self, place: Place, given: Given, unit: Unit) -> Figure:
        """A figure in SI units.

        Args:
            place: where it stands.
            given: its limits in the file's unit, source, evidence and note.
            unit: the file's unit.

        Raises:
            ReferenceDataError: no limit is given, they are crossed or impossible, or the source is unknown.
        """
        self.check_source(given.source, place)
        if given.low is None and given.high is None:
            raise place.fault("low and high are both empty")
        low = -math.inf if given.low is None else given.low
        high = math.inf if given.high is None else given.high
        if low > high:
            raise place.fault(f"low {low:g} is above high {high:g}")
        for value in (given.low, given.high):
            if value is not None and not unit.least <= value <= unit.most:
                raise place.fault(
                    f"{value:g} is not between {unit.least:g} and {unit.most:g} {unit.name}; check the unit"
                )
        return Figure(
            low * unit.times / unit.per, high * unit.times / unit.per, given.source, given.evidence, given.note
        )
