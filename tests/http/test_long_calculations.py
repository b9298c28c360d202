"""Long calculations, which keep nobody waiting: what takes long goes on beside the event loop."""

import asyncio
import gc
import json
import threading
from collections.abc import Callable
from typing import Any, Final

import pytest

from service.calculations.registry import calculations
from service.http.app import create_app
from service.http.beside import LONG
from service.http.operation.settings import Settings
from service.http.wire import App, Message
from tests.asgi import once, scope_of

LYE: Final = b'{"fats": [{"fat": "olive-oil", "mass": "1 kg"}]}'
LONG_LYE: Final = LYE.replace(b"}]}", b"}]" + b" " * LONG + b"}")
"""The same request with room in it: how long it takes is a matter of the tests."""
PATIENCE: Final = 10.0


async def ask(
    app: App, path: str, body: bytes, query: str = "", media: bytes = b"application/json", method: str = "POST"
) -> tuple[int, bytes]:
    sent: list[Message] = []

    async def send(message: Message) -> None:
        sent.append(message)

    scope = scope_of(path, query, method=method)
    scope["headers"] = [(b"content-type", media), (b"content-length", b"%d" % len(body))]
    await app(scope, once(body), send)
    return int(sent[0]["status"]), b"".join(one["body"] for one in sent[1:])


@pytest.fixture(scope="module")
def app() -> App:
    """Made once, before a calculation is held: the contract has examples reckoned."""
    return create_app()


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """Calculating goes on only when this is set, or after a while."""
    going_on = threading.Event()
    hold(monkeypatch, lambda: going_on.wait(PATIENCE))
    return going_on


def hold(monkeypatch: pytest.MonkeyPatch, wait: Callable[[], object], name: str = "saponification") -> None:
    held = calculations()[name]
    calculate = held.calculate

    def slow(*given: Any) -> Any:
        wait()
        return calculate(*given)

    monkeypatch.setattr(held, "calculate", slow)


@pytest.mark.parametrize(
    ("path", "query", "body", "media"),
    [
        ("/v1/saponification", "", LONG_LYE, b"application/json"),
        ("/v1/bulk/saponification", "", b'{"items": [' + LONG_LYE + b"]}", b"application/json"),
        ("/v1/bulk/saponification", "", LONG_LYE, b"application/x-ndjson"),
        ("/v1/bulk/saponification", "format=csv", LONG_LYE, b"application/x-ndjson"),
    ],
    ids=["alone", "item", "line", "row"],
)
def test_a_long_calculation_keeps_nobody_waiting(
    app: App, held: threading.Event, path: str, query: str, body: bytes, media: bytes
) -> None:
    async def both() -> tuple[int, bytes]:
        long = asyncio.ensure_future(ask(app, path, body, query, media))
        await asyncio.sleep(0.05)
        status, _ = await ask(app, "/v1/concentration", b'{"strength": {"mass_fraction": "50 %"}, "alkali": "NaOH"}')
        assert status == 200
        assert not long.done()
        held.set()
        return await long

    status, answer = asyncio.run(asyncio.wait_for(both(), PATIENCE / 2))
    assert status == 200
    assert answer


def test_pictures_keep_no_page_waiting(app: App, monkeypatch: pytest.MonkeyPatch) -> None:
    going_on = threading.Event()
    hold(monkeypatch, lambda: going_on.wait(PATIENCE), "stock-mixing")
    (example, *_) = calculations()["stock-mixing"].examples
    body = json.dumps(example.request).encode()

    async def play() -> list[int]:
        pictures = [
            asyncio.ensure_future(ask(app, "/v1/stock-mixing", body + b" " * at, "format=svg")) for at in range(40)
        ]
        await asyncio.sleep(0.05)
        for path in ("/health/live", "/metrics", "/v1/fats", "/problems"):
            status, _ = await ask(app, path, b"", method="GET")
            assert status == 200
        assert not any(one.done() for one in pictures)
        for one in pictures[1:]:
            one.cancel()
        going_on.set()
        status, _ = await pictures[0]
        return [status]

    assert asyncio.run(asyncio.wait_for(play(), PATIENCE / 2)) == [200]


def test_a_long_calculation_answers_as_a_short_one(app: App) -> None:
    asked = asyncio.run(ask(app, "/v1/saponification", LYE))
    assert asked[0] == 200
    assert asyncio.run(ask(app, "/v1/saponification", LONG_LYE)) == asked


def test_a_long_calculation_tells_every_fault(app: App) -> None:
    wrong = LONG_LYE.replace(b"1 kg", b"1 floz")
    status, answer = asyncio.run(ask(app, "/v1/saponification", wrong, "digits=99"))
    assert status == 400
    assert {error.get("pointer", error.get("parameter")) for error in json.loads(answer)["errors"]} == {
        "/fats/0/mass",
        "digits",
    }


def test_whoever_waits_behind_a_long_calculation_is_told_and_nothing_is_done_for_them(
    app: App, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun: list[str] = []
    going_on = threading.Event()

    def wait() -> None:
        begun.append(threading.current_thread().name)
        going_on.wait(PATIENCE)

    hasty = create_app(settings=Settings(request_seconds=0.2))
    hold(monkeypatch, wait)

    async def three() -> list[tuple[int, bytes]]:
        answers = [ask(hasty, "/v1/saponification", LONG_LYE) for _ in range(3)]
        return await asyncio.gather(*answers)

    assert [status for status, _ in asyncio.run(three())] == [503, 503, 503]
    going_on.set()
    assert asyncio.run(ask(app, "/v1/saponification", LONG_LYE))[0] == 200
    assert len(begun) == 2  # the first of the three, and the one that came later


def test_garbage_is_collected_again_after_a_long_calculation(app: App, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[bool] = []

    def fail() -> None:
        seen.append(gc.isenabled())
        raise ZeroDivisionError

    hold(monkeypatch, fail)
    assert asyncio.run(ask(app, "/v1/saponification", LONG_LYE))[0] == 500
    assert seen == [False]
    assert gc.isenabled()
