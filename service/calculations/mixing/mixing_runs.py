"""One mixing at the ends of what is not known: data, purity, moisture and heat lost."""

from typing import Final, NamedTuple

from msgspec import UNSET, UnsetType

from service.calculations.mixing.mixing_contents import GivenCharge, GivenSolid, hydroxide_and_water
from service.calculations.mixing.vessels import UNSTATED_SHARE, KnownVessel
from service.calculations.shared.given import Duration
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import NORMAL_95
from service.calculations.shared.told import TemperatureFigure
from service.chemistry import enthalpy, heat_loss, highest_loss, vapour_pressure
from service.chemistry import mixing_records as records
from service.chemistry.enthalpy import at_strength
from service.chemistry.mixing import mix
from service.chemistry.mixing_bounds import Bounds, bounds
from service.chemistry.mixing_records import Mixing, PathPoint
from service.chemistry.uncertainty import Combined, Part, combine, coverage_half_width, normal

POINTS: Final = 50
FEW_POINTS: Final = 14
"""Points of a path that is not answered: its peak is within 0.005 K of that of more."""
UNSTATED_LOSS: Final = 0.10
"""Share of the heat released that is lost at most, where no duration says more [-] (common practice)."""

HEAT_OF_FUSION: Final = 333.4e3
"""Of ice at 0 °C [J/kg] (computed: IAPWS R10-06(2009) and IAPWS-95, with the package iapws 1.5.5)."""
LOSS_STEPS: Final = 12
"""Steps of a loss to the air that cools what loses it; fewer tell more of it."""
LIGHTEST: Final = 1000.0
"""kg/m3; a lighter mixing is larger, and loses more."""


class Surroundings(NamedTuple):
    """What bounds the heat that goes to and fro."""

    duration: Duration | None
    ambient: float
    vessel: KnownVessel | None
    asks_duration: bool = True
    """Whether the request may say how long the addition takes."""


class Case(NamedTuple):
    """One end of what is not known of a mixing."""

    solid: records.Solid
    charge: records.Charge
    shift: float
    """Half widths of the 95 % interval by which the heats are stronger than the data say."""


class Exchange(NamedTuple):
    """The most heat that leaves a mixing [J]."""

    walls: float
    vapour: float
    vessel: float


def mixed_without_path(solid: records.Solid, contents: records.Charge) -> Mixing:
    """A mixing without heat lost whose path is not answered.

    What leaves as steam goes with the steps of the path, so that one that boils has those of stock-mixing.

    Args:
        solid: the solid.
        contents: what it is added to.

    Raises:
        OutOfRange: as `service.chemistry.mixing.mix`.
    """
    plain = mix(solid, contents, points=FEW_POINTS, boiling_told=False)
    return mix(solid, contents, points=POINTS, boiling_told=False) if plain.boils else plain


