"""A solution as it is answered: mass, strength, temperature and volume, under the names that requests give them.

`alkali`, `mass`, `strength` and `temperature` of an answer are those of the `solution` of a next request.
"""

from math import hypot
from typing import Annotated, NamedTuple

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.mixing.stock_mixing import StrengthFigure
from service.calculations.shared.messages import Alkali, AlkaliName
from service.calculations.shared.told import FractionFigure, MassFigure, TemperatureFigure, VolumeFigure
from service.chemistry import density
from service.chemistry.errors import OutOfRange


class ToldSolution(Struct, frozen=True, kw_only=True):
    """A solution of an answer; send all but its volume on as the `solution` of another request."""

    alkali: Alkali
    mass: Annotated[MassFigure, Meta(description="Its mass, ice that is left counted.")]
    strength: Annotated[StrengthFigure, Meta(description="Of the whole, ice that is left counted as water.")]
    temperature: Annotated[TemperatureFigure, Meta(description="Its temperature, no heat lost.")]
    volume: (
        Annotated[
            VolumeFigure,
            Meta(description="At its temperature; left out where no density reaches, and where ice is left."),
        ]
        | UnsetType
    ) = UNSET


class KnownSolution(NamedTuple):
    """A solution with the 95 % half-widths of what is known of it."""

    alkali: AlkaliName
    mass: float
    """kg."""
    mass_fraction: float
    temperature: float
    """°C."""
    mass_half_width: float = 0.0
    strength_half_width: float = 0.0
    temperature_half_width: float = 0.0
    has_ice: bool = False

    @property
    def strength(self) -> StrengthFigure:
        """Its strength, as it is answered."""
        return StrengthFigure(mass_fraction=FractionFigure.around(self.mass_fraction, self.strength_half_width))

    def volume_at(self, t: float) -> VolumeFigure | UnsetType:
        """Its volume at a temperature, as it is answered; left out where no density reaches or ice floats in it.

        Args:
            t: the temperature [°C].
        """
        if self.has_ice:
            return UNSET
        w = self.mass_fraction
        try:
            rho = density.density(self.alkali, w, t)
        except OutOfRange:
            return UNSET
        low, high = max(0.0, w - 1e-4), min(density.HIGHEST_MASS_FRACTION[self.alkali], w + 1e-4)
        steep = (density.density(self.alkali, high, t) - density.density(self.alkali, low, t)) / (high - low)
        spread = hypot(
            model_spread(self.alkali, w, t),
            steep * self.strength_half_width / rho,
            self.mass_half_width / self.mass,
        )
        return VolumeFigure.around(self.mass / rho, spread * self.mass / rho)

    def told(self) -> ToldSolution:
        """The solution as it is answered."""
        return ToldSolution(
            alkali=self.alkali,
            mass=MassFigure.around(self.mass, self.mass_half_width),
            strength=self.strength,
            temperature=TemperatureFigure.around(self.temperature, self.temperature_half_width),
            volume=self.volume_at(self.temperature),
        )


def model_spread(alkali: AlkaliName, w: float, t: float) -> float:
    """95 % half-width of the density model, over the density; that of water counts as exact.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide.
        t: temperature [°C], where a density is known.
    """
    return density.relative_half_width(alkali, w, t) if w else 0.0
