"""The reckoning of a warming: heat to take up, heat lost on the way, and both ends of what is uncertain."""

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import Final, NamedTuple

from service.calculations.keeping.vessel_contents import Contents, boiling_spread, capacity_spread
from service.calculations.keeping.warming_crystals import Crystals, over_strengths
from service.chemistry.enthalpy import Strength, at_strength
from service.chemistry.standing_loss import Range
from service.chemistry.vapour_pressure import boiling_point
from service.chemistry.warming import Leg, Warmed, steady_temperature, warm

MELTING_LEGS: Final = 6
LAST_MELTING_LEGS: Final = 2
LEGS: Final = 8
"""Legs of the way up to the freezing line, from there to its upper limit, and of liquid; the loss is taken as straight
on each."""

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


Legs = tuple[Leg, ...]
Ways = tuple[Legs, Legs, Legs]
"""A way up in legs: the value of the heat on each, and both ends."""


class Path(NamedTuple):
    """The way up."""

    temperatures: tuple[float, ...]
    """At each point, the start first [°C]."""
    solids: tuple[float | None, ...]
    """Share that is solid there, None where that is not known."""
    value: Legs
    low: Legs
    high: Legs


class Run:
    """One warming with all that is told of it."""

    def __init__(self, contents: Contents, heater: Heater, target: float, held: Held) -> None:
        self.contents = contents
        self.heater = heater
        self.target = target
        self.vessel_heat = held.capacity
        self.ambient = held.ambient
        self.liquid: Strength = at_strength(contents.alkali, contents.w)
        self.boiling = boiling_point(contents.alkali, contents.w)
        self.boiling_half_width = boiling_spread(contents)
        self._losses = held.losses
        self._known: dict[float, Range] = {}
        self.crystals = Crystals(contents)
        self.first, self.frozen, self.thawing_left_out = (
            self.crystals.first,
            self.crystals.frozen,
            self.crystals.left_out,
        )
        self._melting_at_start = self.crystals.melting(contents.temperature)
        self.capacity_spread = capacity_spread(contents, self.liquid, target)
        self.path = self._path()
        self.value, self.low, self.high = self._warmed_each(self.path[2:])

    def _warmed(self, legs: Sequence[Leg], loss: int) -> Warmed:
        """The way up by legs, with the value of the loss or with one of its ends."""
        return warm(self.contents.temperature, legs, self.heater.given, lambda t: self.loss(t)[loss])

    def _warmed_each(self, ways: Ways) -> tuple[Warmed, Warmed, Warmed]:
        """The way up with the value of all, with the lower ends, and with the upper ends."""
        value, low, high = ways
        return self._warmed(value, 0), self._warmed(low, 1), self._warmed(high, 2)

    def loss(self, t: float) -> Range:
        """Heat lost with contents of a temperature [W]."""
        found = self._known.get(t)
        if found is None:
            found = self._known[t] = self._losses(t)
        return found

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
        melts = [self._melting_at_start, *(self.crystals.melting(t) for t in nodes[1:])]
        ways = self._ways(nodes, self.liquid, self.capacity_spread, melts)
        return Path(tuple(nodes), tuple(self.crystals.solid_share(t) for t in nodes), *ways)

    def _ways(self, nodes: Sequence[float], liquid: Strength, spread: float, melts: Sequence[Range]) -> Ways:
        """The value of the way up and its ends, with a relative spread of the heat capacity and heats of melting."""
        heats = [liquid.enthalpy(t) for t in nodes]
        value, low, high = zip(*melts, strict=True)
        return (
            self._way(nodes, heats, value, self.vessel_heat[0]),
            self._way(nodes, [one * (1.0 - spread) for one in heats], low, self.vessel_heat[1]),
            self._way(nodes, [one * (1.0 + spread) for one in heats], high, self.vessel_heat[2]),
        )

    def _way(self, nodes: Sequence[float], heats: Sequence[float], melts: Sequence[float], vessel: float) -> Legs:
        """The legs between temperatures, by the enthalpy of liquid and the heat of melting there, and by the vessel."""
        mass, legs = self.contents.mass, []
        for i in range(1, len(nodes)):
            stock = heats[i] - heats[i - 1] + melts[i - 1] - melts[i]
            legs.append(Leg(nodes[i], max(0.0, mass * stock + vessel * (nodes[i] - nodes[i - 1]))))
        return tuple(legs)

    @property
    def thawing_heat(self) -> Range:
        """Heat that melts crystals on the way [J]: all of them, or what of them melts up to a colder target."""
        value, low, high = (
            self.contents.mass * max(0.0, start - end)
            for start, end in zip(self._melting_at_start, self.crystals.melting(self.target), strict=True)
        )
        return value, min(value, low, high), max(value, low, high)

    @property
    def thawed(self) -> float:
        """Heat that the value counts beside that of a liquid [J].

        It is that which melts crystals; below 0 where all is set and stays so, since solids take up less per kelvin.
        """
        return self.contents.mass * (self._melting_at_start[0] - self.crystals.melting(self.target)[0])

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
        """Heat lost to the room on the way [J].

        What a strength leaves open of it is sought between its ends, too: the more there is to melt, the longer a cold
        stock takes heat from a warmer room, but crystals of another strength may melt above the room and lose heat.
        """
        if not self.bounded:
            value = self._lost(self.path.value, self.value)
            return value, value, value
        if not (self.thawing_counted and self.crystals.is_open):
            return self._lost_between(self.path[2:], (self.value, self.low, self.high))
        nodes, alkali = self.path.temperatures, self.contents.alkali
        three = []
        each = zip(*(self.crystals.melting_of_each(t) for t in nodes), strict=True)
        for w, melts in zip(self.crystals.strengths(), each, strict=True):
            liquid = at_strength(alkali, w)
            ways = self._ways(nodes, liquid, liquid.capacity_spread, melts)
            three.append(self._lost_between(ways, self._warmed_each(ways)))
        values = [one[0] for one in three]
        between = zip(*(self.crystals.melting_between(t) for t in nodes), strict=True)
        for w, values_of_melting in zip(self.crystals.inner_strengths(), between, strict=True):
            liquid = at_strength(alkali, w)
            way = self._way(nodes, [liquid.enthalpy(t) for t in nodes], values_of_melting, self.vessel_heat[0])
            values.append(self._lost(way, self._warmed(way, 0)))
        return over_strengths(three, values)

    def _lost_between(self, ways: Ways, warmed: tuple[Warmed, Warmed, Warmed]) -> Range:
        """Heat lost on a way up with its ends [J].

        A cold stock takes heat from the room first, the more the longer its crystals melt, and loses it once it is
        warm: either end may go with more heat to take up or with less, so both are tried with either end of the loss.
        """
        value, *ends = (self._lost(way, run) for way, run in zip(ways, warmed, strict=True))
        _, low, high = ways
        ends += [self._lost(low, self._warmed(low, 2)), self._lost(high, self._warmed(high, 1))]
        return value, min(value, *ends), max(value, *ends)

    def _lost(self, way: Legs, warmed: Warmed) -> float:
        """What the heater gave, less what was taken up [J]."""
        return self.heater.given * warmed.times[-1] - sum(leg.heat for leg in way)

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


def _between(start: float, end: float, legs: int) -> list[float]:
    """Temperatures from one, which is left out, to another; none where it is not above."""
    if end <= start:
        return []
    return [start + (end - start) * i / legs for i in range(1, legs)] + [end]
