"""What a batch of several fats consists of once all that can react has reacted: soap, glycerol, water, fat, alkali.

Alkali takes acids first, then free fatty acids and the acids of resins, and what is left saponifies esters, of every
fat the same share. 3 mol of hydroxide set free 1 mol of glycerol from a triglyceride, and each acid group 1 mol of
water [1]_. Esters of waxes give neither: their alcohols stay with the soap and are counted as a part of it.

References:
    .. [1] W. H. Simmons and H. A. Appleton, The Handbook of Soap Manufacture, London 1908, ch. X
       (saponification equivalent, acid value, ester value).
"""

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.saponification import glycerol_mass, neutralisation_water_mass

Groups = Literal["triglyceride", "acid", "other-ester"]
"""What takes the alkali of a fat: esters of glycerol, free acid groups, or other esters."""


class Taker(NamedTuple):
    """A fat that takes alkali.

    Attributes:
        mass: its mass [kg].
        need: hydroxide that all of it takes [mol].
        groups: what takes it.
    """

    mass: float
    need: float
    groups: Groups


class SoapOf(NamedTuple):
    """What becomes of one fat [kg]; together it is the fat and the hydroxide that it takes."""

    soap: float
    glycerol: float
    water: float
    fat: float
    """Of it, what stays as it was."""


class BatchYield(NamedTuple):
    """What a batch consists of."""

    fats: list[SoapOf]
    alkali_left: float
    """Hydroxide that nothing takes [mol]."""
    acid_water: float
    """Water that the acids beside the fats set free [kg]."""

    @property
    def glycerol(self) -> float:
        """Of all fats [kg]."""
        return math.fsum(one.glycerol for one in self.fats)

    @property
    def water(self) -> float:
        """Set free by acids of every kind [kg]."""
        return self.acid_water + math.fsum(one.water for one in self.fats)


def batch_yield(fats: Sequence[Taker], alkali: float, mean_molar_mass: float, acid: float = 0.0) -> BatchYield:
    """What fats, alkali and acids become [kg, mol].

    Args:
        fats: what takes alkali; masses and needs at least 0 [kg, mol].
        alkali: hydroxide of all alkalis together, at least 0 [mol].
        mean_molar_mass: of the hydroxides together, 0.0399 to 0.0562 [kg/mol].
        acid: hydroxide that acids beside the fats take, at least 0 [mol].

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    _check("mean_molar_mass", mean_molar_mass, molar_masses.NAOH * 0.999, molar_masses.KOH * 1.001, "NaOH to KOH")
    for name, value in (("alkali", alkali), ("acid", acid)):
        _check(name, value, 0.0, math.inf, "an amount is finite and not negative")
    for one in fats:
        _check("mass", one.mass, 0.0, math.inf, "a mass is finite and not negative")
        _check("need", one.need, 0.0, math.inf, "an amount is finite and not negative")
    neutralised = min(acid, alkali)
    left = alkali - neutralised
    of_acids, left = _share(left, math.fsum(one.need for one in fats if one.groups == "acid"))
    of_esters, left = _share(left, math.fsum(one.need for one in fats if one.groups != "acid"))
    found = [_soap_of(one, of_acids if one.groups == "acid" else of_esters, mean_molar_mass) for one in fats]
    return BatchYield(found, left, neutralisation_water_mass(neutralised))


def _share(alkali: float, need: float) -> tuple[float, float]:
    """Share of a need that alkali meets, and what is left of the alkali [mol]."""
    if alkali >= need:
        return 1.0, alkali - need
    return alkali / need, 0.0


def _soap_of(fat: Taker, share: float, mean_molar_mass: float) -> SoapOf:
    taken = fat.need * share
    glycerol = glycerol_mass(taken) if fat.groups == "triglyceride" else 0.0
    water = neutralisation_water_mass(taken) if fat.groups == "acid" else 0.0
    reacted = fat.mass * share
    return SoapOf(reacted + taken * mean_molar_mass - glycerol - water, glycerol, water, fat.mass - reacted)


def _check(quantity: str, value: float, low: float, high: float, reason: str) -> None:
    if not low <= value <= high or value == math.inf:
        raise OutOfRange(quantity, value, low, high, reason)
