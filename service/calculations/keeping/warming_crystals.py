"""The crystals of a stock that is warmed, and what data and strength leave open of them and of what goes with them."""

from collections.abc import Iterable, Sequence
from functools import cached_property
from math import hypot
from typing import Final

from service.calculations.keeping.vessel_contents import Contents, ends_of_strength
from service.chemistry.freezing import FirstSolid, first_solid
from service.chemistry.standing_loss import Range
from service.chemistry.thawing import ALL_LIQUID, COLDEST, Frozen, frozen_known

INNER: Final = 8
"""Parts of the interval of a strength at whose limits the heat of melting is looked at, too."""


class Crystals:
    """What of a stock is solid, and the heat that melts it: of its strength, and of those that it may have."""

    def __init__(self, contents: Contents) -> None:
        self.contents = contents
        self.first: FirstSolid = first_solid(contents.alkali, contents.w)
        self.frozen = self._thaw(contents.w, contents.temperature - self._shift(self.first))
        self.left_out = bool(self.frozen.solids) and self.frozen.heat is None
        self._each: dict[float, list[Range]] = {}
        self._between: dict[float, list[float]] = {}
        self._strengths = self._with_first_solids((contents.w, *(ends_of_strength(contents) if self.is_open else ())))

    @property
    def is_open(self) -> bool:
        """Whether the strength has an interval."""
        return self.contents.half_width > 0.0

    def strengths(self) -> list[float]:
        """That of the contents, and both ends of its interval where it has one [-]."""
        return [w for w, _ in self._strengths]

    def inner_strengths(self) -> list[float]:
        """Strengths between the ends [-]."""
        return [w for w, _ in self._inner]

    @cached_property
    def _inner(self) -> list[tuple[float, FirstSolid]]:
        _, (weak, _), (strong, _) = self._strengths
        return self._with_first_solids(weak + (strong - weak) * part / INNER for part in range(1, INNER))

    def _with_first_solids(self, strengths: Iterable[float]) -> list[tuple[float, FirstSolid]]:
        return [(w, first_solid(self.contents.alkali, w)) for w in strengths]

    def solid_share(self, t: float) -> float | None:
        """Share of the stock that is solid at a temperature [-]; None where that is not known.

        Args:
            t: the temperature [°C].
        """
        return self._thaw(self.contents.w, t - self._shift(self.first)).solid_share

    def melting(self, t: float) -> Range:
        """Heat that melts what is solid at a temperature, as the data leave it and the strength [J/kg].

        Args:
            t: the temperature [°C].
        """
        each = self.melting_of_each(t)
        if not self.is_open:
            return each[0]
        values = [one[0] for one in each]
        if any(values):  # on either side of a eutectic there is more to melt than at it, which may lie between the ends
            values += self.melting_between(t)
        value, low, high = over_strengths(each, values)
        return value, max(0.0, low), high

    def melting_of_each(self, t: float) -> list[Range]:
        """That heat of each of `strengths`, as the data leave it [J/kg].

        Args:
            t: the temperature [°C].
        """
        found = self._each.get(t)
        if found is None:
            found = self._each[t] = [self._melting_at(w, first, t) for w, first in self._strengths]
        return found

    def melting_between(self, t: float) -> list[float]:
        """The value of that heat of each of `inner_strengths` [J/kg].

        Args:
            t: the temperature [°C].
        """
        found = self._between.get(t)
        if found is None:
            found = self._between[t] = [self._melts(w, first, t) for w, first in self._inner]
        return found

    def _thaw(self, w: float, t: float) -> Frozen:
        """What of a strength is solid at a temperature; nothing where the stock is said to be liquid."""
        if self.contents.crystallised is False:
            return ALL_LIQUID
        return frozen_known(self.contents.alkali, w, max(t, COLDEST))

    def _shift(self, first: FirstSolid) -> float:
        """By how much the freezing line lies higher, since somebody has seen crystals above it, as it may [K]."""
        seen = self.contents.crystallised is True and self.contents.temperature >= first.temperature
        return first.high - first.temperature if seen else 0.0

    def _may_have_set(self, first: FirstSolid, t: float) -> bool:
        """Whether a strength may hold crystals at a temperature whose heat of melting counts."""
        return self.contents.crystallised is not False and not self.left_out and t < first.high

    def _melts(self, w: float, first: FirstSolid, t: float) -> float:
        """The value of that heat of one strength."""
        return (self._thaw(w, t - self._shift(first)).heat or 0.0) if self._may_have_set(first, t) else 0.0

    def _melting_at(self, w: float, first: FirstSolid, t: float) -> Range:
        """That heat of one strength, with the freezing line at its limits for the ends.

        A quiet stock may stay liquid below its first solid: where it is not said to have set, the lower end is nothing.
        """
        if not self._may_have_set(first, t):
            return 0.0, 0.0, 0.0
        here = self._thaw(w, t - self._shift(first))
        colder = self._thaw(w, t - (first.high - first.temperature))
        low = 0.0
        if self.contents.crystallised:
            low = min(here.low, self._thaw(w, t + (first.temperature - first.low)).low)
        value = here.heat or 0.0
        return value, min(low, value), max(value, here.high, colder.high)


def over_strengths(three: Sequence[Range], values: Sequence[float]) -> Range:
    """What the data leave open of a figure and what the strength does, put together [its own unit].

    Args:
        three: the figure with the ends that the data leave, of the strength itself and of both ends of its interval.
        values: the figure of these and of strengths between them.
    """
    value = three[0][0]
    down = _of_data([one[0] - one[1] for one in three])
    up = _of_data([one[2] - one[0] for one in three])
    return value, value - hypot(down, value - min(values)), value + hypot(up, max(values) - value)


def _of_data(spreads: list[float]) -> float:
    """What the data leave on the mean over the strengths, by Simpson's rule: the middle, and both ends."""
    middle, weak, strong = spreads
    return float(((4.0 * middle**2 + weak**2 + strong**2) / 6.0) ** 0.5)
