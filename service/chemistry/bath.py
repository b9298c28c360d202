"""The heat that a vessel gives to a bath of water around it: through stock, wall and water, one after the other.

Stock and water flow by free convection along the wall, which has their heat go through it; each is taken as on a
vertical plate as high as the stock stands. A bath reaches as high as the stock, its water is on the wall, and partly
under the bottom.

References:
    .. [1] S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329, as in `standing_loss`.
    .. [2] Thermal conductivity of caustic solutions: 0.65 W/(m K) for 50 % NaOH near 30 °C, 0.55 to 0.75 for all
       strengths (from memory, handling guides of caustic soda makers); its spread is within that of `FILM`.
    .. [3] Thermal conductivity of water: a cubic fitted to IAPWS R15-11, evaluated with the package iapws 1.5.5 at
       1 atm and above 99 °C at 0.5 MPa, 0 to 150 °C, to 0.2 %.
"""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from service.chemistry import density, viscosity, water
from service.chemistry.enthalpy import at_strength
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require
from service.chemistry.standing_loss import BOTTOM, GRAVITY, LOWEST_LEVEL, SHAPE, Range, vertical_nusselt

FILM: Final = (1.0, 0.6, 2.0)
"""Of each film's coefficient: scatter of measurements, a stock colder or warmer than its viscosity is known for, and
a jug in place of a plate; to the upper side somebody who stirs [-] (assumed)."""
CONDUCTIVITY: Final = 0.65
"""Of caustic solutions [W/(m K)] [2]_ (from memory)."""
DENSEST: Final = 3.98
"""Temperature at which water is densest [°C] (computed: the maximum of Kell's equation, `service.chemistry.water`)."""
_DENSEST: Final = water.density(DENSEST)
ROUNDS: Final = 5
STEP: Final = 0.7
"""Rounds for the temperatures of the wall, and how much of each is taken: a film's coefficient goes with the quarter
to the third power of what it spans, so that all of it would overshoot by about as much [-] (numerical)."""
ROUNDS_ON: Final = 2
"""Rounds where the points of a way before tell about where they lead to [-] (numerical)."""
_SPAN: Final = (20.0, 60.0)
"""Temperatures that the expansion of a stock is taken between [°C] (assumed: a stock cools over about as much)."""


class Stock(NamedTuple):
    """Contents of a vessel, as far as they flow along its wall."""

    alkali: Alkali
    w: float
    """Mass fraction of hydroxide [-]."""


class Bathed(NamedTuple):
    """A filled vessel that stands in water up to the level of its contents."""

    diameter: float
    """Inner diameter [m]."""
    level: float
    """How high contents and bath stand [m]."""
    wall_resistance: Range
    """Thickness over conductivity of the wall: value, lower and upper limit [m2 K/W]."""
    shape_known: bool
    """Whether the diameter is known; where it is not, more surface is reckoned with at the upper end."""


class Films(NamedTuple):
    """What the heat goes through."""

    inside: float
    """Coefficient of the stock's film [W/(m2 K)]."""
    outside: float
    """That of the water's [W/(m2 K)]."""
    wall_inside: float
    """Temperature of the wall on the stock's side that they were reckoned with [°C]."""
    wall_outside: float
    """On the water's [°C]."""


class _Spans(NamedTuple):
    """Shares of the difference of temperatures that the films span [-], where their search begins (numerical).

    To begin with, the stock is the thicker liquid.
    """

    of_stock: float = 0.6
    of_water: float = 0.3

    def after(self, now: "_Spans") -> "_Spans":
        """Where these and those of the next point lead to; both films together span no more than there is."""
        of_stock = min(max(2.0 * now.of_stock - self.of_stock, 0.0), 1.0)
        return _Spans(of_stock, min(max(2.0 * now.of_water - self.of_water, 0.0), 1.0 - of_stock))


