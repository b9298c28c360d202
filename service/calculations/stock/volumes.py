"""The mass of a solution that is told by its volume, and what it goes with: its strength and the model of densities."""

from typing import Final, NamedTuple

from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.reading import NORMAL_95
from service.calculations.stock.solutions import Found
from service.chemistry import density
from service.chemistry.uncertainty import Combined, Part, normal

STANDARD: Final = normal(1.0)
"""Spread of what is counted in standard uncertainties."""
STEP: Final = 1e-4
"""Difference in mass fraction over which a slope of the density is found."""


class ByVolume(NamedTuple):
    """How the mass of a volume goes with what is not known; of a mass that was weighed, with nothing.

    A strength that was told by a density goes with the model too: what it errs by is not counted twice.
    """

    by_strength: float = 0.0
    """Relative change for each mass fraction by which it is stronger for another reason than the densities [1]."""
    by_density: float = 0.0
    """Relative change where all solutions are denser by one standard uncertainty of the model [1]."""


WEIGHED: Final = ByVolume()
"""A mass that was weighed."""


class Amount(NamedTuple):
    """A solution and how well its mass and its strength are known."""

    mass: float
    """kg."""
    found: Found
    volume: ByVolume = WEIGHED

    def contributions(self, by_strength: float, by_mass: float) -> list[tuple[float, Part | Combined]]:
        """What its strength, and its mass where it was told by volume, leave open of a result.

        Args:
            by_strength: how the result goes with its mass fraction.
            by_mass: how the result goes with its mass, per kilogram.
        """
        by_share = by_mass * self.mass
        common = by_strength * self.found.by_density + by_share * self.volume.by_density
        own: list[tuple[float, Part | Combined]] = [(by_strength + by_share * self.volume.by_strength, self.found.own)]
        return [*own, (common, STANDARD)] if common else own


def steepness(alkali: AlkaliName, w: float, t: float) -> float:
    """Relative change of the density for each mass fraction [1].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide.
        t: temperature [°C], where a density is known.

    Raises:
        OutOfRange: no density is known there.
    """
    low, high = max(0.0, w - STEP), min(density.HIGHEST_MASS_FRACTION[alkali], w + STEP)
    rise = density.density(alkali, high, t) - density.density(alkali, low, t)
    return rise / (high - low) / density.density(alkali, w, t)


def by_volume(alkali: AlkaliName, found: Found, t: float) -> ByVolume:
    """How the mass of a volume of a solution goes with what is not known; of water with nothing.

    Args:
        alkali: NaOH or KOH.
        found: its strength.
        t: temperature of the volume [°C].

    Raises:
        OutOfRange: no density is known there.
    """
    w = found.mass_fraction
    if not w:
        return WEIGHED
    own = density.relative_half_width(alkali, w, t) / NORMAL_95
    if not found.spread.standard_uncertainty:
        return ByVolume(0.0, own)
    slope = steepness(alkali, w, t)
    return ByVolume(slope, own + slope * found.by_density)
