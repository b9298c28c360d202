"""How warm a batch gets, how warm its fats must be, and how far the reaction goes on from there, with intervals.

Caustic and water mix in every proportion, and give off their heat where they meet: so the balance closes with all of
the heat of diluting, which is the value. A thermometer may show less while the stock has not met all of the liquids'
water; the lower end counts none of that heat. That is a bound and no probability; the 95 % of models, weighings,
thermometers and strength are added at both ends (JCGM 100:2008, 5.1.2).
"""

from collections.abc import Hashable, Sequence
from functools import cached_property
from math import fsum, hypot
from typing import Final, NamedTuple

from service.calculations.batch.acids import HEAT_OF_NEUTRALISATION
from service.calculations.batch.blend_reading import FatTemperature, ReadLiquid
from service.calculations.batch.fats import WeighedFat
from service.calculations.batch.melting import set_fats
from service.calculations.mixing.poured import Pour
from service.calculations.shared.messages import AlkaliName
from service.calculations.stock.volumes import WEIGHED
from service.chemistry import blending, molar_masses, vapour_pressure
from service.chemistry.batch_blend import Blend, Warm, meet, meet_melting
from service.chemistry.batch_spread import (
    heat_per_mass_of_stock,
    heat_per_strength,
    model_half_width,
    unfrozen_share,
)
from service.chemistry.blending import balance_half_width, enthalpy_slope
from service.chemistry.enthalpy import at_strength
from service.chemistry.food_heat import FAT, Dry
from service.chemistry.saponification import hydroxide_amount
from service.chemistry.uncertainty import Combined, Part, combine, coverage_half_width

HEAT_OF_SAPONIFICATION: Final = 52e3
"""For each mole of ester [J/mol] (mixed: J. Therm. Anal. Calorim. 139 (2020) 1301, and the heat of neutralisation). No
published figure for fats was read: an ester of acetic acid takes 3.6 kJ/mol to be split, as the journal says, and the
acid then gives off about 56 with alkali, which is from memory."""
WARM: Final = 25.0
"""Temperature that heats of dilution hold for [°C]."""
ROUGHLY: Final = 2.0
"""Factor within which the rise is told (judged): what crystallises, and what is still to be split, is not known."""


class Ends(NamedTuple):
    """A value between two ends."""

    value: float
    low: float
    high: float


class Takers(NamedTuple):
    """Amounts of hydroxide [mol]."""

    alkali: float
    """In the stock."""
    acid: float
    """Taken by acids of the liquids."""
    need: float
    """Taken by fats, those of the liquids among them; wax that hardly takes any is left out."""

    @property
    def reacting(self) -> float:
        """What saponifies: the lesser of what is there and what is taken."""
        return max(0.0, min(self.alkali - self.acid, self.need))


def takers_of(fats: Sequence[WeighedFat], pour: Pour, alkali: AlkaliName, liquids: Sequence[ReadLiquid]) -> Takers:
    """What of the stock's alkali is taken, by best estimates.

    Args:
        fats: the fats.
        pour: the stock.
        alkali: its hydroxide.
        liquids: the other liquids.
    """
    own = fsum(one.need for one in fats if not one.fat.hardly_saponified)
    beside = fsum(
        hydroxide_amount(one.mass * one.liquid.fat, one.liquid.fat_like.saponification_value)
        for one in liquids
        if one.liquid.fat_like is not None and one.liquid.fat
    )
    amount = pour.part.mass * pour.part.mass_fraction / molar_masses.ALKALI[alkali]
    acid = fsum(one.mass * one.liquid.acid_per_mass for one in liquids)
    return Takers(amount, min(acid, amount), own + beside)


