"""Density of milk, juice and other liquids by their composition: the volumes of water and of what is in it add up."""

from typing import Final

from service.chemistry import water as of_water
from service.chemistry.food_heat import Dry
from service.chemistry.ranges import require
from service.reference import tables

COLDEST: Final = 0.0
HOTTEST: Final = 100.0
"""Temperatures [°C] between which liquids with water in them are reckoned with (assumed)."""
ETHANOL: Final = (806.4, -0.85)
"""Density of ethanol [kg/m3] as c0 + c1 t: 789.4 at 20 °C (J. A. Schroeder et al., J. Phys. Chem. Ref. Data 43, 2014,
043102, evaluated with the package CoolProp 8.0.0: computed; the line lies within 0.1 % to 50 °C). What mixing it with
water takes off the volume, at most 4 %, is left out."""
SPREAD: Final = 0.03
"""95 % half-width, relative [-] (assumed: household weights of milks and juices lie within 2 % of it)."""
_TABLE: Final = tables.read("choi_okos_1986_density.csv")
_COMPONENTS: Final = (
    *(_TABLE.select(component=name) for name in ("protein", "fat", "carbohydrate", "ash")),
    ETHANOL,
)


def density(water: float, dry: Dry, t: float) -> float:
    """Density of a liquid by its composition [kg/m3].

    Args:
        water: mass fraction of water, 0 to 1 [-].
        dry: mass fractions of what else it holds; with water they make 1 [-].
        t: temperature, 0 to 100 [°C].

    Raises:
        OutOfRange: outside these ranges.

    References:
        .. [1] Y. Choi, M. R. Okos 1986, as printed in ASHRAE Handbook - Refrigeration (SI) 2006, ch. 9, Table 1.

    Examples:
        >>> goat_milk = Dry(protein=0.0356, fat=0.0414, carbohydrate=0.0445, ash=0.0082)
        >>> round(density(0.8703, goat_milk, 20.0))
        1025
    """
    require("water", water, 0.0, 1.0, "a mass fraction")
    require("temperature", t, COLDEST, HOTTEST, "liquids with water in them")
    volume = water / of_water.density(t)
    for mass, (c0, c1) in zip(dry, _COMPONENTS, strict=True):
        volume += mass / (c0 + c1 * t)
    return (water + sum(dry)) / volume
