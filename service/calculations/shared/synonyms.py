"""Members by other words of the trade: who writes `oils` means `fats`, though the two are not spelt alike.

Nothing here reads a request: the member that is meant is shown to the caller, who decides.
"""

from collections.abc import Iterable
from typing import Final

from service.calculations.shared.faults import LONGEST_SOUGHT, nearest

_MASS: Final = ("mass", "mass_as_supplied", "water_mass")
_ALKALI: Final = ("alkali", "alkalis", "stocks")
_STRENGTH: Final = ("mass_fraction", "strength", "final_strength")

SYNONYMS: Final[dict[str, tuple[str, ...]]] = {
    # The molarity of an acid of one proton, which is the default.
    "acid_normality": ("acid_molarity",),
    "amount": _MASS,
    "batch": ("reference",),
    "baume": ("degrees_baume",),
    "base": _ALKALI,
    "caustic": _ALKALI,
    "concentration": _STRENGTH,
    "container": ("vessel",),
    "hydroxide": _ALKALI,
    "lye": _ALKALI,
    # One hydroxide in each NaOH and KOH: a normal solution has one mole in the litre.
    "normality": ("molarity",),
    "mass": ("mass_as_supplied",),
    "methyl_orange": ("second_end_point",),
    "oil": ("fat",),
    "oils": ("fats",),
    "percent": (*_STRENGTH, "mass_share", "mole_share", "share"),
    "percentage": (*_STRENGTH, "mass_share", "mole_share", "share"),
    "phenolphthalein": ("first_end_point",),
    "pot": ("vessel",),
    "quantity": _MASS,
    "ratio": ("water_ratio",),
    "room_temperature": ("ambient",),
    "sap": ("saponification_value",),
    "sap_value": ("saponification_value",),
    "tank": ("vessel",),
    "temp": ("temperature",),
    "time": ("duration",),
    "twaddell": ("degrees_twaddell",),
    "water": ("total_liquid",),
    "water_ratio": ("total_liquid",),
    "weight": _MASS,
}
"""Words that people write for members, and the members they mean, the likeliest first."""


def likely_members(word: str, known: Iterable[str]) -> list[str]:
    """Members that an unknown one may be meant for: by the sense of the word where it is listed, else by spelling.

    Args:
        word: the member that is not known here.
        known: the members there are.
    """
    names = list(known)
    meant = [name for name in SYNONYMS.get(word[:LONGEST_SOUGHT].strip().casefold(), ()) if name in names]
    return meant or nearest(word, names)
