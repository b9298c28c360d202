"""Requests that draw out each caution of a paste that is thinned, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import Case, S, recipe

P: Final = "paste-dilution"


def paste(alkali: str = "KOH", mass: str = "180 g") -> dict[str, Any]:
    """A batch of 1 kg of oil that takes 190 g of KOH, or 135.5 g of NaOH."""
    oil = {"name": "own oil", "mass": "1 kg", "saponification_value": "190 mg/g"}
    batch = {"fats": [oil], "alkalis": [{"alkali": alkali, "mass": mass}], "water_mass": "600 g"}
    return {"paste_mass": "1.7 kg", "batch": batch, "wanted_soap_share": "20 %"}


CASES: Final[list[tuple[str, Case]]] = [
    ("thin-with-hot-water", Case(P, paste(), recipe(), "note", "common practice", "scalds", S)),
    ("thinned-soap-spoils", Case(P, paste(), recipe(), "caution", "1223/2009", "germs", S)),
    ("soap-stings-eyes", Case(P, paste(), recipe(), "note", "chemistry", "rinse", S)),
    ("sodium-soap-gels", Case(P, paste("NaOH", "130 g"), paste(), "caution", "common practice", "gel")),
    ("free-alkali-left", Case(P, paste(mass="200 g"), paste(), "danger", "chemistry", "10 g (0.353 oz) of alkali")),
]
