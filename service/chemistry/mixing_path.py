"""The way of a mixing: what is in the vessel after each share of the solid, and what has left it."""

from collections.abc import Callable
from math import inf
from typing import Final

from service.chemistry import enthalpy as heats
from service.chemistry import water as waters
from service.chemistry.enthalpy import Strength, at_strength
from service.chemistry.equilibrium import (
    BOILED_BEYOND_DATA,
    INERT_HEAT_CAPACITY,
    Amounts,
    State,
    boil_down,
    liquid_enthalpy,
    liquid_temperature,
    settle,
)
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import HIGHEST_MASS_FRACTION as FROZEN_UP_TO
from service.chemistry.freezing import first_solid
from service.chemistry.mixing_records import Charge, PathPoint, Solid
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width
from service.chemistry.water import ZERO

HIGHEST_TEMPERATURE: Final = heats.EXTENDED_RANGE[1]
"""Above which not even an adiabatic temperature is stated [°C]."""
NEVER_BOILS: Final = 95.0
"""Below it nothing boils at 1 atm, even by the lower end of its boiling point: that is lowest, 99.6 °C, for water [°C]
(computed, and rounded down)."""
FINISHED: Final = 100.0
"""Where the search for the temperature of a finished mix begins [°C] (numerical)."""
_PARABOLAS: Final = 5
"""Most parabolas that a summit is sought with [-] (numerical)."""
_LEVEL: Final = 1e-5
"""Rise of a parabola over its middle [K] below which no place is asked for any more (numerical)."""
_BINS: Final = 20
_PLACES: Final = 50
"""Parts of the mass fractions, and places in each, that freezing points are looked up at [-] (numerical)."""
_FARTHEST: Final = 10.0
"""What the first guess of a temperature goes at most between two points of a path [K] (numerical)."""


def _warmest(alkali: Alkali) -> tuple[float, ...]:
    """What no first solid appears above [°C], for each twentieth of the mass fraction; what is warmer is not asked."""
    top = FROZEN_UP_TO[alkali]
    places = range(_BINS + 1)
    return tuple(
        max(first_solid(alkali, min((place + part / _PLACES) / _BINS, top)).temperature for part in range(_PLACES + 1))
        + 1.0
        for place in places
    )


_WARMEST_FIRST_SOLID: Final[dict[Alkali, tuple[float, ...]]] = {"NaOH": _warmest("NaOH"), "KOH": _warmest("KOH")}


