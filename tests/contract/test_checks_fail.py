"""Every check of our own fails where the service is broken in just that way: none of them is for show.

A broken service is the true one with answers changed on their way out.
"""

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from schemathesis.core.failures import FailureGroup

from service.http.app import create_app
from service.http.wire import App, Message, Receive, Scope, Send
from tests.contract import checks
from tests.contract.campaign import PHASES, Outcome, campaign
from tests.contract.fuzzing import contract_of, load
from tests.contract.tally import begin

Answer = dict[str, Any]
Breakage = Callable[[Scope, int, bytes], tuple[int, bytes]]

SOUND = create_app()
DOCUMENT = contract_of(SOUND)
BATCH: dict[str, Any] = {
    "fats": [{"fat": "olive-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"}],
    "superfat": "5 %",
}
SPLIT = {
    "alkalis": [{"alkali": "NaOH", "mass": "138.6 g"}],
    "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
    "total_liquid": {"water_ratio": "2:1"},
}
MIXING = {"solid": {"alkali": "NaOH", "mass_as_supplied": "10 kg"}, "water": {"mass": "10 kg"}}
STRENGTH = {"alkali": "NaOH", "strength": {"mass_fraction": "30 %"}}
BODIES: dict[str, dict[str, Any]] = {
    "saponification": BATCH,
    "liquid-split": SPLIT,
    "stock-mixing": MIXING,
    "concentration": STRENGTH,
}


async def _live(receive: Receive, send: Send) -> None:
    """A life without anything to start or to stop."""
    for end in ("startup", "shutdown"):
        await receive()
        await send({"type": f"lifespan.{end}.complete"})


class Broken:
    """The service with its answers changed."""

    def __init__(self, breakage: Breakage, app: App = SOUND) -> None:
        self._breakage = breakage
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            return await _live(receive, send)
        # what is packed could not be changed
        scope = {**scope, "headers": [one for one in scope["headers"] if one[0] != b"accept-encoding"]}
        asked: list[Message] = []
        said: list[Message] = []

        async def hear() -> Message:
            message = await receive()
            asked.append(message)
            return message

        async def keep(message: Message) -> None:
            said.append(message)

        await self._app(scope, hear, keep)
        start, *rest = said
        scope["asked"] = b"".join(message.get("body", b"") for message in asked)
        status, body = self._breakage(scope, start["status"], b"".join(one.get("body", b"") for one in rest))
        headers = [one for one in start["headers"] if one[0] != b"content-length"]
        headers.append((b"content-length", str(len(body)).encode()))
        await send({**start, "status": status, "headers": headers})
        await send({"type": "http.response.body", "body": body})
        return None


def changing(change: Callable[[Answer, Any], None]) -> App:
    """The service with every computed answer changed; the change also sees the request."""

    def breakage(scope: Scope, status: int, body: bytes) -> tuple[int, bytes]:
        if status != 200 or not scope["path"].startswith("/v1/"):
            return status, body
        answer = json.loads(body)
        change(answer, json.loads(scope["asked"]))
        return status, json.dumps(answer).encode()

    return Broken(breakage)


def verdict(app: App, name: str, body: Any, check: Any) -> str:
    """What a check says of an answer; "" where it finds nothing wrong."""
    begin()
    operation = load(app, DOCUMENT, {})[f"/v1/{name}"]["POST"]
    case = operation.Case(body=body, media_type="application/json")
    try:
        case.call_and_validate(checks=[check])
    except FailureGroup as group:
        return str(group.exceptions[0])
    return ""


@pytest.mark.parametrize("name", BODIES)
def test_sound_service_passes_every_check(name: str) -> None:
    for check in checks.OWN:
        assert verdict(SOUND, name, BODIES[name], check) == ""


def _lose(answer: Answer, _: Any) -> None:
    answer["results"].pop()


def _mix_up(answer: Answer, _: Any) -> None:
    first, second = answer["results"]
    first["result"], second["result"] = second["result"], first["result"]


def _miscount(answer: Answer, _: Any) -> None:
    answer["succeeded"] += 1


def _fail(answer: Answer, _: Any) -> None:
    answer["results"][1] = {"index": 1, "status": 500, "problem": {"title": "It failed"}}


@pytest.mark.parametrize(
    ("change", "what"),
    [
        (_lose, "counted wrong"),
        (_mix_up, "another answer than alone"),
        (_miscount, "counted wrong"),
        (_fail, "the service failed at an item"),
    ],
)
def test_many_items_that_are_not_answered_as_alone_are_found(change: Callable[[Answer, Any], None], what: str) -> None:
    many = {"items": [SPLIT, SPLIT | {"total_liquid": {"water_ratio": "3:1"}}]}
    check = checks.items_are_answered_as_alone
    assert verdict(SOUND, "bulk/liquid-split", many, check) == ""
    changed = changing(lambda answer, asked: change(answer, asked) if "results" in answer else None)
    assert what in verdict(changed, "bulk/liquid-split", many, check)


