"""What some solutions come to when they are poured together, with the 95 % half-widths of it.

The heats of solutions err the less differently the nearer their strengths are, so that pouring a solution into its like
leaves nothing uncertain; strengths err each by itself, and the densities of lines given by volume together. To first
order (JCGM 100:2008, 5.1.2).
"""

from collections.abc import Callable, Sequence
from functools import cached_property
from math import fsum, hypot, inf, sqrt
from typing import Final

from service.calculations.mixing.poured import Pour, together
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes, weight
from service.calculations.shared.units import MASS
from service.calculations.stock.told_solution import KnownSolution, Unknown, model_spread
from service.calculations.stock.volumes import STANDARD, WEIGHED
from service.chemistry import density, uncertainty, vapour_pressure
from service.chemistry.blending import (
    Part,
    alike,
    balance_half_width,
    blend,
    enthalpy_bend,
    enthalpy_slope,
    part_enthalpy,
    settled,
)
from service.chemistry.enthalpy import HIGHEST_MASS_FRACTION, at_strength
from service.chemistry.equilibrium import Amounts
from service.chemistry.errors import OutOfRange
from service.chemistry.meeting import Meeting, distance_to_boiling, hottest, meet
from service.chemistry.ranges import ROUNDING
from service.chemistry.uncertainty import Combined, combine, coverage_half_width

STEP: Final = 1e-6
"""Share of the mass by which a slope is found."""
SAME_STRENGTH: Final = 1e-9
SAME_WARMTH: Final = 1e-6
"""Differences of two strengths, and of two temperatures [K], that are rounding."""
DIFFERING: Final = 1.11
"""Standard uncertainties of a difference of strengths for which models are taken: the product of two normals is beyond
2.18 times both standard deviations in 5 %, which is 1.11 times 1.96."""
NEAR: Final = 2.0
"""Difference to the warmest part [K] within which what is told as alike may meet it and get hotter than it."""
MOST_NEAR: Final = 4
"""Parts of those that are tried, the least known first."""
WARM: Final = 25.0
"""Temperature that heats of dilution hold for [°C]."""


