"""Published forms of strength."""

from typing import Final

from service.chemistry.molar_masses import Alkali

OXIDES: Final[dict[Alkali, float]] = {"NaOH": 0.7748, "KOH": 0.8395}
"""Pure hydroxide stated as oxide. 100 % NaOH is 77.5 % Na2O (Dow Chemical, caustic soda billing page)."""
HALF_STOCK: Final = (19.068, 762.65)
"""mol/L and g/L of 50 % NaOH at 20 °C, by the density of the International Critical Tables, 1.5253 (memory)."""
