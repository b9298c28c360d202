"""How answers are written: units, digits, and nothing that is not finite."""

import json
import math
from collections.abc import Iterator
from typing import Any

import pytest
from msgspec import inspect

from service.calculations.registry import calculations
from service.calculations.shared.rendering import UnitSystem, bare_numbers, renderer
from service.calculations.shared.told import (
    CountFigure,
    FractionFigure,
    HighestTemperatureFigure,
    LeastEnergyFigure,
    LeastMassFigure,
    MarginFigure,
    MassFigure,
    NotFinite,
    TemperatureFigure,
    Told,
)
from tests.calculations.asking import Answer, ask
from tests.calculations.figures import OUNCE

RECIPE = {
    "fats": [{"fat": "olive-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"}],
    "superfat": "5 %",
    "alkalis": [{"alkali": "NaOH", "purity": {"low": 0.97, "high": 0.99, "unit": "1"}}],
    "acids": [{"acid": "lactic-acid", "mass": "5 g"}],
}
SPLIT = {
    "alkalis": [{"alkali": "NaOH", "mass": "138.6 g"}, {"alkali": "KOH", "mass": "20 g", "purity": "90 %"}],
    "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %", "uncertainty": "0.5 %"}}],
    "total_liquid": {"water_ratio": "2:1"},
    "liquids": [{"liquid": "goat-milk", "share": "50 %"}, {"liquid": "distilled-water", "rest": True}],
    "superfat": "5 %",
}
SOLUTION = {
    "alkali": "NaOH",
    "strength": {"mass_fraction": "50 %", "uncertainty": "0.5 %"},
    "temperature": "20 °C",
}
SYSTEMS: tuple[UnitSystem, ...] = ("metric", "us")
REQUESTS: list[tuple[str, dict[str, Any]]] = [
    ("saponification", RECIPE),
    ("liquid-split", SPLIT),
    ("concentration", SOLUTION),
]
PLAIN = {"baume_modulus"}
"""Members that are plain numbers by the contract."""
METRIC = {
    "g",
    "mL",
    "°C",
    "kg/L",
    "mol/L",
    "mol/kg",
    "g/L",
    "mg/g",
    "g/100g",
    "kJ/(kg K)",
    "mPa s",
    "Pa",
    "1",
}
US = (METRIC - {"g", "mL", "°C", "kg/L"}) | {"oz", "fl_oz", "°F", "lb/gal"}


