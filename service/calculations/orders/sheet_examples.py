"""Named requests of the batch sheet. The workshop, its soaps and its figures are invented."""

from typing import Any, Final

from service.calculations.registry import Example

OAT_AND_MILK: Final[dict[str, Any]] = {
    "name": "oat and milk",
    "fats": [
        {"fat": "olive-oil", "share": "60 %"},
        {"fat": "coconut-oil", "share": "25 %"},
        {"fat": "palm-oil", "share": "15 %"},
    ],
    "superfat": "6 %",
    "total_liquid": {"water_ratio": "1.8:1"},
    "liquids": [{"liquid": "goat-milk", "rest": True, "temperature": "4 °C"}],
    "additions": [
        {
            "material": "oat flour",
            "kind": "other",
            "use_level": "2 %",
            "goes_into": "fats",
            "inci_name": "Avena Sativa Kernel Flour",
        },
        {
            "material": "lavender oil",
            "kind": "fragrance",
            "use_level": "3 %",
            "density": "0.885 kg/L",
            "highest_share": "4 %",
            "inci_name": "Lavandula Angustifolia Oil",
            "allergens": [{"inci_name": "Linalool", "share": "35 %"}, {"inci_name": "Limonene", "share": "0.5 %"}],
        },
    ],
}

EXAMPLES: Final = (
    Example(
        "forty-bars",
        "Forty bars of milk soap from the jug, on a scale that shows grams (invented)",
        {
            "reference": "invented batch 61",
            "recipe": OAT_AND_MILK,
            "stocks": [
                {
                    "alkali": "NaOH",
                    "mass": "12 kg",
                    "strength": {"mass_fraction": "49.6 %", "uncertainty": "0.15 %"},
                    "temperature": "19 °C",
                }
            ],
            "scale_to": {"bars": 40, "bar_mass": "125 g"},
            "scale_division": "1 g",
            "wanted_temperature": "31 °C",
            "moisture_when_sold": "9 %",
            "label_law": "eu-as-present",
            "prices": [
                {"material": "olive-oil", "price": {"amount": "8.40", "currency": "EUR"}},
                {"material": "coconut-oil", "price": {"amount": "5.10", "currency": "EUR"}},
                {"material": "palm-oil", "price": {"amount": "3.95", "currency": "EUR"}},
                {"material": "goat-milk", "price": {"amount": "2.60", "currency": "EUR", "per": "1.03 kg"}},
                {"material": "NaOH", "price": {"amount": "62.00", "currency": "EUR", "per": "25 kg"}},
                {"material": "lavender oil", "price": {"amount": "9.90", "currency": "EUR", "per": "100 g"}},
            ],
        },
    ),
    Example(
        "fill-the-moulds",
        "A recipe written in ounces, for moulds of 6 quarts, the water into the stock (invented)",
        {
            "recipe": {
                "name": "plain white",
                "fats": [
                    {"fat": "lard", "mass": "20 oz"},
                    {"fat": "coconut-oil", "mass": "8 oz"},
                    {"fat": "castor-oil", "mass": "2 oz"},
                ],
                "total_liquid": {"liquid_to_fat_ratio": "32 %"},
                "liquids": [{"liquid": "distilled-water", "rest": True, "add_to": "stock", "temperature": "66 °F"}],
                "acids": [{"acid": "citric-acid-anhydrous", "mass": "0.3 oz"}],
                "additions": [
                    {
                        "material": "titanium dioxide",
                        "kind": "colour",
                        "mass": "0.2 oz",
                        "density": "4.2 kg/L",
                        "inci_name": "CI 77891",
                    }
                ],
            },
            "stocks": [{"alkali": "NaOH", "volume": "4 gal", "strength": {"mass_fraction": "50 %"}}],
            "scale_to": {"mould_volume": "6 qt", "bar_mass": "4.6 oz"},
            "scale_division": "0.05 oz",
            "fats_temperature": "104 °F",
            "label_law": "us-as-added",
        },
    ),
    Example(
        "what-is-left-of-a-draw",
        "Two alkalis: all that a jug of NaOH still gives, with KOH dissolved for it (invented)",
        {
            "recipe": {
                "fats": [{"fat": "olive-oil", "share": 0.7}, {"fat": "stearic-acid", "share": 0.3}],
                "superfat": "4 %",
                "alkalis": [
                    {"alkali": "NaOH", "mole_share": "60 %"},
                    {"alkali": "KOH", "mole_share": "40 %", "purity": {"low": 0.89, "high": 0.91, "unit": "1"}},
                ],
                "total_liquid": {"water_ratio": "2.2:1"},
                "additions": [{"material": "glycerin", "kind": "other", "use_level": "5 %", "water_share": "1 %"}],
            },
            "stocks": [{"alkali": "NaOH", "mass": "430 g", "strength": {"water_ratio": "1:1"}}],
            "scale_to": {"stock_draw": "430 g"},
        },
    ),
    Example(
        "published-molar-masses",
        "A mole of tristearin with 95 % of the soda that it takes",
        {
            "recipe": {
                "fats": [{"name": "tristearin", "share": 1, "saponification_value": "188.80 mg/g"}],
                "superfat": "5 %",
            },
            "stocks": [
                {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": "40 %"}, "temperature": "20 °C"}
            ],
            "scale_to": {"fat_mass": "891.50 g"},
            "fats_temperature": "75 °C",
        },
        "Published: molar masses by the abridged standard atomic weights (IUPAC/CIAAW 2021), C57H110O6 891.50 g/mol, "
        "C3H8O3 92.094 g/mol and NaOH 39.997 g/mol: 95 % of a mole of glycerol is 87.489 g, and of three moles of NaOH "
        "284.98 g of a 40 % stock.",
    ),
)
