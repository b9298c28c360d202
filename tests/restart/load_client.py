"""Many callers at once, each of whom compares every answer with what belongs to the request, byte for byte.

Each caller has an address and a connection of its own, and one request at a time on it. A request counts as lost when
the connection ends before its answer has come, and as wrong when the answer is another than the one calculated without
any server: so an answer that reaches somebody else, or a number that is not right, does not go unseen.
"""

import asyncio
import json
from collections.abc import Callable, Sequence
from itertools import count
from typing import Final, NamedTuple

from service.calculations.registry import calculations
from service.calculations.shared.rendering import renderer
from tests.restart.exchanges import head
from tests.restart.running_service import HOST

LENGTH: Final = b"content-length: "


class Exchange(NamedTuple):
    """A request as it goes over the line, and the body of its answer."""

    request: bytes
    answer: bytes


def exchanges(number: int) -> list[Exchange]:
    """Different requests, each with a reference of its own, and their answers, calculated in this process."""
    made, written = [], renderer()
    for i in range(number):
        name, body = _KINDS[i % len(_KINDS)](i)
        raw = json.dumps({**body, "reference": f"order {i}"}).encode()
        answer = calculations()[name].run(raw)
        made.append(Exchange(head("POST", f"/v1/{name}", (), len(raw)) + raw, written(answer)))
    assert len({one.answer for one in made}) == number
    return made


def _split(i: int) -> tuple[str, dict[str, object]]:
    return "liquid-split", {
        "alkalis": [{"alkali": "NaOH", "mass": f"{100 + i} g"}],
        "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
        "total_liquid": {"water_ratio": "2:1"},
    }


def _soap(i: int) -> tuple[str, dict[str, object]]:
    return "saponification", {"fats": [{"fat": "olive-oil", "mass": f"{500 + i} g"}], "alkalis": [{"alkali": "NaOH"}]}


_KINDS: Final[tuple[Callable[[int], tuple[str, dict[str, object]]], ...]] = (_split, _soap)


class Tally:
    """What came of all requests.

    Attributes:
        right: answered as they should be.
        lost: not answered, with what happened.
        wrong: answered otherwise, with the answers' beginning.
    """

    def __init__(self) -> None:
        self.right = 0
        self.lost: list[str] = []
        self.wrong: list[bytes] = []

    @property
    def total(self) -> int:
        """All requests."""
        return self.right + len(self.lost) + len(self.wrong)


class _Caller(asyncio.Protocol):
    """A connection that asks on and on."""

    def __init__(self, ring: Callable[[], Exchange | None], tally: Tally, gone: "asyncio.Future[None]") -> None:
        self._ring, self._tally, self._gone = ring, tally, gone
        self._data = b""
        self._asked: Exchange | None = None
        self._transport: asyncio.Transport

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        assert isinstance(transport, asyncio.Transport)
        self._transport = transport
        self._ask()

    def _ask(self) -> None:
        self._asked = self._ring()
        if self._asked is None:
            self._transport.close()
        else:
            self._transport.write(self._asked.request)

    def data_received(self, data: bytes) -> None:
        self._data += data
        end = self._data.find(b"\r\n\r\n")
        if end < 0:
            return
        top = self._data[:end].lower()
        at = top.index(LENGTH) + len(LENGTH)
        size = int(top[at:].partition(b"\r\n")[0])
        if len(self._data) < end + 4 + size:
            return
        assert self._asked is not None
        if self._data.startswith(b"HTTP/1.1 200 ") and self._data[end + 4 :] == self._asked.answer:
            self._tally.right += 1
        else:
            self._tally.wrong.append(self._data[:600])
        self._data, self._asked = b"", None
        if b"\r\nconnection: close" in top:
            self._transport.close()
        else:
            self._ask()

    def connection_lost(self, error: Exception | None) -> None:
        if self._asked is not None:
            self._tally.lost.append(f"{error!r} after {self._data[:100]!r}")
        if not self._gone.done():
            self._gone.set_result(None)


async def load(port: int, callers: int, ring: Sequence[Exchange], tally: Tally, is_enough: Callable[[], bool]) -> None:
    """Ask until it is enough.

    Args:
        port: whom to ask.
        callers: how many, from 127.0.1.1 on.
        ring: what they ask in turn.
        tally: counts what comes of it.
        is_enough: whether no more is to be asked.
    """
    loop = asyncio.get_running_loop()
    turns = count()

    def following() -> Exchange | None:
        return None if is_enough() else ring[next(turns) % len(ring)]

    async def caller(number: int) -> None:
        address = f"127.0.{1 + number // 250}.{1 + number % 250}"
        while not is_enough():
            gone = loop.create_future()
            try:
                await loop.create_connection(
                    lambda: _Caller(following, tally, gone),  # noqa: B023 - made at once
                    HOST,
                    port,
                    local_addr=(address, 0),
                )
            except OSError as error:
                tally.lost.append(f"no connection: {error!r}")
                await asyncio.sleep(0.1)
                continue
            await gone

    await asyncio.gather(*map(caller, range(callers)))
