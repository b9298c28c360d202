"""Single values are those of their calculations: each against the request that a caller would write by hand."""

import json
from typing import Any

import pytest

from service.calculations.shared.faults import Refusal
from service.calculations.shared.told import Told
from service.calculations.values.value_registry import values
from tests.calculations.asking import calculation

REQUIRED = {
    "added-liquid": {"alkali_mass", "strength"},
    "alkali-mass": {"fats"},
    "boiling-point": {"strength"},
    "cooling-time": {"mass", "strength", "temperature", "target_temperature"},
    "density": {"strength"},
    "first-solid-temperature": {"strength"},
    "ice-mass": {"solid_mass", "strength", "peak_limit"},
    "peak-temperature": {"solid_mass"},
    "stock-draw": {"alkali_mass", "strength"},
    "strength": {"from", "to"},
    "superfat": {"fats", "stock_draw", "strength"},
}
OLIVE = {"fats": [{"fat": "olive-oil", "mass": "500 g"}]}
HALF = {"mass_fraction": "50 %"}
NAOH = {"alkali": "NaOH"}
KOH = {"alkali": "KOH"}
POUNDS = {"alkali_mass": " 7 oz", "strength": "50 %"}
SPLIT = {"alkalis": [NAOH | {"mass": "7 oz"}], "stocks": [NAOH | {"strength": HALF}]}
MIXING = {"solid_mass": " 10 kg", "water_mass": "10 kg "}
TEN: dict[str, Any] = {"solid": NAOH | {"mass_as_supplied": "10 kg"}, "water": {"mass": "10 kg"}}
ICED = {"solid_mass": "10 kg", "strength": "40 %", "peak_limit": "60 °C"}
TO_ICE: dict[str, Any] = {
    "solid": NAOH | {"mass_as_supplied": "10 kg"},
    "strength": {"mass_fraction": "40 %"},
    "peak_limit": "60 °C",
}
HOT = {"mass": "20 kg", "strength": "50 %", "temperature": "90 °C", "target_temperature": "38 °C"}
COOLING: dict[str, Any] = {
    "solution": NAOH | {"mass": "20 kg", "strength": HALF, "temperature": "90 °C"},
    "vessel": {"material": "hdpe", "lid": True},
    "surroundings": {"medium": "still-air"},
    "target_temperature": "38 °C",
}

