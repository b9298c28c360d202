"""Alkali that fats need, and what an alkali leaves of them.

The saponification value of a fat is the mass of KOH that one mass of it takes up, esters and free acids
together [1]_. It is kg KOH per kg here: 190 mg/g is 0.190.

Superfat is reckoned by *alkali discount*: a superfat s means that the fats get (1 - s) times the alkali they
need, so s is the share of the fats' own demand that stays unmet. Reckoning by *excess fat* is another
definition: fat is added to a recipe that balances, in the ratio s' to the fat that is saponified. The same
batch has s' = s / (1 - s). Acids and other takers of alkali beside the fats are met in full; they are outside
the discount. A negative superfat is free alkali.

A triglyceride is saponified by 3 mol of hydroxide to 1 mol of glycerol and takes or gives no water; a free
acid gives 1 mol of water for 1 mol of hydroxide, and no glycerol.

References:
    .. [1] ISO 3657:2020, Animal and vegetable fats and oils: Determination of saponification value.
    .. [2] W. H. Simmons and H. A. Appleton, The Handbook of Soap Manufacture, London 1908, ch. X
       (saponification equivalent, acid value, ester value).
"""

import math
from collections.abc import Mapping
from typing import Final

from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import ROUNDING

HIGHEST_SAPONIFICATION_VALUE: Final = 0.95
"""[kg KOH per kg] (assumed: acetic acid, the smallest of the fatty acids, takes 0.934)."""

HIGHEST_SUPERFAT: Final = 0.99
"""Nothing is saponified beyond, and relations between alkali and superfat lose their meaning [-] (assumed)."""


def koh_demand(mass: float, saponification_value: float) -> float:
    """Mass of pure KOH that a fat needs [kg].

    Args:
        mass: mass of the fat, at least 0 [kg].
        saponification_value: 0 to 0.95 [kg KOH per kg].

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    _check("mass", mass, math.inf, "a mass is finite and not negative")
    _check(
        "saponification_value",
        saponification_value,
        HIGHEST_SAPONIFICATION_VALUE,
        "no fatty acid takes more alkali than acetic acid",
    )
    return mass * saponification_value


def hydroxide_amount(mass: float, saponification_value: float) -> float:
    """Amount of hydroxide that a fat needs [mol].

    Args:
        mass: mass of the fat, at least 0 [kg].
        saponification_value: 0 to 0.95 [kg KOH per kg].

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    return koh_demand(mass, saponification_value) / molar_masses.KOH


def alkali_masses(amount: float, mole_shares: Mapping[Alkali, float]) -> dict[Alkali, float]:
    """Mass of each pure alkali for an amount of hydroxide [kg].

    Args:
        amount: hydroxide wanted in all, at least 0 [mol].
        mole_shares: share of each alkali in that amount; the shares add up to 1.

    Raises:
        OutOfRange: if the amount is negative, a share is outside 0 to 1, or the shares do not add up to 1.
    """
    _check("amount", amount, math.inf, "an amount is finite and not negative")
    _check_shares("mole_shares", mole_shares)
    return {alkali: amount * share * molar_masses.ALKALI[alkali] for alkali, share in mole_shares.items()}


def mole_shares_from_mass_shares(mass_shares: Mapping[Alkali, float]) -> dict[Alkali, float]:
    """Share of each alkali in the hydroxide, from its share in the mass of pure alkali.

    Equal masses of both are 0.584 NaOH by moles: the two kinds of share must not be confused.

    Args:
        mass_shares: share of each alkali in the mass of pure alkali; the shares add up to 1.

    Raises:
        OutOfRange: if a share is outside 0 to 1, or the shares do not add up to 1.
    """
    _check_shares("mass_shares", mass_shares)
    amounts = {alkali: share / molar_masses.ALKALI[alkali] for alkali, share in mass_shares.items()}
    total = sum(amounts.values())
    return {alkali: amount / total for alkali, amount in amounts.items()}


