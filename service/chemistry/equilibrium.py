"""What a given mass of hydroxide, water and heat comes to rest as: liquid, liquid with ice, or boiling liquid.

Enthalpies have the zero of `service.chemistry.enthalpy`. Inert matter (carbonate, chloride) only takes up heat.
Strengths here are those of hydroxide in hydroxide and water, without the inert matter.
"""

from bisect import bisect_right
from itertools import pairwise
from typing import Final, NamedTuple

from service.chemistry import enthalpy as heats
from service.chemistry.enthalpy import START, Strength, at_strength
from service.chemistry.freezing import ICE_LINES, first_solid, ice_line
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import ROUNDING, straight_root
from service.chemistry.vapour_pressure import boiling_point
from service.chemistry.water import COLDEST_ICE, ZERO, ice_enthalpy, ice_temperature, steam_enthalpy

INERT_HEAT_CAPACITY: Final = 1100.0
"""Of what is neither hydroxide nor water in a solid [J/(kg K)] (assumed; sodium carbonate has 1060: 112.3 J/(mol K) in
the CRC Handbook of Chemistry and Physics, read in the package chemicals 1.5.2). At 2 % inert matter 10 % of it moves
0.1 K."""

BEYOND_ICE_LINE: Final = "ice remains, and the freezing points of the liquid are not known so far down"
TOO_COLD: Final = "the mixture is colder than the data on freezing and heat reach"
BOILED_BEYOND_DATA: Final = "so much water boils off that the solution gets stronger than the data reach"

_COLDEST: Final = heats.EXTENDED_RANGE[0]
_TRACE: Final = 1e-12
"""Strength below which there is only water [-] (numerical)."""
_PARTS: Final = 32
"""Into which the ice line is divided between two of its points [-] (numerical)."""
_SCALE: Final = 1e5
"""Heat of a kilogram that a balance is closed against [J/kg] (numerical)."""
_STEAM: Final = 2.0e6
_BEYOND: Final = 1.05
"""Heat that a kilogram of steam takes off at least [J/kg], and by how much more of it is tried first (numerical)."""


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


class _Knot(NamedTuple):
    """Liquid and ice at one place of the ice line."""

    strength: float
    temperature: float
    """°C."""
    liquid: float
    """Enthalpy of the liquid [J/kg]."""
    spread: float
    """Its 95 % half width [J/kg]."""
    ice: float
    """Enthalpy of ice [J/kg]."""


def _ice_knots(alkali: Alkali) -> tuple[_Knot, ...]:
    """The ice line with parts of what lies between two of its points, near enough for heats to be straight between."""
    strengths = ICE_LINES[alkali].strengths
    places = [a + (b - a) * part / _PARTS for a, b in pairwise(strengths) for part in range(_PARTS)]
    found = []
    for w in (*places, strengths[-1]):
        liquid, t = Strength(alkali, w), ice_line(alkali, w)
        found.append(_Knot(w, t, liquid.enthalpy(t), liquid.half_width(t), ice_enthalpy(t)))
    return tuple(found)


_ICE_KNOTS: Final[dict[Alkali, tuple[_Knot, ...]]] = {"NaOH": _ice_knots("NaOH"), "KOH": _ice_knots("KOH")}
_KNOT_STRENGTHS: Final[dict[Alkali, tuple[float, ...]]] = {
    "NaOH": tuple(knot.strength for knot in _ICE_KNOTS["NaOH"]),
    "KOH": tuple(knot.strength for knot in _ICE_KNOTS["KOH"]),
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
    liquid: Strength, amounts: Amounts, heat: float, *, shift: float = 0.0, start: float = START
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
    return liquid.temperature(heat / mass, start, amounts.inert * INERT_HEAT_CAPACITY / mass, shift)


def equilibrium(alkali: Alkali, amounts: Amounts, heat: float, *, shift: float = 0.0, start: float = START) -> State:
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
    start: float = START,
    melted: float | None = None,
) -> State:
    """As `equilibrium`, for a caller that has the enthalpy at the mixture's strength already.

    Args:
        alkali: NaOH or KOH.
        liquid: enthalpy at the strength of hydroxide in hydroxide and water, with all ice melted.
        amounts: masses [kg].
        heat: enthalpy of everything [J].
        shift: as for `liquid_enthalpy` [-].
        start: first guess of the temperature [°C].
        melted: temperature were all of it liquid [°C], as `liquid_temperature` gives it, where that is known already.

    References:
        .. [1] as `equilibrium`.
    """
    w = liquid.mass_fraction
    t = liquid_temperature(liquid, amounts, heat, shift=shift, start=start) if melted is None else melted
    if t >= 0.0:
        return State(t, 0.0, w, None)
    if w <= _TRACE:
        return _water_and_ice(liquid, amounts.water, heat)
    if w <= ICE_LINES[alkali].strengths[-1]:
        freezes = ice_line(alkali, w)
        if t >= freezes:
            return State(t, 0.0, w, None)
        return _with_ice(alkali, liquid, freezes, amounts, heat, shift=shift)
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
    return State(ice_temperature(h), water, 0.0, None)


