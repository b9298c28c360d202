"""Answers hold no member that the contract does not declare, at any depth.

Callers may rely on the schemas of answers being open, so that a later version may add members; here they are closed.
"""

import copy
from functools import cache
from typing import Any, Final

import pytest
from jsonschema_rs import Draft202012Validator

from tests.asgi import Caller
from tests.contract.documents import SCHEMAS
from tests.contract.example_calls import Call, example_calls

CALLS: Final = [call for call in example_calls() if call.schema is not None and call.address != "/openapi.json"]


def closed(node: Any) -> Any:
    """A schema in which every object has the members that are declared, and no other."""
    if isinstance(node, list):
        return [closed(one) for one in node]
    if not isinstance(node, dict):
        return node
    made = {name: closed(one) for name, one in node.items()}
    if isinstance(node.get("properties"), dict) and node.get("type") == "object":
        made.setdefault("additionalProperties", False)
    return made


@cache
def components() -> dict[str, Any]:
    made: dict[str, Any] = closed(SCHEMAS)
    return made


def judge(call: Call) -> Draft202012Validator:
    return Draft202012Validator({**closed(call.schema), "components": {"schemas": components()}})


def with_one_more(answer: Any) -> list[Any]:
    """Copies of an answer, in each of which another object has a member more."""
    made = []
    for path in objects(answer):
        changed = copy.deepcopy(answer)
        place = changed
        for step in path:
            place = place[step]
        place["not_in_the_contract"] = 1
        made.append(changed)
    return made


def objects(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Where the objects of an answer are."""
    inside = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    below = [one for step, part in inside for one in objects(part, (*path, step))]
    return [path, *below] if isinstance(node, dict) else below


@pytest.mark.parametrize("asked", CALLS, ids=lambda asked: f"{asked.method} {asked.address[:60]} {asked.kind}")
def test_an_answer_holds_what_is_declared_and_no_more(call: Caller, asked: Call) -> None:
    reply = call(asked.method, asked.address, asked.body, asked.headers)
    assert reply.status == 200, reply.body
    judge(asked).validate(reply.json())


def test_every_operation_that_answers_json_is_looked_at() -> None:
    asked = {call.address.partition("?")[0] for call in CALLS}
    assert len(asked) > 60
    assert {path for path in asked if path.startswith("/v1/bulk/")}
    assert {path for path in asked if path.startswith("/v1/values/")}


def test_one_member_more_is_seen_wherever_it_stands(call: Caller) -> None:
    looked_at = 0
    for asked in [one for one in CALLS if one.address.startswith(("/v1/concentration", "/v1/fats/", "/health/ready"))]:
        answer = call(asked.method, asked.address, asked.body, asked.headers).json()
        for changed in with_one_more(answer):
            assert not judge(asked).is_valid(changed), changed
            looked_at += 1
    assert looked_at > 50
