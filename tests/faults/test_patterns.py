"""No text, however it is made, keeps a pattern busy for longer than its length explains.

Every pattern that a module of the service holds is tried with thousands of texts made of what it looks for: one or two
of its characters again and again, after a beginning that fits and before an end that does not. Time must grow with the
length, not with its square: four times the length must not take more than eight times as long.
"""

import contextlib
import importlib
import re
import string
import time
from collections.abc import Callable, Iterator
from functools import lru_cache
from itertools import chain
from pathlib import Path
from typing import Any, Final

import pytest

from service.calculations.shared.faults import Faulty
from service.calculations.shared.reading import Given

SHORT: Final = (*range(16, 64, 4), 128, 256, 512)
"""Lengths that are tried first: time that doubles with each character is found here, while it is still short."""
SOON: Final = 0.1
"""Seconds that none of them may take."""
LENGTH: Final = 2000
FOUR_TIMES: Final = 4 * LENGTH
NOISE: Final = 0.004
"""Seconds below which the clock, and whatever else runs here, tell more than the pattern does."""
GENERIC: Final = (" ", "1", "a", ".", ",", "\\", '"', "[", "-", "0.", "\n")

BOUNDED: Final = {
    "service.calculations.shared.clock:_CLOCK": 60,
    "service.calculations.shared.loose_units:_INCHES": 60,
    "service.calculations.shared.loose_units:NUMBER_AND_REST": 60,
    "service.calculations.shared.misread:NUMBER_AND_REST": 60,
}
"""Patterns whose time grows with the square, and the characters of the longest text that is shown to them: see the last
test."""

USES: Final = ("fullmatch", "match", "search", "finditer", "sub", "findall", "split")


@lru_cache
def patterns() -> dict[str, re.Pattern[Any]]:
    """Every pattern of the service by its module and name, those of the contract's texts too."""
    found: dict[str, re.Pattern[Any]] = {}
    for file in sorted(Path("service").rglob("*.py")):
        if file.stem.startswith("__"):
            continue
        module = ".".join(file.with_suffix("").parts)
        held = vars(importlib.import_module(module))
        for name, value in held.items():
            if isinstance(value, re.Pattern):
                found.setdefault(f"{module}:{name}", value)
            elif isinstance(value, tuple | list):
                for place, one in enumerate(value):
                    parts = one if isinstance(one, tuple) else (one,)
                    for part in parts:
                        if isinstance(part, re.Pattern):
                            found[f"{module}:{name}[{place}]"] = part
    for source in sources():
        for written in re.findall(r"""pattern=r?"(\^[^"\n]*)\"""", source):
            found[f"contract:{written}"] = re.compile(written)
    return found


@lru_cache
def sources() -> tuple[str, ...]:
    return tuple(file.read_text(encoding="utf-8") for file in Path("service").rglob("*.py"))


def uses(name: str) -> set[str]:
    """How the service uses a pattern: a private one its own module, else any."""
    module, _, bare = name.partition(":")
    bare = re.sub(r"\[\d+\]$", "", bare)
    within = [Path(module.replace(".", "/") + ".py").read_text(encoding="utf-8")] if bare[0] == "_" else sources()
    found = {way for way in USES if any(re.search(rf"\b{re.escape(bare)}\.{way}\(", source) for source in within)}
    return found or {"match", "search"}


def tokens(pattern: str) -> list[str]:
    """What a pattern may look for: its literal characters, and one of each class."""
    literal = [one for one in dict.fromkeys(pattern) if one in string.printable and one not in "^$()|?*+{}"]
    return list(dict.fromkeys([*GENERIC, *literal]))[:26]


def beginnings(pattern: str) -> list[str]:
    words = re.findall(r"[A-Za-z]{2,}", pattern)[:2]
    return ["", "1 ", "1 a", '{"', *words]


