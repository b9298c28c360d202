"""What a given mass of hydroxide, water and heat comes to rest as: liquid, liquid with ice, or boiling liquid.

Enthalpies have the zero of `service.chemistry.enthalpy`. Inert matter (carbonate, chloride) only takes up heat.
Strengths here are those of hydroxide in hydroxide and water, without the inert matter.
"""

import math
from bisect import bisect_right
from collections.abc import Callable
from typing import Final, NamedTuple

from service.chemistry import enthalpy as heats
from service.chemistry.enthalpy import Strength, at_strength
from service.chemistry.freezing import ICE_LINES, first_solid, ice_line
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import ROUNDING
from service.chemistry.vapour_pressure import boiling_point
from service.chemistry.water import COLDEST_ICE, ice_enthalpy, steam_enthalpy

INERT_HEAT_CAPACITY: Final = 1100.0
"""J/(kg K), assumed for what is neither hydroxide nor water in a solid; sodium carbonate has about 1060
(CRC Handbook of Chemistry and Physics, from memory). At 2 % inert matter 10 % of it moves 0.1 K."""

BEYOND_ICE_LINE: Final = "ice remains, and the freezing points of the liquid are not known so far down"
TOO_COLD: Final = "the mixture is colder than the data on freezing and heat reach"
BOILED_BEYOND_DATA: Final = "so much water boils off that the solution gets stronger than the data reach"

_COLDEST: Final = heats.EXTENDED_RANGE[0]
_TRACE: Final = 1e-12  # strength below which there is only water
_CLOSED: Final = 1e-13  # relative residual at which a heat balance counts as closed


class Amounts(NamedTuple):
    """Masses of a mixture [kg]."""

    hydroxide: float
    water: float
    """Liquid and ice."""
    inert: float = 0.0

    @property
    def solution(self) -> float:
        """Hydroxide and water [kg]."""
        return self.hydroxide + self.water

    @property
    def total(self) -> float:
        """Everything [kg]."""
        return self.hydroxide + self.water + self.inert

    @property
    def strength(self) -> float:
        """Hydroxide in hydroxide and water [-]."""
        return self.hydroxide / (self.hydroxide + self.water)


class State(NamedTuple):
    """A mixture at rest."""

    temperature: float | None
    """°C; None where the data do not reach."""
    ice_mass: float | None
    """kg; None where the data do not reach."""
    strength: float | None
    """Mass fraction of hydroxide in hydroxide and liquid water; None where the data do not reach."""
    reason: str | None
    """Why something is None."""


class Boiled(NamedTuple):
    """A solution that has boiled down until it is just at its boiling point."""

    temperature: float
    """°C."""
    steam_mass: float
    """kg of water that left."""
    steam_enthalpy: float
    """J that left with it."""


def _ice_knots(alkali: Alkali) -> tuple[tuple[float, float, float, float, float], ...]:
    """Strength, temperature, enthalpy of the liquid, its half width and enthalpy of ice at the ice line's knots."""
    found = []
    for w, t in zip(*ICE_LINES[alkali], strict=True):
        liquid = Strength(alkali, w)
        found.append((w, t, liquid.enthalpy(t), liquid.half_width(t), ice_enthalpy(t)))
    return tuple(found)


_ICE_KNOTS: Final[dict[Alkali, tuple[tuple[float, float, float, float, float], ...]]] = {
    "NaOH": _ice_knots("NaOH"),
    "KOH": _ice_knots("KOH"),
}


def liquid_enthalpy(liquid: Strength, t: float, shift: float = 0.0) -> float:
    """Enthalpy of the solution [J/kg], lowered by `shift` half widths of its 95 % interval.

    Args:
        liquid: the solution.
        t: temperature [°C].
        shift: how many half widths more heat the solution gives off than the data say [-]; +1 makes mixtures
            hotter, −1 cooler, to the ends of the 95 % interval.

    References:
        .. [1] as `service.chemistry.enthalpy.enthalpy_half_width`.
    """
    h = liquid.enthalpy(t)
    return h - shift * liquid.half_width(t) if shift else h


def liquid_temperature(
    liquid: Strength, amounts: Amounts, heat: float, *, shift: float = 0.0, start: float = 60.0
) -> float:
    """Temperature [°C] of a mixture that is all liquid, boiling or not.

    The result is not held to any range: outside −28 to 200 °C it only tells that the mixture is colder or hotter.

    Args:
        liquid: the solution at the strength of the amounts.
        amounts: masses [kg].
        heat: enthalpy of everything [J].
        shift: as for `liquid_enthalpy` [-].
        start: first guess [°C].

    References:
        .. [1] balance of enthalpies.
    """
    mass = amounts.solution
    if not amounts.inert and not shift:
        return liquid.temperature(heat / mass, start)
    return liquid.balanced(heat / mass, amounts.inert * INERT_HEAT_CAPACITY / mass, shift, start)


