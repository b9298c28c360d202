"""One's own readings of a cooling: what of them is refused, and the heat-loss coefficient that they tell."""

import math
from collections.abc import Sequence
from typing import Annotated, Final, NamedTuple

from msgspec import Meta

from service.calculations.keeping.cooling_runs import Around, ByReadings, Loss
from service.calculations.keeping.vessel_contents import Contents, capacity_spread
from service.calculations.keeping.warming_losses import HUMIDITY
from service.calculations.shared.cautions import degrees
from service.calculations.shared.given import MeasuredTemperature, TimeRead
from service.calculations.shared.notes import Notes
from service.calculations.shared.rules import Ruled
from service.chemistry.cooling_fit import Fitted, fit, fitted_losses, loss_spread, surface_change, time_limits, way
from service.chemistry.enthalpy import at_strength
from service.chemistry.freezing import first_solid
from service.chemistry.standing_loss import Range, steam
from service.chemistry.uncertainty import Combined, Part, coverage_half_width, rectangular
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width, water_vapour_pressure
from service.chemistry.water import saturation_pressure

MOST_READINGS: Final = 200
THERMOMETER: Final = 1.0
"""Limit of a reading to either side, where it has no spread of its own [K] (common practice: kitchen thermometers)."""
NEAREST: Final = 1e-3
"""Kelvins to which what cools is reckoned to come near to its surroundings."""
POWERS: Final = {"still-air": 1.0 / 3.0, "moving-air": 1.0 / 3.0, "water-bath": 0.6, "ice-bath": 0.8}
"""Highest power of the difference of temperatures that a coefficient goes with [-]: turbulent free convection in air,
which a weak fan leaves as it is. In a bath also a stock that thickens as it cools, and water that hardly moves near
4 °C: 50 % NaOH in metal, between 95 and 25 °C, has 0.5 to 0.57 in tap water and 0.6 to 0.8 in ice, weaker stock and
walls of plastic less (computed: `service.chemistry.bath`)."""
CONVECTION: Final = {"still-air": 0.5, "moving-air": 0.8}
"""Highest share of convection in what a dry surface loses to air, beside radiation: 5 to 6 W/(m2 K) of either in still
air, four times as much of the one before a fan. In a bath the surface is too little of the whole to count."""


class CoolingReading(Ruled, kw_only=True):
    """A reading of the thermometer."""

    time: Annotated[
        TimeRead,
        Meta(description="When, counted from any start; a time of the clock is refused.", examples=["0 min", "25 min"]),
    ]
    temperature: Annotated[MeasuredTemperature, Meta(description="Of the stock, stirred.", examples=["71.5 °C"])]


class Told(NamedTuple):
    """What readings tell."""

    fitted: Fitted
    coefficient: Range
    """With all that is uncertain in it [W/K]."""
    times: tuple[float, ...]
    temperatures: tuple[float, ...]
    ways: tuple[float, ...]
    """Of each from the first [J/K]."""
    heats: tuple[float, ...]
    """Given off from each to the next [J]."""
    weights: tuple[float, ...]
    mean_apart: float
    """Geometric mean of the differences to the surroundings [K]."""
    capacity: tuple[float, float]
    """Half-widths of the heat capacity to either side, over its value [1]."""

    def loss(self, contents: Contents, around: Around, *, is_open: bool) -> Loss:
        """The heat lost as a function of the temperatures of contents and surroundings.

        Its limits are those of a coefficient that falls; what the readings leave uncertain of it is that of `leave`.

        Args:
            contents: what cools.
            around: what the vessel stands in.
            is_open: whether vapour can leave.
        """
        ends = (self.fitted.coefficient,) * 3
        power, cold, mean = POWERS[around.medium], around.temperature, self.mean_apart
        convection = CONVECTION.get(around.medium) if is_open else None
        if convection is None:
            return lambda way, baths: [
                fitted_losses(ends, t - bath, mean, power) for t, bath in zip(way, baths, strict=True)
            ]
        moisture = HUMIDITY * saturation_pressure(max(cold, 0.0))

        def density(t: float) -> float:
            return steam(t, water_vapour_pressure(contents.alkali, contents.w, max(t, 0.0)), moisture)

        there = (mean, density(cold + mean))

        def to_air(way: Sequence[float], _: Sequence[float]) -> list[Range]:
            changes = [surface_change((t - cold, density(t)), there, convection) for t in way]
            return [fitted_losses(ends, t - cold, mean, power, one) for t, one in zip(way, changes, strict=True)]

        return to_air

    def leave(self, contents: Contents, vessel_heat: float, last: CoolingReading, *, from_last: bool) -> ByReadings:
        """What the readings leave uncertain of a cooling.

        Args:
            contents: what cools, as warm as it is at the start.
            vessel_heat: heat capacity of the vessel [J/K].
            last: the last reading.
            from_last: whether it starts there; else at a temperature that was told.
        """
        fitted, slope = self.fitted, self.fitted.coefficient
        heat_capacity = at_strength(contents.alkali, contents.w).heat_capacity(contents.temperature)
        own = loss_spread(fitted, contents.mass * heat_capacity + vessel_heat, from_last=from_last)
        low, high = (math.hypot(own, one) for one in self.capacity)
        return ByReadings(
            lambda time: time_limits(fitted, slope * time, from_last=from_last),
            (low, high),
            reading_limit(last) if from_last else 0.0,
        )


