"""The steps of an answer can be redone by hand: each expression, with its inputs, gives its result."""

import ast
import json
import math
import operator
from collections.abc import Callable
from typing import Any, Final

import pytest

from service.calculations.registry import calculations
from tests.calculations.asking import Answer, ask
from tests.calculations.test_rendering import RECIPE, SOLUTION, SPLIT

OPERATORS: Final[dict[type[ast.operator], Callable[[float, float], float]]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}

FUNCTIONS: Final[dict[str, Callable[..., float]]] = {
    "ln": math.log,
    "log10": math.log10,
    "exp": math.exp,
    "sqrt": math.sqrt,
    "erfc": math.erfc,
    "max": max,
    "min": min,
}
"""What a pocket calculator has, or a table of the normal distribution."""


def worked(node: ast.expr, inputs: dict[str, float]) -> float:
    """What an expression comes to.

    Raises:
        ValueError: it is written in words.
    """
    if isinstance(node, ast.BinOp):
        return OPERATORS[type(node.op)](worked(node.left, inputs), worked(node.right, inputs))
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -worked(node.operand, inputs)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return FUNCTIONS[node.func.id](*(worked(one, inputs) for one in node.args))
    if isinstance(node, ast.Name):
        return inputs[node.id]
    if isinstance(node, ast.Constant):
        assert isinstance(node.value, int | float)
        return float(node.value)
    raise ValueError(node)


def redone(step: dict[str, Any]) -> float | None:
    """The result of a step by its expression; None where the expression is in words."""
    inputs = {name: figure["value"] for name, figure in step["inputs"].items()}
    try:
        return worked(ast.parse(step["expression"], mode="eval").body, inputs)
    except (SyntaxError, ValueError):
        return None


def steps(answer: Answer) -> dict[str, dict[str, Any]]:
    return {one["name"]: one for one in answer["steps"]}


