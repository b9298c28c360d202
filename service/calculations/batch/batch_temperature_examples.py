"""Named requests of the temperature of a batch: invented, or published and compared."""

from typing import Final

from service.calculations.registry import Example

EXAMPLES: Final = (
    Example(
        "frozen-goat-milk",
        "A stock from the shelf, fats at 55 °C and frozen goat milk (invented)",
        {
            "reference": "invented batch 44",
            "fats": [
                {"fat": "olive-oil", "mass": "600 g"},
                {"fat": "coconut-oil", "mass": "250 g"},
                {"fat": "shea-butter", "mass": "150 g"},
            ],
            "fats_temperature": "55 °C",
            "stock": {
                "alkali": "NaOH",
                "mass": "270 g",
                "strength": {"mass_fraction": "50 %"},
                "temperature": "22 °C",
            },
            "liquids": [{"liquid": "goat-milk", "mass": "130 g", "temperature": "-18 °C", "frozen": True}],
        },
    ),
    Example(
        "how-warm-the-fats",
        "How warm the fats must be for a batch of 90 °F, the stock at 68 °F and water at 60 °F (invented)",
        {
            "fats": [{"fat": "lard", "mass": "2 lb"}, {"fat": "sunflower-oil", "mass": "1 lb"}],
            "stock": {
                "alkali": "NaOH",
                "mass": "12.6 oz",
                "strength": {"mass_fraction": "50 %"},
                "temperature": "68 °F",
            },
            "liquids": [{"liquid": "distilled-water", "mass": "6 oz", "temperature": "60 °F"}],
            "wanted_temperature": "90 °F",
        },
    ),
    Example(
        "each-fat-its-own",
        "Melted butter poured to cool oil, with thermometers that are good to a kelvin, and a KOH stock (invented)",
        {
            "fats": [
                {
                    "fat": "cocoa-butter",
                    "mass": "300 g",
                    "temperature": {"value": 55, "uncertainty": 0.5, "unit": "°C"},
                },
                {"fat": "olive-oil", "mass": "700 g", "temperature": {"low": 19, "high": 21, "unit": "°C"}},
            ],
            "stock": {
                "alkali": "KOH",
                "mass": "420 g",
                "strength": {"mass_fraction": {"low": 0.44, "high": 0.46, "unit": "1"}},
                "temperature": "20 °C",
            },
            "wanted_temperature": "30 °C",
        },
    ),
    Example(
        "published-heat-of-dilution",
        "A mole of NaOH with 3 mol of water, thinned by more water to 10 mol: the heat that calorimetry found",
        {
            "fats": [{"fat": "olive-oil", "mass": "310 g"}],
            "fats_temperature": "35 °C",
            "stock": {
                "alkali": "NaOH",
                "mass": "94.042 g",
                "strength": {"mole_fraction": 0.25},
                "temperature": "25 °C",
            },
            "liquids": [{"liquid": "distilled-water", "mass": "126.107 g", "temperature": "25 °C"}],
        },
        "Published: integral heats of solution of 28.87 kJ/mol in 3 mol of water and 42.51 kJ/mol in 10 mol (R. M. "
        "Felder and R. W. Rousseau, Elementary Principles of Chemical Processes, table B.11; from memory): a "
        "`dilution_heat` of 13.64 kJ for the mole that is here.",
    ),
    Example(
        "published-coconut-1908",
        "Coconut oil and half its mass of lye, both at 75 °F, as a handbook has it",
        {
            "fats": [{"fat": "coconut-oil", "mass": "10 lb"}],
            "fats_temperature": "75 °F",
            "stock": {
                "alkali": "NaOH",
                "mass": "5 lb",
                "strength": {"degrees_twaddell": 71.4, "reference_temperature": "60 °F"},
                "temperature": "75 °F",
            },
        },
        "Published: coconut oil alone is stirred at 75 °F with half its weight of lye of 71.4 degrees Twaddell of "
        "the same temperature (W. H. Simmons and H. A. Appleton, The Handbook of Soap Manufacture, London 1908, "
        "ch. V): the batch has those 75 °F before it reacts.",
    ),
)
