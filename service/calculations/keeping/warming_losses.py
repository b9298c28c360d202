"""What the vessel of a warming loses: its shape from the request, and the heat that goes to the room."""

import math
from typing import Final

from service.calculations.keeping.vessel_contents import Contents
from service.calculations.keeping.warming_runs import Losses
from service.calculations.mixing.vessels import KnownVessel
from service.calculations.shared.notes import Notes
from service.chemistry.heat_loss import disc_area
from service.chemistry.standing_loss import BARE_METAL, DULL, Range, Standing, standing_loss
from service.chemistry.vapour_pressure import water_vapour_pressure
from service.chemistry.water import saturation_pressure

HUMIDITY: Final = 0.5
"""Relative humidity of a workshop's air [-] (common practice)."""
METALS: Final = frozenset(
    {"stainless-steel", "nickel", "aluminium", "galvanised-steel", "copper", "brass", "zinc", "tin"}
)
"""Materials that stand bare; carbon steel is painted, or rusts, and radiates as plastic does."""


def losses(contents: Contents, vessel: KnownVessel, volume: float, ambient: float, notes: Notes) -> Losses:
    """The heat lost as a function of the temperature of the contents.

    Args:
        contents: what is in it.
        vessel: the vessel.
        volume: of the contents [m3].
        ambient: temperature of the air [°C].
        notes: where assumptions go.
    """
    standing = standing_vessel(vessel, volume, ambient, notes)
    moisture = HUMIDITY * saturation_pressure(max(ambient, 0.0))

    def rate(t: float) -> Range:
        vapour = water_vapour_pressure(contents.alkali, contents.w, max(t, 0.0)) if standing.is_open else 0.0
        return standing_loss(standing, t, vapour, moisture)

    return rate


def standing_vessel(vessel: KnownVessel, volume: float, ambient: float, notes: Notes) -> Standing:
    """A filled vessel by its shape.

    Args:
        vessel: the vessel.
        volume: of the contents [m3].
        ambient: temperature of the air around it [°C].
        notes: where assumptions go.
    """
    given, material = vessel.given, vessel.material
    known = given.diameter is not None
    if given.diameter is not None:
        diameter = given.diameter.value
    else:
        holds = vessel.volume
        if holds is None:
            holds = volume
            notes.assume("/vessel/volume", "a vessel just filled", "its surface is what loses the heat")
        diameter = math.pow(4.0 * holds / math.pi, 1.0 / 3.0)
        notes.assume(
            "/vessel/diameter", "a vessel as wide as high", "drums and tanks are near it; the upper end is not"
        )
    if given.lid is None:
        notes.assume("/vessel/lid", "no lid", "an open vessel loses more")
    resistance = 0.0
    if given.wall_thickness is not None and material.conductivity is not None:
        resistance = given.wall_thickness.value / material.conductivity.middle
    return Standing(
        diameter,
        volume / disc_area(diameter),
        ambient,
        BARE_METAL if material.id in METALS else DULL,
        resistance,
        not given.lid,
        known,
    )
