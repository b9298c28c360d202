"""Hostile requests of every kind: whatever comes is answered or refused, never a failure, never a hidden number."""

import json
import logging
import random
import time
from collections.abc import Iterator
from copy import deepcopy
from typing import Any, Final

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.calculations.registry import calculations
from service.http.app import create_app
from service.http.problems import KINDS
from tests.asgi import Caller, Reply

WHOLE: Final = Caller(create_app())
NAMES: Final = tuple(calculations())
TYPES: Final = {kind.uri: kind.status for kind in KINDS.values()}

EXTREMES: Final[tuple[Any, ...]] = (
    *(None, True, False, 0, -0.0, 1, -1, 0.5, 1e308, -1e308, 5e-324, 10**30, 10**400, -(10**400)),
    *("", "x", "0 %", "5 %", "50 %", "100 %", "99.9 %", "170 g", "0.001 mg", "100000 t", "99999 t", "9" * 400 + " g"),
    *("20 °C", "-273.15 °C", "1000 °C", "0 K", "100 °C", "-30 °C", "2:1", "1:1", "0.000001:1", "1000000:1", "20:1"),
    *("NaOH", "KOH", "olive-oil", "beeswax", "lactic-acid", "goat-milk", "distilled-water", "hdpe", "glass", "ice"),
    *("1 mg/g", "700 mg/g", "0 g/100g", "400 g/100g", "1 m3", "0.000001 mL", "30 kg/L", "0.1 kg/m3", "100 mol/L"),
    *("0.001 s", "11574 d", 70, 140, 150, 200, [], [[]], {}, {"value": 1, "unit": "g"}),
    *({"low": 0, "high": 1, "unit": "1"}, {"low": 0.5, "high": 1, "unit": "1"}),
    *({"value": 0.5, "uncertainty": 1, "unit": "1"}, {"low": 1e-8, "high": 1e8, "unit": "kg"}),
)


def sound(reply: Reply) -> None:
    """What holds for every reply, whatever was asked."""
    assert reply.status in {200, 204, *TYPES.values()}
    assert reply.status < 500
    for name, value in reply.headers.items():
        assert (name + value).isprintable()
    if reply.status >= 400 and reply.body:
        document = reply.json()
        assert TYPES[document["type"]] == document["status"] == reply.status
        assert document["instance"].isascii()
        assert len(reply.body) < 64 * 1024
    elif reply.status == 200 and reply.headers["content-type"] == "application/json":
        assert b"null" not in reply.body or b'"reference":' in reply.body or b"openapi" in reply.body


def places(said: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Every place in a request."""
    yield path
    for step, value in said.items() if isinstance(said, dict) else enumerate(said) if isinstance(said, list) else ():
        yield from places(value, (*path, step))


def mutated(said: Any, dice: random.Random) -> Any:
    """A request with one change: a member deleted, doubled, moved, or replaced by an extreme."""
    changed = deepcopy(said)
    path = dice.choice([one for one in places(changed) if one] or [()])
    if not path:
        return dice.choice(EXTREMES)
    within = changed
    for step in path[:-1]:
        within = within[step]
    what = dice.random()
    if what < 0.15:
        del within[path[-1]]
    elif what < 0.25 and isinstance(within, list):
        within.append(deepcopy(dice.choice(within)))
    elif what < 0.35:
        within[path[-1]] = deepcopy(said)
    else:
        within[path[-1]] = dice.choice(EXTREMES)
    return changed


@pytest.mark.parametrize("name", NAMES)
def test_valid_requests_with_a_few_changes_are_answered_or_refused(name: str) -> None:
    dice = random.Random(name)  # noqa: S311 - the same changes on every run
    answered = 0
    for _ in range(400):
        request = dice.choice(calculations()[name].examples).request
        for _ in range(dice.choice((1, 1, 1, 2, 3))):
            request = mutated(request, dice)
        query = dice.choice(("", "?units=us", "?digits=1", "?explain=true", "?explain=true&units=us&digits=15"))
        start = time.process_time()
        reply = WHOLE(
            "POST", f"/v1/{name}{query}", json.dumps(request).encode(), [("content-type", "application/json")]
        )
        assert time.process_time() - start < 1
        sound(reply)
        answered += reply.status == 200
    assert answered > 5, "changes that leave nothing to answer try nothing"


@settings(max_examples=400, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(["POST", "GET", "HEAD", "OPTIONS", "PUT", "TRACE", "get", "M-SEARCH", "\x00", "É"]),
    st.sampled_from([b"/v1/saponification", b"/v1/concentration", b"/docs", b"/problems/internal", b"/"])
    | st.binary(max_size=40).map(lambda tail: b"/" + tail),
    st.binary(max_size=60) | st.sampled_from([b"units=us", b"digits=3&digits=4", b"%ff=%", b"a=1&" * 200]),
    st.lists(
        st.tuples(
            st.sampled_from(
                [
                    b"content-type",
                    b"accept",
                    b"content-length",
                    b"content-encoding",
                    b"x-request-id",
                    b"host",
                    b"origin",
                ]
            ),
            st.binary(max_size=30)
            | st.sampled_from(
                [b"application/json", b"*/*", b"gzip", b"5", b"99999999999999999999", b"-1", b"text/html"]
            ),
        ),
        max_size=5,
    ),
    st.binary(max_size=80) | st.sampled_from([b"{}", b"null", b'{"fats":[{"fat":"olive-oil","mass":"1 kg"}]}']),
)
def test_any_bytes_on_the_line_are_answered_or_refused(
    method: str, path: bytes, query: bytes, headers: list[tuple[bytes, bytes]], body: bytes
) -> None:
    sound(WHOLE.raw(method, path, query, headers, body))


@settings(max_examples=400)
@given(
    st.sampled_from(NAMES),
    st.binary(max_size=200) | st.text(alphabet='{}[]",:0123456789.eE+-\\ untrfalsmx/', max_size=120).map(str.encode),
)
def test_any_body_is_answered_or_refused(name: str, body: bytes) -> None:
    sound(WHOLE("POST", f"/v1/{name}", body, [("content-type", "application/json")]))


def test_nothing_of_this_was_logged_as_a_failure(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING):
        sound(WHOLE("POST", "/v1/liquid-split", json.dumps({"total_liquid": {"water_ratio": 10**400}}).encode()))
    assert caplog.records == []
