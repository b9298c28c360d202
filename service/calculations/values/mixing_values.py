"""Single values of a mixing and of a stock that cools: how hot, how much ice, how long."""

from typing import Any, Final, cast

from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import PlainMass, Purity, Temperature, Volume
from service.calculations.shared.told import DurationFigure, LeastMassFigure, TemperatureFigure, Told
from service.calculations.values.inputs import ALKALI, PURITY, STRENGTH, alkali, with_given
from service.calculations.values.value import Input, Parameters, Value, strength
from service.reference import reference_data

_SOLID_MASS: Final = Input("solid_mass", "Solid as it is weighed from the bag.", "10 kg", PlainMass, required=True)
_SOLID: Final = Input("solid_temperature", "Of the solid. Default 20 °C.", "20 °C", Temperature)
_WATER: Final = Input("water_temperature", "Of the water. Default 20 °C.", "15 °C", Temperature)
_ICE: Final = Input("ice_temperature", "Of the ice, at most 0 °C. Default 0 °C.", "-5 °C", Temperature)
_MATERIALS: Final = (ALKALI, PURITY, _SOLID, _WATER, _ICE)
_SOLID_PLACES: Final = (
    ("/solid/alkali", "alkali"),
    ("/solid/purity", "purity"),
    ("/solid/temperature", "solid_temperature"),
    ("/solid", "solid_mass"),
)


def _solid(given: Parameters) -> dict[str, Any]:
    solid = {"alkali": alkali(given), "mass_as_supplied": given["solid_mass"].strip()}
    solid |= with_given(given, purity=Purity)
    return solid | ({"temperature": given["solid_temperature"].strip()} if "solid_temperature" in given else {})


def _mixing_request(given: Parameters) -> dict[str, Any]:
    request: dict[str, Any] = {"solid": _solid(given)}
    if "water_mass" not in given and "ice_mass" not in given:
        raise Faulty("choose-one", "what the solid goes into is not said", "give water_mass, or ice_mass", "/water")
    for name in ("water", "ice"):
        if f"{name}_mass" in given:
            request[name] = {"mass": given[f"{name}_mass"].strip()}
            if f"{name}_temperature" in given:
                request[name]["temperature"] = given[f"{name}_temperature"].strip()
        elif f"{name}_temperature" in given:
            raise Faulty(
                "choose-one",
                f"{name}_temperature says something about {name}_mass, which is not given",
                f"give {name}_mass, or leave {name}_temperature out",
                f"/{name}/temperature",
            )
    return request


PEAK_TEMPERATURE: Final = Value(
    name="peak-temperature",
    summary="How hot a mixing gets",
    description="The peak temperature of mixing solid alkali with water and ice, as `stock-mixing` answers it. Plan by "
    "`end=high`, the upper end of its interval; boiling caps it, and then it spatters.",
    inputs=(
        _SOLID_MASS,
        Input("water_mass", "Water beside the ice.", "10 kg", PlainMass),
        Input("ice_mass", "Ice.", "2 kg", PlainMass),
        *_MATERIALS,
    ),
    calculation="stock-mixing",
    request=_mixing_request,
    pick=lambda answer, _: answer.peak_temperature,
    kinds=(TemperatureFigure.kind,),
    places=(
        *_SOLID_PLACES,
        ("/water/temperature", "water_temperature"),
        ("/water", "water_mass"),
        ("/ice/temperature", "ice_temperature"),
        ("/ice", "ice_mass"),
    ),
)


def _ice_request(given: Parameters) -> dict[str, Any]:
    request = {
        "solid": _solid(given),
        "strength": strength(given["strength"], "/strength"),
        "peak_limit": given["peak_limit"].strip(),
    }
    if "ice_temperature" in given:
        request["ice"] = {"temperature": given["ice_temperature"].strip()}
    return request | with_given(given, water_temperature=Temperature)


def _ice_mass(answer: Any, _: Parameters) -> Told:
    if not answer.reachable:
        raise Faulty(
            "contradiction",
            "with all of its water as ice this mixing gets hotter than peak_limit",
            "ask stock-mixing/ice in which portions it is mixed, or for a higher limit",
            "/peak_limit",
        )
    return cast("Told", answer.ice_mass)


ICE_MASS: Final = Value(
    name="ice-mass",
    summary="Ice that keeps a mixing below a temperature",
    description="How much of the water must be ice so that the upper end of the peak stays at or below a limit, as "
    "`stock-mixing/ice` answers it. Where all ice is not enough that is told, and no number.",
    inputs=(
        _SOLID_MASS,
        STRENGTH,
        Input("peak_limit", "What the upper end of the peak shall not pass.", "60 °C", Temperature, required=True),
        *_MATERIALS,
    ),
    calculation="stock-mixing/ice",
    request=_ice_request,
    pick=_ice_mass,
    kinds=(LeastMassFigure.kind,),
    places=(
        *_SOLID_PLACES,
        ("/strength", "strength"),
        ("/peak_limit", "peak_limit"),
        ("/water_temperature", "water_temperature"),
        ("/ice", "ice_temperature"),
    ),
)


def _cooling_request(given: Parameters) -> dict[str, Any]:
    return {
        "solution": {
            "alkali": alkali(given),
            "mass": given["mass"].strip(),
            "strength": strength(given["strength"], "/solution/strength"),
            "temperature": given["temperature"].strip(),
        },
        "vessel": {"material": given.get("material", "hdpe").strip(), "lid": True} | with_given(given, volume=Volume),
        "surroundings": {"medium": given.get("medium", "still-air").strip()}
        | ({"temperature": given["ambient"].strip()} if "ambient" in given else {}),
        "target_temperature": given["target_temperature"].strip(),
    }


COOLING_TIME: Final = Value(
    name="cooling-time",
    summary="How long a hot stock takes to cool",
    description="The time that a stock takes to cool under a lid in still air or an ice bath, as `stock-cooling` "
    "answers it; `end=high` is the careful side.",
    inputs=(
        Input("mass", "Of the stock.", "20 kg", PlainMass, required=True),
        STRENGTH,
        Input("temperature", "That it has now.", "90 °C", Temperature, required=True),
        Input("target_temperature", "That it is to have.", "38 °C", Temperature, required=True),
        Input("ambient", "Of the air. Default 20 °C.", "20 °C", Temperature),
        Input("medium", "What it cools in. Default still-air.", "still-air", ("still-air", "ice-bath")),
        Input("material", "Of the vessel. Default hdpe.", "hdpe", tuple(reference_data().vessel_materials)),
        Input("volume", "What the vessel holds. Default as much as the stock takes.", "20 L", Volume),
        ALKALI,
    ),
    calculation="stock-cooling",
    request=_cooling_request,
    pick=lambda answer, _: answer.time,
    kinds=(DurationFigure.kind,),
    places=(
        ("/solution/alkali", "alkali"),
        ("/solution/mass", "mass"),
        ("/solution/temperature", "temperature"),
        ("/solution", "strength"),
        ("/vessel/volume", "volume"),
        ("/vessel", "material"),
        ("/surroundings/medium", "medium"),
        ("/surroundings", "ambient"),
        ("/target_temperature", "target_temperature"),
    ),
)

VALUES: Final = (PEAK_TEMPERATURE, ICE_MASS, COOLING_TIME)
