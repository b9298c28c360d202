"""The net mass on a package, in grams and in ounces, never more than it holds.

16 CFR 500 (from memory): packages in the USA tell both metric and customary units, decimals to two places at most here,
and from one pound on also pounds; the European Union tells grams or kilograms. Both figures are rounded down.
"""

from decimal import ROUND_FLOOR, Decimal
from math import floor
from typing import Annotated, Final

from msgspec import Meta, Struct

from service.chemistry.ranges import ROUNDING

OUNCE: Final = 28.349523125e-3
"""Avoirdupois ounce [kg], exact."""
BASIS: Final = (
    "16 CFR 500: metric and customary units; Regulation (EC) No 1223/2009, Article 19(1)(b): nominal content at the "
    "time of packaging (all else of them from memory)"
)
_TEXT: Final = "As it is printed on the package; rounded down."


class NetMass(Struct, frozen=True, kw_only=True):
    """The net mass of one bar when it is sold, as a label tells it."""

    metric: Annotated[str, Meta(description=_TEXT, examples=["113 g"])]
    customary: Annotated[str, Meta(description=_TEXT, examples=["3.98 oz", "1 lb 1.63 oz (17.63 oz)"])]
    basis: Annotated[str, Meta(description="What it rests on.", examples=["16 CFR 500"])] = BASIS


def net_mass(mass: float) -> NetMass:
    """The net mass of a package, for its label.

    Args:
        mass: what it holds at least, above 0 [kg].
    """
    held = mass * (1 + ROUNDING)
    grams = floor(held * 1000)
    metric = f"{grams} g" if grams >= 1 else f"{_down(held * 1000)} g"
    if grams >= 1000:
        metric = f"{_down(held)} kg"
    ounces = held / OUNCE
    pounds, rest = divmod(ounces, 16)
    customary = f"{_down(ounces)} oz"
    if pounds >= 1:
        customary = f"{pounds:.0f} lb {_down(rest)} oz ({customary})"
    return NetMass(metric=metric, customary=customary)


def _down(number: float) -> str:
    """A number with two decimals at most, rounded down."""
    text = f"{Decimal(number).quantize(Decimal('0.01'), ROUND_FLOOR):f}"
    return text.rstrip("0").rstrip(".")