def check_readings(readings: Sequence[CoolingReading], contents: Contents, around: Around, notes: Notes) -> None:
    """Note what of the readings cannot be of a cooling.

    Args:
        readings: two or more.
        contents: what cooled.
        around: what it stood in.
        notes: where faults go.
    """
    boiling, half_width = (one(contents.alkali, contents.w) for one in (boiling_point, boiling_point_half_width))
    first = first_solid(contents.alkali, contents.w)
    for i, one in enumerate(readings):
        t, at = one.temperature.value, f"/readings/{i}/temperature"
        if t > boiling + half_width:
            notes.fault(
                at,
                "impossible-temperature",
                f"this stock boils at about {boiling:.0f} °C, and was read at {t:.4g} °C",
                "check the number and its unit",
            )
        elif t - around.temperature < NEAREST:
            notes.fault(
                at,
                "contradiction",
                f"{t:.4g} °C is no warmer than the surroundings, {around.temperature:.4g} °C: nothing tells there how "
                "fast it cools",
                "leave this reading out, or compare it with the temperature of the surroundings",
            )
        elif t < first.temperature:
            notes.fault(
                at,
                "beyond-data",
                f"from {first.temperature:.1f} °C this stock forms crystals, whose heat slows the cooling",
                "give readings of a stock still liquid",
            )
        if i == 0:
            continue
        before = readings[i - 1]
        if one.time.value <= before.time.value:
            notes.fault(
                f"/readings/{i}/time",
                "contradiction",
                "it is not later than the reading before it",
                "give readings in the order of their times, each time once",
            )
        elif t - before.temperature.value > reading_limit(one) + reading_limit(before):
            notes.fault(
                at,
                "contradiction",
                f"the stock was {t - before.temperature.value:.3g} K warmer than at the reading before it",
                "leave out what was read while it was heated or mixed, or before it was stirred",
            )


def _part(reading: CoolingReading) -> Part:
    """What the thermometer leaves uncertain [K]; a spread of nothing is none that was told."""
    part = reading.temperature.part
    return rectangular(THERMOMETER) if part is None or not part.standard_uncertainty > 0.0 else part


def reading_limit(reading: CoolingReading) -> float:
    """95 % half-width of what the thermometer leaves of a reading [K].

    Args:
        reading: the reading.
    """
    return coverage_half_width(Combined(*_part(reading)))


def fit_readings(
    readings: Sequence[CoolingReading], contents: Contents, around: Around, vessel_heat: Range, notes: Notes
) -> Told:
    """The heat-loss coefficient that readings tell.

    Args:
        readings: two or more, checked.
        contents: what cooled.
        around: what it stood in.
        vessel_heat: heat capacity of the vessel [J/K].
        notes: where assumptions go.

    Raises:
        Refusal: they do not tell a cooling from none.
    """
    if any(one.temperature.part is None or not one.temperature.part.standard_uncertainty > 0.0 for one in readings):
        notes.assume("/readings", "temperatures good to 1 K", "usual thermometers; of readings without a spread")
    liquid, vessel, cold = at_strength(contents.alkali, contents.w), vessel_heat[0], around.temperature
    times = tuple(one.time.value - readings[0].time.value for one in readings)
    temperatures = tuple(one.temperature.value for one in readings)
    capacities = [contents.mass * liquid.heat_capacity(t) + vessel for t in temperatures]
    ways, heats = [0.0], []
    for i in range(1, len(readings)):
        before, after = temperatures[i - 1], temperatures[i]
        heat = contents.mass * (liquid.enthalpy(before) - liquid.enthalpy(after)) + vessel * (before - after)
        step = way(abs(heat), before - cold, after - cold)
        heats.append(heat)
        ways.append(ways[-1] + math.copysign(step, heat))
    spreads = []
    for one, capacity, t in zip(readings, capacities, temperatures, strict=True):
        scale, part = capacity / (t - cold), _part(one)
        spreads.append(Part(scale * part.standard_uncertainty, scale * part.rectangular_half_width))
    found = fit(times, ways, spreads)
    if not found.coefficient - found.half_width > 0.0:
        raise notes.refuse(
            "/readings",
            "readings-too-close",
            f"from {degrees(temperatures[0], 1)} to {degrees(temperatures[-1], 1)} is no more than what the "
            f"{'scatter of the readings' if found.by_scatter else 'thermometer'} leaves uncertain",
            "take a reading when it has cooled further, or give how good the thermometer is, as in "
            '{"value": 71.5, "uncertainty": 0.2, "unit": "°C"}',
        )
    middle = sum(temperatures) / len(temperatures)
    spread = contents.mass * liquid.heat_capacity(middle) * capacity_spread(contents, liquid, middle)
    lowest, highest = -spread + vessel_heat[1] - vessel, spread + vessel_heat[2] - vessel
    whole = contents.mass * liquid.heat_capacity(middle) + vessel
    value, own = found.coefficient, found.half_width / found.coefficient
    sides = (lowest / whole, highest / whole)
    low, high = (math.hypot(own, one) for one in sides)
    return Told(
        found,
        (value, value * max(0.0, 1.0 - low), value * (1.0 + high)),
        times,
        temperatures,
        tuple(ways),
        tuple(heats),
        tuple(1.0 / part.standard_uncertainty**2 for part in spreads),
        math.exp(math.fsum(math.log(t - cold) for t in temperatures) / len(temperatures)),
        sides,
    )
