"""Fats, caustic stock and other liquids stirred together: the temperature before any of the fat saponifies.

The balance of enthalpies. What is not known beforehand is how far the liquids' water has thinned the stock by the time
somebody looks at the thermometer, so the heat of diluting is a share from none to all of it: with `share` s

    H(t) = fats(t) + dry(t) + (1 - s) (stock(t) + water(t)) + s (diluted stock(t) - heat of acids)

Ice in a liquid melts; where the heat does not reach for all of it, the blend stays at 0 °C. Fats are taken as liquids,
and the heat of what sets or melts in them is asked for apart (`Melting`).

References:
    .. [1] balance of masses and enthalpies; `service.chemistry.enthalpy`, `food_heat` and `water`.
"""

from collections.abc import Sequence
from math import fsum
from typing import Final, NamedTuple

from service.chemistry import food_heat
from service.chemistry.blending import Part
from service.chemistry.enthalpy import EXTENDED_RANGE, at_strength
from service.chemistry.food_heat import FAT, Dry, heat_of
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require, rising_root
from service.chemistry.water import ice_enthalpy

HEAT_OF_FUSION: Final = 150e3
"""Heat that melts a fat [J/kg], taken as the most there is to melt (about that of cocoa butter, harder than most: from
memory). No published figure for the fats was read, and soft ones take less."""
_COLDEST: Final = EXTENDED_RANGE[0]
_NARROWEST: Final = 1.0
"""A melting point that is told as one figure is spread over so much [K] (assumed)."""
_START: Final = 35.0
_KEPT: Final = (-200.0, 300.0)
"""Where a search for a temperature begins, and the ends it is kept between [°C] (numerical)."""
_STEP: Final = 0.01
"""Over which the heat capacity of ice is taken [K] (numerical)."""


class Warm(NamedTuple):
    """A fat at its temperature."""

    mass: float
    """kg."""
    temperature: float
    """°C."""
    acid: bool = False
    """Whether it is a free fatty acid, whose heat capacity is known less well."""


class Liquid(NamedTuple):
    """Another liquid, by what is in it."""

    water: float
    """Its water, ice included [kg]."""
    dry: Dry
    """All else [kg]."""
    temperature: float
    """°C."""
    ice: float = 0.0
    """The part of its water that is ice [kg]."""


class Melting(NamedTuple):
    """A fat that was set when it was weighed."""

    mass: float
    """kg."""
    temperature: float
    """°C, its own."""
    low: float
    """Where it begins to melt [°C]."""
    high: float
    """Where all of it has melted [°C]."""

    def melted(self, t: float) -> float:
        """Share of it that melts on the way from its own temperature to another, at most [-].

        Args:
            t: temperature [°C].
        """
        return max(0.0, self._liquid(t) - self._liquid(self.temperature))

    def _liquid(self, t: float) -> float:
        high = max(self.high, self.low + _NARROWEST)
        return min(max((t - self.low) / (high - self.low), 0.0), 1.0)


class Met(NamedTuple):
    """What a batch comes to."""

    temperature: float
    """°C."""
    ice: float
    """Ice that is left, at 0 °C [kg]."""


