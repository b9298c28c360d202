"""Every default that bears on an answer is told under `assumed`; what has none is named here, with the reason.

The members are found by walking the requests, so that a new one must take its place in one of the two tables.
"""

from collections.abc import Iterator
from copy import deepcopy
from typing import Any, Final, get_args, get_origin, get_type_hints

import pytest
from msgspec import Struct

from service.calculations.registry import calculations
from tests.calculations.asking import Answer, ask, assumed

FAT: Final = {"fat": "olive-oil", "mass": "1 kg"}
BEADS: Final = {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": "98 %"}
RECIPE: Final = {"fats": [FAT]}
SPLIT: Final = {
    "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
    "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
    "total_liquid": {"water_ratio": "2:1"},
    "liquids": [{"liquid": "distilled-water", "share": "50 %"}, {"liquid": "carrot-juice", "rest": True}],
}
HALF: Final = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}
MIXED: Final = {"mass_as_supplied": "1 kg", "water_mass": "1 kg"}
MIXING: Final = {"solid": BEADS, "water": {"mass": "1 kg"}, "ice": {"mass": "1 kg"}}
TIMED: Final = MIXING | {"vessel": {"material": "hdpe"}, "duration": "20 min"}
TITRATION: Final = {
    "alkali": "NaOH",
    "sample_mass": "2.05 g",
    "acid_molarity": "1 mol/L",
    "first_end_point": "25 mL",
    "second_end_point": "25.2 mL",
}
SOAP: Final = {
    "alkali": "NaOH",
    "sample_mass": "10 g",
    "acid_molarity": "0.1 mol/L",
    "acid_volume": "2 mL",
    "method": "free-caustic",
    "batch_mass": "5 kg",
}
PURE: Final = {"alkali": "NaOH"}
ICED: Final = {
    "solid": PURE,
    "strength": {"mass_fraction": "40 %"},
    "peak_limit": "60 °C",
    "solution_mass": "10 kg",
}
FILLED: Final = {name: value for name, value in ICED.items() if name != "solution_mass"} | {
    "vessel": {"material": "hdpe", "volume": "18 L"}
}
FLOAT: Final = {"alkali": "NaOH", "reading": {"degrees_baume": 45}, "temperature": "20 °C"}
LITRE: Final = HALF | {"volume": "1 L"}
STOOD: Final = {"solution": HALF | {"mass": "1 kg"}, "mass_change": "-10 g"}
POURED: Final = HALF | {"volume": "150 mL"}
SOLID: Final = {"alkali": "NaOH", "mass_as_supplied": "20 g"}
CHECK: Final = {"fats": [FAT], "stock_draws": [HALF | {"mass": "400 g"}]}
WARMING: Final = {
    "solution": {"alkali": "NaOH", "mass": "50 kg", "strength": {"mass_fraction": "50 %"}},
    "vessel": {"material": "hdpe"},
    "heater_power": "1 kW",
    "target_temperature": "40 °C",
}
COLD: Final = WARMING | {"solution": WARMING["solution"] | {"temperature": "5 °C"}}  # type: ignore[operator]
WATER: Final = WARMING | {"solution": WARMING["solution"] | {"strength": {"mass_fraction": 0}}}  # type: ignore[operator]
COOLING: Final = {
    "solution": HALF | {"mass": "5 kg", "temperature": "80 °C"},
    "vessel": {"material": "hdpe"},
    "surroundings": {"medium": "still-air"},
    "target_temperature": "40 °C",
}
FANNED: Final = COOLING | {"surroundings": {"medium": "moving-air"}}
BATHED: Final = COOLING | {"surroundings": {"medium": "water-bath"}}
WATERY: Final = COOLING | {"solution": COOLING["solution"] | {"strength": {"mass_fraction": 0}}}  # type: ignore[operator]
READ: Final = COOLING | {
    "solution": HALF | {"mass": "5 kg"},
    "readings": [{"time": "0 min", "temperature": "80 °C"}, {"time": "30 min", "temperature": "60 °C"}],
}
TWO: Final = {
    "solutions": [
        HALF | {"mass": "1 kg"},
        {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": 0}},
    ]
}
STRONG: Final = {"solution": HALF | {"mass": "1 kg"}, "target_strength": {"mass_fraction": "45 %"}}
WEAK: Final = {"solution": HALF | {"mass": "1 kg"}, "target_strength": {"mass_fraction": "51 %"}}
WEAK_TIMED: Final = WEAK | {"vessel": {"material": "hdpe"}, "duration": "20 min"}
WITH: Final = STRONG | {"with": {"alkali": "NaOH", "strength": {"mass_fraction": 0}}}
MEETING: Final = {
    "fats": [FAT],
    "fats_temperature": "40 °C",
    "stock": HALF | {"mass": "250 g"},
    "liquids": [{"liquid": "goat-milk", "mass": "50 g"}],
}
SHEET: Final[dict[str, Any]] = {
    "recipe": {
        "fats": [{"fat": "olive-oil", "share": 1}],
        "total_liquid": {"water_ratio": "2:1"},
        "liquids": [{"liquid": "distilled-water", "use_level": "5 %"}, {"liquid": "cider-vinegar", "rest": True}],
        "additions": [{"material": "scent", "kind": "fragrance", "use_level": "3 %", "highest_share": "5 %"}],
    },
    "stocks": [HALF | {"mass": "1 kg"}],
    "scale_to": {"fat_mass": "1 kg"},
}
DRY: Final = {"recipe": SHEET["recipe"] | {"alkalis": [{"alkali": "NaOH"}]}, "scale_to": SHEET["scale_to"]}
WET: Final = SHEET | {"recipe": {name: one for name, one in SHEET["recipe"].items() if name != "liquids"}}
STOCK_ALONE: Final = SHEET | {"recipe": {name: SHEET["recipe"][name] for name in ("fats", "additions")}}
ARTICLE: Final[dict[str, Any]] = {
    "recipe": {
        "fats": [{"fat": "olive-oil", "share": 1}],
        "total_liquid": {"water_ratio": "2:1"},
        "liquids": [{"liquid": "distilled-water", "use_level": "5 %"}, {"liquid": "cider-vinegar", "rest": True}],
        "additions": [{"material": "scent", "kind": "fragrance", "use_level": "3 %"}],
    },
    "batch": {"fat_mass": "1 kg"},
    "bars": 10,
}
ORDERS: Final = [{"sku": "A", "quantity": 25}]
PLAN: Final[dict[str, Any]] = {
    "orders": ORDERS,
    "recipes": {"A": ARTICLE},
    "stocks": [HALF | {"mass": "2 kg"}],
    "materials": [{"material": "olive-oil", "mass": "1 kg", "price": {"amount": "5", "currency": "EUR"}}],
    "heating": {"power": "1 kW", "fats_temperature": "50 °C"},
}
TANKED: Final = PLAN | {
    "stocks": [
        HALF
        | {
            "mass": "0 kg",
            "vessel": {"material": "hdpe", "volume": "20 L"},
            "remixing": {"peak_limit": "70 °C", "ice": {}},
        }
    ]
}
MOULDED: Final = PLAN | {"capacity": {"mould_sets": [{"name": "slab", "count": 1}]}}
HEEL: Final = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": 0}}


def changed(base: dict[str, Any], **members: Any) -> dict[str, Any]:
    return deepcopy(base) | members


DEFAULTS: Final[list[tuple[str, str, dict[str, Any], str, Any]]] = [
    # calculation, pointer, a request in which the member bears on the answer, what is told, the same said outright
    ("batch-temperature", "/stock/temperature", MEETING, "20 °C", "20 °C"),
    ("batch-temperature", "/liquids/0/temperature", MEETING, "20 °C", "20 °C"),
    ("batch-temperature", "/liquids/0/frozen", MEETING, "false", False),
    ("batch-sheet", "/recipe/superfat", SHEET, "5 %", "5 %"),
    ("batch-sheet", "/recipe/alkalis", SHEET, "NaOH alone", [{"alkali": "NaOH"}]),
    ("batch-sheet", "/recipe/alkalis/0/purity", DRY, "100 %", "100 %"),
    ("batch-sheet", "/recipe/total_liquid", STOCK_ALONE, "nothing beside the stock", {"water_ratio": 1}),
    (
        "batch-sheet",
        "/recipe/liquids",
        WET,
        "distilled-water for all of it, into the fats",
        [{"liquid": "distilled-water", "rest": True, "add_to": "fats"}],
    ),
    ("batch-sheet", "/recipe/liquids/0/add_to", SHEET, "fats", "fats"),
    ("batch-sheet", "/recipe/liquids/0/temperature", SHEET, "20 °C", "20 °C"),
    ("batch-sheet", "/recipe/liquids/0/frozen", SHEET, "false", False),
    ("batch-sheet", "/recipe/count_liquids_as", SHEET, "whole", "whole"),
    ("batch-sheet", "/recipe/compensate", SHEET, "false", False),
    ("batch-sheet", "/recipe/additions/0/goes_into", SHEET, "trace", "trace"),
    ("batch-sheet", "/recipe/additions/0/water_share", SHEET, "0 %", 0),
    ("batch-sheet", "/recipe/additions/0/density", SHEET, "1.7 kg/L, within 0.8 kg/L", None),
    ("batch-sheet", "/stocks/0/temperature", SHEET, "20 °C", "20 °C"),
    ("batch-sheet", "/scale_division", SHEET, "a scale without steps", None),
    ("batch-sheet", "/wanted_temperature", SHEET, "32 °C", "32 °C"),
    (
        "batch-sheet",
        "/prices/0/price/per",
        SHEET | {"prices": [{"material": "olive-oil", "price": {"amount": "5", "currency": "EUR"}}]},
        "1 kg",
        "1 kg",
    ),
    (
        "batch-sheet",
        "/prices",
        SHEET | {"prices": [{"material": "NaOH", "price": {"amount": "5", "currency": "EUR", "per": "1 kg"}}]},
        "NaOH for NaOH-stock",
        None,
    ),
    ("batch-sheet", "/moisture_when_sold", SHEET, "none, for the limits of additions", None),
    ("production-plan", "/capacity", PLAN, "everything in one day", None),
    ("production-plan", "/capacity/mould_sets/0/days_filled", MOULDED, "1", 1),
    ("production-plan", "/reserve", PLAN, "none", None),
    ("production-plan", "/scale_division", PLAN, "a scale without steps", None),
    ("production-plan", "/stocks/0/temperature", PLAN, "20 °C", "20 °C"),
    ("production-plan", "/materials/0/price/per", PLAN, "1 kg", "1 kg"),
    ("production-plan", "/heating/ambient", PLAN, "20 °C", "20 °C"),
    ("production-plan", "/heating/efficiency", PLAN, "80 %", "80 %"),
    ("production-plan", "/stocks/0/remixing/cool_to", TANKED, "38 °C", "38 °C"),
    ("production-plan", "/stocks/0/remixing/purity", TANKED, "100 %", "100 %"),
    ("production-plan", "/stocks/0/remixing/water_temperature", TANKED, "20 °C", "20 °C"),
    ("production-plan", "/stocks/0/remixing/solid_temperature", TANKED, "20 °C", "20 °C"),
    ("production-plan", "/stocks/0/remixing/ambient", TANKED, "20 °C", "20 °C"),
    ("production-plan", "/stocks/0/remixing/surroundings", TANKED, "still-air", {"medium": "still-air"}),
    ("production-plan", "/stocks/0/remixing/ice/temperature", TANKED, "0 °C", "0 °C"),
    ("production-plan", "/stocks/0/remixing/ice/melted_share", TANKED, "0 %", "0 %"),
    ("production-plan", "/stocks/0/vessel/lid", TANKED, "no lid", False),
    ("saponification", "/superfat", RECIPE, "5 %", "5 %"),
    ("saponification", "/alkalis", RECIPE, "NaOH alone", [{"alkali": "NaOH"}]),
    ("saponification", "/alkalis/0/purity", changed(RECIPE, alkalis=[{"alkali": "NaOH"}]), "100 %", "100 %"),
    ("saponification", "/scale_division", RECIPE, "a scale without steps", {"value": 1e-6, "unit": "g"}),
    ("liquid-split", "/stocks/0/temperature", SPLIT, "20 °C", "20 °C"),
    (
        "liquid-split",
        "/liquids",
        {name: value for name, value in SPLIT.items() if name != "liquids"},
        "distilled-water for all of it, into the fats",
        [{"liquid": "distilled-water", "rest": True, "add_to": "fats"}],
    ),
    ("liquid-split", "/liquids/0/add_to", SPLIT, "fats", "fats"),
    (
        "liquid-split",
        "/total_liquid",
        {name: SPLIT[name] for name in ("alkalis", "stocks")},
        "nothing beside the stock",
        {"water_ratio": 1},
    ),
    ("liquid-split", "/count_liquids_as", SPLIT, "whole", "whole"),
    (
        "liquid-split",
        "/compensate",
        changed(SPLIT, liquids=[{"liquid": "cider-vinegar", "rest": True}]),
        "false",
        False,
    ),
    ("liquid-split", "/alkalis/0/purity", {"alkalis": SPLIT["alkalis"]}, "100 %", "100 %"),
    ("concentration", "/temperature", HALF, "20 °C", "20 °C"),
    ("concentration", "/strength/temperature", changed(HALF, strength={"density": "1.4 kg/L"}), "20 °C", "20 °C"),
    ("concentration", "/strength/reference_temperature", HALF, "60 °F", None),
    (
        "concentration",
        "/strength/reference_temperature",
        changed(HALF, strength={"degrees_twaddell": 90}),
        "60 °F",
        "60 °F",
    ),
    ("concentration", "/strength/baume_modulus", HALF, "145", None),
    ("concentration", "/strength/baume_modulus", changed(HALF, strength={"degrees_baume": 45}), "145", 145),
    ("concentration", "/strength/as_mixed/purity", changed(HALF, strength={"as_mixed": MIXED}), "100 %", "100 %"),
    ("stock-mixing", "/ambient", MIXING, "20 °C", "20 °C"),
    ("stock-mixing", "/duration", MIXING, "a tenth of the heat released is lost at most", None),
    ("stock-mixing", "/solid/temperature", MIXING, "20 °C", "20 °C"),
    ("stock-mixing", "/solid/purity", changed(MIXING, solid=BEADS | {"purity": None}), "100 %", "100 %"),
    ("stock-mixing", "/solid/moisture", MIXING, "0 %", "0 %"),
    ("stock-mixing", "/water/temperature", MIXING, "20 °C", "20 °C"),
    ("stock-mixing", "/ice/temperature", MIXING, "0 °C", "0 °C"),
    ("stock-mixing", "/ice/melted_share", MIXING, "0 %", "0 %"),
    ("stock-mixing", "/existing_stock/temperature", changed(MIXING, existing_stock=HEEL), "20 °C", "20 °C"),
    ("stock-mixing", "/existing_stock/state", changed(MIXING, existing_stock=HEEL), "liquid", "liquid"),
    ("stock-dilution", "/solutions/0/temperature", TWO, "20 °C", "20 °C"),
    ("stock-dilution", "/solutions/0/state", changed(TWO, solutions=TWO["solutions"][::-1]), "liquid", "liquid"),
    ("stock-adjustment", "/ambient", STRONG, "20 °C", "20 °C"),
    ("stock-adjustment", "/solution/temperature", STRONG, "20 °C", "20 °C"),
    ("stock-adjustment", "/with", STRONG, "water", "water"),
    ("stock-adjustment", "/with", WEAK, "solid", "solid"),
    ("stock-adjustment", "/water_temperature", STRONG, "20 °C", "20 °C"),
    ("stock-adjustment", "/with/temperature", WITH, "20 °C", "20 °C"),
    ("stock-adjustment", "/with/state", WITH, "liquid", "liquid"),
    ("stock-adjustment", "/solid/temperature", changed(WEAK, solid={}), "20 °C", "20 °C"),
    ("stock-adjustment", "/solid/purity", changed(WEAK, solid={}), "100 %", "100 %"),
    ("stock-adjustment", "/solid/moisture", changed(WEAK, solid={"purity": "98 %"}), "0 %", "0 %"),
    ("stock-adjustment", "/duration", WEAK, "a tenth of the heat released is lost at most", None),
    ("stock-adjustment", "/vessel/lid", WEAK_TIMED, "no lid", False),
    ("stock-adjustment", "/vessel/mass", WEAK_TIMED, "a vessel that takes up 5 % of the heat", None),
    ("stock-adjustment", "/vessel/volume", WEAK_TIMED, "a vessel just filled", None),
    ("stock-adjustment", "/vessel/diameter", WEAK_TIMED, "a vessel twice as wide as high", None),
    ("stock-mixing/ice", "/ambient", ICED, "20 °C", "20 °C"),
    ("stock-mixing/ice", "/solid/temperature", ICED, "20 °C", "20 °C"),
    ("stock-mixing/ice", "/solid/purity", ICED, "100 %", "100 %"),
    ("stock-mixing/ice", "/solid/moisture", changed(ICED, solid=PURE | {"purity": "98 %"}), "0 %", "0 %"),
    ("stock-mixing/ice", "/water_temperature", ICED, "20 °C", "20 °C"),
    ("stock-mixing/ice", "/ice/temperature", ICED | {"ice": {}}, "0 °C", "0 °C"),
    ("stock-mixing/ice", "/ice/melted_share", ICED | {"ice": {}}, "0 %", "0 %"),
    ("stock-mixing/ice", "/existing_stock/temperature", ICED | {"existing_stock": HEEL}, "20 °C", "20 °C"),
    ("stock-mixing/ice", "/existing_stock/state", ICED | {"existing_stock": HEEL}, "liquid", "liquid"),
    ("stock-mixing/ice", "/solution_mass", FILLED, "22.72 kg", None),
    ("stock-assay/hydrometer", "/reference_temperature", FLOAT, "60 °F", "60 °F"),
    ("stock-assay/hydrometer", "/water_reference_temperature", FLOAT, "60 °F", "60 °F"),
    ("stock-assay/hydrometer", "/baume_modulus", FLOAT, "145", 145),
    ("stock-assay/evaporation", "/ambient", STOOD | {"relative_humidity": 0.5}, "20 °C", "20 °C"),
    ("stock-assay/evaporation", "/solution/temperature", STOOD | {"solution": LITRE}, "20 °C", "20 °C"),
    ("superfat-check", "/wanted_superfat", CHECK, "5 %", "5 %"),
    ("superfat-check", "/mend_with", CHECK, "the batch's own fats, in their shares", None),
    ("superfat-check", "/scale_division", CHECK, "a scale without steps", {"value": 1e-6, "unit": "g"}),
    ("superfat-check", "/stock_draws/0/temperature", changed(CHECK, stock_draws=[POURED]), "20 °C", "20 °C"),
    ("superfat-check", "/solids/0/purity", changed(CHECK, solids=[SOLID]), "100 %", "100 %"),
    ("stock-mixing", "/vessel/lid", TIMED, "no lid", False),
    ("stock-mixing", "/vessel/mass", TIMED, "a vessel that takes up 5 % of the heat", None),
    ("stock-mixing", "/vessel/volume", TIMED, "a vessel just filled", None),
    ("stock-assay/titration", "/acid_protons", TITRATION, "1", 1),
    ("stock-assay/titration", "/burette_tolerance", TITRATION, "0.1 mL", "0.1 mL"),
    ("stock-assay/titration", "/end_point_uncertainty", TITRATION, "0.03 mL", "0.03 mL"),
    ("stock-assay/titration", "/water_volume", TITRATION, "100 mL", "100 mL"),
    ("stock-assay/titration", "/acid_temperature", TITRATION, "20 °C, give or take 4 K", None),
    ("stock-assay/titration", "/scale_division", TITRATION, "a scale without steps", None),
    (
        "stock-assay/titration",
        "/temperature",
        changed(TITRATION, sample_mass=None, sample_volume="2 mL"),
        "20 °C",
        "20 °C",
    ),
    ("soap-assay", "/acid_protons", SOAP, "1", 1),
    ("soap-assay", "/burette_tolerance", SOAP, "0.1 mL", "0.1 mL"),
    ("soap-assay", "/end_point_uncertainty", SOAP, "0.03 mL", "0.03 mL"),
    ("soap-assay", "/acid_temperature", SOAP, "20 °C, give or take 4 K", None),
    ("soap-assay", "/scale_division", SOAP, "a scale without steps", None),
    ("soap-assay", "/acid", SOAP, "citric-acid-anhydrous", "citric-acid-anhydrous"),
    ("stock-mixing", "/vessel/diameter", TIMED, "a vessel twice as wide as high", None),
    ("stock-cooling", "/surroundings/temperature", COOLING, "20 °C", "20 °C"),
    ("stock-cooling", "/surroundings/air_speed", FANNED, "2 m/s, 0.5 to 4 m/s", None),
    ("stock-cooling", "/surroundings/bath_mass", BATHED, "a bath that stays at its temperature", None),
    ("stock-cooling", "/solution/temperature", READ, "that of the last reading", None),
    ("stock-cooling", "/solution/state", WATERY, "liquid", "liquid"),
    ("stock-cooling", "/readings", READ, "temperatures good to 1 K", None),
    ("stock-cooling", "/vessel/volume", COOLING, "a vessel just filled", None),
    ("stock-cooling", "/vessel/diameter", COOLING, "a vessel as wide as high", None),
    ("stock-cooling", "/vessel/wall_thickness", BATHED, "2 mm, 1 to 4 mm", None),
    ("stock-cooling", "/vessel/lid", COOLING, "no lid", False),
    ("stock-cooling", "/vessel/mass", COOLING, "a vessel that takes up 2.5 % of the heat, 0 to 5 %", None),
    ("stock-warming", "/ambient", WARMING, "20 °C", "20 °C"),
    ("stock-warming", "/solution/temperature", WARMING, "20 °C", "20 °C"),
    ("stock-warming", "/solution/temperature", WARMING | {"ambient": "8 °C"}, "8 °C", "8 °C"),
    ("stock-warming", "/solution/state", WATER, "liquid", "liquid"),
    ("stock-warming", "/efficiency", WARMING, "100 %", "100 %"),
    ("stock-warming", "/crystallised", COLD, "at rest with its crystals", None),
    ("stock-warming", "/vessel/volume", WARMING, "a vessel just filled", None),
    ("stock-warming", "/vessel/diameter", WARMING, "a vessel as wide as high", None),
    ("stock-warming", "/vessel/lid", WARMING, "no lid", False),
    ("stock-warming", "/vessel/mass", WARMING, "a vessel that takes up 2.5 % of the heat, 0 to 5 %", None),
]

NO_DEFAULT: Final = {
    "reference": "the caller's own mark bears on nothing",
    "fats_temperature": "due where no fat has its own, unless wanted_temperature asks for it",
    "wanted_temperature": "without it nothing is wanted, and how warm the fats are must be given",
    "fats/temperature": "due where fats_temperature is not given, unless wanted_temperature asks for it",
    "liquids of batch-temperature": "what is not there is not there",
    "state of batch-temperature": "only a liquid is a stock of alkali",
    "fat": "one of fat and name is due",
    "name": "one of fat and name is due",
    "saponification_value": "due with name; the catalogue's figure is told under contributions",
    "iodine_value": "without it the answer leaves the iodine value out, or works it out from fatty_acids",
    "fatty_acids": "without them the answer leaves them out, with a caution",
    "acids": "none are none",
    "stocks": "an alkali without a stock is told under weigh_dry",
    "fats": "without them nothing is reckoned from them",
    "mole_share": "one alkali alone is all of it, and of two the shares are due",
    "mass_share": "one alkali alone is all of it, and of two the shares are due",
    "mass_as_supplied": "of an alkali: without it the purity counts",
    "height": "due with diameter",
    "wall_thickness": "without it, in air, the wall is taken to hold no heat back",
    "dead_volume": "without it the caution of a heater that comes out of the liquid is told of all of it",
    "hold_time": "without it nothing is told of holding",
    "maximum_temperature": "the limit of the catalogue is told as vessel_limit",
    "vessel": "without one no limit is told, and a caution says so",
    "water": "what is not there is not there",
    "ice": "what is not there is not there",
    "existing_stock": "what is not there is not there",
    "uncertainty": "a figure without a spread is taken as it is given, as every quantity",
    "as_mixed/moisture": "the strength is that of the hydroxide, whatever the rest of the solid is",
    "sample_mass of stock-assay/titration": "one of sample_mass and sample_volume is due",
    "sample_volume": "one of sample_mass and sample_volume is due",
    "density of stock-assay/titration": "without it the density follows from the strength, and is answered",
    "back_titration": "due with the method total-free, and refused with the other",
    "batch_mass": "without it no acid is reckoned",
    "bags": "how much is wanted is told in one way",
    "mass_as_supplied of stock-mixing/ice": "how much is wanted is told in one way",
    "bag_mass": "without it ice is told by its mass alone",
    "lid of stock-mixing/ice": "it bears on no more than the caution of a closed vessel",
    "diameter of stock-mixing/ice": "a volume, or a diameter with a height",
    "volume of stock-mixing/ice": "a volume, or a diameter with a height",
    "mass of stock-mixing/ice": "without a duration it bears on the lower end alone",
    "soap_share": "one of soap_share and batch is due",
    "batch": "one of soap_share and batch is due",
    "carbonate_mass_fraction": "a hydrometer cannot tell it; a caution says what it would read as",
    "labelled_strength": "without it nothing is compared with a label",
    "reading/density": "exactly one scale is due",
    "reading/specific_gravity": "exactly one scale is due",
    "reading/degrees_baume": "exactly one scale is due",
    "reading/degrees_twaddell": "exactly one scale is due",
    "division": "a figure without a spread is taken as it is given, as every quantity",
    "solid of stock-adjustment": "what the solid is, is told by member",
    "state of stock-adjustment": "of what is added it is told; a stock is no ice",
    "lid of stock-dilution": "it bears on no more than the caution of a closed vessel",
    "diameter of stock-dilution": "a volume, or a diameter with a height",
    "volume of stock-dilution": "one of mass and volume is due, and a vessel bears on no more than cautions",
    "mass of stock-dilution": "one of mass and volume is due, and a vessel takes up nothing where no heat is lost",
    "mass of stock-adjustment": "one of mass and volume is due; of what is added, enough",
    "volume of stock-adjustment": "one of mass and volume is due; of what is added, enough",
    "drawn_masses": "what was not drawn is still there",
    "mass_now": "one of mass_now and mass_change is due",
    "mass_change": "one of mass_now and mass_change is due",
    "relative_humidity": "without it nothing is told of the air",
    "open_mixing": "without one nothing is told of it",
    "age": "without it nothing is said of it",
    "state of stock-assay/evaporation": "only a liquid is a stock",
    "stock_draws": "one of stock_draws and solids is due",
    "solids": "one of stock_draws and solids is due",
    "liquids of superfat-check": "what was not weighed is not there",
    "state of superfat-check": "only a liquid brings alkali",
    "name of batch-sheet": "a recipe without a name is a recipe",
    "state of batch-sheet": "only a liquid is a stock",
    "additions": "what is not there is not there",
    "inci_name": "the name of the catalogue is told in the label; where there is none, it is due with label_law",
    "soap_inci_name": "the name of the catalogue is told in the label; where there is none, it is due with label_law",
    "label_law": "without one no label is made",
    "allergens": "what is not named needs no naming",
    "highest_share": "without it nothing is held against a limit",
    "alkali of batch-sheet": "of one stock the draw needs no name",
    "bar_mass": "without it no bars are counted",
    "sku": "an addition without an SKU is a material; a material without one is told by its name",
    "due": "an order without a date may come last",
    "order": "the caller's own mark bears on nothing",
    "description": "what has none is told by its name",
    "on_hand": "what is not there is not there",
    "materials": "what is not there is not there",
    "heating": "without a heater nothing is told of it",
    "first_day": "without it days are counted, and no date is told",
    "batches_per_day": "without it a day holds any number; one of it and mould_sets is due",
    "mould_sets": "without them moulds are not scarce; one of them and batches_per_day is due",
    "mould_set": "a batch without one waits for no moulds",
    "package_mass": "without it what lacks is bought",
    "unit": "the unit code is told: KGM",
    "density of production-plan": "due with a unit of volume",
    "price": "without one a caution says what is not counted",
    "remixing": "a tank without it is not filled anew",
    "strength of production-plan": "that of the stock, which is answered",
    "mass of production-plan": "of a material none is there, which is told as on_hand; a recipe has shares or masses",
    "diameter of production-plan": "a volume, or a diameter with a height",
    "volume of production-plan": "a volume, or a diameter with a height",
    "moisture of production-plan": "told with the purity of the solid",
    "air_speed of production-plan": "told where the air moves",
    "bath_mass of production-plan": "told where there is a bath",
    "temperature of production-plan": "of surroundings it is told by stock-cooling, and that of the room here",
    "ready_after_days": "how long it dries is told for each recipe that says nothing",
    "reserve of production-plan": "that of the plan, or none, which is told there",
    "superfat of production-plan": "told for each recipe that says nothing, as in batch-sheet",
    "alkalis of production-plan": "as in batch-sheet",
    "purity of production-plan": "as in batch-sheet and stock-mixing/ice",
    "total_liquid of production-plan": "as in batch-sheet",
    "liquids of production-plan": "as in batch-sheet",
    "add_to of production-plan": "as in batch-sheet",
    "frozen of production-plan": "a plan reckons no temperatures of batches",
    "count_liquids_as of production-plan": "as in batch-sheet",
    "compensate of production-plan": "as in batch-sheet",
    "goes_into of production-plan": "as in batch-sheet",
    "water_share of production-plan": "as in batch-sheet",
    "per of production-plan": "told for each price that says nothing",
    "superfat of liquid-split": "without it no superfat is wanted or told",
}
ONE_OF: Final = {
    "scale_to": ("fat_mass", "batter_mass", "mould_volume", "bars", "stock_draw"),
    "stocks": ("mass", "volume"),
    "fats": ("share", "mass"),
    "acids": ("use_level", "mass"),
    "additions": ("use_level", "mass"),
    "total_liquid": ("water_ratio", "mass", "liquid_to_fat_ratio", "fat_mass", "final_strength"),
    "liquids": ("share", "use_level", "mass", "rest"),
    "existing_stock": ("mass", "volume"),
    "stock_draws": ("mass", "volume"),
    "solution": ("mass", "volume"),
    "stock": ("mass", "volume"),
    "strength": (
        *("mass_fraction", "water_ratio", "mole_fraction", "molality", "molarity", "mass_concentration"),
        *("density", "degrees_baume", "degrees_twaddell", "oxide_fraction", "as_mixed"),
    ),
    "labelled_strength": (
        *("mass_fraction", "water_ratio", "mole_fraction", "molality", "molarity", "mass_concentration"),
        *("density", "degrees_baume", "degrees_twaddell", "oxide_fraction", "as_mixed"),
    ),
    "target_strength": (
        *("mass_fraction", "water_ratio", "mole_fraction", "molality", "molarity", "mass_concentration"),
        *("density", "degrees_baume", "degrees_twaddell", "oxide_fraction", "as_mixed"),
    ),
    "final_strength": (
        *("mass_fraction", "water_ratio", "mole_fraction", "molality", "molarity", "mass_concentration"),
        *("density", "degrees_baume", "degrees_twaddell", "oxide_fraction", "as_mixed"),
    ),
}
"""Members of which exactly one is due, by the object that holds them."""


def structs_of(kind: Any) -> Iterator[tuple[type[Struct], bool]]:
    """The structs that an annotation holds, and whether in a list."""
    if isinstance(kind, type) and issubclass(kind, Struct):
        yield kind, False
    for part in get_args(kind):
        for found, listed in structs_of(part):
            yield found, listed or get_origin(kind) is list


def optional_members(struct: type[Struct], at: str = "") -> Iterator[str]:
    """Pointers of a request's optional members; an item of a list stands as 0."""
    said = dict(zip(struct.__struct_fields__, struct.__struct_encode_fields__, strict=True))
    for member, kind in get_type_hints(struct).items():
        if member not in said:
            continue
        name = said[member]
        place = f"{at}/{name}"
        if type(None) in get_args(kind):
            yield place
        for inner, listed in structs_of(kind):
            yield from optional_members(inner, f"{place}/0" if listed else place)


MEMBERS: Final = [(name, at) for name, one in calculations().items() for at in optional_members(one.request)]


def has_no_default(name: str, at: str) -> bool:
    parts = [part for part in at.split("/") if part and part != "0"]
    holder, member = parts[-2] if len(parts) > 1 else "", parts[-1]
    return (
        member in NO_DEFAULT
        or f"{holder}/{member}" in NO_DEFAULT
        or f"{member} of {name}" in NO_DEFAULT
        or member in ONE_OF.get(holder, ())
    )


def shared(at: str) -> str:
    """A pointer below the strength of a solution, wherever that is: it is read by the same code."""
    for holder in ("/strength/", "/final_strength/", "/target_strength/", "/labelled_strength/"):
        if holder in at:
            return f"/strength/{at.split(holder, 1)[1]}"
    return at


def test_every_optional_member_has_a_default_that_is_told_or_none() -> None:
    told = {(name, at) for name, at, *_ in DEFAULTS}
    anywhere = {at for name, at, *_ in DEFAULTS if at.startswith("/strength/")}
    assert len(MEMBERS) > 100
    for name, at in MEMBERS:
        assert (name, at) in told or shared(at) in anywhere or has_no_default(name, at), f"{name} {at}"
    assert told <= set(MEMBERS)


def without(request: dict[str, Any]) -> dict[str, Any]:
    """A request without the members that stand as None."""
    return {
        name: without(value) if isinstance(value, dict) else value
        for name, value in request.items()
        if value is not None
    }


def put(request: dict[str, Any], at: str, value: Any) -> dict[str, Any]:
    """A request with one member more."""
    request = deepcopy(without(request))
    found: Any = request
    *parents, last = at.split("/")[1:]
    for part in parents:
        found = found[int(part)] if isinstance(found, list) else found[part]
    found[last] = value
    return request


def result(answer: Answer) -> Answer:
    return {name: value for name, value in answer.items() if name != "assumed"}


@pytest.mark.parametrize(("name", "at", "request_", "told", "outright"), DEFAULTS)
def test_a_default_is_told_and_said_outright_gives_the_same(
    name: str, at: str, request_: dict[str, Any], told: str, outright: Any
) -> None:
    silent = ask(name, without(request_))
    assert assumed(silent)[at] == told
    assert [one["pointer"] for one in silent["assumed"]].count(at) == 1
    assert all(one["why"] for one in silent["assumed"])
    if outright is None:
        return  # it cannot be said here, or not in the words of the member
    said = ask(name, put(request_, at, outright))
    assert at not in assumed(said)
    if at != "/scale_division":
        assert result(said) == result(silent)
    else:
        assert said["superfat"]["value"] == silent["superfat"]["value"]


def test_a_duration_that_is_given_is_not_assumed() -> None:
    assert "/duration" not in assumed(ask("stock-mixing", TIMED))


@pytest.mark.parametrize(
    ("member", "value", "silenced"),
    [
        ("mass", "1 kg", {"/vessel/mass"}),
        ("volume", "5 L", {"/vessel/volume"}),
        ("lid", True, {"/vessel/lid"}),
    ],
)
def test_a_vessel_that_is_described_is_assumed_no_more(member: str, value: object, silenced: set[str]) -> None:
    bare = assumed(ask("stock-mixing", TIMED))
    described = changed(TIMED, vessel=TIMED["vessel"] | {member: value})  # type: ignore[operator]
    assert set(bare) - set(assumed(ask("stock-mixing", described))) == silenced


def test_a_liquid_that_goes_into_the_fats_anyway_has_no_default_place() -> None:
    assert "/liquids/1/add_to" not in assumed(ask("liquid-split", SPLIT))


def test_the_total_of_liquids_by_mass_is_told() -> None:
    request = {name: SPLIT[name] for name in ("alkalis", "stocks")}
    told = assumed(ask("liquid-split", request | {"liquids": [{"liquid": "goat-milk", "mass": "50 g"}]}))
    assert told["/total_liquid"] == "the stock and the liquids given"
