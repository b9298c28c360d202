"""Figures that expected values are worked out from; none of them comes from the service.

Standard atomic weights, abridged (IUPAC/CIAAW 2021): C 12.011, H 1.008, O 15.999, Na 22.990, K 39.098 g/mol,
with Na 22.98977 and K 39.0983 where a fifth digit counts.
"""

from typing import Final

NAOH: Final = 22.98977 + 15.999 + 1.008
"""g/mol, 39.99677"""
KOH: Final = 39.0983 + 15.999 + 1.008
"""g/mol, 56.1053"""
KOH_PER_NAOH: Final = KOH / NAOH
"""1.40275"""
WATER: Final = 2 * 1.008 + 15.999
GLYCEROL: Final = 3 * 12.011 + 8 * 1.008 + 3 * 15.999
CITRIC_ACID: Final = 6 * 12.011 + 8 * 1.008 + 7 * 15.999
"""g/mol, 192.12; three protons"""
ACETIC_ACID: Final = 2 * 12.011 + 4 * 1.008 + 2 * 15.999
"""g/mol, 60.05; one proton"""
LACTIC_ACID: Final = 3 * 12.011 + 6 * 1.008 + 3 * 15.999
"""g/mol, 90.08; one proton that counts"""

OUNCE: Final = 28.349523125
"""g, international yard and pound agreement 1959"""
NORMAL_95: Final = 1.959964
"""Half-width of the 95 % interval of a normal distribution, in standard deviations"""
