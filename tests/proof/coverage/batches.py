"""Random requests about batches of soap, and what is true of them."""

from typing import Final

from service.calculations.shared.told import FractionFigure, MassFigure, VolumeFigure
from service.chemistry import molar_masses
from tests.calculations.asking import Answer
from tests.proof.coverage.drawing import Maker
from tests.proof.coverage.engine import Draw, Members, Study, asked

FATS: Final = (
    "olive-oil",
    "coconut-oil",
    "palm-oil",
    "shea-butter",
    "sunflower-oil",
    "castor-oil",
    "lard",
    "rapeseed-oil",
    "cocoa-butter",
    "rice-bran-oil",
    "palm-kernel-oil",
    "stearic-acid",
)
SOUR: Final = ("goat-milk", "cow-milk-whole", "kefir-low-fat", "lemon-juice", "beer", "cider-vinegar", "tomato-juice")
SWEET: Final = ("distilled-water", "coconut-milk-canned", "oat-drink", "coffee-brewed", "aloe-gel")
ACIDS: Final = ("citric-acid-anhydrous", "lactic-acid-88", "stearic-acid")


def _fats(make: Maker, most: int = 5, *, spread: bool = True, total: float | None = None) -> list[Answer]:
    scale = make.size(0.2, 20) if total is None else total
    lines: list[Answer] = []
    for fat in make.some_of(FATS, most):
        mass = scale * make.number(0.1, 1.0)
        line: Answer = {"fat": fat, "mass": make.spread(mass, 0.01 * mass, "kg") if spread else make.plain(mass, "kg")}
        if make.chance(0.25):
            line.pop("fat")
            line |= {"name": f"own {fat}", "saponification_value": make.spread(make.number(180, 260), 6, "mg/g")}
        lines.append(line)
    return lines


def _mass(lines: list[Answer]) -> float:
    return float(sum(_middle(one["mass"]) for one in lines))


def _middle(said: Answer) -> float:
    return float(said["value"] if "value" in said else (said["low"] + said["high"]) / 2)


def _purity(make: Maker, alkali: str) -> Answer:
    middle = make.number(0.97, 0.995) if alkali == "NaOH" else make.number(0.86, 0.92)
    return make.spread(middle, 0.012, "1", 0.5, 1.0)


def _alkalis(make: Maker) -> list[Answer]:
    kinds = make.one_of(("NaOH",), ("KOH",), ("NaOH", "KOH"))
    first = make.number(0.1, 0.9)
    shares = (1.0,) if len(kinds) == 1 else (first, 1.0 - first)
    return [
        {"alkali": kind, "mole_share": share, "purity": _purity(make, kind)}
        for kind, share in zip(kinds, shares, strict=True)
    ]


def _acids(make: Maker, fats: float) -> list[Answer]:
    mass = fats * make.size(0.002, 0.02)
    return [{"acid": make.one_of(*ACIDS[:2]), "mass": make.spread(mass, 0.02 * mass, "kg")}]


def _saponification(make: Maker) -> Answer:
    fats = _fats(make)
    request: Answer = {"fats": fats, "superfat": make.number(0.0, 0.1), "alkalis": _alkalis(make)}
    if make.chance(0.4):
        request["acids"] = _acids(make, _mass(fats))
    if make.chance(0.3):
        request["scale_division"] = make.plain(_mass(fats) * make.size(1e-4, 3e-3), "kg")
    return request


def scaled_off(request: Answer, true: Draw, *lists: tuple[str, str]) -> Answer:
    """A request without the step of its scale, and what its masses may then be: tare and gross are rounded."""
    found = {name: held for name, held in request.items() if name != "scale_division"}
    division = request.get("scale_division")
    if division is None:
        return found
    for name, mass in lists:
        lines = []
        for one in request.get(name) or ():
            line, said = one, one.get(mass)
            if said is not None and "value" in said:
                off = float(true.random.triangular(-1, 0, 1)) * division["value"]
                said = {**said, "value": max(1e-9, said["value"] + off)}
                line = {**line, mass: said}
            lines.append(line)
        if name in request:
            found[name] = lines
    return found


