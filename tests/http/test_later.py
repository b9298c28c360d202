"""What takes long to make and is not always wanted is made once, when it is first asked for, and holds nobody up."""

import asyncio
import threading
import time

import pytest

from service.http.app import create_app
from service.http.beside import Later
from tests.asgi import Caller

PATIENCE = 10.0


def test_nothing_is_made_before_it_is_asked_for_and_then_once() -> None:
    made: list[int] = []

    def make() -> int:
        made.append(1)
        return len(made)

    later = Later(make)
    assert made == []

    async def several() -> list[int]:
        return list(await asyncio.gather(*(later.get() for _ in range(5))))

    assert asyncio.run(several()) == [1] * 5
    assert asyncio.run(later.get()) == 1  # on another loop as well
    assert made == [1]


def test_others_are_served_while_it_is_made() -> None:
    going_on = threading.Event()
    later = Later(lambda: going_on.wait(PATIENCE))

    async def both() -> bool:
        asked = asyncio.ensure_future(later.get())
        for _ in range(10):
            await asyncio.sleep(0.001)  # the loop turns
        assert not asked.done()
        going_on.set()
        return await asked

    assert asyncio.run(both())


def test_a_failure_is_told_and_made_good_by_the_next() -> None:
    tries = iter((1, 2))

    def make() -> str:
        if next(tries) == 1:
            raise OSError("no room")
        return "made"

    later = Later(make)
    with pytest.raises(OSError, match="no room"):
        asyncio.run(later.get())
    assert asyncio.run(later.get()) == "made"


def test_all_who_wait_are_told_of_the_same_failure_and_the_next_has_it_made_anew() -> None:
    made: list[int] = []
    going_on = threading.Event()

    def make() -> str:
        made.append(1)
        going_on.wait(PATIENCE)
        if len(made) == 1:
            raise OSError("no room")
        return "made"

    later = Later(make)

    async def several() -> list[str | BaseException]:
        asked = asyncio.gather(*(later.get() for _ in range(8)), return_exceptions=True)
        await asyncio.sleep(0.001)
        going_on.set()
        return await asked

    assert [str(one) for one in asyncio.run(several())] == ["no room"] * 8
    assert made == [1]
    assert asyncio.run(several()) == ["made"] * 8
    assert made == [1, 1]


def test_one_who_is_cut_off_ends_it_for_nobody_else() -> None:
    made: list[int] = []
    going_on = threading.Event()

    def make() -> int:
        made.append(1)
        going_on.wait(PATIENCE)
        return len(made)

    later = Later(make)

    async def both() -> int:
        first, second = (asyncio.ensure_future(later.get()) for _ in range(2))
        await asyncio.sleep(0.001)
        first.cancel()
        with pytest.raises(asyncio.CancelledError):
            await first
        going_on.set()
        return await second

    assert asyncio.run(both()) == 1
    assert made == [1]


def test_what_is_nothing_is_made_once_as_well() -> None:
    made: list[None] = []
    later = Later(lambda: made.append(None))
    for _ in range(2):
        asyncio.run(later.get())
    assert made == [None]


def test_the_contract_is_made_when_it_is_first_read(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[float] = []

    def counted(*_: object) -> bytes:
        asked.append(time.perf_counter())
        return b"{}"

    monkeypatch.setattr("service.http.contract.contract", counted)
    call = Caller(create_app())
    assert call("GET", "/health/ready").status == 200
    assert asked == []
    for _ in range(2):
        assert call("GET", "/openapi.json").body == b"{}"
    assert len(asked) == 1


def test_a_contract_that_cannot_be_made_fails_its_readers_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    def faulty(*_: object) -> bytes:
        raise ValueError("no such schema")

    monkeypatch.setattr("service.http.contract.contract", faulty)
    call = Caller(create_app())
    assert [call("GET", "/openapi.json").status for _ in range(2)] == [500, 500]
    assert call("GET", "/health/ready").status == 200