def _with_ice(
    alkali: Alkali, melted: Strength, freezes: float, amounts: Amounts, heat: float, *, shift: float
) -> State:
    """Liquid on the ice line; its mass closes the heat balance. All `melted`, it is on the line where it `freezes`."""
    hydroxide, mass = amounts.hydroxide, amounts.solution
    inert_heat = amounts.inert * INERT_HEAT_CAPACITY
    knots = _ICE_KNOTS[alkali]

    def missing_at(knot: _Knot) -> float:
        """Heat the mixture would need beyond what it has, were its liquid that of a knot; rises with the liquid."""
        w, t, h, spread, ice = knot
        liquid = hydroxide / w
        return liquid * (h - shift * spread) + (mass - liquid) * ice + inert_heat * (t - ZERO) - heat

    # The line has a knee at every point: halve down to the one piece, in which the balance is nearly straight.
    stronger, missing_least = len(knots) - 1, missing_at(knots[-1])
    if missing_least > 0.0:
        return State(None, None, None, BEYOND_ICE_LINE)
    first = weaker = min(bisect_right(_KNOT_STRENGTHS[alkali], melted.mass_fraction) - 1, stronger - 1)
    missing_most = mass * liquid_enthalpy(melted, freezes, shift) + inert_heat * (freezes - ZERO) - heat
    if missing_most <= 0.0:  # colder than the line by no more than rounding
        return State(freezes, 0.0, melted.mass_fraction, None)
    while stronger - weaker > 1:
        middle = (weaker + stronger) // 2
        value = missing_at(knots[middle])
        if value > 0.0:
            weaker, missing_most = middle, value
        else:
            stronger, missing_least = middle, value
    here, there = knots[weaker], knots[stronger]
    slope = (there.temperature - here.temperature) / (there.strength - here.strength)

    def missing(liquid: float) -> float:
        """As `missing_at`, between the knots, for a mass of liquid."""
        w = hydroxide / liquid
        t = here.temperature + slope * (w - here.strength)
        h = liquid_enthalpy(Strength(alkali, w), t, shift)
        return liquid * h + (mass - liquid) * ice_enthalpy(t) + inert_heat * (t - ZERO) - heat

    least, most = hydroxide / there.strength, mass if weaker == first else hydroxide / here.strength
    liquid = straight_root(missing, (least, missing_least), (most, missing_most), abs(heat) + mass * _SCALE)
    strength = hydroxide / liquid
    t = here.temperature + slope * (strength - here.strength)
    return State(t, max(mass - liquid, 0.0), strength, None)


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
    heat = amounts.inert * INERT_HEAT_CAPACITY * (t - ZERO)
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
        return left * h + away + inert_heat * (temperature - ZERO) - heat

    if most <= 0.0:
        return None
    at_none = excess(0.0)
    if at_none >= 0.0:  # above its boiling point by no more than rounding
        return Boiled(temperature, 0.0, 0.0)
    # Evaporation alone, without the rise of the boiling point, takes off more than is needed.
    guess = min(-_BEYOND * at_none / _STEAM, most)
    at_guess = excess(guess)
    if at_guess < 0.0:
        guess, at_guess = most, excess(most)
        if at_guess < 0.0:
            return None
    steam = straight_root(excess, (0.0, at_none), (guess, at_guess), abs(heat) + (hydroxide + water) * _SCALE)
    excess(steam)
    return Boiled(temperature, steam, steam * steam_enthalpy(temperature))