class Vessel:
    """Masses and heats of one mixing, as functions of the share of solid added."""

    def __init__(self, solid: Solid, contents: Charge, shift: float) -> None:
        alkali = solid.alkali
        self.alkali, self.shift = alkali, shift
        self.hydroxide_before = self.water_before = self.heat_before = self.released_before = 0.0
        if contents.water:
            _require_mass("water", contents.water.mass)
            self.water_before += contents.water.mass
            self.heat_before += contents.water.mass * waters.enthalpy(contents.water.temperature)
        if contents.ice:
            mass, t, melted = contents.ice
            _require_mass("ice", mass)
            require("melted_share", melted, 0.0, 1.0, "a share of the ice")
            self.water_before += mass
            h = melted * waters.enthalpy(0.0) + (1.0 - melted) * waters.ice_enthalpy(t)
            self.heat_before += mass * h
        if contents.stock:
            mass, w, t = contents.stock
            _require_mass("stock", mass)
            require("temperature", t, *heats.EXTENDED_RANGE, "heats of solutions reach no further")
            liquid = at_strength(alkali, w)
            self.hydroxide_before = mass * w
            self.water_before += mass * (1.0 - w)
            self.heat_before += mass * liquid_enthalpy(liquid, t, shift)
            self.released_before = mass * liquid.at_25
        mass, t, purity, moisture = solid[1:]
        _require_mass("solid", mass)
        require("purity", purity, 1e-6, 1.0, "a solid without hydroxide is none")
        highest = min(1.0 - purity, heats.BOUND_WATER_LIMIT[alkali] * purity)
        why = "it binds no more than one water per hydroxide, and with the purity cannot exceed the whole"
        require("moisture", moisture, 0.0, highest + 1e-12, why)
        inert_share = max(1.0 - purity - moisture, 0.0)
        self.hydroxide_added, self.water_added = mass * purity, mass * moisture
        self.inert_added = mass * inert_share
        # The heat capacity of the monohydrates per mass is that of the hydroxides within a tenth.
        sensible = (purity + moisture) * heats.solid_enthalpy(alkali, t)
        sensible += inert_share * INERT_HEAT_CAPACITY * (t - ZERO)
        self.bound = mass * moisture * heats.hydrate_enthalpy(alkali)
        self.heat_added = mass * sensible + self.bound
        self.solution_before = self.hydroxide_before + self.water_before
        self.solution_added = self.hydroxide_added + self.water_added
        self.inert_heat = self.inert_added * INERT_HEAT_CAPACITY
        if self.solution_before <= 0.0:
            raise OutOfRange("contents", 0.0, 1e-9, 1e9, "there must be water, ice or stock in the vessel")

    def masses(self, share: float) -> Amounts:
        """Masses [kg], with no steam gone.

        Args:
            share: share of the solid that is in [-], 0 to 1.
        """
        return Amounts(
            self.hydroxide_before + share * self.hydroxide_added,
            self.water_before + share * self.water_added,
            share * self.inert_added,
        )

    def liquid(self, share: float) -> Strength:
        """Enthalpy of the liquid with all ice melted and no steam gone.

        Args:
            share: share of the solid that is in [-], 0 to 1.
        """
        hydroxide = self.hydroxide_before + share * self.hydroxide_added
        return at_strength(self.alkali, hydroxide / (self.solution_before + share * self.solution_added))

    def heat(self, share: float) -> float:
        """Enthalpy put in [J].

        Args:
            share: share of the solid that is in [-], 0 to 1.
        """
        return self.heat_before + share * self.heat_added

    def released(self, share: float, liquid: Strength) -> float:
        """Heat of dissolving and diluting at 25 °C so far [J], positive where given off.

        Args:
            share: share of the solid that is in [-], 0 to 1.
            liquid: what `liquid` gives for that share.
        """
        solution = self.solution_before + share * self.solution_added
        return self.released_before + share * self.bound - solution * liquid.at_25

    def temperature(self, share: float, liquid: Strength, start: float, lost: float = 0.0) -> float:
        """Temperature were all ice melted and no steam gone [°C], held to no range as `liquid_temperature`.

        Args:
            share: share of the solid that is in [-], 0 to 1.
            liquid: what `liquid` gives for that share.
            start: first guess [°C].
            lost: heat lost so far [J].
        """
        solution = self.solution_before + share * self.solution_added
        heat = self.heat_before + share * self.heat_added - lost
        return liquid.temperature(heat / solution, start, share * self.inert_heat / solution, self.shift)


def _require_mass(name: str, mass: float) -> None:
    require(name, mass, 0.0, 1e9, "a mass is not negative")


def vertex(x: float, step: float, before: float, here: float, after: float) -> tuple[float, float]:
    """Place and height of the vertex of the parabola through three equally spaced points.

    Args:
        x: place of the middle one [its own unit].
        step: distance of the points [unit of x].
        before: height of the first [its own unit].
        here: height of the middle one [unit of the heights].
        after: height of the last [unit of the heights].

    References:
        .. [1] geometry of the parabola.
    """
    bend = before - 2.0 * here + after
    if bend == 0.0:
        return x, here
    offset = 0.5 * (before - after) / bend
    return x + offset * step, here - (before - after) * offset / 4.0


def summit(
    height: Callable[[float], float], places: tuple[float, float, float], around: tuple[float, float, float]
) -> tuple[float, float]:
    """Highest place near three points, and how high it is: by ever closer parabolas.

    Two or three of them find most peaks to 0.001 K, however far apart the points of a path are. Of random meetings of
    parts, whose curves are no parabolas, some were up to 0.012 K hotter than what is found; 0.02 K is tested. Only
    heights that were asked for are answered, so that none is higher than the curve.

    Args:
        height: the curve [its own unit, of x].
        places: the three, each above the one before, between 0 and 1 [-].
        around: heights of the three [unit of the heights].

    References:
        .. [1] geometry of the parabola.
    """
    (a, b, c), (at_a, at_b, at_c) = places, around
    best = max((at_b, b), (at_a, a), (at_c, c))
    for turn in range(_PARABOLAS):
        left, right = (at_b - at_a) / (b - a), (at_c - at_b) / (c - b)
        bend = (right - left) / (c - a)
        if bend == 0.0:
            break
        place = 0.5 * (a + b - left / bend)
        rise = -bend * (place - b) ** 2
        if not (a < place < c and 0.0 < place < 1.0) or place == b or (turn and rise < _LEVEL):
            break
        here = height(place)
        best = max(best, (here, place))
        # The higher of the two is the middle of the next.
        if (here >= at_b) == (place > b):
            a, at_a = (b, at_b) if here >= at_b else (place, here)
        else:
            c, at_c = (b, at_b) if here >= at_b else (place, here)
        if here >= at_b:
            b, at_b = place, here
    return best[1], best[0]


