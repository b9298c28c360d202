"""The ends of a mixing: its peak and its distance from boiling, without the whole of its path.

A mixing is bounded by several runs, with the data and the contents at their ends, of which only a few figures count.
They are those of `service.chemistry.mixing.mix` at the same points. Where the mixing stays liquid and well below
boiling, the balance of heats gives them without what a path tells beside; ice counts only where the least distance
from boiling may lie. Elsewhere `mix` itself is asked.
"""

from typing import Final, NamedTuple

from service.chemistry import water as waters
from service.chemistry.enthalpy import Strength, at_strength, isotherm
from service.chemistry.equilibrium import INERT_HEAT_CAPACITY, Amounts, State, liquid_temperature, settle
from service.chemistry.mixing import mix
from service.chemistry.mixing_path import Vessel, vertex
from service.chemistry.mixing_records import Charge, Mixing, Solid, Stock, Water
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require
from service.chemistry.vapour_pressure import LOWEST_BOILING_POINT, boiling_point, boiling_point_half_width

_CLEAR: Final = 95.0
"""°C; what is colder does not boil at 1 atm, however uncertain its boiling point."""
_PROPORTIONS: Final = 20


class Bounds(NamedTuple):
    """What counts of a run that bounds a mixing; members as those of `service.chemistry.mixing_records.Mixing`."""

    temperature: float | None
    """°C at the end."""
    peak_temperature: float | None
    """°C."""
    peak_share: float | None
    adiabatic_temperature: float | None
    """°C."""
    boils: bool
    boiling_margin: float | None
    """K."""
    highest_boiling_point: float
    """°C, along the path."""
    solution_strength: float
    heat_released: float
    """J."""
    beyond_data: str | None


def bounds(
    solid: Solid,
    contents: Charge,
    *,
    points: int,
    loss_joules: float = 0.0,
    enthalpy_shift: float = 0.0,
    boiling_shift: float = 0.0,
) -> Bounds:
    """The ends of a mixing, as `service.chemistry.mixing.mix` finds them.

    Args:
        solid: as for `mix`.
        contents: as for `mix`.
        points: as for `mix` [-].
        loss_joules: as for `mix` [J].
        enthalpy_shift: as for `mix` [-].
        boiling_shift: as for `mix` [-].

    Raises:
        OutOfRange: as `mix`.

    References:
        .. [1] as `mix`.

    Examples:
        >>> found = bounds(Solid("NaOH", 1.0), Charge(water=Water(3.0, 10.0)), points=12)
        >>> round(found.peak_temperature, 1), round(found.boiling_margin, 1)
        (84.7, 27.3)
    """
    require("points", points, 2, 1000, "a path has a start and an end")
    require("loss_joules", loss_joules, 0.0, 1e15, "a loss is not negative")
    run = _Run(Vessel(solid, contents, enthalpy_shift), points, loss_joules)
    found = run.bounds(boiling_shift) if run.quiet else None
    if found is not None:
        return found
    return _of(
        mix(
            solid,
            contents,
            points=points,
            loss_joules=loss_joules,
            enthalpy_shift=enthalpy_shift,
            boiling_shift=boiling_shift,
        )
    )


def dilutes_below(alkali: Alkali, stock: Stock, water: Water, t: float) -> bool:
    """Whether a stock and water stay below a temperature, in whatever proportion they meet.

    Args:
        alkali: NaOH or KOH.
        stock: the stock; its mass does not matter.
        water: the water; its mass does not matter.
        t: the temperature [°C], 0 to 150.

    Raises:
        OutOfRange: a strength or a temperature beyond the data.

    References:
        .. [1] balance of enthalpies, as `service.chemistry.dilution.dilute`.

    Examples:
        >>> half = Stock(1.0, 0.5, 25.0)
        >>> [dilutes_below("NaOH", half, Water(1.0, 20.0), t) for t in (50.0, 70.0)]
        [False, True]
    """
    require("temperature", t, 0.0, 150.0, "heats of solutions reach no further")
    own, added = (
        at_strength(alkali, stock.mass_fraction).enthalpy(stock.temperature),
        waters.enthalpy(water.temperature),
    )
    held = isotherm(alkali, t)
    shares = (place / _PROPORTIONS for place in range(_PROPORTIONS + 1))
    return all(share * own + (1.0 - share) * added <= held(share * stock.mass_fraction) for share in shares)


def _of(run: Mixing) -> Bounds:
    return Bounds(
        run.temperature,
        run.peak_temperature,
        run.peak_share,
        run.adiabatic_temperature,
        run.boils,
        run.boiling_margin,
        max(point.boiling_point for point in run.path),
        run.solution_strength,
        run.heat_released,
        run.beyond_data,
    )


