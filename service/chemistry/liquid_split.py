"""How the liquid of a batch is divided between the stock and what is added beside it: mass balances.

"Water" of a solution is everything in it that is not hydroxide, as in a water ratio.
"""

from collections.abc import Sequence
from typing import NamedTuple

from service.chemistry.ranges import ROUNDING

LEAST_WATER_RATIO = 1.0
"""Water : hydroxide by mass below which it does not dissolve in practice [-] (common practice; NaOH saturates at
52.2 % and 20 °C, 0.92:1)."""


class Portion(NamedTuple):
    """One liquid of those added: a fixed mass, or a fixed share, or else what the others leave.

    Attributes:
        counted: what one mass of it counts as liquid: 1, or its mass fraction of water.
        mass: its mass, where that is fixed [kg].
        share: its share of all the added liquid by mass, where that is fixed.
    """

    counted: float
    mass: float | None = None
    share: float | None = None


class Shortfall(NamedTuple):
    """Why liquids cannot be apportioned.

    Attributes:
        wanted: liquid to be added, as counted [kg].
        found: liquid that the portions make, as counted [kg].
        lacks_rest: whether a liquid that takes the rest would mend it.
    """

    wanted: float
    found: float
    lacks_rest: bool


def draw_mass(alkali_mass: float, strength: float) -> float:
    """Mass of a stock that holds a mass of pure hydroxide [kg].

    Args:
        alkali_mass: mass of pure hydroxide, at least 0 [kg].
        strength: mass fraction of hydroxide in the stock [-], above 0.
    """
    return alkali_mass / strength


def apportion(wanted: float, portions: Sequence[Portion], tolerance: float = ROUNDING) -> list[float] | Shortfall:
    """Mass of each added liquid, so that together they count as the liquid wanted [kg].

    With M the mass of all added liquid, F the fixed masses, S the sum of the shares, and c what one mass
    counts: sum(F c) + M sum(S c) + (M (1 - S) - F) c_rest = wanted.

    Args:
        wanted: liquid to be added, as counted, at least 0 [kg].
        portions: the liquids, at most one of them taking the rest.
        tolerance: relative miss of a balance that counts as rounding [-].
    """
    fixed = fixed_counted = shares = shares_counted = 0.0
    rest = None
    for one in portions:
        if one.mass is not None:
            fixed += one.mass
            fixed_counted += one.mass * one.counted
        elif one.share is not None:
            shares += one.share
            shares_counted += one.share * one.counted
        else:
            rest = one
    scale = max(wanted, fixed_counted)
    if rest is not None:
        per_mass = shares_counted + (1 - shares) * rest.counted
        total = max(0.0, wanted - fixed_counted + fixed * rest.counted) / per_mass if per_mass > 0 else 0.0
        left = total * (1 - shares) - fixed
        if left < -tolerance * max(total, fixed) or per_mass <= 0:
            return Shortfall(wanted, fixed_counted + total * shares_counted, lacks_rest=False)
        left = max(0.0, left)
    else:
        left = 0.0
        total = (wanted - fixed_counted) / shares_counted if shares_counted > 0 else fixed
        found = fixed_counted + total * shares_counted
        if (
            total < 0
            or abs(found - wanted) > tolerance * scale
            or abs(total * (1 - shares) - fixed) > tolerance * max(total, fixed)
        ):
            consistent = fixed / (1 - shares) if shares < 1 else total
            return Shortfall(wanted, fixed_counted + consistent * shares_counted, lacks_rest=True)
    return [one.mass if one.mass is not None else left if one.share is None else one.share * total for one in portions]