class Walk:
    """Goes along the path and carries what has left the vessel: steam and lost heat."""

    def __init__(
        self, vessel: Vessel, loss_per_heat: float, boiling_shift: float | None = 0.0, *, boiling_told: bool = True
    ) -> None:
        self.vessel = vessel
        self.boiling_told = boiling_told
        self.clear = -inf if boiling_told else NEVER_BOILS
        """Below this no boiling point is asked for [°C]."""
        self.boiling_shift = boiling_shift
        self.loss_per_heat = loss_per_heat
        self.steam = self.steam_heat = self.lost = 0.0
        self.boils = False
        self.beyond_data: str | None = None
        self.margins: list[tuple[float, float] | None] = []
        self.guess = ZERO
        self.melted: tuple[float, float, float] | None = None
        """Temperatures of the last three points, the last first, were all ice melted and no steam gone [°C]."""
        self.state = State(None, None, None, None)

    def lost_by(self, share: float, liquid: Strength) -> float:
        """Heat lost so far [J].

        Args:
            share: share of the solid that is in [-], 0 to 1.
            liquid: what `Vessel.liquid` gives for that share.
        """
        if not self.loss_per_heat:
            return 0.0
        return self.loss_per_heat * max(self.vessel.released(share, liquid), 0.0)

    def step(self, share: float) -> PathPoint:
        """Go on to this share of the solid.

        Args:
            share: share of the solid that is in [-], 0 to 1.
        """
        vessel = self.vessel
        alkali, shift = vessel.alkali, vessel.shift
        amounts = vessel.masses(share)
        # Weaker than the start or the end, whose strengths the vessel has been asked for.
        whole = liquid = Strength(alkali, amounts.strength)
        if self.loss_per_heat:
            # Diluting further may take heat up again; what is lost does not come back.
            self.lost = max(self.lost, self.lost_by(share, whole))
        t = self._melted(share, whole)
        heat = vessel.heat(share) - self.lost
        if not self.steam and t < max(self.clear, 0.0):
            return self._cool(share, whole, amounts, heat, t)
        boiling = boiling_point(alkali, whole.mass_fraction)
        self._margin(share, whole, boiling, t)
        if not self.steam and t <= boiling:  # as for most points: all liquid, and no steam
            self.guess = t
            return self._point(share, State(t, 0.0, whole.mass_fraction, None), amounts, boiling)
        if self.steam:
            amounts = Amounts(amounts.hydroxide, amounts.water - self.steam, amounts.inert)
            heat -= self.steam_heat
            if self.beyond_data or amounts.strength > heats.HIGHEST_MASS_FRACTION[alkali]:
                return self._beyond(share, amounts, boiling)
            liquid = Strength(alkali, amounts.strength)
            boiling = boiling_point(alkali, liquid.mass_fraction)
            t = liquid_temperature(liquid, amounts, heat, shift=shift, start=self.guess)
        state = settle(alkali, liquid, amounts, heat, shift=shift, melted=t)
        if state.temperature is None:
            return self._point(share, state, amounts, boiling)
        self.guess = state.temperature
        if state.temperature > boiling:
            self.boils = True
            down = boil_down(alkali, amounts, heat, shift=shift)
            if down is None:
                return self._beyond(share, amounts, boiling)
            self.guess = boiling = down.temperature
            self.steam += down.steam_mass
            self.steam_heat += down.steam_enthalpy
            amounts = Amounts(amounts.hydroxide, amounts.water - down.steam_mass, amounts.inert)
            state = State(down.temperature, 0.0, amounts.strength, None)
        return self._point(share, state, amounts, boiling)

    def _cool(self, share: float, whole: Strength, amounts: Amounts, heat: float, t: float) -> PathPoint:
        """A point that cannot boil, and may hold ice."""
        state = State(t, 0.0, whole.mass_fraction, None)
        if t < 0.0:
            state = settle(self.vessel.alkali, whole, amounts, heat, shift=self.vessel.shift, melted=t)
        boiling = None
        if self.boiling_shift is not None or (self.boiling_told and not state.ice_mass):
            boiling = boiling_point(self.vessel.alkali, whole.mass_fraction)
        if state.temperature is not None:
            self.guess = state.temperature
            if boiling is not None:
                self._margin(share, whole, boiling, self.guess)
        elif self.boiling_shift is not None:
            self.margins.append(None)
        return self._point(share, state, amounts, boiling)

    def _melted(self, share: float, whole: Strength) -> float:
        """Temperature were all ice melted and no steam gone [°C], sought from where the last three points lead to."""
        if self.melted is None:
            t = self.vessel.temperature(share, whole, self.guess, self.lost)
            self.melted = t, t, t
            return t
        one, two, three = self.melted
        ahead = 2.0 * (one - two) - (two - three)
        # Few points lead anywhere.
        t = self.vessel.temperature(share, whole, one + min(max(ahead, -_FARTHEST), _FARTHEST), self.lost)
        self.melted = t, one, two
        return t

    def _margin(self, share: float, liquid: Strength, boiling: float, t: float) -> None:
        """Note the distance from boiling, with the boiling point as low as it may be."""
        if self.boiling_shift is not None:
            self.margins.append((share, self._distance(liquid, boiling, t)))

    def _distance(self, liquid: Strength, boiling: float, t: float) -> float:
        if self.boiling_shift:
            boiling -= self.boiling_shift * boiling_point_half_width(self.vessel.alkali, liquid.mass_fraction)
        return boiling - min(t, HIGHEST_TEMPERATURE)

    def margin_at(self, share: float) -> float:
        """Distance from boiling [K] between the points once the walk is done, where no steam has left.

        Args:
            share: share of the solid that is in [-], 0 to 1.
        """
        liquid = self.vessel.liquid(share)
        boiling = boiling_point(self.vessel.alkali, liquid.mass_fraction)
        return self._distance(liquid, boiling, self.liquid_at(share))

    def _beyond(self, share: float, amounts: Amounts, boiling: float) -> PathPoint:
        self.beyond_data = BOILED_BEYOND_DATA
        return self._point(share, State(None, None, None, BOILED_BEYOND_DATA), amounts, boiling)

    def _point(self, share: float, state: State, amounts: Amounts, boiling: float | None) -> PathPoint:
        self.state = state
        t, ice, strength, reason = state
        total = amounts.total
        in_liquid = None
        supercooled = False
        if t is not None and ice is not None and strength is not None:
            in_liquid = amounts.hydroxide / (total - ice) if total > ice else 0.0
            if ice > 0.0:
                boiling = boiling_point(self.vessel.alkali, strength) if self.boiling_told else None
            elif t < _WARMEST_FIRST_SOLID[self.vessel.alkali][int(strength * _BINS)]:
                freezing = first_solid(self.vessel.alkali, strength)
                supercooled = freezing.solid != "ice" and t < freezing.temperature
        share_of_hydroxide = amounts.hydroxide / total
        return PathPoint(share, share_of_hydroxide, in_liquid, t, boiling, ice, self.steam, supercooled, reason)

    def liquid_at(self, share: float) -> float:
        """Temperature [°C] between the points once the walk is done, where all is liquid and no more steam leaves.

        Args:
            share: share of the solid that is in [-], 0 to 1.
        """
        vessel = self.vessel
        hydroxide, water, inert = vessel.masses(share)
        amounts = Amounts(hydroxide, water - self.steam, inert)
        heat = vessel.heat(share) - self.lost_by(share, vessel.liquid(share)) - self.steam_heat
        return liquid_temperature(
            at_strength(vessel.alkali, amounts.strength), amounts, heat, shift=vessel.shift, start=self.guess
        )
