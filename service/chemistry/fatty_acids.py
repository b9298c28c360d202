"""What the fatty acids of a fat say about it: molar mass, saponification value and iodine value.

Compositions are mass fractions of all the fatty acids, by the standard shorthand (C18:1 for 18 carbon atoms
and one double bond). They need not add up to 1: published analyses leave traces out, and middles of
published limits add up to anything from 0.95 to 1.07. Every function puts them on 1 first.

The mean molar mass is the *molar* mean, 1 / sum(w / M): molecules are counted, since each takes one
hydroxide. A mean weighted by mass is in use as well. For acids of similar length it makes no difference,
but for coconut oil it puts the saponification value at 0.247 kg/kg, below the 0.248 to 0.265 of CXS
210-1999, instead of 0.254.

Values computed here hold for triglycerides without free acids, mono- or diglycerides.

References:
    .. [1] AOCS Recommended Practice Cd 1c-85 (reapproved 2009), Calculated iodine value; it underlies
       Annex B of ISO 3961:2018.
    .. [2] JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.2.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Final, Literal, NamedTuple

from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import EXACT, Combined, coverage_factor, rectangular
from service.reference.records import FattyAcid

Form = Literal["triglyceride", "free-acid"]

CD_1C_85_FACTORS: Final[dict[Form, dict[str, float]]] = {
    "triglyceride": {
        "C16:1": 0.950,
        "C18:1": 0.860,
        "C18:2": 1.732,
        "C18:3": 2.616,
        "C20:1": 0.785,
        "C22:1": 0.723,
    },
    "free-acid": {
        "C16:1": 0.9976,
        "C18:1": 0.8986,
        "C18:2": 1.810,
        "C18:3": 2.735,
        "C20:1": 0.8175,
        "C22:1": 0.7497,
    },
}
"""Iodine value per mass fraction of the acid, as printed in [1]_ [kg I2 per kg] (seen-primary)."""

HIGHEST_UNSAPONIFIABLE: Final = 0.5
"""Mass fraction of unsaponifiable matter above which a material is no fat but a wax [-] (assumed)."""


class CalculatedIodineValue(NamedTuple):
    """Iodine value by the factors of AOCS Cd 1c-85.

    Attributes:
        iodine_value: iodine taken up by the acids that have a factor [kg I2 per kg].
        share_without_factor: mass fraction of unsaturated acids for which the method has no factor
            (ricinoleic acid, the fish-oil acids), which the value leaves out.
    """

    iodine_value: float
    share_without_factor: float


class Share(NamedTuple):
    """Share of one fatty acid in a blend, with its 95 % interval."""

    value: float
    low: float
    high: float


_NOTHING: Final = (0.0, 0.0, 0.0, 0.0, 0.0)
"""Sums over the fats for an acid that none of a blend is known to hold [-] (exact)."""


class Spread(NamedTuple):
    """Share of one fatty acid in a fat, as middle and uncertainty, and between what it cannot but lie.

    Attributes:
        code: the acid in the standard shorthand.
        middle: its share.
        standard_uncertainty: that of the share.
        half_width: that of its limits, where they are what is known, else 0.
        least: no composition within the published limits has less.
        most: none has more.
    """

    code: str
    middle: float
    standard_uncertainty: float
    half_width: float
    least: float = 0.0
    most: float = 1.0


def fatty_acid_molar_mass(carbons: int, double_bonds: int, hydroxyls: int = 0) -> float:
    """Molar mass of a straight-chain fatty acid [kg/mol].

    Args:
        carbons: carbon atoms, at least 1.
        double_bonds: carbon-carbon double bonds, 0 up to half the carbon atoms beside the carboxyl group's.
        hydroxyls: hydroxyl groups on the chain, at least 0 (ricinoleic acid has one).

    Raises:
        OutOfRange: if an argument is outside these ranges.
    """
    if carbons < 1:
        raise OutOfRange("carbons", carbons, 1, math.inf, "a carboxyl group holds a carbon atom")
    if not 0 <= double_bonds <= (carbons - 1) // 2:
        raise OutOfRange("double_bonds", double_bonds, 0, (carbons - 1) // 2, "the chain is too short for more")
    if hydroxyls < 0:
        raise OutOfRange("hydroxyls", hydroxyls, 0, math.inf, "a count")
    return (
        carbons * molar_masses.CARBON
        + (2 * carbons - 2 * double_bonds) * molar_masses.HYDROGEN
        + (2 + hydroxyls) * molar_masses.OXYGEN
    )


def triglyceride_molar_mass(mean_acid_molar_mass: float) -> float:
    """Molar mass of the triglyceride of acids of a mean molar mass, 3 M + glycerol - 3 water [kg/mol].

    Args:
        mean_acid_molar_mass: molar mean over the acids, above 0 [kg/mol].

    Raises:
        OutOfRange: if it is not above 0.
    """
    if not 0.0 < mean_acid_molar_mass < math.inf:
        raise OutOfRange("mean_acid_molar_mass", mean_acid_molar_mass, 0.0, math.inf, "a molar mass is above 0")
    return 3.0 * mean_acid_molar_mass + molar_masses.GLYCEROL - 3.0 * molar_masses.WATER


def normalised(shares: Mapping[str, float]) -> dict[str, float]:
    """The shares, scaled to add up to 1.

    Args:
        shares: share of each fatty acid, at least 0, in any common unit; not all 0.

    Raises:
        OutOfRange: if a share is negative or not finite, or all are 0.
    """
    for code, share in shares.items():
        if not 0.0 <= share < math.inf:
            raise OutOfRange(code, share, 0.0, math.inf, "a share is finite and not negative")
    total = sum(shares.values())
    if not total > 0.0:
        raise OutOfRange("shares", total, 0.0, math.inf, "a composition holds at least one acid")
    return {code: share / total for code, share in shares.items()}


def mean_molar_mass(shares: Mapping[str, float], acids: Mapping[str, FattyAcid]) -> float:
    """Molar mean of the molar masses of the acids, 1 / sum(w / M) [kg/mol].

    Args:
        shares: mass fraction of each acid in all the acids, not all 0.
        acids: the acids by code.

    Raises:
        OutOfRange: if a share is negative or not finite, or all are 0.
        KeyError: if the code of a share is not among the acids.
    """
    return 1.0 / sum(share / acids[code].molar_mass for code, share in normalised(shares).items())


def saponification_value(
    shares: Mapping[str, float], acids: Mapping[str, FattyAcid], unsaponifiable: float = 0.0
) -> float:
    """Saponification value of the triglycerides of these acids [kg KOH per kg].

    3 M(KOH) / M(triglyceride), times (1 - U) for a share U of unsaponifiable matter. A *measured* value holds
    that dilution already; a computed one does not.

    Args:
        shares: mass fraction of each acid in all the acids, not all 0.
        acids: the acids by code.
        unsaponifiable: mass fraction of unsaponifiable matter in the fat [-], 0 to 0.5.

    Raises:
        OutOfRange: if an argument is outside these ranges.
        KeyError: if the code of a share is not among the acids.
    """
    _check_unsaponifiable(unsaponifiable)
    molar_mass = triglyceride_molar_mass(mean_molar_mass(shares, acids))
    return 3.0 * molar_masses.KOH / molar_mass * (1.0 - unsaponifiable)


def acid_value(shares: Mapping[str, float], acids: Mapping[str, FattyAcid]) -> float:
    """Alkali that these acids take when they are free, M(KOH) / M [kg KOH per kg].

    Args:
        shares: mass fraction of each acid, not all 0.
        acids: the acids by code.

    Raises:
        OutOfRange: if a share is negative or not finite, or all are 0.
        KeyError: if the code of a share is not among the acids.
    """
    return molar_masses.KOH / mean_molar_mass(shares, acids)


def acid_mass_fraction(
    shares: Mapping[str, float], acids: Mapping[str, FattyAcid], unsaponifiable: float = 0.0
) -> float:
    """Mass of fatty acids that one mass of a fat yields; 0.94 for coconut oil, 0.956 for olive oil.

    Args:
        shares: mass fraction of each acid in all the acids, not all 0.
        acids: the acids by code.
        unsaponifiable: mass fraction of unsaponifiable matter in the fat [-], 0 to 0.5.

    Raises:
        OutOfRange: if an argument is outside these ranges.
        KeyError: if the code of a share is not among the acids.
    """
    _check_unsaponifiable(unsaponifiable)
    mean = mean_molar_mass(shares, acids)
    return 3.0 * mean / triglyceride_molar_mass(mean) * (1.0 - unsaponifiable)


def iodine_value(
    shares: Mapping[str, float],
    acids: Mapping[str, FattyAcid],
    form: Form = "triglyceride",
    unsaponifiable: float = 0.0,
) -> float:
    """Iodine value, n M(I2) / M with n double bonds in a molar mass M [kg I2 per kg].

    It holds for every acid, ricinoleic and fish-oil acids among them. Unsaponifiable matter is taken to bind
    no iodine, which is a little low where it is squalene or sterols.

    Args:
        shares: mass fraction of each acid in all the acids, not all 0.
        acids: the acids by code.
        form: whether the acids are bound in triglycerides or free.
        unsaponifiable: mass fraction of unsaponifiable matter [-], 0 to 0.5.

    Raises:
        OutOfRange: if an argument is outside these ranges.
        KeyError: if the code of a share is not among the acids.
    """
    _check_unsaponifiable(unsaponifiable)
    amount = double_bonds = 0.0
    for code, share in normalised(shares).items():
        acid = acids[code]
        moles = share / acid.molar_mass
        amount += moles
        double_bonds += moles * acid.double_bonds
    mass = amount * triglyceride_molar_mass(1.0 / amount) / 3.0 if form == "triglyceride" else 1.0
    return double_bonds * 2.0 * molar_masses.IODINE / mass * (1.0 - unsaponifiable)


def iodine_value_cd_1c_85(
    shares: Mapping[str, float], acids: Mapping[str, FattyAcid], form: Form = "triglyceride"
) -> CalculatedIodineValue:
    """Iodine value by the factors of AOCS Recommended Practice Cd 1c-85 [1]_.

    The method tends to read low above 0.5 % of unsaponifiable matter and for low iodine values, and it has
    factors for six acids only: look at `share_without_factor` before using the figure.

    Args:
        shares: mass fraction of each acid in all the acids, not all 0.
        acids: the acids by code.
        form: whether the acids are bound in triglycerides or free.

    Raises:
        OutOfRange: if a share is negative or not finite, or all are 0.
        KeyError: if the code of a share is not among the acids.
    """
    factors = CD_1C_85_FACTORS[form]
    value = without = 0.0
    for code, share in normalised(shares).items():
        factor = factors.get(code)
        if factor is not None:
            value += share * factor
        elif acids[code].double_bonds:
            without += share
    return CalculatedIodineValue(value, without)


def spreads(limits: Mapping[str, tuple[float, float]]) -> tuple[Spread, ...]:
    """Middle and uncertainty of each share, from published limits.

    The limits hold for acids that add up to 1, and their middles seldom do. What is lacking or over is laid on each
    acid by the square of its half-width, by least squares [1]_: on the acids of which most is open, and hardly on those
    that are known narrowly. No middle leaves its limits. Where nothing is open, or no composition within the limits
    adds up to 1, all are scaled. The half-widths stay as published. Worth keeping for each fat, where a blend is asked
    for often.

    No share leaves its limits, nor what the limits of the others leave of 1; those that are scaled because their limits
    never add up to 1 are bounded by nothing.

    Args:
        limits: low and high mass fraction of each acid in all the acids; both alike for a single analysis.

    Raises:
        OutOfRange: if limits are negative, not finite or the wrong way round, or all are 0.

    References:
        .. [1] JCGM 100:2008, H.3 (least squares); of independent shares with a known sum.
    """
    for code, (low, high) in limits.items():
        if not low <= high:
            raise OutOfRange(code, low, 0.0, high, "the lower limit is not above the upper one")
    middles = {code: (low + high) / 2.0 for code, (low, high) in limits.items()}
    scaled = normalised(middles)  # which refuses what makes no sense
    halves = {code: (high - low) / 2.0 for code, (low, high) in limits.items()}
    lacking = 1.0 - sum(middles.values())
    if not any(halves.values()):
        return tuple(Spread(code, share, *EXACT, share, share) for code, share in scaled.items())
    if sum(halves.values()) < abs(lacking):
        return tuple(Spread(code, scaled[code], *rectangular(half)) for code, half in halves.items())
    middles = _levelled(middles, halves, lacking)
    beyond_low, beyond_high = (1.0 - sum(ends) for ends in zip(*limits.values(), strict=True))
    return tuple(
        Spread(
            code, middles[code], *rectangular(halves[code]), max(low, beyond_high + high), min(high, beyond_low + low)
        )
        for code, (low, high) in limits.items()
    )


def _levelled(middles: dict[str, float], halves: Mapping[str, float], lacking: float) -> dict[str, float]:
    """Middles with what they lack of 1 laid on each by the square of its half-width, none beyond its limits."""
    open_ones = {code: half for code, half in halves.items() if half > 0.0}
    moved = dict(middles)
    while open_ones:
        squares = sum(half * half for half in open_ones.values())
        full = {code: half for code, half in open_ones.items() if abs(lacking) * half > squares}
        for code, half in (full or open_ones).items():
            moved[code] += math.copysign(half, lacking) if full else lacking * half * half / squares
        if not full:
            break
        lacking -= math.copysign(sum(full.values()), lacking)
        open_ones = {code: half for code, half in open_ones.items() if code not in full}
    return moved


def blend_composition(fats: Iterable[tuple[float, Mapping[str, tuple[float, float]]]]) -> dict[str, Share]:
    """Composition of a blend of fats, with 95 % intervals.

    Args:
        fats: (mass [kg], low and high mass fraction of each acid) of each fat, with a mass above 0 in all.
            For shares by mass of acids, the mass is that of the fat's acids (`acid_mass_fraction`); that of
            the fat itself is off by a hundredth or two of a share. A fat that stands on several lines is to
            be put on one, since its limits are one uncertainty.

    Raises:
        OutOfRange: if a mass is negative or not finite, all masses are 0, or limits make no sense.
    """
    return blend_spreads([(mass, spreads(limits)) for mass, limits in fats])


def blend_spreads(fats: Sequence[tuple[float, Sequence[Spread]]]) -> dict[str, Share]:
    """Composition of a blend of fats, as `blend_composition`, from the fats' spreads.

    Each share is the mean over the fats weighted by mass, its uncertainty first order [2]_, different fats
    independent. Intervals end where no composition of the fats can be, for each share is within its bounds.

    Args:
        fats: (mass [kg], spread of each acid) of each fat, each fat on one line.

    Raises:
        OutOfRange: if a mass is negative or not finite, or all masses are 0.
    """
    total = 0.0
    for mass, _ in fats:
        if not 0.0 <= mass < math.inf:
            raise OutOfRange("mass", mass, 0.0, math.inf, "a mass is finite and not negative")
        total += mass
    if not total > 0.0:
        raise OutOfRange("mass", total, 0.0, math.inf, "a blend has a mass")
    # Value, variance, widest rectangular half-width, least and most.
    # The dearest loop of a recipe: comparisons in place of min and max, which are calls.
    sums: dict[str, tuple[float, float, float, float, float]] = {}
    known = sums.get
    for mass, acids in fats:
        weight = mass / total
        for code, middle, standard_uncertainty, half_width, low, high in acids:
            contribution = weight * standard_uncertainty
            reach = weight * half_width
            value, variance, widest, least, most = known(code, _NOTHING)
            sums[code] = (
                value + weight * middle,
                variance + contribution * contribution,
                reach if reach > widest else widest,
                least + weight * low,
                most + weight * high,
            )
    blend = {}
    for code, (value, variance, widest, least, most) in sums.items():
        low = high = value
        if variance:
            uncertainty = math.sqrt(variance)
            half_width = coverage_factor(Combined(uncertainty, widest)) * uncertainty
            low, high = value - half_width, value + half_width
            # A value right at a bound may be a rounding beyond it.
            if low < least:
                low = least if least < value else value
            if high > most:
                high = most if most > value else value
        blend[code] = Share(value, low, high)
    return blend


def _check_unsaponifiable(unsaponifiable: float) -> None:
    if not 0.0 <= unsaponifiable <= HIGHEST_UNSAPONIFIABLE:
        raise OutOfRange(
            "unsaponifiable",
            unsaponifiable,
            0.0,
            HIGHEST_UNSAPONIFIABLE,
            "above one half it is a wax, no fat",
        )
