"""What a request costs without server and network: decode, calculate, encode."""

import time
from itertools import cycle, islice
from statistics import median
from typing import Final, NamedTuple

from service.calculations.registry import calculations
from service.calculations.shared.decoding import decoder
from service.calculations.shared.notes import Notes
from service.calculations.shared.rendering import renderer
from tests.benchmarks.bodies import RING, ring

REPEATS: Final = 9
TURN: Final = 200
"""Requests in a turn."""


class Inside(NamedTuple):
    """Microseconds of processor time a request, each the median of some turns."""

    decode: float
    calculate: float
    encode: float
    whole: float


def inside(name: str, repeats: int = REPEATS, size: int = RING) -> Inside:
    """Measure one calculation in this process.

    Args:
        name: the calculation.
        repeats: turns.
        size: different requests there are; with a long ring no request is asked twice.
    """
    calculation = calculations()[name]
    decode = decoder(calculation.request)
    encode = renderer()
    bodies = cycle(ring(name, size))
    clock = time.process_time  # other programs on the machine do not count
    found: list[Inside] = []
    for _ in range(repeats + 1):
        turn = list(islice(bodies, TURN))
        t0 = clock()
        for body in turn:
            encode(calculation.run(body))
        whole = clock() - t0
        turn = list(islice(bodies, TURN))
        t0 = clock()
        asked = [decode(body) for body in turn]
        t1 = clock()
        for one in asked:
            calculation.calculate(one, Notes())
        t2 = clock()
        told = [calculation.run(body) for body in islice(bodies, TURN)]
        t3 = clock()
        for answer in told:
            encode(answer)
        parts = (t1 - t0, t2 - t1, clock() - t3, whole)
        found.append(Inside(*(1e6 * part / TURN for part in parts)))
    return Inside(*(median(column) for column in zip(*found[1:], strict=True)))  # the first turn warms up
