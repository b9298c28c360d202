"""What goes into a mixing and what comes of it."""

from typing import NamedTuple

from service.chemistry.molar_masses import Alkali


class Solid(NamedTuple):
    """Solid hydroxide as it is weighed."""

    alkali: Alkali
    mass_as_supplied: float
    """kg."""
    temperature: float = 25.0
    """[°C] (assumed, a room)."""
    purity: float = 1.0
    """Mass fraction of hydroxide."""
    moisture: float = 0.0
    """Mass fraction of water, bound as monohydrate. What is neither is inert."""


class Water(NamedTuple):
    """Liquid water in the vessel."""

    mass: float
    """kg."""
    temperature: float
    """°C."""


class Ice(NamedTuple):
    """Ice in the vessel."""

    mass: float
    """kg, with the part that has melted."""
    temperature: float = 0.0
    """°C, of the part not melted."""
    melted_share: float = 0.0
    """Mass fraction that is water at 0 °C already."""


class Stock(NamedTuple):
    """Solution of the same alkali in the vessel."""

    mass: float
    """kg."""
    mass_fraction: float
    temperature: float
    """°C."""


class Charge(NamedTuple):
    """What is in the vessel before the solid."""

    water: Water | None = None
    ice: Ice | None = None
    stock: Stock | None = None


class PathPoint(NamedTuple):
    """The vessel after a share of the solid."""

    solid_added_share: float
    mass_fraction: float
    """Hydroxide per mass of everything in the vessel, ice and inert matter included."""
    liquid_mass_fraction: float | None
    """Hydroxide per mass of the liquid with its inert matter, without ice; None where not known."""
    temperature: float | None
    """°C; None where the data do not reach."""
    boiling_point: float | None
    """°C, of the liquid; of all melted where the liquid's strength is not known; None where it was not asked for."""
    ice_mass: float | None
    """kg; None where the data do not reach."""
    water_boiled_off: float
    """kg, so far."""
    supercooled: bool
    """True where a hydrate would crystallise in time; the temperature is that of the liquid that has not."""
    reason: str | None
    """Why something is None."""


class Balance(NamedTuple):
    """Heat at the end [J]: contents + solid = remaining + steam + lost."""

    contents: float
    solid: float
    remaining: float | None
    """Of what is left in the vessel, from its state; None where that is not known."""
    steam: float
    lost: float


class Mixing(NamedTuple):
    """The outcome of `mix`."""

    path: tuple[PathPoint, ...]
    mass: float
    """kg left in the vessel."""
    mass_fraction: float
    """Hydroxide per mass left in the vessel."""
    solution_strength: float
    """Hydroxide in hydroxide and water only, without inert matter."""
    temperature: float | None
    """°C at the end, boiling and losses counted."""
    peak_temperature: float | None
    """°C, highest along the path, capped by boiling; None where no temperature is known."""
    peak_share: float | None
    """Share of the solid added at the peak."""
    adiabatic_temperature: float | None
    """°C of the finished mix with nothing lost and without boiling; None where unknown or above 200 °C."""
    boils: bool
    boiling_margin: float | None
    """K, least distance of the path from boiling, had no steam left; negative where it boils, None where unknown or not
    asked for."""
    boiling_margin_share: float | None
    water_boiled_off: float
    """kg."""
    ice_left: float | None
    """kg at the end; None where the data do not reach."""
    heat_released: float
    """J, heat of dissolving and diluting at 25 °C, bound water counted; positive = given off."""
    heat_lost: float
    """J."""
    balance: Balance
    beyond_data: str | None
    """Set where boiling led beyond the data: then peak and water boiled off are lower bounds."""