def _saponified(true: Draw) -> Members:
    """The alkali by what is true; the superfat with as much weighed as was told."""
    nominal = true.nominal
    request = scaled_off(true.request, true, ("fats", "mass"), ("acids", "mass"))
    found = asked("saponification", request)
    weighed = [
        {
            "alkali": one["alkali"],
            "mass_as_supplied": {"value": nominal[f"/alkalis/{index}/mass_as_supplied"].value, "unit": "kg"},
            "purity": one["purity"],
        }
        for index, one in enumerate(request["alkalis"])
    ]
    division = true.request.get("scale_division")
    batch = {"fats": request["fats"], "acids": request.get("acids", []), "solids": weighed}
    if division is not None:
        batch["scale_division"] = division
        batch = scaled_off(batch, true, ("solids", "mass_as_supplied"))
    found["/superfat"] = asked("superfat-check", batch)["/superfat"]
    return found


def _check(make: Maker) -> Answer:
    fats = _fats(make)
    mass = _mass(fats)
    request: Answer = {"fats": fats, "wanted_superfat": make.number(0.01, 0.1)}
    need = mass * 0.195 * make.number(0.77, 1.15)
    if make.chance(0.42):
        alkali = make.one_of("NaOH", "KOH")
        pure = need * (40 / 56.1 if alkali == "NaOH" else 1.0)
        draws = []
        for share in make.one_of((1.0,), (0.6, 0.4)):
            strength = make.strength(0.25, 0.48, alkali)
            w = next((_middle(one) for one in strength.values() if isinstance(one, dict) and one.get("unit") == "1"), 0)
            w = w or (strength["mass_fraction"] if isinstance(strength.get("mass_fraction"), float) else 0.35)
            amount = {"mass": make.plain(share * pure / w, "kg")}
            if make.chance(0.25):
                amount = {"volume": make.plain(share * pure / w / 1.35, "L")}
            draws.append({"alkali": alkali, **amount, "strength": strength})
        request["stock_draws"] = draws
    else:
        alkali = make.one_of("NaOH", "KOH")
        pure = need * (40 / 56.1 if alkali == "NaOH" else 1.0)
        purity = _purity(make, alkali)
        solid = pure / _middle(purity)
        request["solids"] = [
            {"alkali": alkali, "mass_as_supplied": make.spread(solid, 0.01 * solid, "kg"), "purity": purity}
        ]
    if make.chance(0.3):
        liquids = make.some_of(SOUR + SWEET, 2)
        request["liquids"] = [{"liquid": one, "mass": make.plain(mass * 0.2, "kg")} for one in liquids]
    if make.chance(0.3):
        request["acids"] = _acids(make, mass)
    if make.chance(0.3):
        request["mend_with"] = make.one_of("olive-oil", "coconut-oil", "shea-butter")
    if make.chance(0.3):
        request["scale_division"] = make.plain(mass * make.size(1e-4, 3e-3), "kg")
    return request


def _checked(true: Draw) -> Members:
    request = scaled_off(
        true.request, true, ("fats", "mass"), ("stock_draws", "mass"), ("solids", "mass_as_supplied"), ("acids", "mass")
    )
    found = asked("superfat-check", request)
    return {at: found.get(at, MassFigure(0.0)) for at in true.nominal}  # what is not needed is nothing


