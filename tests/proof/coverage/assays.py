"""Random requests about assays, cooling, warming and plans, and what is true of them."""

from typing import Final

from tests.calculations.asking import Answer
from tests.proof.coverage.drawing import Maker
from tests.proof.coverage.engine import Draw, Members, Study, asked
from tests.proof.coverage.stocks import iced

ML: Final = "mL"


def _titration(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "KOH")
    molar = 39.997 if alkali == "NaOH" else 56.105
    w = make.number(0.05, 0.49)
    acid = make.number(0.5, 1.0)
    grams = make.number(15, 45) * acid * molar / w / 1e3
    carbonate = make.number(0.002, 0.05)
    if make.chance(0.25):  # gone to carbonate
        carbonate = make.number(0.05, 0.7)
    first = grams * w / molar * 1e3 / acid
    request: Answer = {
        "alkali": alkali,
        "acid_molarity": make.spread(acid, 0.004 * acid, "mol/L"),
        "first_end_point": make.spread(first * (1 + carbonate / 2), 0.1, ML),
        "second_end_point": make.spread(first * (1 + carbonate), 0.1, ML),
    }
    if make.chance(0.5):
        request["sample_mass"] = make.spread(grams, 0.003 * grams, "g")
        if make.chance(0.5):
            request["scale_division"] = make.plain(0.01, "g")
    else:
        rho = 1 + 1.05 * w
        request["sample_volume"] = make.spread(grams / rho, 0.01 * grams / rho, ML)
        request["temperature"] = make.plain(make.number(15, 30), "°C")
        if make.chance(0.4):
            request["density"] = make.spread(rho, 0.005, "kg/L")
    return request


def _soap(make: Maker) -> Answer:
    free = make.size(0.0002, 0.02)
    grams = make.number(5, 20)
    acid = 0.1
    volume = free * grams / 39.997 * 1e3 / acid
    request: Answer = {
        "alkali": make.one_of("NaOH", "KOH"),
        "sample_mass": make.spread(grams, 0.02, "g"),
        "acid_molarity": make.spread(acid, 0.001, "mol/L"),
        "acid_volume": make.spread(volume, 0.06, ML),
        "method": "free-caustic",
    }
    if make.chance(0.4):
        back = make.number(0.2, 0.95)
        request["method"] = "total-free"
        request["acid_volume"] = make.spread(25.0, 0.06, ML)
        request["back_titration"] = {
            "molarity": make.spread(acid, 0.001, "mol/L"),
            "volume": make.spread(25.0 * back, 0.06, ML),
        }
    if make.chance(0.5):
        mass = make.size(0.5, 20)
        request["batch_mass"] = make.spread(mass, 0.02 * mass, "kg")
        request["acid"] = make.one_of("citric-acid-anhydrous", "lactic-acid-88")
    return request


def _hydrometer(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "KOH")
    gravity = make.number(1.08, 1.5 if alkali == "NaOH" else 1.48)
    reading: Answer = make.one_of(
        {"specific_gravity": gravity, "division": make.one_of(0.002, 0.005, 0.01)},
        {"degrees_baume": 145 - 145 / gravity, "division": make.one_of(0.2, 0.5, 1.0)},
        {"degrees_twaddell": 200 * (gravity - 1), "division": make.one_of(0.5, 1.0)},
        {"density": make.spread(gravity, 0.006, "kg/L")},
    )
    request: Answer = {
        "alkali": alkali,
        "reading": reading,
        "temperature": make.spread(make.number(12, 40), 1.5, "°C"),
    }
    if make.chance(0.3):
        request["carbonate_mass_fraction"] = make.spread(make.number(0.002, 0.02), 0.003, "1")
    return request


def _floated(true: Draw) -> Members:
    """The strength by a reading that is off by up to half a step, on a scale that is off by up to one."""
    request = true.request
    reading = dict(request["reading"])
    division = reading.pop("division", None)
    if division is not None:
        (name,) = reading
        off = float(true.random.uniform(-0.5, 0.5)) + float(true.random.uniform(-1, 1))
        reading[name] += off * division
    return asked("stock-assay/hydrometer", {**request, "reading": reading})


