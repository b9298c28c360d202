"""The ends of a mixing: its peak and its distance from boiling, without the whole of its path.

A mixing is bounded by several runs, with the data and the contents at their ends, of which only a few figures count.
They are those of the path of `service.chemistry.mixing.mix`, were it as fine as may be. Where the mixing stays liquid
and below boiling, the balance of heats at a few points, and at the peak between them, gives them without what a path
tells beside; ice counts only where the least distance from boiling may lie. Elsewhere `mix` itself is asked.
"""

from math import inf
from typing import Final, NamedTuple

from service.chemistry import water as waters
from service.chemistry.enthalpy import Strength, at_strength, isotherm
from service.chemistry.equilibrium import settle
from service.chemistry.mixing import mix
from service.chemistry.mixing_path import FINISHED, NEVER_BOILS, Vessel, summit
from service.chemistry.mixing_records import Charge, Mixing, Solid, Stock, Water
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require
from service.chemistry.vapour_pressure import LOWEST_BOILING_POINT, boiling_point, boiling_point_half_width
from service.chemistry.water import ZERO

_PROPORTIONS: Final = 20
"""Proportions of solution and water that are looked at [-] (numerical)."""
_POINTS: Final = 7
_LAST: Final = _POINTS - 1
"""Points of the way that is looked at, the last of them; the peak is sought between them [-] (numerical)."""
_STEAM_POINTS: Final = 12
"""Points of a way on which it boils, or ice is left: what leaves as steam goes with them [-] (numerical)."""


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
    loss_joules: float = 0.0,
    enthalpy_shift: float = 0.0,
    boiling_shift: float | None = None,
) -> Bounds:
    """The ends of a mixing, as `service.chemistry.mixing.mix` finds them: peak and distance from boiling to 0.02 K.

    Args:
        solid: as for `mix`.
        contents: as for `mix`.
        loss_joules: as for `mix` [J].
        enthalpy_shift: as for `mix` [-].
        boiling_shift: as for `mix` [-]; None where the distance from boiling is not asked for.

    Raises:
        OutOfRange: as `mix`.

    References:
        .. [1] as `mix`.

    Examples:
        >>> found = bounds(Solid("NaOH", 1.0), Charge(water=Water(3.0, 10.0)), boiling_shift=0.0)
        >>> round(found.peak_temperature, 1), round(found.boiling_margin, 1)
        (84.7, 27.3)
    """
    require("loss_joules", loss_joules, 0.0, 1e15, "a loss is not negative")
    run = _Run(Vessel(solid, contents, enthalpy_shift), loss_joules)
    found = run.bounds(boiling_shift) if run.quiet else None
    if found is not None:
        return found
    return _of(
        mix(
            solid,
            contents,
            points=_STEAM_POINTS,
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
        max(point.boiling_point for point in run.path if point.boiling_point is not None),
        run.solution_strength,
        run.heat_released,
        run.beyond_data,
    )


class _Run:
    """A mixing at equal steps of its solid, each by the balance of heats as if all were liquid.

    Attributes:
        quiet: whether no point of it is above boiling, so that no steam leaves there.
    """

    def __init__(self, vessel: Vessel, loss_joules: float) -> None:
        self.vessel = vessel
        finished = vessel.liquid(1.0)
        self.released = vessel.released(1.0, finished)
        self.loss_per_heat = loss_joules / self.released if self.released > 0.0 else 0.0
        self.quiet, self.hot = True, False
        self.liquids: list[tuple[Strength, float, float]] = []
        """Of each point the liquid, the share of the solid, and the heat [J]."""
        self.temperatures: list[float] = []
        lost, t, before = 0.0, ZERO, ZERO
        alkali = vessel.alkali
        for place in range(_POINTS):
            share = place / _LAST
            liquid = vessel.liquid(share)
            if self.loss_per_heat:
                lost = max(lost, self.loss_per_heat * max(vessel.released(share, liquid), 0.0))
            # Near where the last two points lead to.
            before, t = t, vessel.temperature(share, liquid, max(2.0 * t - before, 0.0), lost)
            self.liquids.append((liquid, share, vessel.heat(share) - lost))
            self.temperatures.append(t)
            if t >= NEVER_BOILS:
                self.hot = True
                if t > boiling_point(alkali, liquid.mass_fraction):
                    self.quiet = False
                    return

    def bounds(self, boiling_shift: float | None) -> Bounds | None:
        """Its ends; None where ice is left all the way, or it may boil between the points."""
        peak = self._peak()
        if peak is None:
            return None
        margin = None
        if boiling_shift is not None or self.hot:
            margin = self._margin(boiling_shift or 0.0)
            if self.hot and margin <= 0.0:
                return None
        finished, share, heat = self.liquids[-1]
        last = self._settled(_LAST)
        adiabatic = last
        amounts = self.vessel.masses(share)
        if self.loss_per_heat:
            heat = self.vessel.heat(1.0)
            adiabatic = settle(
                self.vessel.alkali, finished, amounts, heat, shift=self.vessel.shift, start=FINISHED
            ).temperature
        return Bounds(
            last,
            *peak,
            adiabatic,
            boils=False,
            boiling_margin=None if boiling_shift is None else margin,
            highest_boiling_point=boiling_point(self.vessel.alkali, finished.mass_fraction),
            solution_strength=amounts.strength,
            heat_released=self.released,
            beyond_data=None,
        )

    def _settled(self, place: int) -> float | None:
        """Temperature at a point, ice counted [°C]; None where the data do not reach."""
        t, (liquid, share, heat) = self.temperatures[place], self.liquids[place]
        if t >= 0.0:
            return t
        vessel = self.vessel
        return settle(vessel.alkali, liquid, vessel.masses(share), heat, shift=vessel.shift, melted=t).temperature

    def _peak(self) -> tuple[float, float] | None:
        """Highest temperature and its share, sought between the points too."""
        temperatures = self.temperatures
        highest = max(temperatures)
        if highest < 0.0:
            return None
        place = temperatures.index(highest)
        middle = min(max(place, 1), _LAST - 1)
        # Below 0 °C ice holds the liquid's temperature up: it rises to there less steeply than these heights say.
        around = temperatures[middle - 1], temperatures[middle], temperatures[middle + 1]
        places = (middle - 1) / _LAST, middle / _LAST, (middle + 1) / _LAST
        share, t = summit(self._between, places, around)
        return (t, share) if t > highest else (highest, place / _LAST)

    def _between(self, share: float) -> float:
        """Temperature between the points, as if all were liquid [°C]."""
        vessel = self.vessel
        liquid = vessel.liquid(share)
        lost = self.loss_per_heat * max(vessel.released(share, liquid), 0.0) if self.loss_per_heat else 0.0
        return vessel.temperature(share, liquid, self.temperatures[int(share * _LAST)], lost)

    def _margin(self, boiling_shift: float) -> float:
        """Least distance from boiling [K], sought between the points too, where the peak is not below 0 °C.

        What is weaker and hotter than a point is nearer to boiling, since that rises with the strength.
        """
        alkali, temperatures = self.vessel.alkali, self.temperatures

        def boiling(w: float) -> float:
            point = boiling_point(alkali, w)
            return point - boiling_shift * boiling_point_half_width(alkali, w) if boiling_shift else point

        least, place, hottest = inf, 0, -inf
        near: list[tuple[float, int]] = []
        for one, t in enumerate(temperatures):
            if t < 0.0:
                near.append((0.0, one))  # ice holds it up, at 0 °C at most
            elif t > hottest:  # else a weaker one was as hot
                hottest = t
                near.append((t, one))
        lowest = max(LOWEST_BOILING_POINT, boiling(self.liquids[0][0].mass_fraction))
        for t, one in sorted(near, reverse=True):
            if lowest - t > least:
                break  # what is colder is farther from boiling, however weak it is
            settled = self._settled(one)
            if settled is None:
                continue
            here = boiling(self.liquids[one][0].mass_fraction) - settled
            if here < least:
                least, place = here, one

        def closeness(share: float) -> float:
            return self._between(share) - boiling(self.vessel.masses(share).strength)

        middle = min(max(place, 1), _LAST - 1)
        before, here, after = (
            temperatures[one] - boiling(self.liquids[one][0].mass_fraction) for one in (middle - 1, middle, middle + 1)
        )
        places = (middle - 1) / _LAST, middle / _LAST, (middle + 1) / _LAST
        _, nearest = summit(closeness, places, (before, here, after))
        return min(least, -nearest)