class _Run:
    """A mixing at equal steps of its solid, each by the balance of heats as if all were liquid.

    Attributes:
        quiet: whether it stays so far below boiling that no steam can leave.
    """

    def __init__(self, vessel: Vessel, points: int, loss_joules: float) -> None:
        self.vessel, self.points = vessel, points
        finished = vessel.liquid(1.0)
        self.released = vessel.released(1.0, finished)
        self.loss_per_heat = loss_joules / self.released if self.released > 0.0 else 0.0
        self.quiet = True
        self.states: dict[int, State] = {}
        self.liquids: list[tuple[Strength, Amounts, float]] = []
        self.temperatures: list[float] = []
        lost, t = 0.0, 25.0
        shift, alkali, inert = vessel.shift, vessel.alkali, vessel.inert_added * INERT_HEAT_CAPACITY
        for place in range(points):
            share = place / (points - 1)
            amounts = vessel.masses(share)
            solution = amounts.solution
            liquid = at_strength(alkali, amounts.hydroxide / solution)
            heat = vessel.heat(share)
            if self.loss_per_heat:
                lost = max(lost, self.loss_per_heat * max(vessel.released(share, liquid), 0.0))
                heat -= lost
            t = liquid.balanced(heat / solution, share * inert / solution, shift, max(t, 0.0))
            self.liquids.append((liquid, amounts, heat))
            self.temperatures.append(t)
            if t >= _CLEAR:
                self.quiet = False
                return

    def bounds(self, boiling_shift: float) -> Bounds | None:
        """Its ends; None where ice is left all the way."""
        peak = self._peak()
        if peak is None:
            return None
        finished, amounts, _ = self.liquids[-1]
        last = self._state(self.points - 1).temperature
        adiabatic = last
        if self.loss_per_heat:
            heat = self.vessel.heat(1.0)
            adiabatic = settle(
                self.vessel.alkali, finished, amounts, heat, shift=self.vessel.shift, start=100.0
            ).temperature
        return Bounds(
            last,
            *peak,
            adiabatic,
            boils=False,
            boiling_margin=self._margin(boiling_shift),
            highest_boiling_point=boiling_point(self.vessel.alkali, finished.mass_fraction),
            solution_strength=amounts.strength,
            heat_released=self.released,
            beyond_data=None,
        )

    def _state(self, place: int) -> State:
        """What it comes to rest as at a point, ice counted."""
        if place not in self.states:
            t, (liquid, amounts, heat) = self.temperatures[place], self.liquids[place]
            if t >= 0.0:
                self.states[place] = State(t, 0.0, liquid.mass_fraction, None)
            else:
                self.states[place] = settle(
                    self.vessel.alkali, liquid, amounts, heat, shift=self.vessel.shift, start=0.0
                )
        return self.states[place]

    def _peak(self) -> tuple[float, float] | None:
        """Highest temperature and its share, sought between the points too."""
        highest = max(self.temperatures)
        if highest < 0.0:
            return None
        last = self.points - 1
        place = self.temperatures.index(highest)
        if last > 1:
            middle = min(max(place, 1), last - 1)
            around = [self._state(one) for one in (middle - 1, middle, middle + 1)]
            before, here, after = (one.temperature for one in around)
            liquid = all(one.ice_mass == 0.0 for one in around)
            if liquid and before is not None and here is not None and after is not None:
                between, _ = vertex(middle / last, 1.0 / last, before, here, after)
                if 0.0 < between < 1.0:
                    t = self._between(between)
                    if t > highest:
                        return t, between
        return highest, place / last

    def _between(self, share: float) -> float:
        """Temperature between the points, where all is liquid [°C]."""
        vessel = self.vessel
        amounts = vessel.masses(share)
        liquid = at_strength(vessel.alkali, amounts.strength)
        heat = vessel.heat(share)
        if self.loss_per_heat:
            heat -= self.loss_per_heat * max(vessel.released(share, liquid), 0.0)
        return liquid_temperature(liquid, amounts, heat, shift=vessel.shift, start=self.temperatures[-1])

    def _margin(self, boiling_shift: float) -> float | None:
        """Least distance from boiling [K], by a parabola through the lowest point and its neighbours."""
        found: dict[int, float | None] = {}

        def margin(place: int) -> float | None:
            if place not in found:
                t, alkali = self._state(place).temperature, self.vessel.alkali
                w = self.liquids[place][0].mass_fraction
                boiling = boiling_point(alkali, w)
                if boiling_shift:
                    boiling -= boiling_shift * boiling_point_half_width(alkali, w)
                found[place] = None if t is None else boiling - t
            return found[place]

        least: tuple[float, int] | None = None
        for t, place in sorted(((max(t, 0.0), place) for place, t in enumerate(self.temperatures)), reverse=True):
            if least is not None and LOWEST_BOILING_POINT - t > least[0]:
                break  # what is colder is farther from boiling, however weak it is
            here = margin(place)
            if here is not None:
                least = (here, place) if least is None else min(least, (here, place))
        if least is None:
            return None
        value, place = least
        if 0 < place < self.points - 1:
            before, after = margin(place - 1), margin(place + 1)
            if before is not None and after is not None:
                step = 1.0 / (self.points - 1)
                return vertex(place * step, step, before, value, after)[1]
        return value