def _evaporation(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "KOH")
    filled = make.size(1, 100)
    draws = [filled * make.number(0.05, 0.15) for _ in range(int(make.number(0, 4)))]
    request: Answer = {
        "solution": {
            "alkali": alkali,
            "mass": make.plain(filled, "kg"),
            "strength": make.strength(0.2, 0.46, alkali),
            "temperature": make.plain(make.number(18, 30), "°C"),
        },
        "drawn_masses": [make.spread(one, 0.01 * one, "kg") for one in draws],
    }
    if make.chance(0.25):
        request["solution"].pop("mass")
        request["solution"]["volume"] = make.plain(filled / 1.35, "L")
    left = filled - sum(draws)
    gone = filled * make.number(0.001, 0.03)
    if make.chance(0.5):
        request["mass_now"] = make.spread(left - gone, 0.003 * filled, "kg")
    else:
        request["mass_change"] = make.spread(-gone, 0.002 * filled, "kg", -1e9)
    if make.chance(0.4):
        request["relative_humidity"] = make.number(0.2, 0.7)
    if make.chance(0.5):
        request["open_mixing"] = {
            "diameter": make.plain(make.number(15, 40), "cm"),
            "duration": make.plain(make.number(10, 60), "min"),
            "temperature": make.plain(make.number(40, 85), "°C"),
        }
    return request


def _vessel(make: Maker) -> Answer:
    return {
        "material": make.one_of("stainless-steel", "hdpe", "polypropylene"),
        "mass": make.plain(make.number(1, 3), "kg"),
        "diameter": make.plain(30, "cm"),
        "height": make.plain(40, "cm"),
        "lid": make.chance(0.5),
    }


def _cooling(make: Maker) -> Answer:
    """Without readings: those are studied for themselves, in `tests.proof.coverage.readings`."""
    alkali = make.one_of("NaOH", "KOH")
    request: Answer = {
        "solution": {
            "alkali": alkali,
            "mass": make.plain(make.number(10, 25), "kg"),
            "strength": make.strength(0.2, 0.47, alkali),
            "temperature": make.plain(make.number(60, 95), "°C"),
        },
        "vessel": _vessel(make),
        "surroundings": {"medium": make.one_of("still-air", "water-bath"), "temperature": make.plain(20, "°C")},
        "target_temperature": make.plain(make.number(32, 45), "°C"),
    }
    if make.chance(0.3):
        request["surroundings"] = {"medium": "moving-air", "temperature": make.plain(20, "°C")}
        request["surroundings"]["air_speed"] = make.spread(make.number(0.5, 4), 0.5, "m/s")
    elif make.chance(0.6):
        request["surroundings"] = {"medium": "ice-bath"}
    return request


def _warming(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "KOH")
    request: Answer = {
        "solution": {
            "alkali": alkali,
            "mass": make.plain(make.number(10, 30), "kg"),
            "strength": make.strength(0.2, 0.47, alkali),
            "temperature": make.plain(make.number(16, 22), "°C"),
        },
        "vessel": _vessel(make),
        "heater_power": make.plain(make.number(0.4, 2), "kW"),
        "ambient": make.plain(make.number(12, 25), "°C"),
        "target_temperature": make.plain(make.number(30, 50), "°C"),
        "hold_time": make.plain(5, "h"),
    }
    if make.chance(0.45):  # too weak to boil it
        request["heater_power"] = make.plain(make.number(0.15, 0.4), "kW")
    if make.chance(0.5):  # set in a cold store
        request["solution"] |= {
            "alkali": "NaOH",
            "strength": make.strength(0.4, 0.49),
            "temperature": make.plain(make.number(-5, 7), "°C"),
        }
        request["crystallised"] = True
    return request


