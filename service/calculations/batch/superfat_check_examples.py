"""Named requests of a superfat check: invented, or published and compared."""

from typing import Final

from service.calculations.registry import Example

EXAMPLES: Final = (
    Example(
        "too-much-drawn",
        "The whole liquid was drawn from the stock, where half of it should have been water (invented)",
        {
            "reference": "invented batch 31",
            "fats": [
                {"fat": "olive-oil", "mass": "600 g"},
                {"fat": "coconut-oil", "mass": "250 g"},
                {"fat": "shea-butter", "mass": "150 g"},
            ],
            "stock_draws": [{"alkali": "NaOH", "mass": "415 g", "strength": {"mass_fraction": "50 %"}}],
            "mend_with": "olive-oil",
        },
    ),
    Example(
        "stock-gone-weak",
        "A stock that was weaker than its label, with goat milk and citric acid (invented)",
        {
            "fats": [{"fat": "olive-oil", "mass": "2 lb"}, {"fat": "palm-oil", "mass": "1 lb"}],
            "stock_draws": [
                {"alkali": "NaOH", "mass": "14 oz", "strength": {"mass_fraction": "45 %", "uncertainty": "0.5 %"}}
            ],
            "liquids": [{"liquid": "goat-milk", "mass": "6 oz"}],
            "acids": [{"acid": "citric-acid-anhydrous", "mass": "0.5 oz"}],
            "wanted_superfat": "5 %",
            "scale_division": "0.05 oz",
        },
    ),
    Example(
        "potash-by-hand",
        "Liquid soap from flakes that were weighed too low, the superfat to be 2 % (invented)",
        {
            "fats": [{"fat": "sunflower-oil", "mass": "800 g"}, {"fat": "coconut-oil", "mass": "200 g"}],
            "solids": [
                {
                    "alkali": "KOH",
                    "mass_as_supplied": "205 g",
                    "purity": {"low": 0.89, "high": 0.91, "unit": "1"},
                }
            ],
            "wanted_superfat": "2 %",
        },
    ),
    Example(
        "published-titration",
        "A fat with twice the potash that its titration took, as a handbook has it",
        {
            "fats": [{"name": "fat of the example", "mass": "1.8976 g", "saponification_value": "196.6 mg/g"}],
            "stock_draws": [
                {
                    "alkali": "KOH",
                    "volume": "13.30 mL",
                    "strength": {"molarity": "1 mol/L", "temperature": "20 °C"},
                    "temperature": "20 °C",
                }
            ],
            "wanted_superfat": 0,
        },
        "Published: 1.8976 g of fat take 6.65 mL of normal alkali, so as much of 13.30 mL, 0.3731 g of KOH, stays "
        "free (W. H. Simmons and H. A. Appleton, The Handbook of Soap Manufacture, London 1908, ch. X).",
    ),
)
