"""The reckoning of a cooling: heat given off, heat lost on the way, and both ends of what is uncertain."""

import math
from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

from service.calculations.keeping.vessel_contents import Contents, boiling_spread, capacity_spread
from service.chemistry.cooling import cooling_times, geometric_way, melted_ice, newton_coefficient
from service.chemistry.enthalpy import Strength, at_strength
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import FirstSolid, first_solid
from service.chemistry.ranges import rising_root
from service.chemistry.standing_loss import Range
from service.chemistry.vapour_pressure import boiling_point

LEGS: Final = 20
"""Legs of the way down; the loss is taken as straight on each."""
STEEPEST: Final = 1.6
"""Highest power of the difference of temperatures that a loss to a bath of water goes with: free convection of a
stock that thickens as it cools, as of `cooling_readings.POWERS`."""

WIDEST: Final = 0.9
"""Relative half-width of a heat capacity at most: of a strength that is hardly known, a line says no more."""

Loss = Callable[[Sequence[float], Sequence[float]], list[Range]]
"""Heat lost at each point of a way [W], with contents and surroundings of these temperatures [°C]."""


class Around(NamedTuple):
    """What the vessel stands in."""

    medium: str
    temperature: float
    """°C."""
    capacity: float
    """Heat that it takes up per kelvin of its own warming [J/K]; infinite where it stays as it is."""


class Cooled(NamedTuple):
    """One way down: at the value, or at an end of what is uncertain."""

    heats: tuple[float, ...]
    """Given off on each leg [J]."""
    baths: tuple[float, ...]
    """Temperature of the surroundings at each point [°C]."""
    losses: tuple[float, ...]
    """At each point [W]."""
    times: tuple[float, ...]
    """At the end of each leg, from the start [s]; none where it does not get there."""


class ByReadings(NamedTuple):
    """What readings leave uncertain of a cooling, beside a coefficient that falls on the way."""

    times: Callable[[float], tuple[float, float]]
    """Ends of a time of this value [s]."""
    loss: tuple[float, float]
    """Half-widths of the loss at the start to either side, over its value [1]."""
    start: float
    """Half-width of the temperature at the start [K]; 0 where it is told."""


