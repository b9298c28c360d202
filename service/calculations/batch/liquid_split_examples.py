"""Named requests of a liquid split: invented, or published and compared."""

from typing import Final

from service.calculations.registry import Example

EXAMPLES: Final = (
    Example(
        "two-to-one-with-goat-milk",
        "From a 50 % stock to 2:1 with goat milk (invented)",
        {
            "reference": "invented recipe 1",
            "alkalis": [{"alkali": "NaOH", "mass": "138.6 g"}],
            "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
            "total_liquid": {"water_ratio": "2:1"},
            "liquids": [{"liquid": "goat-milk", "rest": True}],
            "superfat": "5 %",
        },
    ),
    Example(
        "stock-as-mixed",
        "A stock mixed 1:1 from 98 % beads, two liquids, their acid made up for (invented)",
        {
            "alkalis": [{"alkali": "NaOH", "mass": "7 oz"}, {"alkali": "KOH", "mass": "1 oz", "purity": "90 %"}],
            "stocks": [
                {
                    "alkali": "NaOH",
                    "strength": {"as_mixed": {"mass_as_supplied": "10 kg", "water_mass": "10 kg", "purity": "98 %"}},
                }
            ],
            "total_liquid": {"water_ratio": 1.8},
            "liquids": [
                {"liquid": "cider-vinegar", "mass": "1 oz"},
                {"liquid": "coconut-milk-canned", "rest": True},
            ],
            "count_liquids_as": "water_content",
            "fats": [{"fat": "olive-oil", "mass": "3.75 lb"}],
            "superfat": 0.05,
            "compensate": True,
        },
    ),
    Example(
        "handbook-hundred-twaddell",
        "100 g of NaOH from a stock of 100 degrees Twaddell, as a handbook has it",
        {
            "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
            "stocks": [{"alkali": "NaOH", "strength": {"degrees_twaddell": 100}}],
        },
        "Published: a solution of 100 degrees Twaddell holds 46.545 % NaOH, so 214.8 g of it hold 100 g (W. H. "
        "Simmons and H. A. Appleton, The Handbook of Soap Manufacture, London 1908, Appendix C). The book's "
        "densities are of about 15 °C; this service takes degrees at 60/60 °F.",
    ),
)