def _split(make: Maker) -> Answer:
    kinds = make.one_of(("NaOH",), ("KOH",), ("NaOH", "KOH"))
    scale = make.size(0.05, 5)
    alkalis: list[Answer] = []
    stocks: list[Answer] = []
    for kind in kinds:
        mass = scale * make.number(0.3, 1.0)
        line: Answer = {"alkali": kind, "mass": make.spread(mass, 0.03 * mass, "kg")}
        if make.chance(0.75):
            stocks.append(
                {
                    "alkali": kind,
                    "strength": make.strength(0.3, 0.48, kind),
                    "temperature": make.plain(make.number(18, 30), "°C"),
                }
            )
        else:
            line["purity"] = _purity(make, kind)
        alkalis.append(line)
    request: Answer = {"alkalis": alkalis, "stocks": stocks}
    if make.chance(0.8):
        request["total_liquid"] = {"water_ratio": make.number(2.4, 3.5)}
        liquids = [{"liquid": make.one_of(*SOUR, *SWEET), "rest": True}]
        if make.chance(0.3):
            liquids.append({"liquid": make.one_of(*SOUR), "mass": make.plain(0.1 * scale, "kg")})
        if len({one["liquid"] for one in liquids}) == len(liquids):
            request["liquids"] = liquids
        else:
            request["liquids"] = liquids[:1]
    pure = sum(_middle(one["mass"]) / (39.997 if one["alkali"] == "NaOH" else 56.105) for one in alkalis)
    superfat = make.number(0.02, 0.08)
    way = make.one_of("fats", "superfat", "none")
    if way == "fats":
        fats = _fats(make, 4, total=1.0)
        factor = pure * 56.105 / (1 - superfat) / (0.2 * _mass(fats))
        for one in fats:
            one["mass"] = {
                name: held * factor if isinstance(held, float) else held for name, held in one["mass"].items()
            }
        request["fats"] = fats
    if way != "none":
        request["superfat"] = superfat
    return request


def _split_truly(true: Draw) -> Members:
    """The draws by what is true; the superfat of what was told to be drawn and added."""
    nominal, request = true.nominal, true.request
    found = asked("liquid-split", request)
    liquids, acid = [], 0.0
    for index, line in enumerate(request.get("liquids") or ()):
        at = f"/additions/{index}"
        if f"{at}/mass" in nominal and f"{at}/mass" in found:
            share = nominal[f"{at}/mass"].value / found[f"{at}/mass"].value
            found[f"{at}/acid_demand"] = MassFigure(found[f"{at}/acid_demand"].value * share)
            acid += found[f"{at}/acid_demand"].value
            liquids.append({"liquid": line["liquid"], "mass": {"value": nominal[f"{at}/mass"].value, "unit": "kg"}})
    found["/acid_demand"] = MassFigure(acid)
    if "/superfat" in nominal:
        draws, solids = [], []
        place = dry = 0
        delivered = asked_for = 0.0
        stocks = {one["alkali"]: one for one in request["stocks"]}
        for line in request["alkalis"]:
            kind = line["alkali"]
            molar = molar_masses.ALKALI[kind]
            asked_for += line["mass"]["value"] / molar
            if kind in stocks:
                mass = nominal[f"/stock_draws/{place}/mass"].value
                draws.append(
                    {"alkali": kind, "mass": {"value": mass, "unit": "kg"}, "strength": stocks[kind]["strength"]}
                )
                true_mass = found[f"/stock_draws/{place}/mass"].value
                delivered += mass * line["mass"]["value"] / true_mass / molar
                place += 1
            else:
                mass = nominal[f"/weigh_dry/{dry}/mass_as_supplied"].value
                solids.append(
                    {"alkali": kind, "mass_as_supplied": {"value": mass, "unit": "kg"}, "purity": line["purity"]}
                )
                delivered += mass * line["purity"]["value"] / molar
                dry += 1
        batch: Answer = {"liquids": liquids}
        if draws:
            batch["stock_draws"] = draws
        if solids:
            batch["solids"] = solids
        if "fats" in request:
            batch["fats"] = request["fats"]
        else:  # fats that need just what the alkali that is asked for tells
            need = asked_for / (1 - request["superfat"])
            value = 190.0
            mass = need * 56.1056 / value
            batch["fats"] = [
                {
                    "name": "the fats",
                    "mass": {"value": need * molar_masses.KOH / (value / 1e3), "unit": "kg"},
                    "saponification_value": {"value": value, "unit": "mg/g"},
                }
            ]
        found["/superfat"] = asked("superfat-check", batch)["/superfat"]
    return found