def water_conductivity(t: float) -> float:
    """Thermal conductivity of liquid water [W/(m K)], to 0.2 %.

    Args:
        t: temperature [°C], 0 to 150.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] IAPWS R15-11, as the module says (computed).

    Examples:
        >>> round(water_conductivity(20.0), 3)
        0.597
    """
    require("temperature", t, 0.0, 150.0, "the conductivity of water was fitted there")
    return 0.5563 + (2.316e-3 - (1.3556e-5 - 2.4636e-8 * t) * t) * t


def film_coefficient(
    height: float, buoyancy: float, kinematic_viscosity: float, conductivity: float, volumetric_heat: float
) -> float:
    """Coefficient of free convection of a liquid along a vertical wall [W/(m2 K)].

    Args:
        height: of the wall, above 0 [m].
        buoyancy: relative difference of the densities at the wall and away from it, at least 0 [-].
        kinematic_viscosity: of the liquid between them, above 0 [m2/s].
        conductivity: its thermal conductivity, above 0 [W/(m K)].
        volumetric_heat: its density times heat capacity, above 0 [J/(m3 K)].

    Raises:
        OutOfRange: an argument is outside its range.

    References:
        .. [1] Churchill and Chu 1975.
    """
    require("buoyancy", buoyancy, 0.0, math.inf, "a difference of densities has a size")
    if not min(height, kinematic_viscosity, conductivity, volumetric_heat) > 0.0:
        raise OutOfRange("height", height, 0.0, math.inf, "a wall and a liquid have sizes")
    diffusivity = conductivity / volumetric_heat
    rayleigh = GRAVITY * buoyancy * height**3 / (kinematic_viscosity * diffusivity)
    return vertical_nusselt(rayleigh, kinematic_viscosity / diffusivity) * conductivity / height


def water_film(height: float, wall: float, bath: float, away: float | None = None) -> float:
    """Coefficient of free convection from a wall to a bath of water [W/(m2 K)].

    Near 4 °C, where water is densest, it sinks and rises beside the same wall: both ways count.

    Args:
        height: of the wall, above 0 [m].
        wall: temperature of its surface, 0 to 150 [°C].
        bath: that of the water, 0 to 150 [°C].
        away: the density of that [kg/m3], where it was reckoned before.

    Raises:
        OutOfRange: an argument is outside its range.

    References:
        .. [1] the module's; density by Kell 1975.
    """
    film = 0.5 * (wall + bath)
    away = water.density(bath) if away is None else away
    at_wall, between = water.density(wall), water.density(film)
    apart = abs(away - at_wall)
    if min(wall, bath) < DENSEST < max(wall, bath):
        apart = 2.0 * _DENSEST - at_wall - away
    return film_coefficient(
        height,
        apart / between,
        water.viscosity_beyond(film) / between,
        water_conductivity(film),
        between * water.heat_capacity(film),
    )


def stock_film(height: float, stock: Stock, t: float, wall: float) -> float:
    """Coefficient of free convection from a stock to the wall of its vessel [W/(m2 K)].

    Where the viscosity is not known (NaOH below 12.5 and above 70 °C, KOH below −14 and above 40 °C), that at the
    nearest temperature is taken; the limits in `FILM` allow for it. The density is taken as linear between both.

    Args:
        height: of the wall that it wets, above 0 [m].
        stock: what it is.
        t: its temperature [°C].
        wall: that of the wall [°C].

    Raises:
        OutOfRange: the strength is beyond the densities or the viscosities.

    References:
        .. [1] the module's; `service.chemistry.viscosity`, `density` and `enthalpy`.
    """
    film = 0.5 * (t + wall)
    alkali, w = stock
    lowest, highest = viscosity.RANGE[alkali]
    rho = density.density(alkali, w, min(max(film, 0.0), density.HIGHEST_TEMPERATURE[alkali]))
    return film_coefficient(
        height,
        _expansion(alkali, w) * abs(t - wall),
        viscosity.viscosity(alkali, w, min(max(film, lowest), highest)) / rho,
        CONDUCTIVITY,
        rho * at_strength(alkali, w).heat_capacity(film),
    )