def texts(pattern: str, length: int) -> Iterator[str]:
    some = tokens(pattern)
    for begin in beginnings(pattern):
        for one in some:
            for other in ("", *(some if begin == "" else some[:6])):
                pump = one + other
                for end in ("", "\0"):
                    yield begin + pump * (length // len(pump)) + end


def worst(
    try_: Callable[[Any], object], make: Callable[[int], Iterator[Any]], length: int, limit: float = 1.0
) -> list[tuple[float, int]]:
    """The slowest texts of a length: time [s], and place; none may take longer than a limit [s]."""
    found = []
    for place, text in enumerate(make(length)):
        start = time.perf_counter()
        try_(text)
        taken = time.perf_counter() - start
        assert taken < limit, f"{taken:.2f} s for {length} characters: {text[:60]!r}"
        found.append((taken, place))
    return sorted(found, reverse=True)[:4]


def least(try_: Callable[[Any], object], text: Any) -> float:
    """Time of the quickest of three tries [s]."""
    taken = []
    for _ in range(3):
        start = time.perf_counter()
        try_(text)
        taken.append(time.perf_counter() - start)
    return min(taken)


def grows_with_length(try_: Callable[[Any], object], make: Callable[[int], Iterator[Any]], limit: int | None) -> None:
    for length in SHORT:
        worst(try_, make, length, SOON)
    if limit is not None:
        slowest = worst(try_, make, limit)[0][0]
        assert slowest < 0.1
        return
    places = {place for _, place in worst(try_, make, LENGTH)}
    short = {place: text for place, text in enumerate(make(LENGTH)) if place in places}
    long = {place: text for place, text in enumerate(make(FOUR_TIMES)) if place in places}
    for place in places:
        before, after = least(try_, short[place]), least(try_, long[place])
        assert after < max(NOISE, 8 * before), f"{after / before:.1f} times, {after:.4f} s: {short[place][:40]!r}"


@pytest.mark.parametrize("name", sorted(patterns()))
def test_time_of_every_pattern_grows_with_the_length_of_a_text_alone(name: str) -> None:
    pattern = patterns()[name]
    binary = isinstance(pattern.pattern, bytes)
    written = pattern.pattern.decode("latin-1") if binary else pattern.pattern

    def make(length: int) -> Iterator[Any]:
        return (text.encode() if binary else text for text in texts(written, length))

    for way in sorted(uses(name)):
        call = getattr(pattern, way)
        replacement: Any = b"" if binary else ""

        def try_(text: Any, call: Any = call, way: str = way, replacement: Any = replacement) -> object:
            if way == "sub":
                return call(replacement, text)
            return sum(1 for _ in call(text)) if way == "finditer" else call(text)

        grows_with_length(try_, make, BOUNDED.get(name))


def test_the_patterns_are_found() -> None:
    assert len(patterns()) > 40
    assert "service.calculations.shared.units:QUANTITY_TEXT" in patterns()


def test_a_pattern_that_blows_up_would_be_found() -> None:
    """The test must be able to fail: textbook examples of a square and of a power of two."""
    for bad in (r"\s*1\s*a", r"(?:a|aa)+\Z", r"(?:[a-z]+)*1"):
        pattern = re.compile(bad)

        def make(length: int, bad: str = bad) -> Iterator[str]:
            return texts(bad, length)

        with pytest.raises(AssertionError):
            grows_with_length(pattern.search, make, None)


# The grammar of quantities as a whole, with all that tells why a text is none


QUANTITIES: Final = (
    *(
        "1",
        "1 ",
        " ",
        "-",
        "+",
        ".",
        "1.",
        "1,",
        "1 000",
        "1'000",
        "1/2",
        "1 1/2 ",
        "1-",
        "1 to ",
        "a",
        "kg",
        "kg ",
        "oz",
    ),
    *(
        "half ",
        "and a half ",
        "about ",
        "~",
        "°",
        "degrees ",
        "1 lb ",
        "1 lb 2 oz ",
        "e1",
        "1e9",
        "٣",
        "½",
        "é",
        "\u00a0",
    ),
    *("\t", '\\"', "%", "[", "1:", "''", "′", "an ", "one ", "quarter of a "),
)


def kinds(base: type[Given] = Given) -> list[type[Given]]:
    """Every kind of quantity that a request may hold."""
    return [kind for one in base.__subclasses__() for kind in ([one] if hasattr(one, "kind") else []) + kinds(one)]


def many(length: int) -> Iterator[str]:
    for begin in ("", "1 ", "1 a", "1 kg "):
        for pump in QUANTITIES:
            yield begin + pump * (length // len(pump)) + "x"


@pytest.mark.parametrize("kind", sorted(kinds(), key=str))
def test_time_of_reading_a_quantity_grows_with_its_length_alone(kind: type[Given]) -> None:
    def try_(text: str) -> object:
        try:
            return kind.read(text)
        except Faulty as fault:
            return fault

    for length in (*SHORT, LENGTH):
        worst(try_, many, length, SOON)
    for before, after in zip(many(25_000), many(100_000), strict=True):
        assert least(try_, after) < max(NOISE, 8 * least(try_, before)), before[:20]


def test_patterns_that_take_longer_see_short_texts_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    longest = dict.fromkeys(BOUNDED, 0)

    class Noting:
        def __init__(self, name: str, pattern: re.Pattern[str]) -> None:
            self.name, self.pattern = name, pattern

        def fullmatch(self, text: str) -> re.Match[str] | None:
            longest[self.name] = max(longest[self.name], len(text))
            return self.pattern.fullmatch(text)

    for name in BOUNDED:
        module, _, bare = name.partition(":")
        monkeypatch.setattr(importlib.import_module(module), bare, Noting(name, patterns()[name]))
    for kind in kinds():
        for text in chain.from_iterable(map(many, (3, 20, 40, 50, 57, 58, 59, 60, 61, 159, 160, 161, LENGTH))):
            with contextlib.suppress(Faulty):
                kind.read(text)
    assert all(0 < longest[name] <= most for name, most in BOUNDED.items()), longest
