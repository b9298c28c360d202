"""What a request costs without server and network: decode, calculate, encode."""

import time
from statistics import median
from typing import Final, NamedTuple

from service.calculations.decoding import decoder
from service.calculations.notes import Notes
from service.calculations.registry import calculations
from service.calculations.rendering import renderer
from tests.benchmarks.bodies import ring

REPEATS: Final = 9


class Inside(NamedTuple):
    """Microseconds a request, each the median of some turns round the ring."""

    decode: float
    calculate: float
    encode: float
    whole: float


def inside(name: str, repeats: int = REPEATS) -> Inside:
    """Measure one calculation in this process."""
    calculation = calculations()[name]
    decode = decoder(calculation.request)
    encode = renderer()
    bodies = ring(name)
    clock = time.perf_counter
    found: list[Inside] = []
    for _ in range(repeats):
        t0 = clock()
        for body in bodies:
            encode(calculation.run(body))
        t1 = clock()
        asked = [decode(body) for body in bodies]
        t2 = clock()
        for one in asked:
            calculation.calculate(one, Notes())
        t3 = clock()
        del asked
        told = [calculation.run(body) for body in bodies]
        t4 = clock()
        for answer in told:
            encode(answer)
        t5 = clock()
        del told
        found.append(Inside(*(1e6 * part / len(bodies) for part in (t2 - t1, t3 - t2, t5 - t4, t1 - t0))))
    return Inside(*(median(column) for column in zip(*found, strict=True)))
