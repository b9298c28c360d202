"""Visits of callers, good and bad, as a service that is open to many has them."""

import gzip
import random
import socket
from collections.abc import Callable
from pathlib import Path
from typing import Final

from tests.faults.processes import BODY, Line, head, post

EXAMPLES: Final = [
    (f"/v1/{file.parent.relative_to('openapi/examples')}", file.read_bytes())
    for file in sorted(Path("openapi/examples").rglob("*.request.json"))
    if "bulk" not in file.parts
]
MANY: Final = "/v1/bulk/saponification"
DRAWN: Final = ("image/svg+xml", "text/html")
PAGES: Final = ("/openapi.json", "/docs", "/v1/fats", "/metrics", "/words", "/problems", "/health/ready")
RESET: Final = b"\1\0\0\0\0\0\0\0"
"""SO_LINGER of no time: closing is a reset (socket(7))."""

Visit = Callable[[Line, random.Random], None]


def body_of(chance: random.Random) -> bytes:
    """A request that nobody made before."""
    return BODY.replace(b"1 kg", f"{chance.uniform(0.1, 90):.6f} kg".encode())


def expect(line: Line, *statuses: int) -> None:
    """Take an answer of one of these."""
    reply = line.reply()
    assert reply.status in statuses, reply


def calculates(line: Line, chance: random.Random) -> None:
    """Asks for every calculation by and by, and for what nobody asked before."""
    for _ in range(20):
        path, body = chance.choice(EXAMPLES)
        line.send(post(f"{path}?explain=true", body=body))
        expect(line, 200)
        line.send(post(body=body_of(chance)))
        expect(line, 200)


def asks_for_many(line: Line, chance: random.Random) -> None:
    """Sends a line each."""
    asked = post(MANY, body=b"\n".join([body_of(chance)] * 300))
    line.send(asked.replace(b"application/json", b"application/x-ndjson"))
    expect(line, 200)


def sends_a_table(line: Line, chance: random.Random) -> None:
    """Packed both ways."""
    rows = b"".join(b"olive-oil,%f\n" % chance.uniform(0.1, 90) for _ in range(300))
    packed = gzip.compress(b"fats.0.fat,fats.0.mass [kg]\n" + rows)
    asked = post(MANY, "Content-Encoding: gzip", "Accept-Encoding: gzip", body=packed)
    line.send(asked.replace(b"application/json", b"text/csv"))
    expect(line, 200)


def wants_pictures(line: Line, chance: random.Random) -> None:
    """Of a calculation that has some, or of one that has none."""
    path, body = chance.choice(EXAMPLES)
    line.send(post(path, f"Accept: {chance.choice(DRAWN)}", body=body))
    expect(line, 200, 406)


def reads(line: Line, _: random.Random) -> None:
    """All pages."""
    for page in PAGES:
        line.send(head("GET", page))
        expect(line, 200)


def sends_nonsense(line: Line, chance: random.Random) -> None:
    """Bytes, and members that nobody knows."""
    line.send(post(body=chance.randbytes(5000)))
    expect(line, 400)
    names = b'":1,"'.join(b"%d" % chance.randrange(1 << 40) for _ in range(3000))
    line.send(post(body=b'{"' + names + b'":1}'))
    expect(line, 400)


def speaks_no_http(line: Line, chance: random.Random) -> None:
    """After a good request."""
    line.send(post(body=body_of(chance)) + b"\0" + chance.randbytes(200) + b"\r\n\r\n")
    expect(line, 200)
    expect(line, 400)


def stops_in_the_middle(line: Line, chance: random.Random) -> None:
    """Of its request."""
    line.send(post(MANY, body=b"\n".join([body_of(chance)] * 900))[: chance.randrange(40_000)])


def leaves_unread(line: Line, chance: random.Random) -> None:
    """What it asked for."""
    asked = post(MANY, body=b"\n".join([body_of(chance)] * 900))
    line.send(asked.replace(b"application/json", b"application/x-ndjson"))
    if chance.random() < 0.5:
        line.socket.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, RESET)


def sends_a_large_head(line: Line, chance: random.Random) -> None:
    """Of a size that may be too large, for a page that is none."""
    line.send(head("GET", f"/{chance.randrange(1 << 40)}", "X-A: " + "a" * chance.randrange(30_000)))
    expect(line, 404, 431)


def sends_a_bomb(line: Line, _: random.Random) -> None:
    """A body that unpacks to more than is taken."""
    line.send(post(MANY, "Content-Encoding: gzip", body=_BOMB))
    expect(line, 413)


_BOMB: Final = gzip.compress(b" " * (40 << 20))
VISITS: Final[tuple[Visit, ...]] = (
    *(calculates, calculates, calculates, asks_for_many, sends_a_table, wants_pictures, reads, sends_nonsense),
    *(speaks_no_http, stops_in_the_middle, leaves_unread, sends_a_large_head, sends_a_bomb),
)
