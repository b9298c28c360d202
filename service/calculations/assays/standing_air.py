"""What the air does to a stock that stands in it: from where on it dries, and whether a change can have come of it.

A strong cool stock takes water up from damp air, and only a warm one loses it: what counts is whether the water over it
has more or less vapour pressure than the air holds. So a cool stock that got lighter was hardly dried by its room.
"""

import math
from typing import Final, NamedTuple

from service.calculations.shared.cautions import degrees
from service.calculations.shared.given import Share, Temperature
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.stock.solutions import ROOM
from service.chemistry import vapour_pressure, water
from service.chemistry.ranges import rising_root

COLDEST: Final = 0.01
HIGHEST: Final = 100.0
"""Temperatures [°C] between which it is looked for where a stock loses water."""
DRIEST: Final = 0.2
"""Relative humidity that rooms seldom fall below, where none is told (judged)."""
_VACUUM: Final = 1e-9
"""Pa; less than any vapour that counts."""


class Air(NamedTuple):
    """The air a stock stands in."""

    temperature: float
    """°C, 0 to 100."""
    humidity: float | None
    """Relative, of water's saturation pressure; None where it is not told."""

    @property
    def pressure(self) -> float:
        """Of its water vapour, at `DRIEST` where no humidity is told [Pa]."""
        humidity = DRIEST if self.humidity is None else self.humidity
        return humidity * water.saturation_pressure(max(self.temperature, COLDEST))


class Drying(NamedTuple):
    """What may have dried a stock beside its room."""

    most: float
    """Water that an open mixing takes at most [kg]."""
    filled_at: float | None
    """Temperature it was filled with, where that is told [°C]."""


def read_air(ambient: Temperature | None, humidity: Share | None, notes: Notes) -> Air:
    """The air of a request; its temperature counts and is checked where humidity is told.

    Args:
        ambient: as the request has it.
        humidity: as the request has it.
        notes: where the fault or the assumption goes.
    """
    t = ROOM if ambient is None else ambient.value
    if humidity is None:
        return Air(min(max(t, 0.0), HIGHEST), None)
    if ambient is None:
        notes.assume("/ambient", "20 °C", "a workshop's room")
    if not 0 <= t <= HIGHEST:
        raise notes.refuse("/ambient", "beyond-data", f"air of {t:.4g} °C is none of a workshop", "give 0 to 100 °C")
    return Air(t, humidity.value)


def dries_from(alkali: AlkaliName, w: float, air: Air, half_width: float = 0.0) -> tuple[float, float, float] | None:
    """Where the water vapour over a stock has the pressure of that in the air, and the ends of the interval [°C].

    None where the humidity is not told, and where it is beyond 0 to 100 °C.

    Args:
        alkali: the hydroxide.
        w: mass fraction of it.
        air: the air.
        half_width: 95 % half-width of the mass fraction.
    """
    if air.humidity is None:
        return None
    t = _where(alkali, w, air.pressure, 0.0)
    if not COLDEST < t < HIGHEST:
        return None
    low, high = min(t, _where(alkali, w, air.pressure, 1.0)), max(t, _where(alkali, w, air.pressure, -1.0))
    if not half_width:
        return t, low, high
    weak, strong = max(0.0, w - half_width), min(vapour_pressure.HIGHEST_MASS_FRACTION[alkali], w + half_width)
    colder = math.hypot(t - low, max(0.0, t - _where(alkali, weak, air.pressure, 0.0)))
    warmer = math.hypot(high - t, max(0.0, _where(alkali, strong, air.pressure, 0.0) - t))
    return t, max(COLDEST, t - colder), min(HIGHEST, t + warmer)


def _where(alkali: AlkaliName, w: float, damp: float, side: float) -> float:
    """Temperature at which the vapour pressure, moved by so many of its half-widths, is that of the air."""
    if _pressure(alkali, w, COLDEST, side) >= damp:
        return COLDEST
    if _pressure(alkali, w, HIGHEST, side) <= damp:
        return HIGHEST
    # The logarithm is nearly straight, so that few places are asked for.
    return rising_root(
        lambda t: math.log(max(_pressure(alkali, w, t, side), _VACUUM)),
        math.log(max(damp, _VACUUM)),
        COLDEST,
        HIGHEST,
        quantity="pressure",
        reason="the air has less vapour than the warmest stock, and more than the coldest",
    )


def _pressure(alkali: AlkaliName, w: float, t: float, side: float) -> float:
    """Vapour pressure over a stock, moved by so many of its half-widths [Pa]."""
    p = vapour_pressure.water_vapour_pressure(alkali, w, t)
    return p + side * vapour_pressure.water_vapour_pressure_half_width(alkali, w, t)


def contradiction(
    alkali: AlkaliName, strengths: tuple[float, float], change: float, air: Air, drying: Drying
) -> str | None:
    """Why a change of the water can hardly have come of the air; None where it can.

    Args:
        alkali: the hydroxide.
        strengths: as it was filled, and now.
        change: of the water [kg]; negative where it got lighter.
        air: the air.
        drying: what else may have dried it.
    """
    weak, strong = min(strengths), min(max(strengths), vapour_pressure.HIGHEST_MASS_FRACTION[alkali])
    t = max(air.temperature, COLDEST)
    if change < 0:
        warmest = min(max(t, COLDEST if drying.filled_at is None else drying.filled_at), HIGHEST)
        if -change <= drying.most or _pressure(alkali, weak, warmest, 1.0) >= air.pressure:
            return None
        balance = vapour_pressure.water_vapour_pressure(alkali, weak, t) / water.saturation_pressure(t)
        return (
            f"At {degrees(t)} it takes water up from air of more than {percent(balance, 0)} humidity, and cannot dry "
            f"there. Unless it stood warm, the {weight(-change)} are likelier stock that was spilled, or drawn "
            "unrecorded: assay it before any water is put back."
        )
    if air.humidity is None or _pressure(alkali, strong, t, -1.0) <= air.pressure:
        return None
    return (
        f"At {degrees(t)} it dries in air of {percent(air.humidity, 0)} humidity, and takes no water up there: a gain "
        f"of {weight(change)} is likelier a slip of weighing, or something that was added. Assay it."
    )