ASKED: list[tuple[str, dict[str, str], str, dict[str, Any], str]] = [
    ("alkali-mass", {"fats": "olive-oil:500 g"}, "saponification", OLIVE | {"alkalis": [NAOH]}, "alkalis.0.mass"),
    (
        "alkali-mass",
        {"fats": " olive-oil : 500 g;coconut-oil:250 g; ", "superfat": "2 %", "alkali": "KOH"},
        "saponification",
        {
            "fats": [{"fat": "olive-oil", "mass": "500 g"}, {"fat": "coconut-oil", "mass": "250 g"}],
            "alkalis": [KOH],
            "superfat": "2 %",
        },
        "alkalis.0.mass",
    ),
    ("stock-draw", POUNDS, "liquid-split", SPLIT, "stock_draws.0.mass"),
    (
        "stock-draw",
        {"alkali_mass": "100 g", "strength": "1:1", "alkali": " KOH"},
        "liquid-split",
        {"alkalis": [KOH | {"mass": "100 g"}], "stocks": [KOH | {"strength": {"water_ratio": "1:1"}}]},
        "stock_draws.0.mass",
    ),
    (
        "added-liquid",
        POUNDS | {"water_ratio": "2:1"},
        "liquid-split",
        SPLIT | {"total_liquid": {"water_ratio": "2:1"}},
        "added_liquid_mass",
    ),
    (
        "added-liquid",
        POUNDS | {"total_liquid": "14 oz "},
        "liquid-split",
        SPLIT | {"total_liquid": {"mass": "14 oz"}},
        "added_liquid_mass",
    ),
    (
        "superfat",
        {"fats": "olive-oil:500 g", "stock_draw": "130 g", "strength": "50 %"},
        "superfat-check",
        OLIVE | {"stock_draws": [NAOH | {"mass": "130 g", "strength": HALF}]},
        "superfat",
    ),
    ("peak-temperature", MIXING, "stock-mixing", TEN, "peak_temperature"),
    (
        "peak-temperature",
        {
            "solid_mass": "10 kg",
            "alkali": "KOH",
            "purity": "90 %",
            "solid_temperature": "30 °C",
            "ice_mass": "8 kg",
            "ice_temperature": "-5 °C",
            "water_mass": "4 kg",
            "water_temperature": "15 °C",
        },
        "stock-mixing",
        {
            "solid": KOH | {"mass_as_supplied": "10 kg", "purity": "90 %", "temperature": "30 °C"},
            "water": {"mass": "4 kg", "temperature": "15 °C"},
            "ice": {"mass": "8 kg", "temperature": "-5 °C"},
        },
        "peak_temperature",
    ),
    (
        "peak-temperature",
        {"solid_mass": "10 kg", "ice_mass": "20 kg"},
        "stock-mixing",
        {"solid": TEN["solid"], "ice": {"mass": "20 kg"}},
        "peak_temperature",
    ),
    ("ice-mass", ICED, "stock-mixing/ice", TO_ICE, "ice_mass"),
    (
        "ice-mass",
        ICED | {"ice_temperature": "-5 °C", "water_temperature": "15 °C", "solid_temperature": "25 °C"},
        "stock-mixing/ice",
        TO_ICE
        | {
            "solid": TO_ICE["solid"] | {"temperature": "25 °C"},
            "ice": {"temperature": "-5 °C"},
            "water_temperature": "15 °C",
        },
        "ice_mass",
    ),
    ("cooling-time", HOT, "stock-cooling", COOLING, "time"),
    (
        "cooling-time",
        HOT | {"ambient": "10 °C", "material": "stainless-steel", "volume": "30 L", "alkali": "KOH"},
        "stock-cooling",
        COOLING
        | {
            "solution": COOLING["solution"] | KOH,
            "vessel": {"material": "stainless-steel", "lid": True, "volume": "30 L"},
            "surroundings": {"medium": "still-air", "temperature": "10 °C"},
        },
        "time",
    ),
    (
        "cooling-time",
        HOT | {"medium": "ice-bath", "material": "stainless-steel"},
        "stock-cooling",
        COOLING | {"vessel": {"material": "stainless-steel", "lid": True}, "surroundings": {"medium": "ice-bath"}},
        "time",
    ),
    (
        "strength",
        {"from": "degrees_baume:50", "to": "molality", "temperature": "30 °C"},
        "concentration",
        NAOH | {"strength": {"degrees_baume": 50}, "temperature": "30 °C"},
        "molality",
    ),
    (
        "strength",
        {"from": "molality:10 mol/kg", "to": "mass_fraction", "alkali": "KOH"},
        "concentration",
        KOH | {"strength": {"molality": "10 mol/kg"}},
        "mass_fraction",
    ),
    ("density", {"strength": "0.5"}, "concentration", NAOH | {"strength": {"mass_fraction": 0.5}}, "density"),
    (
        "density",
        {"strength": "mole_fraction: 0.25", "temperature": "60 °C"},
        "concentration",
        NAOH | {"strength": {"mole_fraction": 0.25}, "temperature": "60 °C"},
        "density",
    ),
    (
        "first-solid-temperature",
        {"strength": "50 %"},
        "concentration",
        NAOH | {"strength": HALF},
        "first_solid_temperature",
    ),
    ("boiling-point", {"strength": "50 %"}, "concentration", NAOH | {"strength": HALF}, "boiling_point"),
]


def picked(answer: Any, path: str) -> Told:
    for step in path.split("."):
        answer = answer[int(step)] if step.isdigit() else getattr(answer, step)
    assert isinstance(answer, Told)
    return answer


@pytest.mark.parametrize(("name", "given", "asked", "request_", "path"), ASKED)
def test_a_value_is_the_figure_of_the_request_that_a_caller_would_write(
    name: str, given: dict[str, str], asked: str, request_: dict[str, Any], path: str
) -> None:
    found = values()[name].find(given)
    answer = calculation(asked).run(json.dumps(request_).encode())
    told, due = found.told, picked(answer, path)
    assert (type(told), told.value, told.low, told.high) == (type(due), due.value, due.low, due.high)
    assert found.cautions == answer.cautions
    assert found.data_version == answer.data_version
    assert type(told).kind in values()[name].kinds


