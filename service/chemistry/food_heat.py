"""Heat capacity and enthalpy of fats, and of what is dissolved in milk, juices and other liquids, by their composition.

A food's heat capacity is the sum of those of its components, each by its mass fraction. Water is not among them here:
of the equation for it one coefficient is printed in two ways (4.1289 and 4.1762 kJ/(kg K); at 20 °C the first comes
out 1.3 % below steam tables, the second 0.2 %), and `service.chemistry.water` knows it to 0.04 %. Enthalpies have the
zero of `service.chemistry.enthalpy`, 25 °C.
"""

from functools import lru_cache
from typing import Final, NamedTuple

from service.chemistry.ranges import require
from service.chemistry.water import ZERO
from service.reference import tables

_TABLE: Final = tables.read("choi_okos_1986.csv")
COLDEST: Final = -40.0
HOTTEST: Final = 150.0
"""Temperatures [°C] between which the equations hold (Choi and Okos 1986 in the ASHRAE Handbook, seen-secondary)."""
_WHY: Final = "heat capacities of food components were fitted from -40 to 150 °C"
ETHANOL: Final = 2438.0
"""Heat capacity of liquid ethanol at 25 °C [J/(kg K)]: 112.3 J/(mol K) (CRC Handbook of Chemistry and Physics, in the
package chemicals 1.5.2, seen-secondary); taken for every temperature, since it is a few per cent of a beer or a
wine."""
SPREAD: Final = 0.05
"""95 % half-width of a heat capacity by this way, relative [-]: estimates for fatty oils by their fatty acids hold
within 5 % (the abstract of Morad et al., JAOCS 77, 2000, 1001-1005: seen-secondary); taken for the other components
too."""
ACIDS_FROM: Final = 50.0
"""Temperature [°C] up to which the heat capacity of free fatty acids is within `SPREAD` of that of fats (oleic acid:
CRC Handbook of Chemistry and Physics, and Zábranský et al., Heat Capacity of Liquids, as in the package thermo;
seen-secondary)."""
_ACIDS_RISE: Final = (3.8, 0.055)
"""From there on theirs rises more steeply: measured ones of oleic, stearic and palmitic acid (Zábranský et al.,
seen-secondary) lie 11 to 12 % above that of fats at 80 °C, 17 to 19 at 100 °C and 48 at 150 °C. Coefficients of what is
added to `SPREAD` to hold them [J/(kg K²), J/(kg K³)] (fitted to reach 0.2 to 2.3 % beyond the highest of them)."""


class Dry(NamedTuple):
    """What a liquid holds beside its water [kg, or kg per kg of it]."""

    protein: float = 0.0
    fat: float = 0.0
    carbohydrate: float = 0.0
    """With fibre, and with all that no analysis names."""
    ash: float = 0.0
    ethanol: float = 0.0


class Heat(NamedTuple):
    """Enthalpy of a mixture of components, a polynomial in temperature: c1 (t - 25) + c2 (t² - 25²) + c3 (t³ - 25³).

    Made by `heat_of`. Its methods do no range check, since they serve inner loops; callers hold to `COLDEST` and
    `HOTTEST`.
    """

    c1: float
    c2: float
    c3: float

    def enthalpy(self, t: float) -> float:
        """Enthalpy [J, or J/kg where the components were given per kg].

        Args:
            t: temperature [°C].
        """
        x, y = t - ZERO, t + ZERO
        return x * (self.c1 + self.c2 * y + self.c3 * (t * y + ZERO * ZERO))

    def capacity(self, t: float) -> float:
        """Heat capacity [J/K, or J/(kg K)].

        Args:
            t: temperature [°C].
        """
        return self.c1 + t * (2.0 * self.c2 + 3.0 * self.c3 * t)

    def temperature(self, h: float) -> float:
        """Temperature [°C] at which the enthalpy is h, by Newton's method, kept between `COLDEST` and `HOTTEST`.

        Args:
            h: enthalpy [J, or J/kg].
        """
        t = ZERO
        for _ in range(30):
            step = (self.enthalpy(t) - h) / self.capacity(t)
            t = min(max(t - step, COLDEST), HOTTEST)
            if abs(step) < 1e-12:
                break
        return t


def _component(name: str) -> Heat:
    a, b, c = (1e3 * one for one in _TABLE.select(component=name))
    return Heat(a, b / 2.0, c / 3.0)


