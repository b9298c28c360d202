"""Bodies made to keep the service busy: the time they take and the size of what is told of them have bounds."""

import json
import time
from collections.abc import Callable
from typing import Final

import pytest

from service.calculations.registry import calculations
from service.calculations.shared.faults import MOST_FAULTS, Refusal
from service.http.problems import refused

MEBIBYTE: Final = 1 << 20
FATS: Final = '"fats":[{"fat":"olive-oil","mass":"1 kg"}]'
OWN: Final = '"name":"x","mass":"1 g","saponification_value":"190 mg/g"'


def filled(part: Callable[[int], str], head: str = "{", tail: str = "}", size: int = MEBIBYTE) -> bytes:
    """A body of parts, as many as a mebibyte holds."""
    parts: list[str] = []
    length = len(head) + len(tail)
    while True:
        one = part(len(parts))
        length += len(one) + 1
        if length > size:
            return (head + ",".join(parts) + tail).encode()
        parts.append(one)


def acids(line: int) -> str:
    """A fat with as many unknown fatty acids as one may have, each with a long name."""
    named = ",".join(f'"{"C" * 60}{line}.{i}":"1 %"' for i in range(40))
    return f'{{{OWN},"fatty_acids":{{{named}}}}}'


WORST: Final[dict[str, bytes]] = {
    "unknown members": filled('"m{}":1'.format),
    "unknown members like a known one": filled('"superfat{}":1'.format),
    "long unknown members": filled(lambda i: f'"{"superfat" * 9}{i}":1'),
    "one member again and again": filled(lambda _: '"a":1'),
    "a known member again and again": filled(lambda _: '"superfat":"5 %"', "{" + FATS + ","),
    "objects with members twice": filled(lambda _: '{"a":1,"a":1}', '{"fats":[', "]}"),
    "a member twice beside wide nesting": filled(lambda _: "[" * 200 + "]" * 200, '{"a":1,"a":1,"x":[', "]}"),
    "deep nesting": filled(lambda _: "[" * 900 + "]" * 900, '{"x":[', "]}"),
    "open brackets": b"[" * 100_000,
    "open objects": b'{"a":' * 200_000,
    "empty lists for fats": filled(lambda _: "[]", '{"fats":[', "]}"),
    "ten thousand fats": ('{"fats":[' + ",".join(['{"fat":"olive-oil","mass":"1 kg"}'] * 10_000) + "]}").encode(),
    "wrong fats": filled(lambda _: '{"fat":1,"mass":1}', '{"fats":[', "]}"),
    "a long identifier": f'{{"fats":[{{"fat":"{"a" * (MEBIBYTE - 60)}","mass":"1 kg"}}]}}'.encode(),
    "a long quantity": f'{{"fats":[{{"fat":"olive-oil","mass":"{"1" * (MEBIBYTE - 60)}"}}]}}'.encode(),
    "a long unit": f'{{"fats":[{{"fat":"x","mass":{{"value":1,"unit":"{"k" * (MEBIBYTE - 90)}"}}}}]}}'.encode(),
    "a long word": f'{{{FATS},"alkalis":[{{"alkali":"{"N" * (MEBIBYTE - 90)}"}}]}}'.encode(),
    "a long member": f'{{"{"superfat" * (MEBIBYTE // 8 - 8)}":1}}'.encode(),
    "a long number": b'{"fats":[{"fat":"x","mass":' + b"9" * (MEBIBYTE - 60) + b"}]}",
    "long numbers": filled(lambda _: '{"fat":"olive-oil","mass":' + "9" * 4290 + "}", '{"fats":[', "]}"),
    "a long fraction": b'{"superfat":0.' + b"9" * (MEBIBYTE - 60) + b"}",
    "a quantity of many members": filled('"v{}":1'.format, '{"fats":[{"fat":"x","mass":{', "}}]}"),
    "many fatty acids": filled('"C{}":"1 %"'.format, '{"fats":[{' + OWN + ',"fatty_acids":{', "}}]}"),
    "unknown fatty acids in all fats": filled(acids, '{"fats":[', "]}", 550_000),
    "unknown fats": filled(
        lambda i: f'{{"fat":"a b c d e f g h i j k l m n {i}","mass":"1 kg"}}', '{"fats":[', "]}", 10_000
    ),
    "escaped quotes": ('{"reference":"' + "\\u0022" * (MEBIBYTE // 6 - 9) + '"}').encode(),
    "escaped colons": ('{"reference":"' + "\\u003a" * (MEBIBYTE // 6 - 9) + '"}').encode(),
    "a text without end": b'{"reference":"' + b"a" * (MEBIBYTE - 20),
    "no text at the end": b'{"reference":"' + b"a" * (MEBIBYTE - 20) + b"\xff",
    "a comma at the end": b'{"reference":"' + b"a" * (MEBIBYTE - 30) + b'",}',
    "numbers with commas": b'{"a":' + b"1," * 500_000,
    "digits": b"1" * MEBIBYTE,
    "large numbers": filled(lambda _: "1e999", "[", "]"),
    "large numbers of many digits": filled(lambda _: "9" * 400, "[", "]"),
    "brackets in a text": b'{"reference":"' + b"[" * (MEBIBYTE - 20) + b'"}',
    "colons": b'{"reference":"' + b":" * (MEBIBYTE - 20) + b'"}',
    "blanks": b" " * MEBIBYTE,
    "zeros": bytes(MEBIBYTE),
}
"""Bodies of a mebibyte, the most that a request may hold, or somewhat less where a list has an end before."""


def fastest(body: bytes, tries: int = 3) -> tuple[float, Refusal]:
    """The refusal of a body, and the least time it took of the processor, which may have other things to do."""
    best = 1e9
    for _ in range(tries):
        start = time.process_time()
        with pytest.raises(Refusal) as found:
            calculations()["saponification"].run(body)
        best = min(best, time.process_time() - start)
    return best, found.value


@pytest.mark.parametrize("name", WORST)
def test_no_body_keeps_the_service_busy_or_makes_a_long_answer(name: str) -> None:
    took, refusal = fastest(WORST[name])
    assert took < 0.5
    assert len(refusal.faults) <= MOST_FAULTS
    assert len(refused(refusal).document("/v1/saponification")) < 64 * 1024


def test_faults_beyond_the_first_hundred_are_counted() -> None:
    request = {"fats": [{"fat": "olive-oil", "mass": 1} for _ in range(150)], **{f"m{i}": 1 for i in range(70)}}
    refusal = fastest(json.dumps(request).encode(), 1)[1]
    assert (len(refusal.faults), refusal.count) == (100, 220)
    document = json.loads(refused(refusal).document("/"))
    assert document["detail"] == "The request has 220 faults: the first 100 are in errors."
    assert len(document["errors"]) == 100


def test_faults_of_chemistry_beyond_the_first_hundred_are_counted() -> None:
    request = {"fats": [{"fat": f"nothing-{i}", "mass": "1 kg"} for i in range(150)]}
    refusal = fastest(json.dumps(request).encode(), 1)[1]
    assert (refusal.status, len(refusal.faults), refusal.count) == (422, 100, 150)


@pytest.mark.parametrize(
    "reference",
    [
        '"\\"\\u003a"',
        '"\\"\\u003A"',
        '"\\"\\u0020:"',
        '"\\u0022:"',
        '"\\u0022\\u003a"',
        '"\\":"',
        '"\\" :"',
        '":"',
    ],
)
@pytest.mark.parametrize("twice", ['"superfat":"5 %","superfat":"0 %"', '"superfat":"0 %","\\u0073uperfat":"0 %"'])
def test_no_text_hides_a_member_that_is_given_twice(reference: str, twice: str) -> None:
    """Which superfat is meant, nobody can tell: taking one in silence would be a wrong number."""
    body = f'{{{FATS},{twice},"reference":{reference}}}'.encode()
    refusal = fastest(body, 1)[1]
    assert [(one.pointer, one.code) for one in refusal.faults] == [("/superfat", "repeated-member")]


def test_members_given_twice_are_told_wherever_they_stand() -> None:
    body = b'{"fats":[{"fat":"a","fat":"b","mass":{"value":1,"value":2,"unit":"g"}}],"x":{"y~/":{"z":1,"z":1}}}'
    refusal = fastest(body, 1)[1]
    told = [one.pointer for one in refusal.faults if one.code == "repeated-member"]
    assert told == ["/fats/0/fat", "/fats/0/mass/value", "/x/y~0~1/z"]