def lighter(member: str) -> Callable[[Answer, Any], None]:
    def change(answer: Answer, _: Any) -> None:
        node: Any = answer
        *way, last = member.split("/")
        for step in way:
            node = node[int(step) if step.isdigit() else step]
        node[last]["value"] *= 0.999

    return change


@pytest.mark.parametrize(
    ("name", "member", "what"),
    [
        ("saponification", "alkalis/0/mass", "alkali of fats and acids"),
        ("saponification", "acid_demand", ""),
        ("saponification", "contributions/1/mass", "mass of the fats"),
        ("saponification", "fatty_acids/C18:1", "shares of the fatty acids"),
        ("liquid-split", "stock_draws/0/mass", "stock drawn"),
        ("liquid-split", "stock_draws/0/alkali_mass", "stock drawn"),
        ("liquid-split", "additions/0/mass", "liquid added"),
        ("liquid-split", "water_ratio", "liquid per alkali"),
        ("liquid-split", "actual_water_ratio", "water per alkali"),
        ("stock-mixing", "mass", "finished stock and steam"),
        ("stock-mixing", "strength/mass_fraction", "hydroxide of the finished stock"),
        ("concentration", "mass_concentration", "hydroxide per volume"),
        ("concentration", "molality", "amount per water"),
        ("concentration", "water_ratio", "water per hydroxide"),
        ("concentration", "degrees_baume", "degrees Baumé"),
        ("concentration", "degrees_twaddell", "degrees Twaddell"),
        ("concentration", "mole_fraction", "share of moles"),
    ],
)
def test_masses_that_do_not_balance_are_found(name: str, member: str, what: str) -> None:
    body = BODIES[name]
    if member == "acid_demand":  # without acid there is nothing to be wrong
        body = body | {"acids": [{"acid": "citric-acid-anhydrous", "mass": "20 g"}]}
        what = "alkali of fats and acids"
    assert what in verdict(changing(lighter(member)), name, body, checks.masses_balance)


def test_value_outside_its_interval_is_found() -> None:
    def change(answer: Answer, _: Any) -> None:
        answer["superfat"]["low"] = answer["superfat"]["value"] + 1e-6

    assert "is not within" in verdict(changing(change), "saponification", BATCH, checks.intervals_and_bounds)


def test_less_than_nothing_is_found() -> None:
    def change(answer: Answer, _: Any) -> None:
        answer["glycerol_mass"]["value"] = -1e-6

    assert "less than nothing" in verdict(changing(change), "saponification", BATCH, checks.intervals_and_bounds)


@pytest.mark.parametrize("word", ["NaN", "Infinity", "1e999", "null"])
def test_number_that_is_none_is_found(word: str) -> None:
    def breakage(_: Scope, status: int, body: bytes) -> tuple[int, bytes]:
        return status, body.replace(b'"baume_modulus":145.0', f'"baume_modulus":{word}'.encode())

    assert verdict(Broken(breakage), "concentration", STRENGTH, checks.numbers_are_finite)


def test_answer_that_changes_from_call_to_call_is_found() -> None:
    calls = iter(range(100))

    def change(answer: Answer, _: Any) -> None:
        answer["data_version"] += str(next(calls))

    found = verdict(changing(change), "concentration", STRENGTH, checks.same_call_same_bytes)
    assert "another answer to the same call" in found


def test_another_answer_to_an_example_is_found() -> None:
    media = DOCUMENT["paths"]["/v1/saponification"]["post"]["requestBody"]["content"]["application/json"]
    body = media["examples"]["olive-and-coconut"]["value"]
    found = verdict(changing(lighter("glycerol_mass")), "saponification", body, checks.examples_give_their_answers)
    assert "another answer to the example olive-and-coconut" in found
    assert verdict(SOUND, "saponification", body, checks.examples_give_their_answers) == ""


def heavier_by_a_gram(answer: Answer, _: Any) -> None:
    answer["glycerol_mass"]["value"] += 1.0


def warmer_when_said_so(answer: Answer, asked: Any) -> None:
    """As a service that takes °F or K for °C: the answer depends on the word for the unit."""
    if isinstance(asked["solid"]["mass_as_supplied"], dict):
        answer["peak_temperature"]["value"] += 0.001


def first_fat_counts_most(answer: Answer, asked: Any) -> None:
    answer["superfat"]["value"] += 1e-6 * (asked["fats"][0].get("fat") == "olive-oil")


def every_line_costs(answer: Answer, asked: Any) -> None:
    answer["alkalis"][0]["mass"]["value"] += 0.001 * len(asked["fats"])


def other_strength_for_degrees(answer: Answer, asked: Any) -> None:
    if "degrees_twaddell" in asked["strength"]:
        answer["mass_fraction"]["value"] += 1e-6


