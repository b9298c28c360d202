"""Many items keep nobody waiting: counted by turns of the event loop and by answers, never timed."""

import asyncio
import http.client
import json
import socket
import tracemalloc
from collections.abc import Awaitable, Callable, Iterator
from typing import Any, Final

import pytest

from service.calculations.registry import Calculation, calculations
from service.http.app import create_app
from service.http.bulk import CHUNK
from service.http.bulk_items import MOST_ITEMS
from service.http.wire import App, Message, Scope
from tests.asgi import once, scope_of
from tests.running import serve

SPLIT: Final[dict[str, Any]] = {
    "alkalis": [{"alkali": "NaOH", "mass": "138.6 g"}],
    "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
    "total_liquid": {"water_ratio": "2:1"},
}
PATIENCE: Final = 60.0


def body_of(count: int, media: str = "application/json") -> bytes:
    items = [json.dumps(SPLIT | {"alkalis": [{"alkali": "NaOH", "mass": f"{100 + n / 100} g"}]}) for n in range(count)]
    if media == "application/json":
        return f'{{"items": [{",".join(items)}]}}'.encode()
    return "\n".join(items).encode()


async def call(
    app: App,
    scope: Scope,
    body: bytes,
    send: Callable[[Message], Awaitable[None]],
    gone: asyncio.Event | None = None,
) -> None:
    """A call whose caller reads as `send` does, and leaves when `gone` is set."""
    await app(scope, once(body, gone), send)


def counting() -> tuple[App, list[int]]:
    """The service with a split that counts how often it is calculated."""
    split = calculations()["liquid-split"]
    done = [0]

    def calculate(request: Any, notes: Any) -> Any:
        done[0] += 1
        return split.calculate(request, notes)

    counted: Calculation[Any, Any] = Calculation(
        name="liquid-split",
        summary=split.summary,
        description=split.description,
        request=split.request,
        answer=split.answer,
        calculate=calculate,
        examples=(),
    )
    return create_app({"liquid-split": counted}), done


async def nothing(_: Message) -> None:
    """Reads whatever comes at once."""


# Readers


@pytest.mark.parametrize("query", ["", "format=ndjson", "format=csv"])
@pytest.mark.parametrize("packed", [False, True])
def test_no_more_is_calculated_than_a_slow_reader_takes(query: str, packed: bool) -> None:
    async def run() -> None:
        app, done = counting()
        reads, waits = asyncio.Event(), asyncio.Event()
        parts: list[Message] = []

        async def slow(message: Message) -> None:
            parts.append(message)
            if message["type"] == "http.response.body" and not reads.is_set():
                waits.set()
                await reads.wait()

        headers = [(b"accept-encoding", b"gzip")] if packed else []
        task = asyncio.ensure_future(call(app, scope_of("/v1/bulk/liquid-split", query, *headers), body_of(3000), slow))
        await waits.wait()
        so_far = done[0]
        for _ in range(1000):
            await asyncio.sleep(0)
        assert done[0] == so_far  # while nobody reads, nothing is calculated
        assert so_far < 3000 or "csv" in query  # a table begins when all is calculated
        reads.set()
        await task
        assert done[0] == 3000
        sizes = [len(part["body"]) for part in parts[1:]]
        assert max(sizes) < 4 * CHUNK
        assert parts[-1]["more_body"] is False

    asyncio.run(run())


@pytest.mark.parametrize("query", ["", "format=csv"])
def test_what_nobody_waits_for_any_longer_is_not_calculated(query: str) -> None:
    async def run() -> None:
        app, done = counting()
        gone = asyncio.Event()
        task = asyncio.ensure_future(call(app, scope_of("/v1/bulk/liquid-split", query), body_of(3000), nothing, gone))
        while done[0] < 100:
            await asyncio.sleep(0)
        gone.set()
        await task
        assert 100 <= done[0] < 1500

    asyncio.run(run())


