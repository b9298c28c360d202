"""What a request's time in process goes to: decoding, chemistry, cautions, intervals, encoding.

A timer of processor time interrupts the work some hundred times a second, and it is noted in what. A call is
counted by the innermost function that belongs to one of the parts; what a C function does counts with whoever called.
"""

import signal
import time
from collections import Counter
from itertools import cycle
from types import FrameType
from typing import Any, Final

from service.calculations.registry import calculations
from service.calculations.shared.rendering import renderer
from tests.benchmarks.bodies import RING, ring

TICK: Final = 0.002
"""Processor time between two looks [s]."""
PARTS: Final = ("decode", "calculation", "cautions", "intervals", "encode")
_INTERVALS: Final = ("uncertainty", "spread", "bounds", "budget", "interval")
_CAUTIONS: Final = ("_notes", "cautions", "notes")
_ENCODE: Final = ("rendering", "told")
_DECODE: Final = ("decoding", "reading", "given", "rules", "units")


def part_of(module: str, function: str) -> str | None:
    """The part that a function of the service belongs to, if any.

    Args:
        module: its dotted module.
        function: its name; one that tells of a part counts there, wherever it stands.
    """
    name = module.rpartition(".")[2]
    if not module.startswith("service.") or module.startswith("service.http"):
        return None
    if name == "registry":
        return None
    if any(word in name or word in function for word in _INTERVALS):
        return "intervals"
    if name in _ENCODE:
        return "encode"
    if any(name.endswith(word) for word in _CAUTIONS) or "caution" in function:
        return "cautions"
    if ".shared." in module and any(word in name for word in _DECODE):
        return "decode"
    return "calculation"


def shares(name: str, seconds: float = 3.0) -> dict[str, float]:
    """The share of each part in the time in process of new requests to a calculation.

    Args:
        name: the calculation.
        seconds: processor time that is looked at.
    """
    found: Counter[str] = Counter()
    at_line: dict[str, str] = {"step": ""}

    def look(_: int, frame: FrameType | None) -> None:
        while frame is not None:
            module: Any = frame.f_globals.get("__name__", "")
            part = part_of(module, frame.f_code.co_name)
            if part is not None:
                found[part] += 1
                return
            frame = frame.f_back
        found[at_line["step"]] += 1

    calculation, encode = calculations()[name], renderer()
    bodies = cycle(ring(name, RING))
    before = signal.signal(signal.SIGPROF, look)
    signal.setitimer(signal.ITIMER_PROF, TICK, TICK)
    try:
        end = time.process_time() + seconds
        while time.process_time() < end:
            for _ in range(50):
                at_line["step"] = "calculation"
                told = calculation.run(next(bodies))
                at_line["step"] = "encode"
                encode(told)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)
    counted = sum(found[part] for part in PARTS)
    return {part: round(found[part] / counted, 3) for part in PARTS}