@pytest.mark.parametrize(
    ("law", "name", "change"),
    [
        ("twice the masses", "saponification", heavier_by_a_gram),
        ("other units", "stock-mixing", warmer_when_said_so),
        ("other order", "saponification", first_fat_counts_most),
        ("a fat on two lines", "saponification", every_line_costs),
        ("strengths there and back", "concentration", other_strength_for_degrees),
    ],
)
def test_broken_law_is_found(law: str, name: str, change: Callable[[Answer, Any], None]) -> None:
    assert verdict(changing(change), name, BODIES[name], checks.LAW_CHECKS[law])


def test_intensive_figure_that_doubles_with_the_batch_is_found() -> None:
    def change(answer: Answer, asked: Any) -> None:
        answer["peak_temperature"]["value"] += 0.01 * float(asked["water"]["mass"].split()[0])

    found = verdict(changing(change), "stock-mixing", MIXING, checks.LAW_CHECKS["twice the masses"])
    assert "/peak_temperature/value" in found


def problem_with(**members: Any) -> App:
    def breakage(_: Scope, status: int, body: bytes) -> tuple[int, bytes]:
        return (status, body) if status < 400 else (status, json.dumps({**json.loads(body), **members}).encode())

    return Broken(breakage)


@pytest.mark.parametrize(
    ("members", "what"),
    [
        ({"type": "/problems/none-such"}, "no kind of problem"),
        ({"title": "Oh"}, "another kind's figures"),
        ({"status": 418}, "another kind's figures"),
        ({"type": "/problems/internal", "title": "The service failed"}, "with another status"),
        ({"errors": []}, "a refusal without a fault"),
    ],
)
def test_problem_that_is_none_is_found(members: Answer, what: str) -> None:
    assert what in verdict(problem_with(**members), "saponification", {"fats": []}, checks.problems_are_documents)


def test_problem_whose_page_is_not_served_is_found() -> None:
    def breakage(scope: Scope, status: int, body: bytes) -> tuple[int, bytes]:
        return (404, body) if scope["path"].startswith("/problems/") else (status, body)

    found = verdict(Broken(breakage), "saponification", {"fats": []}, checks.problems_are_documents)
    assert "the page of the problem is not served" in found


@pytest.mark.parametrize(("code", "found"), [("wrong-type", True), ("out-of-range", False)])
def test_refusal_of_what_fits_is_found_unless_no_schema_can_say_it(code: str, found: bool) -> None:
    def breakage(_: Scope, __: int, ___: bytes) -> tuple[int, bytes]:
        return 400, json.dumps({"errors": [{"code": code}]}).encode()

    tally = begin()
    operation = load(Broken(breakage), DOCUMENT, {})["/v1/concentration"]["POST"]

    @settings(max_examples=1, derandomize=True, database=None, phases=[Phase.generate])
    @given(operation.as_strategy())
    def ask(case: Any) -> None:
        case.call_and_validate(checks=[checks.accepts_what_fits])

    if found:
        with pytest.raises(FailureGroup):
            ask()
    else:
        ask()
    assert bool(tally.excused) is not found


def only(path: str, app: App) -> App:
    """An application whose contract holds one path."""

    def breakage(scope: Scope, status: int, body: bytes) -> tuple[int, bytes]:
        if scope["path"] != "/openapi.json":
            return status, body
        document = json.loads(body)
        document["paths"] = {path: document["paths"][path]}
        return status, json.dumps(document).encode()

    return Broken(breakage, app)


def test_run_of_the_fuzzing_tells_what_failed() -> None:
    def breakage(scope: Scope, status: int, body: bytes) -> tuple[int, bytes]:
        return status, body.replace(b'"ok"', b'"fine"') if scope["path"] == "/health/live" else body

    outcome = campaign(seed=1, each=2, app=only("/health/live", Broken(breakage)))
    assert any("response_schema_conformance" in failure for failure in outcome.failures)
    assert not outcome.is_good


def test_run_of_the_fuzzing_tells_which_operation_never_succeeded() -> None:
    def breakage(scope: Scope, status: int, body: bytes) -> tuple[int, bytes]:
        return (500 if scope["path"] == "/health/live" else status), body

    outcome = campaign(seed=1, each=2, app=only("/health/live", Broken(breakage)))
    assert outcome.never_computed == ["GET /health/live"]


def test_run_without_its_links_or_a_phase_is_not_good() -> None:
    tally = begin()
    tally.answered["GET /x", "fuzzing", 200] = 1
    tally.hops["a -> [200] b -> c", 422] = 1
    run = Outcome(tally, ["GET /x"], ["a -> [200] b -> c"], set(PHASES), [], 0.0)
    assert run.links_not_followed == ["a -> [200] b -> c"]
    assert not run.is_good
    tally.hops["a -> [200] b -> c", 200] = 1
    assert run.is_good
    assert not run._replace(phases={"fuzzing"}).is_good
    assert not run._replace(labels=["GET /x", "GET /y"]).is_good
