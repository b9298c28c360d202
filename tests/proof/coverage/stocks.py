"""Random requests about stocks: what they are, what becomes of them when they are poured and mixed."""

from typing import Any, Final

from service.calculations.mixing.mixing_contents import CARBONATE_LIMIT
from service.calculations.shared.told import MassFigure
from service.chemistry.enthalpy import BOUND_WATER_LIMIT
from tests.calculations.asking import Answer
from tests.proof.coverage.drawing import Maker
from tests.proof.coverage.engine import Draw, Members, Study, asked


def _concentration(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "NaOH", "KOH")
    strength = make.strength(0.02, 0.48, alkali)
    return {"alkali": alkali, "strength": strength, "temperature": make.plain(make.number(5, 90), "°C")}


def _solution(
    make: Maker, alkali: str, low: float = 0.05, high: float = 0.48, hot: float = 60.0, *, measured: float = 0.3
) -> Answer:
    """A solution, its amount a volume as often as `measured` says."""
    amount: Answer = {"mass": make.plain(make.size(0.2, 100), "kg")}
    if make.chance(measured):
        amount = {"volume": make.plain(make.size(0.2, 100), "L")}
    strength = make.strength(low, high, alkali)
    return {"alkali": alkali, **amount, "strength": strength, "temperature": make.plain(make.number(15, hot), "°C")}


def _water(make: Maker, alkali: str) -> Answer:
    return {
        "alkali": alkali,
        "mass": make.plain(make.size(0.2, 100), "kg"),
        "strength": {"mass_fraction": 0},
        "temperature": make.plain(make.number(5, 60), "°C"),
    }


def _dilution(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "KOH")
    count = make.one_of(1, 1, 2, 3)
    solutions = [_solution(make, alkali) for _ in range(count)]
    if make.chance(0.7):
        solutions.append(_water(make, alkali))
    if make.chance(0.2):
        ice = make.plain(make.size(0.2, 3), "kg")
        solutions.append({"alkali": alkali, "mass": ice, "strength": {"mass_fraction": 0}, "state": "ice"})
    if make.chance(0.15):  # like into like
        twin = dict(solutions[0])
        twin["strength"] = make.strength(0.3, 0.301, alkali, forms=False)
        twin["temperature"] = solutions[0]["temperature"]
        solutions[0] = {**solutions[0], "strength": make.strength(0.3, 0.301, alkali, forms=False)}
        solutions = [solutions[0], twin]
    return {"solutions": solutions}


def _adjustment(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "KOH")
    solution = _solution(make, alkali, 0.2, 0.48, 40, measured=0.5)
    ways: list[Answer] = [
        {"target_strength": {"mass_fraction": make.number(0.05, 0.4)}, "with": "water"},
        {
            "target_strength": {"mass_fraction": make.number(0.3, 0.5)},
            "with": "solid",
            "solid": {"purity": make.spread(make.number(0.88, 0.99), 0.01, "1", 0.5, 1.0)},
        },
        {
            "target_strength": {"mass_fraction": make.number(0.1, 0.45)},
            "with": {
                "alkali": alkali,
                "strength": make.strength(0.05, 0.48, alkali),
                "temperature": make.plain(make.number(15, 40), "°C"),
            },
        },
    ]
    return {"solution": solution, **make.one_of(*ways)}


def moist(solid: Answer, alkali: str, true: Draw) -> Answer:
    """A solid with as much bound water as is true, where nothing is said of it.

    The service takes flakes of KOH as anything from without bound water but for the carbonate that they may hold, to
    all that is no hydroxide, up to the monohydrate; any of that is as likely. It takes NaOH as dry.
    """
    if alkali != "KOH" or "moisture" in solid:
        return solid
    purity = solid["purity"]["value"]
    most = min(1.0 - purity, BOUND_WATER_LIMIT["KOH"] * purity)
    water = float(true.random.uniform(max(0.0, 1.0 - purity - CARBONATE_LIMIT), most))
    return {**solid, "moisture": {"value": min(max(0.0, water), most), "unit": "1"}}


AFTERWARDS: Final = ("/solution/", "/heat_released", "/peak_temperature", "/first_solid_temperature")


def _adjusted(true: Draw) -> Members:
    """What is to be added by what is true; and what it comes to, with as much added as was told."""
    found = {at: one for at, one in asked("stock-adjustment", true.request).items() if not at.startswith(AFTERWARDS)}
    request, nominal = true.request, true.nominal
    added = {"value": nominal["/add/mass"].value, "unit": "kg"}
    solution, alkali = request["solution"], request["solution"]["alkali"]
    air = {"value": 20, "unit": "°C"}
    if request["with"] == "solid":
        solid = {"alkali": alkali, "mass_as_supplied": added, **moist(request["solid"], alkali, true)}
        told = asked("stock-mixing", {"solid": solid, "existing_stock": solution})
        renamed = {
            "/strength/mass_fraction": "/solution/strength/mass_fraction",
            "/adiabatic_temperature": "/solution/temperature",
            "/mass": "/solution/mass",
        }
        found |= {renamed.get(at, at): one for at, one in told.items()}
        found["/solution/volume"] = _volume(true, found)
        return found
    more: Answer = {"alkali": alkali, "mass": added, "strength": {"mass_fraction": 0}, "temperature": air}
    if request["with"] != "water":
        more = {**more, **request["with"]}
    return found | asked("stock-dilution", {"solutions": [solution, more]})