def _plan(make: Maker) -> Answer:
    fats = [{"fat": "olive-oil", "share": 0.7}, {"fat": "coconut-oil", "share": 0.3}]
    if make.chance(0.5):
        value = make.spread(make.number(185, 195), 4, "mg/g")
        fats[0] = {"name": "own oil", "share": 0.7, "saponification_value": value}
    return {
        "orders": [{"sku": "BAR", "quantity": int(make.number(20, 400))}],
        "recipes": {
            "BAR": {
                "recipe": {"fats": fats, "superfat": 0.05, "total_liquid": {"water_ratio": 2.4}},
                "batch": {"fat_mass": make.plain(make.number(2, 8), "kg")},
                "bars": 40,
                "bar_mass": make.plain(110, "g"),
            }
        },
        "stocks": [
            {
                "alkali": "NaOH",
                "mass": make.plain(make.number(1, 5), "kg"),
                "strength": make.strength(0.45, 0.49, forms=False),
                "temperature": make.plain(20, "°C"),
                "vessel": {"material": "hdpe", "volume": make.plain(20, "L"), "lid": False},
                "remixing": {
                    "strength": {"mass_fraction": make.number(0.44, 0.49)},
                    "peak_limit": make.plain(make.number(50, 65), "°C"),
                    "purity": make.spread(0.985, 0.01, "1", 0.5, 1.0),
                    "cool_to": make.plain(30, "°C"),
                    "surroundings": {"medium": "water-bath"},
                },
            }
        ],
        "heating": {"power": make.plain(1.5, "kW"), "fats_temperature": make.plain(50, "°C")},
    }


def _planned(true: Draw) -> Members:
    """The mixings by what is true of the solid and of what is left in the tank; of as much as was told."""
    # What heating takes goes with the fats alone, whose masses are exact.
    found = {at: one for at, one in true.nominal.items() if not at.startswith("/mixings/")}
    stock = true.request["stocks"][0]
    how = stock["remixing"]
    for index, one in enumerate(true.answer.mixings):
        at = f"/mixings/{index}"
        request: Answer = {
            "solid": {"alkali": "NaOH", "purity": how["purity"]},
            "strength": how["strength"],
            "peak_limit": how["peak_limit"],
            "solution_mass": {"value": one.mass.value, "unit": "kg"},
            "ambient": {"value": 20, "unit": "°C"},
            "vessel": stock["vessel"],
        }
        if one.stock_before.value > 1e-3:
            request["existing_stock"] = {
                "alkali": "NaOH",
                "mass": {"value": one.stock_before.value, "unit": "kg"},
                "strength": how["strength"] if index else stock["strength"],
                "temperature": stock["temperature"],
            }
        told = {"solid": one.mass_as_supplied.value, "ice": one.ice_mass.value, "water": one.water_mass.value}
        iced_truly = iced(request, told)
        for name in ("mass_as_supplied", "ice_mass", "water_mass", "peak_temperature"):
            found[f"{at}/{name}"] = iced_truly[f"/{name}"]
        found[f"{at}/strength"] = iced_truly["/strength/mass_fraction"]
        cooling = {
            "solution": {
                "alkali": "NaOH",
                "mass": {"value": one.mass.value, "unit": "kg"},
                "strength": how["strength"],
                "temperature": {"value": one.peak_temperature.high or one.peak_temperature.value, "unit": "°C"},
            },
            "vessel": stock["vessel"],
            "surroundings": how["surroundings"],
            "target_temperature": how["cool_to"],
        }
        found[f"{at}/cooling_time"] = asked("stock-cooling", cooling)["/time"]
    return found


STUDIES: Final = (
    Study("stock-assay/titration", _titration),
    Study("soap-assay", _soap),
    Study("stock-assay/hydrometer", _hydrometer, _floated),
    Study("stock-assay/evaporation", _evaporation),
    Study("stock-cooling", _cooling),
    Study("stock-warming", _warming),
    Study("production-plan", _plan, _planned, bounded=("/peak_temperature",)),
)
