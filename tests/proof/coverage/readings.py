"""How often intervals of a cooling by readings hold what is true: `python -m tests.proof.coverage.readings [--write]`.

What is true is Newton's law, exact: the heat capacity of the stock times the logarithm of the differences is the
heat-loss coefficient times the time (Bergman et al., Introduction to Heat Transfer, 6th ed., 5.1). Each draw reads that
curve anew, each reading off by itself as its thermometer is said to be, asks, and looks whether the interval that comes
of these readings holds the truth.
"""

import argparse
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import pairwise
from pathlib import Path
from typing import Any, Final, NamedTuple
from unittest.mock import patch

import msgspec
import numpy as np

from service.calculations.keeping import cooling_readings, cooling_runs
from service.calculations.shared.faults import Refusal
from service.calculations.shared.told import Told
from service.chemistry.cooling import geometric_way
from service.chemistry.cooling_fit import way
from service.chemistry.enthalpy import at_strength
from tests.calculations.asking import Answer
from tests.proof.coverage.drawing import Maker
from tests.proof.coverage.engine import answered

PAGE: Final = Path(__file__).parent / "readings.md"
RESULTS: Final = Path(__file__).parent / "readings.json"
GROUPS: Final = ((2, 2), (3, 3), (4, 8), (9, 25), (26, 100))
"""Fewest and most readings of a group."""
MEMBERS: Final = ("time", "heat_loss_coefficient", "heat_loss_at_start", "heat_given_off")
_LEGS: Final = 60
_MASS: Final = 20.0
_STRENGTH: Final = 0.5


class Curve(NamedTuple):
    """A cooling as it truly is, and how it is read."""

    cold: float
    temperatures: tuple[float, ...]
    """At the readings [°C]."""
    target: float
    half_width: float
    """Of each reading: limits, or two standard uncertainties [K]."""
    form: str
    """How the thermometer is told: limits, uncertainty, or nothing, which is limits of 1 K."""
    coefficient: float
    """W/K."""
    told_start: bool
    """Whether the present temperature is told, and surely."""


class Held(msgspec.Struct, frozen=True):
    """How often the intervals of one curve held."""

    readings: int
    within: dict[str, float]
    """Share of the draws, by the member of the answer."""
    below: float
    """Share of the draws in which the time was shorter than its interval."""
    above: float
    """Share of the draws in which it was longer."""
    lost: int
    """Draws that were refused."""


class Kept(msgspec.Struct, frozen=True):
    """What came of a run, curve by curve, as it is kept beside the page."""

    seed: int
    curves: int
    draws: int
    told: list[list[Held]]
    """Of the intervals as they are told, by group of readings."""
    bare: list[list[Held]]
    """Of what the readings leave."""


def heat(hot: float, cool: float) -> float:
    """Given off by the stock between two temperatures [J]."""
    liquid = at_strength("NaOH", _STRENGTH)
    return _MASS * (liquid.enthalpy(hot) - liquid.enthalpy(cool))


def time_between(curve: Curve, hot: float, cool: float) -> float:
    """By Newton's law, in many legs [s]."""
    nodes = geometric_way(hot, cool, curve.cold, _LEGS)
    ways = [way(heat(a, b), a - curve.cold, b - curve.cold) for a, b in pairwise(nodes)]
    return float(np.sum(ways)) / curve.coefficient


def curve_of(make: Maker, fewest: int, most: int) -> Curve:
    """A random cooling, read that often."""
    count = int(make.number(fewest, most + 1))
    cold, start = make.number(15, 25), make.number(60, 95)
    half_width, form = make.size(0.1, 1.0), make.one_of("limits", "uncertainty", "nothing")
    half_width = 1.0 if form == "nothing" else half_width
    # Cooled by more than what the thermometer leaves, and not so near to the room that a reading may be colder.
    end = make.number(cold + 8 * half_width, start - 12 * half_width)
    target = make.number(cold + 3 * half_width, end - half_width)
    temperatures = tuple(geometric_way(start, end, cold, count - 1))
    return Curve(cold, temperatures, target, half_width, form, make.size(0.5, 20), make.chance(0.25))


def read(curve: Curve, times: Sequence[float], random: np.random.Generator) -> Answer:
    """A request with readings of the curve at these times [s]."""
    readings = []
    for elapsed, t in zip(times, curve.temperatures, strict=True):
        off = random.normal(0.0, 0.5) if curve.form == "uncertainty" else random.uniform(-1.0, 1.0)
        value = t + float(off) * curve.half_width
        told: Answer = {"unit": "°C"}
        if curve.form == "limits":
            told |= {"low": value - curve.half_width, "high": value + curve.half_width}
        elif curve.form == "uncertainty":
            told |= {"value": value, "uncertainty": 0.5 * curve.half_width}
        else:
            told |= {"value": value}
        readings.append({"time": {"value": elapsed, "unit": "s"}, "temperature": told})
    request: Answer = {
        "solution": {
            "alkali": "NaOH",
            "mass": {"value": _MASS, "unit": "kg"},
            "strength": {"mass_fraction": _STRENGTH},
        },
        "vessel": {"material": "stainless-steel", "mass": "1 mg", "lid": True},
        "surroundings": {"medium": "still-air", "temperature": {"value": curve.cold, "unit": "°C"}},
        "readings": readings,
        "target_temperature": {"value": curve.target, "unit": "°C"},
    }
    if curve.told_start:
        request["solution"]["temperature"] = {"value": curve.temperatures[-1], "unit": "°C"}
    return request


