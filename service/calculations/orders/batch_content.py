"""What a batch consists of: as its parts are poured, and once it has reacted."""

from collections.abc import Sequence
from functools import cached_property
from typing import Final

from service.calculations.batch.blend_reading import content_of as held_by
from service.calculations.batch.fats import WeighedFat
from service.calculations.batch.split import Added
from service.calculations.batch.superfat_weighed import Drawn
from service.calculations.orders.batch_made import Weighed
from service.chemistry import food_density, water
from service.chemistry.batter import COLDEST, HOTTEST, BatterDensity, BatterPart, batter_density, fat_density
from service.chemistry.curing import cured_mass
from service.chemistry.density import density, density_half_width
from service.chemistry.errors import OutOfRange
from service.chemistry.soap_yield import BatchYield, Groups, Taker, batch_yield
from service.reference import reference_data

ADDITION: Final = (1700.0, 800.0)
"""Density of an addition where none is given, and its half-width [kg/m3] (assumed: from fragrance oils, 0.9 kg/L, to
salts and clays, 2.2 to 2.6 kg/L)."""
SOLID: Final = (1900.0, 400.0)
"""The same of solid alkali and acids as they are dissolved [kg/m3] (assumed; it bears on little)."""
_GROUPS: Final[dict[str, Groups]] = {
    "triglyceride": "triglyceride",
    "fatty-acid": "acid",
    "resin": "acid",
    "wax": "other-ester",
}


class Content:
    """What a batch consists of once it has reacted; masses in kg.

    Attributes:
        mass: of all of it.
        reacted: what becomes of the fats, those of liquids last, and of the alkali.
        water_in: water that was poured in.
        water: water in it, that of neutralised acids counted.
    """

    def __init__(self, weighed: Weighed) -> None:
        self.weighed = weighed
        self.mass = weighed.mass
        alkali = sum([one.amount for one in weighed.drawn])
        self.mean_molar_mass = sum([one.alkali_mass for one in weighed.drawn]) / alkali
        acids = [one.mass * one.content for one in weighed.acids]
        acids += [one.mass * one.liquid.acid_per_mass for one in weighed.liquids]
        self.reacted: BatchYield = batch_yield(
            [*map(_taker, weighed.fats), *[one for one in map(_liquid_taker, weighed.liquids) if one is not None]],
            alkali,
            self.mean_molar_mass,
            sum(acids),
        )

    @cached_property
    def water_in(self) -> float:
        """Water that was poured in, what solid alkali holds beside hydroxide not counted."""
        weighed = self.weighed
        known = reference_data().acids
        return (
            weighed.dissolving_water
            + sum([one.reagent.mass - one.alkali_mass for one in weighed.drawn if one.from_stock])
            + sum([one.mass * one.liquid.water for one in weighed.liquids])
            + sum([one.mass * (1 - known[str(one.reagent)].content) for one in weighed.acids])
            + sum([one.mass * one.given.water_share.value for one in weighed.additions if one.given.water_share])
        )

    @cached_property
    def water(self) -> float:
        """Water in it."""
        return self.water_in + self.reacted.water

    @property
    def glycerol(self) -> float:
        """Glycerol set free."""
        return self.reacted.glycerol

    def mass_at(self, moisture: float) -> float:
        """Its mass when it has dried to a moisture [kg].

        Args:
            moisture: mass fraction of water, at most what it has.

        Raises:
            OutOfRange: it never held so much water.
        """
        return cured_mass(self.mass, self.water, moisture)

    @property
    def dry_mass(self) -> float:
        """All that is not water."""
        return self.mass - self.water


def _taker(weighed: WeighedFat) -> Taker:
    return Taker(weighed.mass, weighed.need, _GROUPS[weighed.fat.kind])


def _liquid_taker(added: Added) -> Taker | None:
    line = added.fat_line
    if line is None:
        return None
    need = WeighedFat(added.liquid.fat_like, line.mass, line.mass_part).need if added.liquid.fat_like else 0.0
    return Taker(line.mass, need, "triglyceride")


def batter(weighed: Weighed, t: float) -> BatterDensity:
    """Density of a batch as it is poured.

    Args:
        weighed: the batch.
        t: its temperature [°C]; beyond 0 to 100 °C the nearer of them is taken.
    """
    t = min(max(t, COLDEST), HOTTEST)
    parts = [BatterPart(one.mass, *fat_density(str(one.fat.key), t)) for one in weighed.fats]
    caustic = [BatterPart(one.reagent.mass, *_caustic_density(one, t)) for one in weighed.drawn]
    parts += caustic
    if weighed.dissolving_water:
        parts.append(BatterPart(weighed.dissolving_water, water.density(t)))
    parts += [BatterPart(one.mass, *_liquid_density(one, t)) for one in weighed.liquids]
    parts += [BatterPart(one.mass, *SOLID) for one in weighed.acids]
    parts += [
        BatterPart(one.mass, one.given.density.value) if one.given.density else BatterPart(one.mass, *ADDITION)
        for one in weighed.additions
    ]
    return batter_density(parts, contraction=_contraction(weighed, caustic, t))


def _caustic_density(drawn: Drawn, t: float) -> tuple[float, float]:
    """Density of a draw of stock, or of solid alkali, and its half-width [kg/m3]."""
    if not drawn.from_stock:
        return SOLID
    return density(drawn.alkali, drawn.content, t), density_half_width(drawn.alkali, drawn.content, t)


def _contraction(weighed: Weighed, caustic: Sequence[BatterPart], t: float) -> float:
    """Volume that caustic and all the water of a batch lose as they mix [m3], one to two per cent of a batter."""
    added = weighed.dissolving_water + sum([one.mass * one.liquid.water for one in weighed.liquids])
    side_by_side = added / water.density(t) + sum([one.mass / one.density for one in caustic])
    whole = added + sum([one.mass for one in caustic])
    hydroxide = sum([one.alkali_mass for one in weighed.drawn])
    try:
        mixed = [
            one.alkali_mass / hydroxide * whole / density(one.alkali, hydroxide / whole, t) for one in weighed.drawn
        ]
    except OutOfRange:  # so concentrated that there is hardly any water to mix with
        return 0.0
    return max(0.0, side_by_side - sum(mixed))


def _liquid_density(added: Added, t: float) -> tuple[float, float]:
    """Density of a liquid: that of the catalogue, as water expands, or that of what it holds."""
    known = added.liquid.density
    if known is not None:
        return known * water.density(t) / water.density(20.0), 0.02 * known
    held = held_by(added.liquid.id)
    value = food_density.density(held.water, held.dry, t)
    return value, food_density.SPREAD * value