def test_every_value_is_found_by_its_name_in_order() -> None:
    assert list(values()) == sorted(REQUIRED)
    assert all(name == one.name for name, one in values().items())


@pytest.mark.parametrize("name", REQUIRED)
def test_what_a_value_cannot_do_without_is_asked_for(name: str) -> None:
    value = values()[name]
    assert {one.name for one in value.inputs if one.required} == REQUIRED[name]
    example = {one.name: one.example for one in value.inputs if one.name not in value.beside}
    assert value.find(example).told.value != 0
    for left_out in REQUIRED[name]:
        for given in ({**example, left_out: "  "}, {one: text for one, text in example.items() if one != left_out}):
            assert refused(name, given) == (400, {left_out: "missing-member"})


def test_only_what_goes_with_the_temperature_takes_one() -> None:
    """A density does; where a solution sets and boils is a temperature itself."""
    takes = {name for name, one in values().items() if "temperature" in {each.name for each in one.inputs}}
    assert takes == {"density", "strength", "cooling-time"}
    cool, warm = (
        values()["density"].find({"strength": "50 %", "temperature": t}).told.value for t in ("20 °C", "60 °C")
    )
    assert warm < cool
    assert values()["boiling-point"].find({"strength": "50 %"}).told.value > 100


def refused(name: str, given: dict[str, str]) -> tuple[int, dict[str, str]]:
    with pytest.raises(Refusal) as found:
        values()[name].find(given)
    return found.value.status, {str(one.parameter): one.code for one in found.value.faults}


@pytest.mark.parametrize(
    ("name", "given", "status", "due"),
    [
        ("added-liquid", POUNDS, 422, {"water_ratio": "choose-one"}),
        ("added-liquid", POUNDS | {"water_ratio": "2:1", "total_liquid": "14 oz"}, 422, {"water_ratio": "choose-one"}),
        ("peak-temperature", {"solid_mass": "1 kg"}, 422, {"water_mass": "choose-one"}),
        ("peak-temperature", MIXING | {"ice_temperature": "-5 °C"}, 422, {"ice_temperature": "choose-one"}),
        ("ice-mass", ICED | {"strength": "50 %", "peak_limit": "25 °C"}, 422, {"peak_limit": "contradiction"}),
        ("alkali-mass", {"fats": "olive-oil"}, 400, {"fats": "wrong-type"}),
        ("alkali-mass", {"fats": ":500 g"}, 400, {"fats": "wrong-type"}),
        ("alkali-mass", {"fats": "olive-oil:"}, 400, {"fats": "wrong-type"}),
        ("alkali-mass", {"fats": "olive-oil:500"}, 400, {"fats": "bare-number"}),
        ("density", {"strength": "mollality:25 mol/kg"}, 400, {"strength": "not-one-of"}),
        ("density", {"strength": "60 %"}, 422, {"strength": "beyond-solubility"}),
        ("density", {"strength": "50 %", "temperature": "20"}, 400, {"temperature": "bare-number"}),
        ("density", {"strength": "50 %", "temperature": "140 °C"}, 422, {"temperature": "beyond-data"}),
        ("strength", {"from": "0 %", "to": "water_ratio"}, 422, {"from": "beyond-data"}),
        ("stock-draw", POUNDS | {"strength": "1e999"}, 400, {"strength": "percent-missing"}),
        ("stock-draw", {"alkali_mass": "1", "strength": "50 %"}, 400, {"alkali_mass": "bare-number"}),
        ("cooling-time", HOT | {"volume": "1 kg"}, 400, {"volume": "wrong-kind-of-unit"}),
    ],
)  # fmt: skip
def test_a_fault_of_the_request_is_told_at_the_parameter_that_it_comes_from(
    name: str, given: dict[str, str], status: int, due: dict[str, str]
) -> None:
    assert refused(name, given) == (status, due)


def test_as_many_fats_are_taken_as_the_refusal_of_more_names() -> None:
    with pytest.raises(Refusal) as found:
        values()["alkali-mass"].find({"fats": "olive-oil:1 g;" * 61})
    assert [(one.code, one.mend) for one in found.value.faults] == [("too-many", "give 60 at most")]
    assert values()["alkali-mass"].find({"fats": ";".join(["olive-oil:1 g"] * 60)}).told.value > 0