def equilibrium(alkali: Alkali, amounts: Amounts, heat: float, *, shift: float = 0.0, start: float = 60.0) -> State:
    """State of a mixture of hydroxide and water with this enthalpy: liquid, or liquid with ice.

    Liquid above its boiling point is not cooled here; see `boil_down`. Where a hydrate would crystallise the
    liquid is taken as supercooled. Ice with a liquid stronger than the ice line's last point is not guessed.

    Args:
        alkali: NaOH or KOH.
        amounts: masses [kg].
        heat: enthalpy of everything [J].
        shift: as for `liquid_enthalpy` [-].
        start: first guess of the temperature [°C].

    Raises:
        OutOfRange: the mixture is stronger than the heats of `service.chemistry.enthalpy` reach.

    References:
        .. [1] balance of masses and enthalpies on the ice line of `service.chemistry.freezing.ice_line`.
    """
    return settle(alkali, at_strength(alkali, amounts.strength), amounts, heat, shift=shift, start=start)


def settle(
    alkali: Alkali,
    liquid: Strength,
    amounts: Amounts,
    heat: float,
    *,
    shift: float = 0.0,
    start: float = 60.0,
) -> State:
    """As `equilibrium`, for a caller that has the enthalpy at the mixture's strength already.

    Args:
        alkali: NaOH or KOH.
        liquid: enthalpy at the strength of hydroxide in hydroxide and water, with all ice melted.
        amounts: masses [kg].
        heat: enthalpy of everything [J].
        shift: as for `liquid_enthalpy` [-].
        start: first guess of the temperature [°C].

    References:
        .. [1] as `equilibrium`.
    """
    w = liquid.mass_fraction
    t = liquid_temperature(liquid, amounts, heat, shift=shift, start=start)
    if t >= 0.0:
        return State(t, 0.0, w, None)
    if w <= _TRACE:
        return _water_and_ice(liquid, amounts.water, heat)
    if w <= ICE_LINES[alkali].strengths[-1]:
        if t >= ice_line(alkali, w):
            return State(t, 0.0, w, None)
        return _with_ice(alkali, amounts, heat, shift)
    # Warmer than the upper limit of an uncertain freezing point there is certainly no ice.
    solid = first_solid(alkali, w)
    ice_first = solid.solid == "ice"
    coldest = max(_COLDEST, solid.high) if ice_first else _COLDEST
    if t >= coldest:
        return State(t, 0.0, w, None)
    return State(None, None, None, BEYOND_ICE_LINE if ice_first else TOO_COLD)


def _water_and_ice(liquid: Strength, water: float, heat: float) -> State:
    """Pure water below 0 °C: ice and water at 0 °C, or ice alone."""
    melted, frozen = liquid.enthalpy(0.0), ice_enthalpy(0.0)
    h = heat / water
    if h >= frozen:
        return State(0.0, water * (melted - h) / (melted - frozen), 0.0, None)
    if h < ice_enthalpy(COLDEST_ICE):
        return State(None, None, None, TOO_COLD)
    low, high = COLDEST_ICE, 0.0
    t = _false_position(lambda x: ice_enthalpy(x) - h, (low, ice_enthalpy(low) - h), (high, frozen - h), abs(h))
    return State(t, water, 0.0, None)


