"""Named requests of the assay of stock by titration: invented, or published and compared."""

from typing import Final

from service.calculations.registry import Example

EXAMPLES: Final = (
    Example(
        "weighed-sample",
        "A weighed sample of NaOH stock, the acid by its certificate (invented)",
        {
            "reference": "invented jug 3",
            "alkali": "NaOH",
            "sample_mass": "2.052 g",
            "scale_division": "0.001 g",
            "acid_molarity": {"value": 1.0, "uncertainty": 0.001, "unit": "mol/L"},
            "first_end_point": "25.30 mL",
            "second_end_point": "25.42 mL",
            "burette_tolerance": "0.05 mL",
        },
    ),
    Example(
        "pipetted-sample",
        "A pipetted sample of KOH stock, its density found from the strength (invented)",
        {
            "alkali": "KOH",
            "sample_volume": {"low": 1.99, "high": 2.01, "unit": "mL"},
            "temperature": "22 °C",
            "acid_molarity": {"low": 0.499, "high": 0.501, "unit": "mol/L"},
            "acid_protons": 2,
            "first_end_point": {"value": 23.9, "uncertainty": 0.03, "unit": "mL"},
            "second_end_point": {"value": 24.4, "uncertainty": 0.03, "unit": "mL"},
            "acid_temperature": "24 °C",
        },
    ),
    Example(
        "stock-that-stood-open",
        "A weighed sample of stock that has taken up much carbon dioxide, in 150 mL of water (invented)",
        {
            "reference": "invented jug 4",
            "alkali": "NaOH",
            "sample_mass": "2.105 g",
            "scale_division": "0.001 g",
            "water_volume": "150 mL",
            "acid_molarity": {"value": 1.0, "uncertainty": 0.001, "unit": "mol/L"},
            "first_end_point": "24.05 mL",
            "second_end_point": "24.85 mL",
            "burette_tolerance": "0.05 mL",
            "labelled_strength": {"mass_fraction": "49.25 %"},
        },
    ),
    Example(
        "published-equivalents",
        "4 g of caustic soda and normal acid, by the equivalents of a specification",
        {
            "alkali": "NaOH",
            "sample_mass": "4 g",
            "acid_molarity": "0.5 mol/L",
            "acid_protons": 2,
            "first_end_point": "49 mL",
            "second_end_point": "49.5 mL",
            "acid_temperature": "20 °C",
        },
        "Published: each millilitre of normal sulfuric acid takes 40.00 mg of total alkali as NaOH, and each one "
        "between the end points tells 106.0 mg of Na2CO3 (JECFA, specification of sodium hydroxide, INS 524): "
        "1980 mg and 53.0 mg in 4 g. The readings are invented.",
    ),
)
