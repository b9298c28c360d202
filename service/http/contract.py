"""The contract: an OpenAPI 3.1 document made from the registered calculations, the catalogue and the pages.

It is made anew in every process, when it is first read, from the very objects that serve the requests, so that it
cannot say anything else than what is done; the committed copy is compared with it in the tests.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from service import __version__
from service.calculations.catalogue.catalogue_collections import catalogue
from service.calculations.registry import Calculation
from service.calculations.shared.cautions import GROUNDS
from service.calculations.shared.fault_meanings import MEANINGS
from service.calculations.values.value import Value
from service.http import contract_bulk, contract_catalogue, contract_operation, contract_pages, contract_values
from service.http.addresses import BASE
from service.http.calculation_query import PARAMETERS
from service.http.catalogue import served_collections
from service.http.contract_calculations import example_answer, format_parameters, operation
from service.http.contract_layout import pretty
from service.http.contract_operation import SCHEMES, SECURITY
from service.http.contract_parts import HEADERS, problem_response
from service.http.problem_examples import example_problems
from service.http.problems import INVALID_REQUEST, KINDS, Problem
from service.http.references import Schema, reference, response_name
from service.http.schemas import add_examples, schemas

_DESCRIPTION: Final = """\
Lyestock calculates for soap workshops that draw their alkali from a concentrated lye stock: the alkali that fats
need, the stock that holds it and the liquid to add beside it, what a stock is by its strength, and how hot the next
mixing gets.

## How to ask

- **A call** is a POST with a JSON object. It only computes: making it again does no harm, and brings the same
  bytes.
- **A quantity in** is a text with its unit (`"170.1 g"`, `"6 oz"`, `"20 °C"`), or an object with `value` and
  `unit`, or with limits or an uncertainty. A number without unit is refused where a unit is needed; a number is
  written with a decimal point. `oz` is mass; a fluid ounce is a volume and is refused where a mass is due.
- **`mass`, beside an alkali,** is that of the pure hydroxide; `mass_as_supplied` is what is weighed from a bag.
- **Unknown members and parameters** are refused, so that a slip of the pen is not a default in silence. A member that
  may be left out may also be null.

## How to read the answer

- **A quantity out** is `{"value": ..., "unit": ...}`; where it is uncertain, `low` and `high` are the ends of
  the interval that holds 95 %. Nothing is rounded unless `digits` asks for it. It may be sent on as it is.
- **Cautions** of an answer are part of it: read them. **Assumed** lists every default that was used.
- **Members may be added** to answers within `/v1`; a program leaves alone what it does not know.
- **Links** of a response lead from one calculation to the next.
- **Words** of the trade are explained at `/words`.
- **Problems** are documents after RFC 9457. They list every fault of a request at once (the first hundred, and how
  many there are), each with its place and how to mend it. Their `type` is the address of a page that explains it.

## What the schemas cannot say

What fits a schema is refused with status 400 only where no schema can tell: `out-of-range`, since the limits of a
quantity depend on its unit and those of a text cannot be stated at all; `repeated-member`, and `malformed-json`.
Status 422 is for chemistry, physics and the catalogue. Where a request has faults of the first kind, its
`unknown-identifier` are told with them, with status 400; whatever else chemistry objects is told once it can be read.

## Every address

Where whoever runs a service gives out keys, a request bears one: in the header `Authorization: Bearer KEY`, or as
`key=KEY` in the address. Pages that tell how to ask, `/openapi.json` and `/health` need none. Any address may refuse a
request for its size (413, 414, 431), for its haste (429) or because the service is busy (503); `Retry-After` says when
to ask again.

HEAD works wherever GET does. OPTIONS answers 204 with the header Allow everywhere. Every answer bears `X-Request-Id`,
and headers that let scripts of any origin read it, unless keys are given out (`Access-Control-Allow-Origin`,
`Access-Control-Expose-Headers`), and that keep browsers from guessing its type (`X-Content-Type-Options`) and from
telling its address to other pages (`Referrer-Policy`). Lists in the examples of components are cut to three
items; the examples of the operations are whole.

