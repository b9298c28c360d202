"""Limits: of size, of time and of how many at once, each refused with a problem that says so."""

import asyncio
import gzip
import json
from collections.abc import Awaitable, Callable

import pytest

from service.http.app import create_app
from service.http.operation.keys import new_key
from service.http.operation.settings import Settings
from service.http.wire import App, Message, Receive
from tests.asgi import Caller, once, scope_of

STRENGTH = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}
SOON = Settings(request_seconds=0.08)


def test_an_address_that_is_too_long_is_refused() -> None:
    call = Caller(create_app(settings=Settings(longest_address=2048)))
    fits = "/v1/fats?contains=" + "a" * (2048 - 18)
    assert call("GET", fits).status != 414
    for path in (fits + "a", "/" + "a" * 2050, "/v1/concentration?" + "a" * 2048):
        told = call("GET", path)
        assert "at most 2048 are taken" in told.detail(414)
        assert len(told.body) < 1000


def test_sizes_of_bodies_may_be_set_lower() -> None:
    call = Caller(create_app(settings=Settings(largest_body=1024, largest_bulk_body=2048, most_items=2)))
    large = json.dumps({**STRENGTH, "reference": "x" * 50}).encode() + b" " * 1024
    headers = [("content-type", "application/json")]
    assert "At most 1024 bytes" in call("POST", "/v1/concentration", large, headers).detail(413)
    assert call("POST", "/v1/concentration", STRENGTH).status == 200
    assert "At most 2048 bytes" in call("POST", "/v1/production-plan", b" " * 2049, headers).detail(413)
    assert call("POST", "/v1/bulk/concentration", b" " * 2049, headers).status == 413
    three = call("POST", "/v1/bulk/concentration", {"items": [STRENGTH] * 3})
    assert three.json()["errors"][0]["detail"] == "there are 3 items, and 2 are taken at once"
    one = b'{"items": [%s]}' % (b'{"alkali": "NaOH", "reference": "%s"}' % (b"x" * 1024))
    (result,) = call("POST", "/v1/bulk/concentration", one, headers).json()["results"]
    assert result["status"] == 413
    for media, line in (("application/x-ndjson", json.dumps(STRENGTH)), ("text/csv", "NaOH,50 %")):
        rows = ("alkali,strength.mass_fraction\n" if media == "text/csv" else "") + (line + "\n") * 3
        many = call("POST", "/v1/bulk/concentration", rows.encode(), [("content-type", media)])
        assert many.codes == ["too-many"]
        assert "2 are taken" in many.json()["errors"][0]["detail"]


class Exchange:
    """One request whose body comes, and whose answer is read, as a test wants it."""

    def __init__(
        self,
        app: App,
        path: str,
        method: str = "POST",
        length: str = "10",
        headers: tuple[tuple[bytes, bytes], ...] = (),
    ) -> None:
        self.sent: list[Message] = []
        self._app = app
        self._scope = scope_of(path, "", (b"content-length", length.encode()), *headers, method=method)

    async def run(self, receive: Receive, hold: Callable[[], Awaitable[None]] | None = None) -> None:
        async def send(message: Message) -> None:
            self.sent.append(message)
            if hold is not None:
                await hold()

        await self._app(self._scope, receive, send)

    @property
    def status(self) -> int:
        return int(self.sent[0]["status"])

    @property
    def headers(self) -> dict[bytes, bytes]:
        return dict(self.sent[0]["headers"])


async def never() -> Message:
    await asyncio.Event().wait()
    raise AssertionError


def test_a_body_that_does_not_come_is_given_up_and_the_connection_closed() -> None:
    exchange = Exchange(create_app(settings=SOON), "/v1/concentration")
    asyncio.run(asyncio.wait_for(exchange.run(never), 5))
    assert exchange.status == 408
    assert exchange.headers[b"connection"] == b"close"
    told = json.loads(exchange.sent[1]["body"])
    assert (told["type"], told["detail"]) == (
        "/problems/request-timeout",
        "The body was not complete after 0.08 s.",
    )


def test_a_body_that_drips_is_given_up_too() -> None:
    async def drip() -> Message:
        await asyncio.sleep(0.01)
        return {"type": "http.request", "body": b" ", "more_body": True}

    exchange = Exchange(create_app(settings=SOON), "/v1/bulk/concentration", length="1000000")
    asyncio.run(asyncio.wait_for(exchange.run(drip), 5))
    assert exchange.status == 408


def test_an_answer_that_nobody_reads_is_broken_off() -> None:
    body = json.dumps({"items": [STRENGTH] * 400}).encode()

    async def stuck() -> None:
        await asyncio.Event().wait()

    exchange = Exchange(create_app(settings=SOON), "/v1/bulk/concentration", length=str(len(body)))
    asyncio.run(asyncio.wait_for(exchange.run(once(body), stuck), 5))
    assert exchange.status == 200
    assert len(exchange.sent) == 1


def test_a_slow_reader_who_reads_on_is_served_to_the_end() -> None:
    body = json.dumps({"items": [STRENGTH] * 200}).encode()

    async def slow() -> None:
        await asyncio.sleep(0.1)

    exchange = Exchange(
        create_app(settings=Settings(request_seconds=0.4)), "/v1/bulk/concentration", length=str(len(body))
    )
    asyncio.run(asyncio.wait_for(exchange.run(once(body), slow), 20))
    assert len(exchange.sent) > 4
    assert not exchange.sent[-1]["more_body"]
    assert json.loads(b"".join(one["body"] for one in exchange.sent[1:]))["succeeded"] == 200