class Runs:
    """The mixing and its bounds.

    Attributes:
        solid: the solid.
        given: what it goes into, with the ends of its strength.
        contents: the same as it is.
        plain: the mixing without heat lost, by the data as they are.
        hot: the same at the upper end of the data, with the purest and driest solid that may be meant.
        cool: the same at the lower end of the data, with the least pure and wettest solid and the most heat lost.
        peak: highest temperature [°C].
        peak_low: lower end of its interval.
        peak_high: upper end of its interval.
        peak_at: share of the solid at the peak.
        boiling_margin: least distance to boiling, from the upper end of the temperature to the lower end of the
            boiling point [K].
        strength_half_width: 95 % half-width of the strength, as far as the contents leave it open.
        most_steam: water that leaves the runs at the upper end, where it boils [kg].
        heat_half_width: 95 % half-width of the heat released [J].
        loss: the most heat lost [J].
        exchange: what it is made of; None where no duration tells.
        taken_up: what the vessel takes up of it, where no duration tells and its mass is known [J].
        unlost: the coolest run without heat lost and what it was made with, where that bounds the lower end.
        gain: the most that a warm room adds to the peak [K].
        hot_case: what the hottest run was made with.
        cool_case: what the coolest run was made with.
        strength_unboiled: hydroxide in hydroxide and water, with no steam gone.
    """

    def __init__(
        self,
        solid: GivenSolid,
        given: GivenCharge,
        plain: Mixing,
        surroundings: Surroundings,
        notes: Notes,
    ) -> None:
        duration, ambient, vessel, asks_duration = surroundings
        self.solid = solid
        self.given = given
        self.contents = contents = given.charge
        self.plain = plain
        hot_solid = within_data(solid.hottest, given)
        if hot_solid is not solid.hottest:
            notes.caution(
                "beyond-source-range",
                "With the purest and driest solid that may be meant the stock gets stronger than the data reach: the "
                "upper end of the peak and the margins are reckoned to where the data end.",
                "danger",
            )
        # Diluting a stock and dissolving a solid may err in opposite directions, so both ends of both are tried.
        charges = (given.hottest, given.coolest) if given.hydroxide_half_width else (contents,)
        shifts = (1.0, -1.0) if contents.stock is not None else (1.0,)
        hot_cases = [Case(hot_solid, one, shift) for one in charges for shift in shifts]
        hots = [bounds(one.solid, one.charge, enthalpy_shift=one.shift, boiling_shift=1.0) for one in hot_cases]
        self.hot = max(hots, key=lambda run: (run.peak_temperature is not None, run.peak_temperature or 0.0))
        self.hot_case = hot_cases[hots.index(self.hot)]
        self.most_steam = max(steam(case, run) for case, run in zip(hot_cases, hots, strict=True))
        peak, share = self.plain.peak_temperature, self.plain.peak_share
        hot_peak = self.hot.peak_temperature
        margin = min((run.boiling_margin for run in hots if run.boiling_margin is not None), default=None)
        if peak is None or share is None or hot_peak is None or margin is None:
            raise notes.refuse(
                "",
                "beyond-data",
                "the whole mixing stays colder than the data reach: ice remains, and the freezing points of so strong "
                "a liquid are not known",
                "use more solid, warmer water, or less ice",
            )
        self.peak, self.peak_at = peak, share
        hydroxide, water = hydroxide_and_water(solid.solid, contents)
        self.strength_unboiled = hydroxide / (hydroxide + water)
        gain = 0.0
        self.exchange: Exchange | None = None
        self.taken_up = 0.0
        self.loss = UNSTATED_LOSS * max(self.plain.heat_released, 0.0)
        if duration is None:
            if asks_duration:
                lost = "a tenth of the heat released is lost at most"
                notes.assume("/duration", lost, "for the lower end of the peak")
            self.taken_up = self._taken_up(ambient, vessel)
            self.loss += self.taken_up
            notes.caution(
                "heat-lost-unknown",
                "Without a duration the lower end of the peak takes off a tenth of the heat released"
                f"{', and what the vessel takes up' if self.taken_up else ''}; "
                f"{'give it' if asks_duration else 'give one to stock-mixing'} to have that reckoned.",
            )
        else:
            self.loss, gain = self._exchange(duration, ambient, vessel, notes)
        self.gain = gain
        # What a room adds is capped by boiling too, and by its upper end: a boiling point is not known exactly.
        boiling = self.hot.highest_boiling_point + self.boiling_spread(self.hot)
        self.peak_high = max(
            peak,
            hot_peak + self.cap_spread(self.hot) if self.hot.boils else min(hot_peak + gain, max(boiling, hot_peak)),
        )
        self.beyond_data = self.plain.beyond_data or next((run.beyond_data for run in hots if run.beyond_data), None)
        if self.beyond_data:  # how hot it gets from there on is not known; at least as hot as the strongest boils
            strongest = enthalpy.HIGHEST_MASS_FRACTION[solid.alkali]
            self.peak_high = max(self.peak_high, vapour_pressure.boiling_point(solid.alkali, strongest))
        cool_solid = within_data(solid.coolest, given)
        self._bound_below([Case(cool_solid, one, -shift) for one in charges for shift in shifts], ambient)
        self.boiling_margin = margin - gain
        self.strength_half_width = self._strength_half_width()
        self.heat_half_width = coverage_half_width(self.heat_spread)

    def _bound_below(self, cases: list[Case], ambient: float) -> None:
        """Find the lower end of the peak: the data at their coolest, and the most heat lost."""
        lost = min(self.loss, max(self.plain.heat_released, 0.0))
        cools = [bounds(one.solid, one.charge, enthalpy_shift=one.shift, loss_joules=lost) for one in cases]
        self.cool = min(cools, key=lambda run: (run.peak_temperature is None, run.peak_temperature or 0.0))
        self.cool_case = cases[cools.index(self.cool)]
        cool_peak = self.cool.peak_temperature
        self.peak_low = self.peak if cool_peak is None else min(self.peak, cool_peak - self.cap_spread(self.cool))
        self.unlost: tuple[Case, Bounds] | None = None
        if self.peak_low < ambient and (self.exchange is not None or self.taken_up):
            # However long it takes, losing heat makes nothing colder than the room.
            runs = [bounds(one.solid, one.charge, enthalpy_shift=one.shift) for one in cases]
            unlost = min(runs, key=lambda run: (run.peak_temperature is None, run.peak_temperature or 0.0))
            if unlost.peak_temperature is not None:
                self.unlost = cases[runs.index(unlost)], unlost
                self.peak_low = max(self.peak_low, min(self.peak, ambient, unlost.peak_temperature))

    def cap_spread(self, run: Bounds) -> float:
        """How uncertain a peak is that boiling has capped: as uncertain as the boiling point [K]."""
        return self.boiling_spread(run) if run.boils else 0.0

    def boiling_spread(self, run: Bounds) -> float:
        """Half-width of the boiling point of what a run ends with [K]."""
        strongest = vapour_pressure.HIGHEST_MASS_FRACTION[self.solid.alkali]
        return vapour_pressure.boiling_point_half_width(self.solid.alkali, min(run.solution_strength, strongest))

    @property
    def adiabatic_figure(self) -> TemperatureFigure | UnsetType:
        """Temperature of the finished stock, nothing lost and nothing boiled."""
        value, high = self.plain.adiabatic_temperature, self.hot.adiabatic_temperature
        if value is None:
            return UNSET
        return TemperatureFigure(value) if high is None else TemperatureFigure.around(value, abs(high - value))

    def _exchange(
        self, duration: Duration, ambient: float, vessel: KnownVessel | None, notes: Notes
    ) -> tuple[float, float]:
        """The most heat lost [J], and the most that a warm room adds to the peak [K]."""
        area, top, lid = self._areas(vessel, notes)
        level = self.plain.mass / highest_loss.DENSEST / top
        own = self._taken_up(ambient, vessel)
        if vessel is None or not vessel.heat_capacity:
            own = UNSTATED_SHARE * max(self.plain.heat_released, 0.0)
            notes.assume("/vessel/mass", "a vessel that takes up 5 % of the heat", "60 g of plastic per kg take 3.4 %")
        walls, vapour = self._to_air((area, top, level), ambient, duration.value, is_open=not lid)
        self.exchange = Exchange(walls, vapour, own)
        coldest = min(
            (point.temperature for point in self.plain.path if point.temperature is not None), default=ambient
        )
        gained = max(0.0, -highest_loss.highest_loss_rate(area, level, coldest, ambient)) * duration.value
        liquid = at_strength(self.solid.alkali, self.strength_unboiled)
        gain = gained / (self.plain.mass * liquid.heat_capacity(self.peak))
        # A room warms nothing beyond itself, but it may melt all the ice before the solid does.
        ice = 0.0 if self.contents.ice is None else self.contents.ice.mass
        melting = ice * HEAT_OF_FUSION / (self.plain.mass * liquid.heat_capacity(self.peak))
        return walls + vapour + own, min(gain, max(0.0, ambient - coldest) + melting)

    def _taken_up(self, ambient: float, vessel: KnownVessel | None) -> float:
        """Heat that a vessel of known mass takes up at most, from the room to the peak [J]."""
        return 0.0 if vessel is None else vessel.heat_capacity * max(0.0, self.peak - ambient)

    def _areas(self, vessel: KnownVessel | None, notes: Notes) -> tuple[float, float, bool]:
        """Surface of the contents, and that on top [m2]; whether a lid covers this."""
        if vessel is not None and vessel.given.diameter is not None and vessel.given.height is not None:
            diameter = vessel.given.diameter.value
            area, top = heat_loss.cylinder_area(diameter, vessel.given.height.value), heat_loss.disc_area(diameter)
        else:
            volume = vessel.volume if vessel is not None else None
            if volume is None:
                volume = self.plain.mass / LIGHTEST
                notes.assume("/vessel/volume", "a vessel just filled", "its surface bounds the heat lost")
            area = heat_loss.vessel_area(volume)
            top = area / 4
            notes.assume("/vessel/diameter", "a vessel twice as wide as high", "it loses more than most")
        lid = vessel is not None and vessel.given.lid is True
        if vessel is None or vessel.given.lid is None:
            notes.assume("/vessel/lid", "no lid", "an open vessel loses more")
        return area, top, lid

    def _to_air(
        self, surfaces: tuple[float, float, float], ambient: float, duration: float, *, is_open: bool
    ) -> tuple[float, float]:
        """The most heat that goes through the walls, and with the vapour [J].

        All heat is there from the start, so that no way of adding the solid is hotter; what is lost cools. The vapour
        is that of the strength which has the most on the way there. A step takes the rate of its start, the highest.
        """
        area, top, level = surfaces
        alkali, mass = self.solid.alkali, self.plain.mass
        strong = min(self.plain.solution_strength, vapour_pressure.HIGHEST_MASS_FRACTION[alkali])
        capacity = mass * at_strength(alkali, self.strength_unboiled).heat_capacity(self.peak)
        latent = highest_loss.heat_of_evaporation(alkali, strong, max(self.peak, 0.0)) if is_open else 0.0
        known = [point for point in self.plain.path if point.temperature is not None]
        steaming = max(known, key=lambda point: self._vapour_pressure(point, 0.0)) if is_open else known[0]
        step, walls, vapour = duration / LOSS_STEPS, 0.0, 0.0
        for _ in range(LOSS_STEPS):
            colder = (walls + vapour) / capacity
            t = max(self.peak - colder, min(self.peak, ambient))
            if is_open:
                pressure = self._vapour_pressure(steaming, self.peak - t)
                vapour += highest_loss.highest_evaporation_rate(top, level, t, ambient, pressure) * latent * step
            walls += max(0.0, highest_loss.highest_loss_rate(area, level, t, ambient)) * step
        return walls, vapour

    def _vapour_pressure(self, point: PathPoint, colder: float) -> float:
        """Over the liquid on its way, by so many kelvins colder, no more than the air's [Pa]."""
        # Where ice leaves the strength unknown, water has more vapour; so has the strongest that is known.
        w, t = point.liquid_mass_fraction or 0.0, max(0.0, (point.temperature or 0.0) - colder)
        w = min(w, vapour_pressure.HIGHEST_MASS_FRACTION[self.solid.alkali])
        pressure = vapour_pressure.water_vapour_pressure(
            self.solid.alkali, w, min(t, vapour_pressure.HIGHEST_TEMPERATURE)
        )
        return min(pressure, vapour_pressure.ATMOSPHERE)

    @property
    def heat_from_contents(self) -> float:
        """How far the heat may differ by what solid and stock really hold: purity, bound water, strength [J]."""
        released = self.plain.heat_released
        return max(abs(run.heat_released - released) for run in (self.hot, self.cool))

    @property
    def hydroxide_apart(self) -> tuple[float, float]:
        """Hydroxide that dissolves, and hydroxide of a stock, which is but brought to another strength [kg]."""
        stock = self.contents.stock
        before = 0.0 if stock is None else stock.mass * stock.mass_fraction
        hydroxide, _ = hydroxide_and_water(self.solid.solid, self.contents)
        return hydroxide - before, before

    @property
    def spreads_of_heat(self) -> tuple[float, float]:
        """95 % half-widths of the heat of dissolving, and of that of bringing a stock there [J/kg of hydroxide]."""
        alkali, w, stock = self.solid.alkali, self.strength_unboiled, self.contents.stock
        own = at_strength(alkali, w).fixed_spread / w
        return own, 0.0 if stock is None else enthalpy.dilution_half_width(alkali, stock.mass_fraction, w)

    @property
    def steam_ends(self) -> tuple[float, float]:
        """Least and most water that leaves as steam, without heat lost [kg]."""
        told = self.plain.water_boiled_off
        if not self.plain.boils:
            return told, max(told, self.most_steam)
        case = self.cool_case
        least = steam(case, bounds(case.solid, case.charge, enthalpy_shift=case.shift))
        return min(told, least), max(told, self.most_steam)

    def _strength_half_width(self) -> float:
        """Of the strength: what the purity leaves open, and a stock that was there with its mass."""
        whole = self.plain.mass
        parts: list[tuple[float, Part | Combined]] = [
            (self.solid.solid.mass_as_supplied / whole, self.solid.purity_spread)
        ]
        existing = self.given.existing
        if existing is not None:
            apart = existing.found.mass_fraction - self.plain.mass_fraction
            parts += existing.contributions(existing.mass / whole, apart / whole)
        return coverage_half_width(combine(parts))

    @property
    def mass_half_width(self) -> float:
        """95 % half-width of the mass, where a stock that was there was told by its volume [kg]."""
        existing = self.given.existing
        return 0.0 if existing is None else coverage_half_width(combine(existing.contributions(0.0, 1.0)))

    @property
    def heat_spread(self) -> Combined:
        """Of the heat of dissolving: the error budget of the enthalpy at 25 °C, and what the contents leave open [J].

        What a stock holds has been dissolved already: of it only the way from one strength to the other counts, whose
        heats err the less differently the nearer they are. Both may err together.
        """
        (solid, stock), (dissolving, diluting) = self.hydroxide_apart, self.spreads_of_heat
        of_data = (solid * dissolving + stock * diluting) / NORMAL_95
        return combine([(of_data, normal(1.0)), (self.heat_from_contents, of_half_width(self.solid.purity_spread))])


