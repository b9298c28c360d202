"""Links carry a caller through a day's work: from fats to the stock, to the next stock, and to its properties."""

from typing import Any

from tests.asgi import Caller
from tests.contract.documents import POSTS

WAY_ON = (
    ("split-the-liquid", "/v1/liquid-split"),
    ("mix-new-stock", "/v1/stock-mixing"),
    ("properties-of-the-stock", "/v1/concentration"),
)


def filled(node: Any, asked: Any, answer: Any) -> Any:
    """The request of a link, with what request and answer hold in the place of expressions."""
    if isinstance(node, dict):
        return {name: filled(one, asked, answer) for name, one in node.items()}
    if isinstance(node, list):
        return [filled(one, asked, answer) for one in node]
    for begin, found in (("$request.body#/", asked), ("$response.body#/", answer)):
        if isinstance(node, str) and node.startswith(begin):
            for step in node.removeprefix(begin).split("/"):
                found = found[int(step)] if isinstance(found, list) else found[step]  # noqa: PLW2901
            return found
    return node


def test_links_lead_from_fats_to_the_stock_its_mixing_and_its_properties(call: Caller) -> None:
    at, asked = "/v1/saponification", {"fats": [{"fat": "olive-oil", "mass": "1 kg"}]}
    answer = call("POST", at, asked).json()
    for link, to in WAY_ON:
        followed = POSTS[at]["responses"]["200"]["links"][link]
        assert followed["operationId"] == POSTS[to]["operationId"]
        asked = filled(followed["requestBody"], asked, answer)
        reply = call("POST", to, asked)
        assert reply.status == 200, reply.body
        at, answer = to, reply.json()
    assert 0 < answer["mass_fraction"]["value"] < 0.52