class Pouring:
    """Some solutions poured together.

    Attributes:
        alkali: their hydroxide.
        pours: what is poured, from the weakest on.
        whole: what it comes to; its temperature is None where no data reach.
        way: the worst that can be on the way there.
        mass: of all that is poured [kg].
        strength: hydroxide in all that is poured.
    """

    def __init__(self, alkali: AlkaliName, pours: Sequence[Pour]) -> None:
        self.alkali: AlkaliName = alkali
        self.pours = list(pours)
        parts = [one.part for one in pours]
        self.whole = blend(alkali, parts)
        self.way = hottest(alkali, parts)
        self.mass = self.whole.poured.total
        strength, own = self.whole.poured.strength, parts[0].mass_fraction
        # What is alike is as strong as each: a sum that misses it by a rounding would leave a spread of one.
        self.strength = own if alike(parts, strength) else strength

    @cached_property
    def temperature(self) -> float:
        """Of the whole [°C]; only for what has one."""
        t = self.whole.state.temperature
        if t is None:
            raise TypeError(t)
        # A balance misses by a rounding what stays as it is, and 0 °C, where densities begin.
        stays = [0.0, *(one.part.temperature for one in self.pours if len(self.pours) == 1)]
        return next((own for own in stays if abs(t - own) <= ROUNDING), t)

    @property
    def boiled(self) -> bool:
        """Whether the whole boils, so that steam takes what would make it hotter."""
        return self.whole.steam > 0 or self.whole.beyond_data

    def _spread(self, by_strength: Callable[[Pour], float], by_mass: Callable[[Pour], float]) -> float:
        """95 % half-width that strengths and masses leave, by how far the result goes with each of them.

        Args:
            by_strength: change of the result with the mass fraction of one.
            by_mass: change of the result with the mass of one, per kilogram.
        """
        own: list[tuple[float, uncertainty.Part | Combined]] = []
        common = 0.0
        for one in self.pours:
            if not one.uncertain:
                continue
            strength = by_strength(one)
            mass = by_mass(one) * one.part.mass if one.volume != WEIGHED else 0.0
            own.append((strength + mass * one.volume.by_strength, one.own))
            common += strength * one.by_density + mass * one.volume.by_density
        if not own:
            return 0.0
        return coverage_half_width(combine([*own, (common, STANDARD)] if common else own))

    @cached_property
    def strength_spread(self) -> Combined:
        """Of the strength of the whole."""
        return self.solution.strength_spread

    @cached_property
    def heat_half_width(self) -> float:
        """Of the heat of diluting at 25 °C [J]."""
        if len(self.pours) == 1:
            return 0.0  # nothing is diluted, and rounding must not leave a whisker of an interval
        w, mass = self.strength, self.mass
        whole = at_strength(self.alkali, w)
        slope = enthalpy_slope(self.alkali, w, WARM)
        of_data = balance_half_width(self.alkali, apart(self.alkali, self.pours, w), Part(mass, w, WARM), warmth=False)

        def by_strength(one: Pour) -> float:
            return one.part.mass * (enthalpy_slope(self.alkali, one.part.mass_fraction, WARM) - slope)

        def by_mass(one: Pour) -> float:
            part = one.part.mass_fraction
            return at_strength(self.alkali, part).at_25 - whole.at_25 - slope * (part - w)

        return hypot(of_data, self._spread(by_strength, by_mass))

    def bend(self, t: float) -> float:
        """Heat that solutions give off since they may differ in strength more than their values do [J], at the most.

        Of what is alike the slopes cancel, and only the bend of the enthalpy is left: any difference gives off heat, or
        takes it up where the bend is the other way.

        Args:
            t: temperature [°C].
        """
        w, mass = self.strength, self.mass
        found = 0.0
        if len(self.pours) > 1:
            for one in self.pours:
                half = coverage_half_width(one.spread)
                if half:
                    share = one.part.mass / mass
                    found += one.part.mass * enthalpy_bend(self.alkali, one.part.mass_fraction, t, half)
                    found -= mass * enthalpy_bend(self.alkali, w, t, share * half)
        return found

    @cached_property
    def temperature_rooms(self) -> tuple[float, float]:
        """By how much the temperature of the whole may be below and above its value [K]."""
        half = self.temperature_half_width
        bend = 0.0 if self.boiled else self.bend(self.temperature)
        if not bend:
            return half, half
        warmer = bend * self._slopes()[2]
        return half + max(0.0, -warmer), half + max(0.0, warmer)

    @property
    def heat_released(self) -> tuple[float, float, float]:
        """Heat of diluting at 25 °C, and the ends of its interval [J]."""
        value, half, bend = self.whole.heat_released, self.heat_half_width, self.bend(WARM)
        return value, value - half + min(0.0, bend), value + half + max(0.0, bend)

    @cached_property
    def temperature_half_width(self) -> float:
        """Of the temperature of the whole [K]."""
        if self.boiled:
            strongest = vapour_pressure.HIGHEST_MASS_FRACTION[self.alkali]
            w = min(self.whole.mass_fraction, strongest)
            return vapour_pressure.boiling_point_half_width(self.alkali, w)
        by_hydroxide, by_water, by_heat = self._slopes()
        ice, strength = self.whole.state.ice_mass or 0.0, self.whole.state.strength or 0.0
        after = Part(self.mass - ice, strength, self.temperature)
        of_data = by_heat * balance_half_width(self.alkali, apart(self.alkali, self.pours, self.strength), after)
        if not any(one.uncertain for one in self.pours):
            return of_data

        def by_strength(one: Pour) -> float:
            mass, w, t, _ = one.part
            return mass * (by_hydroxide - by_water + by_heat * enthalpy_slope(self.alkali, w, t))

        def by_mass(one: Pour) -> float:
            w = one.part.mass_fraction
            return w * by_hydroxide + (1 - w) * by_water + by_heat * part_enthalpy(self.alkali, one.part)

        return hypot(of_data, self._spread(by_strength, by_mass))

    def _slopes(self) -> tuple[float, float, float]:
        """How the temperature goes with hydroxide, water [K/kg] and heat [K/J], by difference quotients."""
        hydroxide, water, _ = self.whole.poured
        step = STEP * self.mass
        warmer = 1e5 * step  # some 1e-5 K

        def by(more: tuple[float, float, float], of: float) -> float:
            amounts = Amounts(hydroxide + more[0], water + more[1])
            t = settled(self.alkali, amounts, self.whole.heat + more[2])[0].temperature
            return 0.0 if t is None else (t - self.temperature) / of

        # At the end of the data hydroxide is taken away, since more of it would leave them.
        apart = step if self.strength + 2 * STEP < HIGHEST_MASS_FRACTION[self.alkali] else -step
        return by((apart, 0.0, 0.0), apart), by((0.0, step, 0.0), step), by((0.0, 0.0, warmer), warmer)

    def half_width_at(self, meeting: Meeting, *, of_boiling: bool = False) -> float:
        """95 % half-width of the temperature where two of the parts meet [K].

        Args:
            meeting: where they meet.
            of_boiling: whether of the distance to the boiling point, which goes with the strengths too.
        """
        first, second = self._least_known(meeting.first), self._least_known(meeting.second)
        w, t = meeting.mass_fraction, meeting.temperature
        boiling = self._boiling_slope(w) if of_boiling and (first.hydroxide or second.hydroxide) else 0.0
        if meeting.first == meeting.second:  # a part as it is: its temperature is given
            return coverage_half_width(combine([(boiling, first.spread)]))
        liquid = at_strength(self.alkali, w)
        capacity = liquid.heat_capacity(t)
        slope = enthalpy_slope(self.alkali, w, t)
        ends = ((first, meeting.share), (second, 1 - meeting.share))
        shares = [one._replace(part=one.part._replace(mass=share)) for one, share in ends]
        met = apart(self.alkali, shares, w)
        of_data = balance_half_width(self.alkali, met, Part(1.0, w, t))
        strengths = []
        for one, share in ends:
            _, own, own_t, ice = one.part
            if one.spread.standard_uncertainty and not ice:
                steeper = (enthalpy_slope(self.alkali, own, own_t) - slope) / capacity
                strengths.append((share * (steeper - boiling), one.spread))
        return hypot(of_data / capacity, coverage_half_width(combine(strengths)))

    def _least_known(self, index: int) -> Pour:
        """A part, or of what is as strong and as warm but for rounding the least known: either may be the one."""
        one = self.pours[index]
        alike_it = [
            other
            for other in self.pours
            if abs(other.part.mass_fraction - one.part.mass_fraction) <= SAME_STRENGTH
            and abs(other.part.temperature - one.part.temperature) <= SAME_WARMTH
            and other.part.ice == one.part.ice
        ]
        return max(alike_it, key=lambda other: coverage_half_width(other.spread))

    def _boiling_slope(self, w: float) -> float:
        """How the boiling point goes with the strength [K per mass fraction]."""
        low, high = max(0.0, w - 1e-3), min(vapour_pressure.HIGHEST_MASS_FRACTION[self.alkali], w + 1e-3)
        rise = vapour_pressure.boiling_point(self.alkali, high) - vapour_pressure.boiling_point(self.alkali, low)
        return rise / (high - low)

    @cached_property
    def _least(self) -> tuple[float, float, Meeting]:
        """Least distance to boiling, by how much inputs lessen it [K], and where it is.

        Beside the place that is nearest by the values every part as it is counts, by the end of its own spread: a part
        that is less surely known may come nearer than one that is as near.
        """
        nearest = self.way.nearest
        half = self.half_width_at(nearest, of_boiling=True)
        least = self.way.boiling_margin - half, half, nearest
        for index, one in enumerate(self.pours):
            if not one.spread.standard_uncertainty:
                continue
            _, w, t, _ = one.part
            own = Meeting(index, index, 1.0, w, t)
            half = self.half_width_at(own, of_boiling=True)
            margin = distance_to_boiling(self.alkali, w, t) - half
            if margin < least[0]:
                least = margin, half, own
        return least

    @property
    def boiling_margin(self) -> float:
        """Least distance to boiling, from the upper end of the temperature to the lower end of the boiling point."""
        return self._least[0]

    @property
    def nearest(self) -> tuple[Meeting, float]:
        """Where that is, and the 95 % half-width that is taken off there [K]."""
        _, half, meeting = self._least
        return meeting, half

    @cached_property
    def peak(self) -> tuple[float, float, float]:
        """Highest temperature on the way, and the ends of its interval [°C]."""
        at = self.way.at
        value = max(self.way.temperature, self.temperature)
        if at.temperature > vapour_pressure.boiling_point(self.alkali, at.mass_fraction) - ROUNDING:  # boiling caps it
            half = vapour_pressure.boiling_point_half_width(self.alkali, at.mass_fraction)
        else:
            half = self.half_width_at(at)
        warmest = max(one.part.temperature for one in self.pours)
        ends = (self.temperature + self.temperature_rooms[1], self._differing(), self._beyond(warmest, value, half))
        high = max(value + half, *ends)
        return value, min(value, max(warmest, value - half)), high

    def _beyond(self, warmest: float, value: float, half: float) -> float:
        """How hot it may get farther from the warmest part than where it is hottest by the values [°C].

        Near that part the temperature goes with the other part's share s as a s - b s**2, and is highest at a / 2 b;
        where the slope a may be larger, so is that place, and more is gained there than at the place by the values.
        """
        at, rise = self.way.at, value - warmest
        one, other = self.pours[at.first].part, self.pours[at.second].part
        if at.first == at.second or rise <= ROUNDING or half <= 0.0:
            return value
        share = at.share if one.temperature < other.temperature else 1.0 - at.share
        farther = min(share * (1.0 + half / (2.0 * rise)), 0.5 * (1.0 + share))
        of_first = farther if one.temperature < other.temperature else 1.0 - farther
        met = meet(self.alkali, [each.part for each in self.pours], at.first, at.second, of_first)
        return met.temperature + self.half_width_at(met)

    def _differing(self) -> float:
        """How hot what is about as warm as the warmest may get where two of it meet in halves [°C].

        By their values they may be alike; their strengths may differ by what they are known to.
        """
        warmest = max(one.part.temperature for one in self.pours)
        near = [
            (index, one, coverage_half_width(one.spread))
            for index, one in enumerate(self.pours)
            if not one.part.ice and warmest - one.part.temperature <= NEAR and one.hydroxide
        ]
        near.sort(key=lambda found: -found[2])
        found = -inf
        for place, (first, one, half) in enumerate(near[:MOST_NEAR]):
            for second, other, other_half in near[place + 1 : MOST_NEAR]:
                if half or other_half:
                    found = max(found, self._met_in_halves((first, one, half), (second, other, other_half)))
        return found

    def _met_in_halves(self, a: tuple[int, Pour, float], b: tuple[int, Pour, float]) -> float:
        """How hot two parts, with the half-widths of their strengths, may get in halves [°C]."""
        (first, one, half), (second, other, other_half) = a, b
        parts = [one.part._replace(mass=0.5), other.part._replace(mass=0.5)]
        whole = blend(self.alkali, parts)
        w, t = whole.mass_fraction, whole.state.temperature
        if t is None or whole.steam or whole.beyond_data:
            return -inf
        bend = sum(
            0.5 * enthalpy_bend(self.alkali, each.part.mass_fraction, t, reach)
            - enthalpy_bend(self.alkali, w, t, 0.5 * reach)
            for each, reach in ((one, half), (other, other_half))
        )
        capacity = at_strength(self.alkali, w).heat_capacity(t)
        return t + self.half_width_at(Meeting(first, second, 0.5, w, t)) + bend / capacity

    def volume_change(self) -> tuple[float, float] | None:
        """Volume of the whole less those of the parts [m3], and its 95 % half-width; None where no density reaches."""
        if any(one.part.ice for one in self.pours) or self.boiled or self.whole.state.ice_mass:
            return None
        if len(self.pours) == 1:
            return 0.0, 0.0
        apart, spreads = [], []
        try:
            for one in self.pours:
                mass, w, t, _ = one.part
                volume = mass / density.density(self.alkali, w, t)
                apart.append(volume)
                spreads.append(volume * model_spread(self.alkali, w, t))
            w, t = self.strength, self.temperature
            volume = self.mass / density.density(self.alkali, w, t)
            spreads.append(volume * model_spread(self.alkali, w, t))
        except OutOfRange:
            return None
        return fsum([volume, *(-one for one in apart)]), hypot(*spreads)

    @cached_property
    def solution(self) -> KnownSolution:
        """What is left, as it is answered."""
        w, mass = self.strength, self.mass
        unknown, denser, stronger = [], 0.0, 0.0
        for one in self.pours:
            if not one.uncertain:
                continue
            share, apart = one.part.mass / mass, one.part.mass_fraction - w
            heavier = share * one.volume.by_strength
            unknown.append(Unknown(heavier, share + apart * heavier, one.own))
            denser += share * one.volume.by_density
            stronger += share * (one.by_density + apart * one.volume.by_density)
        return KnownSolution(
            self.alkali,
            self.whole.mass,
            self.whole.mass_fraction,
            self.temperature,
            tuple(unknown),
            (denser, stronger),
            self.temperature_rooms,
            bool(self.whole.state.ice_mass),
            self._contraction(),
        )

    def _volume_with(self, one: Pour, more: float) -> float:
        """Volume of the whole at its temperature, were one of the parts so much stronger [m3]."""
        part = one.part
        w = part.mass_fraction + more
        mass = part.mass
        if one.volume != WEIGHED:
            own = density.density(self.alkali, part.mass_fraction, part.temperature)
            mass *= density.density(self.alkali, w, part.temperature) / own
        whole = self.mass + mass - part.mass
        hydroxide = self.mass * self.strength + mass * w - part.mass * part.mass_fraction
        return whole / density.density(self.alkali, hydroxide / whole, self.temperature)

    def _contraction(self) -> float:
        """By how much less the volume may be since volumes of solutions that look alike may differ in strength [1].

        Of volumes that were given the slopes cancel, and only the bend of the density is left.
        """
        if len(self.pours) == 1 or all(one.volume == WEIGHED for one in self.pours):
            return 0.0
        found = 0.0
        try:
            here = self._volume_with(self.pours[0], 0.0)
            for one in self.pours:
                half, w = coverage_half_width(one.spread), one.part.mass_fraction
                reach = min(half, w, density.HIGHEST_MASS_FRACTION[self.alkali] - w)
                if reach > 0.0:
                    sides = self._volume_with(one, -reach) + self._volume_with(one, reach)
                    found += (half / reach) ** 2 * (1.0 - sides / (2.0 * here))
        except OutOfRange:
            return 0.0
        return max(0.0, found)