def test_who_is_cut_off_from_outside_is_not_answered() -> None:
    async def cut() -> None:
        exchange = Exchange(create_app(), "/v1/concentration")
        task = asyncio.create_task(exchange.run(never))
        await asyncio.sleep(0.01)
        task.cancel()
        with pytest.raises(asyncio.CancelledError):
            await task
        assert exchange.sent == []

    asyncio.run(cut())


def test_more_than_can_be_served_at_once_are_told_to_come_back_and_health_still_answers() -> None:
    app = create_app(settings=Settings(most_concurrent=2))

    async def crowd() -> list[int]:
        waiting = [Exchange(app, "/v1/concentration") for _ in range(2)]
        tasks = [asyncio.create_task(one.run(never)) for one in waiting]
        await asyncio.sleep(0.01)
        third = Exchange(app, "/v1/concentration")
        await third.run(never)
        assert third.headers[b"retry-after"] == b"1"
        assert json.loads(third.sent[1]["body"])["type"] == "/problems/unavailable"
        health = Exchange(app, "/health/live", "GET")
        await health.run(never)
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        fourth = Exchange(app, "/v1/concentration", length="2")
        await fourth.run(once(b"{}"))
        return [third.status, health.status, fourth.status]

    assert asyncio.run(crowd()) == [503, 200, 400]


def test_docs_can_be_switched_off() -> None:
    call = Caller(create_app(settings=Settings(docs=False)))
    assert "switched off" in call("GET", "/docs").detail(404)


def exchange_of(app: App, body: bytes, received: asyncio.Event, going_on: asyncio.Event) -> "asyncio.Task[Exchange]":
    """A caller that sends all of its body but for the last byte, and that one when it is told to."""
    exchange = Exchange(app, "/v1/production-plan", length=str(len(body)))
    left = [(body[-1:], False), (body[:-1], True)]

    async def receive() -> Message:
        if len(left) == 1:
            received.set()
            await going_on.wait()
        if not left:
            await asyncio.Event().wait()
        part, more = left.pop()
        return {"type": "http.request", "body": part, "more_body": more}

    async def run() -> Exchange:
        await exchange.run(receive)
        return exchange

    return asyncio.ensure_future(run())


def test_large_bodies_share_the_room_there_is_and_give_it_back() -> None:
    app = create_app(settings=Settings(bodies_together=1 << 20))
    body = b" " * 700_000

    async def play() -> tuple[Exchange, Exchange, Exchange, Exchange]:
        going_on, received = asyncio.Event(), asyncio.Event()
        first = exchange_of(app, body, received, going_on)
        await received.wait()
        crowded, small = Exchange(app, "/v1/production-plan"), Exchange(app, "/v1/production-plan")
        await crowded.run(once(body))
        await small.run(once(b" " * 60_000))
        going_on.set()
        again = Exchange(app, "/v1/production-plan")
        whole = await first
        await again.run(once(body))
        return whole, crowded, small, again

    whole, crowded, small, again = asyncio.run(asyncio.wait_for(play(), 10))
    assert [whole.status, small.status, again.status] == [400, 400, 400]  # read, and empty
    assert crowded.status == 503
    assert crowded.headers[b"retry-after"] == b"1"
    assert b"Large bodies of other requests take all the room there is" in crowded.sent[1]["body"]


def test_what_a_packed_body_unpacks_to_takes_room_too() -> None:
    call = Caller(create_app(settings=Settings(bodies_together=1 << 20)))
    headers = [("content-type", "application/json"), ("content-encoding", "gzip")]
    assert call("POST", "/v1/bulk/concentration", gzip.compress(b" " * 1_000_000), headers).status == 400
    assert call("POST", "/v1/bulk/concentration", gzip.compress(b" " * 1_100_000), headers).status == 503
    assert call("POST", "/v1/bulk/concentration", gzip.compress(b" " * 1_000_000), headers).status == 400


def test_one_address_does_not_take_all_places() -> None:
    key, digest = new_key()

    async def play(app: App, *headers: tuple[bytes, bytes]) -> list[int]:
        going_on = asyncio.Event()

        async def later() -> Message:
            await going_on.wait()
            return {"type": "http.request", "body": json.dumps(STRENGTH).encode(), "more_body": False}

        exchanges = [Exchange(app, "/v1/concentration", headers=headers) for _ in range(3)]
        tasks = [asyncio.ensure_future(one.run(later)) for one in exchanges]
        await asyncio.sleep(0.01)
        going_on.set()
        await asyncio.gather(*tasks)
        return [one.status for one in exchanges]

    unlocked = create_app(settings=Settings(concurrent_per_address=2))
    assert asyncio.run(play(unlocked)) == [200, 200, 429]
    assert asyncio.run(play(unlocked)) == [200, 200, 429]
    locked = create_app(settings=Settings(concurrent_per_address=2, key_hashes=(digest,)))
    assert asyncio.run(play(locked, (b"authorization", b"Bearer " + key.encode()))) == [200, 200, 200]
    assert Settings(public=True).address_concurrent == 64
