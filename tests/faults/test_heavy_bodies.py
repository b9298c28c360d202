"""Bodies that are small to send and made to be dear to read: refused as problems, while others are answered."""

import gzip
import threading
import time
import zlib
from collections.abc import Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import Final

import msgspec
import pytest

from service.calculations.registry import calculations
from tests.faults.processes import BODY, Line, Reply, Running, head, post, running

MIB: Final = 1 << 20
HELD_UP: Final = 1.0
"""Seconds another caller may wait beside the worst body; it is some milliseconds."""
LARGE: Final = 10 * MIB
DECODES: Final = 4
"""How many times as long as one decode of a sound body of 31 MiB takes here and now others may wait beside a large
one: a decode cannot be interrupted. On a quiet machine they wait about as long as one takes."""
MANY: Final = "/v1/bulk/saponification"
NDJSON: Final = "application/x-ndjson"
CSV: Final = "text/csv"
JSON: Final = "application/json"
DEEP: Final = 100_000


@pytest.fixture(scope="module")
def service() -> Iterator[Running]:
    with running(log="off") as found:
        yield found


@cache
def sound_body() -> bytes:
    """Members, nearly as many as a plan may have."""
    return filled("{", '"u{:067d}":1', "}")


def one_decode() -> float:
    """Seconds that decoding a sound body of 31 MiB takes at the moment."""
    body = sound_body()
    start = time.perf_counter()
    msgspec.json.decode(body)
    return time.perf_counter() - start


def ask(service: Running, target: str, body: bytes, media: str = JSON, *more: str) -> Reply:
    """Ask, while another caller asks again and again, who must never wait for long."""
    decode = one_decode() if len(body) > LARGE else 0.0
    waited: list[float] = []
    done = threading.Event()

    def others() -> None:
        while not done.is_set():
            waited.append(service.works())

    other = threading.Thread(target=others)
    other.start()
    began = time.perf_counter()
    try:
        line = Line(service.port, 120)
        line.send(
            post(target, *more, body=body).replace(
                b"Content-Type: application/json", b"Content-Type: " + media.encode()
            )
        )
        reply = line.reply()
        took = time.perf_counter() - began
        line.close()
    finally:
        done.set()
        other.join()
    print(
        f"{target} {media} {len(body)} bytes: {reply.status} after {took * 1000:.0f} ms; "
        f"others waited {max(waited) * 1000:.0f} ms at most"
    )
    if decode:
        decode = max(decode, one_decode())
    assert max(waited) < max(HELD_UP, DECODES * decode)
    return reply


# Packed bodies that unpack to far more


@lru_cache
def packed_zeros(size: int, what: bytes = b" ") -> bytes:
    packing = zlib.compressobj(9, wbits=31)
    part = packing.compress(what * MIB)
    return part + b"".join(packing.compress(what * MIB) for _ in range(size - 1)) + packing.flush()


@pytest.mark.parametrize("media", [JSON, NDJSON, CSV])
@pytest.mark.parametrize("what", [b" ", b"\n", b"[", b"a"])
def test_a_body_that_unpacks_to_more_than_is_taken_is_not_unpacked(service: Running, media: str, what: bytes) -> None:
    service.works()
    before = service.resident()
    bomb = packed_zeros(512, what)
    assert len(bomb) < MIB
    reply = ask(service, MANY, bomb, media, "Content-Encoding: gzip")
    assert (reply.status, reply.kind()) == (413, "body-too-large")
    assert service.resident() - before < 256 * MIB