_PROTEIN: Final = _component("protein")
FAT: Final = _component("fat")
"""Of one kilogram of liquid fat."""
_CARBOHYDRATE: Final = _component("carbohydrate")
_ASH: Final = _component("ash")
_ETHANOL: Final = Heat(ETHANOL, 0.0, 0.0)
"""Without its rise with temperature [J/(kg K2), J/(kg K3)] (assumed: it is a few per cent of a beer or a wine)."""
_COMPONENTS: Final = (_PROTEIN, FAT, _CARBOHYDRATE, _ASH, _ETHANOL)


@lru_cache(maxsize=256)
def heat_of(dry: Dry) -> Heat:
    """Enthalpy, as a function of temperature, of what a liquid holds beside its water.

    Args:
        dry: masses of the components [kg], or their mass fractions [-].

    References:
        .. [1] Y. Choi, M. R. Okos 1986, as printed in ASHRAE Handbook - Refrigeration (SI) 2006, ch. 9, Table 1.
    """
    held = list(zip(dry, _COMPONENTS, strict=True))
    return Heat(
        sum([mass * one.c1 for mass, one in held]),
        sum([mass * one.c2 for mass, one in held]),
        sum([mass * one.c3 for mass, one in held]),
    )


def fat_heat_capacity(t: float) -> float:
    """Heat capacity of a liquid fat or oil [J/(kg K)], to 5 %.

    Args:
        t: temperature [°C], -40 to 150; of a fat that has set it tells nothing, since crystals melt as it warms.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] as `heat_of`.

    Examples:
        >>> round(fat_heat_capacity(40.0))
        2035
    """
    require("temperature", t, COLDEST, HOTTEST, _WHY)
    return FAT.capacity(t)


def acid_spread(t: float) -> float:
    """95 % half-width of the heat capacity of a liquid free fatty acid, taken as that of a fat [J/(kg K)].

    Measured ones lie above it, and it reaches as far to either side. From `ACIDS_FROM` up it rests on one source, the
    fits of three acids from 45 to 155 °C at most; for other acids it is an extrapolation.

    Args:
        t: temperature [°C], -40 to 150.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] M. Zábranský et al., Heat Capacity of Liquids: Critical Review and Recommended Values, as in the package
           thermo; `SPREAD`.

    Examples:
        >>> round(acid_spread(80.0) / fat_heat_capacity(80.0), 3)
        0.129
    """
    warmer = max(0.0, t - ACIDS_FROM)
    first, second = _ACIDS_RISE
    return SPREAD * fat_heat_capacity(t) + warmer * (first + second * warmer)


def acid_heat_spread(t: float) -> float:
    """What is added to the spread of a fat's enthalpy where it is a free fatty acid [J/kg], from `ACIDS_FROM` to t.

    The integral of `acid_spread` less that of `SPREAD`. No range check, since it serves inner loops.

    Args:
        t: temperature [°C].

    References:
        .. [1] as `acid_spread`.
    """
    warmer = max(0.0, t - ACIDS_FROM)
    first, second = _ACIDS_RISE
    return warmer * warmer * (first / 2.0 + second * warmer / 3.0)


def fat_enthalpy(t: float) -> float:
    """Enthalpy of a liquid fat or oil relative to 25 °C [J/kg]: the integral of `fat_heat_capacity`.

    Args:
        t: temperature [°C], -40 to 150.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] as `heat_of`.
    """
    require("temperature", t, COLDEST, HOTTEST, _WHY)
    return FAT.enthalpy(t)


def heat_capacity(water_heat_capacity: float, water: float, dry: Dry, t: float) -> float:
    """Heat capacity of a liquid by its composition [J/(kg K)].

    Args:
        water_heat_capacity: of water at that temperature [J/(kg K)].
        water: mass fraction of water [-].
        dry: mass fractions of what else it holds [-].
        t: temperature [°C], -40 to 150.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] as `heat_of`.

    Examples:
        >>> from service.chemistry.water import heat_capacity as of_water
        >>> goat_milk = Dry(protein=0.0356, fat=0.0414, carbohydrate=0.0445, ash=0.0082)
        >>> round(heat_capacity(of_water(20.0), 0.8703, goat_milk, 20.0))
        3878
    """
    require("temperature", t, COLDEST, HOTTEST, _WHY)
    return water * water_heat_capacity + heat_of(dry).capacity(t)
