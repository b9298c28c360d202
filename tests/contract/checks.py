"""Checks of our own on every answer, beside those of schemathesis.

Importing this module registers them with schemathesis. None leaves anything out in silence: what is excused or
passed over goes into the tally with its reason.
"""

import asyncio
import json
import math
from collections.abc import Callable, Coroutine
from functools import cache, lru_cache
from typing import Any, ClassVar, Final, cast
from urllib.parse import urlsplit

import schemathesis
from schemathesis.generation.meta import TestPhase
from schemathesis.specs.openapi.checks import negative_data_rejection, positive_data_acceptance

from service.calculations.registry import calculations
from service.http.addresses import BASE, BULK
from service.http.bulk_query import NDJSON
from service.http.calculation_query import EXAMPLE_DIGITS
from service.http.endpoint import kept_document, kept_form
from service.http.problems import KINDS
from service.http.wire import App
from tests.asgi import Caller, Reply
from tests.contract.balances import BALANCES, within_bounds
from tests.contract.laws import LAWS, Law, Told
from tests.contract.tally import CURRENT

Case = schemathesis.Case[Any]
Response = schemathesis.Response

REPLACED: Final[list[Any]] = [positive_data_acceptance, negative_data_rejection]
"""Checks of schemathesis that checks of this module take the place of."""
UNSAYABLE: Final = {
    "out-of-range": "the range of a quantity depends on its unit, and of a text no schema can say it",
    "unknown-identifier": "the catalogue is not in the schema",
}
"""Codes of 400 for what fits the schema, since no schema can say it."""

UNSTEADY: Final = {"/metrics": "its counts rise with every request, even with the one that reads them"}
"""Paths that do not answer the same bytes twice."""


class Again(Caller):
    """Calls an application apart from schemathesis, to compare; all in one event loop, which is much faster."""

    _LOOP: ClassVar = asyncio.Runner()

    def _run(self, exchange: Coroutine[Any, Any, Reply]) -> Reply:
        return self._LOOP.run(exchange)


@cache
def caller(app: App) -> Caller:
    """The caller of an application."""
    return Again(app)


@lru_cache(maxsize=64)
def _posted(app: App, address: str, body: bytes) -> Reply:
    CURRENT.tally.asked_again += 1
    return caller(app)("POST", address, body, [("content-type", "application/json")])


def _asker(app: App) -> Callable[[str, Any], Told]:
    def ask(name: str, request: Any) -> Told:
        reply = _posted(app, f"/v1/{name}", json.dumps(request).encode())
        return Told(reply.status, reply.json())

    return ask


def _phase(case: Case) -> str:
    return "unknown" if case.meta is None else case.meta.phase.name.value


def _calculation(response: Response, case: Case) -> str | None:
    """Name of the calculation that computed an answer in JSON; None where it is another answer."""
    name = str(case.operation.path).removeprefix("/v1/")
    is_json = response.headers.get("content-type") == ["application/json"]
    computed = response.status_code == 200 and is_json and case.method == "POST" and name in calculations()
    return name if computed else None


@schemathesis.check
def counts(_: Any, response: Response, case: Case) -> None:
    """No check: counts what was asked and answered."""
    tally, label, status = CURRENT.tally, case.operation.label, response.status_code
    tally.answered[label, _phase(case), status] += 1
    made_up = case.meta is not None and case.meta.phase.name is TestPhase.FUZZING
    if made_up and case.meta is not None and case.meta.generation.mode.is_positive:
        tally.fitting[label, status == 200] += 1


TOO_LONG: Final = "414: a text may fit, and the address with it be longer than is taken"


@schemathesis.check
def accepts_what_fits(ctx: Any, response: Response, case: Case) -> None:
    """As `positive_data_acceptance`, but what no schema can say is excused, and counted."""
    try:
        positive_data_acceptance(ctx, response, case)
    except AssertionError:
        reason = _excuse(response, case)
        if reason is None:
            raise
        CURRENT.tally.excused[reason] += 1
    if response.status_code == 404 and case.meta is not None and case.meta.generation.mode.is_positive:
        # The check itself takes 404 for a resource that is gone; here it is said which ones, and how often.
        assert "The catalogue has no " in response.json()["detail"] or case.path_parameters
        CURRENT.tally.excused["404: a name of the right form, but nothing of that name"] += 1