@pytest.mark.parametrize(
    "what", [b" ", b"\n", b"[", b'"', b"a", b"{", b",", b"0", b"\x00", b"\xff", b"\r", b";", b"[]\n"]
)
@pytest.mark.parametrize("media", [JSON, NDJSON, CSV])
def test_a_body_that_unpacks_to_just_as_much_as_is_taken_is_read(service: Running, media: str, what: bytes) -> None:
    body = gzip.compress((what * (32 * MIB // len(what)))[: 32 * MIB])
    reply = ask(service, MANY, body, media, "Content-Encoding: gzip")
    assert reply.status in {200, 400}, reply.status
    if reply.status == 400:
        assert reply.kind() == "invalid-request"


def test_packed_twice_is_unpacked_once(service: Running) -> None:
    reply = ask(service, MANY, gzip.compress(packed_zeros(100)), NDJSON, "Content-Encoding: gzip")
    assert reply.status in {200, 400}
    line = service.line()
    line.send(head("POST", MANY, "Content-Length: 3", "Content-Encoding: gzip, gzip") + b"abc")
    assert line.reply().kind() == "unsupported-media-type"
    line.close()


@pytest.mark.parametrize("inside", [b"", b" "])
def test_a_body_of_very_many_packed_parts_is_refused(service: Running, inside: bytes) -> None:
    """Twenty bytes each, they would take a third of a second a megabyte."""
    part = gzip.compress(inside)
    reply = ask(service, MANY, part * (8 * MIB // len(part)), NDJSON, "Content-Encoding: gzip")
    assert (reply.kind(), b"parts" in reply.body) == ("invalid-request", True)


def test_a_body_of_many_packed_parts_is_read(service: Running) -> None:
    reply = ask(service, MANY, gzip.compress(BODY + b"\n") * 3000, NDJSON, "Content-Encoding: gzip")
    assert (reply.status, reply.body.count(b'"alkali":"NaOH"')) == (200, 3000)


def test_a_packed_body_with_an_endless_head_is_refused(service: Running) -> None:
    """RFC 1952, 2.3: the name of the file may be as long as it likes."""
    reply = ask(service, MANY, b"\x1f\x8b\x08\x08" + b"\0" * 6 + b"a" * 8 * MIB, NDJSON, "Content-Encoding: gzip")
    assert reply.kind() == "invalid-request"


# Bodies nested deeply

NESTS: Final = {
    "brackets": b"[" * DEEP + b"]" * DEEP,
    "brackets that stay open": b"[" * DEEP,
    "objects": b'{"a":' * DEEP + b"1" + b"}" * DEEP,
    "objects that stay open": b'{"a":' * DEEP,
    "both": b'[{"fats":' * (DEEP // 2) + b"1" + b"}]" * (DEEP // 2),
    "brackets that close": b"]" * DEEP,
}
PLACES: Final = {
    "the whole": b"%b",
    "a member that is unknown": b'{"fats":[{"fat":"olive-oil","mass":"1 kg"}],"other":%b}',
    "a list": b'{"fats":%b}',
    "an item of a list": b'{"fats":[{"fat":"olive-oil","mass":"1 kg"},%b]}',
    "a quantity": b'{"fats":[{"fat":"olive-oil","mass":%b}]}',
    "a part of a quantity": b'{"fats":[{"fat":"olive-oil","mass":{"value":%b,"unit":"g"}}]}',
    "an identifier": b'{"fats":[{"fat":%b,"mass":"1 kg"}]}',
    "a text": b'{"fats":[{"fat":"olive-oil","mass":"1 kg"}],"reference":%b}',
    "after the end": b'{"fats":[{"fat":"olive-oil","mass":"1 kg"}]}%b',
}


@pytest.mark.parametrize("nest", NESTS)
@pytest.mark.parametrize("place", PLACES)
def test_a_request_nested_deeply_is_refused(service: Running, place: str, nest: str) -> None:
    reply = ask(service, "/v1/saponification", PLACES[place] % NESTS[nest])
    assert (reply.status, reply.kind()) == (400, "invalid-request")
    assert b'"code":"' in reply.body


@pytest.mark.parametrize("name", sorted(calculations()))
def test_every_calculation_refuses_what_is_nested_deeply(service: Running, name: str) -> None:
    for body in (NESTS["both"], b'{"reference":' + NESTS["brackets"] + b"}"):
        assert ask(service, f"/v1/{name}", body).kind() == "invalid-request"


@pytest.mark.parametrize("nest", NESTS)
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("media", [JSON, NDJSON])
def test_one_of_many_that_is_nested_deeply_is_refused_alone(
    service: Running, media: str, place: str, nest: str
) -> None:
    bad = PLACES[place] % NESTS[nest]
    body = b"\n".join([BODY, bad, BODY]) if media == NDJSON else b'{"items":[' + b",".join([BODY, bad, BODY]) + b"]}"
    reply = ask(service, MANY, body, media)
    assert reply.status == (200 if media == NDJSON else reply.status), reply.body[:300]
    if reply.status == 200:
        assert reply.body.count(b'"alkali":"NaOH"') == 2
        assert b"invalid-request" in reply.body
    else:
        assert reply.kind() == "invalid-request"


@pytest.mark.parametrize("nest", NESTS)
def test_a_table_that_is_nested_deeply_is_refused(service: Running, nest: str) -> None:
    cell = b'"' + NESTS[nest].replace(b'"', b'""') + b'"'
    for body in (
        b"fats.0.fat,fats.0.mass [kg]\nolive-oil,1\nolive-oil," + cell + b"\n",
        b"fats.0.fat,fats.0.mass [kg],reference\nolive-oil,1," + cell + b"\n",
        b"fats.0.fat,fats.0.mass [kg]," + cell + b"\nolive-oil,1,1\n",
        b"fats.0.fat,fats.0.mass [kg],fats" + b".0" * DEEP + b"\nolive-oil,1,1\n",
        b"fats.0.fat,fats.0.mass [kg],fats" + b"[0]" * DEEP + b"\nolive-oil,1,1\n",
        b"fats.0.fat,fats.0.mass [kg]," + b".".join([b"fats"] * DEEP) + b"\nolive-oil,1,1\n",
        b"fats.0.fat,fats.0.mass [kg],fats." + b"9" * DEEP + b".mass\nolive-oil,1,1\n",
        cell + b"\n" + cell + b"\n",
    ):
        reply = ask(service, MANY, body, CSV)
        assert reply.status in {200, 400}
        if reply.status == 400:
            assert reply.kind() == "invalid-request"


def test_an_address_nested_deeply_is_refused(service: Running) -> None:
    line = service.line()
    for query in (b"fat=" + b"[" * 7000, b"fat" + b"[0]" * 2000 + b"=1", b"digits=" + b"{" * 7000):
        for path in (b"/v1/values/alkali-for-a-fat?", b"/v1/saponification?"):
            line.send(b"POST " + path + query + b" HTTP/1.1\r\nHost: a\r\nContent-Length: 0\r\n\r\n")
            assert line.reply().kind() in {
                "invalid-request",
                "not-found",
                "method-not-allowed",
                "unsupported-media-type",
            }
    line.close()


# Very many members


def unknown(count: int, name: str = "m{:06d}") -> bytes:
    return b"{" + ",".join(f'"{name.format(number)}":1' for number in range(count)).encode() + b"}"


@pytest.mark.parametrize("name", ["m{:06d}", "fats{:06d}", "{:06d}" + "x" * 80, "\\u00e9{:06d}"])
def test_time_for_members_that_are_unknown_grows_with_their_number_alone(service: Running, name: str) -> None:
    """Names hash to places of a table. Python draws a secret for that at each start, so that nobody can send names that
    fall on one place; whatever is sent, twice as many names must not take four times as long."""
    most = MIB // (len(name.format(0)) + 6)
    times = []
    for count in (most // 4, most):
        body = unknown(count, name)
        assert len(body) <= MIB
        tries = []
        for _ in range(5):
            line = service.line()
            start = time.perf_counter()
            line.send(post(body=body))
            reply = line.reply()
            tries.append(time.perf_counter() - start)
            line.close()
            assert reply.kind() == "invalid-request"
            assert b"unknown-member" in reply.body
        times.append(min(tries))
    print(f"{name}: {times[0]:.3f} s, four times as many {times[1]:.3f} s")
    assert times[1] < 10 * times[0]  # four times where it grows straight, sixteen where names fall on one place


def test_a_member_again_and_again_is_refused_soon(service: Running) -> None:
    again = b"{" + b",".join([b'"fats":[]'] * 100_000) + b"}"
    assert ask(service, "/v1/saponification", again).kind() == "invalid-request"
    nested = b'{"fats":[' + b",".join([b'{"fat":1,"fat":2}'] * 50_000) + b"]}"
    assert ask(service, "/v1/saponification", nested).kind() == "invalid-request"


def test_the_service_starts_with_a_secret_of_its_own_for_hashing(service: Running) -> None:
    """Nothing in its environment may take the secret away."""
    environment = Path(f"/proc/{service.process.pid}/environ").read_bytes().split(b"\0")
    assert not [one for one in environment if one.startswith(b"PYTHONHASHSEED=") and one != b"PYTHONHASHSEED=random"]
    for file in Path("deploy").rglob("*"):
        if file.is_file() and file.suffix != ".pyc":
            assert b"PYTHONHASHSEED" not in file.read_bytes(), file


@pytest.mark.parametrize(
    "body",
    [
        b'{"fats":[' + b",".join([b'{"fat":"olive-oil","mass":"1 kg"}'] * 30_000) + b"]}",
        b'{"fats":[' + b",".join([b"[]"] * 300_000) + b"]}",
        b'{"fats":' + b"9" * 1_000_000 + b"}",
        b'{"fats":1' + b"0" * 1_000_000 + b"e-999999}",
        b'{"fats":1e' + b"9" * 1_000_000 + b"}",
        b'{"fats":0.' + b"1" * 1_000_000 + b"}",
        b'{"fats":"' + b"\\u0000" * 170_000 + b'"}',
        b'{"fats":"' + b"\\" * 1_000_000 + b'"}',
        b'{"fats":"' + b"\\ud800" * 170_000 + b'"}',
        b"1," * 500_000,
        b"'" * 1_000_000,
        b" " * 1_000_000 + b"x",
        b"\n" * 1_000_000 + b"{",
        b"/" * 1_000_000,
        b"\xff" * 1_000_000,
        b"\xf0\x9f\xa7\xbc" * 250_000,
    ],
    ids=lambda body: repr(body[:14]),
)
def test_large_nonsense_is_refused_while_others_are_answered(service: Running, body: bytes) -> None:
    assert ask(service, "/v1/saponification", body).kind() == "invalid-request"


def filled(before: str, unit: str, after: str) -> bytes:
    """A body of nearly as many bytes as a plan may have; `{}` in the unit is its number."""
    count = 31 * MIB // (len(unit.format(0)) + 1)
    return (before + ",".join(unit.format(number) for number in range(count)) + after).encode()


@pytest.mark.parametrize(
    ("before", "unit", "after"),
    [
        ('{"materials":[{"mass":{', '"v{:07d}":1', "}}]}"),
        ('{"orders":[', "9" * 4290, "]}"),
        ("{", '"a":1', "}"),
        ("{", '"u{:07d}":1', "}"),
        ("{", '"u{:067d}":1', "}"),
        ('{"orders":[', "1", "]}"),
        ('{"orders":[', "[]", "]}"),
        ('{"recipes":{', '"r{:07d}":"x"', "}}"),
    ],
    ids=["members of a mass", "digits", "again", "unknown", "long names", "numbers", "lists", "recipes"],
)
@pytest.mark.parametrize("many", [False, True], ids=["alone", "among many"])
def test_a_plan_full_of_something_keeps_nobody_waiting(
    service: Running, before: str, unit: str, after: str, many: bool
) -> None:
    body = filled(before, unit, after)
    if many:
        body = b'{"items":[' + body + b"]}"
    reply = ask(service, "/v1/bulk/production-plan" if many else "/v1/production-plan", body)
    assert reply.status in ({200, 400} if many else {400})
    assert service.resident() < 1 << 30