def acid_amount(mass: float, content: float, protons: int, molar_mass: float) -> float:
    """Amount of hydroxide that an acid takes for full neutralisation [mol].

    Args:
        mass: mass of the acid as weighed, at least 0 [kg].
        content: mass fraction of the acid in it [-], 0 to 1.
        protons: protons that strong alkali neutralises, at least 1.
        molar_mass: molar mass of the acid, above 0, with its crystal water if the content counts it [kg/mol].

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    _check("mass", mass, math.inf, "a mass is finite and not negative")
    _check("content", content, 1.0, "a mass fraction")
    if protons < 1:
        raise OutOfRange("protons", protons, 1, math.inf, "an acid has a proton to give")
    if not molar_mass > 0.0:
        raise OutOfRange("molar_mass", molar_mass, 0.0, math.inf, "a molar mass is above 0")
    return mass * content * protons / molar_mass


def alkali_amount(ester_amount: float, superfat_wanted: float, acid: float = 0.0) -> float:
    """Amount of hydroxide that leaves a superfat [mol].

    Args:
        ester_amount: hydroxide that the fats can take, at least 0 [mol].
        superfat_wanted: share of it to be left unmet [-]; -0.99 to 0.99, negative for an excess of alkali.
        acid: hydroxide that acids take beside the fats, at least 0 [mol].

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    _check("ester_amount", ester_amount, math.inf, "an amount is finite and not negative")
    _check("acid", acid, math.inf, "an amount is finite and not negative")
    if not -HIGHEST_SUPERFAT <= superfat_wanted <= HIGHEST_SUPERFAT:
        raise OutOfRange(
            "superfat_wanted",
            superfat_wanted,
            -HIGHEST_SUPERFAT,
            HIGHEST_SUPERFAT,
            "a share of the fats' need",
        )
    return (1.0 - superfat_wanted) * ester_amount + acid


def superfat(alkali: float, acid: float, ester_amount: float) -> float:
    """Share of the fats' need for alkali that is left unmet, 1 - (alkali - acid) / need.

    It is negative where alkali is left over, and above 1 where acids take more than there is.

    Args:
        alkali: hydroxide delivered, at least 0 [mol].
        acid: hydroxide that acids take beside the fats, at least 0 [mol].
        ester_amount: hydroxide that the fats can take, above 0 [mol].

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    _check("alkali", alkali, math.inf, "an amount is finite and not negative")
    _check("acid", acid, math.inf, "an amount is finite and not negative")
    if not 0.0 < ester_amount < math.inf:
        raise OutOfRange("ester_amount", ester_amount, 0.0, math.inf, "without fat there is no superfat")
    return 1.0 - (alkali - acid) / ester_amount


def excess_fat(alkali_discount: float) -> float:
    """Superfat by excess fat, s' = s / (1 - s), from superfat by alkali discount.

    Args:
        alkali_discount: share of the fats' need left unmet [-], -0.99 to 0.99.

    Raises:
        OutOfRange: if it is outside this range.
    """
    if not -HIGHEST_SUPERFAT <= alkali_discount <= HIGHEST_SUPERFAT:
        raise OutOfRange(
            "alkali_discount",
            alkali_discount,
            -HIGHEST_SUPERFAT,
            HIGHEST_SUPERFAT,
            "a share of the fats' need",
        )
    return alkali_discount / (1.0 - alkali_discount)


def glycerol_mass(saponified_ester_amount: float) -> float:
    """Mass of glycerol set free, one third of a mole for each mole of ester groups [kg].

    Args:
        saponified_ester_amount: ester groups of triglycerides that alkali has saponified, at least 0 [mol].
            Free acids, waxes and resins give no glycerol and are not to be counted.

    Raises:
        OutOfRange: if the amount is negative or not finite.
    """
    _check("saponified_ester_amount", saponified_ester_amount, math.inf, "an amount is not negative")
    return saponified_ester_amount / 3.0 * molar_masses.GLYCEROL


def neutralisation_water_mass(neutralised_amount: float) -> float:
    """Mass of water that free acids give when alkali neutralises them [kg].

    Args:
        neutralised_amount: hydroxide taken up by acids, at least 0 [mol].

    Raises:
        OutOfRange: if the amount is negative or not finite.
    """
    _check("neutralised_amount", neutralised_amount, math.inf, "an amount is not negative")
    return neutralised_amount * molar_masses.WATER


def _check(quantity: str, value: float, high: float, reason: str) -> None:
    if not 0.0 <= value <= high or value == math.inf:
        raise OutOfRange(quantity, value, 0.0, high, reason)


def _check_shares(quantity: str, shares: Mapping[Alkali, float]) -> None:
    for share in shares.values():
        _check(quantity, share, 1.0, "a share")
    total = sum(shares.values())
    if abs(total - 1.0) > ROUNDING:
        raise OutOfRange(quantity, total, 1.0, 1.0, "the shares add up to 1")
