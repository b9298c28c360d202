"""The reckoning of a warming: heat to take up, heat lost on the way, and both ends of what is uncertain."""

from collections.abc import Callable, Sequence
from functools import cached_property
from math import hypot
from typing import Final, NamedTuple

from service.calculations.keeping.vessel_contents import (
    Contents,
    boiling_spread,
    capacity_spread,
    ends_of_strength,
)
from service.chemistry.enthalpy import Strength, at_strength
from service.chemistry.freezing import FirstSolid, first_solid
from service.chemistry.standing_loss import Range
from service.chemistry.thawing import ALL_LIQUID, COLDEST, Frozen, frozen_known
from service.chemistry.vapour_pressure import boiling_point
from service.chemistry.warming import Leg, Warmed, steady_temperature, warm

MELTING_LEGS: Final = 6
LAST_MELTING_LEGS: Final = 2
LEGS: Final = 8
"""Legs of the way up to the freezing line, from there to its upper limit, and of liquid; the loss is taken as straight
on each."""
INNER: Final = 8
"""Parts of the interval of a strength at whose limits the heat of melting is looked at, too."""

Losses = Callable[[float], Range]
"""Heat that the vessel loses [W] with contents of a temperature [°C]."""


class Heater(NamedTuple):
    """A heater."""

    power: float
    """Drawn [W]."""
    efficiency: float
    """Share of it that reaches the liquid."""

    @property
    def given(self) -> float:
        """Power that reaches the liquid [W]."""
        return self.power * self.efficiency


class Held(NamedTuple):
    """What the vessel does to the heat."""

    capacity: Range
    """Of the vessel itself [J/K]."""
    losses: Losses
    ambient: float
    """Temperature of the air [°C]."""


class Path(NamedTuple):
    """The way up."""

    temperatures: tuple[float, ...]
    """At each point, the start first [°C]."""
    solids: tuple[float | None, ...]
    """Share that is solid there, None where that is not known."""
    value: tuple[Leg, ...]
    low: tuple[Leg, ...]
    high: tuple[Leg, ...]