A request may bear `X-Request-Id` (1 to 64 letters, digits, dots, underscores and hyphens), which its answer repeats,
and `traceparent` (W3C Trace Context): both are told in the service's log. One that is not usable is passed over. No
answer has a header of the trace.

Caustic burns. What is calculated here does not replace the safety data sheet, nor local rules, nor weighing twice.
"""


def contract(known: Mapping[str, Calculation[Any, Any]], single: Mapping[str, Value]) -> bytes:
    """The contract of some calculations and single values, as bytes that are the same on every machine."""
    return pretty(openapi(known, single))


def openapi(known: Mapping[str, Calculation[Any, Any]], single: Mapping[str, Value]) -> Schema:
    """The contract as a document."""
    types = [kind for calculation in known.values() for kind in (calculation.request, calculation.answer)]
    found, components = schemas([*types, Problem, *contract_catalogue.SHAPES])
    schema_of = dict(zip(types, found, strict=False))
    paths: dict[str, Schema] = {
        BASE + name: {"post": operation(one, schema_of[one.request], schema_of[one.answer], known)}
        for name, one in known.items()
    }
    _list_codes(components["Fault"], (f"`{code}`: {meaning}" for code, meaning in MEANINGS.items()))
    _list_codes(components["Caution"], (f"`{code}` ({one.severity}): {one.meaning}" for code, one in GROUNDS.items()))
    shown = example_problems()
    add_examples(components, _samples(known, schema_of))
    add_examples(components, [(reference("Problem"), shown[INVALID_REQUEST])])
    listed = served_collections(catalogue())
    contract_catalogue.complete(components, listed)
    components.update(contract_values.components(single))
    components.update(contract_bulk.components(known, schema_of))
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Lyestock",
            "version": __version__,
            "summary": "Calculations for soap workshops that work from a concentrated lye stock",
            "description": _DESCRIPTION,
            "contact": {"name": "The operator of this service"},
            "license": {"name": "All rights reserved", "identifier": "LicenseRef-All-rights-reserved"},
        },
        "servers": [{"url": "/", "description": "The service that this contract was read from."}],
        "security": SECURITY,
        "tags": [
            {"name": "calculations", "description": "What a batch or a stock needs."},
            contract_bulk.TAG,
            contract_values.TAG,
            contract_catalogue.TAG,
            {"name": "operation", "description": "How the service is, and what it says about itself."},
        ],
        "paths": {
            **paths,
            **contract_bulk.paths(known),
            **contract_values.paths(single),
            **contract_catalogue.paths(listed),
            **contract_pages.paths(),
        },
        "components": {
            "schemas": dict(sorted(components.items())),
            "parameters": {
                **{one.name: one.component() for one in PARAMETERS},
                **format_parameters(),
                **contract_bulk.shared_parameters(),
                **contract_values.shared_parameters(),
                **contract_catalogue.parameters(listed),
            },
            "headers": {**HEADERS, **contract_catalogue.HEADERS, **contract_operation.HEADERS},
            "securitySchemes": SCHEMES,
            "responses": {response_name(kind): problem_response(kind, shown[kind]) for kind in KINDS.values()},
        },
    }


def _list_codes(component: Schema, lines: Iterable[str]) -> None:
    """Say in the description of a component's code what each of them means."""
    component["properties"]["code"]["description"] += "\n\n" + "\n".join(f"- {line}" for line in lines)


def _samples(
    known: Mapping[str, Calculation[Any, Any]], schema_of: Mapping[type, Schema]
) -> Iterator[tuple[Schema, Any]]:
    """Requests and answers, each with its schema, for the examples of the components."""
    for calculation in known.values():
        for example in calculation.examples:
            yield schema_of[calculation.request], example.request
            yield schema_of[calculation.answer], example_answer(calculation, example)
        for example in calculation.examples[:1]:
            yield schema_of[calculation.answer], example_answer(calculation, example, explain=True)