@pytest.mark.parametrize("query", ["", "format=csv"])
def test_others_get_their_turns_while_many_items_are_calculated(query: str) -> None:
    """Each of the others gets through in a few turns, and of several long works one has a slice in a turn."""

    async def run() -> None:
        app, done = counting()
        whole = 2000
        works = [
            asyncio.ensure_future(call(app, scope_of("/v1/bulk/liquid-split", query), body_of(whole), nothing))
            for _ in range(3)
        ]
        single = json.dumps(SPLIT).encode()
        answered, most, before = 0, 0, 0
        while done[0] < 3 * whole:
            turns = 0
            other = asyncio.ensure_future(call(app, scope_of("/v1/liquid-split"), single, nothing))
            while not other.done():
                await asyncio.sleep(0)
                turns += 1
            assert turns < 10
            answered += 1
            most = max(most, done[0] - before)
            before = done[0]
        await asyncio.gather(*works)
        assert answered > 100
        assert most < whole / 4

    asyncio.run(run())


# Memory


@pytest.mark.parametrize(
    ("query", "packed", "counts"),
    [
        ("", False, (1000, 10_000)),
        ("", True, (200, 2000)),
        ("format=ndjson", False, (200, 2000)),
        ("format=csv", False, (200, 2000)),
        ("format=csv", True, (200, 2000)),
    ],
)
def test_memory_grows_with_the_body_and_not_with_the_answer(
    query: str, packed: bool, counts: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ten times the items may take what their requests take, and the rows that are kept; the answer is far more."""
    kept = 1 << 18
    monkeypatch.setattr("service.http.bulk_table.KEPT", kept)
    app = create_app({"liquid-split": calculations()["liquid-split"]})
    headers = [(b"accept-encoding", b"gzip")] if packed else []
    answered = 0

    async def read(message: Message) -> None:
        nonlocal answered
        answered += len(message.get("body", b""))

    def peak(count: int) -> tuple[int, int]:
        nonlocal answered
        answered = 0
        body = body_of(count)
        tracemalloc.start()
        asyncio.run(call(app, scope_of("/v1/bulk/liquid-split", query, *headers), body, read))
        _, most = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        return most, len(body)

    peak(100)  # what is kept of any first call
    (few, few_body), (many, many_body) = map(peak, counts)
    assert packed or answered > 5 * many_body
    assert many - few < 4 * (many_body - few_body) + kept


# A real server


@pytest.fixture
def port() -> Iterator[int]:
    """A server on a port that is free."""
    with serve() as served:
        yield served.port


def test_a_slow_reader_of_ten_thousand_items_blocks_nobody(port: int) -> None:
    body = body_of(MOST_ITEMS)
    slow = socket.socket()
    slow.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
    slow.settimeout(PATIENCE)
    slow.connect(("127.0.0.1", port))
    head = "POST /v1/bulk/liquid-split?format=ndjson HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    slow.sendall(f"{head}Content-Length: {len(body)}\r\nConnection: close\r\n\r\n".encode() + body)
    start = slow.recv(1024)
    assert start.startswith(b"HTTP/1.1 200 ")

    other = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE)
    answered = 0
    for _ in range(200):
        other.request("POST", "/v1/liquid-split", json.dumps(SPLIT), {"content-type": "application/json"})
        answered += json.load(other.getresponse())["added_liquid_mass"]["unit"] == "g"
    other.request("POST", "/v1/bulk/liquid-split", body_of(500), {"content-type": "application/json"})
    assert json.load(other.getresponse())["succeeded"] == 500
    other.close()
    assert answered == 200  # and the slow one has not read on

    parts = [start]
    while part := slow.recv(1 << 16):
        parts.append(part)
    slow.close()
    whole = b"".join(parts)
    assert whole.endswith(b"\r\n0\r\n\r\n")  # the end of a body in chunks
    assert whole.count(b'{"index":') == MOST_ITEMS


def test_a_caller_who_leaves_while_the_answer_comes_harms_nobody(port: int) -> None:
    body = body_of(2000)
    for _ in range(3):
        line = socket.create_connection(("127.0.0.1", port), PATIENCE)
        head = "POST /v1/bulk/liquid-split HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
        line.sendall(f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body)
        assert line.recv(100).startswith(b"HTTP/1.1 200 ")
        line.close()
    other = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE)
    other.request("POST", "/v1/bulk/liquid-split", body_of(3), {"content-type": "application/json"})
    assert json.load(other.getresponse())["succeeded"] == 3
    other.close()