@schemathesis.check
def refuses_what_does_not_fit(ctx: Any, response: Response, case: Case) -> None:
    """As `negative_data_rejection`, but a refusal that was wanted inline is one, and counted."""
    inline = (case.query or {}).get("errors") == "inline"
    if inline and response.status_code == 200 and response.content.startswith(b"Error: "):
        CURRENT.tally.excused["200: a refusal as text, as errors=inline asks for"] += 1
        return
    if response.status_code == 200 and _of_bulk(case) is not None and _any_refused(response):
        CURRENT.tally.excused["200: an item that does not fit is refused in its place"] += 1
        return
    if response.status_code == 414:  # the check does not know it for a refusal
        CURRENT.tally.excused[TOO_LONG] += 1
        return
    negative_data_rejection(ctx, response, case)


def _excuse(response: Response, case: Case) -> str | None:
    """Why a request that fits the schema may be refused after all."""
    if response.status_code == 414:
        return TOO_LONG
    if response.status_code == 422:
        return "422: rules of chemistry, physics or the catalogue"
    codes = {error["code"] for error in response.json().get("errors", ())} if response.status_code == 400 else set()
    if codes and _of_bulk(case) is not None and case.media_type != "application/json":
        return "400: no schema can say what makes a table, or that a text is not blank"
    if codes and codes <= UNSAYABLE.keys():
        return f"400: {'; '.join(UNSAYABLE[code] for code in sorted(codes))}"
    return None


@schemathesis.check
def problems_are_documents(_: Any, response: Response, case: Case) -> None:
    """Whatever is refused is a problem of a known kind, told at its own place, and its page is served."""
    if response.status_code < 300 or (response.status_code == 304 and not response.content):
        return
    assert response.headers.get("content-type") == ["application/problem+json"], "no problem document"
    problem = response.json()
    kind = KINDS.get(problem.get("type", "").removeprefix("/problems/"))
    assert kind is not None, f"no kind of problem: {problem.get('type')}"
    figures = (problem.get("status"), problem.get("title"))
    assert figures == (response.status_code, kind.title), "another kind's figures"
    assert kind.status == response.status_code, "a kind of problem with another status"
    if response.status_code in {400, 422} and case.method == "POST":
        assert problem.get("errors"), "a refusal without a fault"
    assert _page_is_served(case.operation.schema.app, problem["type"]), "the page of the problem is not served"


@cache
def _page_is_served(app: App, address: str) -> bool:
    """Whether the page that a problem names is there; asked once for each."""
    reply = caller(app)("GET", address)
    return reply.status == 200 and reply.headers["content-type"].startswith("text/html") and b"<" in reply.body


@schemathesis.check
def numbers_are_finite(_: Any, response: Response, __: Case) -> None:
    """Every number of a JSON document is finite; NaN, infinity and null stand nowhere in an answer."""
    (media,) = response.headers.get("content-type", [""])
    if not media.endswith("json") or not response.content:
        return
    for text in response.content.splitlines() if media == NDJSON else [response.content]:
        document = json.loads(text, parse_constant=_refuse, parse_float=_finite)
        if media in {"application/json", NDJSON} and "openapi" not in document:
            assert not _holds_null(document), "a null in an answer"


def _refuse(word: str) -> float:
    raise AssertionError(f"{word} is no number")


def _finite(text: str) -> float:
    assert math.isfinite(float(text)), f"{text} is not finite"
    return float(text)


def _holds_null(node: Any) -> bool:
    if isinstance(node, (dict, list)):
        return any(map(_holds_null, node.values() if isinstance(node, dict) else node))
    return node is None


@schemathesis.check
def same_call_same_bytes(_: Any, response: Response, case: Case) -> None:
    """The same call gives the same answer; of refusals one in four is looked at."""
    if response.status_code >= 300 and len(response.content) % 4:
        CURRENT.tally.passed_over["the same call twice", "a refusal: one in four is asked for again"] += 1
        return
    if response.status_code == 200 and case.operation.path in UNSTEADY:
        CURRENT.tally.passed_over["the same call twice", f"{case.operation.path}: {UNSTEADY[case.operation.path]}"] += 1
        return
    sent = response.request
    split = urlsplit(sent.url or "")
    body: Any = sent.body.encode() if isinstance(sent.body, str) else sent.body
    headers = [
        (name.lower().encode(), value.encode() if isinstance(value, str) else value)
        for name, value in sent.headers.items()
    ]
    of_the_line = {b"content-length", b"transfer-encoding", b"accept-encoding"}  # what was packed is unpacked here
    kept = [(name, value) for name, value in headers if name not in of_the_line]
    CURRENT.tally.asked_again += 1
    kept_document.cache_clear()  # it shall be reckoned anew, not remembered
    kept_form.cache_clear()
    again = caller(case.operation.schema.app).raw(
        sent.method or "", split.path.encode(), split.query.encode(), kept, body or b""
    )
    assert (again.status, again.body) == (response.status_code, response.content), "another answer to the same call"
    CURRENT.tally.held["the same call twice"] += 1