class Blend:
    """Fats, a stock and other liquids before they react.

    Attributes:
        alkali: hydroxide of the stock.
        stock: the stock.
        fats: the fats at their temperatures; none where these are what is asked.
        fat_mass: of all the fats [kg].
        liquids: the other liquids.
        water: in all of the liquids, ice included [kg].
        ice: in all of the liquids [kg].
        thinned: mass fraction of hydroxide in stock and water together [-].
        beside: enthalpy that stock and liquids bring [J].
        heat_of_fusion: of ice at 0 °C [J/kg].
    """

    def __init__(
        self,
        alkali: Alkali,
        stock: Part,
        fats: Sequence[Warm],
        liquids: Sequence[Liquid],
        *,
        fat_mass: float | None = None,
        acid_heat: float = 0.0,
    ) -> None:
        """Put a batch together.

        Args:
            alkali: NaOH or KOH.
            stock: mass above 0 [kg], NaOH 0 to 0.55, KOH 0 to 0.50 [-], -28 to 200 °C.
            fats: each with its mass above 0 [kg], -40 to 150 °C.
            liquids: -28 to 100 °C.
            fat_mass: of all the fats [kg], where their temperatures are what is asked.
            acid_heat: heat that acids of the liquids give off with the stock [J].

        Raises:
            OutOfRange: something is outside these ranges.
        """
        require("mass", stock.mass, 1e-12, 1e9, "there must be a stock")
        require("temperature", stock.temperature, *EXTENDED_RANGE, "heats of solutions reach no further")
        for fat in fats:
            require("temperature", fat.temperature, food_heat.COLDEST, food_heat.HOTTEST, "heat capacities of fats")
        for liquid in liquids:
            require("temperature", liquid.temperature, _COLDEST, 100.0, "liquids and ice at 1 atm")
        self.alkali: Alkali = alkali
        self.stock = stock
        self.fats = tuple(fats)
        self.liquids = tuple(liquids)
        self.fat_mass = fsum(one.mass for one in fats) if fat_mass is None else fat_mass
        self.water = fsum(one.water for one in liquids)
        self.ice = fsum(one.ice for one in liquids)
        self.thinned = stock.mass * stock.mass_fraction / (stock.mass + self.water)
        self._acid_heat = acid_heat
        self._own = at_strength(alkali, stock.mass_fraction)
        self._plain = at_strength(alkali, 0.0)
        self._diluted = at_strength(alkali, self.thinned)
        dry = heat_of(
            Dry(*(fsum(column) for column in zip(*[one.dry for one in liquids], strict=True)) if liquids else ())
        )
        self._fats = food_heat.Heat(*(self.fat_mass * one for one in FAT))
        self._dry = dry
        self.heat_of_fusion = self._plain.enthalpy(0.0) - ice_enthalpy(0.0)
        self.beside = self.stock.mass * self._own.enthalpy(stock.temperature) + fsum(map(self.liquid_heat, liquids))

    def liquid_heat(self, one: Liquid) -> float:
        """Enthalpy that a liquid brings [J].

        Args:
            one: the liquid; ice at or below 0 °C.
        """
        t = one.temperature
        heat = (one.water - one.ice) * self._plain.enthalpy(t) + heat_of(one.dry).enthalpy(t)
        return heat + one.ice * ice_enthalpy(t) if one.ice else heat

    def liquid_capacity(self, one: Liquid) -> float:
        """Heat capacity of a liquid at its own temperature [J/K]; of ice by what it takes up without melting.

        Args:
            one: the liquid.
        """
        t = one.temperature
        capacity = (one.water - one.ice) * self._plain.heat_capacity(t) + heat_of(one.dry).capacity(t)
        return capacity + one.ice * (ice_enthalpy(t) - ice_enthalpy(t - _STEP)) / _STEP if one.ice else capacity

    @property
    def brought(self) -> float:
        """Enthalpy that everything brings [J]."""
        return self.beside + fsum(one.mass * FAT.enthalpy(one.temperature) for one in self.fats)

    def enthalpy(self, t: float, share: float) -> float:
        """Enthalpy of the whole at a temperature, all of it liquid [J].

        Args:
            t: temperature [°C].
            share: part of the heat of diluting that is given off [-].
        """
        apart = self.stock.mass * self._own.enthalpy(t) + self.water * self._plain.enthalpy(t)
        together = (self.stock.mass + self.water) * self._diluted.enthalpy(t) - self._acid_heat
        return self._fats.enthalpy(t) + self._dry.enthalpy(t) + (1.0 - share) * apart + share * together

    def capacity(self, t: float, share: float) -> float:
        """Heat capacity of the whole [J/K].

        Args:
            t: temperature [°C].
            share: part of the water that has thinned the stock [-].
        """
        apart = self.stock.mass * self._own.heat_capacity(t) + self.water * self._plain.heat_capacity(t)
        together = (self.stock.mass + self.water) * self._diluted.heat_capacity(t)
        return self._fats.capacity(t) + self._dry.capacity(t) + (1.0 - share) * apart + share * together

    def temperature_of(self, heat: float, share: float) -> float:
        """Temperature at which the whole, all of it liquid, has an enthalpy [°C]; kept between -200 and 300.

        Args:
            heat: enthalpy [J].
            share: part of the heat of diluting that is given off [-].
        """
        t = _START
        for _ in range(40):
            step = (self.enthalpy(t, share) - heat) / self.capacity(t, share)
            t = min(max(t - step, _KEPT[0]), _KEPT[1])
            if abs(step) < 1e-11:
                break
        return t

    def fats_needed(self, t: float, share: float, less: float = 0.0) -> float:
        """Temperature of the fats that makes the blend a wanted one [°C], kept between -40 and 150.

        Args:
            t: wanted temperature [°C], 0 to 100.
            share: part of the heat of diluting that is given off [-].
            less: heat that comes from elsewhere [J].

        Raises:
            OutOfRange: t outside that range.

        References:
            .. [1] as the module has it.
        """
        require("temperature", t, 0.0, 100.0, "a batch is a liquid with water in it")
        due = self.enthalpy(t, share) - self.beside - less
        return FAT.temperature(due / self.fat_mass)


def meet(blend: Blend, share: float, more: float = 0.0) -> Met:
    """What it comes to, nothing lost and nothing reacted.

    Args:
        blend: the batch.
        share: part of the heat of diluting that is given off [-], 0 to 1.
        more: heat that comes to it from elsewhere [J].

    Raises:
        OutOfRange: it comes to less than 0 °C with water in it, or to less than -28 or more than 200 °C; the value
            is then the temperature at which all would be liquid.

    References:
        .. [1] as the module has it.

    Examples:
        >>> oil, lye = Warm(1.0, 40.0), Part(0.25, 0.5, 25.0)
        >>> round(meet(Blend("NaOH", lye, [oil], []), 0.0).temperature, 1)
        35.7
    """
    heat = blend.brought + more
    short = blend.enthalpy(0.0, share) - heat
    if short > 0.0 and blend.water > 0.0:
        ice = short / blend.heat_of_fusion
        if ice <= blend.ice:
            return Met(0.0, ice)
        t = blend.temperature_of(heat, share)
        raise_at = 0.0
    else:
        t, raise_at = blend.temperature_of(heat, share), _COLDEST
    require("temperature", t, raise_at, EXTENDED_RANGE[1], "the water of such a blend freezes")
    return Met(t, 0.0)


def meet_melting(blend: Blend, share: float, fats: Sequence[Melting]) -> float:
    """Temperature where fats that had set take up the most heat there may be to melt them [°C].

    Args:
        blend: the batch.
        share: part of the heat of diluting that is given off [-].
        fats: those that had set.

    Raises:
        OutOfRange: as `meet` does.

    References:
        .. [1] `HEAT_OF_FUSION`; the melted share is taken to rise straight over the melting range.
    """
    above = meet(blend, share).temperature
    heat = blend.brought

    def with_melting(t: float) -> float:
        return blend.enthalpy(t, share) + HEAT_OF_FUSION * fsum(one.mass * one.melted(t) for one in fats)

    if with_melting(above) <= heat:
        return above
    low = min(above, *(one.temperature for one in fats), _COLDEST)
    if with_melting(low) >= heat:
        return low
    return rising_root(with_melting, heat, low, above, quantity="heat", reason="a balance closes between them")