class Runs:
    """A batch before it reacts.

    Attributes:
        blend: what is stirred together.
        fats: the fats.
        liquids: the other liquids.
        pour: the stock.
        takers: amounts of hydroxide.
        set_fats: fats that were not wholly liquid when they were weighed, by name.
    """

    def __init__(
        self,
        alkali: AlkaliName,
        fats: Sequence[WeighedFat],
        temperatures: Sequence[FatTemperature] | None,
        pour: Pour,
        liquids: Sequence[ReadLiquid],
    ) -> None:
        self.fats = fats
        self.liquids = liquids
        self.pour = pour
        self.takers = takers_of(fats, pour, alkali, liquids)
        self._temperatures = temperatures
        warm = [] if temperatures is None else temperatures
        self.acid_heat = self.takers.acid * HEAT_OF_NEUTRALISATION
        self.blend = Blend(
            alkali,
            pour.part,
            [Warm(fat.mass, t.value, fat.fat.kind == "fatty-acid") for fat, t in zip(fats, warm, strict=False)],
            [one.content for one in liquids],
            fat_mass=fsum(one.mass for one in fats),
            acid_heat=self.acid_heat,
        )
        self.set_fats = set_fats(fats, [t.value for t in warm]) if temperatures is not None else []

    @property
    def mass(self) -> float:
        """Of all of it [kg]."""
        return self.blend.fat_mass + self.blend.stock.mass + fsum(one.mass for one in self.liquids)

    @cached_property
    def held_back(self) -> float:
        """Heat that ice does not take up where part of the water is not frozen, at most [J]."""
        fusion = self.blend.heat_of_fusion
        return fusion * fsum(
            one.content.ice * unfrozen_share(one.freezing, one.content.temperature)
            for one in self.liquids
            if one.content.ice
        )

    @cached_property
    def dilution_heat(self) -> Ends:
        """Heat of thinning the stock by all of the liquids' water at 25 °C, with that of their acids [J]."""
        blend = self.blend
        alkali, stock, thinned = blend.alkali, blend.stock, blend.thinned
        before, after = at_strength(alkali, stock.mass_fraction).at_25, at_strength(alkali, thinned).at_25
        heat = stock.mass * before - (stock.mass + blend.water) * after
        whole = blending.Part(stock.mass + blend.water, thinned, WARM)
        of_data = balance_half_width(alkali, [stock], whole, warmth=False)
        slope = enthalpy_slope(alkali, thinned, WARM)
        parts: list[tuple[float, Part | Combined]] = []
        if self.pour.uncertain:
            own = enthalpy_slope(alkali, stock.mass_fraction, WARM)
            per_mass = before - after - slope * (stock.mass_fraction - thinned)
            parts += self.pour.amount.contributions(stock.mass * (own - slope), per_mass)
        for one in self.liquids:
            if one.mass_part.standard_uncertainty:
                water = one.content.water / one.mass
                acid = one.liquid.acid_per_mass * HEAT_OF_NEUTRALISATION
                parts.append((water * (thinned * slope - after) + acid, one.mass_part))
        room = hypot(of_data, coverage_half_width(combine(parts)))
        heat += self.acid_heat
        return Ends(heat, heat - room, heat + room)

    @cached_property
    def boiling_points(self) -> tuple[float, float]:
        """Boiling point of the stock as it is, and of it with all the water [°C]."""
        w = self.blend.stock.mass_fraction
        return (
            vapour_pressure.boiling_point(self.blend.alkali, w),
            vapour_pressure.boiling_point(self.blend.alkali, self.blend.thinned),
        )

    @cached_property
    def uncapped(self) -> tuple[float, float]:
        """What it comes to with none and with all of the heat of diluting, had nothing boiled [°C]."""
        return meet(self.blend, 0.0).temperature, meet(self.blend, 1.0).temperature

    @cached_property
    def ice_left(self) -> float:
        """Ice that does not melt where no heat of diluting helps [kg]."""
        return meet(self.blend, 0.0).ice

    @cached_property
    def melting(self) -> float:
        """What it comes to where fats that had set take the most heat they may; not below 0 with water in it [°C]."""
        found = meet_melting(self.blend, 0.0, [one for _, one in self.set_fats])
        return max(found, 0.0) if self.blend.water else found

    @cached_property
    def reach(self) -> tuple[float, float]:
        """Lowest and highest temperature it may come to, had nothing boiled [°C]."""
        none, every = self.uncapped
        apart, together = self.half_width(none, 0.0), self.half_width(every, 1.0)
        low = min(none - apart, every - together)
        high = max(none + apart, every + together)
        if self.set_fats:
            low = min(low, self.melting - apart)
        if self.held_back:
            warm = meet(self.blend, 1.0, self.held_back).temperature
            high = max(high, warm + together)
        return low, high

    @cached_property
    def temperature(self) -> Ends:
        """What it comes to, capped at boiling [°C]."""
        low, high = self.reach
        own, thinned = self.boiling_points
        value = min(self.uncapped[1], thinned)
        return Ends(value, min(low, value), max(value, min(high, own)))

    @property
    def boils(self) -> bool:
        """Whether any of its water may boil."""
        thinned = self.boiling_points[1]
        return self.reach[1] > thinned - vapour_pressure.boiling_point_half_width(self.blend.alkali, self.blend.thinned)

    def half_width(self, t: float, share: float) -> float:
        """95 % half-width of the temperature at one share of the heat of diluting [K].

        Args:
            t: what it comes to [°C].
            share: the share, 0 or 1.
        """
        capacity = self.blend.capacity(t, share)
        return hypot(model_half_width(self.blend, t, share), self._of_inputs(t, share) / capacity)

    def _of_inputs(self, t: float, share: float) -> float:
        """95 % half-width of the heat that masses, temperatures and the strength leave open [J]."""
        blend = self.blend
        parts: list[tuple[float, Part | Combined]] = []
        there = FAT.enthalpy(t)
        pots: dict[Hashable, tuple[float, Part]] = {}
        for fat, warm in zip(self.fats, self._temperatures or (), strict=False):
            mass_part = fat.line.mass_part
            if mass_part.standard_uncertainty:
                parts.append((FAT.enthalpy(warm.value) - there, mass_part))
            if warm.part.standard_uncertainty:
                before, _ = pots.get(warm.pot, (0.0, warm.part))
                pots[warm.pot] = (before + fat.mass * FAT.capacity(warm.value), warm.part)
        parts += list(pots.values())
        for one in self.liquids:
            if one.mass_part.standard_uncertainty:
                parts.append((self._of_liquid(one, t, share), one.mass_part))
            if one.temperature_part.standard_uncertainty:
                parts.append((blend.liquid_capacity(one.content), one.temperature_part))
        if self.pour.uncertain:
            per_mass = heat_per_mass_of_stock(blend, t, share) if self.pour.volume != WEIGHED else 0.0
            parts += self.pour.amount.contributions(heat_per_strength(blend, t, share), per_mass)
        return coverage_half_width(combine(parts))

    def _of_liquid(self, one: ReadLiquid, t: float, share: float) -> float:
        """By how much a kilogram more of a liquid changes the heat that is left for the rest [J/kg]."""
        step = 1e-6
        content = one.content
        more = content._replace(
            water=content.water * step, ice=content.ice * step, dry=Dry(*(x * step for x in content.dry))
        )
        blend = self.blend
        grown = Blend(blend.alkali, blend.stock, blend.fats, [*blend.liquids, more], fat_mass=blend.fat_mass)
        base = self._without_acids
        rise = grown.enthalpy(t, share) - base.enthalpy(t, share)
        return (grown.beside - base.beside - rise) / (step * one.mass)

    @cached_property
    def _without_acids(self) -> Blend:
        """The blend, its acids giving off no heat."""
        blend = self.blend
        return Blend(blend.alkali, blend.stock, blend.fats, blend.liquids, fat_mass=blend.fat_mass)

    def needed(self, wanted: float) -> Ends:
        """How warm the fats must be for a wanted temperature [°C].

        Args:
            wanted: the temperature [°C].
        """
        blend = self.blend
        value = blend.fats_needed(wanted, 1.0)
        found = []
        for share, elsewhere in ((0.0, 0.0), (1.0, self.held_back)):
            due = blend.fats_needed(wanted, share)
            there = self.with_fats(due)
            room = there.half_width(wanted, share) * blend.capacity(wanted, share)
            found += [blend.fats_needed(wanted, share, less) for less in (-room, elsewhere + room)]
        return Ends(value, min(value, *found), max(value, *found))

    def with_fats(self, t: float) -> "Runs":
        """The same with all the fats at one temperature, which is exact.

        Args:
            t: that temperature [°C].
        """
        warm = FatTemperature(t, Part(0.0), "needed")
        return Runs(self.blend.alkali, self.fats, [warm] * len(self.fats), self.pour, self.liquids)

    def reaction_rise(self, t: float) -> Ends:
        """By how much saponifying would warm it, were no heat lost [K].

        Args:
            t: temperature that it starts from [°C].
        """
        rise = self.takers.reacting * HEAT_OF_SAPONIFICATION / self.blend.capacity(t, 1.0)
        return Ends(rise, rise / ROUGHLY, rise * ROUGHLY)