def _paste(make: Maker) -> Answer:
    if make.chance(0.15):
        share = make.number(0.3, 0.6)
        mass = make.size(0.3, 30)
        return {
            "paste_mass": make.spread(mass, 0.01 * mass, "kg"),
            "soap_share": make.spread(share, 0.05, "1"),
            "wanted_soap_share": share * make.number(0.3, 0.9),
        }
    fats = _fats(make, 4)
    mass = _mass(fats)
    alkali = mass * 0.198 * make.number(0.88, 1.17)
    water = mass * make.number(0.4, 1.2)
    alkalis = [{"alkali": "KOH", "mass": make.spread(alkali, 0.02 * alkali, "kg")}]
    if make.chance(0.2):
        some = make.number(0.1, 0.3)
        alkalis = [
            {"alkali": "KOH", "mass": make.spread(alkali * (1 - some), 0.02 * alkali, "kg")},
            {"alkali": "NaOH", "mass": make.spread(alkali * some * 0.713, 0.01 * alkali, "kg")},
        ]
    batch: Answer = {"fats": fats, "alkalis": alkalis, "water_mass": make.plain(water, "kg")}
    if make.chance(0.4):
        batch["acids"] = _acids(make, mass)
    paste = mass + alkali + water * make.number(0.5, 0.95)
    return {
        "paste_mass": make.spread(paste, 0.01 * paste, "kg"),
        "batch": batch,
        "wanted_soap_share": make.number(0.1, 0.35),
    }


def _thinned(true: Draw) -> Members:
    """What is true of the paste; of what is thinned, with as much water as was told."""
    found = asked("paste-dilution", true.request)
    told = true.nominal["/mass"].value
    for name in ("glycerol", "fat", "free_alkali"):
        at = f"/{name}_share"
        if at in found:
            found[at] = FractionFigure(found[at].value * found["/mass"].value / told)
    return found


def _warm(make: Maker, fats: list[Answer]) -> None:
    for one in fats:
        one["temperature"] = make.spread(make.number(20, 55), 1.0, "°C")


def _temperature(make: Maker) -> Answer:
    fats = _fats(make, 4)
    mass = _mass(fats)
    alkali = make.one_of("NaOH", "KOH")
    strength = make.strength(0.3, 0.48, alkali)
    stock = mass * make.number(0.25, 0.42)
    request: Answer = {
        "fats": fats,
        "stock": {
            "alkali": alkali,
            "mass": make.plain(stock, "kg"),
            "strength": strength,
            "temperature": make.plain(make.number(18, 40), "°C"),
        },
    }
    if make.chance(0.6):
        liquid = make.one_of(*SOUR, *SWEET)
        added = mass * make.number(0.05, 0.2)
        request["liquids"] = [
            {
                "liquid": liquid,
                "mass": make.spread(added, 0.01 * added, "kg"),
                "temperature": make.spread(make.number(3, 25), 1.0, "°C"),
            }
        ]
    if make.chance(0.5):
        request["fats_temperature"] = make.spread(make.number(30, 60), 1.5, "°C")
    else:
        _warm(make, fats)
    if make.chance(0.5):
        request["wanted_temperature"] = make.plain(make.number(28, 40), "°C")
    return request


def _recipe(make: Maker, *, stock: bool) -> Answer:
    fats = make.some_of(FATS[:11], 4)
    shares = [make.number(0.2, 1.0) for _ in fats]
    lines: list[Answer] = []
    for fat, share in zip(fats, shares, strict=True):
        line: Answer = {"fat": fat, "share": share / sum(shares)}
        if make.chance(0.25):
            line.pop("fat")
            line |= {"name": f"own {fat}", "saponification_value": make.spread(make.number(180, 260), 6, "mg/g")}
        lines.append(line)
    recipe: Answer = {
        "fats": lines,
        "superfat": make.number(0.02, 0.08),
        "total_liquid": {"water_ratio": make.number(2.4, 3.2)},
        "liquids": [{"liquid": make.one_of(*SOUR, *SWEET), "rest": True}],
    }
    if not stock:
        recipe["alkalis"] = [{"alkali": "NaOH", "purity": _purity(make, "NaOH")}]
    if make.chance(0.4):
        recipe["additions"] = [
            {"material": "clay", "kind": "other", "use_level": 0.02, "density": make.spread(2.4, 0.2, "kg/L")}
        ]
    return recipe


