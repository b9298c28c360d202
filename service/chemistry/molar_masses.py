"""Molar masses in kg/mol, from the abridged standard atomic weights (IUPAC/CIAAW 2021).

C 12.011, H 1.008, O 15.999, Na 22.98977, K 39.0983, I 126.90447 g/mol.
"""

from typing import Final, Literal

Alkali = Literal["NaOH", "KOH"]

CARBON: Final = 12.011e-3
HYDROGEN: Final = 1.008e-3
OXYGEN: Final = 15.999e-3
SODIUM: Final = 22.98977e-3
POTASSIUM: Final = 39.0983e-3
IODINE: Final = 126.90447e-3
"""[kg/mol] (T. Prohaska et al., Pure Appl. Chem. 94, 2022, 573-600, in the package periodictable 2.1.0:
seen-secondary)."""

NAOH: Final = SODIUM + OXYGEN + HYDROGEN
KOH: Final = POTASSIUM + OXYGEN + HYDROGEN
WATER: Final = 2 * HYDROGEN + OXYGEN
GLYCEROL: Final = 3 * CARBON + 8 * HYDROGEN + 3 * OXYGEN
SODIUM_OXIDE: Final = 2 * SODIUM + OXYGEN
POTASSIUM_OXIDE: Final = 2 * POTASSIUM + OXYGEN
SODIUM_CARBONATE: Final = 2 * SODIUM + CARBON + 3 * OXYGEN
POTASSIUM_CARBONATE: Final = 2 * POTASSIUM + CARBON + 3 * OXYGEN
"""[kg/mol] (exact, atoms of the formula)."""

ALKALI: Final[dict[Alkali, float]] = {"NaOH": NAOH, "KOH": KOH}
OXIDE: Final[dict[Alkali, float]] = {"NaOH": SODIUM_OXIDE, "KOH": POTASSIUM_OXIDE}
CARBONATE: Final[dict[Alkali, float]] = {"NaOH": SODIUM_CARBONATE, "KOH": POTASSIUM_CARBONATE}
