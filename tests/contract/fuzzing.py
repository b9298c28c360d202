"""How the contract is fuzzed: texts that are quantities, checks of our own, and what they excuse.

Importing this module registers all of it.
"""

from collections import Counter
from typing import Any, Final

import schemathesis
from hypothesis import strategies as st
from schemathesis.config import SchemathesisConfig
from schemathesis.specs.openapi.checks import positive_data_acceptance

from service.calculations import units
from service.calculations.given import GIVEN, Ratio
from service.calculations.reading import Given
from service.http.problems import KINDS
from service.http.schemas import text_format
from service.http.wire import App
from tests.asgi import Caller

USUAL: Final[dict[str, tuple[float, float]]] = {
    units.MASS.name: (0.01, 10.0),
    units.VOLUME.name: (1e-4, 2e-2),
    units.TEMPERATURE.name: (15.0, 60.0),
    units.TIME.name: (60.0, 7200.0),
    units.LENGTH.name: (0.05, 1.0),
    units.DENSITY.name: (1050.0, 1500.0),
    units.MOLARITY.name: (1000.0, 15000.0),
    units.MOLALITY.name: (2.0, 25.0),
    units.MASS_CONCENTRATION.name: (100.0, 700.0),
    units.SAPONIFICATION_VALUE.name: (0.17, 0.26),
    units.IODINE_VALUE.name: (0.05, 2.0),
    units.FRACTION.name: (0.05, 0.5),
    units.RATIO.name: (1.0, 4.0),
}
"""What workshops have to do with [SI], so that most generated requests compute."""

REPLACED: Final[list[Any]] = [positive_data_acceptance]
"""Checks of schemathesis that checks of this module take the place of."""


def contract_of(app: App) -> Any:
    """The contract an application serves, without the examples of single members.

    schemathesis would try those in every combination, for a minute and more. The named examples of whole
    requests stay, and test_contract.py looks at the others.
    """
    document = Caller(app)("GET", "/openapi.json").json()
    _without_examples(document["components"]["schemas"])
    return document


def load(app: App, document: Any, config: dict[str, Any]) -> schemathesis.schemas.BaseSchema:
    """A contract ready to be fuzzed, the same way each time."""
    config["generation"] = {"deterministic": True, **config.get("generation", {})}
    schema = schemathesis.openapi.from_dict(document, config=SchemathesisConfig.from_dict(config))
    schema.app = app
    return schema


def _without_examples(node: Any) -> None:
    if isinstance(node, dict):
        if isinstance(node.get("examples"), list):
            del node["examples"]
        for one in node.values():
            _without_examples(one)
    elif isinstance(node, list):
        for one in node:
            _without_examples(one)


EXCUSES: Final = Counter[str]()
ANSWERED: Final = Counter[tuple[str, int]]()
UNSAYABLE: Final = {
    "out-of-range": "the range of a quantity depends on its unit, and of a text no schema can say it",
    "unknown-identifier": "the catalogue is not in the schema",
}
"""Codes of 400 for what fits the schema, since no schema can say it."""

UNSTEADY: Final = {"/metrics": "its counts rise with every request, even with the one that reads them"}
"""Paths that do not answer the same bytes twice."""


def usual(given: type[Given]) -> tuple[float, float]:
    """Usual values of a kind of quantity [SI], within what is taken."""
    low, high = given.limits()
    if given.limits()[0] == 0.5:
        return 0.8, 1.0
    usual_low, usual_high = USUAL[given.kind.name]
    return max(low, usual_low), min(high, usual_high)


def text_of(given: type[Given]) -> st.SearchStrategy[str]:
    """Texts that are read as a quantity."""
    values = st.floats(*usual(given))
    if issubclass(given, Ratio):
        return values.map(lambda value: f"{value:.6g}:1")
    spellings = sorted(word for word in given.kind.units if not word[0].isdigit())

    def text(value: float, word: str, blank: str) -> str:
        return f"{given.kind.units[word].from_si(value):.6g}{blank}{word}"

    return st.builds(text, values, st.sampled_from(spellings), st.sampled_from(["", " ", "\u00a0"]))


for _given in GIVEN:
    schemathesis.openapi.format(text_format(_given), text_of(_given))


def _excuse(response: schemathesis.Response) -> str | None:
    """Why a request that fits the schema may be refused after all."""
    if response.status_code == 422:
        return "422: rules of chemistry, physics or the catalogue"
    codes = {error["code"] for error in response.json().get("errors", ())} if response.status_code == 400 else set()
    if codes and codes <= UNSAYABLE.keys():
        return f"400: {'; '.join(UNSAYABLE[code] for code in sorted(codes))}"
    return None


@schemathesis.check
def accepts_what_fits(ctx: Any, response: schemathesis.Response, case: schemathesis.Case[Any]) -> None:
    """As `positive_data_acceptance`, but 422 and what no schema can say are excused, and counted."""
    try:
        positive_data_acceptance(ctx, response, case)
    except AssertionError:
        reason = _excuse(response)
        if reason is None:
            raise
        EXCUSES[reason] += 1
    if response.status_code == 404 and case.meta is not None and case.meta.generation.mode.is_positive:
        # the check itself takes 404 for a resource that is gone; here it is said which ones, and how often
        assert "The catalogue has no " in response.json()["detail"]
        EXCUSES["404: identifiers that look right, and no entry of the catalogue has them"] += 1


@schemathesis.check
def problems_are_documents(_: Any, response: schemathesis.Response, case: schemathesis.Case[Any]) -> None:
    """Whatever is refused is a problem document of a known kind, told at its own place."""
    ANSWERED[case.operation.label, response.status_code] += 1
    if response.status_code < 300 or (response.status_code == 304 and not response.content):
        return
    assert response.headers["content-type"] == ["application/problem+json"]
    problem = response.json()
    kind = KINDS[problem["type"].removeprefix("/problems/")]
    assert (problem["status"], problem["title"]) == (response.status_code, kind.title) == (kind.status, kind.title)
    if response.status_code in {400, 422} and case.method == "POST":
        assert problem["errors"], "a refusal without a fault"


@schemathesis.check
def numbers_are_numbers(_: Any, response: schemathesis.Response, __: schemathesis.Case[Any]) -> None:
    """No number of an answer is null: so would NaN and infinity be written."""
    if response.headers.get("content-type") == ["application/json"]:
        assert ":null" not in response.text.replace(": null", ":null"), "a null in an answer"


@schemathesis.check
def same_call_same_bytes(_: Any, response: schemathesis.Response, case: schemathesis.Case[Any]) -> None:
    """The same call gives the same bytes: looked at for every answer, and for one refusal in eight."""
    if case.operation.path in UNSTEADY and response.status_code == 200:
        return
    if response.status_code == 200 or len(response.content) % 8 == 0:
        assert case.call().content == response.content