STOCK = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": {"low": 0.28, "high": 0.32, "unit": "1"}}}
MEETING: dict[str, Any] = {
    "fats": [{"fat": "olive-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"}],
    "fats_temperature": "45 °C",
    "stock": {"alkali": "NaOH", "mass": "270 g", "strength": {"mass_fraction": "50 %"}, "temperature": "22 °C"},
}
FROZEN = {"liquid": "goat-milk", "mass": "100 g", "temperature": "-18 °C", "frozen": True}
POT = {"material": "stainless-steel", "mass": "4 kg", "volume": "20 L"}
REQUESTS: list[tuple[str, dict[str, Any]]] = [
    *((name, example.request) for name, one in calculations().items() for example in one.examples),
    ("saponification", RECIPE),
    ("saponification", dict(RECIPE, alkalis=[{"alkali": "KOH", "purity": "90 %"}], scale_division="1 g")),
    ("saponification", dict(RECIPE, fats=[{"fat": "olive-oil", "mass": "1 kg"}, {"fat": "beeswax", "mass": "70 g"}])),
    ("saponification", {"fats": [{"fat": "olive-oil", "mass": "1 kg"}], "superfat": "2 %"}),
    ("saponification", {"fats": [{"name": "own", "mass": "1 kg", "saponification_value": "190 mg/g"}]}),
    ("liquid-split", SPLIT),
    ("liquid-split", dict(SPLIT, count_liquids_as="water_content", compensate=True)),
    ("concentration", SOLUTION),
    *(
        ("concentration", {"alkali": alkali, "strength": {"mass_fraction": w}, "temperature": "35 °C"})
        for alkali in ("NaOH", "KOH")
        for w in (0.0, 0.03, 0.25, 0.5)
    ),
    ("stock-mixing", {"solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg"}, "ice": {"mass": "1 kg"}}),
    (
        "stock-mixing",
        {
            "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": {"low": 0.96, "high": 0.99, "unit": "1"}},
            "water": {"mass": "1 kg", "temperature": "25 °C"},
            "existing_stock": STOCK,
            "vessel": POT,
            "duration": "20 min",
            "ambient": "30 °C",
        },
    ),
    (
        "stock-mixing",
        {"solid": {"alkali": "KOH", "mass_as_supplied": "0.7 kg", "purity": 1}, "water": {"mass": "1 kg"}},
    ),
    ("stock-mixing", {"solid": {"alkali": "NaOH", "mass_as_supplied": "50 g"}, "ice": {"mass": "1 kg"}}),
    *(
        (
            "stock-dilution",
            {"solutions": [STOCK, {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": 0}, **of}]},
        )
        for of in ({}, {"state": "ice"}, {"state": "ice", "mass": "60 kg"}, {"temperature": "60 °C", "mass": "20 kg"})
    ),
    ("stock-dilution", {"solutions": [{"alkali": "KOH", "mass": "1 kg", "strength": {"mass_fraction": 0}}]}),
    (
        "stock-adjustment",
        {
            "solution": {
                "alkali": "NaOH",
                "volume": "2 L",
                "strength": {"mass_fraction": {"value": 0.4, "uncertainty": 0.002, "unit": "1"}},
            },
            "target_strength": {"mass_fraction": "45 %"},
            "solid": {"purity": {"low": 0.96, "high": 0.99, "unit": "1"}},
        },
    ),
    *(
        ("batch-temperature", MEETING | more)
        for more in (
            {"liquids": [FROZEN | {"mass": "260 g"}], "fats_temperature": "24 °C"},
            {"liquids": [FROZEN, {"liquid": "wine-red", "mass": "40 g", "temperature": "25 °C"}]},
            {"fats_temperature": "140 °C", "stock": MEETING["stock"] | {"temperature": "120 °C"}},
            {"fats_temperature": "25 °C", "stock": MEETING["stock"] | {"temperature": "25 °C"}},
            {"wanted_temperature": "25 °C", "liquids": [{"liquid": "lemon-juice", "mass": "30 g"}]},
            {"wanted_temperature": "34 °C", "stock": STOCK | {"alkali": "KOH", "mass": "500 g"}},
        )
    ),
    # A room that warms it until it may boil: the cap of the peak is the upper end of the boiling point.
    (
        "stock-mixing",
        {
            "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": 1},
            "water": {"mass": "1.5 kg", "temperature": "15 °C"},
            "vessel": {"material": "stainless-steel", "mass": "1 kg", "volume": "3 L", "lid": False},
            "ambient": "35 °C",
            "duration": "1 h",
        },
    ),
]
IN_WORDS: Final = {"temperature of the whole", "peak temperature", "upper end of the peak", "lower end of the peak"}
"""Where ice is left, a temperature is found by trying: the liquid lies on its ice line, and the balance closes."""
ON_ICE: Final = "where the balance with ice or steam closes"


@pytest.mark.parametrize(("name", "request_"), REQUESTS)
def test_each_step_comes_to_its_result_when_redone_by_hand(name: str, request_: dict[str, Any]) -> None:
    for one in ask(name, request_, explain=True)["steps"]:
        result = redone(one)
        if result is None:
            assert one["name"] in IN_WORDS
            assert one["expression"] == ON_ICE
            assert '"ice"' in json.dumps(request_)
        else:
            assert result == pytest.approx(one["result"]["value"], rel=1e-9, abs=1e-12), one["name"]
        assert one["source"]
        assert one["inputs"]


@pytest.mark.parametrize(("name", "request_"), REQUESTS)
def test_an_expression_names_each_of_its_inputs_and_no_other(name: str, request_: dict[str, Any]) -> None:
    for one in ask(name, request_, explain=True)["steps"]:
        if redone(one) is not None:
            names = {node.id for node in ast.walk(ast.parse(one["expression"])) if isinstance(node, ast.Name)}
            assert names - set(FUNCTIONS) == set(one["inputs"]), one["name"]


@pytest.mark.parametrize(("name", "request_"), REQUESTS)
def test_no_two_steps_of_an_answer_have_one_name_and_two_results(name: str, request_: dict[str, Any]) -> None:
    found: dict[str, dict[str, Any]] = {}
    for one in ask(name, request_, explain=True)["steps"]:
        assert found.setdefault(one["name"], one["result"]) == one["result"], one["name"]


def by_steps(answer: Answer) -> dict[str, float]:
    return {name: one["result"]["value"] for name, one in steps(answer).items()}


@pytest.mark.parametrize("request_", [request for name, request in REQUESTS if name == "stock-mixing"])
def test_the_steps_of_a_mixing_lead_to_its_peak_and_both_its_ends(request_: dict[str, Any]) -> None:
    answer = ask("stock-mixing", request_, explain=True)
    told, peak = by_steps(answer), answer["peak_temperature"]
    assert told["peak temperature"] == pytest.approx(peak["value"], abs=1e-6)
    assert told["upper end of the peak"] == peak["high"]
    assert told["lower end of the peak"] == peak["low"]
    assert told["heat released"] == pytest.approx(answer["heat_released"]["value"])
    half_width = answer["heat_released"]["high"] - answer["heat_released"]["value"]
    assert told["half-width of the heat released"] == pytest.approx(half_width)
    if "boiling margin" in told:
        assert told["boiling margin"] == answer["boiling_margin"]["value"]


@pytest.mark.parametrize("request_", [request for name, request in REQUESTS if name == "saponification"])
def test_the_steps_of_a_saponification_lead_to_its_superfat_and_its_risk(request_: dict[str, Any]) -> None:
    answer = ask("saponification", request_, explain=True)
    told, superfat = by_steps(answer), answer["superfat"]
    ends = [value for name, value in told.items() if name.startswith("lower end of the superfat")]
    assert min(ends) == pytest.approx(superfat["low"], abs=1e-9)
    assert told["upper end of the superfat"] == pytest.approx(superfat["high"], abs=1e-9)
    risks = [value for name, value in told.items() if name.startswith("probability of free alkali")]
    if risks:  # of figures that are all exact there is nothing to reckon
        assert max(risks) == pytest.approx(answer["free_alkali_probability"]["value"], abs=1e-12)
    else:
        assert answer["free_alkali_probability"]["value"] in {0.0, 0.5, 1.0}
    value = answer["saponification_value"]
    assert told["saponification value of the blend"] == pytest.approx(value["value"])
    if "iodine_value" in answer:
        assert told["iodine value of the blend"] == pytest.approx(answer["iodine_value"]["value"])
    for one in answer["alkalis"]:
        assert told[f"mass of {one['alkali']}"] == pytest.approx(one["mass"]["value"])


@pytest.mark.parametrize("fats", [True, False])
def test_the_steps_of_a_split_lead_to_both_ends_of_its_superfat(fats: bool) -> None:
    alkalis = [{"alkali": "NaOH", "mass": {"value": 130, "low": 126, "high": 134, "unit": "g"}}]
    named = {"fats": [{"fat": "olive-oil", "mass": "1 kg"}]} if fats else {}
    answer = ask("liquid-split", dict(SPLIT, alkalis=alkalis, **named), explain=True)
    told, superfat = by_steps(answer), answer["superfat"]
    assert told["superfat"] == pytest.approx(superfat["value"])
    assert told["lower end of the superfat"] == pytest.approx(superfat["low"], abs=1e-9)
    assert told["upper end of the superfat"] == pytest.approx(superfat["high"], abs=1e-9)


def test_the_steps_of_a_split_lead_to_the_interval_of_its_draw() -> None:
    answer = ask("liquid-split", SPLIT, explain=True)
    mass = answer["stock_draws"][0]["mass"]
    assert by_steps(answer)["half-width of the NaOH draw"] == pytest.approx(mass["high"] - mass["value"])


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_the_steps_of_a_concentration_lead_to_density_and_boiling_point(alkali: str) -> None:
    request = {"alkali": alkali, "strength": {"mass_fraction": 0.4}, "temperature": "30 °C"}
    answer = ask("concentration", request, explain=True)
    told = by_steps(answer)
    assert told["density"] == pytest.approx(answer["density"]["value"])
    assert told["boiling point"] == pytest.approx(answer["boiling_point"]["value"])


def test_the_steps_of_a_saponification_lead_to_its_alkali() -> None:
    answer = ask("saponification", RECIPE, explain=True)
    told = steps(answer)
    assert told["mass of NaOH"]["result"]["value"] == pytest.approx(answer["alkalis"][0]["mass"]["value"])
    weighed = told["NaOH as supplied"]["result"]
    assert weighed["value"] == pytest.approx(answer["alkalis"][0]["mass_as_supplied"]["value"])
    assert {"hydroxide for olive-oil", "hydroxide for coconut-oil", "hydroxide in all"} <= told.keys()


def test_the_steps_of_a_split_lead_to_its_draw_and_additions() -> None:
    answer = ask("liquid-split", SPLIT, explain=True)
    told = steps(answer)
    assert told["draw of NaOH stock"]["result"]["value"] == pytest.approx(answer["stock_draws"][0]["mass"]["value"])
    added = told["liquid to add, as counted"]["result"]["value"]
    assert added == pytest.approx(answer["added_liquid_mass"]["value"])


def test_the_steps_of_a_concentration_lead_to_its_forms() -> None:
    answer = ask("concentration", SOLUTION, explain=True)
    told = steps(answer)
    assert told["molarity"]["result"]["value"] == pytest.approx(answer["molarity"]["value"])
    assert told["degrees Baumé"]["result"]["value"] == pytest.approx(answer["degrees_baume"]["value"])


def test_steps_are_told_only_where_they_are_asked_for() -> None:
    for name, request in REQUESTS:
        assert "steps" not in ask(name, request)
