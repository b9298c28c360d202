"""What a saponified batch consists of by mass, and the water that thins it to a wanted content of soap.

Soap is the anhydrous alkali salt of fatty acids. By conservation of mass it is the fat that was saponified and the
hydroxide that did it, less the glycerol that esters set free and the water that free acids set free; 3 mol of
hydroxide set free 1 mol of glycerol, and a free acid 1 mol of water for each mole [1]_. Fat that finds no alkali
stays as it was and is no soap.

References:
    .. [1] W. H. Simmons and H. A. Appleton, The Handbook of Soap Manufacture, London 1908, ch. X
       (saponification equivalent, acid value, ester value).
"""

import math
from collections.abc import Mapping
from typing import NamedTuple

from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from service.chemistry.saponification import glycerol_mass


class Saponified(NamedTuple):
    """Masses that a saponification leaves [kg]; together they are the fat and the hydroxide that went in."""

    soap: float
    glycerol: float
    fat: float
    alkali: float
    water: float


def saponified(fat_mass: float, ester_amount: float, acid_amount: float, alkalis: Mapping[Alkali, float]) -> Saponified:
    """Soap, glycerol, fat left, hydroxide left and water formed, once all that can react has reacted [kg].

    Esters and free acids, and both alkalis, are taken to react in the shares they are there in.

    Args:
        fat_mass: fat that alkali saponifies, above 0 [kg].
        ester_amount: hydroxide that its esters take, at least 0 [mol].
        acid_amount: hydroxide that its free acids take, at least 0; not both 0 [mol].
        alkalis: hydroxide left for the fat after other acids, each at least 0, not all 0 [mol].

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    amounts = [("ester_amount", ester_amount), ("acid_amount", acid_amount)]
    amounts += [(str(alkali), amount) for alkali, amount in alkalis.items()]
    for name, value in amounts:
        _check(name, value, 0.0, math.inf, "an amount is finite and not negative")
    need, given = ester_amount + acid_amount, sum(alkalis.values())
    for name, value in {"fat_mass": fat_mass, "need": need, "alkalis": given}.items():
        _check(name, value, math.ulp(0.0), math.inf, "without fat and alkali there is no soap")
    return reacting(fat_mass, ester_amount, acid_amount, alkalis, min(need, given))


def reacting(
    fat_mass: float, ester_amount: float, acid_amount: float, alkalis: Mapping[Alkali, float], reacted: float
) -> Saponified:
    """The same once an amount has reacted [kg]; below 0 what there would have to be more of for that.

    Args:
        fat_mass: as of `saponified` [kg].
        ester_amount: as of `saponified` [mol].
        acid_amount: as of `saponified` [mol].
        alkalis: as of `saponified` [mol].
        reacted: hydroxide that reacts [mol].
    """
    need, given = ester_amount + acid_amount, sum(alkalis.values())
    done, used = reacted / need, reacted / given
    hydroxide = sum(amount * molar_masses.ALKALI[alkali] for alkali, amount in alkalis.items())
    glycerol = glycerol_mass(ester_amount * done)
    water = acid_amount * done * molar_masses.WATER
    soap = fat_mass * done + hydroxide * used - glycerol - water
    return Saponified(soap, glycerol, fat_mass * (1 - done), hydroxide * (1 - used), water)


def water_to_thin(mass: float, soap_share: float, wanted_share: float) -> float:
    """Water that thins a soap to a wanted content [kg]; below 0 that much must be boiled off instead.

    Args:
        mass: mass of the soap with all it holds, above 0 [kg].
        soap_share: mass fraction of anhydrous soap in it, above 0 and at most 1 [-].
        wanted_share: mass fraction of anhydrous soap wanted, above 0 and at most 1 [-].

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    _check("mass", mass, math.ulp(0.0), math.inf, "a mass is finite and above 0")
    _check("soap_share", soap_share, math.ulp(0.0), 1.0, "a share is above 0 and at most 1")
    _check("wanted_share", wanted_share, math.ulp(0.0), 1.0, "a share is above 0 and at most 1")
    return mass * (soap_share / wanted_share - 1)


def _check(quantity: str, value: float, low: float, high: float, reason: str) -> None:
    if not (low <= value <= high and math.isfinite(value)):
        raise OutOfRange(quantity, value, low, high, reason)
