"""A contract made ready to be fuzzed: texts that are quantities, and realistic requests among the random ones.

Importing this module registers the texts, and the checks of checks.py.
"""

from typing import Any, Final

import schemathesis
from hypothesis import strategies as st
from schemathesis.config import SchemathesisConfig
from schemathesis.core.parameters import ParameterLocation
from schemathesis.generation.meta import TestPhase

from service.calculations.shared.given import GIVEN
from service.http.quantity_schemas import text_format
from service.http.wire import App
from tests.asgi import Caller
from tests.contract import checks
from tests.contract.checks import UNSAYABLE
from tests.contract.quantities import text_of
from tests.contract.realistic import REALISTIC

__all__ = ["UNSAYABLE", "checks", "contract_of", "load"]

OF_TEN: Final = 7
"""How many of ten requests that fit the contract are realistic; the others come from the contract alone."""

for _given in GIVEN:
    schemathesis.openapi.format(text_format(_given), text_of(_given))


def contract_of(app: App) -> Any:
    """The contract an application serves, without the examples of single members, and with links as they are meant.

    schemathesis would try those examples in every combination, for a minute and more. The named examples of
    whole requests stay, and test_contract.py looks at the others. The request of a link is the whole request, as
    OpenAPI says; schemathesis would else mix it with another that it made up.
    """
    document = Caller(app)("GET", "/openapi.json").json()
    _without_examples(document["components"]["schemas"])
    for item in document["paths"].values():
        for operation in item.values():
            for link in operation["responses"].get("200", {}).get("links", {}).values():
                link["x-schemathesis"] = {"merge_body": False}
    return document


def _without_examples(node: Any) -> None:
    if isinstance(node, dict):
        if isinstance(node.get("examples"), list):
            del node["examples"]
        for one in node.values():
            _without_examples(one)
    elif isinstance(node, list):
        for one in node:
            _without_examples(one)


def load(app: App, document: Any, config: dict[str, Any]) -> Any:
    """A contract ready to be fuzzed, with every check on."""
    replaced = {check.__name__: {"enabled": False} for check in checks.REPLACED}
    schema = schemathesis.openapi.from_dict(
        document, config=SchemathesisConfig.from_dict({"checks": replaced, **config})
    )
    schema.app = app
    schema.hook(flatmap_case)
    return schema


def flatmap_case(_: Any, case: schemathesis.Case[Any]) -> st.SearchStrategy[schemathesis.Case[Any]]:
    """Put a realistic request in the place of most of those that fit the contract and were made up at random."""
    realistic = REALISTIC.get(str(case.operation.path).removeprefix("/v1/"))
    meta = case.meta
    if realistic is None or meta is None or meta.phase.name not in {TestPhase.FUZZING, TestPhase.STATEFUL}:
        return st.just(case)
    if not meta.generation.mode.is_positive or ParameterLocation.BODY not in meta.components:
        return st.just(case)  # meant not to fit, or the request of a link

    def asked(body: Any) -> schemathesis.Case[Any]:
        case.body = body
        return case

    return st.integers(1, 10).flatmap(lambda one: realistic.map(asked) if one <= OF_TEN else st.just(case))
