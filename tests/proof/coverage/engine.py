"""How often the intervals of an answer hold what is true: the propagation of distributions (JCGM 101:2008)."""

import json
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any, Final, NamedTuple

import numpy as np
from msgspec import Struct

from service.calculations.registry import Calculation
from service.calculations.shared.faults import Refusal
from service.calculations.shared.reading import NORMAL_95
from service.calculations.shared.told import Told
from service.chemistry.errors import OutOfRange
from tests.calculations.asking import Answer, calculation
from tests.proof.coverage.drawing import Maker, Random, draw
from tests.proof.coverage.world import World, drawn

Members = dict[str, Told]
NO_END: Final = ("\0",)
NEAR: Final = 0.01
"""How near a temperature is found that a search for the hottest moment tells [K]."""


def members(held: Any, at: str = "") -> Iterator[tuple[str, Told]]:
    """Every figure of an answer by its pointer."""
    if isinstance(held, Told):
        yield at, held
    elif isinstance(held, Struct):
        for name in held.__struct_fields__:
            yield from members(getattr(held, name), f"{at}/{name}")
    elif isinstance(held, list):
        for index, one in enumerate(held):
            yield from members(one, f"{at}/{index}")
    elif isinstance(held, dict):
        for name, one in held.items():
            yield from members(one, f"{at}/{name}")


@cache
def _found(name: str) -> Calculation[Any, Any]:
    return calculation(name)


def answered(name: str, request: Answer) -> Any:
    """What a calculation answers."""
    return _found(name).run(json.dumps(request).encode())


def asked(name: str, request: Answer) -> Members:
    """The figures that a calculation answers."""
    return dict(members(answered(name, request)))


class Draw(NamedTuple):
    """One draw."""

    request: Answer
    """The request with what is true in place of what was said."""
    told: Answer
    """The request as it was said."""
    nominal: Members
    """What was answered to the request as it was said."""
    answer: Any
    """The same, whole."""
    random: Random


Truth = Callable[[Draw], Members]
"""What is true in a draw: by pointer the value, and where a model leaves more open, the ends that it tells itself."""


class Study(NamedTuple):
    """A calculation, the requests it is tried with, and what is true of its answers."""

    calculation: str
    make: Callable[[Maker], Answer]
    truth: Truth | None = None
    """Where it is not what the calculation answers to what is true."""
    skip: tuple[str, ...] = ()
    """Members that are told a second time, by the end of their pointer."""
    bounded: tuple[str, ...] = ()
    """Members whose lower end takes off, beside what models leave open, the most that can be lost, by the end of their
    pointer."""
    acids: bool = False
    """Whether the fatty acids of its fats are drawn too."""


def figures(study: Study, true: Draw) -> Members:
    """What is true in a draw.

    Raises:
        Refusal: it cannot be told.
        OutOfRange: as well.
    """
    return asked(study.calculation, true.request) if study.truth is None else study.truth(true)


def most_lost(told: Told) -> float:
    """How much farther an interval reaches down than up."""
    if told.low is None or told.high is None:
        return 0.0
    return max(0.0, (told.value - told.low) - (told.high - told.value))


def true_figure(told: Told, random: Random, *, bounded: bool = False) -> float:
    """A figure that was answered to exact inputs, off by what the model leaves open (normal, each side its own).

    Args:
        told: the figure.
        random: where the draw comes from.
        bounded: whether the lower side takes off the most that can be lost beside what it is open to: any share of that
            is as likely. Where it reaches less far than the upper side, nothing is taken off: the peak of what is
            poured together is no lower than the warmest part.
    """
    if told.low is None or told.high is None:
        return told.value
    off = float(random.normal()) / NORMAL_95
    lost = most_lost(told) if bounded else 0.0
    true = told.value + off * ((told.high - told.value) if off > 0.0 else (told.value - told.low - lost))
    return true - float(random.uniform()) * lost if bounded else true


Ends = tuple[float, float]
Others = Callable[[Study, Answer, Any], Mapping[str, Ends]]
"""Other intervals for the members of the answer to a request."""


class Tried(NamedTuple):
    """What came of one request."""

    request: Answer
    told: dict[str, Ends]
    """The intervals that were told, by pointer."""
    coverage: dict[str, float]
    """Share of the draws within them."""
    other: dict[str, float]
    """Share of the draws within other intervals that were asked for."""
    near: dict[str, float]
    """Share of the draws within the intervals that were told, or no farther than `NEAR` from them."""
    lost: int
    """Draws that the calculation refused."""


def _ends(told: Told) -> Ends:
    """The ends of an interval, a rounding apart from what they are."""
    low = told.value if told.low is None else told.low
    high = told.value if told.high is None else told.high
    slack = 1e-9 * (abs(told.value) + high - low)
    return low - slack, high + slack


def tried(
    study: Study, request: Answer, random: np.random.Generator, draws: int, others: Others | None = None
) -> Tried:
    """Try one request.

    Args:
        study: how.
        request: the request.
        random: where the draws come from.
        draws: how many.
        others: what other intervals are to be tried on the same draws.

    Raises:
        Refusal: the request is refused.
    """
    answer = answered(study.calculation, request)
    nominal = dict(members(answer))
    told = {
        at: _ends(one)
        for at, one in nominal.items()
        if one.low is not None and one.high is not None and not at.endswith(study.skip or NO_END)
    }
    other = {} if others is None else {at: one for at, one in others(study, request, answer).items() if at in told}
    counted, within, within_other, nearby = Counter[str](), Counter[str](), Counter[str](), Counter[str]()
    lost = 0
    for _ in range(draws):
        with drawn(World(random, acids=study.acids)):
            true = Draw(draw(request, random), request, nominal, answer, random)
            try:
                found = figures(study, true)
            except (Refusal, OutOfRange):  # beyond the data or the solubility, where the truth cannot be told
                lost += 1
                continue
        for at, (low, high) in told.items():
            if at not in found:
                continue
            value = true_figure(found[at], random, bounded=at.endswith(study.bounded or NO_END))
            counted[at] += 1
            within[at] += low <= value <= high
            nearby[at] += low - NEAR <= value <= high + NEAR
            if at in other:
                within_other[at] += other[at][0] <= value <= other[at][1]
    enough = [at for at in told if counted[at] > draws / 2]
    return Tried(
        request,
        told,
        {at: within[at] / counted[at] for at in enough},
        {at: within_other[at] / counted[at] for at in enough if at in other},
        {at: nearby[at] / counted[at] for at in enough},
        lost,
    )


def campaign(study: Study, seed: int, requests: int, draws: int, others: Others | None = None) -> list[Tried]:
    """Try many random requests; what is refused is made anew."""
    random = np.random.default_rng([seed, *study.calculation.encode()])
    maker = Maker(random)
    found: list[Tried] = []
    for _ in range(requests * 20):
        if len(found) == requests:
            break
        request = study.make(maker)
        try:
            found.append(tried(study, request, random, draws, others))
        except Refusal:
            continue
    return found