def apart(alkali: AlkaliName, pours: Sequence[Pour], w: float) -> list[Part]:
    """Parts as far from the strength of the whole as they may well be, for what models leave of heats of diluting.

    Args:
        alkali: their hydroxide.
        pours: the parts.
        w: strength of the whole.
    """
    spreads = [one.spread.standard_uncertainty * one.part.mass for one in pours]
    if len(pours) == 1 or not any(spreads):
        return [one.part for one in pours]
    whole = fsum(one.part.mass for one in pours)
    square = fsum(one * one for one in spreads) / (whole * whole)
    top = HIGHEST_MASS_FRACTION[alkali]
    found = []
    for one in pours:
        mass, own, *_ = one.part
        # Of the part less the whole: what is its own counts but for its share.
        variance = square + one.spread.standard_uncertainty**2 * (1.0 - 2.0 * mass / whole)
        away = hypot(own - w, DIFFERING * sqrt(max(0.0, variance)))
        # Which side what is alike lies on is rounding: it counts as stronger, however that fell.
        farther = w + (away if own - w > -SAME_STRENGTH else -away)
        within = not one.part.ice and 0.0 <= farther <= top
        found.append(one.part._replace(mass_fraction=farther if within else own))
    return found


def pour_together(alkali: AlkaliName, pours: Sequence[Pour], notes: Notes) -> Pouring:
    """Some solutions poured together; refused where no data reach what they come to.

    Args:
        alkali: their hydroxide.
        pours: what is poured, in any order.
        notes: where the fault goes.
    """
    total = fsum(one.part.mass for one in pours)
    if total > MASS.high:
        raise notes.refuse(
            "",
            "out-of-range",
            f"together they weigh {weight(total)}, more than anything that is poured",
            "check the masses and their units",
        )
    pouring = Pouring(alkali, together(pours))
    if pouring.whole.state.temperature is None:
        raise notes.refuse(
            "",
            "beyond-data",
            "they come to something colder than the data reach: ice remains, and the freezing points of so strong a "
            "liquid are not known",
            "use less ice, or warmer water in its place",
        )
    return pouring