class Run:
    """One warming with all that is told of it."""

    def __init__(self, contents: Contents, heater: Heater, target: float, held: Held) -> None:
        self.contents = contents
        self.heater = heater
        self.target = target
        self.vessel_heat = held.capacity
        self.ambient = held.ambient
        self.liquid: Strength = at_strength(contents.alkali, contents.w)
        self.first: FirstSolid = first_solid(contents.alkali, contents.w)
        ends = ends_of_strength(contents) if contents.half_width else ()
        self._strengths = [(w, first_solid(contents.alkali, w)) for w in ends]
        self.boiling = boiling_point(contents.alkali, contents.w)
        self.boiling_half_width = boiling_spread(contents)
        self._losses = held.losses
        self._known: dict[float, Range] = {}
        # Crystals that somebody has seen above the freezing line say that the line lies higher, as it may.
        seen = contents.crystallised is True and contents.temperature >= self.first.temperature
        self._shift = self.first.high - self.first.temperature if seen else 0.0
        self.frozen = self._thaw(contents.temperature - self._shift)
        self.thawing_left_out = bool(self.frozen.solids) and self.frozen.heat is None
        self._melting_at_start = self._melting(contents.temperature)
        self.capacity_spread = capacity_spread(contents, self.liquid, target)
        self.path = self._path()
        self.value = self._warmed(self.path.value, 0)
        self.low = self._warmed(self.path.low, 1)
        self.high = self._warmed(self.path.high, 2)

    def _warmed(self, legs: Sequence[Leg], loss: int) -> Warmed:
        """The way up by legs, with the value of the loss or with one of its ends."""
        return warm(self.contents.temperature, legs, self.heater.given, lambda t: self.loss(t)[loss])

    def loss(self, t: float) -> Range:
        """Heat lost with contents of a temperature [W]."""
        found = self._known.get(t)
        if found is None:
            found = self._known[t] = self._losses(t)
        return found

    def _thaw(self, t: float, w: float | None = None) -> Frozen:
        """What of the stock is solid at a temperature; nothing where it is said to be liquid.

        Args:
            t: the temperature [°C].
            w: another strength than that of the contents [-].
        """
        if self.contents.crystallised is False:
            return ALL_LIQUID
        return frozen_known(self.contents.alkali, self.contents.w if w is None else w, max(t, COLDEST))

    def _melting(self, t: float) -> Range:
        """Heat that melts what is solid at a temperature [J/kg], as the data leave it and the strength."""
        own = self._melting_at(self.contents.w, self.first, t)
        if not self._strengths:
            return own
        value = own[0]
        all_three = [own, *(self._melting_at(w, first, t) for w, first in self._strengths)]
        values = [one[0] for one in all_three]
        if any(values):  # on either side of a eutectic there is more to melt than at it, which may lie between the ends
            values += [self._melts(w, first, t) for w, first in self._inner_strengths]
        down = _of_data([one[0] - one[1] for one in all_three])
        up = _of_data([one[2] - one[0] for one in all_three])
        return value, max(0.0, value - hypot(down, value - min(values))), value + hypot(up, max(values) - value)

    @cached_property
    def _inner_strengths(self) -> list[tuple[float, FirstSolid]]:
        """Strengths between the ends, and their first solids."""
        (weak, _), (strong, _) = self._strengths
        inner = [weak + (strong - weak) * part / INNER for part in range(1, INNER)]
        return [(w, first_solid(self.contents.alkali, w)) for w in inner]

    def _may_have_set(self, first: FirstSolid, t: float) -> bool:
        """Whether a strength may hold crystals at a temperature whose heat of melting counts."""
        return self.contents.crystallised is not False and not self.thawing_left_out and t < first.high

    def _melts(self, w: float, first: FirstSolid, t: float) -> float:
        """The value of that heat of one strength."""
        return (self._thaw(t - self._shift, w).heat or 0.0) if self._may_have_set(first, t) else 0.0

    def _melting_at(self, w: float, first: FirstSolid, t: float) -> Range:
        """That heat of one strength, with the freezing line at its limits for the ends.

        A quiet stock may stay liquid below its first solid: where it is not said to have set, the lower end is nothing.
        """
        if not self._may_have_set(first, t):
            return 0.0, 0.0, 0.0
        here = self._thaw(t - self._shift, w)
        colder = self._thaw(t - (first.high - first.temperature), w)
        low = 0.0
        if self.contents.crystallised:
            low = min(here.low, self._thaw(t + (first.temperature - first.low), w).low)
        value = here.heat or 0.0
        return value, min(low, value), max(value, here.high, colder.high)

    @property
    def thawing_counted(self) -> bool:
        """Whether heat that melts crystals is reckoned with, for the value or for the upper end."""
        return self._melting_at_start[2] > 0.0

    @property
    def surely_solid(self) -> bool:
        """Whether there is no doubt of the crystals."""
        return self.contents.crystallised is True or (
            self.contents.crystallised is None and self.contents.temperature < self.first.low
        )

    def _path(self) -> Path:
        c, target = self.contents, self.target
        start = c.temperature
        nodes = [start]
        if self.thawing_counted:
            line, surely = min(self.first.temperature, target), min(self.first.high, target)
            nodes += _between(nodes[-1], line, MELTING_LEGS)
            nodes += _between(nodes[-1], surely, LAST_MELTING_LEGS)
        nodes += _between(nodes[-1], target, LEGS)
        liquid = [c.mass * self.liquid.enthalpy(t) for t in nodes]
        melt = [self._melting_at_start, *(self._melting(t) for t in nodes[1:])]
        legs: tuple[list[Leg], list[Leg], list[Leg]] = ([], [], [])
        for i in range(1, len(nodes)):
            sensible, rise = liquid[i] - liquid[i - 1], nodes[i] - nodes[i - 1]
            for j, scale in enumerate((1.0, 1.0 - self.capacity_spread, 1.0 + self.capacity_spread)):
                heat = sensible * scale + self.vessel_heat[j] * rise + c.mass * (melt[i - 1][j] - melt[i][j])
                legs[j].append(Leg(nodes[i], max(0.0, heat)))
        shares = tuple(self._thaw(t - self._shift).solid_share for t in nodes)
        return Path(tuple(nodes), shares, *(tuple(one) for one in legs))

    @property
    def thawing_heat(self) -> Range:
        """Heat that melts crystals on the way [J]: all of them, or what of them melts up to a colder target."""
        value, low, high = (
            self.contents.mass * max(0.0, start - end)
            for start, end in zip(self._melting_at_start, self._melting(self.target), strict=True)
        )
        return value, min(value, low, high), max(value, low, high)

    @property
    def thawed(self) -> float:
        """Heat that the value counts beside that of a liquid [J].

        It is that which melts crystals; below 0 where all is set and stays so, since solids take up less per kelvin.
        """
        return self.contents.mass * (self._melting_at_start[0] - self._melting(self.target)[0])

    @property
    def heat(self) -> Range:
        """Heat taken up by contents and vessel [J]."""
        value, low, high = (sum(leg.heat for leg in legs) for legs in self.path[2:])
        if self.thawing_left_out:
            return value, value, value
        # Set through and through it takes up less per kelvin than a liquid, so the end without crystals may be upper.
        return value, min(value, low, high), max(value, low, high)

    @property
    def bounded(self) -> bool:
        """Whether time and energy have ends: the target is reached for sure, and all of the heat is known."""
        return self.surely_reached and not self.thawing_left_out

    @property
    def surely_reached(self) -> bool:
        """Whether the heater reaches the temperature at the upper end of the loss too."""
        return self.high.reached

    @property
    def times(self) -> Range:
        """How long it takes [s]; without ends where the upper end of the loss does not let it get there."""
        value = self.value.times[-1]
        if not self.bounded:
            return value, value, value
        ends = self.low.times[-1], self.high.times[-1]
        return value, min(value, *ends), max(value, *ends)

    @cached_property
    def heat_lost(self) -> Range:
        """Heat lost to the room on the way [J]: what the heater gave, less what was taken up.

        A cold stock takes heat from the room first, the more the longer its crystals melt, and loses it once it is
        warm: either end may go with more heat to take up or with less, so both are tried with either end of the loss.
        """
        given, heat = self.heater.given, [sum(leg.heat for leg in legs) for legs in self.path[2:]]
        value = given * self.value.times[-1] - heat[0]
        if not self.bounded:
            return value, value, value
        crossed = self._warmed(self.path.low, 2), self._warmed(self.path.high, 1)
        runs = zip((self.low, self.high, *crossed), (heat[1], heat[2], heat[1], heat[2]), strict=True)
        ends = [given * run.times[-1] - taken for run, taken in runs]
        return value, min(value, *ends), max(value, *ends)

    def steady(self) -> tuple[float, float, float] | None:
        """Temperature at which the loss takes all that the heater gives [°C]; None where that is not below boiling.

        The ends are cut off at boiling.
        """
        value = self._steady(0)
        if value is None:
            return None
        low, high = self._steady(2), self._steady(1)
        return value, value if low is None else min(low, value), self.boiling if high is None else max(high, value)

    def _steady(self, which: int) -> float | None:
        power = self.heater.given
        if self.loss(self.ambient)[which] >= power:
            return self.ambient
        return steady_temperature(power, lambda t: self.loss(t)[which], self.ambient, self.boiling)


def _of_data(spreads: list[float]) -> float:
    """What the data leave on the mean over the strengths, by Simpson's rule: the middle, and both ends."""
    middle, weak, strong = spreads
    return float(((4.0 * middle**2 + weak**2 + strong**2) / 6.0) ** 0.5)


def _between(start: float, end: float, legs: int) -> list[float]:
    """Temperatures from one, which is left out, to another; none where it is not above."""
    if end <= start:
        return []
    return [start + (end - start) * i / legs for i in range(1, legs)] + [end]
