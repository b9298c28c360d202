"""A solution as it is answered: mass, strength, temperature and volume, under the names that requests give them.

`alkali`, `mass`, `strength` and `temperature` of an answer are those of the `solution` of a next request.
"""

from math import hypot
from typing import Annotated, NamedTuple

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.mixing.stock_mixing import StrengthFigure
from service.calculations.shared.messages import Alkali, AlkaliName
from service.calculations.shared.reading import NORMAL_95
from service.calculations.shared.told import FractionFigure, MassFigure, TemperatureFigure, VolumeFigure
from service.calculations.stock.volumes import STANDARD, steepness
from service.chemistry import density
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import Combined, Part, combine, coverage_half_width


class ToldSolution(Struct, frozen=True, kw_only=True):
    """A solution of an answer; send all but its volume on as the `solution` of another request."""

    alkali: Alkali
    mass: Annotated[MassFigure, Meta(description="Its mass, ice that is left counted.")]
    strength: Annotated[StrengthFigure, Meta(description="Of the whole, ice that is left counted as water.")]
    temperature: Annotated[
        TemperatureFigure, Meta(description="Its temperature, no heat lost; with a solid its ends are bounds.")
    ]
    volume: (
        Annotated[
            VolumeFigure,
            Meta(
                description="At its temperature, with a solid at its bounds too; left out where no density reaches, "
                "and where ice is left."
            ),
        ]
        | UnsetType
    ) = UNSET


class Unknown(NamedTuple):
    """Something that is not known, and how a solution goes with it."""

    by_mass: float
    """Relative change of the mass for one unit of it."""
    by_strength: float
    """Change of the mass fraction for one unit of it."""
    part: Part | Combined
    """Its spread."""


class KnownSolution(NamedTuple):
    """A solution and how well it is known."""

    alkali: AlkaliName
    mass: float
    """kg."""
    mass_fraction: float
    temperature: float
    """°C."""
    unknown: tuple[Unknown, ...] = ()
    """What it goes with, each independent of the others and of the densities."""
    by_density: tuple[float, float] = (0.0, 0.0)
    """Relative change of the mass, and change of the mass fraction, where all solutions are denser by one standard
    uncertainty of the model."""
    temperature_rooms: tuple[float, float] = (0.0, 0.0)
    """By how much it may be colder and warmer [K]."""
    has_ice: bool = False
    contracts: float = 0.0
    """By how much less its volume may be for another reason than its mass and its strength, over itself."""
    warmer_if_weaker: bool = False
    """Whether it is warmer where it is weaker, and both make it lighter."""

    @property
    def mass_half_width(self) -> float:
        """Of the 95 % interval of the mass [kg]."""
        return self._half_width(self.mass, 0.0)

    @property
    def strength_spread(self) -> Combined:
        """Of the mass fraction."""
        by_density = self.by_density[1]
        parts = [(one.by_strength, one.part) for one in self.unknown]
        return combine([*parts, (by_density, STANDARD)] if by_density else parts)

    def _half_width(self, by_mass: float, by_strength: float, own: float = 0.0) -> float:
        """95 % half-width of what goes with mass and strength.

        Args:
            by_mass: how it goes with the relative mass.
            by_strength: how it goes with the mass fraction.
            own: how it goes with the densities, in standard uncertainties, beside by mass and strength.
        """
        common = by_mass * self.by_density[0] + by_strength * self.by_density[1] + own
        parts = [(by_mass * one.by_mass + by_strength * one.by_strength, one.part) for one in self.unknown]
        if not parts:
            return abs(common) * NORMAL_95
        return coverage_half_width(combine([*parts, (common, STANDARD)]))

    @property
    def strength(self) -> StrengthFigure:
        """Its strength, as it is answered."""
        half_width = self._half_width(0.0, 1.0)
        return StrengthFigure(mass_fraction=FractionFigure.around(self.mass_fraction, half_width))

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
        volume = self.mass / rho
        slope = steepness(self.alkali, w, t) if self.unknown or self.by_density[1] else 0.0
        own = model_spread(self.alkali, w, t) / NORMAL_95
        cold, warm = self._half_width(1.0, -slope, -own), self._expansion(t, rho)
        half_width = volume * (cold + warm if self.warmer_if_weaker else hypot(cold, warm))
        told = VolumeFigure.around(volume, half_width)
        if self.contracts:
            told.low, told.high = max(0.0, volume * (1.0 - self.contracts) - half_width), volume + half_width
        return told

    def _expansion(self, t: float, rho: float) -> float:
        """What its own temperature leaves open of its volume, over it; nothing at a temperature that is asked for."""
        room = max(self.temperature_rooms)
        if t != self.temperature or not room:
            return 0.0
        beside = t - 1.0 if t >= 1.0 else t + 1.0
        return room * abs(density.density(self.alkali, self.mass_fraction, beside) / rho - 1.0)

    def _told_temperature(self) -> TemperatureFigure:
        t, (colder, warmer) = self.temperature, self.temperature_rooms
        if colder == warmer:
            return TemperatureFigure.around(t, warmer)
        return TemperatureFigure(t, max(t - colder, TemperatureFigure.least), t + warmer)

    def told(self) -> ToldSolution:
        """The solution as it is answered."""
        return ToldSolution(
            alkali=self.alkali,
            mass=MassFigure.around(self.mass, self.mass_half_width),
            strength=self.strength,
            temperature=self._told_temperature(),
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