def steam(case: Case, run: Bounds) -> float:
    """Water that leaves a run as steam, by the strength that it ends with [kg]."""
    if not run.boils:
        return 0.0
    hydroxide, water = hydroxide_and_water(case.solid, case.charge)
    return hydroxide + water - hydroxide / run.solution_strength


def within_data(solid: records.Solid, given: GivenCharge) -> records.Solid:
    """As much of a solid as the data reach, into the strongest contents that may be meant."""
    highest = enthalpy.HIGHEST_MASS_FRACTION[solid.alkali]

    def reaches(share: float) -> bool:
        part = solid._replace(mass_as_supplied=share * solid.mass_as_supplied)
        hydroxide, water = hydroxide_and_water(part, given.coolest)
        return hydroxide <= highest * (hydroxide + water)

    if reaches(1.0):
        return solid
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if reaches(middle) else (low, middle)
    return solid._replace(mass_as_supplied=low * solid.mass_as_supplied)


def of_half_width(spread: Combined) -> Combined:
    """The same spread with a 95 % half-width of 1; where there is none, what differs lies anywhere within.

    Args:
        spread: of a purity or of a strength.
    """
    half = coverage_half_width(spread)
    if half <= 0.0:
        return Combined(1.0 / 3.0**0.5, 1.0)
    return Combined(spread.standard_uncertainty / half, spread.widest_rectangular / half)
