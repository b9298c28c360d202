"""Links of calculations that make a stock: what they send on is answered, and is of the stock that was made."""

from typing import Any

import pytest

from tests.calculations.asking import Answer, ask, calculation

ASKED = [
    (name, example.request)
    for name in ("stock-mixing", "stock-mixing/ice", "stock-dilution", "stock-adjustment")
    for example in calculation(name).examples
]


def filled(node: Any, asked: Any, answer: Any) -> Any:
    """The request of a link, with what request and answer hold in the place of expressions."""
    if isinstance(node, dict):
        return {name: filled(one, asked, answer) for name, one in node.items()}
    if isinstance(node, list):
        return [filled(one, asked, answer) for one in node]
    for begin, whole in (("$request.body#/", asked), ("$response.body#/", answer)):
        if isinstance(node, str) and node.startswith(begin):
            found = whole
            for step in node.removeprefix(begin).split("/"):
                found = found[step]
            return found
    return node


def followed(name: str, request: Answer) -> dict[str, Answer]:
    answer = ask(name, request)
    return {one.to: ask(one.to, filled(one.request, request, answer)) for one in calculation(name).links}


@pytest.mark.parametrize(("name", "request_"), ASKED)
def test_what_a_link_sends_on_is_answered_for_the_stock_that_was_made(name: str, request_: Answer) -> None:
    answer, found = ask(name, request_), followed(name, request_)
    made = (answer["solution"]["strength"] if "solution" in answer else answer["strength"])["mass_fraction"]["value"]
    assert found["concentration"]["mass_fraction"]["value"] == pytest.approx(made)
    assert found.keys() & {"liquid-split", "stock-dilution"}
    if "liquid-split" in found:
        draw = found["liquid-split"]["stock_draws"][0]["mass"]["value"]
        assert draw == pytest.approx(100 / made)
    if "stock-dilution" in found:
        on = found["stock-dilution"]["solution"]
        assert on["mass"]["value"] == pytest.approx(answer["solution"]["mass"]["value"] + 1000)
    assert ("stock-cooling" in found) == name.startswith("stock-mixing")
