"""Named requests of the assay of stock by a hydrometer: invented, or published and compared."""

from typing import Final

from service.calculations.registry import Example

EXAMPLES: Final = (
    Example(
        "degrees-baume-in-a-warm-jug",
        "49 degrees Baumé in a stock that is still warm (invented)",
        {
            "reference": "invented jug 5",
            "alkali": "NaOH",
            "reading": {"degrees_baume": 49, "division": 0.5},
            "temperature": "31 °C",
        },
    ),
    Example(
        "specific-gravity-of-potash",
        "A KOH solution by a hydrometer marked at 20 °C (invented)",
        {
            "alkali": "KOH",
            "reading": {"specific_gravity": 1.455, "division": 0.005},
            "temperature": "72 °F",
            "reference_temperature": "20 °C",
        },
    ),
    Example(
        "scale-of-20-over-4",
        "A scale of 20/4 °C in a stock with 1 % of carbonate, the thermometer known to 1 K (invented)",
        {
            "alkali": "NaOH",
            "reading": {"specific_gravity": 1.22, "division": 0.002},
            "temperature": {"low": 22, "high": 24, "unit": "°C"},
            "reference_temperature": "20 °C",
            "water_reference_temperature": "4 °C",
            "carbonate_mass_fraction": {"value": 0.01, "uncertainty": 0.001, "unit": "1"},
        },
    ),
    Example(
        "handbook-thirty-per-cent",
        "The density that a handbook has for 30 % NaOH",
        {
            "alkali": "NaOH",
            "reading": {"density": "1.3277 g/mL"},
            "temperature": "20 °C",
            "reference_temperature": "20 °C",
        },
        "Published: 30 % NaOH has 1.3277 g/mL at 20 °C (CRC Handbook of Chemistry and Physics, 102nd ed. 2021, "
        "Concentrative Properties of Aqueous Solutions).",
    ),
)
