"""What takes the heat of a cooling stock: air, still or moving, or a bath of water or ice."""

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from service.calculations.keeping.cooling_runs import Around, Loss, Run
from service.calculations.keeping.vessel_contents import Contents
from service.calculations.keeping.warming_losses import HUMIDITY, standing_vessel
from service.calculations.mixing.vessels import KnownVessel
from service.calculations.shared.notes import Notes
from service.chemistry.air import VOLUMETRIC_HEAT
from service.chemistry.bath import Bathed, Stock, bath_losses
from service.chemistry.heat_loss import HEAT_OF_EVAPORATION, disc_area
from service.chemistry.moving_air import moving_coefficients, moving_loss
from service.chemistry.standing_loss import (
    LOWEST_LEVEL,
    STILL,
    Range,
    Standing,
    convection_coefficient,
    standing_loss,
    steam,
    top_loss,
)
from service.chemistry.vapour_pressure import water_vapour_pressure
from service.chemistry.water import saturation_pressure

WALL: Final = (2e-3, 1e-3, 4e-3)
"""Thickness of a wall that is not told: value, lower and upper limit [m] (common practice: jugs and buckets)."""
FAN: Final = (2.0, 0.5, 4.0)
"""Speed of the air in front of a table fan: value, lower and upper limit [m/s] (common practice)."""

POINTS: Final = 5
"""Legs of a way from one reckoning of the vapour to the next."""


class Lost(NamedTuple):
    """How a vessel loses heat."""

    loss: Loss
    standing: Standing
    bathed: Bathed | None
    """As it stands in a bath; None in air."""
    speed: Range | None
    """Of the air, where it moves [m/s]."""
    moisture: float
    """Vapour pressure of the air [Pa]."""

    def evaporation(self, contents: Contents, t: float) -> float:
        """Heat that goes with the vapour of an open stock of a temperature [W].

        Args:
            contents: what is in the vessel.
            t: its temperature [°C].
        """
        standing = self.standing
        if self.speed is None:
            convection = convection_coefficient(max(standing.level, LOWEST_LEVEL), t, standing.ambient)
        else:
            convection = moving_coefficients(standing, t, self.speed)[0]
        density = steam(t, water_vapour_pressure(contents.alkali, contents.w, max(t, 0.0)), self.moisture)
        disc = disc_area(standing.diameter)
        return disc * convection * density / VOLUMETRIC_HEAT * HEAT_OF_EVAPORATION


def loss_of(
    contents: Contents, vessel: KnownVessel, volume: float, around: Around, *, speed: Range | None, notes: Notes
) -> Lost:
    """The heat lost as a function of the temperatures of contents and surroundings.

    Args:
        contents: what is in the vessel.
        vessel: the vessel.
        volume: of the contents [m3].
        around: what it stands in.
        speed: of the air, where it moves [m/s].
        notes: where assumptions go.
    """
    standing = standing_vessel(vessel, volume, around.temperature, notes)
    moisture = HUMIDITY * saturation_pressure(max(around.temperature, 0.0))

    def vapour(t: float) -> float:
        return water_vapour_pressure(contents.alkali, contents.w, max(t, 0.0)) if standing.is_open else 0.0

    if around.medium in {"still-air", "moving-air"}:

        def to_air(way: Sequence[float], _: Sequence[float]) -> list[Range]:
            if speed is None:
                return [standing_loss(standing, t, vapour(t), moisture) for t in way]
            return [moving_loss(standing, t, speed, vapour(t), moisture) for t in way]

        return Lost(to_air, standing, None, speed, moisture)

    bathed = Bathed(standing.diameter, standing.level, _wall(vessel, notes), standing.shape_known)
    stock = Stock(contents.alkali, contents.w)

    def from_top(t: float) -> Range:
        convection = convection_coefficient(max(standing.level, LOWEST_LEVEL), t, standing.ambient)
        ends = (STILL[0] * convection, STILL[1] * convection, STILL[2] * convection)
        return top_loss(standing, t, ends, steam(t, vapour(t), moisture))

    def to_bath(way: Sequence[float], baths: Sequence[float]) -> list[Range]:
        tops, wetted = map(from_top, way), bath_losses(bathed, stock, way, baths)
        return [
            (value + top, low, high + most) for (value, low, high), (top, _, most) in zip(wetted, tops, strict=True)
        ]

    return Lost(to_bath, standing, bathed, None, moisture)


def evaporated(lost: Lost, run: Run) -> float:
    """Water that leaves an open stock until the target is reached, by the values of all that is uncertain [kg].

    Args:
        lost: how the vessel loses heat.
        run: the cooling.
    """
    if not lost.standing.is_open:
        return 0.0
    way, points = run.value, range(0, len(run.temperatures), POINTS)
    shares = [lost.evaporation(run.contents, run.temperatures[i]) / way.losses[i] for i in points]
    given = 0.0
    for j in range(1, len(shares)):
        heat = math.fsum(way.heats[points[j - 1] : points[j]])
        given += heat * 0.5 * (shares[j - 1] + shares[j])
    return given / HEAT_OF_EVAPORATION


def _wall(vessel: KnownVessel, notes: Notes) -> Range:
    """Thickness over conductivity [m2 K/W]: value and limits; 0 where the conductivity is not known."""
    given, known = vessel.given.wall_thickness, vessel.material.conductivity
    if given is None:
        notes.assume("/vessel/wall_thickness", "2 mm, 1 to 4 mm", "jugs and buckets; in a bath the wall counts")
        thickness = WALL
    else:
        thickness = (given.value, given.value, given.value)
    if known is None:
        return 0.0, 0.0, 0.0
    return thickness[0] / known.middle, thickness[1] / known.high, thickness[2] / known.low
