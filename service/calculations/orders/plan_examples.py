"""Named requests of the production plan: a day in an invented workshop. Its soaps, orders and figures are invented."""

from typing import Any, Final

from service.calculations.orders.sheet_examples import OAT_AND_MILK
from service.calculations.registry import Example

_PLAIN: Final[dict[str, Any]] = {
    "name": "plain white",
    "fats": [{"fat": "lard", "share": "70 %"}, {"fat": "coconut-oil", "share": "30 %"}],
    "total_liquid": {"water_ratio": "2:1"},
}

EXAMPLES: Final = (
    Example(
        "a-week-of-orders",
        "Three soaps, one of them with shreds of another, for the orders of a week (invented)",
        {
            "reference": "invented week 12",
            "first_day": "2031-03-03",
            "orders": [
                {"sku": "OAT-125", "quantity": 90, "due": "2031-04-11", "order": "order 7"},
                {"sku": "PLAIN-100", "quantity": 60, "due": "2031-04-04", "order": "order 8"},
                {"sku": "CONFETTI-110", "quantity": 40, "due": "2031-04-18"},
                {"sku": "OAT-125", "quantity": 25},
            ],
            "on_hand": [{"sku": "PLAIN-100", "quantity": 12}],
            "recipes": {
                "OAT-125": {
                    "recipe": OAT_AND_MILK,
                    "batch": {"fat_mass": "3.5 kg"},
                    "bars": 40,
                    "bar_mass": "125 g",
                    "description": "oat and milk soap",
                    "mould_set": "slab of 40",
                    "ready_after_days": 28,
                },
                "PLAIN-100": {
                    "recipe": _PLAIN,
                    "batch": {"fat_mass": "3.4 kg"},
                    "bars": 48,
                    "bar_mass": "100 g",
                    "mould_set": "slab of 48",
                    "ready_after_days": 21,
                },
                "CONFETTI-110": {
                    "recipe": _PLAIN
                    | {"additions": [{"material": "shreds", "kind": "other", "use_level": "20 %", "sku": "PLAIN-100"}]},
                    "batch": {"fat_mass": "3 kg"},
                    "bars": 40,
                    "bar_mass": "110 g",
                    "mould_set": "slab of 40",
                    "ready_after_days": 21,
                },
            },
            "stocks": [
                {
                    "alkali": "NaOH",
                    "mass": "4 kg",
                    "strength": {"mass_fraction": "50 %"},
                    "temperature": "20 °C",
                    "vessel": {"material": "hdpe", "volume": "20 L", "dead_volume": "0.3 L", "lid": False},
                    "remixing": {
                        "peak_limit": "60 °C",
                        "purity": "99 %",
                        "ice": {"bag_mass": "2 kg"},
                        "cool_to": "30 °C",
                        "surroundings": {"medium": "water-bath"},
                    },
                }
            ],
            "reserve": "0.5 kg",
            "capacity": {
                "batches_per_day": 2,
                "mould_sets": [
                    {"name": "slab of 40", "count": 1, "days_filled": 2},
                    {"name": "slab of 48", "count": 1},
                ],
            },
            "materials": [
                {
                    "material": "olive-oil",
                    "sku": "RM-014",
                    "description": "olive oil",
                    "mass": "6 kg",
                    "package_mass": "5 kg",
                    "unit": "L",
                    "density": "0.916 kg/L",
                    "price": {"amount": "8.40", "currency": "EUR"},
                },
                {
                    "material": "coconut-oil",
                    "sku": "RM-002",
                    "mass": "10 kg",
                    "package_mass": "5 kg",
                    "price": {"amount": "5.10", "currency": "EUR"},
                },
                {
                    "material": "NaOH",
                    "sku": "RM-001",
                    "mass": "3 kg",
                    "package_mass": "25 kg",
                    "price": {"amount": "62.00", "currency": "EUR", "per": "25 kg"},
                },
            ],
            "heating": {"power": "1.5 kW", "fats_temperature": "50 °C"},
            "scale_division": "1 g",
        },
    ),
    Example(
        "too-late-for-the-fair",
        "Two jugs that are used up one after the other, and an order that cannot be ready in time (invented)",
        {
            "first_day": "2031-05-05",
            "orders": [{"sku": "PLAIN-100", "quantity": 140, "due": "2031-05-30"}],
            "recipes": {
                "PLAIN-100": {
                    "recipe": _PLAIN,
                    "batch": {"fat_mass": "7.5 lb"},
                    "bars": 48,
                    "bar_mass": "3.5 oz",
                    "ready_after_days": 24,
                }
            },
            "stocks": [
                {"alkali": "NaOH", "mass": "2.5 lb", "strength": {"mass_fraction": "50 %"}},
                {"alkali": "NaOH", "mass": "5 lb", "strength": {"mass_fraction": "48.7 %"}, "reserve": "0.1 lb"},
            ],
            "capacity": {"batches_per_day": 1},
            "materials": [{"material": "lard", "mass": "20 lb", "package_mass": "4 lb", "unit": "lb"}],
        },
    ),
    Example(
        "published-molar-masses",
        "A mole of tristearin with 95 % of the soda that it takes",
        {
            "orders": [{"sku": "tristearin soap", "quantity": 1}],
            "recipes": {
                "tristearin soap": {
                    "recipe": {
                        "fats": [{"name": "tristearin", "share": 1, "saponification_value": "188.80 mg/g"}],
                        "superfat": "5 %",
                    },
                    "batch": {"fat_mass": "891.50 g"},
                    "bars": 1,
                }
            },
            "stocks": [{"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": "40 %"}}],
        },
        "Published: molar masses by the abridged standard atomic weights (IUPAC/CIAAW 2021), C57H110O6 891.50 g/mol "
        "and NaOH 39.997 g/mol: 95 % of three moles of NaOH are in 284.98 g of a 40 % stock.",
    ),
)
