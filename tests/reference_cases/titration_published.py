"""Published equivalents, and the titration of QUAM as a request."""

from typing import Any, Final

from service.chemistry.molar_masses import Alkali
from tests.reference_cases import quam

EQUIVALENTS: Final = (40.00, 106.0)
"""mg of NaOH that a millilitre of normal acid takes, and of Na2CO3 that one between the end points tells: JECFA,
specification of sodium hydroxide (INS 524), and USP, Sodium Hydroxide (both read in reprints)."""
CARBONATE_AS_HYDROXIDE: Final[dict[Alkali, float]] = {"NaOH": 0.7547, "KOH": 0.8119}
"""Mass of hydroxide that stands for one of its carbonate (computed from the atomic weights of IUPAC/CIAAW 2021)."""


def quam_request() -> dict[str, Any]:
    """Their acid of A3, their volumes, asked the other way round."""
    acid, acid_spread, _ = quam.a3()
    return {
        "alkali": "NaOH",
        "sample_volume": {"value": 14.89, "uncertainty": 0.015, "unit": "mL"},
        "acid_molarity": {"value": acid, "uncertainty": acid_spread.standard_uncertainty, "unit": "mol/L"},
        "first_end_point": "15 mL",
        "second_end_point": "15 mL",
        "burette_tolerance": "0.02 mL",
        "acid_temperature": "20 °C",
    }
