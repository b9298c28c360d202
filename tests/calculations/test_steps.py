"""The steps of an answer can be redone by hand: each expression, with its inputs, gives its result."""

import ast
import operator
from collections.abc import Callable
from typing import Any, Final

import pytest

from tests.calculations.asking import Answer, ask
from tests.calculations.test_rendering import RECIPE, SOLUTION, SPLIT

OPERATORS: Final[dict[type[ast.operator], Callable[[float, float], float]]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}


def worked(node: ast.expr, inputs: dict[str, float]) -> float:
    """What an expression of sums and products comes to.

    Raises:
        ValueError: it is written in words.
    """
    if isinstance(node, ast.BinOp):
        return OPERATORS[type(node.op)](worked(node.left, inputs), worked(node.right, inputs))
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


REQUESTS = [
    ("saponification", RECIPE),
    ("saponification", dict(RECIPE, alkalis=[{"alkali": "KOH", "purity": "90 %"}])),
    ("liquid-split", SPLIT),
    ("liquid-split", dict(SPLIT, count_liquids_as="water_content", compensate=True)),
    ("concentration", SOLUTION),
]


@pytest.mark.parametrize(("name", "request_"), REQUESTS)
def test_each_step_comes_to_its_result_when_redone_by_hand(name: str, request_: object) -> None:
    told = ask(name, request_, explain=True)["steps"]
    in_words = [one["name"] for one in told if redone(one) is None]
    assert set(in_words) <= {"density", "boiling point"}
    for one in told:
        result = redone(one)
        if result is not None:
            assert result == pytest.approx(one["result"]["value"], rel=1e-9, abs=1e-12), one["name"]
        assert one["source"]
        assert one["inputs"]


def test_an_expression_names_each_of_its_inputs_and_no_other() -> None:
    for name, request in REQUESTS:
        for one in ask(name, request, explain=True)["steps"]:
            if redone(one) is not None:
                names = {node.id for node in ast.walk(ast.parse(one["expression"])) if isinstance(node, ast.Name)}
                assert names == set(one["inputs"]), one["name"]


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