def _volume(true: Draw, found: Members) -> Any:
    whole: Answer = {
        "alkali": true.request["solution"]["alkali"],
        "mass": {"value": found["/solution/mass"].value, "unit": "kg"},
        "strength": {"mass_fraction": found["/solution/strength/mass_fraction"].value},
        "temperature": {"value": found["/solution/temperature"].value, "unit": "°C"},
    }
    return asked("stock-dilution", {"solutions": [whole]})["/solution/volume"]


def _mixing(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "KOH")
    solid = make.size(0.2, 50)
    purity = make.number(0.97, 0.995) if alkali == "NaOH" else make.number(0.86, 0.92)
    water = solid * (purity / make.number(0.2, 0.47) - 1)
    request: Answer = {
        "solid": {
            "alkali": alkali,
            "mass_as_supplied": make.plain(solid, "kg"),
            "purity": make.spread(purity, 0.01, "1", 0.5, 1.0),
        },
        "ambient": make.plain(make.number(10, 30), "°C"),
    }
    if make.chance(0.3):
        request["ice"] = make.plain(0, "kg") | {}
        request["ice"] = {"mass": make.plain(water * 0.4, "kg")}
        water *= 0.6
    request["water"] = {"mass": make.plain(water, "kg"), "temperature": make.plain(make.number(5, 30), "°C")}
    if make.chance(0.65):
        request["existing_stock"] = _solution(make, alkali, 0.2, 0.45, 40, measured=0.65)
    return request


def _mixed(true: Draw) -> Members:
    solid = moist(true.request["solid"], true.request["solid"]["alkali"], true)
    return asked("stock-mixing", {**true.request, "solid": solid})


def _ice(make: Maker) -> Answer:
    alkali = make.one_of("NaOH", "KOH")
    purity = make.number(0.97, 0.995) if alkali == "NaOH" else make.number(0.86, 0.92)
    request: Answer = {
        "solid": {"alkali": alkali, "purity": make.spread(purity, 0.01, "1", 0.5, 1.0)},
        "strength": {"mass_fraction": make.number(0.2, 0.48)},
        "solution_mass": make.plain(make.size(0.5, 60), "kg"),
        "peak_limit": make.plain(make.number(35, 70), "°C"),
        "ambient": make.plain(make.number(10, 30), "°C"),
    }
    if make.chance(0.38):  # colder than it can be kept
        request["strength"] = {"mass_fraction": make.number(0.35, 0.48)}
        request["peak_limit"] = make.plain(make.number(15, 30), "°C")
    if make.chance(0.3):
        request["existing_stock"] = _solution(make, alkali, 0.2, 0.45, 40)
    return request


def iced(request: Answer, told: dict[str, float]) -> Members:
    """What a mixing with ice takes by what is true; and what comes of the solid, ice and water that were told [kg]."""
    found = asked("stock-mixing/ice", request)
    ice = found["/ice_mass"]
    whole = ice.value + found["/water_mass"].value
    found["/water_mass"] = MassFigure(max(0.0, whole - told["ice"]))
    if told["water"] <= 0.0:  # all of the water is told as ice, where even that does not reach the limit
        found["/ice_mass"] = MassFigure(whole)
    elif ice.low is not None:  # the value is the upper end, so that it is enough
        found["/ice_mass"] = MassFigure((ice.low + ice.value) / 2, ice.low, ice.value)
    solid = {**request["solid"], "mass_as_supplied": {"value": told["solid"], "unit": "kg"}}
    mixing: Answer = {"solid": solid, "ambient": request["ambient"]}
    for name in ("water", "ice"):
        if told[name] > 0:
            mixing[name] = {"mass": {"value": told[name], "unit": "kg"}}
    if "existing_stock" in request:
        mixing["existing_stock"] = request["existing_stock"]
    mixed = asked("stock-mixing", mixing)
    for at in ("/peak_temperature", "/heat_released", "/strength/mass_fraction"):
        found[at] = mixed[at]
    return found


def _iced(true: Draw) -> Members:
    told = {
        "solid": true.nominal["/mass_as_supplied"].value,
        "ice": true.nominal["/ice_mass"].value,
        "water": true.nominal["/water_mass"].value,
    }
    solid = moist(true.request["solid"], true.request["solid"]["alkali"], true)
    return iced({**true.request, "solid": solid}, told)


STUDIES: Final = (
    Study("concentration", _concentration),
    Study("stock-dilution", _dilution),
    Study("stock-adjustment", _adjustment, _adjusted, bounded=("/peak_temperature",)),
    # What boils off is what was put in less the mass, so that it is told a second time.
    Study("stock-mixing", _mixing, _mixed, skip=("/water_boiled_off",), bounded=("/peak_temperature",)),
    Study("stock-mixing/ice", _ice, _iced, bounded=("_peak", "/peak_temperature")),
)