def _with_ice(alkali: Alkali, amounts: Amounts, heat: float, shift: float) -> State:
    """Liquid on the ice line; its mass closes the heat balance."""
    strengths = ICE_LINES[alkali].strengths
    hydroxide, mass = amounts.hydroxide, amounts.solution
    inert_heat = amounts.inert * INERT_HEAT_CAPACITY

    def missing(liquid: float) -> float:
        """Heat the mixture would need beyond what it has, were so much of it liquid; rises with the liquid."""
        strength = hydroxide / liquid
        t = ice_line(alkali, strength)
        h = liquid_enthalpy(Strength(alkali, strength), t, shift)
        return liquid * h + (mass - liquid) * ice_enthalpy(t) + inert_heat * (t - 25.0) - heat

    knots = _ICE_KNOTS[alkali]

    def missing_at(i: int) -> float:
        _, t, h, spread, ice = knots[i]
        liquid = hydroxide / strengths[i]
        return liquid * (h - shift * spread) + (mass - liquid) * ice + inert_heat * (t - 25.0) - heat

    # The line has a knee at every knot: halve down to the one piece, in which the balance is nearly straight.
    stronger, missing_least = len(strengths) - 1, missing_at(len(strengths) - 1)
    if missing_least > 0.0:
        return State(None, None, None, BEYOND_ICE_LINE)
    weaker, missing_most = bisect_right(strengths, amounts.strength) - 1, math.nan
    first = weaker
    while stronger - weaker > 1:
        middle = (weaker + stronger) // 2
        value = missing_at(middle)
        if value > 0.0:
            weaker, missing_most = middle, value
        else:
            stronger, missing_least = middle, value
    # By rounding hydroxide / (hydroxide / w) may lie beyond the last strength w.
    least = hydroxide / strengths[stronger] * (1.0 + 1e-15)
    if weaker == first:
        most, missing_most = mass, missing(mass)
    else:
        most = hydroxide / strengths[weaker]
    liquid = _false_position(missing, (least, missing_least), (most, missing_most), abs(heat) + mass * 1e5)
    strength = hydroxide / liquid
    return State(ice_line(alkali, strength), max(mass - liquid, 0.0), strength, None)


def state_enthalpy(alkali: Alkali, amounts: Amounts, state: State, *, shift: float = 0.0) -> float | None:
    """Enthalpy of a mixture in this state [J], or None where the state is not known.

    Args:
        alkali: NaOH or KOH.
        amounts: masses [kg].
        state: its state.
        shift: as for `liquid_enthalpy` [-].

    References:
        .. [1] as `equilibrium`.
    """
    t, ice, strength, _ = state
    if t is None or ice is None or strength is None:
        return None
    heat = amounts.inert * INERT_HEAT_CAPACITY * (t - 25.0)
    if ice:
        heat += ice * ice_enthalpy(t)
    liquid = amounts.solution - ice
    if liquid > 0.0:
        heat += liquid * liquid_enthalpy(at_strength(alkali, strength), t, shift)
    return heat


def boil_down(alkali: Alkali, amounts: Amounts, heat: float, *, shift: float = 0.0) -> Boiled | None:
    """Let a mixture hotter than its boiling point at 1 atm give off steam until it is just at it.

    Steam leaves at the boiling point of the solution that is left. The boiling point rises on the way.

    Args:
        alkali: NaOH or KOH.
        amounts: masses [kg].
        heat: enthalpy of everything [J].
        shift: as for `liquid_enthalpy` [-].

    Returns:
        The state, or None where the solution would get stronger than the data reach.

    References:
        .. [1] balance of masses and enthalpies, with the boiling points of `service.chemistry.vapour_pressure`.
    """
    hydroxide, water, inert = amounts
    inert_heat = inert * INERT_HEAT_CAPACITY
    highest = heats.HIGHEST_MASS_FRACTION[alkali]
    most = water - hydroxide * (1.0 - highest) / highest - ROUNDING * (hydroxide + water)
    temperature = 0.0

    def excess(steam: float) -> float:
        """Heat wanted beyond what there is, had so much steam left; rises with steam."""
        nonlocal temperature
        left = hydroxide + water - steam
        w = hydroxide / left
        temperature = boiling_point(alkali, w)
        h = liquid_enthalpy(Strength(alkali, w), temperature, shift)
        away = steam * steam_enthalpy(temperature)
        return left * h + away + inert_heat * (temperature - 25.0) - heat

    if most <= 0.0:
        return None
    at_none = excess(0.0)
    # Evaporation alone, without the rise of the boiling point, takes off more than is needed.
    guess = min(-1.05 * at_none / 2.0e6, most)
    at_guess = excess(guess)
    if at_guess < 0.0:
        guess, at_guess = most, excess(most)
        if at_guess < 0.0:
            return None
    steam = _false_position(excess, (0.0, at_none), (guess, at_guess), abs(heat) + (hydroxide + water) * 1e5)
    excess(steam)
    return Boiled(temperature, steam, steam * steam_enthalpy(temperature))


def _false_position(
    function: Callable[[float], float], left: tuple[float, float], right: tuple[float, float], scale: float
) -> float:
    """Root between a and b, where the signs differ, to a residual of 1e-13 of `scale` (Illinois method)."""
    (a, fa), (b, fb) = left, right
    for _ in range(200):
        x = b - fb * (b - a) / (fb - fa) if fb != fa else b
        fx = function(x)
        if abs(fx) <= _CLOSED * scale:
            return x
        if (fx < 0.0) != (fb < 0.0):
            a, fa = b, fb
        else:
            fa *= 0.5
        b, fb = x, fx
    return b
