"""A contract made ready to be fuzzed: texts that are quantities, and realistic requests among the random ones.

Importing this module registers the texts, and the checks of checks.py.
"""

from collections.abc import Sequence
from typing import Any, Final

import schemathesis
from hypothesis import strategies as st
from schemathesis.config import SchemathesisConfig
from schemathesis.core.parameters import ParameterLocation
from schemathesis.generation.meta import TestPhase

from service.calculations.shared.given import GIVEN
from service.http.addresses import BASE, BULK
from service.http.bulk_examples import body_of
from service.http.bulk_query import CSV, NDJSON
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


@schemathesis.serializer(CSV, NDJSON)
def as_it_is(_: Any, value: Any) -> Any:
    """A table or lines are texts already."""
    return value if isinstance(value, bytes) else str(value).encode(errors="surrogatepass")


def contract_of(app: App) -> Any:
    """The contract an application serves, without the examples of single members, and with links as they are meant.

    schemathesis would try those examples in every combination, for a minute and more. The named examples of
    whole requests stay, and test_contract.py looks at the others. The request of a link is the whole request, as
    OpenAPI says; schemathesis would else mix it with another that it made up. An item of many may be any object: its
    boundaries are those of the single request, which is fuzzed by itself, and each takes thousands of requests. How
    many there may be is tested by hand: ten thousand mixings take too long for a fuzzer.
    """
    document = Caller(app)("GET", "/openapi.json").json()
    _without_examples(document["components"]["schemas"])
    for schema in document["components"]["schemas"].values():
        if schema.get("properties", {}).keys() == {"items"}:
            schema["properties"]["items"]["items"] = {"type": "object"}
            del schema["properties"]["items"]["maxItems"]
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
    realistic = _realistic(str(case.operation.path).removeprefix(BASE), case.media_type)
    meta = case.meta
    if realistic is None or meta is None or meta.phase.name not in {TestPhase.FUZZING, TestPhase.STATEFUL}:
        return st.just(case)
    if not meta.generation.mode.is_positive or ParameterLocation.BODY not in meta.components:
        return st.just(case)  # meant not to fit, or the request of a link

    def asked(body: Any) -> schemathesis.Case[Any]:
        case.body = body
        return case

    return st.integers(1, 10).flatmap(lambda one: realistic.map(asked) if one <= OF_TEN else st.just(case))


def _realistic(name: str, media: str | None) -> st.SearchStrategy[Any] | None:
    """Realistic requests to a calculation, alone or several at once."""
    if not name.startswith(BULK):
        return REALISTIC.get(name)
    single = REALISTIC.get(name.removeprefix(BULK))
    if single is None:
        return None
    several = st.lists(single, min_size=1, max_size=3)
    if media not in {CSV, NDJSON}:
        return several.map(lambda items: {"items": items})
    form = media

    def text(items: Sequence[Any]) -> str:
        return body_of(items, form).decode()

    return several.map(text)
