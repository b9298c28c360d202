"""How lists of ingredients are ordered, by law: what counts as little, and where colours and allergens stand.

The texts are told from memory but for the headings of Article 19, which a national authority's summary has.
"""

from typing import Final, Literal, NamedTuple

LawName = Literal["eu-as-added", "eu-as-present", "us-as-added", "us-as-present"]

ONE_PER_CENT: Final = 0.01
EQUAL: Final = 1e-9
"""Relative difference of two shares that is rounding."""


class Law(NamedTuple):
    """What a law says of a list of ingredients."""

    as_added: bool
    """Whether ingredients are told as they were put in, or as they are in the finished bar."""
    us_names: bool
    """Whether ingredients have the names that are told in the United States."""
    water: str
    fragrance: str
    one_per_cent_is_little: bool
    """Whether exactly 1 % may stand in any order: "not more than 1 %", or "less than 1 %"."""
    allergens_from: float | None
    """Share of the finished product from which an allergen is named; None where the law names none."""
    basis: str


_EU: Final = (
    "Regulation (EC) No 1223/2009, Article 19(1)(g): descending order of weight at the time they are added; below 1 % "
    "in any order after those above it; colours last; allergens of Annex III above 0.01 % in what is rinsed off (from "
    "memory)"
)
_US: Final = (
    "21 CFR 701.3(a) and (f): descending order of predominance; not more than 1 % without regard to order after those "
    "above it; colour additives last (from memory). 21 CFR 701.20: a true soap sold only as soap is no cosmetic"
)
_PRESENT: Final = "; ingredients told as they are in the finished bar, as salts of the fats"
_ADDED: Final = "; ingredients told as they were put in"

LAWS: Final[dict[LawName, Law]] = {
    "eu-as-added": Law(True, False, "Aqua", "Parfum", False, 1e-4, _EU + _ADDED),
    "eu-as-present": Law(False, False, "Aqua", "Parfum", False, 1e-4, _EU + _PRESENT),
    "us-as-added": Law(True, True, "Water", "Fragrance", True, None, _US + _ADDED),
    "us-as-present": Law(False, True, "Water", "Fragrance", True, None, _US + _PRESENT),
}


def is_little(law: Law, share: float) -> bool:
    """Whether a share may stand in any order after the others.

    Args:
        law: by which.
        share: of the whole, by mass.
    """
    if abs(share - ONE_PER_CENT) <= EQUAL * ONE_PER_CENT:
        return law.one_per_cent_is_little
    return share < ONE_PER_CENT
