"""Named requests of a saponification: invented, or published and compared."""

from typing import Final

from service.calculations.registry import Example

EXAMPLES: Final = (
    Example(
        "olive-and-coconut",
        "A bar of olive and coconut oil (invented)",
        {
            "reference": "invented recipe 1",
            "fats": [
                {"fat": "olive-oil", "mass": "700 g"},
                {"fat": "coconut-oil", "mass": "300 g"},
            ],
            "superfat": "5 %",
            "alkalis": [{"alkali": "NaOH", "purity": "98.5 %"}],
        },
    ),
    Example(
        "own-certificates",
        "Own certificates, both alkalis and an acid (invented)",
        {
            "fats": [
                {
                    "name": "olive oil, own lot",
                    "mass": "1.2 kg",
                    "saponification_value": {"value": 190.4, "uncertainty": 0.8, "unit": "mg/g"},
                    "iodine_value": "82 g/100g",
                },
                {
                    "name": "coconut oil, own lot",
                    "mass": "0.5 kg",
                    "saponification_value": {"low": 254, "high": 259, "unit": "mg/g"},
                },
                {"fat": "castor-oil", "mass": {"value": 3, "unit": "oz"}},
            ],
            "superfat": 0.04,
            "alkalis": [
                {"alkali": "NaOH", "mole_share": "70 %", "purity": {"low": 0.97, "high": 0.99, "unit": "1"}},
                {"alkali": "KOH", "mole_share": "30 %", "purity": "90 %"},
            ],
            "acids": [{"acid": "citric-acid-anhydrous", "mass": "20 g"}],
            "scale_division": "1 g",
        },
    ),
    Example(
        "published-titration",
        "The potash that a weighed sample of fat takes, as a handbook has it",
        {
            "fats": [{"name": "fat of the example", "mass": "1.8976 g", "saponification_value": "196.6 mg/g"}],
            "superfat": 0,
            "alkalis": [{"alkali": "KOH", "purity": "100 %"}],
        },
        "Published: 1.8976 g of fat take 6.65 mL of normal alkali, which hold 0.3731 g of KOH (W. H. Simmons and "
        "H. A. Appleton, The Handbook of Soap Manufacture, London 1908, ch. X).",
    ),
)