class Run:
    """One cooling with all that is told of it.

    Raises:
        OutOfRange: the target is not above where both come to rest, or a correlation does not reach so far.
    """

    def __init__(
        self,
        contents: Contents,
        target: float,
        around: Around,
        vessel_heat: Range,
        loss: Loss,
        *,
        by_readings: ByReadings | None = None,
    ) -> None:
        self.by_readings = by_readings
        self.contents = contents
        self.target = target
        self.around = around
        self.vessel_heat = vessel_heat
        self.liquid: Strength = at_strength(contents.alkali, contents.w)
        self.first: FirstSolid = first_solid(contents.alkali, contents.w)
        self.boiling = boiling_point(contents.alkali, contents.w)
        self.boiling_half_width = boiling_spread(contents)
        self.capacity_spread = min(capacity_spread(contents, self.liquid, target), WIDEST)
        self.rest = resting_temperature(contents, vessel_heat[0], around)
        self.temperatures = geometric_way(contents.temperature, target, self.rest, LEGS)
        self._enthalpies = [contents.mass * self.liquid.enthalpy(t) for t in self.temperatures]
        self._bath_spread = math.isfinite(around.capacity)
        self._heats = [self._given_off(which) for which in range(3)]
        baths = self._baths(self._heats[0])
        self._losses = loss(self.temperatures, baths)
        self.value = self._way(0, self._heats[0], baths)
        # The slowest way gives off the most heat against the least loss. A fitted coefficient was found with the heat.
        self.quick = self._end(1 if by_readings is None else 0, 2, baths)
        self.slow = self._end(2 if by_readings is None else 0, 1, baths)

    def _given_off(self, which: int) -> tuple[float, ...]:
        scale = (1.0, 1.0 - self.capacity_spread, 1.0 + self.capacity_spread)[which]
        vessel, h, t = self.vessel_heat[which], self._enthalpies, self.temperatures
        return tuple(
            max(0.0, (h[i] - h[i + 1]) * scale + vessel * (t[i] - t[i + 1])) for i in range(len(self.temperatures) - 1)
        )

    def _baths(self, heats: tuple[float, ...]) -> tuple[float, ...]:
        found, given = [self.around.temperature], 0.0
        for heat in heats:
            given += heat
            found.append(self.around.temperature + given / self.around.capacity)
        return tuple(found)

    def _end(self, heat: int, loss: int, baths: tuple[float, ...]) -> Cooled:
        heats = self._heats[heat]
        own = self._baths(heats) if self._bath_spread else baths
        return self._way(loss, heats, own, baths)

    def _way(
        self, which: int, heats: tuple[float, ...], baths: tuple[float, ...], reckoned: tuple[float, ...] | None = None
    ) -> Cooled:
        losses = [one[which] for one in self._losses]
        if reckoned is not None and self._bath_spread:
            for i, t in enumerate(self.temperatures):
                losses[i] *= (max(0.0, t - baths[i]) / (t - reckoned[i])) ** STEEPEST
        times = () if min(losses) <= 0.0 else cooling_times(heats, losses)
        return Cooled(heats, baths, tuple(losses), times)

    @property
    def surely_reached(self) -> bool:
        """Whether the target is reached at every end of what is uncertain."""
        return bool(self.slow.times)

    @property
    def times(self) -> Range:
        """How long it takes [s]; without ends where it is not surely reached."""
        value = self.value.times[-1]
        if not self.surely_reached:
            return value, value, value
        low, high = min(value, self.quick.times[-1]), max(value, self.slow.times[-1])
        if self.by_readings is not None:
            # Both ends are of the same way, so that what readings leave and what the coefficient may do multiply.
            soonest, latest = self.by_readings.times(value)
            low, high = low * soonest / value, high * latest / value
        return value, low, high

    @property
    def heat(self) -> Range:
        """Heat given off by contents and vessel [J]."""
        value, low, high = map(math.fsum, self._heats)
        capacity = self.contents.mass * self.liquid.heat_capacity(self.temperatures[0]) + self.vessel_heat[0]
        by_start = 0.0 if self.by_readings is None else self.by_readings.start * capacity
        low, high = math.hypot(value - low, by_start), math.hypot(high - value, by_start)
        # Readings may leave open whether it is as warm as the target any more: then nothing is given off.
        return value, max(0.0, value - low), value + high

    @property
    def ice_melted(self) -> Range:
        """Ice that the heat melts [kg]."""
        value, low, high = (melted_ice(one) for one in self.heat)
        return value, low, high

    @property
    def loss_at_start(self) -> Range:
        """Heat lost at the start [W]."""
        value, low, high = self._losses[0]
        if self.by_readings is None:
            return value, low, high
        less, more = self.by_readings.loss
        return value, low * max(0.0, 1.0 - less), high * (1.0 + more)

    def coefficient(self) -> Range:
        """Heat-loss coefficient that Newton's law needs for the same time [W/K]."""
        value = self._newton(self.value)
        if not self.surely_reached:
            return value, value, value
        ends = self._newton(self.quick), self._newton(self.slow)
        return value, min(value, *ends), max(value, *ends)

    def _newton(self, way: Cooled) -> float:
        start, end = self.contents.temperature, self.target
        apart = start - way.baths[0], end - way.baths[-1]
        return newton_coefficient(way.times[-1], math.fsum(way.heats) / (start - end), apart, self.around.capacity)


def resting_temperature(contents: Contents, vessel: float, around: Around) -> float:
    """Temperature at which contents and surroundings come to rest [°C].

    Args:
        contents: what is in the vessel.
        vessel: heat capacity of the vessel [J/K].
        around: what it stands in.

    Raises:
        OutOfRange: the contents are not warmer than the surroundings.
    """
    start, cold = contents.temperature, around.temperature
    if not start > cold:
        raise OutOfRange("temperature", start, cold, math.inf, "it is no warmer than its surroundings")
    if not math.isfinite(around.capacity):
        return cold
    liquid = at_strength(contents.alkali, contents.w)
    mass, bath = contents.mass, around.capacity

    def heat(t: float) -> float:
        return mass * liquid.enthalpy(t) + (vessel + bath) * t

    given = mass * liquid.enthalpy(start) + vessel * start + bath * cold
    return rising_root(heat, given, cold, start, quantity="heat", reason="heat is kept")