def quantities(said: Any, at: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every quantity of an answer with its place; a number outside of one fails."""
    if isinstance(said, dict):
        if {"value", "unit"} <= said.keys() and "pointer" not in said:
            assert said.keys() <= {"value", "unit", "low", "high"}
            yield at, said
            return
        for name, value in said.items():
            yield from quantities(value, f"{at}/{name}")
    elif isinstance(said, list):
        for index, value in enumerate(said):
            yield from quantities(value, f"{at}/{index}")
    elif isinstance(said, float | int) and not isinstance(said, bool):
        assert at.rpartition("/")[2] in PLAIN, f"a number without a unit at {at}"


def numbers(answer: Answer) -> dict[str, float]:
    """Every number of an answer by its place."""
    return {
        f"{at}/{part}": one[part] for at, one in quantities(answer) for part in ("value", "low", "high") if part in one
    }


@pytest.mark.parametrize(("name", "request_"), REQUESTS, ids=[name for name, _ in REQUESTS])
def test_every_number_has_a_unit_of_the_system_asked_for(name: str, request_: object) -> None:
    for units, known in zip(SYSTEMS, (METRIC, US), strict=True):
        answer = ask(name, request_, units=units)
        for at, one in quantities(answer):
            assert one["unit"] in known, at
            for part in ("value", "low", "high"):
                assert math.isfinite(one.get(part, 0.0)), at
            assert ("low" in one) == ("high" in one), at


@pytest.mark.parametrize(("name", "request_"), REQUESTS, ids=[name for name, _ in REQUESTS])
def test_an_interval_holds_its_value(name: str, request_: object) -> None:
    for at, one in quantities(ask(name, request_)):
        if "low" in one:
            assert one["low"] <= one["value"] <= one["high"], at


def test_us_units_are_those_of_their_definitions() -> None:
    """oz 28.349523125 g; US fl oz 29.5735295625 mL; °F = 1.8 °C + 32; lb/gal = 453.59237 g / 3.785411784 L."""
    metric, us = ask("liquid-split", SPLIT), ask("liquid-split", SPLIT, units="us")
    for part in ("value", "low", "high"):
        draw, ounces = metric["stock_draws"][0]["mass"], us["stock_draws"][0]["mass"]
        assert ounces[part] == pytest.approx(draw[part] / OUNCE, rel=1e-12)
    volume, fluid = metric["stock_draws"][0]["volume"], us["stock_draws"][0]["volume"]
    assert (fluid["value"], fluid["unit"]) == (pytest.approx(volume["value"] / 29.5735295625, rel=1e-12), "fl_oz")
    cold, fahrenheit = ask("concentration", SOLUTION), ask("concentration", SOLUTION, units="us")
    for name in ("temperature", "boiling_point", "first_solid_temperature"):
        assert fahrenheit[name]["value"] == pytest.approx(1.8 * cold[name]["value"] + 32, rel=1e-12)
    solid, in_f = cold["first_solid_temperature"], fahrenheit["first_solid_temperature"]
    assert in_f["high"] - in_f["low"] == pytest.approx(1.8 * (solid["high"] - solid["low"]), rel=1e-9)
    per_gallon = cold["density"]["value"] * 3785.411784 / 453.59237
    assert fahrenheit["density"]["value"] == pytest.approx(per_gallon, rel=1e-12)
    for name in ("mass_fraction", "molality", "molarity", "heat_capacity", "viscosity"):
        assert fahrenheit[name] == cold[name]


def test_a_difference_of_temperatures_has_no_zero_point() -> None:
    """10 K are 18 degrees Fahrenheit of difference; 10 °C are 50 °F."""
    render = renderer("us")
    assert render(MarginFigure(10.0)) == b'{"value":18.0,"unit":"delta_degF"}'
    assert render(TemperatureFigure(10.0)) == b'{"value":50.0,"unit":"\xc2\xb0F"}'


@pytest.mark.parametrize(("margin", "digits", "told"), [(8.6998, 2, 8.6), (-0.4301, 2, -0.44), (12.0, 2, 12.0)])
def test_digits_round_a_margin_down(margin: float, digits: int, told: float) -> None:
    assert json.loads(renderer("metric", digits)(MarginFigure(margin)))["value"] == told


@pytest.mark.parametrize(
    ("figure", "shown"),
    [
        (HighestTemperatureFigure(-12.34), -13.0),
        (HighestTemperatureFigure(12.99), 12.0),
        (LeastMassFigure(1.201, 1.1, 1.201), 1300.0),
        (LeastEnergyFigure(1201.0), 1.3),
        (CountFigure(123), 123),
    ],
)
def test_digits_round_what_is_promised_to_its_safe_side(figure: Told, shown: float) -> None:
    assert json.loads(renderer("metric", 2)(figure))["value"] == shown


def test_nothing_is_rounded_unless_asked_for() -> None:
    mass = ask("liquid-split", dict(SPLIT, alkalis=[{"alkali": "NaOH", "mass": "100 g"}]))["stock_draws"][0]["mass"]
    third = ask("concentration", {"alkali": "NaOH", "strength": {"water_ratio": "2:1"}})["mass_fraction"]
    assert mass["value"] == 200
    assert third["value"] == pytest.approx(1 / 3, rel=1e-15)


@pytest.mark.parametrize("digits", [1, 3, 6, 15])
def test_digits_are_significant_digits_of_every_figure_outside_the_steps(digits: int) -> None:
    for name, request in REQUESTS:
        for units in SYSTEMS:
            full = numbers(ask(name, request, units=units, explain=True))
            rounded = numbers(ask(name, request, units=units, digits=digits, explain=True))
            assert full.keys() == rounded.keys()
            for at, number in full.items():
                near = float(f"{number:.{digits}g}")
                if at.startswith("/steps/"):  # a person redoes them, so they keep their digits
                    assert rounded[at] == number, at
                elif at.endswith("_margin/value"):  # a margin never looks wider than it is
                    assert near - abs(near) * 10.0 ** (1 - digits) * 1.001 <= rounded[at] <= number, at
                elif at.endswith("/value"):
                    assert rounded[at] == near, at
                else:  # what is nearest, or the next step outwards
                    outwards = rounded[at] <= number if at.endswith("/low") else rounded[at] >= number
                    step = 10.0 ** (math.floor(math.log10(abs(number))) - digits + 1) if number else 0.0
                    assert outwards, at
                    assert abs(rounded[at] - number) <= 1.001 * step, at


@pytest.mark.parametrize(
    ("low", "value", "high", "digits", "told"),
    [
        (0.025761, 0.05, 0.073141, 3, (0.0257, 0.05, 0.0732)),
        (-1.234, 1.235, 1.236, 2, (-1.3, 1.2, 1.3)),
        (0.9996, 0.9998, 0.99995, 3, (0.999, 1.0, 1.0)),
        (9.991, 9.996, 99.91, 3, (9.99, 10.0, 100.0)),
        (0.0, 0.1, 0.2, 1, (0.0, 0.1, 0.2)),
        (50.0, 50.0, 50.0, 15, (50.0, 50.0, 50.0)),
    ],
)
def test_digits_never_shrink_an_interval(
    low: float, value: float, high: float, digits: int, told: tuple[float, float, float]
) -> None:
    shown = json.loads(renderer("metric", digits)(FractionFigure(value, low, high)))
    assert (shown["low"], shown["value"], shown["high"]) == told


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_never_leaves(number: float) -> None:
    for figure in (MassFigure(number), MassFigure(1.0, number, 2.0), MassFigure(1.0, 0.0, number)):
        with pytest.raises(NotFinite):
            renderer()(figure)


def test_what_a_unit_makes_infinite_never_leaves() -> None:
    with pytest.raises(NotFinite):
        renderer()(MassFigure(1e308))


def test_the_same_request_gets_the_same_bytes() -> None:
    for name, request in REQUESTS:
        assert ask(name, request, explain=True) == ask(name, request, explain=True)


@pytest.mark.parametrize(("name", "request_"), REQUESTS, ids=[name for name, _ in REQUESTS])
def test_every_answer_carries_cautions_assumptions_and_the_version_of_the_data(name: str, request_: object) -> None:
    answer = ask(name, request_)
    assert isinstance(answer["cautions"], list)
    assert isinstance(answer["assumed"], list)
    assert answer["data_version"].startswith("sha256-")
    assert "steps" not in answer
    assert ask(name, request_, explain=True)["steps"]


def numbers_within(shape: Any, at: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every place in an answer where a number stands that is in no figure."""
    if isinstance(shape, inspect.FloatType | inspect.IntType):
        yield at
    elif isinstance(shape, inspect.StructType):
        for field in shape.fields:
            yield from numbers_within(field.type, (*at, field.encode_name))
    elif isinstance(shape, inspect.UnionType):
        for one in shape.types:
            yield from numbers_within(one, at)
    else:
        for name in ("type", "item_type", "value_type"):
            if (inner := getattr(shape, name, None)) is not None:
                yield from numbers_within(inner, at)


@pytest.mark.parametrize("calculation", calculations().values(), ids=lambda one: one.name)
def test_every_number_of_an_answer_is_a_figure_or_is_looked_at_by_itself(calculation: Any) -> None:
    found = set(numbers_within(inspect.type_info(calculation.answer)))
    assert found == {(name,) for name in bare_numbers(calculation.answer)}