@contextmanager
def known() -> Iterator[None]:
    """Let the coefficient be surely that of Newton's law, and heat capacities be known: what readings leave remains."""
    with (
        patch.object(cooling_readings, "POWERS", dict.fromkeys(cooling_readings.POWERS, 0.0)),
        patch.object(cooling_readings, "capacity_spread", lambda *_: 0.0),
        patch.object(cooling_runs, "capacity_spread", lambda *_: 0.0),
    ):
        yield


def tried(curve: Curve, random: np.random.Generator, draws: int) -> Held:
    """Read a curve many times."""
    first, *_, last = curve.temperatures
    times = [0.0, *(time_between(curve, first, t) for t in curve.temperatures[1:])]
    truth = {
        "time": time_between(curve, last, curve.target),
        "heat_loss_coefficient": curve.coefficient,
        "heat_loss_at_start": curve.coefficient * (last - curve.cold),
        "heat_given_off": heat(last, curve.target),
    }
    within, below, above, lost = dict.fromkeys(MEMBERS, 0), 0, 0, 0
    for _ in range(draws):
        try:
            answer: Any = answered("stock-cooling", read(curve, times, random))
        except Refusal:  # readings that are too close, or no warmer than the room
            lost += 1
            continue
        for name in MEMBERS:
            told: Told = getattr(answer, name)
            low, high = (told.value if end is None else end for end in (told.low, told.high))
            slack = 1e-6 * truth[name]
            within[name] += low - slack <= truth[name] <= high + slack
            if name == "time":
                below += truth[name] < low
                above += truth[name] > high
    kept = max(1, draws - lost)
    return Held(
        len(curve.temperatures),
        {name: count / kept for name, count in within.items()},
        below / kept,
        above / kept,
        lost,
    )


def campaign(seed: int, curves: int, draws: int) -> list[list[Held]]:
    """Try many random curves of each group of readings."""
    random = np.random.default_rng(seed)
    make = Maker(random)
    return [[tried(curve_of(make, *group), random, draws) for _ in range(curves)] for group in GROUPS]


HEAD: Final = """# Whether the intervals of a cooling by readings hold

`stock-cooling` was told readings of coolings that go by Newton's law, each reading off by what its thermometer is said
to leave: limits of 0.1 to 1 K as rectangles, uncertainties as normals, and 1 K where nothing is said. Every draw reads
anew, and is held against the truth itself, which the service does not know. {curves} random curves for each row,
{draws} draws for each, seed {seed}; written by `python -m tests.proof.coverage.readings --write`, which keeps what
came of each curve in [readings.json](readings.json). A single curve scatters by {scatter:.1%}. Requests without
readings are studied [beside](README.md).

Of the time's interval a part is no probability: it allows for a coefficient that falls as the vessel cools, which that
of Newton's law does not, so that the interval *as told* holds more than 95 %, and its upper end nearly all. *What the
readings leave* is the interval without that, and with known heat capacities; of a nominal 95 % its mean is to lie
between 94 % and 97 %, or above where few readings may scatter: there the wider of two intervals is told, that of the
thermometer and that of their scatter.
"""


def read_kept() -> Kept:
    """The results that were kept."""
    return msgspec.json.decode(RESULTS.read_bytes(), type=Kept)


def page(kept: Kept) -> str:
    """The page, in Markdown."""
    draws = kept.draws
    lines = [HEAD.format(curves=kept.curves, draws=draws, seed=kept.seed, scatter=(0.95 * 0.05 / draws) ** 0.5)]
    for title, groups in (("as told", kept.told), ("what the readings leave", kept.bare)):
        lines += [f"## Time, {title}\n", "| readings | mean | least single | truth below | truth above | refused |"]
        lines += ["|---|---:|---:|---:|---:|---:|", *(_row(one, draws) for one in groups), ""]
    lines += ["## Other figures, what the readings leave\n", "| readings | coefficient | loss at the start | heat |"]
    lines.append("|---|---:|---:|---:|")
    for group in kept.bare:
        means = (np.mean([one.within[name] for one in group]) for name in MEMBERS[1:])
        lines.append(f"| {_readings(group)} | " + " | ".join(f"{mean:.1%}" for mean in means) + " |")
    return "\n".join(lines) + "\n"


def _row(group: Sequence[Held], draws: int) -> str:
    shares = [one.within["time"] for one in group]
    below, above = np.mean([one.below for one in group]), np.mean([one.above for one in group])
    lost = sum(one.lost for one in group) / len(group) / draws
    return (
        f"| {_readings(group)} | {np.mean(shares):.1%} | {min(shares):.1%} | {below:.1%} | {above:.1%} | {lost:.1%} |"
    )


def _readings(group: Sequence[Held]) -> str:
    fewest, most = next(one for one in GROUPS if one[0] <= group[0].readings <= one[1])
    return f"{fewest}" if fewest == most else f"{fewest} to {most}"


def main() -> None:
    """Print the page, and write it where that is asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--curves", type=int, default=20, help="random curves for each group of readings")
    parser.add_argument("--draws", type=int, default=400, help="draws for each curve")
    parser.add_argument("--seed", type=int, default=1954)
    parser.add_argument("--write", action="store_true", help=f"write {PAGE.name} and {RESULTS.name}")
    given = parser.parse_args()
    told = campaign(given.seed, given.curves, given.draws)
    with known():
        bare = campaign(given.seed, given.curves, given.draws)
    kept = Kept(given.seed, given.curves, given.draws, told, bare)
    text = page(kept)
    print(text)
    if given.write:
        RESULTS.write_bytes(msgspec.json.format(msgspec.json.encode(kept), indent=1) + b"\n")
        PAGE.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