def _of_bulk(case: Case) -> str | None:
    """Name of the calculation that is asked for many items; None where it is another operation."""
    path = str(case.operation.path)
    return path.removeprefix(BASE + BULK) if path.startswith(BASE + BULK) else None


def _any_refused(response: Response) -> bool:
    """Whether an item of an answer was refused, told by its format."""
    (media,) = response.headers["content-type"]
    if media == "application/json":
        return bool(response.json()["failed"])
    if media == NDJSON:
        return any("problem" in json.loads(line) for line in response.content.splitlines())
    return b"problem.type" in response.content.partition(b"\r\n")[0]


@schemathesis.check
def items_are_answered_as_alone(_: Any, response: Response, case: Case) -> None:
    """Every item of many gets what it gets alone, in its order."""
    name = _of_bulk(case)
    if name is None or response.status_code != 200 or response.headers["content-type"] != ["application/json"]:
        return
    told = response.json()
    assert [one["index"] for one in told["results"]] == list(range(len(told["results"])))
    failed = [one for one in told["results"] if one["status"] >= 500]
    assert not failed, f"the service failed at an item: {failed[0]['problem']}"
    good = sum("result" in one for one in told["results"])
    assert (told["succeeded"], told["failed"]) == (good, len(told["results"]) - good), "counted wrong"
    body: Any = case.body
    if case.query or not isinstance(body, dict):
        reason = "parameters that change the answers" if case.query else "a table or lines"
        CURRENT.tally.passed_over["many items as alone", reason] += 1
        return
    items = body["items"]
    assert len(items) == len(told["results"]), "items were lost"
    for item, one in zip(items, told["results"], strict=True):
        alone = _posted(case.operation.schema.app, BASE + name, json.dumps(item).encode())
        due = alone.json() if alone.status == 200 else alone.json() | {"instance": BASE + BULK + name}
        found = (one["status"], one.get("result", one.get("problem")))
        assert found == (alone.status, due), "another answer than alone"
    CURRENT.tally.held["many items as alone"] += 1


@schemathesis.check
def intervals_and_bounds(_: Any, response: Response, case: Case) -> None:
    """Every interval holds its value, and nothing is less than nothing or more than the whole."""
    if _calculation(response, case) and not (case.query or {}).get("digits"):
        within_bounds(response.json())


@schemathesis.check
def masses_balance(_: Any, response: Response, case: Case) -> None:
    """Masses, amounts and shares add up; looked at in all their digits."""
    name, body = _calculation(response, case), cast("dict[str, Any]", case.body)
    if name is not None:
        BALANCES[name](body, _asker(case.operation.schema.app)(name, body).document)


@schemathesis.check
def examples_give_their_answers(_: Any, response: Response, case: Case) -> None:
    """A request that is a named example gets the answer that the contract shows."""
    name = _calculation(response, case)
    if name is None:
        return
    post = case.operation.schema.raw_schema["paths"][case.operation.path]["post"]
    answers = post["responses"]["200"]["content"]["application/json"]["examples"]
    for example, shown in post["requestBody"]["content"]["application/json"]["examples"].items():
        if shown["value"] == case.body:
            address = f"/v1/{name}?digits={EXAMPLE_DIGITS}"
            reply = _posted(case.operation.schema.app, address, json.dumps(case.body).encode())
            assert reply.json() == answers[example]["value"], f"another answer to the example {example}"
            if _phase(case) == TestPhase.EXAMPLES.value:
                CURRENT.tally.examples.add((name, example))


def _check_of(title: str, law: Law) -> Any:
    def check(_: Any, response: Response, case: Case) -> None:
        name = _calculation(response, case)
        if name is None:
            return
        reason = law(_asker(case.operation.schema.app), name, cast("dict[str, Any]", case.body))
        if reason is None:
            CURRENT.tally.held[title] += 1
        else:
            CURRENT.tally.passed_over[title, reason] += 1

    check.__name__ = law.__name__
    check.__doc__ = law.__doc__
    return schemathesis.check(check)


LAW_CHECKS: Final = {title: _check_of(title, law) for title, law in LAWS.items()}
"""Laws between answers, each a check of its own."""

OWN: Final = (
    problems_are_documents,
    numbers_are_finite,
    same_call_same_bytes,
    items_are_answered_as_alone,
    intervals_and_bounds,
    masses_balance,
    examples_give_their_answers,
    *LAW_CHECKS.values(),
)
"""Every check that looks at an answer alone; `accepts_what_fits` also needs to know how its request was made."""