@lru_cache(maxsize=256)
def _expansion(alkali: Alkali, w: float) -> float:
    """Relative expansion of a stock between 20 and 60 °C [1/K]."""
    cold, warm = (density.density(alkali, w, t) for t in _SPAN)
    return 2.0 * (cold - warm) / (cold + warm) / (_SPAN[1] - _SPAN[0])


def films(vessel: Bathed, stock: Stock, t: float, bath: float) -> Films:
    """Coefficients on both sides of a vessel's wall, and the temperatures of the wall that they belong to.

    Args:
        vessel: the vessel.
        stock: what it holds.
        t: temperature of the stock [°C].
        bath: that of the water, 0 to 150 and not above t [°C].

    Raises:
        OutOfRange: an argument is outside its range.

    References:
        .. [1] the module's: in series, the films' temperatures found in rounds.
    """
    return _films(vessel, stock, (t, bath), _Spans(), ROUNDS)[0]


def _films(vessel: Bathed, stock: Stock, both: tuple[float, float], spans: _Spans, rounds: int) -> tuple[Films, _Spans]:
    """The films with stock and bath of two temperatures, and what they span."""
    t, bath = both
    height = max(vessel.level, LOWEST_LEVEL)
    apart, away = t - bath, water.density(bath)
    of_stock, of_water = spans
    for _ in range(rounds):
        inner, outer = t - of_stock * apart, bath + of_water * apart
        inside, outside = stock_film(height, stock, t, inner), water_film(height, outer, bath, away)
        through = 1.0 / (1.0 / inside + vessel.wall_resistance[0] + 1.0 / outside)
        of_stock += STEP * (through / inside - of_stock)
        of_water += STEP * (through / outside - of_water)
    return Films(inside, outside, inner, outer), _Spans(of_stock, of_water)


def bath_losses(vessel: Bathed, stock: Stock, temperatures: Sequence[float], baths: Sequence[float]) -> list[Range]:
    """Heat that goes to a bath of water [W] at each point of a way: value, lower and upper limit.

    Args:
        vessel: the vessel.
        stock: what it holds.
        temperatures: of the stock at each point, in their order [°C].
        baths: of the water, as many, 0 to 150 and not above those [°C].

    Raises:
        OutOfRange: an argument is outside its range.

    References:
        .. [1] the module's; from the third point on the wall's temperature is sought from where those before lead to.
    """
    areas = [wetted_area(vessel, which) for which in range(3)]
    losses: list[Range] = []
    spans, before, rounds = _Spans(), None, ROUNDS
    for both in zip(temperatures, baths, strict=True):
        found, now = _films(vessel, stock, both, spans, rounds)
        value, one, other = (coefficient(vessel, found, i) * areas[i] * (both[0] - both[1]) for i in range(3))
        losses.append((value, min(value, one), max(value, other)))
        spans, before, rounds = before.after(now) if before else now, now, ROUNDS_ON
    return losses


def coefficient(vessel: Bathed, found: Films, which: int) -> float:
    """Coefficient from stock to bath, through films and wall [W/(m2 K)].

    Args:
        vessel: the vessel.
        found: both films.
        which: 0 for the value, 1 and 2 for the lower and upper limit [1].

    References:
        .. [1] resistances one after the other add up.
    """
    scale = FILM[which]
    wall = vessel.wall_resistance[(0, 2, 1)[which]]
    return 1.0 / (1.0 / (scale * found.inside) + wall + 1.0 / (scale * found.outside))


def wetted_area(vessel: Bathed, which: int) -> float:
    """Wall and bottom in the water [m2].

    Args:
        vessel: the vessel.
        which: 0 for the value, 1 and 2 for the lower and upper limit [1].

    References:
        .. [1] a cylinder; the bottom as in `standing_loss`.
    """
    disc = math.pi * vessel.diameter**2 / 4.0
    area = SHAPE if which == 2 and not vessel.shape_known else 1.0
    return area * (math.pi * vessel.diameter * vessel.level + BOTTOM[which] * disc)
