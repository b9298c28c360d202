"""What there is to know of a stock before anything is drawn from it.

A workshop draws from the same stock all day, so the last ones are kept. What is kept follows from the arguments alone,
and an answer is the same with it or without.
"""

from functools import lru_cache
from typing import Final, NamedTuple

from service.calculations.shared.cautions import Caution, caution, degrees
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import percent
from service.chemistry import density, freezing, vapour_pressure
from service.chemistry.errors import OutOfRange

KEPT: Final = 128
"""Stocks kept: more than a shop has, and a few hundred kilobytes at most."""
OUNCE_OF_VOLUME: Final = 29.5735295625e-6
"""US fluid ounce [m3]."""
OUNCE: Final = 28.349523125e-3
"""Ounce [kg]."""


class KnownStock(NamedTuple):
    """A stock at its temperature."""

    boiling_point: float
    """°C, at 1 atm."""
    density: float | None
    """kg/m3; None where no data reach."""
    overdose: str
    """How much too heavy a US fluid ounce of it is for an ounce, as a person says it."""
    crystals: Caution | None
    """What to say of solids in it; None where there are none."""


@lru_cache(maxsize=KEPT)
def known_stock(alkali: AlkaliName, w: float, t: float) -> KnownStock:
    """A stock of a strength at a temperature.

    Args:
        alkali: its hydroxide.
        w: mass fraction of hydroxide [-], within the solubility that requests are held to.
        t: temperature [°C].
    """
    try:
        rho: float | None = density.density(alkali, w, t)
    except OutOfRange:
        rho = None
    return KnownStock(vapour_pressure.boiling_point(alkali, w), rho, _overdose(alkali, w, t), _crystals(alkali, w, t))


@lru_cache(maxsize=KEPT)
def weigh_it(*overdoses: str) -> Caution:
    """What to say of pouring stocks, by how much too heavy a fluid ounce of each is for an ounce."""
    return caution(
        "stock-by-weight-only",
        "Weigh the stock. Poured by the fluid ounce where ounces by weight are meant, it carries "
        f"{' and '.join(dict.fromkeys(overdoses))} too much alkali.",
    )


def _overdose(alkali: AlkaliName, w: float, t: float) -> str:
    try:
        rho = density.density(alkali, w, max(t, 0.0))
    except OutOfRange:
        return "far"
    return percent(rho * OUNCE_OF_VOLUME / OUNCE - 1, 0)


def _crystals(alkali: AlkaliName, w: float, t: float) -> Caution | None:
    first = freezing.first_solid(alkali, w)
    if t >= first.high:
        return None
    return caution(
        "crystals-in-solution",
        f"At {degrees(t, 1)} a {percent(w)} {alkali} stock {'holds' if t < first.low else 'may hold'} crystals (from "
        f"{degrees(first.temperature, 1)}): what is drawn then has another strength. Warm and stir it first.",
    )