def _sheet(make: Maker) -> Answer:
    stock = make.chance(0.8)
    request: Answer = {
        "recipe": _recipe(make, stock=stock),
        "scale_to": {"fat_mass": make.plain(make.size(0.5, 20), "kg")},
    }
    if stock:
        request["stocks"] = [
            {
                "alkali": "NaOH",
                "mass": make.plain(100, "kg"),
                "strength": make.strength(0.32, 0.48),
                "temperature": make.plain(make.number(18, 30), "°C"),
            }
        ]
        if make.chance(0.5):
            request["fats_temperature"] = make.spread(make.number(30, 55), 1.5, "°C")
    if make.chance(0.4):
        request["scale_division"] = make.plain(request["scale_to"]["fat_mass"]["value"] * make.size(1e-4, 2e-3), "kg")
    return request


def _kilograms(mass: float) -> Answer:
    return {"value": mass, "unit": "kg"}


def _made(true: Draw) -> Members:
    """The superfat and the temperatures of what was told to be weighed."""
    found = asked("batch-sheet", {name: held for name, held in true.request.items() if name != "scale_division"})
    told = {one.material: one.mass.value for one in true.answer.weigh_list}
    recipe = true.request["recipe"]
    fats = []
    for line in recipe["fats"]:
        known = {name: held for name, held in line.items() if name != "share"}
        fats.append({**known, "mass": _kilograms(told[line.get("fat", line.get("name"))])})
    liquids = [
        {**{name: held for name, held in line.items() if name != "rest"}, "mass": _kilograms(told[line["liquid"]])}
        for line in recipe["liquids"]
        if line["liquid"] in told
    ]
    batch: Answer = {"fats": fats, "liquids": liquids}
    if "stocks" in true.request:
        stock = {**true.request["stocks"][0], "mass": _kilograms(told["NaOH-stock"])}
        batch["stock_draws"] = [stock]
        warm: Answer = {"fats": fats, "liquids": liquids, "stock": stock}
        if "/temperatures/fats" in true.nominal:
            if "fats_temperature" in true.request:
                warm["fats_temperature"] = true.request["fats_temperature"]
            else:
                warm["wanted_temperature"] = _kilograms(32) | {"unit": "°C"}
            heat = asked("batch-temperature", warm)
            found["/temperatures/reaction_rise"] = heat["/reaction_rise"]
            if "fats_temperature" in true.request:
                found["/temperatures/batch"] = heat["/temperature"]
            else:
                found["/temperatures/fats"] = heat["/fats_temperature_needed"]
    else:
        solid = recipe["alkalis"][0]
        batch["solids"] = [{"alkali": "NaOH", "mass_as_supplied": _kilograms(told["NaOH"]), "purity": solid["purity"]}]
    if "scale_division" in true.request:
        batch["scale_division"] = true.request["scale_division"]
        batch = scaled_off(
            batch, true, ("fats", "mass"), ("stock_draws", "mass"), ("solids", "mass_as_supplied"), ("liquids", "mass")
        )
    found["/superfat"] = asked("superfat-check", batch)["/superfat"]
    density, mass = found["/batter_density"], true.nominal["/batter_mass"].value
    if density.low is not None and density.high is not None:
        found["/batter_volume"] = VolumeFigure(mass / density.value, mass / density.high, mass / density.low)
    return found


STUDIES: Final = (
    Study("saponification", _saponification, _saponified, acids=True),
    Study("superfat-check", _check, _checked),
    Study("liquid-split", _split, _split_truly),
    Study("paste-dilution", _paste, _thinned),
    Study("batch-temperature", _temperature, bounded=("/temperature",)),
    Study("batch-sheet", _sheet, _made, skip=("planned_temperature",), bounded=("/batch",)),
)
