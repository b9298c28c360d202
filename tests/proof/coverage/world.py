"""What is true in one draw: the densities, the fats and the liquids as they might really be.

Inside `drawn`, the density of a caustic solution is off by as much as its model may be (normal, alike for every
strength and temperature), and a fat or a liquid of the catalogue has a saponification value, an iodine value and an
acidity somewhere between its limits (rectangular), and, where that is asked for, fatty acids too, which add
up to 1. What a calculation
then answers to exact inputs is the truth of that draw, and it tells no interval for them.
"""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from math import fsum
from typing import Any, Final

import numpy as np

from service.calculations.batch import fats, liquids
from service.calculations.batch.fats import KnownFat
from service.calculations.batch.liquids import KnownLiquid
from service.calculations.registry import calculations
from service.calculations.shared.reading import NORMAL_95
from service.calculations.stock import stocks
from service.chemistry import density
from service.chemistry.fatty_acids import Spread
from service.chemistry.molar_masses import Alkali
from service.chemistry.uncertainty import EXACT
from service.reference import reference_data
from tests.proof.coverage.drawing import Random

TRIES: Final = 10_000
"""How often a composition that adds up to 1 is looked for."""
_SODA: Final = density._caustic_soda
_POTASH: Final = density._laliberte
_WIDTH: Final = density.relative_half_width
_FAT: Final = fats.catalogue_fat
_LIQUID: Final = liquids.catalogue_liquid


class World:
    """One draw of what is not asked from the caller.

    Attributes:
        random: where the draws come from.
        off: by how many standard uncertainties the densities of each hydroxide are off.
    """

    def __init__(self, random: Random, *, acids: bool = False) -> None:
        self.random = random
        self._acids = acids
        self.off: dict[Alkali, float] = {"NaOH": float(random.normal()), "KOH": float(random.normal())}
        self._fats: dict[str, KnownFat] = {}
        self._liquids: dict[str, KnownLiquid] = {}

    def fat(self, identifier: str) -> KnownFat:
        """A fat as it is in this draw."""
        if identifier not in self._fats:
            fat = _FAT(identifier)
            iodine = fat.iodine_value
            self._fats[identifier] = fat._replace(
                saponification_value=self._within(fat.saponification_value, fat.saponification_part[1]),
                saponification_part=EXACT,
                saponification_half_width=0.0,
                iodine_value=None if iodine is None else self._within(iodine, fat.iodine_part[1]),
                iodine_part=EXACT,
                acids=self._composition(identifier) if self._acids else fat.acids,
            )
        return self._fats[identifier]

    def _composition(self, identifier: str) -> tuple[Spread, ...] | None:
        """The fatty acids of a fat: each within its printed limits, and all together 1.

        All but the widest are drawn, and that one is the rest; where it lies beyond its limits, all are drawn anew.
        What was drawn and then scaled to 1 would lie beyond the limits that it was drawn from.
        """
        acids = _FAT(identifier).acids
        if acids is None:
            return None
        found = tuple(Spread(one.code, one.middle, *EXACT) for one in acids)
        printed = reference_data().fats[identifier].fatty_acids
        if printed is None or not printed.is_range:
            return found
        limits = printed.shares
        widest = max(limits, key=lambda code: limits[code][1] - limits[code][0])
        for _ in range(TRIES if isinstance(self.random, np.random.Generator) else 1):
            drawn = {code: float(self.random.uniform(*ends)) for code, ends in limits.items() if code != widest}
            rest = 1.0 - fsum(drawn.values())
            if limits[widest][0] <= rest <= limits[widest][1]:
                drawn[widest] = rest
                return tuple(one._replace(middle=drawn[one.code]) for one in found)
        return found

    def liquid(self, identifier: str) -> KnownLiquid:
        """A liquid as it is in this draw; its fat is as the fat that it is like."""
        if identifier not in self._liquids:
            liquid = _LIQUID(identifier)
            like = liquid.fat_like
            self._liquids[identifier] = liquid._replace(
                acid_per_mass=self._within(liquid.acid_per_mass, liquid.acid_part[1]),
                acid_part=EXACT,
                fat_like=None if like is None else self._alike(like),
            )
        return self._liquids[identifier]

    def _alike(self, fat: KnownFat) -> KnownFat:
        """The fat of a liquid: another lot than the fat of that name in the batch."""
        value = self._within(fat.saponification_value, fat.saponification_part[1])
        return fat._replace(saponification_value=value, saponification_part=EXACT, saponification_half_width=0.0)

    def _within(self, middle: float, half_width: float) -> float:
        return float(self.random.uniform(middle - half_width, middle + half_width)) if half_width else middle


def _off(formula: Callable[[float, float], float], alkali: Alkali, world: World) -> Callable[[float, float], float]:
    """A density formula as it is in a draw; pure water is known."""

    def true(w: float, t: float) -> float:
        rho = formula(w, t)
        return rho * (1.0 + world.off[alkali] * _WIDTH(alkali, w, t) / NORMAL_95) if w > 0.0 else rho

    return true


@contextmanager
def drawn(world: World) -> Iterator[None]:
    """Let the service reckon with what is true in a draw."""
    replaced: list[tuple[Any, Any]] = [
        (_SODA, _off(_SODA, "NaOH", world)),
        (_POTASH, _off(_POTASH, "KOH", world)),
        (_WIDTH, lambda *_: 0.0),
        (_FAT, world.fat),
        (_LIQUID, world.liquid),
    ]
    try:
        for original, true in replaced:
            _put(original, true)
        stocks.known_stock.cache_clear()
        yield
    finally:
        for original, _ in replaced:
            _put_back(original)
        stocks.known_stock.cache_clear()


_PLACES: Final[dict[int, list[tuple[Any, str]]]] = {}


def _places(original: Any) -> list[tuple[Any, str]]:
    """Every module that has the original under a name; of all calculations, whichever has been asked before."""
    found = _PLACES.get(id(original))
    if found is None:
        calculations()  # a module that were loaded only later would reckon with the original in every draw
        modules = [module for name, module in sorted(sys.modules.items()) if name.startswith("service.")]
        found = [(one, name) for one in modules for name, held in list(vars(one).items()) if held is original]
        _PLACES[id(original)] = found
    return found


def _put(original: Any, true: Any) -> None:
    for module, name in _places(original):
        setattr(module, name, true)


def _put_back(original: Any) -> None:
    for module, name in _places(original):
        setattr(module, name, original)
