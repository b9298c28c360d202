"""What a vessel holds that is warmed or cooled, and what its strength leaves open of its figures."""

from math import hypot
from typing import Final, NamedTuple

from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.reading import NORMAL_95
from service.calculations.stock.concentration import first_solid_within
from service.calculations.stock.solutions import Found
from service.chemistry.enthalpy import Strength, at_strength
from service.chemistry.freezing import FirstSolid
from service.chemistry.uncertainty import Combined
from service.chemistry.vapour_pressure import HIGHEST_MASS_FRACTION, boiling_point, boiling_point_half_width

STRENGTH_STEP: Final = 1e-4


class Contents(NamedTuple):
    """What is in the vessel."""

    alkali: AlkaliName
    w: float
    """Mass fraction of hydroxide."""
    half_width: float
    """95 % half-width of it."""
    mass: float
    """kg."""
    temperature: float
    """°C."""
    crystallised: bool | None
    """Whether it has set, where the request says so."""


def ends_of_strength(contents: Contents) -> tuple[float, float]:
    """Ends of the interval of the strength [-].

    Args:
        contents: what is in the vessel.
    """
    alkali, w, half_width = contents[:3]
    return max(0.0, w - half_width), min(HIGHEST_MASS_FRACTION[alkali], w + half_width)


def boiling_spread(contents: Contents) -> float:
    """95 % half-width of the boiling point: that of the data, and what the strength leaves [K].

    Args:
        contents: what is in the vessel.
    """
    alkali, w, half_width = contents[:3]
    own = boiling_point_half_width(alkali, w)
    if not half_width:
        return own
    weak, strong = ends_of_strength(contents)
    return hypot(own, (boiling_point(alkali, strong) - boiling_point(alkali, weak)) / 2.0)


def told_first_solid(contents: Contents) -> FirstSolid:
    """The first solid, with limits that hold for every strength that the contents may have.

    Args:
        contents: what is in the vessel.
    """
    spread = Combined(contents.half_width / NORMAL_95, 0.0)
    return first_solid_within(contents.alkali, Found(contents.w, spread))


def capacity_spread(contents: Contents, liquid: Strength, t: float) -> float:
    """Relative half-width of the heat capacity: that of the data, and what the strength leaves.

    Args:
        contents: what is in the vessel.
        liquid: its heats.
        t: temperature at which the strength's part is reckoned [°C].
    """
    spread = liquid.capacity_spread
    if not contents.half_width:
        return spread
    step = STRENGTH_STEP if contents.w < 0.25 else -STRENGTH_STEP
    beside = at_strength(contents.alkali, contents.w + step)
    relative = beside.heat_capacity(t) / liquid.heat_capacity(t) - 1.0
    return float((spread**2 + (relative / step * contents.half_width) ** 2) ** 0.5)
